//! A hanging piece weighed many times.

use ::units::{Elapsed, Mass};
use science::hanging::{DryingFit, Weighing, Window};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Least squares twice.
const LEAST_SQUARES: Tolerance = Tolerance::part(1e-9, "one least squares worked twice");
/// Student's t to three decimals.
const STUDENT: Tolerance = Tolerance::part(
    2e-3,
    "Student's t is tabled to three decimals, and what is left is a difference",
);
/// Whole seconds, of days.
const DAYS: Tolerance =
    Tolerance::difference(5e-3, "Student's t to three decimals; time in whole seconds");

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "hanging",
    title: "Hanging",
    shows: "The regression and its window are a statistics library's. That a piece keeps to a straight line they do not show: see Drying.",
    tables: &[table!("hanging", "case.csv")],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "rate" | "weight_at" => LEAST_SQUARES,
        "rate_least" | "rate_most" => STUDENT,
        _ => DAYS,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let mut weighings = Vec::new();
    for point in case.text("points").unwrap_or_default().split(' ') {
        let wrong = || Unanswered::Input {
            name: "points".to_owned(),
            found: point.to_owned(),
        };
        let (days, grams) = point.split_once(':').ok_or_else(wrong)?;
        weighings.push(Weighing {
            at: Elapsed::from_days(days.parse().map_err(|_| wrong())?)?,
            weight: Mass::grams(grams.parse().map_err(|_| wrong())?)?,
        });
    }
    let fit = DryingFit::of(&weighings)?;
    let of_rate = || {
        fit.rate_spread_per_day()
            .ok_or_else(|| Unanswered::Unknown("a spread".to_owned()))
    };
    let forecast =
        || -> Result<_, Unanswered> { Ok(fit.forecast(Mass::grams(case.number("grams")?)?)?) };
    let window = || match forecast()?.window {
        Window::Closed { earliest, latest } => Ok((earliest.days(), latest.days())),
        _ => Err(Unanswered::Unknown("a closed window".to_owned())),
    };
    Ok(match case.quantity.as_str() {
        "rate" => fit.rate()?.k_per_day(),
        "rate_least" => of_rate()?.0,
        "rate_most" => of_rate()?.1,
        "weight_at" => fit.weight_at(Elapsed::from_days(case.number("day")?)?)?.g(),
        "day_of" => forecast()?.likely.days(),
        "day_earliest" => window()?.0,
        "day_latest" => window()?.1,
        _ => return case.unknown(),
    })
}
