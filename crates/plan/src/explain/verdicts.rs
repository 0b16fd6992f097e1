//! Values, limits and margins of the verdicts.

use sources::Citation;

use crate::figures::{Figure, Figures, Value};
use crate::verdicts::Verdict;
use crate::whole::Plan;

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    for v in &plan.verdicts {
        let j = &v.judgement;
        let id = |s: &str| format!("verdict.{}.{s}", v.id);
        let source = Citation {
            source: j.source,
            place: j.asks.clone(),
        };
        number(v, &id, &source, f);
        f.put(Figure {
            id: id("rule"),
            value: Value::Word(j.asks.clone()),
            unit: String::new(),
            base: None,
            from: Vec::new(),
            formula: String::new(),
            source: format!(
                "{} ({}; {})",
                j.source.title,
                j.status().words(),
                j.holds.words()
            ),
            places: 0,
        });
        // The word itself, which every verdict has, opens what it stands on.
        let stands_on: Vec<String> = ["rule", "value", "limit", "margin"]
            .iter()
            .map(|part| id(part))
            .filter(|part| f.get(part).is_some())
            .collect();
        f.put(Figure {
            id: format!("verdict.{}", v.id),
            value: Value::Word(j.verdict.word().to_owned()),
            unit: String::new(),
            base: None,
            from: stands_on,
            formula: format!("{}; next: {}", j.place, j.next),
            source: String::new(),
            places: 0,
        });
    }
}

/// Value, limit and margin, where the rule has numbers.
fn number(v: &Verdict, id: &dyn Fn(&str) -> String, source: &Citation, f: &mut Figures) {
    let j = &v.judgement;
    let Some(limit) = j.limit else { return };
    f.leaf(&id("limit"), limit, j.unit, 2, source);
    let (Some(value), Some(margin)) = (j.value, j.margin) else {
        return;
    };
    let from: Vec<&str> = v
        .from
        .iter()
        .map(String::as_str)
        .filter(|x| f.get(x).is_some())
        .collect();
    f.derived(&id("value"), value, j.unit, 2, &j.place, &from);
    f.derived(
        &id("margin"),
        margin,
        j.unit,
        2,
        "how far inside the limit; negative is outside",
        &[&id("value"), &id("limit")],
    );
}
