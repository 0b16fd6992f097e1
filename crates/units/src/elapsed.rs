//! Elapsed time: how long a cure, a smoke or a pair of hands takes. Never a time of day.

use crate::QuantityError;
use crate::error::within;
use crate::factors::{S_PER_DAY, S_PER_HOUR, S_PER_MIN};
use core::fmt;
use core::iter::Sum;
use core::ops::Add;

/// A length of time in whole seconds, zero or more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Elapsed(i64);

impl Elapsed {
    /// No time at all.
    pub const ZERO: Self = Self(0);
    /// The most a constructor takes, in seconds: a hundred years of 365 days.
    pub const MOST_S: i64 = 100 * 365 * S_PER_DAY;

    /// So many seconds.
    ///
    /// # Errors
    /// Refuses negatives and more than [`Elapsed::MOST_S`].
    pub fn from_seconds(seconds: i64) -> Result<Self, QuantityError> {
        within("time", "s", seconds as f64, 0.0, Self::MOST_S as f64)?;
        Ok(Self(seconds))
    }

    /// So many seconds, rounded half-up to a whole one.
    fn nearest_second(seconds: f64) -> Result<Self, QuantityError> {
        let seconds = within("time", "s", seconds, 0.0, Self::MOST_S as f64)?;
        Ok(Self(seconds.round() as i64))
    }

    /// So many minutes, rounded half-up to a whole second.
    ///
    /// # Errors
    /// Refuses NaN, infinities, negatives and more than [`Elapsed::MOST_S`].
    pub fn from_minutes(minutes: f64) -> Result<Self, QuantityError> {
        Self::nearest_second(minutes * S_PER_MIN as f64)
    }

    /// So many hours, rounded half-up to a whole second.
    ///
    /// # Errors
    /// As [`Elapsed::from_minutes`].
    pub fn from_hours(hours: f64) -> Result<Self, QuantityError> {
        Self::nearest_second(hours * S_PER_HOUR as f64)
    }

    /// So many days of 24 hours, rounded half-up to a whole second.
    ///
    /// # Errors
    /// As [`Elapsed::from_minutes`].
    pub fn from_days(days: f64) -> Result<Self, QuantityError> {
        Self::nearest_second(days * S_PER_DAY as f64)
    }

    /// In whole seconds.
    #[must_use]
    pub fn seconds(self) -> i64 {
        self.0
    }

    /// In minutes.
    #[must_use]
    pub fn minutes(self) -> f64 {
        self.0 as f64 / S_PER_MIN as f64
    }

    /// In hours.
    #[must_use]
    pub fn hours(self) -> f64 {
        self.0 as f64 / S_PER_HOUR as f64
    }

    /// In days of 24 hours.
    #[must_use]
    pub fn days(self) -> f64 {
        self.0 as f64 / S_PER_DAY as f64
    }

    /// In whole minutes, half-up: 90 s is 2.
    #[must_use]
    pub fn whole_minutes(self) -> i64 {
        self.0 / S_PER_MIN + i64::from(self.0 % S_PER_MIN >= S_PER_MIN / 2)
    }

    /// This time times a plain number, to the nearest second.
    ///
    /// # Errors
    /// As [`Elapsed::from_minutes`].
    pub fn scaled(self, factor: f64) -> Result<Self, QuantityError> {
        Self::nearest_second(self.0 as f64 * factor)
    }

    /// What is left after `taken` has passed.
    ///
    /// # Errors
    /// [`QuantityError::WouldBeNegative`] when there is less than `taken`.
    pub fn checked_sub(self, taken: Self) -> Result<Self, QuantityError> {
        if taken > self {
            return Err(QuantityError::WouldBeNegative {
                quantity: "time",
                from: self.0 as f64,
                taken: taken.0 as f64,
                unit: "s",
            });
        }
        Ok(Self(self.0 - taken.0))
    }
}

impl Add for Elapsed {
    type Output = Self;
    // Overflow would take three thousand million additions of the longest time allowed.
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sum for Elapsed {
    fn sum<I: Iterator<Item = Self>>(times: I) -> Self {
        times.fold(Self::ZERO, Add::add)
    }
}

/// "45 min", "22 h 20 min", and days once past 48 hours: "6 d 22 h 30 min". Exact to the second.
impl fmt::Display for Elapsed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (days, in_day) = if self.0 > 2 * S_PER_DAY {
            (self.0 / S_PER_DAY, self.0 % S_PER_DAY)
        } else {
            (0, self.0)
        };
        let parts = [
            (days, "d"),
            (in_day / S_PER_HOUR, "h"),
            (in_day % S_PER_HOUR / S_PER_MIN, "min"),
            (in_day % S_PER_MIN, "s"),
        ];
        let mut written = false;
        for (amount, unit) in parts {
            if amount > 0 {
                write!(f, "{}{amount} {unit}", if written { " " } else { "" })?;
                written = true;
            }
        }
        if written {
            Ok(())
        } else {
            f.write_str("0 min")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_written_as_they_are_said() {
        let written = |s| Elapsed::from_seconds(s).unwrap().to_string();
        assert_eq!(written(80_400), "22 h 20 min");
        assert_eq!(written(6 * 86_400 + 22 * 3600 + 30 * 60), "6 d 22 h 30 min");
        assert_eq!(written(2700), "45 min");
        assert_eq!(written(20), "20 s");
        assert_eq!(written(48 * 3600), "48 h");
        assert_eq!(written(0), "0 min");
    }

    #[test]
    fn half_a_minute_rounds_up() {
        assert_eq!(Elapsed::from_seconds(90).unwrap().whole_minutes(), 2);
        assert_eq!(Elapsed::from_seconds(89).unwrap().whole_minutes(), 1);
    }

    #[test]
    fn time_does_not_run_backwards() {
        assert!(Elapsed::from_seconds(-1).is_err());
        assert!(Elapsed::from_hours(f64::NAN).is_err());
        assert!(Elapsed::from_days(1e9).is_err());
        let hour = Elapsed::from_hours(1.0).unwrap();
        assert!(Elapsed::ZERO.checked_sub(hour).is_err());
        assert_eq!(hour.scaled(1.5).unwrap().minutes(), 90.0);
    }
}
