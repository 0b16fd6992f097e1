//! Volume in a measure, pan or tub.

use crate::error::within;
use crate::factors::ML_PER_L;
use crate::{QuantityError, numerals};
use core::fmt;
use core::iter::Sum;
use core::ops::Add;

/// A volume, in millilitres, zero or more. It says nothing about weight: see [`crate::Density`].
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Volume(f64);

impl Volume {
    /// Nothing in the measure.
    pub const ZERO: Self = Self(0.0);
    /// The most a constructor takes, in millilitres.
    pub const MOST_ML: f64 = 1e12;

    /// A volume in millilitres.
    ///
    /// # Errors
    /// Refuses NaN, infinities, negatives and more than [`Volume::MOST_ML`].
    pub fn millilitres(ml: f64) -> Result<Self, QuantityError> {
        within("volume", "mL", ml, 0.0, Self::MOST_ML).map(Self)
    }

    /// A volume in litres.
    ///
    /// # Errors
    /// As [`Volume::millilitres`].
    pub fn from_litres(litres: f64) -> Result<Self, QuantityError> {
        Self::millilitres(litres * ML_PER_L)
    }

    /// For results the types' own limits already keep finite and non-negative.
    pub(crate) const fn unchecked_ml(ml: f64) -> Self {
        Self(ml)
    }

    /// In millilitres.
    #[must_use]
    pub fn ml(self) -> f64 {
        self.0
    }

    /// In litres.
    #[must_use]
    pub fn litres(self) -> f64 {
        self.0 / ML_PER_L
    }

    /// This volume times a plain number.
    ///
    /// # Errors
    /// Refuses a negative or non-finite factor and a result above [`Volume::MOST_ML`].
    pub fn scaled(self, factor: f64) -> Result<Self, QuantityError> {
        Self::millilitres(self.0 * factor)
    }

    /// What is left after `taken` is poured off.
    ///
    /// # Errors
    /// [`QuantityError::WouldBeNegative`] when there is less than `taken`.
    pub fn checked_sub(self, taken: Self) -> Result<Self, QuantityError> {
        if taken.0 > self.0 {
            return Err(QuantityError::WouldBeNegative {
                quantity: "volume",
                from: self.0,
                taken: taken.0,
                unit: "mL",
            });
        }
        Ok(Self(self.0 - taken.0))
    }
}

impl Add for Volume {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sum for Volume {
    fn sum<I: Iterator<Item = Self>>(volumes: I) -> Self {
        volumes.fold(Self::ZERO, Add::add)
    }
}

/// Millilitres below one litre ("250 mL"), litres from there ("1.5 L").
impl fmt::Display for Volume {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 >= ML_PER_L {
            write!(
                f,
                "{} L",
                numerals::grouped(&numerals::plain(self.litres(), 0, 3))
            )
        } else {
            write!(f, "{} mL", numerals::plain(self.0, 0, 2))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn volumes_are_written_in_the_measure_at_hand() {
        assert_eq!(
            Volume::millilitres(236.588_236_5).unwrap().to_string(),
            "236.59 mL"
        );
        assert_eq!(Volume::from_litres(1.5).unwrap().to_string(), "1.5 L");
        assert!(Volume::millilitres(-1.0).is_err());
    }

    #[test]
    fn more_cannot_be_poured_off_than_there_is() {
        let cup = Volume::millilitres(250.0).unwrap();
        assert!(Volume::ZERO.checked_sub(cup).is_err());
        assert_eq!((cup + cup).checked_sub(cup).unwrap(), cup);
    }
}
