//! Unit factors: the tables of UCUM, and a units library at odd amounts.

use ::units::{Length, Mass, Temperature, TemperatureDifference, factors as f};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Factors are exact by definition; what is left is rounding in the last place.
const EXACT: Tolerance = Tolerance::part(
    1e-11,
    "exact by definition; the tables keep thirteen digits",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "units",
    title: "Units",
    shows: "Every factor the kitchen converts with is the exact one.",
    tables: &[
        table!("units", "published.csv"),
        table!("units", "case.csv"),
    ],
    answer,
    tolerance: |_| EXACT,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    match case.quantity.as_str() {
        "factor" => factor(case),
        "convert" => convert(case),
        "fahrenheit" => Ok(Temperature::from_f(case.number("f")?)?.c()),
        "fahrenheit_span" => Ok(TemperatureDifference::from_f_degrees(case.number("f")?)?.k()),
        _ => case.unknown(),
    }
}

/// Millilitres or grams of one of a unit.
fn factor(case: &Case) -> Result<f64, Unanswered> {
    Ok(match case.text("of").unwrap_or_default() {
        "US_gallon" | "gallon" => f::ML_PER_US_GALLON,
        "US_quart" | "quart" => f::ML_PER_US_QUART,
        "US_pint" | "pint" => f::ML_PER_US_PINT,
        "US_fluid_ounce" | "fluid_ounce" => f::ML_PER_US_FLUID_OUNCE,
        "US_cup" | "cup" => f::ML_PER_US_CUP,
        "US_tablespoon" | "tablespoon" => f::ML_PER_US_TABLESPOON,
        "US_teaspoon" | "teaspoon" => f::ML_PER_US_TEASPOON,
        "metric_cup" => f::ML_PER_METRIC_CUP,
        "imperial_gallon" => f::ML_PER_IMPERIAL_GALLON,
        "imperial_quart" => f::ML_PER_IMPERIAL_QUART,
        "imperial_pint" => f::ML_PER_IMPERIAL_PINT,
        "imperial_fluid_ounce" => f::ML_PER_IMPERIAL_FLUID_OUNCE,
        "imperial_cup" => f::ML_PER_IMPERIAL_CUP,
        "British_tablespoon" => f::ML_PER_BRITISH_TABLESPOON,
        "Australian_tablespoon" => f::ML_PER_AUSTRALIAN_TABLESPOON,
        "pound_avoirdupois" => f::G_PER_LB,
        "ounce_avoirdupois" => f::G_PER_OZ,
        _ => return case.unknown(),
    })
}

fn convert(case: &Case) -> Result<f64, Unanswered> {
    let amount = case.number("amount")?;
    Ok(match case.text("of").unwrap_or_default() {
        "pound" => Mass::pounds(amount)?.g(),
        "ounce" => Mass::ounces(amount)?.g(),
        "kilogram" => Mass::kilograms(amount)?.lb(),
        "gram" => Mass::grams(amount)?.oz(),
        "inch" => Length::from_inches(amount)?.mm(),
        "foot" => amount * f::MM_PER_FOOT,
        "millimeter" => Length::millimetres(amount)?.inches(),
        _ => amount * factor(case)?,
    })
}
