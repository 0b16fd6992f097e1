//! Water activity of brines, sugars and one measured product.

use ::units::Mass;
use science::brine::Strength;
use science::water_activity::{SALT_G_PER_MOL, Solute, salt, sugar};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// A handbook of osmotic coefficients and a Pitzer fit to the same family of measurements lie this close.
const SAME_FAMILY: Tolerance = Tolerance::difference(
    0.0005,
    "both rest on the same family of sodium chloride measurements; an instrument reads to 0.003",
);

/// The formula is one of 25 °C.
const OTHER_TEMPERATURE: Tolerance = Tolerance::difference(
    0.005,
    "ours is the value at 25 °C whatever the temperature; brine moves less than this down to 0 °C",
);

/// An osmotic coefficient worked back from a water activity carries its error divided by 2 m M.
const OSMOTIC: Tolerance = Tolerance::part(
    0.006,
    "worked back from the water activity; the handbook and the fit differ by up to 0.5 % at 6 mol/kg",
);

/// The same remembered constants worked a second time; the house table keeps five decimals.
const FIVE_DECIMALS: Tolerance = Tolerance::difference(
    1e-5,
    "one formula worked twice; the coarser table keeps five decimals",
);

/// A product was salted, smoked and stored; the recipe's salt and raw water stand for it.
const PRODUCT: Tolerance = Tolerance::difference(
    0.01,
    "recipe salt and raw water stand for a smoked product; published to two decimals, SD 0.006",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "water_activity",
    title: "Water activity",
    shows: "Brine agrees with a geochemistry program. Food is more than brine: one product value was readable.",
    tables: &[
        table!("water_activity", "published.csv"),
        table!("water_activity", "reference.csv"),
        table!("water_activity", "case.csv"),
    ],
    answer,
    tolerance,
};

fn tolerance(case: &Case) -> Tolerance {
    let elsewhere = case.text("celsius").is_some_and(|celsius| celsius != "25");
    match case.quantity.as_str() {
        "osmotic" => OSMOTIC,
        "norrish" => FIVE_DECIMALS,
        "product" => PRODUCT,
        _ if elsewhere => OTHER_TEMPERATURE,
        _ => SAME_FAMILY,
    }
}

fn answer(case: &Case) -> Result<f64, Unanswered> {
    // The way through grams comes back a last binary digit above the 6 mol/kg where the formula ends.
    let molal = |m: f64| -> Result<f64, Unanswered> {
        let m = m * (1.0 - 1e-15);
        Ok(salt(Strength::from_g_per_kg_water(m * SALT_G_PER_MOL)?)?.aw())
    };
    Ok(match case.quantity.as_str() {
        "nacl" => molal(case.number("molality")?)?,
        "osmotic" => {
            // phi = −ln aw ÷ (2 m M), M the kilograms of a mole of water.
            let m = case.number("molality")?;
            -molal(m)?.ln() / (2.0 * m * 0.018_015_3)
        }
        "water_phase_salt" => salt(Strength::percent(case.number("percent")?)?)?.aw(),
        "product" => {
            let salted = Mass::grams(case.number("salt_g_per_kg")?)?;
            let water = Mass::grams(case.number("water_pct")? * 10.0)?;
            salt(Strength::of(salted, water)?)?.aw()
        }
        "norrish" => {
            let solute = match case.text("solute").unwrap_or_default() {
                "sucrose" => Solute::Sucrose,
                "glucose" => Solute::Glucose,
                "glycerol" => Solute::Glycerol,
                "lactose" => Solute::Lactose,
                _ => return case.unknown(),
            };
            let pct = case.number("percent")?;
            sugar(solute, Mass::grams(pct)?, Mass::grams(100.0 - pct)?)?.aw()
        }
        _ => return case.unknown(),
    })
}
