//! Cooking: a core held at a temperature long enough, by the coldest probe at every moment.
//!
//! The hold counts while every probe is at the temperature or above; a dip of any of them ends it, and
//! the clock starts anew. Where a rule gives several temperatures with a time each, one of them met is enough.

use science::lethality::{LISTERIA, Reference, SALMONELLA_MEAT, of_readings};
use units::{Elapsed, Temperature};

use super::figure::{Finding, Row, row, table};
use super::probes::{Probes, Stretch, Track, length, longest, span};
use super::{HOLD_GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Part, Side};
use crate::rules::{Detail, celsius};
use crate::verdict::Verdict;

/// A temperature and how long it is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Held {
    pub(crate) at_c: f64,
    pub(crate) for_s: f64,
}

impl std::fmt::Display for Held {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "≥ {} °C", shortly(self.at_c))?;
        if self.for_s > 0.0 {
            write!(f, " for {}", span(self.for_s))?;
        }
        Ok(())
    }
}

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

/// Poultry, game, stuffed food: 74 °C (165 °F) for 15 s.
///
/// Editions since 2017 ask for an instant; that was not read, so the 15 s that were are asked for here.
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
    cooked(
        "cook-poultry",
        &row,
        &held,
        &SALMONELLA_MEAT,
        history,
        terms,
    )
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
    let lacking = probes.uncovered();
    // Of every row: how long it was held, and how long it may have been in the gaps.
    let tries: Vec<(Held, Option<Stretch>, bool)> = held
        .iter()
        .map(|h| {
            let known = longest(&probes.stretches(Side::AtLeast, h.at_c, false));
            let hoped = longest(&probes.stretches(Side::AtLeast, h.at_c, true));
            (*h, known, hoped.is_some_and(|s| length(s) >= h.for_s))
        })
        .collect();
    let met = |(h, known, _): &&(Held, Option<Stretch>, bool)| {
        known.is_some_and(|s| length(s) >= h.for_s)
    };
    let verdict = match (
        tries.iter().any(|t| met(&t)),
        tries.iter().any(|t| t.2),
        &lacking,
    ) {
        (true, _, None) => Verdict::Shown,
        (false, false, _) if !probes.silent() => Verdict::Broken,
        _ => Verdict::NotShown,
    };
    let part = |t: &(Held, Option<Stretch>, bool)| {
        t.1.map_or(-1.0, |s| {
            if t.0.for_s > 0.0 {
                length(s) / t.0.for_s
            } else {
                1.0
            }
        })
    };
    let best = tries
        .iter()
        .find(|t| met(t))
        .or_else(|| tries.iter().max_by(|a, b| part(a).total_cmp(&part(b))));
    let held_at_c = best.map_or(0.0, |(h, _, _)| h.at_c);
    let evidence = match best.and_then(|(_, known, _)| *known) {
        Some(stretch) => probes.told_hold(stretch),
        None => {
            coldest(&probes).map_or_else(Vec::new, |(t, r)| probes.told(t, &[(r, Part::Worst)]))
        }
    };
    let (value, limit, reached) = best.map_or((None, 0.0, String::new()), |(h, known, _)| {
        let known = known.map_or(0.0, length);
        (
            Some(known / 60.0),
            h.for_s / 60.0,
            format!(
                "longest hold at ≥ {} °C: {}",
                shortly(h.at_c),
                span(known.floor())
            ),
        )
    });
    let warmest = coldest(&probes).map_or_else(String::new, |(_, (_, c))| {
        format!(
            "; the probes were together no warmer than {} °C",
            shortly(c)
        )
    });
    let worth = if lacking.is_none() {
        worth(&probes, reference)
    } else {
        None
    };
    Ok(Finding {
        rule,
        asks: held
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join(", or "),
        verdict,
        value,
        limit,
        side: Side::AtLeast,
        unit: "min",
        base: format!("the longest stretch in which every probe is at {} °C or above", shortly(held_at_c)),
        evidence,
        place: format!("coldest of {} probes at every moment; {reached}{warmest}{}", probes.tracks.len(), worth.unwrap_or_default()),
        mend: "keep heating: the hold starts anew with every probe at temperature; if it has cooled, decide by your plan",
        lacking,
    }
    .against(row))
}

/// The probe whose highest reading is the least, and that reading.
fn coldest(probes: &Probes) -> Option<(&Track, (f64, f64))> {
    probes
        .tracks
        .iter()
        .filter_map(|t| {
            let highest = t
                .readings
                .iter()
                .copied()
                .max_by(|a, b| a.1.total_cmp(&b.1))?;
            Some((t, highest))
        })
        .min_by(|a, b| a.1.1.total_cmp(&b.1.1))
}

/// What the coldest probe's history is worth by a kill curve: a figure beside the verdict, never one itself.
fn worth(probes: &Probes, reference: &Reference) -> Option<String> {
    let minutes = probes
        .tracks
        .iter()
        .map(|t| {
            let readings = t
                .readings
                .iter()
                .map(|(at, c)| {
                    Some((
                        Elapsed::from_seconds(*at as i64).ok()?,
                        Temperature::celsius(*c).ok()?,
                    ))
                })
                .collect::<Option<Vec<_>>>()?;
            of_readings(readings, reference).ok().map(|l| l.minutes)
        })
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

/// A temperature to a tenth, without a bare ".0".
fn shortly(c: f64) -> String {
    format!("{}", (c * 10.0).round() / 10.0)
}
