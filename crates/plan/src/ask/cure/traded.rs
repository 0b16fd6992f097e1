//! The question turned round: the least salt, the thickest cut, the shortest cure, and what is given for it.

use drawing::{Axis, Chart, Curve, Mark, Stroke};
use science::ScienceError;
use science::inverse::{Search, SearchError, runs};
use science::transport::{Goal, Grid, time_to};
use units::{Elapsed, Length};

use super::chances::{self, Found};
use super::model::{LONGEST_D, Model};
use super::{Contact, Cure, FICK, Wanted, base};
use crate::ask::picture::{axis, said};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;

/// Points of a trade-off.
const SAMPLES: usize = 24;
/// How finely a dose is looked for, percent.
const DOSE_STEP_PCT: f64 = 0.01;

/// What is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Find {
    /// The least salt that meets the goal in the time given.
    LeastSalt,
    /// The thickest cut that does.
    ThickestCut,
    /// The strongest dose that still leaves a window, and so the shortest cure.
    ShortestCure,
}

/// The dose of the shortest cure, percent, when that is looked for.
pub(super) fn strongest(ask: &Cure) -> Result<Option<f64>, Refusal> {
    if ask.find != Some(Find::ShortestCure) {
        return Ok(None);
    }
    let (Wanted::Mean { .. }, (Some(thin), Some(thick))) = (&ask.wanted, (ask.thin, ask.thick))
    else {
        return Err(Refusal::new(
            "--find: found a shortest cure without an upper end",
            "--mean with its two percents, and --thin and --thick: more salt is always quicker, until the thin \
             ones are past the goal before the thick ones are there",
            "give them",
        ));
    };
    let model = Model::of(ask)?;
    let (low, high) = chances::doses(&model);
    let enough = Search::new("salt that would do once even, %", low, high, DOSE_STEP_PCT)?;
    let enough = enough.least(|pct| {
        let other = model.with_salt(pct);
        Ok(other.ends_with_pct() > other.least() * 1.01)
    })?;
    let search = Search::new("strongest salt, %", enough.x, high, DOSE_STEP_PCT)?;
    let open = |pct: f64| -> Result<bool, ScienceError> {
        let other = model.with_salt(pct);
        let there = when(&other, thick, Edge::There)?;
        let past = match when(&other, thin, Edge::Past) {
            Ok(past) => past,
            // A dose that ends below the upper end never gets past it.
            Err(ScienceError::GoalNotReached { .. }) => return Ok(true),
            Err(error) => return Err(error),
        };
        Ok(there <= past)
    };
    match search.greatest(open) {
        Ok(limit) if limit.fails_at.is_some() => Ok(Some((limit.x * 100.0).floor() / 100.0)),
        Ok(_) => Err(Refusal::new(
            format!("--find: found a window that is open up to {high} % of salt"),
            "thin and thick pieces that differ enough for one to be past the goal before the other is there",
            "ask with the most salt you would lay on: it is the shortest",
        )),
        Err(ScienceError::Search(SearchError::NeverHolds { .. })) => Err(Refusal::new(
            "--find: found no dose with which thick and thin pieces are right at one time",
            "pieces nearer in thickness, or a wider --mean",
            "sort them into two batches",
        )),
        Err(other) => Err(other.into()),
    }
}

/// Which end of the goal.
#[derive(Clone, Copy)]
enum Edge {
    There,
    Past,
}

/// Hours until a piece meets the goal, or is past it.
fn when(model: &Model, thickness: Length, edge: Edge) -> Result<f64, ScienceError> {
    let goal = match (edge, model.goal()?) {
        (Edge::Past, Goal::Mean { most, .. }) => Goal::Mean {
            least: most.clone(),
            most,
        },
        (_, goal) => goal,
    };
    let time = time_to(
        &model.piece(thickness)?,
        &model.flesh()?,
        &model.params(),
        &model.phase(Elapsed::from_days(LONGEST_D)?)?,
        &goal,
        Grid::default(),
    )?;
    Ok(time.hours())
}

/// Line 1 and its figure when something is looked for.
pub(super) fn told(
    find: Find,
    model: &Model,
    dose: Option<f64>,
    sheet: &mut Sheet,
) -> Result<(String, &'static str), Refusal> {
    let timed = sheet.figures.get("time").is_some();
    if find != Find::ShortestCure && !timed {
        return Err(Refusal::new(
            "--find: found no --time to meet the goal in",
            "a time such as 22 h",
            "give it with --time",
        ));
    }
    let (id, says) = match (find, dose) {
        (Find::ShortestCure, Some(pct)) => {
            let from: Vec<&str> = base(model)
                .into_iter()
                .filter(|id| *id != "salt")
                .chain(["goal", "goal.most", "thin.thickness", "thick.thickness"])
                .collect();
            let formula = format!(
                "halving over the dose: the largest with which the thickest is there before the thinnest is past it; {FICK}"
            );
            let base_of = sheet.figures.get("salt").and_then(|f| f.base.clone());
            sheet.worked("salt", pct, "%", 2, &formula, &from);
            if let Some(of) = base_of {
                sheet.figures.of("salt", &of);
            }
            return Ok((
                format!(
                    "{}  is the shortest cure that leaves a window, with {} salt",
                    sheet.show("best"),
                    sheet.show("salt")
                ),
                "best",
            ));
        }
        (Find::ThickestCut, _) => ("cut.would_do", "is the thickest cut that meets it in"),
        _ => (
            "salt.would_do",
            "salt  is the least with which the thickest piece meets it in",
        ),
    };
    let share = find == Find::LeastSalt && matches!(model.wanted, Wanted::Uptake { .. });
    if share || sheet.figures.get(id).is_none() {
        let (expected, do_now) = if share {
            (
                "a goal that more salt meets sooner",
                "ask for salt in the piece with --core or --mean; of a share more salt takes longer",
            )
        } else {
            (
                "a least that lies in what is looked at",
                "ask without --find: the rows say whether all of it does or none",
            )
        };
        return Err(Refusal::new(
            "--find: found nothing that is the least",
            expected,
            do_now,
        ));
    }
    Ok((
        format!("{} {says} {}", sheet.show(id), sheet.show("time")),
        id,
    ))
}

/// What is given for what: hours against salt, or against thickness.
///
/// # Errors
/// As [`cure`](super::cure()); a goal met nowhere in what is looked at.
pub fn trade_off(ask: &Cure, find: Find) -> Result<Chart, Refusal> {
    let model = Model::of(ask)?;
    let thick = ask.thick.unwrap_or(ask.thickness);
    let thin = ask.thin.unwrap_or(ask.thickness);
    let asked = match find {
        Find::ThickestCut => thick.mm(),
        _ => model.salt_pct(),
    };
    let found = match find {
        Find::ShortestCure => strongest(ask)?,
        Find::LeastSalt => at(chances::least_salt(&model, thick, timed(ask)?)?),
        Find::ThickestCut => at(chances::thickest_cut(&model, timed(ask)?)?),
    };
    let middle = found.unwrap_or(asked);
    let (label, unit, what) = match (find, &ask.contact) {
        (Find::ThickestCut, _) => ("thickness", "mm", "thickness, mm"),
        (_, Contact::Dry { .. }) => ("salt of green weight", "%", "salt, %"),
        (_, Contact::Brine { .. }) => ("salt of the brine", "%", "salt, %"),
    };
    let (low, high) = match find {
        Find::ThickestCut => chances::CUT_MM,
        _ => chances::doses(&model),
    };
    let (from, to) = (
        (middle * 0.5).max(low),
        (middle * 1.6).max(asked * 1.1).min(high),
    );
    let search = Search::new(what, from, to, (to - from) / 500.0)?;
    let hours = |edge: Edge, size: Length| {
        search.trade_off(SAMPLES, |x| match find {
            Find::ThickestCut => when(&model, Length::millimetres(x)?, edge),
            _ => when(&model.with_salt(x), size, edge),
        })
    };
    let mut all = vec![("thickest there", Stroke::Solid, hours(Edge::There, thick)?)];
    if find == Find::ShortestCure {
        all.push(("thinnest past it", Stroke::Dashed, hours(Edge::Past, thin)?));
    }
    let known = all.iter().flat_map(|(.., curve)| curve.iter());
    let longest = known
        .filter_map(|s| s.y.as_ref().ok())
        .fold(0.0_f64, |m, y| m.max(*y));
    if longest == 0.0 {
        return Err(Refusal::new(
            "--curve: found no place at which the goal is met",
            "a goal within reach",
            "ask without --find first",
        ));
    }
    let (_, time_unit, _) = said(longest);
    let per_hour = match time_unit {
        "min" => 60.0,
        "d" => 1.0 / 24.0,
        _ => 1.0,
    };
    let mut curves = Vec::new();
    for (name, stroke, samples) in &all {
        for run in runs(samples) {
            curves.push(Curve {
                name: (*name).to_owned(),
                points: run.into_iter().map(|(x, h)| (x, h * per_hour)).collect(),
                stroke: *stroke,
            });
        }
    }
    // A lone point draws no line; a name is printed once.
    curves.retain(|c| c.points.len() > 1);
    let y = axis(
        "until it is there",
        time_unit,
        curves
            .iter()
            .flat_map(|c| c.points.iter().map(|p| p.1))
            .chain([0.0]),
    )?;
    let mark = |x: f64, label: &str| Mark {
        x,
        label: label.to_owned(),
    };
    let mut marks = vec![mark(asked, "asked")];
    marks.extend(found.map(|x| mark(x, "found")));
    marks.retain(|m| (from..=to).contains(&m.x));
    Ok(Chart {
        title: "What is given for what: calculated, not validated on product data".to_owned(),
        x: Axis::around(label, unit, [from, to])?,
        y,
        curves,
        bands: Vec::new(),
        marks,
        measured: Vec::new(),
    })
}

fn timed(ask: &Cure) -> Result<Elapsed, Refusal> {
    ask.time.ok_or_else(|| {
        Refusal::new(
            "--find: found no --time to meet the goal in",
            "a time such as 22 h",
            "give it with --time",
        )
    })
}

fn at(found: Found) -> Option<f64> {
    match found {
        Found::At(x) => Some(x),
        Found::Everywhere | Found::Nowhere => None,
    }
}
