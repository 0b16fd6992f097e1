//! The square law of thickness, against the series it comes from.

use ::units::Length;
use science::thickness::time_factor;

use super::{DIGITS_OF_THE_TABLE, Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "thickness",
    title: "Thickness",
    shows: "The square law is what the diffusion series gives, which does not know it.",
    tables: &[
        table!("thickness", "reference.csv"),
        table!("thickness", "case.csv"),
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
    match case.quantity.as_str() {
        "factor" | "series_factor" => Ok(time_factor(
            Length::millimetres(case.number("from")?)?,
            Length::millimetres(case.number("to")?)?,
        )?),
        _ => case.unknown(),
    }
}
