//! A hanging piece weighed again and again: its drying rate with a spread, and when it will be done.
//!
//! [`crate::drying`] takes two weighings; this takes all of them and says how far they agree.

use sources::Status;
use units::{Elapsed, Mass};

use crate::ScienceError;
use crate::drying::Rate;
use crate::error::within;
use crate::psychrometrics::RelativeHumidity;
use crate::water_activity::WaterActivity;

/// One weighing of a hanging piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighing {
    /// Time since it was hung.
    pub at: Elapsed,
    /// What it weighed.
    pub weight: Mass,
}

/// Student's t for a two-sided 95 %, by degrees of freedom from 1; statistical tables, from memory. With
/// more than thirty the last is kept, which is a little wide.
const STUDENT_95: [f64; 30] = [
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160,
    2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056,
    2.052, 2.048, 2.045, 2.042,
];

/// A straight line through the logarithms of the weights.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryingFit {
    k_per_day: f64,
    mean_day: f64,
    mean_ln_g: f64,
    /// Sum of squares of the days about their mean.
    day_squares: f64,
    weighings: usize,
    /// Scatter of the logarithms about the line; two weighings have none.
    scatter: Option<f64>,
}

/// When a piece comes to a weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Window {
    /// Two weighings: nobody can say how far off.
    Unknown,
    /// Scatter so large that it may never come: weigh again.
    Open {
        /// Not before, of 19 in 20.
        earliest: Elapsed,
    },
    /// Between these, in 19 of 20.
    Closed {
        /// Not before.
        earliest: Elapsed,
        /// Not after.
        latest: Elapsed,
    },
}

/// A forecast of a weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// Time since hanging at which the line meets the weight.
    pub likely: Elapsed,
    /// How far off it may be.
    pub window: Window,
}

impl DryingFit {
    /// Fits the weighings of one piece.
    ///
    /// # Method
    /// Least squares of `ln w = a − k t`, both free; the first weighing counts no more than the others.
    /// # Valid range
    /// One piece in one cabinet at even air. A piece slows as its outside hardens, which bends the line:
    /// the spread here is scatter about a straight one and does not know that.
    /// # Source
    /// [PRACTICE](sources::list::PRACTICE): first-order loss; least squares is arithmetic.
    /// # Errors
    /// Fewer than two weighings; no time between them; a piece that did not lose; a weight of nothing.
    /// # Example
    /// ```
    /// use science::hanging::{DryingFit, Weighing};
    /// use units::{Elapsed, Mass};
    /// let weighed = |days, g| -> Result<_, Box<dyn std::error::Error>> {
    ///     Ok(Weighing { at: Elapsed::from_days(days)?, weight: Mass::grams(g)? })
    /// };
    /// let fit = DryingFit::of(&[weighed(0.0, 358.9)?, weighed(3.0, 332.0)?, weighed(7.0, 301.0)?])?;
    /// assert_eq!(format!("{:.4}", fit.rate()?.k_per_day()), "0.0251");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(weighings: &[Weighing]) -> Result<Self, ScienceError> {
        let (Some(first), Some(last)) = (weighings.first(), weighings.last()) else {
            return Err(ScienceError::TooFew {
                what: "weighings",
                found: 0,
                least: 2,
            });
        };
        if weighings.len() < 2 {
            return Err(ScienceError::TooFew {
                what: "weighings",
                found: weighings.len(),
                least: 2,
            });
        }
        if weighings.iter().any(|w| w.weight <= Mass::ZERO) {
            return Err(ScienceError::None { what: "weight" });
        }
        let n = weighings.len() as f64;
        let points = || weighings.iter().map(|w| (w.at.days(), w.weight.g().ln()));
        let mean_day = points().map(|p| p.0).sum::<f64>() / n;
        let mean_ln_g = points().map(|p| p.1).sum::<f64>() / n;
        let day_squares: f64 = points().map(|p| (p.0 - mean_day).powi(2)).sum();
        if day_squares <= 0.0 {
            return Err(ScienceError::None {
                what: "time between the weighings",
            });
        }
        let both: f64 = points().map(|p| (p.0 - mean_day) * (p.1 - mean_ln_g)).sum();
        let k_per_day = -both / day_squares;
        if k_per_day <= 0.0 {
            return Err(ScienceError::NotDrying {
                before_g: first.weight.g(),
                after_g: last.weight.g(),
            });
        }
        let left: f64 = points()
            .map(|p| (p.1 - mean_ln_g + k_per_day * (p.0 - mean_day)).powi(2))
            .sum();
        let scatter = (weighings.len() > 2).then(|| (left / (n - 2.0)).sqrt());
        Ok(Self {
            k_per_day,
            mean_day,
            mean_ln_g,
            day_squares,
            weighings: weighings.len(),
            scatter,
        })
    }

    /// The drying rate.
    ///
    /// # Errors
    /// A rate no hung piece has, see [`Rate::per_day`].
    pub fn rate(&self) -> Result<Rate, ScienceError> {
        Rate::per_day(self.k_per_day)
    }

    /// Least and most of the rate per day, of 19 in 20; `None` from two weighings, which tell no spread.
    /// The least may be below nothing: then these weighings do not show that it dries.
    #[must_use]
    pub fn rate_spread_per_day(&self) -> Option<(f64, f64)> {
        let off = self.reach()? / self.day_squares.sqrt();
        Some((self.k_per_day - off, self.k_per_day + off))
    }

    /// Student's t times the scatter.
    fn reach(&self) -> Option<f64> {
        let freedom = self.weighings.checked_sub(3)?;
        let t = STUDENT_95[freedom.min(STUDENT_95.len() - 1)];
        self.scatter.map(|s| t * s)
    }

    /// The weight the line has at a time since hanging.
    ///
    /// # Errors
    /// A time more than four times as far from the middle of the weighings as they reach, where a line
    /// says nothing.
    pub fn weight_at(&self, at: Elapsed) -> Result<Mass, ScienceError> {
        let days = at.days();
        let far = 4.0 * (self.day_squares).sqrt();
        within(
            "time since hanging",
            "days",
            days,
            self.mean_day - far,
            self.mean_day + far,
            "weigh again nearer to it",
        )?;
        Ok(Mass::grams(
            (self.mean_ln_g - self.k_per_day * (days - self.mean_day)).exp(),
        )?)
    }

    /// When the piece comes to `target`, with a window in which a weighing meets it 19 times in 20.
    ///
    /// # Method
    /// The line for the likely time. The window is where the band of a new weighing,
    /// `± t s √(1 + 1 ÷ n + (t − t̄)² ÷ S)`, meets the target (Fieller).
    /// # Valid range
    /// Target below the fitted weight at hanging. Forecasts far beyond the weighings come too early.
    /// # Errors
    /// A target of nothing or one the line had before hanging; a time beyond what [`Elapsed`] takes.
    pub fn forecast(&self, target: Mass) -> Result<Forecast, ScienceError> {
        let hung_g = (self.mean_ln_g + self.k_per_day * self.mean_day).exp();
        let target_g = within(
            "target weight",
            "g",
            target.g(),
            hung_g * 0.1,
            hung_g,
            "give a weight below that at hanging",
        )?;
        let fall = self.mean_ln_g - target_g.ln();
        let likely = Elapsed::from_days((self.mean_day + fall / self.k_per_day).max(0.0))?;
        let window = match self.reach() {
            None => Window::Unknown,
            Some(reach) => self.window(fall, reach)?,
        };
        Ok(Forecast { likely, window })
    }

    /// Solves `(fall − k u)² = reach² (1 + 1 ÷ n + u² ÷ S)` for `u`, days from the middle of the weighings.
    fn window(&self, fall: f64, reach: f64) -> Result<Window, ScienceError> {
        let q = reach * reach;
        let k = self.k_per_day;
        let a = k * k - q / self.day_squares;
        let b = k * fall;
        let c = fall * fall - q * (1.0 + 1.0 / self.weighings as f64);
        let root = (b * b - a * c).max(0.0).sqrt();
        // Nothing is done before it was hung.
        let since_hung = |u: f64| Elapsed::from_days((self.mean_day + u).max(0.0));
        if a > 0.0 {
            let (early, late) = ((b - root) / a, (b + root) / a);
            return Ok(Window::Closed {
                earliest: since_hung(early)?,
                latest: since_hung(late)?,
            });
        }
        // The rate is not told apart from nothing: the band meets the target once on the way there, or
        // covers it everywhere.
        let early = if b * b - a * c < 0.0 || b + root <= 0.0 {
            -self.mean_day
        } else {
            c / (b + root)
        };
        Ok(Window::Open {
            earliest: since_hung(early)?,
        })
    }
}

/// A drying rate carried to other air: an assumption, and it says so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarriedRate {
    rate: Rate,
}

impl CarriedRate {
    /// The rate, with the status of the rule it was carried by.
    #[must_use]
    pub fn with_status(self) -> (Rate, Status) {
        (self.rate, Status::House)
    }
}

/// A rate found in one air, in another of the same temperature and movement.
///
/// # Method
/// `k₂ = k₁ (a_s − RH₂) ÷ (a_s − RH₁)`: loss goes with the gap between the surface and the air.
/// # Valid range
/// Air of 50 to 90 %; a surface damper than both by 0.02 or more; a factor of a quarter to four. A late,
/// hardened piece is held up inside and answers less than this.
/// # Source
/// [HOUSE](sources::list::HOUSE): assumed, no trial behind it. Weigh in the new air.
/// # Errors
/// Outside the range.
/// # Example
/// ```
/// use science::{drying::Rate, hanging::at_humidity, psychrometrics::RelativeHumidity};
/// use science::water_activity::WaterActivity;
/// let air = RelativeHumidity::percent;
/// let (rate, status) = at_humidity(
///     Rate::per_day(0.0255)?, air(75.0)?, air(80.0)?, WaterActivity::new(0.95)?)?.with_status();
/// assert_eq!(format!("{:.4} {}", rate.k_per_day(), status.words()), "0.0191 house value");
/// # Ok::<(), science::ScienceError>(())
/// ```
pub fn at_humidity(
    rate: Rate,
    found_in: RelativeHumidity,
    wanted_in: RelativeHumidity,
    surface: WaterActivity,
) -> Result<CarriedRate, ScienceError> {
    let air = |what, air: RelativeHumidity| {
        within(
            what,
            "%",
            air.pct(),
            50.0,
            (surface.aw() * 100.0 - 2.0).min(90.0),
            "a surface must be damper than the air, and a cabinet lies between 50 and 90 %",
        )
    };
    let gap = |humidity_pct: f64| surface.aw() * 100.0 - humidity_pct;
    let before = gap(air("humidity the rate was found in", found_in)?);
    let after = gap(air("humidity wanted", wanted_in)?);
    let factor = within(
        "factor between the two airs",
        "times",
        after / before,
        0.25,
        4.0,
        "weigh in the new air instead",
    )?;
    Ok(CarriedRate {
        rate: Rate::per_day(rate.k_per_day() * factor)?,
    })
}

#[cfg(test)]
mod tests;
