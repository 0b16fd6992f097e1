//! Diffusion in closed form: how far salt, sugar or heat has come into a simple shape.
//!
//! Series solutions of Fick's second law for a surface whose strength is set from the first moment.
//! They hold for one diffusivity, one shape and an even start; the kitchen's sequences of phases are
//! solved by [`crate::transport`], which is tested against the series here.

mod cylinder;
mod limited_bath;

pub use cylinder::{cylinder_at, cylinder_axis, cylinder_mean};
pub use limited_bath::{bath_equilibrium, limited_bath_mean};

use core::f64::consts::PI;

use units::{Elapsed, Length};

use crate::ScienceError;
use crate::error::within;

/// Below this Fourier number the short-time form replaces the series for the mean of a slab: what it
/// leaves out goes with `exp(−1 ÷ Fo)`, here 1e-43.
const SHORT_TIME_FO: f64 = 0.01;

/// Terms fall off until this part of the whole is left.
const NEGLIGIBLE: f64 = 1e-17;

/// How fast a substance spreads in a material at one temperature.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Diffusivity(f64);

impl Diffusivity {
    /// In square metres per second.
    ///
    /// # Valid range
    /// 1e-15 (fat and skin) to 1e-6 (heat in flesh is 1.3e-7).
    /// # Errors
    /// Outside it.
    pub fn m2_per_s(value: f64) -> Result<Self, ScienceError> {
        within(
            "diffusivity",
            "m²/s",
            value,
            1e-15,
            1e-6,
            "check the unit: a table in cm²/s is 10 000 times as large a number",
        )
        .map(Self)
    }

    /// In square metres per second.
    #[must_use]
    pub fn value_m2_s(self) -> f64 {
        self.0
    }
}

/// The Fourier number `D t ÷ L²`: time counted in units of the time the way takes.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Fourier(f64);

impl Fourier {
    /// No time.
    pub const ZERO: Self = Self(0.0);
    /// The longest time taken: everything is even long before.
    pub const MOST: f64 = 1e6;

    /// A plain Fourier number.
    ///
    /// # Valid range
    /// 0 to [`Fourier::MOST`].
    /// # Errors
    /// Outside it.
    pub fn new(fo: f64) -> Result<Self, ScienceError> {
        within(
            "Fourier number",
            "",
            fo,
            0.0,
            Self::MOST,
            "check the diffusivity, the time and the thickness",
        )
        .map(Self)
    }

    /// Of a time and a way.
    ///
    /// # Method
    /// `D t ÷ L²`. `way` is half the thickness when both faces are open, all of it when the skin side is
    /// closed, the radius of a cylinder.
    /// # Errors
    /// No way; outside the range.
    pub fn of(diffusivity: Diffusivity, time: Elapsed, way: Length) -> Result<Self, ScienceError> {
        if way.mm() <= 0.0 {
            return Err(ScienceError::None { what: "thickness" });
        }
        Self::new(diffusivity.0 * time.seconds() as f64 / way.metres().powi(2))
    }

    /// The number.
    #[must_use]
    pub fn fo(self) -> f64 {
        self.0
    }

    /// The time it stands for.
    ///
    /// # Errors
    /// A time longer than [`Elapsed`] takes.
    pub fn time(self, diffusivity: Diffusivity, way: Length) -> Result<Elapsed, ScienceError> {
        let seconds = self.0 * way.metres().powi(2) / diffusivity.0;
        Ok(Elapsed::from_minutes(seconds / 60.0)?)
    }
}

/// Share of the final uptake a slab has taken up: 0 at the start, 1 in the end.
///
/// # Method
/// `1 − Σ 8 ÷ ((2n+1)² π²) exp(−((2n+1) π ÷ 2)² Fo)`; below `Fo` 0.01 the short-time form, equal there
/// to the last digit.
/// # Valid range
/// Surface at its final strength from the first moment, even start, constant diffusivity.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
/// # Example
/// ```
/// use science::diffusion::{Diffusivity, Fourier, slab_mean};
/// use units::{Elapsed, Length};
/// let fo = Fourier::of(
///     Diffusivity::m2_per_s(2.5e-10)?, Elapsed::from_hours(24.0)?, Length::millimetres(25.0)?)?;
/// assert_eq!(format!("{:.4}", slab_mean(fo)), "0.2098");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn slab_mean(fo: Fourier) -> f64 {
    1.0 - slab_mean_missing(fo)
}

/// The share still missing: `E` of the product rule.
fn slab_mean_missing(fo: Fourier) -> f64 {
    if fo.0 < SHORT_TIME_FO {
        return 1.0 - 2.0 * (fo.0 / PI).sqrt();
    }
    odd_terms(fo, |root| 2.0 / (root * root))
}

/// Share of the surface strength reached at the middle, or at the closed face.
///
/// # Method
/// `1 − Σ (−1)ⁿ 4 ÷ ((2n+1) π) exp(−((2n+1) π ÷ 2)² Fo)`.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
#[must_use]
pub fn slab_centre(fo: Fourier) -> f64 {
    1.0 - slab_missing_at(fo, 0.0)
}

/// Share of the surface strength reached at a part of the way from the middle (0) to the face (1).
///
/// # Method
/// `1 − Σ (−1)ⁿ 4 ÷ ((2n+1) π) exp(−((2n+1) π ÷ 2)² Fo) cos((2n+1) π x ÷ 2)`.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
/// # Errors
/// A place outside 0 to 1.
pub fn slab_at(fo: Fourier, part_of_way: f64) -> Result<f64, ScienceError> {
    let x = place(part_of_way)?;
    Ok(1.0 - slab_missing_at(fo, x))
}

pub(crate) fn place(part_of_way: f64) -> Result<f64, ScienceError> {
    within(
        "place between the middle and the face",
        "of the way",
        part_of_way,
        0.0,
        1.0,
        "0 is the middle or the closed face, 1 the open face",
    )
}

fn slab_missing_at(fo: Fourier, x: f64) -> f64 {
    if x >= 1.0 {
        return 0.0;
    }
    if fo.0 < 1e-6 {
        // exp(−(1 − x)² ÷ 4 Fo) is nothing anywhere but in the outer few thousandths, where a series of
        // thousands of terms still answers.
        if (1.0 - x).powi(2) > 200.0 * fo.0 {
            return 1.0;
        }
    }
    let mut sign = -1.0;
    let missing = odd_terms(fo, |root| {
        sign = -sign;
        sign * 2.0 / root * (root * x).cos()
    });
    // What rounding leaves of an alternating series is no strength.
    missing.clamp(0.0, 1.0)
}

/// Sums `weight(root) exp(−root² Fo)` over the roots `(2n+1) π ÷ 2`.
fn odd_terms(fo: Fourier, mut weight: impl FnMut(f64) -> f64) -> f64 {
    let mut sum = 0.0;
    let mut n = 0.0;
    loop {
        let root = (2.0 * n + 1.0) * PI / 2.0;
        let decay = (-root * root * fo.0).exp();
        sum += weight(root) * decay;
        n += 1.0;
        // At no time at all the terms do not decay: ten million are beyond any use.
        if decay < NEGLIGIBLE || n > 1e7 {
            return sum;
        }
    }
}

/// The short-time form of [`slab_mean`]: uptake goes with the square root of the time.
///
/// # Method
/// `2 √(Fo ÷ π)`.
/// # Valid range
/// `Fo` 0 to 0.1, where it is within 1e-5 of the series: the far side does not know yet.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
/// # Errors
/// A longer time.
pub fn slab_mean_short_time(fo: Fourier) -> Result<f64, ScienceError> {
    let fo = within(
        "Fourier number of the short-time form",
        "",
        fo.0,
        0.0,
        0.1,
        "use the series",
    )?;
    Ok(2.0 * (fo / PI).sqrt())
}

/// The Fourier number at which the mean of a slab has taken up `share`.
///
/// # Errors
/// A share outside 0 to 0.999 999: all of it takes for ever.
pub fn fourier_for_mean(share: f64) -> Result<Fourier, ScienceError> {
    when(share, slab_mean)
}

/// The Fourier number at which the middle or the closed face has reached `share` of the surface.
///
/// # Errors
/// As [`fourier_for_mean`].
pub fn fourier_for_centre(share: f64) -> Result<Fourier, ScienceError> {
    when(share, slab_centre)
}

/// How long a slab takes to take up `share` of all it will.
///
/// # Method
/// The inverse of [`slab_mean`].
/// # Errors
/// As [`fourier_for_mean`] and [`Fourier::time`].
/// # Example
/// ```
/// use science::diffusion::{Diffusivity, time_for_mean};
/// use units::Length;
/// let d = Diffusivity::m2_per_s(2.5e-10)?;
/// let thin = time_for_mean(0.5, d, Length::millimetres(25.0)?)?;
/// let thick = time_for_mean(0.5, d, Length::millimetres(34.0)?)?;
/// assert_eq!(format!("{:.1} h, {:.1} h", thin.hours(), thick.hours()), "136.6 h, 252.7 h");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn time_for_mean(
    share: f64,
    diffusivity: Diffusivity,
    way: Length,
) -> Result<Elapsed, ScienceError> {
    fourier_for_mean(share)?.time(diffusivity, way)
}

/// How long the middle or the closed face takes to reach `share` of the surface.
///
/// # Errors
/// As [`time_for_mean`].
pub fn time_for_centre(
    share: f64,
    diffusivity: Diffusivity,
    way: Length,
) -> Result<Elapsed, ScienceError> {
    fourier_for_centre(share)?.time(diffusivity, way)
}

fn when(share: f64, reached: impl Fn(Fourier) -> f64) -> Result<Fourier, ScienceError> {
    let share = within(
        "share of the final uptake",
        "",
        share,
        0.0,
        0.999_999,
        "all of it takes for ever: ask for 0.95 or 0.99",
    )?;
    if share <= 0.0 {
        return Ok(Fourier::ZERO);
    }
    // Six is beyond 0.999 999 at the centre. Both curves rise, so halving the interval finds the time.
    let (mut early, mut late) = (0.0, 6.0);
    for _ in 0..80 {
        let middle = 0.5 * (early + late);
        if reached(Fourier(middle)) < share {
            early = middle;
        } else {
            late = middle;
        }
    }
    Ok(Fourier(0.5 * (early + late)))
}

/// Share of the final uptake a long bar of rectangular section has taken up, all four sides open.
///
/// # Method
/// What is missing is the product of what two slabs miss: `1 − E(Fo_a) E(Fo_b)`, each Fourier number with
/// half the side as its way.
/// # Source
/// [CRANK](sources::list::CRANK), from memory.
/// # Example
/// ```
/// use science::diffusion::{Fourier, rectangle_mean};
/// let fo = Fourier::new(0.1)?;
/// assert_eq!(format!("{:.6}", rectangle_mean(fo, fo)), "0.586324");
/// # Ok::<(), science::ScienceError>(())
/// ```
#[must_use]
pub fn rectangle_mean(across: Fourier, along: Fourier) -> f64 {
    1.0 - slab_mean_missing(across) * slab_mean_missing(along)
}

/// Share of the surface strength reached in the middle of a rectangular bar.
///
/// # Method
/// As [`rectangle_mean`], with the middles.
#[must_use]
pub fn rectangle_centre(across: Fourier, along: Fourier) -> f64 {
    1.0 - slab_missing_at(across, 0.0) * slab_missing_at(along, 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn fo(value: f64) -> Fourier {
        Fourier::new(value).unwrap()
    }

    /// The table is printed to six decimals (computed with mpmath): half of the last one.
    const PRINTED: f64 = 6e-7;

    #[test]
    fn a_slab_follows_the_table() {
        let table = [
            (0.01, 0.112_838, 0.0),
            (0.02, 0.159_577, 0.000_001),
            (0.05, 0.252_313, 0.003_131),
            (0.1, 0.356_823, 0.050_695),
            (0.2, 0.504_088, 0.227_688),
            (0.3, 0.613_236, 0.393_196),
            (0.5, 0.763_950, 0.629_223),
            (1.0, 0.931_260, 0.892_023),
            (1.5, 0.979_982, 0.968_556),
            (2.0, 0.994_170, 0.990_843),
        ];
        for (at, mean, centre) in table {
            assert!((slab_mean(fo(at)) - mean).abs() < PRINTED, "{at}");
            assert!((slab_centre(fo(at)) - centre).abs() < PRINTED, "{at}");
        }
    }

    #[test]
    fn the_time_for_a_share_follows_the_table() {
        for (share, mean, centre) in [
            (0.5, 0.196_731, 0.378_748),
            (0.9, 0.848_085, 1.031_105),
            (0.95, 1.129_007, 1.312_027),
            (0.99, 1.781_288, 1.964_308),
        ] {
            assert!((fourier_for_mean(share).unwrap().fo() - mean).abs() < PRINTED);
            assert!((fourier_for_centre(share).unwrap().fo() - centre).abs() < PRINTED);
        }
        assert!(fourier_for_mean(1.0).is_err());
        assert!(fourier_for_mean(-0.1).is_err());
        assert_eq!(fourier_for_mean(0.0).unwrap(), Fourier::ZERO);
    }

    #[test]
    fn short_time_is_within_its_error_and_refuses_longer() {
        for at in [0.0, 0.01, 0.05, 0.1] {
            let gap = slab_mean_short_time(fo(at)).unwrap() - slab_mean(fo(at));
            assert!(gap.abs() < 1e-5, "{at}: {gap}");
        }
        assert!(slab_mean_short_time(fo(0.11)).is_err());
    }

    #[test]
    fn a_bar_follows_the_table() {
        let means = [
            (0.05, 0.440_965, 0.346_639, 0.290_044),
            (0.1, 0.586_324, 0.471_574, 0.402_724),
            (0.2, 0.754_071, 0.629_213, 0.554_138),
            (0.5, 0.944_281, 0.858_117, 0.801_618),
        ];
        for (at, square, double, five) in means {
            assert!((rectangle_mean(fo(at), fo(at)) - square).abs() < PRINTED);
            assert!((rectangle_mean(fo(at), fo(at / 4.0)) - double).abs() < PRINTED);
            assert!((rectangle_mean(fo(at), fo(at / 25.0)) - five).abs() < PRINTED);
        }
        for (at, centre) in [
            (0.05, 0.006_252),
            (0.1, 0.098_819),
            (0.2, 0.403_535),
            (0.5, 0.862_524),
        ] {
            assert!((rectangle_centre(fo(at), fo(at)) - centre).abs() < PRINTED);
        }
    }

    /// 25 mm at 2.5e-10 m²/s, computed with mpmath: salted on one side, and on both.
    #[test]
    fn a_fillet_takes_a_fifth_in_a_day() {
        let d = Diffusivity::m2_per_s(2.5e-10).unwrap();
        let full = Length::millimetres(25.0).unwrap();
        let half = full.scaled(0.5).unwrap();
        for (hours, one, two) in [
            (6.0, 0.1049, 0.2098),
            (12.0, 0.1483, 0.2967),
            (24.0, 0.2098, 0.4195),
            (48.0, 0.2967, 0.5901),
        ] {
            let time = Elapsed::from_hours(hours).unwrap();
            let at = |way| slab_mean(Fourier::of(d, time, way).unwrap());
            assert!((at(full) - one).abs() < 6e-5 && (at(half) - two).abs() < 6e-5);
        }
    }

    /// The kitchen's own worked caution, at 1e-9 m²/s (from memory) and 26 h 15 min: the skin side has
    /// 0.14 of the surface's strength and about 0.31 of the mean.
    #[test]
    fn the_skin_side_lags_far_behind_the_mean() {
        let at = Fourier::of(
            Diffusivity::m2_per_s(1e-9).unwrap(),
            Elapsed::from_hours(26.25).unwrap(),
            Length::millimetres(25.0).unwrap(),
        )
        .unwrap();
        assert!((slab_centre(at) - 0.14).abs() < 0.005);
        assert!((slab_centre(at) / slab_mean(at) - 0.31).abs() < 0.015);
    }

    #[test]
    fn nothing_has_happened_at_no_time() {
        assert_eq!(slab_mean(Fourier::ZERO), 0.0);
        assert_eq!(slab_centre(Fourier::ZERO), 0.0);
        assert_eq!(slab_at(Fourier::ZERO, 1.0).unwrap(), 1.0);
        assert_eq!(rectangle_mean(Fourier::ZERO, Fourier::ZERO), 0.0);
        assert!(slab_at(fo(0.1), 1.1).is_err());
        assert!(Fourier::new(-1.0).is_err() && Fourier::new(f64::NAN).is_err());
        assert!(Diffusivity::m2_per_s(2.5).is_err());
    }

    proptest! {
        #[test]
        fn more_time_is_never_less(a in 0.0..3.0_f64, more in 0.0..3.0_f64, x in 0.0..1.0_f64) {
            prop_assert!(slab_mean(fo(a + more)) >= slab_mean(fo(a)) - 1e-14);
            prop_assert!(slab_at(fo(a + more), x).unwrap() >= slab_at(fo(a), x).unwrap() - 1e-14);
        }

        #[test]
        fn nearer_the_face_is_never_less(a in 1e-3..3.0_f64, x in 0.0..1.0_f64, y in 0.0..1.0_f64) {
            let (inner, outer) = (x.min(y), x.max(y));
            prop_assert!(slab_at(fo(a), outer).unwrap() >= slab_at(fo(a), inner).unwrap() - 1e-14);
        }

        #[test]
        fn the_mean_is_the_mean_of_the_places(a in 0.01..2.0_f64) {
            // Midpoint rule on 400 places: its error is below h² ÷ 24 × the steepest curvature.
            let mean = (0..400)
                .map(|i| slab_at(fo(a), (f64::from(i) + 0.5) / 400.0).unwrap())
                .sum::<f64>() / 400.0;
            prop_assert!((mean - slab_mean(fo(a))).abs() < 5e-6);
        }

        #[test]
        fn a_share_and_its_time_agree(share in 0.001..0.999_f64) {
            prop_assert!((slab_mean(fourier_for_mean(share).unwrap()) - share).abs() < 1e-12);
        }
    }
}
