//! Yields backwards.

use ::units::Mass;
use science::yields::{Yield, raw_for};

use super::{DIGITS_OF_THE_TABLE, Phenomenon, table};
use crate::case::{Case, Unanswered};

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "yields",
    title: "Yields",
    shows: "The arithmetic only; a house's yields are its own.",
    tables: &[table!("yields", "case.csv")],
    answer,
    tolerance: |_| DIGITS_OF_THE_TABLE,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let mut steps = Vec::new();
    for step in case.text("steps").unwrap_or_default().split(' ') {
        let ratio = step.parse().map_err(|_| Unanswered::Input {
            name: "steps".to_owned(),
            found: step.to_owned(),
        })?;
        steps.push(Yield::ratio_of(ratio)?);
    }
    Ok(raw_for(Mass::grams(case.number("served_g")?)?, &steps)?.g())
}
