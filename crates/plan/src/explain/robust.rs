//! How sturdy the clock is, as figures.

use sources::Citation;

use crate::figures::Figures;
use crate::robust::{SEED, Used};
use crate::whole::Plan;

#[allow(clippy::cast_precision_loss)]
pub(super) fn put(plan: &Plan, f: &mut Figures) {
    let Some(r) = &plan.robust else { return };
    let drawn = Citation {
        source: &sources::list::HOUSE,
        place: format!(
            "days drawn with seed {SEED}: each length a triangle from low over usual to high; lived through without re-planning"
        ),
    };
    for (name, used) in [("hands", &r.hands), ("programme", &r.programme)] {
        let Used { low, high, source } = used;
        f.leaf(
            &format!("robust.{name}_low_pct"),
            low * 100.0,
            "%",
            0,
            source,
        );
        f.leaf(
            &format!("robust.{name}_high_pct"),
            high * 100.0,
            "%",
            0,
            source,
        );
    }
    f.leaf("robust.draws", r.draws as f64, "days", 0, &drawn);
    let spread = [
        "robust.draws",
        "robust.hands_low_pct",
        "robust.hands_high_pct",
        "robust.programme_low_pct",
        "robust.programme_high_pct",
    ];
    f.derived(
        "robust.met",
        r.met as f64,
        "days",
        0,
        "drawn days on which every wait, hour and shift still holds",
        &spread,
    );
    f.derived(
        "robust.chance_pct",
        r.chance() * 100.0,
        "%",
        1,
        "met ÷ draws",
        &["robust.met", "robust.draws"],
    );
    f.derived(
        "robust.error_pct",
        r.error * 100.0,
        "%",
        1,
        "√(chance × (1 − chance) ÷ draws)",
        &["robust.chance_pct", "robust.draws"],
    );
    for t in &r.threats {
        f.derived(
            &format!("robust.threat.{}", t.task),
            t.days as f64,
            "days",
            0,
            "drawn days it was behind something broken, by taking other than planned",
            &["robust.draws"],
        );
    }
    if let Some(b) = &r.bought {
        f.derived(
            "robust.met_before",
            b.met_before as f64,
            "days",
            0,
            "the same days without allowances",
            &spread,
        );
        f.derived(
            "robust.allowance_person_min",
            b.person_minutes as f64,
            "min",
            0,
            "minutes allowed beyond the usual × people booked for them",
            &["robust.met"],
        );
    }
}
