//! Thickness: how much longer a thicker piece takes to cure, heat or cool.

use units::{Elapsed, Length};

use crate::ScienceError;
use crate::error::within;

/// How many times as long a piece of thickness `to` takes as one of `from`.
///
/// # Method
/// `(to ÷ from)²`: conduction and diffusion both go with the square of the way.
/// # Valid range
/// The same shape, faces, temperature and, for heat, an outside that is no bottleneck: a factor of a
/// sixteenth to sixteen. Beyond that the piece is another shape.
/// # Source
/// The scaling of Fick's and Fourier's law with the Fourier number, `D t ÷ L²` (Crank, *The Mathematics
/// of Diffusion*), [MEMORY](sources::list::MEMORY).
/// # Errors
/// No thickness; outside the range.
/// # Example
/// ```
/// use units::Length;
/// let factor = science::thickness::time_factor(Length::millimetres(25.0)?, Length::millimetres(34.0)?)?;
/// assert_eq!(format!("{factor:.4}"), "1.8496");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn time_factor(from: Length, to: Length) -> Result<f64, ScienceError> {
    if from.mm() <= 0.0 || to.mm() <= 0.0 {
        return Err(ScienceError::None { what: "thickness" });
    }
    let factor = (to.mm() / from.mm()).powi(2);
    within(
        "time factor of the thickness",
        "times",
        factor,
        1.0 / 16.0,
        16.0,
        "measure again; a piece that different wants its own trial",
    )
}

/// A time known for thickness `from`, for `to`.
///
/// # Errors
/// As [`time_factor`].
pub fn rescaled(time: Elapsed, from: Length, to: Length) -> Result<Elapsed, ScienceError> {
    Ok(time.scaled(time_factor(from, to)?)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(mm: f64) -> Length {
        Length::millimetres(mm).unwrap()
    }

    /// Worked by hand: 22 h 20 min of cure become 41 h, 75 min of smoke 139.
    #[test]
    fn a_thick_side_takes_nearly_twice_as_long() {
        let cure = rescaled(Elapsed::from_minutes(1340.0).unwrap(), mm(25.0), mm(34.0)).unwrap();
        assert!((cure.hours() - 41.3).abs() < 0.05, "{cure}");
        let smoke = rescaled(Elapsed::from_minutes(75.0).unwrap(), mm(25.0), mm(34.0)).unwrap();
        assert_eq!(smoke.whole_minutes(), 139);
        assert!(time_factor(mm(25.0), Length::millimetres(0.0).unwrap()).is_err());
        assert!(time_factor(mm(10.0), mm(100.0)).is_err());
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_same_time(a in 10.0..30.0_f64, b in 10.0..30.0_f64) {
            let there = time_factor(mm(a), mm(b)).unwrap();
            let back = time_factor(mm(b), mm(a)).unwrap();
            prop_assert!((there * back - 1.0).abs() < 1e-12);
        }
    }
}
