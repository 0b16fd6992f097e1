//! Cooling: cooked food in two stages, and cold food made from what stood at room temperature.

use kitchen::site::RuleSet;

use super::figure::{Finding, Row, row};
use super::probes::{Probes, Track, span};
use super::{GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::{Judgement, Part, Side};
use crate::verdict::Verdict;

/// A temperature to be reached within a time of the clock's start.
#[derive(Debug, Clone, Copy)]
struct Step {
    to_c: f64,
    within_s: f64,
}

/// How far one probe got.
struct Run {
    verdict: Verdict,
    /// Seconds the step nearest its limit took (so far), and the step.
    took: Option<(f64, Step)>,
    /// The readings that started the clock and ended the steps.
    deciding: Vec<((f64, f64), Part)>,
    lacking: Option<String>,
}

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
    let asks = format!(
        "{from_c} → {}",
        steps
            .iter()
            .map(|s| format!("{} °C within {}", s.to_c, span(s.within_s)))
            .collect::<Vec<_>>()
            .join(", → ")
    );
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
    })
}

/// What starts the clock.
#[derive(Clone, Copy)]
enum Start {
    /// Falling below a temperature, °C.
    Falling(f64),
    /// The start of the period.
    Log,
}

/// When the clock starts: the moment, whether it is known, and the reading it starts at.
struct Clock {
    from_s: f64,
    known: bool,
    first: usize,
}

fn clock(probes: &Probes, track: &Track, start: Start) -> Option<Clock> {
    let Start::Falling(from_c) = start else {
        return Some(Clock {
            from_s: probes.from_s,
            known: true,
            first: 0,
        });
    };
    let falls = track
        .readings
        .windows(2)
        .position(|p| p[0].1 >= from_c && p[1].1 < from_c);
    match (falls, track.readings.first()) {
        (Some(i), _) => {
            let (hot_s, below_s) = (track.readings[i].0, track.readings[i + 1].0);
            // Across a gap the fall can have been as late as the reading after it.
            let joined = probes.joined(hot_s, below_s);
            Some(Clock {
                from_s: if joined { hot_s } else { below_s },
                known: joined,
                first: i,
            })
        }
        // The fall was before the log: what the log alone lasts can break the rule, not show it.
        (None, Some(&(at, value))) if value < from_c => Some(Clock {
            from_s: at,
            known: false,
            first: 0,
        }),
        _ => None,
    }
}

fn run(probes: &Probes, track: &Track, start: Start, steps: &[Step]) -> Run {
    let Some(clock) = clock(probes, track, start) else {
        let lacking = Some(format!(
            "{}: the fall below the start temperature is not in the log",
            track.name
        ));
        return Run {
            verdict: Verdict::NotShown,
            took: None,
            deciding: Vec::new(),
            lacking,
        };
    };
    let mut took: Option<(f64, Step)> = None;
    let (mut broken, mut lacking) = (false, None);
    let mut deciding: Vec<_> = track
        .readings
        .get(clock.first)
        .map(|r| (*r, Part::ClockStarts))
        .into_iter()
        .collect();
    for &step in steps {
        let passing = probes.first_at_most(track, clock.first, step.to_c);
        deciding.extend(passing.and_then(|p| {
            let at = track.readings.iter().find(|r| r.0 >= p.read_s)?;
            Some((*at, Part::Reached))
        }));
        let until = passing.map_or_else(
            || track.readings.last().map_or(clock.from_s, |r| r.0),
            |p| p.earliest_s.max(clock.from_s),
        );
        let seconds = until - clock.from_s;
        broken |= seconds > step.within_s;
        // A stage not reached yet has taken as long as the log lasts.
        let margin = |(s, step): &(f64, Step)| step.within_s - s;
        if took
            .as_ref()
            .is_none_or(|t| margin(&(seconds, step)) < margin(t))
        {
            took = Some((seconds, step));
        }
        let gap = probes.gap_in(track, passing.map_or(f64::INFINITY, |p| p.read_s));
        lacking = lacking.or(gap).or_else(|| {
            passing
                .is_none()
                .then(|| format!("{}: {} °C is not reached in the log", track.name, step.to_c))
        });
    }
    if !clock.known {
        lacking = lacking.or_else(|| {
            Some(format!(
                "{}: the start of the fall is not in the log",
                track.name
            ))
        });
    }
    let verdict = match (broken, &lacking) {
        (true, _) => Verdict::Broken,
        (false, Some(_)) => Verdict::NotShown,
        (false, None) => Verdict::Shown,
    };
    Run {
        verdict,
        took,
        deciding,
        lacking,
    }
}

fn worst(
    rule: &'static str,
    asks: String,
    base: String,
    place: String,
    probes: &Probes,
    runs: Vec<(&Track, Run)>,
    steps: &[Step],
) -> Finding {
    let margin = |run: &Run| {
        run.took
            .map_or(f64::INFINITY, |(s, step)| step.within_s - s)
    };
    let worst = runs.into_iter().min_by(|(_, a), (_, b)| {
        a.verdict
            .cmp(&b.verdict)
            .then(margin(a).total_cmp(&margin(b)))
    });
    let lacking = probes.lacking();
    let whole = steps.last().map_or(0.0, |s| s.within_s);
    let (verdict, took, place, run_lacks, evidence) = match worst {
        Some((track, run)) => {
            let step = run
                .took
                .map(|(s, step)| format!("; {} °C at {} by {}", step.to_c, span(s), track.name));
            (
                run.verdict,
                run.took,
                format!("{place}{}", step.unwrap_or_default()),
                run.lacking,
                probes.told(track, &run.deciding),
            )
        }
        None => (Verdict::NotShown, None, place, None, Vec::new()),
    };
    Finding {
        rule,
        asks,
        verdict: if lacking.is_some() {
            verdict.min(Verdict::NotShown)
        } else {
            verdict
        },
        value: took.map(|(s, _)| s / 60.0),
        limit: took.map_or(whole, |(_, step)| step.within_s) / 60.0,
        side: Side::AtMost,
        unit: "min",
        base,
        place,
        evidence,
        mend: "a deviation: set the batch aside and decide with your plan; shallower pans, ice or a blast next time",
        lacking: run_lacks.or(lacking),
    }
}
