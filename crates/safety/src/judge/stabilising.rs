//! Cooling by the texts for processors: smoked fish, and the three options for cooked meat.

use super::figure::{Row, row};
use super::probes::{Probes, Track};
use super::stages::{From, Run, Start, Step, asks, run, shortly, worst};
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::Judgement;
use crate::rules::{Stage, celsius};

/// Smoked fish: 140 → 70 °F in 2 h, then 40 °F in 4 h more.
///
/// # Source
/// `smoked_fish.cooling.stage1` and `.stage2` (second-hand: they can break a verdict, never show one).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn cool_smoked_fish(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    smoked("cool-smoked-fish", "from_f", history, terms)
}

/// The same by the other text, whose clock starts at 135 °F.
///
/// # Source
/// As [`cool_smoked_fish`]; `other_text_from_f` of the first row.
/// # Errors
/// As [`cool_smoked_fish`].
pub fn cool_smoked_fish_135(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    smoked("cool-smoked-fish-135", "other_text_from_f", history, terms)
}

fn smoked(
    name: &'static str,
    from: &'static str,
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    let first = row("smoked_fish.cooling.stage1", terms)?;
    let second = row("smoked_fish.cooling.stage2", terms)?;
    let from_c = in_c(&first, first.number(from)?)?;
    let steps = [
        Step {
            to_c: first.limit_c()?,
            within_s: first.number("within_h")? * 3600.0,
            from: From::Clock,
        },
        Step {
            to_c: second.limit_c()?,
            within_s: second.number("within_h")? * 3600.0,
            from: From::Before,
        },
    ];
    fell(name, &second, from_c, &steps, None, history, terms)
}

/// Cooked meat, option 1: 130 → 80 °F in 1.5 h, then 40 °F in 5 h more.
///
/// # Source
/// `cool.fsis.opt1` (second-hand).
/// # Errors
/// As [`cool_smoked_fish`].
pub fn cool_fsis_1(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    one_after_another(
        "cool-fsis-1",
        &row("cool.fsis.opt1", terms)?,
        None,
        history,
        terms,
    )
}

/// Cooked meat, option 2: 120 → 80 °F in 1 h and → 55 °F in 6 h, both from 120 °F, and on to 40 °F without a stop.
///
/// That chilling starts within 90 min of the cook's end is not in a log and is asked for in words.
///
/// # Source
/// `cool.fsis.opt2` (second-hand).
/// # Errors
/// As [`cool_smoked_fish`].
pub fn cool_fsis_2(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("cool.fsis.opt2", terms)?;
    let mut steps = row
        .rule
        .stages
        .iter()
        .map(|s| stage(&row, s, From::Clock))
        .collect::<Result<Vec<_>, _>>()?;
    steps.sort_by(|a, b| a.within_s.total_cmp(&b.within_s));
    let from_c = start(&row)?;
    let then_c = in_c(&row, row.number("then_to_f")?)?;
    fell(
        "cool-fsis-2",
        &row,
        from_c,
        &steps,
        Some(then_c),
        history,
        terms,
    )
}

/// Cured cooked meat, option 3: 130 → 80 °F in 5 h, then 45 °F in 10 h more; 100 ppm of nitrite or more went in.
///
/// # Source
/// `cool.fsis.opt3` (from memory: it can break a verdict, never show one).
/// # Errors
/// As [`cool_smoked_fish`].
pub fn cool_fsis_3(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    one_after_another(
        "cool-fsis-3",
        &row("cool.fsis.opt3", terms)?,
        None,
        history,
        terms,
    )
}

fn one_after_another(
    name: &'static str,
    row: &Row,
    then_c: Option<f64>,
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    let steps = row
        .rule
        .stages
        .iter()
        .enumerate()
        .map(|(i, s)| stage(row, s, if i == 0 { From::Clock } else { From::Before }))
        .collect::<Result<Vec<_>, _>>()?;
    fell(name, row, start(row)?, &steps, then_c, history, terms)
}

fn stage(row: &Row, stage: &Stage, from: From) -> Result<Step, Refusal> {
    Ok(Step {
        to_c: in_c(row, stage.to_f)?,
        within_s: stage.within_h * 3600.0,
        from,
    })
}

/// Where the clock of a row starts, °C.
fn start(row: &Row) -> Result<f64, Refusal> {
    let first = row
        .rule
        .stages
        .first()
        .ok_or_else(|| row.missing("stages"))?;
    in_c(row, first.from_f)
}

fn in_c(row: &Row, f: f64) -> Result<f64, Refusal> {
    celsius(f).ok_or_else(|| row.missing("temperature"))
}

fn fell(
    name: &'static str,
    row: &Row,
    from_c: f64,
    steps: &[Step],
    then_c: Option<f64>,
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let runs: Vec<(&Track, Run)> = probes
        .tracks
        .iter()
        .map(|t| (t, run(&probes, t, Start::Falling(from_c), steps)))
        .collect();
    let base = format!("from the last reading at or above {} °C", shortly(from_c));
    let place = format!("clock {base}");
    let then = then_c.map_or_else(String::new, |c| format!(", and on to {} °C", shortly(c)));
    let asks = format!("{}{then}", asks(from_c, steps));
    let mut finding = worst(name, asks, base, place, &probes, runs, steps);
    // What has no time of its own has still to be reached.
    finding.lacking = finding.lacking.or_else(|| {
        let cold = |t: &&Track| t.readings.iter().any(|r| then_c.is_none_or(|c| r.1 <= c));
        let warm = probes.tracks.iter().find(|t| !cold(t))?;
        Some(format!(
            "{}: the last temperature is not reached in the log",
            warm.name
        ))
    });
    Ok(finding.against(row))
}
