//! Temperature, as a point on a thermometer and as a difference between two.
//!
//! They are two types because they convert differently: 9 °F above a limit is 5 °C above
//! it, while a thermometer at 9 °F stands at −12.8 °C.

use crate::error::within;
use crate::factors::{
    ABSOLUTE_ZERO_C, ABSOLUTE_ZERO_F, C_DEGREES_IN_SPAN, F_AT_ZERO_C, F_DEGREES_IN_SPAN,
};
use crate::{QuantityError, numerals};
use core::fmt;
use core::ops::Sub;

/// A point on a thermometer, in °C.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);

/// The distance between two temperatures, in kelvin (one kelvin is one Celsius degree).
/// It may be negative.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct TemperatureDifference(f64);

/// The Fahrenheit reading of a Celsius point.
fn f_from_c(c: f64) -> f64 {
    c * F_DEGREES_IN_SPAN / C_DEGREES_IN_SPAN + F_AT_ZERO_C
}

impl Temperature {
    /// The highest point taken, in °C: hotter than any fire in a kitchen.
    pub const MOST_C: f64 = 3000.0;

    /// A point in °C.
    ///
    /// # Errors
    /// Refuses NaN, infinities, anything below −273.15 °C and above [`Temperature::MOST_C`].
    pub fn celsius(c: f64) -> Result<Self, QuantityError> {
        within("temperature", "°C", c, ABSOLUTE_ZERO_C, Self::MOST_C).map(Self)
    }

    /// A point in °F.
    ///
    /// # Errors
    /// As [`Temperature::celsius`].
    pub fn from_f(f: f64) -> Result<Self, QuantityError> {
        let most_f = f_from_c(Self::MOST_C);
        let f = within("temperature", "°F", f, ABSOLUTE_ZERO_F, most_f)?;
        // The range was checked above; what the last binary digit adds at its ends is noise.
        let c = (f - F_AT_ZERO_C) * C_DEGREES_IN_SPAN / F_DEGREES_IN_SPAN;
        Ok(Self(c.clamp(ABSOLUTE_ZERO_C, Self::MOST_C)))
    }

    /// In °C.
    #[must_use]
    pub fn c(self) -> f64 {
        self.0
    }

    /// In °F.
    #[must_use]
    pub fn f(self) -> f64 {
        f_from_c(self.0).max(ABSOLUTE_ZERO_F)
    }

    /// In kelvin, for formulas.
    #[must_use]
    pub fn kelvin(self) -> f64 {
        self.0 - ABSOLUTE_ZERO_C
    }

    /// The point this far above (or, if negative, below) this one.
    ///
    /// # Errors
    /// As [`Temperature::celsius`].
    pub fn moved(self, by: TemperatureDifference) -> Result<Self, QuantityError> {
        Self::celsius(self.0 + by.0)
    }
}

impl Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference(self.0 - other.0)
    }
}

/// One decimal at most: "63 °C", "62.8 °C".
impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} °C", numerals::plain(self.0, 0, 1))
    }
}

impl TemperatureDifference {
    /// The widest difference taken either way, in kelvin.
    pub const MOST_K: f64 = Temperature::MOST_C - ABSOLUTE_ZERO_C;

    /// A difference in kelvin, which is also a difference in Celsius degrees.
    ///
    /// # Errors
    /// Refuses NaN, infinities and more than [`TemperatureDifference::MOST_K`] either way.
    pub fn kelvins(k: f64) -> Result<Self, QuantityError> {
        within(
            "temperature difference",
            "K",
            k,
            -Self::MOST_K,
            Self::MOST_K,
        )
        .map(Self)
    }

    /// A difference in Fahrenheit degrees: times 5/9, with no offset.
    ///
    /// # Errors
    /// As [`TemperatureDifference::kelvins`].
    pub fn from_f_degrees(degrees: f64) -> Result<Self, QuantityError> {
        Self::kelvins(degrees * C_DEGREES_IN_SPAN / F_DEGREES_IN_SPAN)
    }

    /// In kelvin.
    #[must_use]
    pub fn k(self) -> f64 {
        self.0
    }

    /// In Fahrenheit degrees.
    #[must_use]
    pub fn f_degrees(self) -> f64 {
        self.0 * F_DEGREES_IN_SPAN / C_DEGREES_IN_SPAN
    }
}

/// "5 °C difference", so that it is never taken for a thermometer reading.
impl fmt::Display for TemperatureDifference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} °C difference", numerals::plain(self.0, 0, 1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_difference_has_no_offset() {
        assert_eq!(TemperatureDifference::from_f_degrees(9.0).unwrap().k(), 5.0);
        assert!((Temperature::from_f(9.0).unwrap().c() + 12.777_777).abs() < 1e-5);
        let gap = Temperature::from_f(41.0).unwrap() - Temperature::from_f(32.0).unwrap();
        assert_eq!(gap.k(), 5.0);
        assert_eq!(gap.to_string(), "5 °C difference");
    }

    #[test]
    fn nothing_is_colder_than_absolute_zero() {
        assert!(Temperature::celsius(-273.15).is_ok());
        let error = Temperature::celsius(-273.2).unwrap_err().to_string();
        assert!(error.contains("expected at least -273.15 °C"), "{error}");
        assert!(Temperature::celsius(f64::NAN).is_err());
        assert_eq!(
            Temperature::from_f(-459.67).unwrap(),
            Temperature::celsius(-273.15).unwrap()
        );
        let error = Temperature::from_f(-459.7).unwrap_err().to_string();
        assert!(error.contains("expected at least -459.67 °F"), "{error}");
    }

    #[test]
    fn whole_figures_convert_without_noise() {
        assert_eq!(Temperature::from_f(212.0).unwrap().c(), 100.0);
        assert_eq!(Temperature::from_f(-40.0).unwrap().c(), -40.0);
        assert_eq!(Temperature::celsius(63.0).unwrap().f(), 145.4);
    }

    #[test]
    fn a_point_is_written_with_one_decimal_at_most() {
        assert_eq!(Temperature::from_f(145.0).unwrap().to_string(), "62.8 °C");
        assert_eq!(Temperature::celsius(-18.0).unwrap().to_string(), "-18 °C");
    }

    proptest! {
        #[test]
        fn celsius_to_fahrenheit_and_back_is_identity(c in -273.15..=3000.0_f64) {
            let point = Temperature::celsius(c).unwrap();
            let back = Temperature::from_f(point.f()).unwrap();
            prop_assert!((back.c() - c).abs() < 1e-10);
        }
    }
}
