//! Length: above all the thickness of a piece.

use crate::error::within;
use crate::factors::MM_PER_INCH;
use crate::{QuantityError, numerals};
use core::fmt;

/// A length, in millimetres, zero or more.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// The most a constructor takes, in millimetres: a thousand kilometres.
    pub const MOST_MM: f64 = 1e9;

    /// A length in millimetres.
    ///
    /// # Errors
    /// Refuses NaN, infinities, negatives and more than [`Length::MOST_MM`].
    pub fn millimetres(mm: f64) -> Result<Self, QuantityError> {
        within("length", "mm", mm, 0.0, Self::MOST_MM).map(Self)
    }

    /// A length in inches.
    ///
    /// # Errors
    /// As [`Length::millimetres`].
    pub fn from_inches(inches: f64) -> Result<Self, QuantityError> {
        Self::millimetres(inches * MM_PER_INCH)
    }

    /// In millimetres.
    #[must_use]
    pub fn mm(self) -> f64 {
        self.0
    }

    /// In centimetres.
    #[must_use]
    pub fn cm(self) -> f64 {
        self.0 / 10.0
    }

    /// In metres, for formulas.
    #[must_use]
    pub fn metres(self) -> f64 {
        self.0 / 1000.0
    }

    /// In inches.
    #[must_use]
    pub fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// This length times a plain number.
    ///
    /// # Errors
    /// Refuses a negative or non-finite factor and a result above [`Length::MOST_MM`].
    pub fn scaled(self, factor: f64) -> Result<Self, QuantityError> {
        Self::millimetres(self.0 * factor)
    }
}

/// Millimetres below a metre, centimetres from there; never "m", which on a kitchen sheet is
/// as often minutes.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 >= 1000.0 {
            write!(
                f,
                "{} cm",
                numerals::grouped(&numerals::plain(self.cm(), 0, 2))
            )
        } else {
            write!(f, "{} mm", numerals::plain(self.0, 0, 1))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inch_is_exactly_25_4_mm() {
        assert_eq!(Length::from_inches(1.0).unwrap().mm(), 25.4);
        assert_eq!(Length::millimetres(25.4).unwrap().to_string(), "25.4 mm");
        assert_eq!(
            Length::millimetres(2191.5).unwrap().to_string(),
            "219.15 cm"
        );
        assert!(Length::millimetres(-1.0).is_err());
    }
}
