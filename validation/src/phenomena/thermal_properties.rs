//! Density, heat and conductivity of a food from what it is made of.

use ::units::Temperature;
use science::thermal_properties::{Food, Percent};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// One set of polynomials worked twice.
const SAME_POLYNOMIALS: Tolerance = Tolerance::part(1e-10, "one set of polynomials worked twice");

/// The house table prints conductivities to four decimals.
const FOUR_DIGITS: Tolerance = Tolerance::part(
    1.2e-4,
    "one set of polynomials worked twice; printed to four digits",
);

/// Choi and Okos's water against the equation of state of water.
const WATER: Tolerance = Tolerance::part(
    0.015,
    "the polynomial of water against its equation of state: the form is of second degree over 190 K",
);

/// A handbook works its specific heats by a formula of its own, or from measurements with a few percent.
const HANDBOOK: Tolerance = Tolerance::part(
    0.05,
    "handbook values by another formula or measured, no temperature stated; such models claim 5 %",
);

/// Measured diffusivities of foods of one name spread by a tenth and more.
const MEASURED: Tolerance = Tolerance::part(
    0.12,
    "measured foods of one name differ by a tenth; only their water is published, the rest is assumed",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "thermal_properties",
    title: "Thermal properties",
    shows: "The polynomials are worked right, the water in them agrees with the equation of state, and whole foods with handbook values. Measured diffusivities lie 8 to 16 % below ours in four foods of five: where that holds, a core takes longer than we say.",
    tables: &[
        table!("thermal_properties", "published.csv"),
        table!("thermal_properties", "reference.csv"),
        table!("thermal_properties", "case.csv"),
    ],
    answer,
    tolerance,
};

fn tolerance(case: &Case) -> Tolerance {
    let published = case.text("food").is_some();
    match case.quantity.as_str() {
        _ if case.source.starts_with("CoolProp") => WATER,
        "diffusivity" if published => MEASURED,
        _ if published => HANDBOOK,
        _ if case.source.starts_with("house") => FOUR_DIGITS,
        _ => SAME_POLYNOMIALS,
    }
}

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let pct = |name: &str| -> Result<f64, Unanswered> { Ok(case.number_or(name, 0.0)? * 100.0) };
    let food = Food::new(Percent {
        water: pct("water")?,
        protein: pct("protein")?,
        fat: pct("fat")?,
        carbohydrate: pct("carbohydrate")?,
        fibre: pct("fibre")?,
        ash: pct("ash")?,
    })?;
    let found = food.at(Temperature::celsius(case.number("celsius")?)?)?;
    Ok(match case.quantity.as_str() {
        "density" => found.density.g_per_ml() * 1000.0,
        "specific_heat" => found.specific_heat.value(),
        "conductivity" => found.conductivity.value(),
        "diffusivity" => found.diffusivity()?.value(),
        _ => return case.unknown(),
    })
}
