//! Minutes at a reference temperature that a history of the core is worth.

use ::units::{Elapsed, Temperature, TemperatureDifference};
use science::lethality::{Reference, of_readings};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Straight lines integrated exactly against an adaptive rule.
const EXACT: Tolerance = Tolerance::part(
    1e-9,
    "exact over straight lines; the integrator stops at 1e-12",
);

/// The house table prints four digits at the least.
const PRINTED: Tolerance =
    Tolerance::part(6e-4, "published to two or three digits after the point");

/// Published worked examples.
const WORKED: Tolerance = Tolerance::part(0.007, "published to two or three digits");

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "lethality",
    title: "Lethality",
    shows: "The integral and the equal times. That a z or a target is right for a fish is not shown: most are from memory.",
    tables: &[
        table!("lethality", "published.csv"),
        table!("lethality", "reference.csv"),
        table!("lethality", "case.csv"),
    ],
    answer,
    tolerance: |case| match case.status.as_str() {
        "read" => WORKED,
        _ if case.source.starts_with("house") => PRINTED,
        _ => EXACT,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let at = case.number(if case.text("at").is_some() {
        "at"
    } else {
        "reference"
    })?;
    let reference = Reference::new(
        "a case",
        Temperature::celsius(at)?,
        TemperatureDifference::kelvins(case.number("z")?)?,
        // The case's own source is in its table; the reference only wants one.
        &sources::list::COMPUTED,
    )?;
    Ok(match case.quantity.as_str() {
        "equivalent" => reference.minutes_at(
            Temperature::celsius(case.number("celsius")?)?,
            case.number("minutes")?,
        )?,
        "rate" => {
            // A minute at the temperature: two readings, a minute apart.
            let hold = Temperature::celsius(case.number("celsius")?)?;
            let minute = Elapsed::from_minutes(case.number("minutes")?)?;
            of_readings([(Elapsed::ZERO, hold), (minute, hold)], &reference)?.minutes
        }
        "history" => {
            let mut readings = Vec::new();
            for point in case.text("points").unwrap_or_default().split(' ') {
                let wrong = || Unanswered::Input {
                    name: "points".to_owned(),
                    found: point.to_owned(),
                };
                let (minutes, celsius) = point.split_once(':').ok_or_else(wrong)?;
                readings.push((
                    Elapsed::from_minutes(minutes.parse().map_err(|_| wrong())?)?,
                    Temperature::celsius(celsius.parse().map_err(|_| wrong())?)?,
                ));
            }
            of_readings(readings, &reference)?.minutes
        }
        _ => return case.unknown(),
    })
}
