//! A judgement for programs: contract 1.

use logger::Problem;
use safety::Judgement;
use safety::judge::RULES;
use serde_json::{Value, json};

use super::Judged;
use super::log::answered_by;

/// The names of the rules and what each asks.
pub(super) fn rules() -> Value {
    let list: Vec<Value> = RULES
        .iter()
        .map(|(name, asks, _)| json!({ "rule": name, "asks": asks }))
        .collect();
    json!({ "contract": 1, "rules": list })
}

/// Everything that was judged.
pub(super) fn judged(judged: &Judged) -> Value {
    let log = &judged.log;
    let channels: Vec<Value> = log
        .history
        .channels
        .iter()
        .map(|c| {
            json!({
                "name": c.name,
                "rows": c.readings.len(),
                "readings": c.readings.iter().filter(|r| r.value.is_some()).count(),
            })
        })
        .collect();
    let span = log.span();
    json!({
        "contract": 1,
        "place": judged.place.word(),
        "state": judged.state.map(safety::rules::State::word),
        "place_named": judged.place_named,
        "gap_min": judged.gap.map(|gap| gap.minutes()),
        "verdicts": judged.answers.iter().map(|j| one(j, &|at| log.instant(at))).collect::<Vec<_>>(),
        "file": {
            "name": log.name,
            "zone_named": !log.one_clock,
            "from": span.and_then(|(from, _)| log.instant(from)),
            "hours": span.map(|(from, until)| (until - from) as f64 / 3600.0),
            "until": span.and_then(|(_, until)| log.instant(until)),
            "channels": channels,
            "remarks": log.remarks.iter().map(|r| json!({
                "line": r.line, "column": r.column, "found": r.found, "done": r.done,
            })).collect::<Vec<_>>(),
        },
    })
}

/// What is wrong with a file, or asked about it.
pub(super) fn problems(name: &str, wrong: &[Problem]) -> Value {
    let list: Vec<Value> = wrong
        .iter()
        .map(|p| {
            json!({
                "line": p.line, "column": p.column, "found": p.found, "expected": p.expected,
                "do_now": p.do_now, "answered_by": p.asks.map(answered_by),
            })
        })
        .collect();
    json!({ "contract": 1, "file": name, "problems": list })
}

/// One judgement; `instant` says a moment for programs.
pub(crate) fn one(j: &Judgement, instant: &dyn Fn(i64) -> Option<String>) -> Value {
    json!({
        "rule": j.rule,
        "verdict": j.verdict.word(),
        "asks": j.asks,
        "value": j.value,
        "limit": j.limit,
        "unit": j.unit,
        "margin": j.margin,
        "counted": j.base,
        "measured": j.place,
        "readings": j.evidence.iter().map(|e| json!({
            "part": e.part.words(), "channel": e.channel, "at": e.at_s.and_then(instant),
            "value": e.value, "unit": e.unit,
        })).collect::<Vec<_>>(),
        "next": j.next,
        "source": j.source.title,
        "status": j.status().words(),
        "holds": j.holds.words(),
    })
}
