//! What a core's whole history is worth against a kill target: beside the cook rules, never in place of them.

use kitchen::site::RuleSet;
use science::lethality::{LISTERIA, NONPROTEOLYTIC_UK, NONPROTEOLYTIC_US, Reference, of_readings};
use units::{Elapsed, Temperature};

use super::figure::{Finding, row, verdict};
use super::probes::{Probes, Track};
use super::{HOLD_GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Side};

/// Hottest a core with water in it can be and a kill curve is given for, °C.
const HOTTEST_C: f64 = 150.0;

/// A million times fewer *Listeria monocytogenes*: 2 min at 70 °C, z 7.5 °C, or as much at other temperatures.
///
/// # Source
/// `lethality.lm6d` (from memory: it can break a verdict, never show one).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing; a core above 150 °C.
pub fn listeria_6d(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    worth("listeria-6d", "lethality.lm6d", &LISTERIA, history, terms)
}

/// A million times fewer spores of non-proteolytic *C. botulinum*: 10 min at 90 °C, or as much at other temperatures.
///
/// Below 90 °C the UK text asks less than the US one (z 9 and z 7 °C): England is judged by its own, everybody else by the
/// stricter.
///
/// # Source
/// `lethality.npcb6d.fda` (from memory), `lethality.npcb6d.uk` (read).
/// # Errors
/// As [`listeria_6d`].
pub fn botulinum_6d(history: &History, terms: &Terms) -> Result<Judgement, Refusal> {
    let (id, reference) = match terms.place {
        RuleSet::England => ("lethality.npcb6d.uk", &NONPROTEOLYTIC_UK),
        RuleSet::Us | RuleSet::Canada | RuleSet::Eu => ("lethality.npcb6d.fda", &NONPROTEOLYTIC_US),
    };
    worth("botulinum-6d", id, reference, history, terms)
}

fn worth(
    rule: &'static str,
    id: &str,
    reference: &Reference,
    history: &History,
    terms: &Terms,
) -> Result<Judgement, Refusal> {
    let row = row(id, terms)?;
    let least_min = row.value()?;
    let at_c = row.number("t_ref_c")?;
    let probes = Probes::of(history, terms, HOLD_GAP_MIN)?;
    let least = probes
        .tracks
        .iter()
        .filter(|t| t.readings.len() > 1)
        .map(|t| Ok((t, minutes(&probes, t, reference)?)))
        .collect::<Result<Vec<_>, Refusal>>()?
        .into_iter()
        .min_by(|a, b| a.1.total_cmp(&b.1));
    // In a gap the core may have been anything: what is known can then neither break nor show.
    let lacking = probes.uncovered();
    let short = lacking.is_none() && least.is_some_and(|(_, min)| min < least_min);
    Ok(Finding {
        rule,
        asks: format!("worth {least_min} min at {at_c} °C: {}", reference.name),
        verdict: verdict(short, lacking.as_ref()),
        value: least.map(|(_, min)| min),
        limit: least_min,
        side: Side::AtLeast,
        unit: "min",
        base: format!("minutes at {at_c} °C that the whole history of the coldest probe is worth"),
        place: least.map_or_else(
            || "no reading".to_owned(),
            |(t, _)| format!("{}, the probe worth least of {}; it counts beside the cook rule and not in its place", t.name, probes.tracks.len()),
        ),
        evidence: least.map_or_else(Vec::new, |(t, _)| probes.told_track(t, Side::AtMost, at_c)),
        mend: "keep heating; what it has earned so far still counts",
        lacking,
    }
    .against(&row))
}

/// Minutes at the reference temperature that one probe's readings are worth.
///
/// # Errors
/// A core above 150 °C.
pub(super) fn minutes(
    probes: &Probes,
    track: &Track,
    reference: &Reference,
) -> Result<f64, Refusal> {
    if let Some(hot) = track.readings.iter().find(|r| r.1 > HOTTEST_C) {
        return Err(Refusal::Impossible {
            channel: track.name.clone(),
            at_s: probes.moment(hot.0),
            value: hot.1,
            unit: "°C",
            least: -200.0,
            most: HOTTEST_C,
        });
    }
    let readings = track
        .readings
        .iter()
        .map(|(at, c)| {
            Some((
                Elapsed::from_seconds(*at as i64).ok()?,
                Temperature::celsius(*c).ok()?,
            ))
        })
        .collect::<Option<Vec<_>>>();
    readings
        .and_then(|r| of_readings(r, reference).ok())
        .map(|l| l.minutes)
        .ok_or_else(|| Refusal::Terms {
            found: format!("{}: readings a kill curve cannot take", track.name),
            expected: "two readings or more, each later than the one before",
        })
}
