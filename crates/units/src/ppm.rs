//! Parts per million by weight.

use crate::error::within;
use crate::{Mass, QuantityError, numerals};
use core::fmt;

/// One on a mass fraction of a million: mg per kg. Zero to a million.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Ppm(f64);

/// Parts in a million.
const MILLION: f64 = 1e6;

impl Ppm {
    /// So many parts per million by weight.
    ///
    /// # Errors
    /// Refuses NaN, infinities, negatives and more than a million.
    pub fn new(ppm: f64) -> Result<Self, QuantityError> {
        within("parts per million", "ppm", ppm, 0.0, MILLION).map(Self)
    }

    /// A plain mass ratio as parts per million.
    ///
    /// # Errors
    /// As [`Ppm::new`].
    pub fn from_ratio(ratio: f64) -> Result<Self, QuantityError> {
        Self::new(ratio * MILLION)
    }

    /// How much of `whole` is `part`.
    ///
    /// # Errors
    /// A whole of nothing, or a part heavier than the whole.
    pub fn of_part(part: Mass, whole: Mass) -> Result<Self, QuantityError> {
        Self::from_ratio(part.ratio_to(whole)?)
    }

    /// Parts per million.
    #[must_use]
    pub fn ppm(self) -> f64 {
        self.0
    }

    /// As a plain mass ratio.
    #[must_use]
    pub fn ratio(self) -> f64 {
        self.0 / MILLION
    }

    /// The weight this comes to in `whole`.
    #[must_use]
    pub fn of(self, whole: Mass) -> Mass {
        Mass::unchecked_g(whole.g() * self.ratio())
    }
}

/// Two decimals at most: "156.25 ppm".
impl fmt::Display for Ppm {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ppm", numerals::plain(self.0, 0, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_percent_of_a_six_and_a_quarter_percent_salt_is_156_25_ppm() {
        // Arithmetic: 0.0025 × 0.0625 = 0.000 156 25.
        let nitrite = Mass::grams(0.925 * 0.0625).unwrap();
        let ppm = Ppm::of_part(nitrite, Mass::grams(370.0).unwrap()).unwrap();
        assert_eq!(ppm.to_string(), "156.25 ppm");
        assert!(Ppm::new(-1.0).is_err());
        assert!(Ppm::new(1_000_001.0).is_err());
        assert!(Ppm::of_part(nitrite, Mass::ZERO).is_err());
    }
}
