//! Held cold, held hot, thawed: every reading of every probe, the worst decides.

use kitchen::site::RuleSet;

use super::figure::{Finding, Row, row, verdict};
use super::probes::{Probes, Track, span};
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Side};

/// Held cold: no reading above the limit.
///
/// # Source
/// `hold.cold` (US) and `hold.uk.cold` (England), both read; `hold.ca.cold` (from memory).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn cold_hold(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = cold_rows(terms)?;
    held(
        "cold-hold",
        Side::AtMost,
        &row,
        row.limit_c()?,
        history,
        terms,
    )
}

/// The row of the cold hold of a place.
///
/// # Errors
/// Rules that do not hold together.
pub(crate) fn cold_rows(terms: &Terms) -> Result<Row, Refusal> {
    row(
        match terms.place {
            RuleSet::Us => "hold.cold",
            RuleSet::Canada => "hold.ca.cold",
            RuleSet::England | RuleSet::Eu => "hold.uk.cold",
        },
        terms,
    )
}

/// Held hot: no reading below the limit.
///
/// # Source
/// `hold.hot` (US, read), `hold.uk.hot` (second-hand), `hold.ca.hot` (from memory).
/// # Errors
/// As [`cold_hold`].
pub fn hot_hold(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = match terms.place {
        RuleSet::Us => row("hold.hot", terms)?,
        RuleSet::Canada => row("hold.ca.hot", terms)?,
        RuleSet::England | RuleSet::Eu => row("hold.uk.hot", terms)?,
    };
    held(
        "hot-hold",
        Side::AtLeast,
        &row,
        row.limit_c()?,
        history,
        terms,
    )
}

/// Smoked fish held cold from the end of the process to the guest: 38 °F.
///
/// # Source
/// `smoked_fish.storage` (the law of three states, read; a stand-in elsewhere, which shows nothing).
/// # Errors
/// As [`cold_hold`].
pub fn smoked_fish_hold(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("smoked_fish.storage", terms)?;
    held(
        "smoked-fish-hold",
        Side::AtMost,
        &row,
        row.limit_c()?,
        history,
        terms,
    )
}

/// Thawed in the cold: no reading of the food above 5 °C.
///
/// # Source
/// `thaw.fc` (US, read).
/// # Errors
/// As [`cold_hold`].
pub fn thaw(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("thaw.fc", terms)?;
    held(
        "thaw",
        Side::AtMost,
        &row,
        row.number("cold_max_c")?,
        history,
        terms,
    )
}

/// Thawed in running water: nothing above 21 °C, and no probe above 5 °C for more than 4 h in all.
///
/// Only for raw food. The water counts as read when its probe is among the channels.
///
/// # Source
/// `thaw.fc` (US, read).
/// # Errors
/// As [`cold_hold`].
pub fn thaw_in_water(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("thaw.fc", terms)?;
    let (cold_c, water_c, most_h) = (
        row.number("cold_max_c")?,
        row.number("water_max_c")?,
        row.value()?,
    );
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let above_s = |track: &Track| probes.time_between(track, cold_c, f64::INFINITY, f64::INFINITY);
    let longest = probes
        .tracks
        .iter()
        .map(|t| (t, above_s(t)))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    let longest_s = longest.map(|(_, s)| s);
    let warm = probes
        .tracks
        .iter()
        .flat_map(|t| &t.readings)
        .any(|r| r.1 > water_c);
    let lacking = probes.uncovered();
    Ok(Finding {
        rule: "thaw-water",
        asks: format!("running water ≤ {water_c} °C, above {cold_c} °C for {most_h} h at most"),
        verdict: verdict(warm || longest_s.is_some_and(|s| s > most_h * 3600.0), lacking.as_ref()),
        value: longest_s.map(|s| s / 3600.0),
        limit: most_h,
        side: Side::AtMost,
        unit: "h",
        base: format!("all time above {cold_c} °C added up"),
        evidence: if warm {
            probes.told_worst(Side::AtMost, water_c)
        } else {
            longest.map_or_else(Vec::new, |(t, _)| probes.told(t, &[]))
        },
        place: format!(
            "time above {cold_c} °C of the warmest probe{}; the water is judged by its own probe, where one is logged",
            if warm { format!(", with a reading above {water_c} °C") } else { String::new() }
        ),
        mend: "cook it now or discard it by your plan; thaw in the cold next time",
        lacking,
    }
    .against(&row))
}

fn held(
    rule: &'static str,
    side: Side,
    row: &Row,
    limit_c: f64,
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let worst = probes
        .worst(side, limit_c)
        .map(|(t, r)| (t.name.as_str(), r.0, r.1));
    let lacking = probes.uncovered();
    let (sign, mend) = match side {
        Side::AtMost => (
            "≤",
            "find out how long, and decide by your plan; mend the cold before it is filled again",
        ),
        Side::AtLeast => (
            "≥",
            "find out how long, and decide by your plan; reheat only where the plan allows it",
        ),
    };
    Ok(Finding {
        rule,
        asks: format!("{sign} {limit_c} °C throughout"),
        verdict: verdict(
            worst.is_some_and(|w| side.margin(w.2, limit_c) < 0.0),
            lacking.as_ref(),
        ),
        value: worst.map(|w| w.2),
        limit: limit_c,
        side,
        unit: "°C",
        base: "every reading of every probe in the food".to_owned(),
        evidence: probes.told_worst(side, limit_c),
        place: worst.map_or_else(
            || "no reading".to_owned(),
            |(name, at, _)| {
                format!(
                    "{name}, {} after the start; the worst reading of {} probes",
                    span(at - probes.from_s),
                    probes.tracks.len()
                )
            },
        ),
        mend,
        lacking,
    }
    .against(row))
}
