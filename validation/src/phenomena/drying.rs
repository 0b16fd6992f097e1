//! Drying: two weighings forecast the third, also of a product somebody else dried.

use ::units::{Elapsed, Mass};
use science::drying::Rate;

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Whole seconds of an elapsed time.
const WHOLE_SECONDS: Tolerance = Tolerance::difference(
    2e-5,
    "time is kept in whole seconds: a second is 1.2e-5 days",
);

/// A rate of the first half forecasts too light a piece, for its outside hardens. That is known and said
/// beside the function; a forecast more than a seventh off would not be worth printing.
const PRODUCT: Tolerance = Tolerance::part(
    0.15,
    "one rate for a piece that slows as its outside hardens: a forecast farther off would not be worth printing",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "drying",
    title: "Drying",
    shows: "The forecast of the third weighing from two, on published moistures of dry-cured bacon: ours is the lighter every time, as the first-order form has to be.",
    tables: &[
        table!("drying", "published.csv"),
        table!("drying", "case.csv"),
    ],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "third_weighing" => PRODUCT,
        _ => WHOLE_SECONDS,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let between = Elapsed::from_days(case.number("days")?)?;
    match case.quantity.as_str() {
        "days_to" => {
            let before = Mass::grams(case.number("before_g")?)?;
            let rate = Rate::weighed(before, Mass::grams(case.number("after_g")?)?, between)?;
            let target = before.scaled(case.number("share")?)?;
            Ok(rate.time_to(before, target)?.days())
        }
        "third_weighing" => {
            // The dry matter stays: a weight goes with 1 over (1 − moisture).
            let weight = |name: &str| -> Result<Mass, Unanswered> {
                Ok(Mass::grams(1000.0 / (1.0 - case.number(name)? / 100.0))?)
            };
            let start = weight("moisture0")?;
            let rate = Rate::weighed(start, weight("moisture6")?, between)?;
            let third = rate.weight_after(start, between.scaled(2.0)?)?;
            Ok(third.ratio_to(start)?)
        }
        _ => case.unknown(),
    }
}
