//! Time in place of temperature: how long food was out, and what it was when it went out.

use super::figure::{Finding, row, verdict};
use super::probes::{Probes, span};
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Evidence, Judgement, Side};

/// Four hours without control, from food that was cold or hot. The log runs from leaving the cold (or
/// the heat) to serving or the bin.
///
/// # Source
/// `hold.tphc.4h` (read).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn time_4h(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("hold.tphc.4h", terms)?;
    let (cold_c, hot_c, most_h) = (
        row.number("start_max_c")?,
        row.number("start_min_c")?,
        row.value()?,
    );
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let (first, lacking) = starts(&probes);
    let bad_start = first.iter().any(|c| *c > cold_c && *c < hot_c);
    Ok(finding(
        "time-4h",
        format!("{most_h} h at most, from ≤ {cold_c} or ≥ {hot_c} °C"),
        most_h,
        &probes,
        bad_start,
        lacking,
        ends(&probes),
    )
    .against(&row))
}

/// Six hours without control, from cold food that is never above 21 °C.
///
/// # Source
/// `hold.tphc.6h` (from memory: it can break a verdict, never show one).
/// # Errors
/// As [`time_4h`].
pub fn time_6h(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let row = row("hold.tphc.6h", terms)?;
    let (cold_c, never_c, most_h) = (
        row.number("start_max_c")?,
        row.number("never_above_c")?,
        row.value()?,
    );
    let probes = Probes::of(history, terms, GAP_MIN)?;
    let (first, lacking) = starts(&probes);
    let bad = first.iter().any(|c| *c > cold_c)
        || probes
            .tracks
            .iter()
            .flat_map(|t| &t.readings)
            .any(|r| r.1 > never_c);
    let lacking = lacking.or_else(|| probes.uncovered());
    Ok(finding(
        "time-6h",
        format!("{most_h} h at most, from ≤ {cold_c} °C, never above {never_c} °C"),
        most_h,
        &probes,
        bad,
        lacking,
        probes.told_worst(Side::AtMost, never_c),
    )
    .against(&row))
}

/// What every probe read when the food went out, and what is missing of that.
fn starts(probes: &Probes) -> (Vec<f64>, Option<String>) {
    let mut lacking = (probes.missing > 0 || probes.tracks.is_empty())
        .then(|| "a probe is not in the log".to_owned());
    let mut first = Vec::new();
    for track in &probes.tracks {
        match track
            .readings
            .first()
            .filter(|r| probes.joined(probes.from_s, r.0))
        {
            Some(reading) => first.push(reading.1),
            None => lacking = Some(format!("{}: no reading when the food went out", track.name)),
        }
    }
    (first, lacking)
}

/// The first and last reading of every probe.
fn ends(probes: &Probes) -> Vec<Evidence> {
    probes
        .tracks
        .iter()
        .flat_map(|t| probes.told(t, &[]))
        .collect()
}

fn finding(
    rule: &'static str,
    asks: String,
    most_h: f64,
    probes: &Probes,
    bad: bool,
    lacking: Option<String>,
    evidence: Vec<Evidence>,
) -> Finding {
    let hours = probes.length_s() / 3600.0;
    Finding {
        rule,
        asks,
        verdict: verdict(bad || hours > most_h, lacking.as_ref()),
        value: (!probes.tracks.is_empty()).then_some(hours),
        limit: most_h,
        side: Side::AtMost,
        unit: "h",
        base: "from the first row of the log to the last".to_owned(),
        evidence,
        place: format!(
            "{} from the first row to the last{}",
            span(probes.length_s()),
            if bad {
                "; the temperatures asked for were not kept"
            } else {
                ""
            }
        ),
        mend: "discard it: time was the only control",
        lacking,
    }
}
