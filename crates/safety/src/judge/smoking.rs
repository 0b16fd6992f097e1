//! Cold smoking: how warm the chamber may be, and for how long.

use super::figure::{Finding, row, verdict};
use super::probes::{Probes, span};
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Side};

/// The chamber at or below 90 °F for at most 20 h, or at or below 50 °F for at most 24 h.
///
/// The channels named as air are the chamber's, and every one where none is named; from the start of drying to the end of smoking.
///
/// # Source
/// `smoked_fish.cold.chamber_20h` and `_24h` (a state's rule, read).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn cold_smoke(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let warm = row("smoked_fish.cold.chamber_20h", terms)?;
    let cold = row("smoked_fish.cold.chamber_24h", terms)?;
    let ways = [
        (warm.limit_c()?, warm.number("max_hours")?),
        (cold.limit_c()?, cold.number("max_hours")?),
    ];
    let probes = Probes::of_air(history, terms, GAP_MIN)?;
    let hours = probes.length_s() / 3600.0;
    let hottest = probes
        .tracks
        .iter()
        .flat_map(|t| &t.readings)
        .map(|r| r.1)
        .reduce(f64::max);
    let possible =
        |(limit_c, most_h): &&(f64, f64)| hours <= *most_h && hottest.is_none_or(|c| c <= *limit_c);
    let way = ways.iter().find(possible);
    let lacking = probes.uncovered();
    let verdict = verdict(way.is_none(), lacking.as_ref());
    let (limit_c, most_h) = *way.unwrap_or(if hours <= ways[0].1 {
        &ways[0]
    } else {
        &ways[1]
    });
    Ok(Finding {
        rule: "cold-smoke",
        asks: ways.map(|(c, h)| format!("chamber ≤ {c} °C for {h} h at most")).join(", or "),
        verdict,
        value: hottest,
        limit: limit_c,
        side: Side::AtMost,
        unit: "°C",
        base: "every reading of the chamber, from the start of drying to the end of smoking".to_owned(),
        evidence: probes.told_worst(Side::AtMost, limit_c),
        place: format!("hottest reading of the chamber over {}, held against the way that allows {most_h} h", span(probes.length_s())),
        mend: "a deviation: time and warmth together were too much; decide by your plan, and cool the chamber or shorten the smoke",
        lacking,
    }
    .against(&warm))
}
