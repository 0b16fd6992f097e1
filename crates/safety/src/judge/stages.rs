//! Stages of a fall in temperature: from a clock that starts once, each within its time.

use super::figure::{Finding, verdict};
use super::probes::{Probes, Track, span};
use crate::judgement::{Part, Side};
use crate::verdict::Verdict;

/// A temperature to be reached within a time.
#[derive(Debug, Clone, Copy)]
pub(super) struct Step {
    pub(super) to_c: f64,
    pub(super) within_s: f64,
    pub(super) from: From,
}

/// What the time of a step is counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum From {
    /// The start of the clock.
    Clock,
    /// The end of the step before.
    Before,
}

/// How far one probe got.
pub(super) struct Run {
    verdict: Verdict,
    /// Seconds the step nearest its limit took (so far), and the step.
    took: Option<(f64, Step)>,
    /// The readings that started the clock and ended the steps.
    deciding: Vec<((f64, f64), Part)>,
    lacking: Option<String>,
}

/// What starts the clock.
#[derive(Clone, Copy)]
pub(super) enum Start {
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

pub(super) fn run(probes: &Probes, track: &Track, start: Start, steps: &[Step]) -> Run {
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
    // Latest moment the step before can have ended; `None` while it has not.
    let mut before = Some(clock.from_s);
    for &step in steps {
        let passing = probes.first_at_most(track, clock.first, step.to_c);
        deciding.extend(passing.and_then(|p| {
            let at = track.readings.iter().find(|r| r.0 >= p.read_s)?;
            Some((*at, Part::Reached))
        }));
        let start = match step.from {
            From::Clock => Some(clock.from_s),
            From::Before => before,
        };
        if let Some(start) = start {
            let until = passing.map_or_else(
                || track.readings.last().map_or(start, |r| r.0),
                |p| p.earliest_s,
            );
            let seconds = until.max(start) - start;
            broken |= seconds > step.within_s;
            // A stage not reached yet has taken as long as the log lasts.
            let margin = |(s, step): &(f64, Step)| step.within_s - s;
            if took
                .as_ref()
                .is_none_or(|t| margin(&(seconds, step)) < margin(t))
            {
                took = Some((seconds, step));
            }
        }
        before = passing.map(|p| p.latest_s.max(clock.from_s));
        let gap = probes.gap_in(track, passing.map_or(f64::INFINITY, |p| p.read_s));
        lacking = lacking.or(gap).or_else(|| {
            passing.is_none().then(|| {
                format!(
                    "{}: {} °C is not reached in the log",
                    track.name,
                    shortly(step.to_c)
                )
            })
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
    let verdict = verdict(broken, lacking.as_ref());
    Run {
        verdict,
        took,
        deciding,
        lacking,
    }
}

pub(super) fn worst(
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
            let step = run.took.map(|(s, step)| {
                format!(
                    "; {} °C at {} by {}",
                    shortly(step.to_c),
                    span(s),
                    track.name
                )
            });
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

/// What the steps ask, in words.
pub(super) fn asks(from_c: f64, steps: &[Step]) -> String {
    let steps: Vec<String> = steps
        .iter()
        .map(|s| {
            format!(
                "{} °C within {}{}",
                shortly(s.to_c),
                span(s.within_s),
                if s.from == From::Before { " more" } else { "" }
            )
        })
        .collect();
    format!("{} → {}", shortly(from_c), steps.join(", → "))
}

/// A temperature to a tenth, without a bare ".0".
pub(super) fn shortly(c: f64) -> String {
    format!("{}", (c * 10.0).round() / 10.0)
}
