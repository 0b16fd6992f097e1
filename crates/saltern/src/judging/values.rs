//! A judgement for programs: contract 1.

use safety::Judgement;
use safety::judge::RULES;
use serde_json::{Value, json};

use super::Judged;

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
        "place_named": judged.place_named,
        "gap_min": judged.gap.map(|gap| gap.minutes()),
        "verdicts": judged.answers.iter().map(one).collect::<Vec<_>>(),
        "file": {
            "name": log.name,
            "zone_named": !log.one_clock,
            "from": span.map(|(from, _)| log.clock(from)),
            "hours": span.map(|(from, until)| (until - from) as f64 / 3600.0),
            "until": span.map(|(_, until)| log.clock(until)),
            "channels": channels,
            "remarks": log.remarks.iter().map(|r| json!({
                "line": r.line, "column": r.column, "found": r.found, "done": r.done,
            })).collect::<Vec<_>>(),
        },
    })
}

fn one(j: &Judgement) -> Value {
    json!({
        "rule": j.rule,
        "verdict": j.verdict.word(),
        "asks": j.asks,
        "value": j.value,
        "limit": j.limit,
        "unit": j.unit,
        "margin": j.margin,
        "measured": j.place,
        "next": j.next,
        "source": j.source.title,
        "status": j.source.status.words(),
    })
}
