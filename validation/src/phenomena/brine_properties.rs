//! Brine as a liquid: density, freezing, heat, how much salt water holds.

use ::units::{Mass, Temperature};
use science::brine::Strength;
use science::brine_properties::{
    Instrument, density, freezing_point, heat_capacity_kj_per_kg_k, salt_in_a_litre, salt_in_water,
    specific_gravity_60f, strength_from_reading,
};
use science::water_activity::SALT_G_PER_MOL;

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Two programs and two handbooks of density.
const DENSITY: Tolerance = Tolerance::part(
    0.002,
    "programs and handbooks of brine density differ by 0.1 to 0.15 % among themselves; a hydrometer reads 0.1 %",
);

/// A published table without a stated temperature.
const TABLE_WITHOUT_TEMPERATURE: Tolerance = Tolerance::part(
    0.006,
    "the published table states no temperature and rounds its percents",
);

/// Freezing of weak brines.
const FREEZING_TO_10: Tolerance =
    Tolerance::difference(0.1, "three programs differ by 0.09 °C at 10 %");

/// Freezing of strong ones.
const FREEZING_TO_20: Tolerance =
    Tolerance::difference(0.3, "three programs differ by 0.26 °C at 20 %");

/// Freezing near the eutectic.
const FREEZING_ABOVE_20: Tolerance =
    Tolerance::difference(0.5, "three programs differ by 0.49 °C at 23 %");

/// A rule of thumb in whole degrees.
const RULE_OF_THUMB: Tolerance = Tolerance::difference(
    0.6,
    "a published rule of thumb in whole degrees, alike for weak and strong brines",
);

/// Heat capacity is tabled at 20 °C.
const HEAT_CAPACITY: Tolerance = Tolerance::part(
    0.01,
    "ours is the value at 20 °C whatever the temperature; at 4 °C brine differs by 0.8 %",
);

/// Solubility of a handbook and of a program.
const SOLUBILITY: Tolerance = Tolerance::part(
    0.01,
    "the program dips spuriously near 10 °C and is stated good to 1 %",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "brine_properties",
    title: "Brine as a liquid",
    shows: "Density agrees with two programs it was not taken from and two handbooks; freezing is the middle of three programs, so agreement with them shows the reading of a table.",
    tables: &[
        table!("brine_properties", "published.csv"),
        table!("brine_properties", "reference.csv"),
        table!("brine_properties", "case.csv"),
    ],
    answer,
    tolerance,
};

fn tolerance(case: &Case) -> Tolerance {
    let percent = case.number("percent").unwrap_or(100.0);
    match case.quantity.as_str() {
        "freezing" if percent <= 10.0 => FREEZING_TO_10,
        "freezing" if percent <= 20.0 => FREEZING_TO_20,
        "freezing" => FREEZING_ABOVE_20,
        "specific_heat" => HEAT_CAPACITY,
        "solubility" => SOLUBILITY,
        "salometer_reading" => RULE_OF_THUMB,
        "density_sal" | "salt_per_litre" => TABLE_WITHOUT_TEMPERATURE,
        _ => DENSITY,
    }
}

fn strength(case: &Case) -> Result<Strength, Unanswered> {
    Ok(if case.text("sal").is_some() {
        Strength::from_salometer(case.number("sal")?)?
    } else if case.text("molality").is_some() {
        Strength::from_g_per_kg_water(case.number("molality")? * SALT_G_PER_MOL)?
    } else {
        Strength::percent(case.number("percent")?)?
    })
}

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let temperature = || -> Result<Temperature, Unanswered> {
        Ok(Temperature::celsius(case.number("celsius")?)?)
    };
    Ok(match case.quantity.as_str() {
        "density" | "density_sal" | "density_molal" => {
            density(strength(case)?, temperature()?)?.g_per_ml() * 1000.0
        }
        "salometer_reading" => {
            strength_from_reading(case.number("reading")?, temperature()?, Instrument::At60F)?
                .salometer()
        }
        "specific_gravity" => specific_gravity_60f(strength(case)?)?,
        "salt_per_litre" => salt_in_a_litre(strength(case)?, temperature()?)?.g(),
        "freezing" => freezing_point(strength(case)?)?.mean.c(),
        "specific_heat" => heat_capacity_kj_per_kg_k(strength(case)?)? * 1000.0,
        "solubility" => salt_in_water(Mass::grams(100.0)?, temperature()?)?.g(),
        _ => return case.unknown(),
    })
}
