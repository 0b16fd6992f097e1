//! Diffusion in closed form: how far salt, sugar or heat has come into a simple shape.
//!
//! Series solutions of Fick's second law for a surface whose strength is set from the first moment.
//! They hold for one diffusivity, one shape and an even start; the kitchen's sequences of phases are
//! solved by [`crate::transport`], which is tested against the series here.

#[cfg(test)]
mod checks;
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

/// Newton settles in four or five.
const MOST_NEWTON_STEPS: usize = 12;
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
    let share = some_share(share)?;
    if share <= 0.0 {
        return Ok(Fourier::ZERO);
    }
    // The short-time form and the first term of the series, turned round: within a thousandth. The uptake
    // bends downward, so Newton's steps come from below and cannot run away.
    let mut fo = if share < 0.5 {
        PI * share * share / 4.0
    } else {
        -(PI * PI * (1.0 - share) / 8.0).ln() * 4.0 / (PI * PI)
    };
    if fo < SHORT_TIME_FO {
        return Ok(Fourier(fo));
    }
    for _ in 0..MOST_NEWTON_STEPS {
        let speed = odd_terms(Fourier(fo), |_| 2.0);
        let step = (share - slab_mean(Fourier(fo))) / speed;
        fo += step;
        if step.abs() <= 1e-15 * fo {
            break;
        }
    }
    Ok(Fourier(fo))
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

fn some_share(share: f64) -> Result<f64, ScienceError> {
    within(
        "share of the final uptake",
        "",
        share,
        0.0,
        0.999_999,
        "all of it takes for ever: ask for 0.95 or 0.99",
    )
}

fn when(share: f64, reached: impl Fn(Fourier) -> f64) -> Result<Fourier, ScienceError> {
    let share = some_share(share)?;
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
