//! Cooling: cooked food in two stages, and cold food made from what stood at room temperature.

use kitchen::site::RuleSet;

use super::figure::{Row, row};
use super::probes::{Probes, Track, span};
use super::stages::{From, Run, Start, Step, asks, run, worst};
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::Judgement;

/// Cooked food, by every probe: the worst decides.
///
/// The clock starts at the last reading at or above the start temperature before a probe first falls
/// below it, and never starts again, whatever happens after. The end of a stage is where the line between
/// two readings passes it.
///
/// # Source
/// Rows `cool.fc.stage1` and `cool.fc.total` (US, read), `cool.ca.*` and `cool.uk` (from memory).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn cooling(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let rows = cooling_rows(terms)?;
    let steps = rows.iter().map(step).collect::<Result<Vec<_>, _>>()?;
    let last = rows.last().ok_or_else(|| Refusal::Row {
        id: "cooling".to_owned(),
        what: "row",
    })?;
    let from_c = last.number("from_c")?;
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let runs: Vec<(&Track, Run)> = probes
        .tracks
        .iter()
        .map(|t| (t, run(&probes, t, Start::Falling(from_c), &steps)))
        .collect();
    let asks = asks(from_c, &steps);
    let base = format!("from the last reading at or above {from_c} °C");
    let place = format!(
        "clock {base}; straight lines between readings up to {} apart",
        span(probes.gap_s)
    );
    Ok(worst("cooling", asks, base, place, &probes, runs, &steps).against(last))
}

/// Cold food made from ingredients at room temperature: the clock runs from the start of the log.
///
/// # Source
/// Row `cool.fc.ambient_prep` (US, read).
/// # Errors
/// As [`cooling`].
pub fn ambient_cooling(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("cool.fc.ambient_prep", terms)?;
    let steps = [step(&row)?];
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let runs = probes
        .tracks
        .iter()
        .map(|t| (t, run(&probes, t, Start::Log, &steps)))
        .collect();
    let asks = format!(
        "≤ {} °C within {} of making it",
        steps[0].to_c,
        span(steps[0].within_s)
    );
    let base = "from the first row of the log".to_owned();
    let place = format!("clock {base}");
    Ok(worst("ambient-cooling", asks, base, place, &probes, runs, &steps).against(&row))
}

/// The rows of a place, one a stage.
///
/// # Errors
/// Rules that do not hold together.
pub(crate) fn cooling_rows(terms: &Terms) -> Result<Vec<Row>, Refusal> {
    let ids: &[&str] = match terms.place {
        RuleSet::Us => &["cool.fc.stage1", "cool.fc.total"],
        RuleSet::Canada => &["cool.ca.stage1", "cool.ca.total"],
        RuleSet::England | RuleSet::Eu => &["cool.uk"],
    };
    ids.iter().map(|id| row(id, terms)).collect()
}

fn step(row: &Row) -> Result<Step, Refusal> {
    Ok(Step {
        to_c: row.limit_c()?,
        within_s: row.number("within_h")? * 3600.0,
        from: From::Clock,
    })
}
