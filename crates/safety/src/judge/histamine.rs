//! Histamine: how long fish that forms it has been above 40 °F. Neither washing, freezing nor heat takes it out again.

use super::figure::{Finding, Row, row, verdict};
use super::probes::{Probes, span};
use super::stages::shortly;
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Side};
use crate::rules::celsius;

/// Never frozen: 4 h above 40 °F if it was ever above 70 °F, else 8 h.
///
/// # Source
/// `histamine.exposure` (from memory: it can break a verdict, never show one).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn histamine(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("histamine.exposure", terms)?;
    let most = (row.value()?, row.number("never_warm_h")?);
    formed("histamine", &row, most, history, terms)
}

/// Frozen before: 12 h, else 24 h.
///
/// # Source
/// As [`histamine`].
/// # Errors
/// As [`histamine`].
pub fn histamine_frozen(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("histamine.exposure", terms)?;
    let most = (row.number("frozen_h")?, row.number("frozen_never_warm_h")?);
    formed("histamine-frozen", &row, most, history, terms)
}

fn formed(
    rule: &'static str,
    row: &Row,
    (warm_h, cool_h): (f64, f64),
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    let in_c = |key| celsius(row.number(key)?).ok_or_else(|| row.missing(key));
    let (cold_c, warm_c) = (in_c("cold_f")?, in_c("warm_f")?);
    let probes = Probes::of(history, terms, GAP_MIN)?;
    // One lot: a fish that was warm anywhere was warm.
    let ever_warm = probes
        .tracks
        .iter()
        .flat_map(|t| &t.readings)
        .any(|r| r.1 > warm_c);
    let most_h = if ever_warm { warm_h } else { cool_h };
    let longest = probes
        .tracks
        .iter()
        .map(|t| {
            (
                t,
                probes.time_between(t, cold_c, f64::INFINITY, f64::INFINITY),
            )
        })
        .max_by(|a, b| a.1.total_cmp(&b.1));
    let lacking = probes.uncovered();
    Ok(Finding {
        rule,
        asks: format!(
            "above {} °C for {warm_h} h in all if ever above {} °C, else {cool_h} h; only species that form it",
            shortly(cold_c),
            shortly(warm_c)
        ),
        verdict: verdict(
            longest.is_some_and(|(_, s)| s > most_h * 3600.0),
            lacking.as_ref(),
        ),
        value: longest.map(|(_, s)| s / 3600.0),
        limit: most_h,
        side: Side::AtMost,
        unit: "h",
        base: format!("all time above {} °C added up, since it was caught or thawed", shortly(cold_c)),
        place: longest.map_or_else(
            || "no reading".to_owned(),
            |(t, s)| {
                let warm = if ever_warm { "with" } else { "without" };
                format!("{}: {}, {warm} a reading above {} °C", t.name, span(s), shortly(warm_c))
            },
        ),
        evidence: longest.map_or_else(Vec::new, |(t, _)| probes.told_track(t, Side::AtMost, cold_c)),
        mend: "do not serve it: no cooking takes histamine out; have it analysed or discard it",
        lacking,
    }
    .against(row))
}

/// Whether a species is on the list of those that form histamine, by the row's own words; `None` when the name is not known
/// either way.
///
/// # Source
/// `histamine.species` (from memory). "Salmon is not on the list" is its own word.
/// # Errors
/// Rules that do not hold together.
pub fn forms_histamine(species: &str, terms: &Terms) -> Result<Option<bool>, Refusal> {
    let row = row("histamine.species", terms)?;
    let asked = species.trim().to_lowercase();
    let words = |line: &str| -> Vec<String> {
        line.split(['(', ')', ',', '/'])
            .map(|w| w.trim().to_lowercase())
            .filter(|w| !w.is_empty() && w != "all")
            .collect()
    };
    let named = |name: &String| {
        asked == *name
            || asked.ends_with(&format!(" {name}"))
            || asked.starts_with(&format!("{name} "))
    };
    if row
        .rule
        .list
        .iter()
        .flat_map(|l| words(l))
        .any(|w| named(&w))
    {
        return Ok(Some(true));
    }
    Ok((asked == "salmon" || asked.ends_with(" salmon")).then_some(false))
}
