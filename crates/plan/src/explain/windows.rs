//! Windows computed from what a step is to reach.

use sources::{Citation, list};

use crate::figures::Figures;
use crate::whole::Plan;

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    for w in &plan.windows {
        let Ok(span) = &w.window else { continue };
        let id = |s: &str| format!("{}.{}.computed.{s}", w.component, w.step);
        let from: Vec<String> = ["thickness_written", "thickness", "base_g", "core"]
            .iter()
            .map(|k| format!("{}.{}.{k}", w.component, w.step))
            .filter(|k| f.get(k).is_some())
            .collect();
        let from: Vec<&str> = from.iter().map(String::as_str).collect();
        let model = Citation {
            source: &list::COMPUTED,
            place: w.model.to_owned(),
        };
        let model_id = id("model");
        f.leaf(&model_id, 1.0, "model", 0, &model);
        for (key, time, what) in [
            ("thin_h", Some(span.thin), "the thinnest piece is there"),
            ("nominal_h", Some(span.nominal), "the usual piece is there"),
            (
                "earliest_h",
                Some(span.thick),
                "the thickest piece is there, and so are all",
            ),
            ("best_h", Some(span.best), "best"),
            ("latest_h", span.latest, "the thinnest is past the goal"),
            (
                "thick_if_slow_h",
                span.thick_if_slow,
                "the thickest piece, were the diffusivity at the slow end of its spread",
            ),
        ] {
            let Some(time) = time else { continue };
            let mut from = from.clone();
            from.push(&model_id);
            f.derived(
                &id(key),
                time.hours(),
                "h",
                1,
                &format!("{}: {what}", w.goal),
                &from,
            );
        }
        if let Some(p) = w.places {
            let after = format!("thickest piece after {}", p.waited);
            for (key, pct, place) in [
                ("mean_wps_pct", p.mean_pct, "mean"),
                ("surface_wps_pct", p.surface_pct, "surface"),
                ("core_wps_pct", p.core_pct, "where salt comes last"),
            ] {
                f.derived(
                    &id(key),
                    pct,
                    "%",
                    2,
                    &format!("{after}: {place}"),
                    &[&model_id],
                );
                f.of(&id(key), "water phase");
            }
        }
    }
}
