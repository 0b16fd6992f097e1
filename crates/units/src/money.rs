//! Money, as a decimal. Which currency it is belongs to the book.

use crate::{Count, QuantityError, decimal, half_up};
use core::fmt;
use core::iter::Sum;
use core::ops::{Add, Neg, Sub};
use core::str::FromStr;
use rust_decimal::Decimal;

/// An amount of money, exact; a difference may be negative.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money(Decimal);

/// Digits before the point a constructor takes: a thousand million million.
const MOST_UNITS: i64 = 1_000_000_000_000_000;

impl Money {
    /// Nothing owed.
    pub const ZERO: Self = Self(Decimal::ZERO);

    /// An amount from an exact decimal.
    ///
    /// # Errors
    /// [`QuantityError::NotDecimal`] beyond 1e15 either way, which keeps every sum exact and finite.
    pub fn new(amount: Decimal) -> Result<Self, QuantityError> {
        if amount.abs() > Decimal::from(MOST_UNITS) {
            return Err(QuantityError::NotDecimal { quantity: "money" });
        }
        Ok(Self(amount))
    }

    /// An amount from a price typed as a number in a file. The decimal is the shortest text
    /// that stands for the binary number, so 9.9 is 9.90 and not 9.900000000000000355.
    ///
    /// # Errors
    /// NaN, infinities, and what [`Money::new`] refuses.
    pub fn from_f64_exact(amount: f64) -> Result<Self, QuantityError> {
        if !amount.is_finite() {
            return Err(QuantityError::NotFinite { quantity: "money" });
        }
        let amount = Decimal::from_str(&amount.to_string())
            .map_err(|_| QuantityError::NotDecimal { quantity: "money" })?;
        Self::new(amount)
    }

    /// The exact amount.
    #[must_use]
    pub fn amount(self) -> Decimal {
        self.0
    }

    /// This amount times an exact number: a price times a weight.
    ///
    /// # Errors
    /// As [`Money::new`].
    pub fn times(self, factor: Decimal) -> Result<Self, QuantityError> {
        let product = self
            .0
            .checked_mul(factor)
            .ok_or(QuantityError::NotDecimal { quantity: "money" })?;
        Self::new(product)
    }

    /// This amount shared evenly by an exact number.
    ///
    /// # Errors
    /// [`QuantityError::DividedByNothing`] for zero; as [`Money::new`].
    pub fn divided(self, by: Decimal) -> Result<Self, QuantityError> {
        if by.is_zero() {
            return Err(QuantityError::DividedByNothing { quantity: "money" });
        }
        let share = self
            .0
            .checked_div(by)
            .ok_or(QuantityError::NotDecimal { quantity: "money" })?;
        Self::new(share)
    }

    /// This amount for each one of a count: cost per plate, per cover.
    ///
    /// # Errors
    /// [`QuantityError::DividedByNothing`] when the count is none.
    pub fn per_count(self, count: &Count) -> Result<Self, QuantityError> {
        self.divided(decimal(count.n())?)
    }

    /// Rounded half-up to `places` decimals.
    #[must_use]
    pub fn rounded(self, places: u32) -> Self {
        Self(half_up(self.0, places))
    }
}

// A sum would have to pass 7.9e28, ten million million of the largest amount allowed,
// before the decimal runs out; saturating there is only so that it never panics.
impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Money {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Add::add)
    }
}

/// Two decimals, half-up, no sign of any currency: "42.30".
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rounded = half_up(self.0, 2);
        let shown = if rounded.is_zero() {
            Decimal::ZERO
        } else {
            rounded
        };
        f.pad(&format!("{shown:.2}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(amount: f64) -> Money {
        Money::from_f64_exact(amount).unwrap()
    }

    #[test]
    fn tenths_add_up_exactly() {
        let sum: Money = (0..10).map(|_| money(0.1)).sum();
        assert_eq!(sum, money(1.0));
        assert_eq!(money(9.9).to_string(), "9.90");
        assert_eq!((money(1.0) - money(3.5)).to_string(), "-2.50");
    }

    #[test]
    fn a_half_cent_rounds_up() {
        assert_eq!(money(1.005).rounded(2), money(1.01));
        assert_eq!(money(2.675).to_string(), "2.68");
        assert_eq!(money(-0.001).to_string(), "0.00");
    }

    #[test]
    fn cost_is_shared_among_plates_and_never_among_none() {
        let plates = Count::new(4.0, "plate").unwrap();
        assert_eq!(money(10.0).per_count(&plates).unwrap(), money(2.5));
        let none = Count::new(0.0, "plate").unwrap();
        assert!(matches!(
            money(10.0).per_count(&none),
            Err(QuantityError::DividedByNothing { .. })
        ));
        assert!(Money::from_f64_exact(f64::NAN).is_err());
        assert!(Money::from_f64_exact(1e300).is_err());
        assert!(money(1e15).times(Decimal::MAX).is_err());
    }
}
