//! Ingoing nitrite: figures people published for named amounts of cure.

use ::units::Mass;
use science::cure::CuringSalt;
use science::nitrite::{Proportion, dry, pumped};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Published figures are rounded: 0.70 g, 96 ppm; 0.25 oz to 7.1 g; 1.45 g a pound.
const ROUNDED: Tolerance = Tolerance::part(0.01, "amounts and figures published with two digits");

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "nitrite",
    title: "Ingoing nitrite",
    shows: "Dry and pumped nitrite agree with worked figures of others. The limits are not judged here.",
    tables: &[table!("nitrite", "published.csv")],
    answer,
    tolerance: |_| ROUNDED,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    // Pure nitrite is no curing salt and is refused; the same nitrite as ten times a tenth is not.
    let share = case.number("share")?;
    let (share, times) = if share > 10.0 {
        (share / 10.0, 10.0)
    } else {
        (share, 1.0)
    };
    let cure = Mass::grams(case.number("grams")? * times)?;
    let kind = CuringSalt::percent(share, 0.0)?;
    let grams = |name: &str| -> Result<Mass, Unanswered> { Ok(Mass::grams(case.number(name)?)?) };
    Ok(match case.quantity.as_str() {
        "dry" => dry(cure, kind, grams("green_g")?)?.ppm(),
        "pumped" => {
            let pump = Proportion::new(case.number("pump")?)?;
            pumped(cure, kind, grams("pickle_g")?, pump)?.ppm()
        }
        "salt_of_cure" => cure.scaled(kind.salt_ratio())?.g(),
        _ => return case.unknown(),
    })
}
