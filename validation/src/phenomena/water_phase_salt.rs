//! Salt in the water phase.

use ::units::{Base, Fraction};
use science::transport::{Flesh, equilibrium_cure};
use science::water_phase_salt::from_sample;

use super::{DIGITS_OF_THE_TABLE, Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "water_phase_salt",
    title: "Water-phase salt",
    shows: "The arithmetic. That a mean stands for the thickest place it does not show.",
    tables: &[
        table!("water_phase_salt", "reference.csv"),
        table!("water_phase_salt", "case.csv"),
    ],
    answer,
    tolerance: |case| {
        if case.source.starts_with("house") {
            Tolerance::part(2e-5, "published to five digits")
        } else {
            DIGITS_OF_THE_TABLE
        }
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let of = |pct: f64| -> Result<Fraction, Unanswered> {
        Ok(Fraction::percent(pct, Base::new("sample")?)?)
    };
    match case.quantity.as_str() {
        // Salt per 100 g and water of the food, both of the green weight.
        "equilibrium_cure" => {
            let flesh = Flesh::with_water(&of(case.number("water")? * 100.0)?)?;
            let cure = equilibrium_cure(&of(case.number("salt_per_100")?)?, &flesh)?;
            Ok(cure.water_phase.pct())
        }
        "sample" => Ok(from_sample(&of(case.number("salt")?)?, &of(case.number("water")?)?)?.pct()),
        _ => case.unknown(),
    }
}
