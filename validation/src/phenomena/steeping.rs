//! Steeping a slice: how far, how long.

use ::units::{Elapsed, Length};
use science::diffusion::Diffusivity;
use science::steeping::{Cut, Faces, Spreading};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// The series against itself.
const SERIES: Tolerance = Tolerance::difference(1e-9, "two evaluations of one series");
/// Times are whole seconds.
const WHOLE_SECONDS: Tolerance =
    Tolerance::difference(3e-4, "time is kept in whole seconds: one is 2.8e-4 h");

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "steeping",
    title: "Steeping",
    shows: "The series, again. What a raw slice lets through is assumed over a wide range; nothing measured was readable.",
    tables: &[table!("steeping", "case.csv")],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "hours_to_middle" => WHOLE_SECONDS,
        _ => SERIES,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let slice = Cut {
        thickness: Length::millimetres(case.number("mm")?)?,
        faces: Faces::Both,
    };
    let d = Diffusivity::m2_per_s(case.number("d")?)?;
    let spreading = Spreading::between(d, d)?;
    let time =
        || -> Result<Elapsed, Unanswered> { Ok(Elapsed::from_hours(case.number("hours")?)?) };
    Ok(match case.quantity.as_str() {
        "middle_after" => slice.middle_after(time()?, spreading)?.least,
        "whole_after" => slice.whole_after(time()?, spreading)?.most,
        "hours_to_middle" => slice
            .time_to_middle(case.number("share")?, spreading)?
            .latest
            .hours(),
        _ => return case.unknown(),
    })
}
