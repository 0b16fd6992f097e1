//! A percentage that knows what it is a percentage of.

use crate::error::within;
use crate::{Base, Mass, QuantityError, numerals};
use core::fmt;

/// A share by weight of a named base, zero or more. It may pass 100 %: water is often
/// 150 % of the vegetables it covers.
#[derive(Debug, Clone, PartialEq)]
pub struct Fraction {
    ratio: f64,
    base: Base,
}

impl Fraction {
    /// The most a constructor takes, in percent of the base.
    pub const MOST_PCT: f64 = 100_000.0;

    /// A share in percent: 2.5 is 2.5 %.
    ///
    /// # Errors
    /// Refuses NaN, infinities, negatives and more than [`Fraction::MOST_PCT`].
    pub fn percent(pct: f64, base: Base) -> Result<Self, QuantityError> {
        let pct = within("percentage", "%", pct, 0.0, Self::MOST_PCT)?;
        Ok(Self {
            ratio: pct / 100.0,
            base,
        })
    }

    /// A share as a plain ratio: 0.025 is 2.5 %.
    ///
    /// # Errors
    /// As [`Fraction::percent`].
    pub fn from_ratio(ratio: f64, base: Base) -> Result<Self, QuantityError> {
        let ratio = within("share", "of the base", ratio, 0.0, Self::MOST_PCT / 100.0)?;
        Ok(Self { ratio, base })
    }

    /// As a plain ratio.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        self.ratio
    }

    /// In percent.
    #[must_use]
    pub fn pct(&self) -> f64 {
        self.ratio * 100.0
    }

    /// What 100 % is.
    #[must_use]
    pub fn base(&self) -> &Base {
        &self.base
    }

    /// The weight this share comes to on `weight` of `base`.
    ///
    /// # Errors
    /// [`QuantityError::OtherBase`], naming both, when the weight is of something else.
    ///
    /// # Example
    /// ```
    /// use units::{Base, Fraction, Mass};
    /// let fillet = Base::new("skin-on fillet")?;
    /// let salt = Fraction::percent(2.5, fillet.clone())?;
    /// assert_eq!(salt.of(Mass::grams(5580.0)?, &fillet)?.to_string(), "139.5 g");
    /// let wrong = salt.of(Mass::grams(9000.0)?, &Base::new("whole fish")?).unwrap_err();
    /// assert!(wrong.to_string().contains("percentage of \"skin-on fillet\", found a weight of \"whole fish\""));
    /// # Ok::<(), units::QuantityError>(())
    /// ```
    pub fn of(&self, weight: Mass, base: &Base) -> Result<Mass, QuantityError> {
        if *base == self.base {
            weight.scaled(self.ratio)
        } else {
            Err(QuantityError::OtherBase {
                found: base.clone(),
                expected: self.base.clone(),
            })
        }
    }

    /// The sum of two shares of one base.
    ///
    /// # Errors
    /// [`QuantityError::OtherBase`] when the bases differ; a sum above the limit.
    pub fn plus(&self, other: &Self) -> Result<Self, QuantityError> {
        if other.base == self.base {
            Self::from_ratio(self.ratio + other.ratio, self.base.clone())
        } else {
            Err(QuantityError::OtherBase {
                found: other.base.clone(),
                expected: self.base.clone(),
            })
        }
    }
}

/// Two to four decimals and the base: "2.50 % of skin-on fillet".
impl fmt::Display for Fraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} % of {}",
            numerals::plain(self.pct(), 2, 4),
            self.base
        )
    }
}

/// Shares compare only on one base.
impl PartialOrd for Fraction {
    fn partial_cmp(&self, other: &Self) -> Option<core::cmp::Ordering> {
        if self.base == other.base {
            self.ratio.partial_cmp(&other.ratio)
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_of_one_thing_is_not_a_share_of_another() {
        let (fillet, liquor) = (Base::new("fillet").unwrap(), Base::new("liquor").unwrap());
        let a = Fraction::percent(2.5, fillet.clone()).unwrap();
        let b = Fraction::percent(2.5, liquor).unwrap();
        assert!(a.plus(&b).is_err());
        assert_eq!(a.partial_cmp(&b), None);
        assert_eq!(a.plus(&a).unwrap().to_string(), "5.00 % of fillet");
        assert!(Fraction::percent(-0.1, fillet.clone()).is_err());
        assert!(Fraction::percent(f64::NAN, fillet).is_err());
    }
}
