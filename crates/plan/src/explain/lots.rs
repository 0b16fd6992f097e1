//! What the lots are made of.

use kitchen::step::{BaseKind, FeedFrom};
use kitchen::verb::Loses;

use super::book;
use crate::demand::Component;
use crate::figures::{Figures, number};
use crate::lot::{Lot, Lots, NitriteIn};
use crate::whole::Plan;

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    for (c, lots) in plan.components.iter().zip(&plan.lots) {
        steps(plan, c, lots, f);
        ends(plan, c, lots, f);
    }
}

/// What is followed through the steps: figure key, grams of a lot, and the part of it kept of a mix.
type Followed = (&'static str, fn(&Lot) -> Option<f64>);

const FOLLOWED: [Followed; 4] = [
    ("salt_g", |l| l.salt_g),
    ("water_g", |l| l.water_g),
    ("sugar_g", |l| l.sugar_g),
    ("acetic_g", |l| l.acetic_g),
];

/// The figure that holds a substance after a step: the step's own, or that of the last step that changed it.
fn figure_of(plan: &Plan, c: &Component, step: usize, key: &str, f: &Figures) -> Option<String> {
    let recipe = plan.scene.book.recipes.get(&c.recipe)?;
    let id = format!("{}.{}.{key}", c.recipe, recipe.steps[step].id);
    if f.get(&id).is_some() {
        return Some(id);
    }
    recipe.steps[step].feeds.iter().find_map(|x| match &x.from {
        FeedFrom::Step(s) => recipe
            .position(s)
            .and_then(|at| figure_of(plan, c, at, key, f)),
        _ => None,
    })
}

fn steps(plan: &Plan, c: &Component, lots: &Lots, f: &mut Figures) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return;
    };
    for (i, (step, lot)) in recipe.steps.iter().zip(&lots.after).enumerate() {
        for (key, grams) in FOLLOWED {
            followed(plan, c, i, (key, grams), lots, f);
        }
        let _ = (step, lot);
        if let Some(n) = lots.nitrite.iter().find(|n| n.step == i) {
            nitrite(plan, c, i, n, f);
        }
        salt_of_green(plan, c, i, f);
    }
}

/// All nitrite gone in, and the same as ion.
fn nitrite_total(plan: &Plan, c: &Component, lots: &Lots, f: &mut Figures) {
    let (Some(recipe), Some(Ok(ppm))) =
        (plan.scene.book.recipes.get(&c.recipe), lots.nitrite_ppm())
    else {
        return;
    };
    let id = |s: &str| format!("{}.lot.{s}", c.recipe);
    let steps: Vec<String> = lots
        .nitrite
        .iter()
        .map(|n| format!("{}.{}.nitrite_ppm", c.recipe, recipe.steps[n.step].id))
        .collect();
    let from: Vec<&str> = steps.iter().map(String::as_str).collect();
    f.derived(
        &id("nitrite_ppm"),
        ppm,
        "ppm NaNO2",
        2,
        "all steps added up, ingoing",
        &from,
    );
    if let Some(ion) = units::Ppm::new(ppm)
        .ok()
        .and_then(|p| science::nitrite::as_ion(p).ok())
    {
        f.derived(
            &id("nitrite_ion_mg_kg"),
            ion.ppm(),
            "mg/kg ion",
            1,
            "ppm NaNO2 × 46.005 ÷ 68.995",
            &[&id("nitrite_ppm")],
        );
    }
}

/// Nitrite going in at one step.
fn nitrite(plan: &Plan, c: &Component, i: usize, n: &NitriteIn, f: &mut Figures) {
    let (Some(recipe), Ok(ppm)) = (plan.scene.book.recipes.get(&c.recipe), &n.ppm) else {
        return;
    };
    let step = &recipe.steps[i];
    let id = |s: &str| format!("{}.{}.{s}", c.recipe, step.id);
    let brings = |item: &kitchen::Id| match plan.scene.book.ingredients.get(item) {
        Some(x) => x.nitrite_pct() > 0.0,
        None => true,
    };
    let lines: Vec<String> = step
        .lines
        .iter()
        .map(|l| l.item.id())
        .filter(|item| brings(item))
        .map(|item| id(item.as_str()))
        .collect();
    let mut from: Vec<&str> = lines
        .iter()
        .map(String::as_str)
        .filter(|x| f.get(x).is_some())
        .collect();
    let base = id("base_g");
    from.push(&base);
    f.derived(&id("nitrite_ppm"), *ppm, "ppm NaNO2", 2, &n.formula, &from);
    f.of(&id("nitrite_ppm"), step.base.name.name());
}

/// One substance after one step, when the step changed it.
fn followed(
    plan: &Plan,
    c: &Component,
    i: usize,
    (key, grams): Followed,
    lots: &Lots,
    f: &mut Figures,
) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return;
    };
    let (step, flow) = (&recipe.steps[i], &c.flows[i]);
    let Some(now) = lots.after.get(i).and_then(grams).filter(|g| *g > 0.0) else {
        return;
    };
    let id = |s: &str| format!("{}.{}.{s}", c.recipe, step.id);
    let feeding = step.feeds.iter().find_map(|x| match &x.from {
        FeedFrom::Step(s) => recipe.position(s),
        _ => None,
    });
    let before = feeding
        .and_then(|at| lots.after.get(at))
        .and_then(grams)
        .unwrap_or(0.0);
    let earlier = feeding.and_then(|at| figure_of(plan, c, at, key, f));
    if earlier.is_some() && (now - before).abs() < 1e-9 {
        return;
    }
    let mut from: Vec<String> = earlier.into_iter().collect();
    let g = |x: f64| number(x, 1);
    // Only the lines that bring the substance in.
    let brings = |item: &kitchen::Id| {
        let Some(x) = plan.scene.book.ingredients.get(item) else {
            return true;
        };
        match key {
            "salt_g" => x.salt_pct() > 0.0,
            "sugar_g" => x.is_sugar(),
            "acetic_g" => x.acetic_pct() > 0.0,
            _ => true,
        }
    };
    let lines: Vec<String> = step
        .lines
        .iter()
        .map(|l| l.item.id())
        .filter(|item| brings(item))
        .map(|item| id(item.as_str()))
        .filter(|x| f.get(x).is_some())
        .collect();
    let keeps = step.keeps.and_then(|k| {
        if key == "salt_g" {
            k.salt
        } else if key == "sugar_g" {
            k.sugar
        } else {
            None
        }
    });
    let formula = match (step.base.kind, step.loses) {
        (BaseKind::Cover(_), _) => {
            from.extend(lines);
            from.push(id("out_g"));
            "liquor and vegetable share it evenly by weight".to_owned()
        }
        (BaseKind::Made, _) => {
            from.extend(lines);
            from.push(id("out_g"));
            "sum of the lines".to_owned()
        }
        _ if key != "water_g" && !lines.is_empty() && keeps.is_some() => {
            let kept = id(&format!("keeps_{}", key.trim_end_matches("_g")));
            let part = keeps.unwrap_or(0.0) * 100.0;
            f.leaf(
                &kept,
                part,
                "%",
                0,
                &book(&format!(
                    "recipe {}, step {}: kept of what is added",
                    c.recipe, step.id
                )),
            );
            from.push(kept);
            from.extend(lines);
            format!(
                "{} g before + {} % of what is added",
                g(before),
                number(part, 0)
            )
        }
        (_, Loses::Water) if key == "water_g" => {
            from.push(id("out_g"));
            from.push(id("in_g"));
            let solids = flow.in_g - flow.out_g - (before - now);
            let kept = if solids.abs() > 0.05 {
                format!(" − {} g of the mix taken up", g(-solids))
            } else {
                String::new()
            };
            format!(
                "{} g before + ({} g out − {} g in){kept}: only water leaves",
                g(before),
                g(flow.out_g),
                g(flow.in_g)
            )
        }
        _ if feeding.is_none() => {
            if let (Some(start), "water_g") = (c.start.as_ref().filter(|s| s.step == i), key) {
                let item = plan.scene.book.ingredients.get(&start.item);
                if let Some((w, source)) = item
                    .and_then(|x| x.composition.as_ref())
                    .and_then(|x| x.water.map(|w| (w, &x.source)))
                {
                    let leaf = id("water_pct_of_flesh");
                    f.leaf(&leaf, w, "%", 1, source);
                    from.push(leaf);
                }
            }
            from.push(id("out_g"));
            "its part of the edible weight".to_owned()
        }
        _ => {
            from.push(id("out_g"));
            format!(
                "{} g × {}: the lot is cut down as a whole",
                g(before),
                number(if before > 0.0 { now / before } else { 0.0 }, 3)
            )
        }
    };
    f.derived(
        &id(key),
        now,
        "g",
        1,
        &formula,
        &from.iter().map(String::as_str).collect::<Vec<_>>(),
    );
}

/// Total salt on the base, the carrier of curing salt counted.
fn salt_of_green(plan: &Plan, c: &Component, i: usize, f: &mut Figures) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return;
    };
    let (step, flow) = (&recipe.steps[i], &c.flows[i]);
    if matches!(step.base.kind, BaseKind::Made) || flow.base_g <= 0.0 {
        return;
    }
    let id = |s: &str| format!("{}.{}.{s}", c.recipe, step.id);
    let (mut salt, mut from, mut kinds) = (0.0, Vec::new(), 0);
    for (line, g) in step.lines.iter().zip(&flow.lines) {
        let item = line.item.id();
        let pct = plan
            .scene
            .book
            .ingredients
            .get(item)
            .map_or(0.0, kitchen::ingredient::Ingredient::salt_pct);
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
    nitrite_total(plan, c, lots, f);
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return;
    };
    let last = recipe.last();
    let Some(lot) = lots.after.get(last) else {
        return;
    };
    let id = |s: &str| format!("{}.lot.{s}", c.recipe);
    let made = format!("{}.made_g", c.recipe);
    for (key, pct, g) in [
        ("salt_pct", lot.salt_pct(), "salt_g"),
        ("water_pct", lot.water_pct(), "water_g"),
        ("sugar_pct", lot.sugar_pct(), "sugar_g"),
        ("acetic_pct", lot.acetic_pct(), "acetic_g"),
    ] {
        if let (Some(pct), Some(grams)) = (pct, figure_of(plan, c, last, g, f)) {
            f.derived(
                &id(key),
                pct,
                "%",
                2,
                &format!("{} ÷ all of it", g.trim_end_matches("_g")),
                &[&grams, &made],
            );
            f.of(&id(key), "finished lot, mean");
        }
    }
    let (salt, water) = (
        figure_of(plan, c, last, "salt_g", f),
        figure_of(plan, c, last, "water_g", f),
    );
    if let (Some(wps), Some(salt), Some(water)) = (lot.water_phase_salt_pct(), salt, water) {
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
