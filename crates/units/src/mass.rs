//! Weight on a scale.

use crate::error::within;
use crate::factors::{G_PER_KG, G_PER_LB, G_PER_OZ};
use crate::{QuantityError, numerals};
use core::fmt;
use core::iter::Sum;
use core::ops::Add;

/// A weight, in grams, zero or more.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mass(f64);

impl Mass {
    /// Nothing on the scale.
    pub const ZERO: Self = Self(0.0);
    /// The most a constructor takes, in grams: a million tonnes. It keeps every sum finite.
    pub const MOST_G: f64 = 1e12;

    /// A weight in grams.
    ///
    /// # Errors
    /// Refuses NaN, infinities, negatives and more than [`Mass::MOST_G`].
    pub fn grams(g: f64) -> Result<Self, QuantityError> {
        within("weight", "g", g, 0.0, Self::MOST_G).map(Self)
    }

    /// A weight in kilograms. Errors as [`Mass::grams`].
    ///
    /// # Errors
    /// As [`Mass::grams`].
    pub fn kilograms(kg: f64) -> Result<Self, QuantityError> {
        Self::grams(kg * G_PER_KG)
    }

    /// A weight in avoirdupois pounds.
    ///
    /// # Errors
    /// As [`Mass::grams`].
    pub fn pounds(lb: f64) -> Result<Self, QuantityError> {
        Self::grams(lb * G_PER_LB)
    }

    /// A weight in avoirdupois ounces.
    ///
    /// # Errors
    /// As [`Mass::grams`].
    pub fn ounces(oz: f64) -> Result<Self, QuantityError> {
        Self::grams(oz * G_PER_OZ)
    }

    /// For results the type's own limits already keep finite and non-negative.
    pub(crate) const fn unchecked_g(g: f64) -> Self {
        Self(g)
    }

    /// In grams.
    #[must_use]
    pub fn g(self) -> f64 {
        self.0
    }

    /// In kilograms.
    #[must_use]
    pub fn kg(self) -> f64 {
        self.0 / G_PER_KG
    }

    /// In avoirdupois ounces.
    #[must_use]
    pub fn oz(self) -> f64 {
        self.0 / G_PER_OZ
    }

    /// In avoirdupois pounds.
    #[must_use]
    pub fn lb(self) -> f64 {
        self.0 / G_PER_LB
    }

    /// This weight times a plain number, as when a formula is scaled.
    ///
    /// # Errors
    /// Refuses a factor that is negative or not finite, and a result above [`Mass::MOST_G`].
    pub fn scaled(self, factor: f64) -> Result<Self, QuantityError> {
        Self::grams(self.0 * factor)
    }

    /// What is left after `taken` is removed.
    ///
    /// # Errors
    /// [`QuantityError::WouldBeNegative`] when there is less than `taken`.
    pub fn checked_sub(self, taken: Self) -> Result<Self, QuantityError> {
        if taken.0 > self.0 {
            return Err(QuantityError::WouldBeNegative {
                quantity: "weight",
                from: self.0,
                taken: taken.0,
                unit: "g",
            });
        }
        Ok(Self(self.0 - taken.0))
    }

    /// This weight as a plain ratio of `whole`.
    ///
    /// # Errors
    /// [`QuantityError::DividedByNothing`] when `whole` weighs nothing.
    pub fn ratio_to(self, whole: Self) -> Result<f64, QuantityError> {
        if whole.0 > 0.0 {
            Ok(self.0 / whole.0)
        } else {
            Err(QuantityError::DividedByNothing { quantity: "weight" })
        }
    }
}

impl Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(weights: I) -> Self {
        weights.fold(Self::ZERO, Add::add)
    }
}

/// Grams below 10 kg ("5,580 g"), kilograms from there ("12.5 kg"). For a bench sheet use
/// [`crate::bench`]; this form is for messages.
impl fmt::Display for Mass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 >= 10.0 * G_PER_KG {
            write!(
                f,
                "{} kg",
                numerals::grouped(&numerals::plain(self.kg(), 0, 3))
            )
        } else {
            // Two decimals are what a bench scale shows; below that keep what there is.
            let most = if self.0 < 0.01 { 9 } else { 2 };
            write!(
                f,
                "{} g",
                numerals::grouped(&numerals::plain(self.0, 0, most))
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn nonsense_weights_are_refused() {
        assert!(Mass::grams(f64::NAN).is_err());
        assert!(Mass::grams(f64::INFINITY).is_err());
        assert!(Mass::grams(1e13).is_err());
        let error = Mass::grams(-2.0).unwrap_err().to_string();
        assert_eq!(
            error,
            "weight: found -2 g; expected at least 0 g; check the sign and the unit"
        );
        assert!(Mass::grams(5.0).unwrap().scaled(-1.0).is_err());
        assert!(Mass::ZERO.scaled(f64::INFINITY).is_err());
    }

    #[test]
    fn weights_are_written_as_the_trade_writes_them() {
        assert_eq!(Mass::grams(5580.0).unwrap().to_string(), "5,580 g");
        assert_eq!(Mass::kilograms(12.5).unwrap().to_string(), "12.5 kg");
        assert_eq!(Mass::grams(0.925).unwrap().to_string(), "0.93 g");
        assert_eq!(Mass::grams(0.0042).unwrap().to_string(), "0.0042 g");
        assert_eq!(Mass::grams(-0.0).unwrap().to_string(), "0 g");
    }

    #[test]
    fn nothing_more_can_be_taken_than_there_is() {
        let fish = Mass::grams(100.0).unwrap();
        let more = Mass::grams(100.5).unwrap();
        assert_eq!(more.checked_sub(fish).unwrap().g(), 0.5);
        assert!(matches!(
            fish.checked_sub(more),
            Err(QuantityError::WouldBeNegative { .. })
        ));
        assert!(fish.ratio_to(Mass::ZERO).is_err());
    }

    proptest! {
        #[test]
        fn scaling_by_k_then_by_its_inverse_is_identity(g in 0.0..1e6_f64, k in 1e-3..1e3_f64) {
            let there = Mass::grams(g).unwrap().scaled(k).unwrap();
            let back = there.scaled(1.0 / k).unwrap();
            // Three roundings of a double: a few parts in 1e16.
            prop_assert!((back.g() - g).abs() <= 4.0 * f64::EPSILON * g);
        }

        #[test]
        fn taking_off_what_was_added_gives_the_weight_back(a in 0.0..1e6_f64, b in 0.0..1e6_f64) {
            let (a, b) = (Mass::grams(a).unwrap(), Mass::grams(b).unwrap());
            let left = (a + b).checked_sub(b).unwrap();
            prop_assert!((left.g() - a.g()).abs() < 1e-9);
        }
    }
}
