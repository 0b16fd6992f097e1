//! Cooking and reheating: a core held at a temperature long enough, by the coldest probe at every moment.

use science::lethality::{LISTERIA, Reference, SALMONELLA_MEAT};
use units::Elapsed;

use super::figure::{Row, row, table};
use super::holds::{Held, at_temperature};
use super::lethality::minutes;
use super::probes::{Probes, span};
use super::stretches::{length, longest};
use super::{HOLD_GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Side};
use crate::rules::{Detail, celsius};
use crate::verdict::Verdict;

/// Fish and intact meat: 63 °C (145 °F) for 15 s.
///
/// # Source
/// `cook.fish_meat_145` (read).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn cook_intact(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("cook.fish_meat_145", terms)?;
    let held = [Held {
        at_c: row.limit_c()?,
        for_s: row.number("hold_s")?,
    }];
    cooked("cook-intact", &row, &held, &LISTERIA, history, terms)
}

/// Minced, injected or tenderised: 155 °F 17 s, or one of the equivalents of the row.
///
/// # Source
/// `cook.comminuted_155` (read but for the 17 s, which is longer than the 15 s that were).
/// # Errors
/// As [`cook_intact`].
pub fn cook_nonintact(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("cook.comminuted_155", terms)?;
    let held = nonintact_holds(&row)?;
    cooked(
        "cook-nonintact",
        &row,
        &held,
        &SALMONELLA_MEAT,
        history,
        terms,
    )
}

/// The temperatures and times of `cook.comminuted_155`, any one of which is enough.
///
/// # Errors
/// A row without them.
pub(crate) fn nonintact_holds(row: &Row) -> Result<Vec<Held>, Refusal> {
    let missing = || row.missing("equivalents");
    let Some(Detail::List(list)) = row.rule.also.get("equivalents") else {
        return Err(missing());
    };
    list.iter()
        .map(|one| {
            let Detail::Table(one) = one else { return None };
            let (Detail::Number(f), Detail::Number(s)) = (one.get("f")?, one.get("s")?) else {
                return None;
            };
            Some(Held {
                at_c: celsius(*f)?,
                for_s: *s,
            })
        })
        .collect::<Option<Vec<_>>>()
        .ok_or_else(missing)
}

/// Poultry, game, stuffed food: 74 °C (165 °F) for 15 s, the time of the editions before 2017.
///
/// Later editions ask for an instant; that was not read, so the 15 s that were are asked for, and the answer says so.
///
/// # Source
/// `cook.poultry_165` (165 °F and 15 s read).
/// # Errors
/// As [`cook_intact`].
pub fn cook_poultry(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("cook.poultry_165", terms)?;
    let held = [Held {
        at_c: row.limit_c()?,
        for_s: row.number("hold_s_pre2017")?,
    }];
    let mut judged = cooked(
        "cook-poultry",
        &row,
        &held,
        &SALMONELLA_MEAT,
        history,
        terms,
    )?;
    judged.asks.push_str(
        ", as the editions before 2017 have it, which were read; later ones ask an instant (from memory)",
    );
    Ok(judged)
}

/// Reheated to be held hot: 74 °C (165 °F) for 15 s in all parts, and no more than 2 h between 5 and 74 °C.
///
/// # Source
/// `reheat` (read).
/// # Errors
/// As [`cook_intact`].
pub fn reheat(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("reheat", terms)?;
    let held = [Held {
        at_c: row.limit_c()?,
        for_s: row.number("hold_s")?,
    }];
    let (from_c, most_h) = (row.number("from_c")?, row.number("within_h")?);
    let probes = Probes::of(history, terms, HOLD_GAP_MIN)?;
    let mut finding = at_temperature("reheat", &held, &probes);
    // Until a probe is first at temperature; after that it is held hot, which is another rule.
    let between = probes
        .tracks
        .iter()
        .map(|t| {
            let until = t
                .readings
                .iter()
                .find(|r| r.1 >= held[0].at_c)
                .map_or(f64::INFINITY, |r| r.0);
            probes.time_between(t, from_c, held[0].at_c, until)
        })
        .reduce(f64::max)
        .unwrap_or(0.0);
    finding.asks = format!(
        "{}, and no more than {most_h} h between {from_c} and {} °C on the way there",
        finding.asks, held[0].at_c
    );
    finding.place = format!("{}; {} on the way", finding.place, span(between.floor()));
    if between > most_h * 3600.0 {
        finding.verdict = Verdict::Broken;
        finding.mend =
            "too slow: discard it by your plan; reheat in smaller amounts, in an oven or a pan";
    }
    Ok(finding.against(&row))
}

/// A whole roast: any row of the table, from 130 °F for 112 min to 158 °F for an instant. Never fish.
///
/// The rows are steps: 139 °F counts as the row of 138 °F.
///
/// # Source
/// Table `food-code-roast` (read; its row of 153 °F stands in the table of FSIS Appendix A that was read too).
/// # Errors
/// As [`cook_intact`].
pub fn cook_roast(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("cook.fish_meat_145", terms)?;
    let missing = || Refusal::Row {
        id: "food-code-roast".to_owned(),
        what: "column of numbers",
    };
    let held = table("food-code-roast")?
        .pairs("degF", "s")
        .and_then(|rows| {
            rows.into_iter()
                .map(|(f, s)| {
                    Some(Held {
                        at_c: celsius(f)?,
                        for_s: s,
                    })
                })
                .collect::<Option<Vec<_>>>()
        })
        .ok_or_else(missing)?;
    cooked("cook-roast", &row, &held, &SALMONELLA_MEAT, history, terms)
}

/// Hot-smoked fish: 63 °C at the coldest probe for 30 min without a break.
///
/// The rule says 145 °F, which is 62.8 °C; this house reads it as whole degrees, so 62.8 does not start the clock.
///
/// # Source
/// `smoked_fish.hot.core` (read).
/// # Errors
/// As [`cook_intact`].
pub fn fish_core(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("smoked_fish.hot.core", terms)?;
    let held = [Held {
        at_c: row.limit_c()?,
        for_s: row.number("hold_min")? * 60.0,
    }];
    cooked("fish-core", &row, &held, &LISTERIA, history, terms)
}

/// Where a hold stands at the end of a log.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoldClock {
    /// The coldest probe is below the temperature, or a probe is lost.
    NotStarted,
    /// Every probe is there, for so long.
    Counting(Elapsed),
    /// It was held long enough, in one stretch.
    Held(Elapsed),
}

/// Where the hold of `fish-core` stands: for a run that is still going.
///
/// # Errors
/// As [`cook_intact`].
pub fn hold_clock(history: &History, terms: &Terms) -> Result<HoldClock, Refusal> {
    let row = row("smoked_fish.hot.core", terms)?;
    let need_s = row.number("hold_min")? * 60.0;
    let probes = Probes::of(history, terms, HOLD_GAP_MIN)?;
    if probes.missing > 0 || probes.tracks.is_empty() {
        return Ok(HoldClock::NotStarted);
    }
    let stretches = probes.stretches(Side::AtLeast, row.limit_c()?, false);
    // Whole seconds, rounded down: a hold is never made longer than it was.
    let whole = |s: f64| Elapsed::from_seconds(s.floor() as i64).unwrap_or(Elapsed::ZERO);
    let best = longest(&stretches).map_or(0.0, length);
    if best >= need_s {
        return Ok(HoldClock::Held(whole(best)));
    }
    Ok(stretches
        .last()
        .filter(|(_, to)| *to >= probes.to_s)
        .map_or(HoldClock::NotStarted, |(from, to)| {
            HoldClock::Counting(whole(to - from))
        }))
}

fn cooked(
    rule: &'static str,
    row: &Row,
    held: &[Held],
    reference: &Reference,
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    let probes = Probes::of(history, terms, HOLD_GAP_MIN)?;
    let mut finding = at_temperature(rule, held, &probes);
    if finding.lacking.is_none() {
        finding
            .place
            .push_str(&worth(&probes, reference).unwrap_or_default());
    }
    Ok(finding.against(row))
}

/// What the coldest probe's history is worth by a kill curve: a figure beside the verdict, never one itself.
fn worth(probes: &Probes, reference: &Reference) -> Option<String> {
    let minutes = probes
        .tracks
        .iter()
        .map(|t| minutes(probes, t, reference).ok())
        .collect::<Option<Vec<f64>>>()?
        .into_iter()
        .reduce(f64::min)?;
    let at = reference.temperature().ok()?;
    Some(format!(
        "; worth {minutes:.2} min at {at} ({}, {}), a figure and no verdict",
        reference.name,
        reference.source.status.words()
    ))
}
