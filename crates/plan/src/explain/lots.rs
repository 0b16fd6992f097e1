//! What the lots are made of.

use kitchen::step::{BaseKind, FeedFrom};
use kitchen::verb::Loses;

use super::book;
use crate::demand::Component;
use crate::figures::{Figures, number};
use crate::lot::Lots;
use crate::make::Plan;

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    for (c, lots) in plan.components.iter().zip(&plan.lots) {
        steps(plan, c, lots, f);
        ends(plan, c, lots, f);
    }
}

fn steps(plan: &Plan, c: &Component, lots: &Lots, f: &mut Figures) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else { return };
    for (i, (step, lot)) in recipe.steps.iter().zip(&lots.after).enumerate() {
        let id = |s: &str| format!("{}.{}.{s}", c.recipe, step.id);
        let before: Vec<String> = step
            .feeds
            .iter()
            .filter_map(|x| match &x.from {
                FeedFrom::Step(s) => Some(format!("{}.{s}", c.recipe)),
                _ => None,
            })
            .collect();
        let loss = match (step.base.kind, step.loses) {
            (BaseKind::Cover(_), _) => "shared evenly over vegetable and liquor",
            (BaseKind::Made, _) => "sum of the lines",
            (_, Loses::Water) => "before, plus what is kept of the cure; only water leaves",
            (_, Loses::Substance) => "before; the lot is cut down as a whole",
        };
        for (key, g) in [("salt_g", lot.salt_g), ("water_g", lot.water_g), ("sugar_g", lot.sugar_g), ("acetic_g", lot.acetic_g)] {
            let Some(g) = g.filter(|g| *g > 0.0) else { continue };
            let mut from: Vec<String> = before.iter().map(|b| format!("{b}.{key}")).filter(|x| f.get(x).is_some()).collect();
            from.push(id("out_g"));
            if let (Some(keeps), "salt_g") = (step.keeps.and_then(|k| k.salt), key) {
                let kept = id("keeps_salt");
                f.leaf(&kept, keeps * 100.0, "%", 0, &book(&format!("recipe {}, step {}: salt kept of salt added", c.recipe, step.id)));
                from.push(kept);
                from.extend(
                    step.lines
                        .iter()
                        .map(|l| id(super::masses::item_of(&l.item).as_str()))
                        .filter(|x| f.get(x).is_some()),
                );
            }
            if before.is_empty() {
                if let (Some(start), "water_g") = (c.start.as_ref().filter(|s| s.step == i), key) {
                    let item = plan.scene.book.ingredients.get(&start.item);
                    if let Some((w, comp)) = item.and_then(|x| x.composition.as_ref()).and_then(|x| x.water.map(|w| (w, x))) {
                        let leaf = id("water_pct_of_flesh");
                        f.leaf(&leaf, w, "%", 1, &comp.source);
                        from.push(leaf);
                    }
                }
            }
            f.derived(&id(key), g, "g", 1, loss, &from.iter().map(String::as_str).collect::<Vec<_>>());
        }
        if let Some(n) = lots.nitrite.iter().find(|n| n.step == i) {
            let salts: Vec<String> = step
                .lines
                .iter()
                .filter(|l| {
                    let item = super::masses::item_of(&l.item);
                    plan.scene.book.ingredients.get(item).is_some_and(|x| x.nitrite_pct() > 0.0)
                })
                .map(|l| id(super::masses::item_of(&l.item).as_str()))
                .collect();
            let mut from: Vec<&str> = salts.iter().map(String::as_str).collect();
            let base = id("base_g");
            from.push(&base);
            f.derived(&id("nitrite_ppm"), n.ppm, "ppm NaNO2", 2, &n.formula, &from);
            f.of(&id("nitrite_ppm"), step.base.name.name());
            f.derived(
                &id("nitrite_ion_mg_kg"),
                n.ion,
                "mg/kg ion",
                1,
                "ppm NaNO2 × 46.005 ÷ 68.995",
                &[&id("nitrite_ppm")],
            );
        }
        salt_of_green(plan, c, i, f);
    }
}

/// Total salt on the base, the carrier of curing salt counted.
fn salt_of_green(plan: &Plan, c: &Component, i: usize, f: &mut Figures) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else { return };
    let (step, flow) = (&recipe.steps[i], &c.flows[i]);
    if matches!(step.base.kind, BaseKind::Made) || flow.base_g <= 0.0 {
        return;
    }
    let id = |s: &str| format!("{}.{}.{s}", c.recipe, step.id);
    let (mut salt, mut from, mut kinds) = (0.0, Vec::new(), 0);
    for (line, g) in step.lines.iter().zip(&flow.lines) {
        let item = super::masses::item_of(&line.item);
        let pct = plan.scene.book.ingredients.get(item).map_or(0.0, kitchen::ingredient::Ingredient::salt_pct);
        if pct > 0.0 {
            kinds += 1;
            salt += g.made_g * pct / 100.0;
            from.push(id(item.as_str()));
        }
    }
    if kinds > 1 {
        from.push(id("base_g"));
        f.derived(
            &id("salt_total_pct"),
            salt / flow.base_g * 100.0,
            "%",
            3,
            "salt and the salt that carries the nitrite, over the base",
            &from.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        f.of(&id("salt_total_pct"), step.base.name.name());
    }
}

fn ends(plan: &Plan, c: &Component, lots: &Lots, f: &mut Figures) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else { return };
    let last = recipe.last();
    let Some(lot) = lots.after.get(last) else { return };
    let step = recipe.steps[last].id.as_str();
    let id = |s: &str| format!("{}.lot.{s}", c.recipe);
    let made = format!("{}.made_g", c.recipe);
    for (key, pct, g) in [
        ("salt_pct", lot.salt_pct(), "salt_g"),
        ("water_pct", lot.water_pct(), "water_g"),
        ("sugar_pct", lot.sugar_pct(), "sugar_g"),
        ("acetic_pct", lot.acetic_pct(), "acetic_g"),
    ] {
        let grams = format!("{}.{step}.{g}", c.recipe);
        if let (Some(pct), true) = (pct, f.get(&grams).is_some()) {
            f.derived(&id(key), pct, "%", 2, &format!("{} ÷ all of it", g.trim_end_matches("_g")), &[&grams, &made]);
            f.of(&id(key), "finished lot, mean");
        }
    }
    let (salt, water) = (format!("{}.{step}.salt_g", c.recipe), format!("{}.{step}.water_g", c.recipe));
    if let (Some(wps), true, true) = (lot.water_phase_salt_pct(), f.get(&salt).is_some(), f.get(&water).is_some()) {
        f.derived(
            &id("water_phase_salt_pct"),
            wps,
            "%",
            2,
            &format!(
                "salt {} g ÷ (salt + water {} g); mean of the lot, added salt only, never the core",
                number(lot.salt_g.unwrap_or(0.0), 1),
                number(lot.water_g.unwrap_or(0.0), 1)
            ),
            &[&salt, &water],
        );
        f.of(&id("water_phase_salt_pct"), "water phase, mean");
    }
}
