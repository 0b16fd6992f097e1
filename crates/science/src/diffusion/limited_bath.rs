//! A slab in a well-stirred brine of limited volume, which weakens as the slab takes up.

use core::f64::consts::PI;

use super::{Fourier, NEGLIGIBLE};
use crate::ScienceError;
use crate::error::within;

/// Least time answered for: some two hundred terms.
const LEAST_FO: f64 = 1e-4;

/// Share of the final uptake a slab has taken up from a limited bath.
///
/// # Method
/// `1 − Σ 2 α (1+α) ÷ (1 + α + α² q²) exp(−q² Fo)` over the roots of `tan q = −α q`;
/// `bath_to_food` is `α`, the water of the bath over `K` times the water of the food.
/// # Valid range
/// `α` 0.01 to 1000, `Fo` from 0.0001 (0 answers 0).
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
/// # Errors
/// Outside the range.
/// # Example
/// ```
/// use science::diffusion::{Fourier, limited_bath_mean};
/// assert_eq!(format!("{:.6}", limited_bath_mean(Fourier::new(0.2)?, 1.0)?), "0.711628");
/// # Ok::<(), science::ScienceError>(())
/// ```
pub fn limited_bath_mean(fo: Fourier, bath_to_food: f64) -> Result<f64, ScienceError> {
    let alpha = ratio(bath_to_food)?;
    if fo == Fourier::ZERO {
        return Ok(0.0);
    }
    let fo = within(
        "Fourier number",
        "",
        fo.fo(),
        LEAST_FO,
        Fourier::MOST,
        "so early the bath has hardly weakened: use the slab's short-time form",
    )?;
    let mut missing = 0.0;
    let mut n = 1.0;
    loop {
        let q = root(alpha, n);
        let decay = (-q * q * fo).exp();
        missing += 2.0 * alpha * (1.0 + alpha) / (1.0 + alpha + (alpha * q).powi(2)) * decay;
        n += 1.0;
        if decay < NEGLIGIBLE {
            return Ok(1.0 - missing);
        }
    }
}

/// What share of the bath's first strength both come to in the end, from plain food.
///
/// # Method
/// `α ÷ (1 + α)`.
/// # Errors
/// Outside the range of [`limited_bath_mean`].
pub fn bath_equilibrium(bath_to_food: f64) -> Result<f64, ScienceError> {
    let alpha = ratio(bath_to_food)?;
    Ok(alpha / (1.0 + alpha))
}

fn ratio(alpha: f64) -> Result<f64, ScienceError> {
    within(
        "water of the bath to water of the food",
        "to 1",
        alpha,
        0.01,
        1000.0,
        "a larger bath does not weaken: use the slab; a smaller one is a film",
    )
}

/// The `n`-th root of `sin q + α q cos q = 0`, which lies between `(n − ½) π` and `n π`.
fn root(alpha: f64, n: f64) -> f64 {
    let (mut low, mut high) = ((n - 0.5) * PI, n * PI);
    let sign_low = low.sin().signum();
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let value = middle.sin() + alpha * middle * middle.cos();
        if value.signum() == sign_low {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fo(value: f64) -> Fourier {
        Fourier::new(value).unwrap()
    }

    /// mpmath 1.4.1, 119 terms at 25 digits, printed to six decimals.
    #[test]
    fn the_bath_follows_the_table() {
        for (alpha, means) in [
            (1.0, [0.207_086, 0.419_246, 0.552_841, 0.711_628, 0.916_467]),
            (2.0, [0.162_030, 0.343_904, 0.468_300, 0.628_179, 0.865_276]),
            (4.0, [0.137_980, 0.300_400, 0.416_545, 0.572_552, 0.823_691]),
        ] {
            for (at, mean) in [0.01, 0.05, 0.1, 0.2, 0.5].into_iter().zip(means) {
                let found = limited_bath_mean(fo(at), alpha).unwrap();
                assert!((found - mean).abs() < 6e-7, "{alpha} {at}: {found}");
            }
        }
    }

    #[test]
    fn a_large_bath_is_a_set_surface() {
        for at in [0.01, 0.1, 0.5] {
            let gap = limited_bath_mean(fo(at), 1000.0).unwrap() - super::super::slab_mean(fo(at));
            // The next order in 1 ÷ α, at most about 1 ÷ α.
            assert!((0.0..1.1e-3).contains(&gap), "{at}: {gap}");
        }
        assert_eq!(limited_bath_mean(Fourier::ZERO, 1.0).unwrap(), 0.0);
        assert!(limited_bath_mean(fo(0.1), 0.0).is_err());
        assert!(limited_bath_mean(fo(1e-6), 1.0).is_err());
        assert_eq!(bath_equilibrium(1.0).unwrap(), 0.5);
    }
}
