//! Ways out for programs.

use serde_json::{Value, json};

use super::{Tried, Way, WaysOut};
use crate::figures::decimal_to_f64;
use crate::setting::Setting;

/// Contract 1: null where there is a clock, or where nobody looked.
#[must_use]
pub fn json(ways: Option<&WaysOut>) -> Value {
    let Some(ways) = ways else { return Value::Null };
    json!({
        "ways": ways.ways.iter().map(way).collect::<Vec<_>>(),
        "others": ways.others.iter().map(tried).collect::<Vec<_>>(),
        "plans": ways.plans,
        "cut_short": ways.cut_short,
    })
}

fn settings(all: &[Setting]) -> Vec<String> {
    all.iter().map(ToString::to_string).collect()
}

fn way(w: &Way) -> Value {
    json!({
        "sort": w.sort.word(),
        "what": w.what,
        "settings": settings(&w.settings),
        "status": w.status.word(),
        "food_by": decimal_to_f64(w.food_by.amount()),
        "labour_by": decimal_to_f64(w.labour_by.amount()),
        "consequences": w.consequences,
    })
}

fn tried(t: &Tried) -> Value {
    json!({
        "what": t.what,
        "settings": settings(&t.settings),
        "holds": t.why_not.is_none(),
        "why_not": t.why_not,
    })
}
