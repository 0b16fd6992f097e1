//! Boiling down.

use ::units::{Elapsed, Length};
use science::evaporation::Rate;

use super::{DIGITS_OF_THE_TABLE, Phenomenon, table};
use crate::case::{Case, Unanswered};

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "evaporation",
    title: "Boiling down",
    shows: "Area, time and units, at rates a burner of that power really reaches (none is refused). The rate of a given pan is measured by the house.",
    tables: &[table!("evaporation", "case.csv")],
    answer,
    tolerance: |_| DIGITS_OF_THE_TABLE,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let rate = Rate::new(case.number("rate")?)?;
    let time = Elapsed::from_minutes(case.number("minutes")?)?;
    Ok(rate
        .loss(Length::millimetres(case.number("mm")?)?, time)?
        .g())
}
