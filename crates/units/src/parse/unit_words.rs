//! The words cooks write for units, and what each is worth.

use super::amount::{Customary, Worth};
use super::nearest::nearest;
use crate::factors as f;

/// A kitchen measure whose size depends on whose kitchen it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Measure {
    Teaspoon,
    Tablespoon,
    FluidOunce,
    Cup,
    Pint,
    Quart,
    Gallon,
}

impl Measure {
    fn name(self) -> &'static str {
        match self {
            Self::Teaspoon => "teaspoon",
            Self::Tablespoon => "tablespoon",
            Self::FluidOunce => "fluid ounce",
            Self::Cup => "cup",
            Self::Pint => "pint",
            Self::Quart => "quart",
            Self::Gallon => "gallon",
        }
    }

    /// Millilitres, or `None` where that kitchen has no such measure.
    fn millilitres(self, whose: Whose) -> Option<f64> {
        Some(match (whose, self) {
            (Whose::Us, Self::Teaspoon) => f::ML_PER_US_TEASPOON,
            (Whose::Us, Self::Tablespoon) => f::ML_PER_US_TABLESPOON,
            (Whose::Us, Self::FluidOunce) => f::ML_PER_US_FLUID_OUNCE,
            (Whose::Us, Self::Cup) => f::ML_PER_US_CUP,
            (Whose::Us, Self::Pint) => f::ML_PER_US_PINT,
            (Whose::Us, Self::Quart) => f::ML_PER_US_QUART,
            (Whose::Us, Self::Gallon) => f::ML_PER_US_GALLON,
            (Whose::Imperial, Self::Teaspoon) => f::ML_PER_BRITISH_TEASPOON,
            (Whose::Imperial, Self::Tablespoon) => f::ML_PER_BRITISH_TABLESPOON,
            (Whose::Imperial, Self::FluidOunce) => f::ML_PER_IMPERIAL_FLUID_OUNCE,
            (Whose::Imperial, Self::Cup) => f::ML_PER_IMPERIAL_CUP,
            (Whose::Imperial, Self::Pint) => f::ML_PER_IMPERIAL_PINT,
            (Whose::Imperial, Self::Quart) => f::ML_PER_IMPERIAL_QUART,
            (Whose::Imperial, Self::Gallon) => f::ML_PER_IMPERIAL_GALLON,
            (Whose::Metric, Self::Teaspoon) => f::ML_PER_METRIC_TEASPOON,
            (Whose::Metric, Self::Tablespoon) => f::ML_PER_METRIC_TABLESPOON,
            (Whose::Metric, Self::Cup) => f::ML_PER_METRIC_CUP,
            (Whose::Australian, Self::Tablespoon) => f::ML_PER_AUSTRALIAN_TABLESPOON,
            (Whose::Metric | Whose::Australian, _) => return None,
        })
    }
}

/// Whose measures, said in the text or by the book.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Whose {
    Us,
    Metric,
    Imperial,
    Australian,
}

impl Whose {
    fn said(word: &str) -> Option<Self> {
        Some(match word.to_lowercase().as_str() {
            "us" | "u.s" | "american" => Self::Us,
            "metric" => Self::Metric,
            "imperial" | "uk" | "u.k" | "british" => Self::Imperial,
            "australian" => Self::Australian,
            _ => return None,
        })
    }
}

impl From<Customary> for Whose {
    fn from(customary: Customary) -> Self {
        match customary {
            Customary::Us => Self::Us,
            Customary::Metric => Self::Metric,
            Customary::Imperial => Self::Imperial,
        }
    }
}

/// Why a word is no unit.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum NoUnit {
    /// It stands for two units.
    TwoMeanings { of: &'static str },
    /// That kitchen has no such measure.
    NoSuchMeasure {
        measure: &'static str,
        whose: &'static str,
    },
    /// It is not known.
    Unknown { near: Vec<&'static str> },
}

const MEASURES: &[(&str, Measure)] = &[
    ("tsp", Measure::Teaspoon),
    ("tsps", Measure::Teaspoon),
    ("teaspoon", Measure::Teaspoon),
    ("teaspoons", Measure::Teaspoon),
    ("tbsp", Measure::Tablespoon),
    ("tbsps", Measure::Tablespoon),
    ("tbs", Measure::Tablespoon),
    ("tablespoon", Measure::Tablespoon),
    ("tablespoons", Measure::Tablespoon),
    ("floz", Measure::FluidOunce),
    ("cup", Measure::Cup),
    ("cups", Measure::Cup),
    ("pint", Measure::Pint),
    ("pints", Measure::Pint),
    ("pt", Measure::Pint),
    ("qt", Measure::Quart),
    ("quart", Measure::Quart),
    ("quarts", Measure::Quart),
    ("gal", Measure::Gallon),
    ("gallon", Measure::Gallon),
    ("gallons", Measure::Gallon),
];

const PLAIN: &[(&str, Worth)] = &[
    ("g", Worth::Grams(1.0)),
    ("gm", Worth::Grams(1.0)),
    ("gram", Worth::Grams(1.0)),
    ("grams", Worth::Grams(1.0)),
    ("gramme", Worth::Grams(1.0)),
    ("grammes", Worth::Grams(1.0)),
    ("kg", Worth::Grams(f::G_PER_KG)),
    ("kgs", Worth::Grams(f::G_PER_KG)),
    ("kilo", Worth::Grams(f::G_PER_KG)),
    ("kilos", Worth::Grams(f::G_PER_KG)),
    ("kilogram", Worth::Grams(f::G_PER_KG)),
    ("kilograms", Worth::Grams(f::G_PER_KG)),
    ("mg", Worth::Grams(0.001)),
    ("milligram", Worth::Grams(0.001)),
    ("milligrams", Worth::Grams(0.001)),
    ("lb", Worth::Grams(f::G_PER_LB)),
    ("lbs", Worth::Grams(f::G_PER_LB)),
    ("pound", Worth::Grams(f::G_PER_LB)),
    ("pounds", Worth::Grams(f::G_PER_LB)),
    ("oz", Worth::Grams(f::G_PER_OZ)),
    ("ounce", Worth::Grams(f::G_PER_OZ)),
    ("ounces", Worth::Grams(f::G_PER_OZ)),
    ("ml", Worth::Millilitres(1.0)),
    ("millilitre", Worth::Millilitres(1.0)),
    ("millilitres", Worth::Millilitres(1.0)),
    ("milliliter", Worth::Millilitres(1.0)),
    ("milliliters", Worth::Millilitres(1.0)),
    ("cl", Worth::Millilitres(10.0)),
    ("dl", Worth::Millilitres(100.0)),
    ("l", Worth::Millilitres(f::ML_PER_L)),
    ("litre", Worth::Millilitres(f::ML_PER_L)),
    ("litres", Worth::Millilitres(f::ML_PER_L)),
    ("liter", Worth::Millilitres(f::ML_PER_L)),
    ("liters", Worth::Millilitres(f::ML_PER_L)),
    ("mm", Worth::Millimetres(1.0)),
    ("millimetre", Worth::Millimetres(1.0)),
    ("millimetres", Worth::Millimetres(1.0)),
    ("millimeter", Worth::Millimetres(1.0)),
    ("millimeters", Worth::Millimetres(1.0)),
    ("cm", Worth::Millimetres(10.0)),
    ("centimetre", Worth::Millimetres(10.0)),
    ("centimetres", Worth::Millimetres(10.0)),
    ("centimeter", Worth::Millimetres(10.0)),
    ("centimeters", Worth::Millimetres(10.0)),
    ("metre", Worth::Millimetres(1000.0)),
    ("metres", Worth::Millimetres(1000.0)),
    ("meter", Worth::Millimetres(1000.0)),
    ("meters", Worth::Millimetres(1000.0)),
    ("in", Worth::Millimetres(f::MM_PER_INCH)),
    ("inch", Worth::Millimetres(f::MM_PER_INCH)),
    ("inches", Worth::Millimetres(f::MM_PER_INCH)),
    ("\"", Worth::Millimetres(f::MM_PER_INCH)),
    ("″", Worth::Millimetres(f::MM_PER_INCH)),
    ("”", Worth::Millimetres(f::MM_PER_INCH)),
    ("ft", Worth::Millimetres(f::MM_PER_FOOT)),
    ("foot", Worth::Millimetres(f::MM_PER_FOOT)),
    ("feet", Worth::Millimetres(f::MM_PER_FOOT)),
    ("s", Worth::Seconds(1.0)),
    ("sec", Worth::Seconds(1.0)),
    ("secs", Worth::Seconds(1.0)),
    ("second", Worth::Seconds(1.0)),
    ("seconds", Worth::Seconds(1.0)),
    ("min", Worth::Seconds(60.0)),
    ("mins", Worth::Seconds(60.0)),
    ("minute", Worth::Seconds(60.0)),
    ("minutes", Worth::Seconds(60.0)),
    ("h", Worth::Seconds(3600.0)),
    ("hr", Worth::Seconds(3600.0)),
    ("hrs", Worth::Seconds(3600.0)),
    ("hour", Worth::Seconds(3600.0)),
    ("hours", Worth::Seconds(3600.0)),
    ("d", Worth::Seconds(86_400.0)),
    ("day", Worth::Seconds(86_400.0)),
    ("days", Worth::Seconds(86_400.0)),
    ("week", Worth::Seconds(604_800.0)),
    ("weeks", Worth::Seconds(604_800.0)),
    ("°c", Worth::Celsius),
    ("ºc", Worth::Celsius),
    ("℃", Worth::Celsius),
    ("celsius", Worth::Celsius),
    ("°f", Worth::Fahrenheit),
    ("ºf", Worth::Fahrenheit),
    ("℉", Worth::Fahrenheit),
    ("f", Worth::Fahrenheit),
    ("fahrenheit", Worth::Fahrenheit),
    ("%", Worth::Percent),
    ("percent", Worth::Percent),
    ("pct", Worth::Percent),
    ("ppm", Worth::Ppm),
    ("mg/kg", Worth::Ppm),
];

/// Words that stand for two units, exactly as written.
const TWO_MEANINGS: &[(&str, &str)] = &[
    ("c", "cup or °C"),
    ("T", "tablespoon or tonne; a T is often misread as t"),
    ("t", "teaspoon or tonne; a t is often misread as T"),
    ("m", "min or metre"),
    ("M", "min or metre"),
    ("gr", "gram or grain"),
    ("°", "°C or °F"),
    ("º", "°C or °F"),
    ("degree", "°C or °F"),
    ("degrees", "°C or °F"),
    ("deg", "°C or °F"),
];

/// Units to name when nothing is near.
pub(crate) const COMMON_UNITS: &str =
    "g, kg, lb, oz, mL, L, cup, tbsp, tsp, mm, °C, °F, min, h, d, % or ppm";

/// The unit at the head of `words` and how many words it takes.
pub(crate) fn leading(words: &[&str], customary: Customary) -> Result<(Worth, usize), NoUnit> {
    let Some(first) = words.first() else {
        return Err(NoUnit::Unknown { near: Vec::new() });
    };
    if let Some(whose) = Whose::said(first) {
        let rest = words.get(1..).unwrap_or(&[]);
        return match measure(rest) {
            Some((measure, taken)) => Ok((sized(measure, whose)?, taken + 1)),
            None => Err(NoUnit::Unknown {
                near: vec!["US cup", "metric cup", "imperial pint"],
            }),
        };
    }
    if let Some((measure, taken)) = measure(words) {
        return Ok((sized(measure, customary.into())?, taken));
    }
    let second = words.get(1).map(|word| word.to_lowercase());
    let is_degree = matches!(
        first.to_lowercase().as_str(),
        "°" | "º" | "degree" | "degrees" | "deg"
    );
    match second.as_deref() {
        Some("c" | "celsius") if is_degree => return Ok((Worth::Celsius, 2)),
        Some("f" | "fahrenheit") if is_degree => return Ok((Worth::Fahrenheit, 2)),
        Some("cent") if first.eq_ignore_ascii_case("per") => return Ok((Worth::Percent, 2)),
        _ => {}
    }
    // A capital C after a number is always Celsius; a small one may be a cup.
    if *first == "C" {
        return Ok((Worth::Celsius, 1));
    }
    if let Some((_, of)) = TWO_MEANINGS.iter().find(|(word, _)| word == first) {
        return Err(NoUnit::TwoMeanings { of });
    }
    let lower = first.to_lowercase();
    if let Some((_, worth)) = PLAIN.iter().find(|(word, _)| *word == lower) {
        return Ok((worth.clone(), 1));
    }
    let known = PLAIN
        .iter()
        .map(|(word, _)| *word)
        .chain(MEASURES.iter().map(|(word, _)| *word));
    Err(NoUnit::Unknown {
        near: nearest(first, known.chain(super::count_words::names())),
    })
}

fn measure(words: &[&str]) -> Option<(Measure, usize)> {
    let first = words.first()?.to_lowercase();
    let second = words.get(1).map(|word| word.to_lowercase());
    let is_ounce = matches!(second.as_deref(), Some("oz" | "ounce" | "ounces"));
    if matches!(first.as_str(), "fl" | "fluid") && is_ounce {
        return Some((Measure::FluidOunce, 2));
    }
    MEASURES
        .iter()
        .find(|(word, _)| *word == first)
        .map(|(_, measure)| (*measure, 1))
}

fn sized(measure: Measure, whose: Whose) -> Result<Worth, NoUnit> {
    measure
        .millilitres(whose)
        .map(Worth::Millilitres)
        .ok_or(NoUnit::NoSuchMeasure {
            measure: measure.name(),
            whose: if whose == Whose::Australian {
                "Australian"
            } else {
                "metric"
            },
        })
}
