//! Freezing fish against parasites, and the fish that need none.

use kitchen::site::RuleSet;

use super::figure::{Finding, Row, row};
use super::probes::{Probes, span};
use super::stretches::{Stretch, length, longest};
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Side};
use crate::verdict::Verdict;

/// One way of freezing: solid at a temperature first where that is asked, then held.
#[derive(Debug, Clone, Copy)]
struct Way {
    solid_c: Option<f64>,
    store_c: f64,
    hours: f64,
}

/// Frozen by one of the ways of the place, warmest probe at every moment.
///
/// "Solid" is shown by every probe at the temperature of that way; the probes sit in the thickest fish.
///
/// # Source
/// `parasite.us.a` to `.c` (read); `parasite.eu.a`, `.b` (from memory: they show nothing alone).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn freeze_parasites(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let rows = freezing_rows(terms)?;
    let ways = rows.iter().map(way).collect::<Result<Vec<_>, _>>()?;
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let lacking = probes.uncovered();
    let tries: Vec<(usize, Option<Stretch>, bool)> = ways
        .iter()
        .enumerate()
        .map(|(i, w)| {
            let known = longest(&stored(&probes, w, false));
            let hoped =
                longest(&stored(&probes, w, true)).is_some_and(|s| length(s) >= w.hours * 3600.0);
            (i, known, hoped)
        })
        .collect();
    let part =
        |t: &(usize, Option<Stretch>, bool)| t.1.map_or(0.0, length) / (ways[t.0].hours * 3600.0);
    let met = tries.iter().find(|t| part(t) >= 1.0);
    let best = met.or_else(|| tries.iter().max_by(|a, b| part(a).total_cmp(&part(b))));
    let verdict = match (met, tries.iter().any(|t| t.2), &lacking) {
        (Some(_), _, None) => Verdict::Shown,
        (None, false, _) if !probes.silent() => Verdict::Broken,
        _ => Verdict::NotShown,
    };
    let (at, held) = best.map_or((0, None), |t| (t.0, t.1));
    let held_s = held.map_or(0.0, length);
    let evidence = match held {
        Some(stretch) => probes.told_hold(stretch),
        None => probes.told_worst(Side::AtMost, ways[at].store_c),
    };
    Ok(Finding {
        rule: "freeze-parasites",
        asks: freezing_asks(&rows)?,
        verdict,
        value: (!probes.tracks.is_empty()).then_some(held_s / 3600.0),
        limit: ways[at].hours,
        side: Side::AtLeast,
        unit: "h",
        base: format!("the longest stretch in which every probe is at {:.0} °C or below", ways[at].store_c),
        evidence,
        place: format!("warmest of {} probes at every moment; {} in one stretch: {}", probes.tracks.len(), span(held_s.floor()), words(&ways[at])),
        mend: "freeze it again from the start, or cook it; do not serve it raw or cold-smoked on this log",
        lacking,
    }
    .against(&rows[at]))
}

/// The rows of a place, one a way.
///
/// # Errors
/// Rules that do not hold together.
pub(crate) fn freezing_rows(terms: &Terms) -> Result<Vec<Row>, Refusal> {
    let ids: &[&str] = match terms.place {
        RuleSet::Us | RuleSet::Canada => &["parasite.us.a", "parasite.us.b", "parasite.us.c"],
        RuleSet::England | RuleSet::Eu => &["parasite.eu.a", "parasite.eu.b"],
    };
    ids.iter().map(|id| row(id, terms)).collect()
}

/// What the ways ask, in words.
///
/// # Errors
/// A row without its figures.
pub(crate) fn freezing_asks(rows: &[Row]) -> Result<String, Refusal> {
    let ways = rows.iter().map(way).collect::<Result<Vec<_>, _>>()?;
    Ok(ways.iter().map(words).collect::<Vec<_>>().join("; or "))
}

fn way(row: &Row) -> Result<Way, Refusal> {
    let in_c = |c: &'static str, f: &'static str| {
        row.rule
            .number(c)
            .or_else(|| crate::rules::celsius(row.rule.number(f)?))
    };
    let freeze_c = in_c("temp_c", "temp_f").ok_or_else(|| Refusal::Row {
        id: row.rule.id.clone(),
        what: "temp_c",
    })?;
    let hours = row.value()?;
    Ok(match in_c("store_temp_c", "store_temp_f") {
        // −31 °F is −35 °C and −4 °F is −20 °C to a hundredth; the row's own °C is used where it has one.
        Some(store_c) => Way {
            solid_c: Some(freeze_c),
            store_c,
            hours,
        },
        None => Way {
            solid_c: None,
            store_c: freeze_c,
            hours,
        },
    })
}

fn words(way: &Way) -> String {
    let held = format!("≤ {:.0} °C for {} h", way.store_c, way.hours);
    way.solid_c.map_or(held.clone(), |c| {
        format!("≤ {c:.0} °C until solid, then {held}")
    })
}

/// Stretches that count for a way: from the first moment solid, while it stays cold enough.
fn stored(probes: &Probes, way: &Way, hoped: bool) -> Vec<Stretch> {
    let cold = probes.stretches(Side::AtMost, way.store_c, hoped);
    let Some(solid_c) = way.solid_c else {
        return cold;
    };
    let solid = probes.stretches(Side::AtMost, solid_c, hoped);
    cold.iter()
        .flat_map(|c| {
            solid
                .iter()
                .map(move |s| (c.0.max(s.0), c.1, s.0 <= c.1 && s.1 >= c.0))
        })
        .filter_map(|(from, to, touch)| touch.then_some((from, to)))
        .collect()
}
