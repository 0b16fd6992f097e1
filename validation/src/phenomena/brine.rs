//! Brine by weight: salometer, dilution, ice, equilibrium.

use ::units::{Mass, Temperature};
use science::brine::{Strength, dilution, equilibrium_water_phase, ice_split};

use super::{DIGITS_OF_THE_TABLE, Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Published brine tables differ among themselves: per kilogram or per litre of water (0.1 %), percents
/// rounded to two decimals (0.1 %), 26.395 or 26.4 % at saturation.
const BRINE_TABLE: Tolerance = Tolerance::part(
    0.005,
    "per kilogram or per litre of water, percents rounded: published tables differ by this among themselves",
);

/// "About 360", and percents to one decimal.
const ROUNDED: Tolerance = Tolerance::part(0.006, "published rounded to two or three digits");

/// The trade's 80 for the heat of ice against its heat, and a constant heat of water.
const EIGHTY_FOR_ICE: Tolerance = Tolerance::part(
    0.01,
    "the trade's 80 cal/g against the heat of ice and of the water between",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "brine",
    title: "Brine by weight",
    shows: "Salometer degrees, salt by the litre, dilution and ice agree with published brine tables and with an enthalpy balance.",
    tables: &[
        table!("brine", "published.csv"),
        table!("brine", "reference.csv"),
        table!("brine", "case.csv"),
    ],
    answer,
    tolerance,
};

fn tolerance(case: &Case) -> Tolerance {
    match case.quantity.as_str() {
        "salt_per_kg_water" => BRINE_TABLE,
        "percent_of_sal" => ROUNDED,
        "ice" => EIGHTY_FOR_ICE,
        "equilibrium_water_phase" if case.source.starts_with("house") => {
            Tolerance::part(2e-5, "published to five digits")
        }
        _ => DIGITS_OF_THE_TABLE,
    }
}

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let grams = |name: &str| -> Result<Mass, Unanswered> { Ok(Mass::grams(case.number(name)?)?) };
    Ok(match case.quantity.as_str() {
        "salt_per_kg_water" => Strength::from_salometer(case.number("sal")?)?.g_per_kg_water(),
        "percent_of_sal" => Strength::from_salometer(case.number("sal")?)?.pct(),
        "equilibrium_water_phase" => {
            let food = grams("food_g")?.scaled(case.number("food_water")?)?;
            equilibrium_water_phase(grams("salt_g")?, grams("water_g")?, food)?.pct()
        }
        "dilution" => dilution(
            grams("brine_g")?,
            Strength::percent(case.number("percent")?)?,
            Strength::percent(case.number("to")?)?,
        )?
        .g(),
        "ice" => {
            let celsius = |name: &str| -> Result<Temperature, Unanswered> {
                Ok(Temperature::celsius(case.number(name)?)?)
            };
            ice_split(grams("total_g")?, celsius("tap")?, celsius("wanted")?)?
                .ice
                .g()
        }
        _ => return case.unknown(),
    })
}
