//! A long round bar: a sausage, a loin rolled and tied.

use core::f64::consts::PI;
use std::sync::OnceLock;

use super::{Fourier, NEGLIGIBLE, place};
use crate::ScienceError;
use crate::error::within;

/// Roots of J0 kept. The last is near 313: at `Fo` 0.001 its term is `exp(−98)`.
const ROOTS: usize = 100;

/// Least time the series answers for; before it, the short-time form for the mean, nothing inside.
const LEAST_FO: f64 = 1e-3;

/// Bessel functions `J0` and `J1`.
///
/// # Method
/// Bessel's integral `(1 ÷ π) ∫ cos(n τ − x sin τ) dτ` over 0 to π by the trapezoid rule, which for a
/// smooth periodic function converges faster than any power: `x + 40` points give all digits.
fn j0_and_j1(x: f64) -> (f64, f64) {
    let points = (x.abs() + 40.0).ceil();
    // The two ends at half weight: cos 0 with cos 0, and cos 0 with cos π.
    let (mut j0, mut j1) = (1.0, 0.0);
    let mut k = 1.0;
    while k < points {
        let angle = PI * k / points;
        let phase = x * angle.sin();
        j0 += phase.cos();
        j1 += (angle - phase).cos();
        k += 1.0;
    }
    (j0 / points, j1 / points)
}

/// The first [`ROOTS`] positive roots of J0, each with J1 there.
///
/// # Method
/// McMahon's first terms as a start, `(n − ¼) π + 1 ÷ (8 (n − ¼) π)`, then Newton with `J0′ = −J1`.
fn roots() -> &'static [(f64, f64)] {
    static FOUND: OnceLock<Vec<(f64, f64)>> = OnceLock::new();
    FOUND.get_or_init(|| {
        (1..=ROOTS)
            .map(|n| {
                let guess = (n as f64 - 0.25) * PI;
                let mut root = guess + 0.125 / guess;
                for _ in 0..4 {
                    let (j0, j1) = j0_and_j1(root);
                    root += j0 / j1;
                }
                (root, j0_and_j1(root).1)
            })
            .collect()
    })
}

/// Share of the final uptake a long cylinder has taken up.
///
/// # Method
/// `1 − Σ 4 ÷ α² exp(−α² Fo)` over the roots `α` of J0, the radius as the way; before `Fo` 0.001 the
/// short-time form `4 √(Fo ÷ π) − Fo − Fo^1.5 ÷ (3 √π)`, which meets the series there within 1e-6.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
/// # Example
/// ```
/// use science::diffusion::{Fourier, cylinder_mean};
/// assert_eq!(format!("{:.6}", cylinder_mean(Fourier::new(0.1)?)), "0.605824");
/// # Ok::<(), science::ScienceError>(())
/// ```
#[must_use]
pub fn cylinder_mean(fo: Fourier) -> f64 {
    let fo = fo.fo();
    if fo < LEAST_FO {
        return 4.0 * (fo / PI).sqrt() - fo - fo.powf(1.5) / (3.0 * PI.sqrt());
    }
    1.0 - decaying(fo, |root, _| 4.0 / (root * root))
}

/// Share of the surface strength reached on the axis.
///
/// # Method
/// `1 − 2 Σ exp(−α² Fo) ÷ (α J1(α))`.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
#[must_use]
pub fn cylinder_axis(fo: Fourier) -> f64 {
    let fo = fo.fo();
    // Before this the axis has below exp(−250) of the surface.
    if fo < LEAST_FO {
        return 0.0;
    }
    let missing = decaying(fo, |root, j1| 2.0 / (root * j1));
    1.0 - missing.clamp(0.0, 1.0)
}

/// Share of the surface strength reached at a part of the radius, 0 on the axis and 1 at the surface.
///
/// # Method
/// `1 − 2 Σ J0(α x) exp(−α² Fo) ÷ (α J1(α))`.
/// # Valid range
/// `Fo` from 0.001.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
/// # Errors
/// An earlier time; a place outside 0 to 1.
pub fn cylinder_at(fo: Fourier, part_of_radius: f64) -> Result<f64, ScienceError> {
    let x = place(part_of_radius)?;
    let fo = within(
        "Fourier number",
        "",
        fo.fo(),
        LEAST_FO,
        Fourier::MOST,
        "so early only the rim has changed: ask for the mean",
    )?;
    let missing = decaying(fo, |root, j1| 2.0 * j0_and_j1(root * x).0 / (root * j1));
    Ok(1.0 - missing.clamp(0.0, 1.0))
}

fn decaying(fo: f64, weight: impl Fn(f64, f64) -> f64) -> f64 {
    let mut sum = 0.0;
    for &(root, j1) in roots() {
        let decay = (-root * root * fo).exp();
        if decay < NEGLIGIBLE {
            break;
        }
        sum += weight(root, j1) * decay;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fo(value: f64) -> Fourier {
        Fourier::new(value).unwrap()
    }

    /// mpmath 1.4.1, `besselj` and `besseljzero`, 25 digits.
    #[test]
    fn bessel_functions_and_roots_are_those_of_mpmath() {
        for (x, j0, j1) in [
            (0.5, 0.938_469_807_240_812_9, 0.242_268_457_674_873_9),
            (10.0, -0.245_935_764_451_348_3, 0.043_472_746_168_861_44),
            (
                150.0,
                -0.000_774_090_375_394_291_2,
                -0.065_145_163_657_727_36,
            ),
        ] {
            let found = j0_and_j1(x);
            assert!((found.0 - j0).abs() < 2e-15 && (found.1 - j1).abs() < 2e-15);
        }
        for (n, root, j1) in [
            (1, 2.404_825_557_695_773, 0.519_147_497_289_467),
            (2, 5.520_078_110_286_311, -0.340_264_806_558_368),
            (10, 30.634_606_468_431_975, -0.144_165_977_686_373),
            (60, 187.710_826_960_049_36, -0.058_236_621_249_651_3),
        ] {
            let found = roots()[n - 1];
            assert!((found.0 / root - 1.0).abs() < 1e-14, "{n}");
            assert!((found.1 - j1).abs() < 1e-14, "{n}");
        }
    }

    /// mpmath 1.4.1: the same series with 79 roots at 25 digits; mean, axis, half-way out.
    #[test]
    fn a_cylinder_is_that_of_mpmath() {
        for (at, mean, axis, half) in [
            (0.005, 0.154_507_070_3, 0.0, 8.127_191_142e-7),
            (
                0.01,
                0.215_473_938_2,
                2.750_841_872e-11,
                0.000_578_198_920_4,
            ),
            (0.05, 0.452_120_998, 0.012_900_779_78, 0.164_457_625_1),
            (0.1, 0.605_824_194, 0.151_644_886_7, 0.389_753_213_5),
            (0.2, 0.782_147_552_5, 0.498_513_139_4, 0.662_025_665_1),
            (0.5, 0.961_621_294_9, 0.911_110_283_9, 0.940_449_92),
            (1.0, 0.997_870_453_7, 0.995_067_695_3, 0.996_695_702_4),
        ] {
            assert!((cylinder_mean(fo(at)) - mean).abs() < 1e-9, "{at}");
            assert!((cylinder_axis(fo(at)) - axis).abs() < 1e-9, "{at}");
            assert!(
                (cylinder_at(fo(at), 0.5).unwrap() - half).abs() < 1e-9,
                "{at}"
            );
        }
        assert_eq!(cylinder_mean(Fourier::ZERO), 0.0);
        assert!(cylinder_at(fo(1e-4), 0.5).is_err());
    }

    #[test]
    fn short_time_meets_the_series() {
        let before = cylinder_mean(fo(LEAST_FO * (1.0 - 1e-12)));
        let after = cylinder_mean(fo(LEAST_FO));
        assert!((before - after).abs() < 1e-6, "{before} {after}");
    }
}
