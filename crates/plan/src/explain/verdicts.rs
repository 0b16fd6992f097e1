//! Values, limits and margins of the verdicts.

use sources::Citation;

use crate::figures::Figures;
use crate::whole::Plan;

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    for v in &plan.verdicts {
        let j = &v.judgement;
        let id = |s: &str| format!("verdict.{}.{s}", v.id);
        let Some(limit) = j.limit else { continue };
        let source = Citation {
            source: j.source,
            place: j.asks.clone(),
        };
        f.leaf(&id("limit"), limit, j.unit, 2, &source);
        let (Some(value), Some(margin)) = (j.value, j.margin) else {
            continue;
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
}
