//! A value with its unit, as it was read or entered: never converted, never rounded.

use std::fmt;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use units::{Mass, Temperature};

use crate::error::Refusal;

/// Highest pH a reading may have; `science::acid` takes the same range.
pub const MOST_PH: u32 = 14;

/// The unit a value was read in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Grams.
    Gram,
    /// Kilograms.
    Kilogram,
    /// Ounces of weight.
    Ounce,
    /// Pounds.
    Pound,
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
    /// pH.
    Ph,
    /// Seconds of elapsed time.
    Second,
    /// Minutes of elapsed time.
    Minute,
    /// Hours of elapsed time.
    Hour,
    /// Percent; the words say of what.
    Percent,
    /// Pieces.
    Count,
    /// Millilitres.
    Millilitre,
    /// Litres.
    Litre,
    /// Millimetres.
    Millimetre,
}

const UNITS: [(Unit, &str); 15] = [
    (Unit::Gram, "g"),
    (Unit::Kilogram, "kg"),
    (Unit::Ounce, "oz"),
    (Unit::Pound, "lb"),
    (Unit::Celsius, "°C"),
    (Unit::Fahrenheit, "°F"),
    (Unit::Ph, "pH"),
    (Unit::Second, "s"),
    (Unit::Minute, "min"),
    (Unit::Hour, "h"),
    (Unit::Percent, "%"),
    (Unit::Count, "pieces"),
    (Unit::Millilitre, "mL"),
    (Unit::Litre, "L"),
    (Unit::Millimetre, "mm"),
];

impl Unit {
    /// The unit a text names, exactly as [`Unit::as_str`] writes it.
    #[must_use]
    pub fn named(text: &str) -> Option<Self> {
        UNITS
            .iter()
            .find(|(_, name)| *name == text)
            .map(|(unit, _)| *unit)
    }

    /// How it is written and hashed.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        UNITS
            .iter()
            .find(|(unit, _)| *unit == self)
            .map_or("", |(_, name)| name)
    }

    pub(crate) fn is_mass(self) -> bool {
        matches!(
            self,
            Self::Gram | Self::Kilogram | Self::Ounce | Self::Pound
        )
    }

    pub(crate) fn is_temperature(self) -> bool {
        matches!(self, Self::Celsius | Self::Fahrenheit)
    }

    pub(crate) fn is_elapsed(self) -> bool {
        matches!(self, Self::Second | Self::Minute | Self::Hour)
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// A value with its unit. The decimals stay as entered: 5.20 kg is not 5.2 kg, the scale showed more.
///
/// # Valid range
/// A weight from 0 to [`Mass::MOST_G`], a temperature from absolute zero to [`Temperature::MOST_C`],
/// pH from 0 to [`MOST_PH`], anything else from 0. Out of range is refused, never moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reading {
    number: Decimal,
    unit: Unit,
}

impl Reading {
    /// A reading.
    ///
    /// # Errors
    /// When the number cannot be one of that unit.
    pub fn new(number: Decimal, unit: Unit) -> Result<Self, Refusal> {
        let n = number.to_f64().unwrap_or(f64::NAN);
        let (what, fits, expected) = match unit {
            Unit::Gram => ("a weight", Mass::grams(n).is_ok(), "0 g or more"),
            Unit::Kilogram => ("a weight", Mass::kilograms(n).is_ok(), "0 kg or more"),
            Unit::Ounce => ("a weight", Mass::ounces(n).is_ok(), "0 oz or more"),
            Unit::Pound => ("a weight", Mass::pounds(n).is_ok(), "0 lb or more"),
            Unit::Celsius => (
                "a temperature",
                Temperature::celsius(n).is_ok(),
                "−273.15 to 3,000 °C",
            ),
            Unit::Fahrenheit => (
                "a temperature",
                Temperature::from_f(n).is_ok(),
                "−459.67 to 5,432 °F",
            ),
            Unit::Ph => (
                "a pH",
                number >= Decimal::ZERO && number <= Decimal::from(MOST_PH),
                "0 to 14",
            ),
            _ => ("a value", number >= Decimal::ZERO, "0 or more"),
        };
        if !fits {
            return Err(Refusal {
                what,
                found: format!("{number} {unit}"),
                expected: expected.to_owned(),
                do_now: "read it again and mind the unit",
            });
        }
        Ok(Self { number, unit })
    }

    /// The number as entered.
    #[must_use]
    pub fn number(self) -> Decimal {
        self.number
    }

    /// The unit as entered.
    #[must_use]
    pub fn unit(self) -> Unit {
        self.unit
    }

    pub(crate) fn stored(number: &str, unit: &str) -> Option<Self> {
        let number = Decimal::from_str_exact(number).ok()?;
        Unit::named(unit).map(|unit| Self { number, unit })
    }
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.number, self.unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, unit: Unit) -> Result<Reading, Refusal> {
        Reading::new(text.parse().unwrap(), unit)
    }

    #[test]
    fn decimals_stay_as_entered() {
        let fine = read("5.20", Unit::Kilogram).unwrap();
        assert_eq!(fine.to_string(), "5.20 kg");
        let back = Reading::stored(&fine.number().to_string(), fine.unit().as_str()).unwrap();
        assert_eq!(back.to_string(), "5.20 kg");
    }

    #[test]
    fn what_cannot_be_is_refused() {
        for (text, unit) in [
            ("-0.1", Unit::Gram),
            ("-273.16", Unit::Celsius),
            ("-460", Unit::Fahrenheit),
            ("14.01", Unit::Ph),
            ("-0.01", Unit::Ph),
            ("-1", Unit::Minute),
        ] {
            assert!(read(text, unit).is_err(), "{text} {unit}");
        }
        assert!(read("-18", Unit::Celsius).is_ok());
        assert!(read("0", Unit::Gram).is_ok());
    }

    #[test]
    fn every_unit_is_read_as_it_is_written() {
        for (unit, name) in UNITS {
            assert_eq!(Unit::named(name), Some(unit));
            assert_eq!(unit.as_str(), name);
        }
    }
}
