//! How much of a dressing is oil, by volume.

use ::units::{Density, Mass};
use science::emulsion::{CLOSEST_PACKING, OilVolume};

use super::{DIGITS_OF_THE_TABLE, Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "emulsion",
    title: "Emulsion",
    shows: "The volume share and the packing of equal spheres. Real drops are of many sizes and give way: the packing is a flag, not a limit.",
    tables: &[
        table!("emulsion", "reference.csv"),
        table!("emulsion", "case.csv"),
    ],
    answer,
    tolerance: |case| {
        if case.source.starts_with("house") {
            Tolerance::difference(6e-5, "published to four decimals")
        } else {
            DIGITS_OF_THE_TABLE
        }
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let grams = |name: &str| -> Result<Mass, Unanswered> { Ok(Mass::grams(case.number(name)?)?) };
    let density = |name: &str| -> Result<Density, Unanswered> {
        Ok(Density::g_per_millilitre(case.number(name)?)?)
    };
    match case.quantity.as_str() {
        "oil_volume_fraction" => Ok(OilVolume::of_weights(
            grams("oil_g")?,
            density("oil_density")?,
            grams("aqueous_g")?,
            density("aqueous_density")?,
        )?
        .share()),
        "closest_packing" => Ok(CLOSEST_PACKING),
        _ => case.unknown(),
    }
}
