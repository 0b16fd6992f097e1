//! What a read amount can be.

use crate::{Count, Elapsed, Length, Mass, Ppm, QuantityError, Temperature, Volume, numerals};
use core::fmt;

/// Whose cup, pint or spoon a bare one is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Customary {
    /// United States: cup 236.59 mL, pint 473.18 mL.
    Us,
    /// Metric kitchens: cup 250 mL, tablespoon 15 mL; no pint, quart or gallon.
    Metric,
    /// Imperial: cup 284.13 mL, pint 568.26 mL, tablespoon 15 mL.
    Imperial,
}

/// An amount as a cook wrote it, made exact where it can be.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// A weight.
    Mass(Mass),
    /// A volume.
    Volume(Volume),
    /// A length.
    Length(Length),
    /// A point on a thermometer.
    Temperature(Temperature),
    /// A percentage whose base is not in the text; zero or more.
    Percent(f64),
    /// Parts per million by weight.
    Ppm(Ppm),
    /// A length of time.
    Elapsed(Elapsed),
    /// Things counted.
    Count(Count),
    /// An amount without a weight: a pinch, to taste.
    Vague {
        /// The word written.
        word: String,
    },
    /// From one amount to another of the same kind.
    Range {
        /// The smaller end.
        low: Box<Amount>,
        /// The larger end, not below `low`.
        high: Box<Amount>,
    },
}

/// The largest weight read, in grams: a thousand tonnes.
pub(crate) const MOST_G: f64 = 1e9;
/// The largest volume read, in millilitres.
pub(crate) const MOST_ML: f64 = 1e9;
/// The longest length read, in millimetres: ten kilometres.
pub(crate) const MOST_MM: f64 = 1e7;
/// The longest time read, in seconds: ten years.
pub(crate) const MOST_S: f64 = 10.0 * 365.0 * 86_400.0;
/// The largest percentage read.
pub(crate) const MOST_PCT: f64 = 100_000.0;
/// The largest count read.
pub(crate) const MOST_COUNT: f64 = 1e6;

impl Amount {
    /// What kind of amount it is, with its article: "a weight".
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Mass(_) => "a weight",
            Self::Volume(_) => "a volume",
            Self::Length(_) => "a length",
            Self::Temperature(_) => "a temperature",
            Self::Percent(_) => "a percentage",
            Self::Ppm(_) => "parts per million",
            Self::Elapsed(_) => "a time",
            Self::Count(_) => "a count",
            Self::Vague { .. } => "an amount without a weight",
            Self::Range { .. } => "a range",
        }
    }

    /// Whether `self` is at most `other`; `None` when they are not of one kind.
    pub(crate) fn at_most(&self, other: &Self) -> Option<bool> {
        match (self, other) {
            (Self::Mass(a), Self::Mass(b)) => Some(a <= b),
            (Self::Volume(a), Self::Volume(b)) => Some(a <= b),
            (Self::Length(a), Self::Length(b)) => Some(a <= b),
            (Self::Temperature(a), Self::Temperature(b)) => Some(a <= b),
            (Self::Percent(a), Self::Percent(b)) => Some(a <= b),
            (Self::Ppm(a), Self::Ppm(b)) => Some(a <= b),
            (Self::Elapsed(a), Self::Elapsed(b)) => Some(a <= b),
            (Self::Count(a), Self::Count(b)) => a.partial_cmp(b).map(core::cmp::Ordering::is_le),
            _ => None,
        }
    }
}

/// The kind and scale of a unit: what one of it is worth.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Worth {
    /// So many grams.
    Grams(f64),
    /// So many millilitres.
    Millilitres(f64),
    /// So many millimetres.
    Millimetres(f64),
    /// So many seconds.
    Seconds(f64),
    /// A point in °C.
    Celsius,
    /// A point in °F.
    Fahrenheit,
    /// Percent.
    Percent,
    /// Parts per million.
    Ppm,
    /// Things counted, by the word for one.
    Each(String),
}

impl Worth {
    /// What one is worth in the unit of its kind, when amounts of it add up.
    pub(crate) fn adds_up(&self) -> Option<(u8, f64)> {
        match self {
            Self::Grams(one) => Some((0, *one)),
            Self::Millilitres(one) => Some((1, *one)),
            Self::Millimetres(one) => Some((2, *one)),
            Self::Seconds(one) => Some((3, *one)),
            _ => None,
        }
    }

    /// The amount that `n` of this come to.
    pub(crate) fn amount(&self, n: f64) -> Result<Amount, QuantityError> {
        use crate::error::within;
        Ok(match self {
            Self::Grams(one) => {
                Amount::Mass(Mass::grams(within("weight", "g", n * one, 0.0, MOST_G)?)?)
            }
            Self::Millilitres(one) => Amount::Volume(Volume::millilitres(within(
                "volume",
                "mL",
                n * one,
                0.0,
                MOST_ML,
            )?)?),
            Self::Millimetres(one) => Amount::Length(Length::millimetres(within(
                "length",
                "mm",
                n * one,
                0.0,
                MOST_MM,
            )?)?),
            Self::Seconds(one) => {
                let seconds = within("time", "s", n * one, 0.0, MOST_S)?;
                Amount::Elapsed(Elapsed::from_minutes(seconds / 60.0)?)
            }
            Self::Celsius => Amount::Temperature(Temperature::celsius(n)?),
            Self::Fahrenheit => Amount::Temperature(Temperature::from_f(n)?),
            Self::Percent => Amount::Percent(within("percentage", "%", n, 0.0, MOST_PCT)?),
            Self::Ppm => Amount::Ppm(Ppm::new(n)?),
            Self::Each(word) => Amount::Count(Count::new(
                within("count", "pieces", n, 0.0, MOST_COUNT)?,
                word,
            )?),
        })
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Mass(mass) => mass.fmt(f),
            Self::Volume(volume) => volume.fmt(f),
            Self::Length(length) => length.fmt(f),
            Self::Temperature(point) => point.fmt(f),
            Self::Percent(pct) => write!(f, "{} %", numerals::plain(*pct, 0, 4)),
            Self::Ppm(ppm) => ppm.fmt(f),
            Self::Elapsed(time) => time.fmt(f),
            Self::Count(count) => count.fmt(f),
            Self::Vague { word } => f.write_str(word),
            Self::Range { low, high } => write!(f, "{low} to {high}"),
        }
    }
}
