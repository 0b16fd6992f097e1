//! Covers, yields, weights.

use kitchen::step::{BaseKind, BoilOff, FeedFrom, LineAmount, LineItem, Step};

use super::{book, stated};
use crate::demand::{Component, Flow};
use crate::figures::{Figures, number};
use crate::whole::Plan;

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    let e = &plan.scene.event;
    let place = format!("event {}", e.id);
    f.leaf(
        "event.covers",
        f64::from(e.covers),
        "paid",
        0,
        &stated(plan, "covers", &place),
    );
    f.leaf(
        "event.spare",
        e.spare * 100.0,
        "%",
        1,
        &stated(plan, "spare", &place),
    );
    f.derived(
        "event.plates",
        plan.plates,
        "plates",
        0,
        "covers × (1 + spare), rounded up",
        &["event.covers", "event.spare"],
    );
    for c in &plan.components {
        component(plan, c, f);
    }
}

fn component(plan: &Plan, c: &Component, f: &mut Figures) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return;
    };
    let r = c.recipe.as_str();
    let id = |s: &str| format!("{r}.{s}");
    for (step, flow) in recipe.steps.iter().zip(&c.flows) {
        let key = format!("{r}.{}.yield", step.id);
        let source = if plan.scene.changes.iter().any(|s| s.key == key) {
            super::entered(&key)
        } else {
            step.yields.source.clone()
        };
        f.leaf(&key, step.yields.mean, "", 3, &source);
        let _ = flow;
    }
    let mut yields: Vec<String> = chain_steps(plan, c)
        .iter()
        .map(|s| format!("{r}.{s}.yield"))
        .collect();
    // A step that loses nothing is no factor worth reading.
    let all = yields.clone();
    yields.retain(|y| f.number(y).is_some_and(|n| (n - 1.0).abs() > 1e-12));
    if yields.is_empty() {
        yields = all;
    }
    let words: Vec<String> = yields
        .iter()
        .filter_map(|y| f.number(y))
        .map(|y| number(y, 3))
        .collect();
    f.derived(
        &id("chain"),
        c.chain,
        "",
        5,
        &words.join(" × "),
        &yields.iter().map(String::as_str).collect::<Vec<_>>(),
    );
    f.of(&id("chain"), "base of the formula, to the plate");
    if let Some(portion) = c.portion_g {
        f.leaf(
            &id("portion_g"),
            portion,
            "g",
            0,
            &stated(plan, &id("portion"), "dish"),
        );
        let plates = (c.portions - plan.plates).abs() < 1e-9;
        if plates {
            f.derived(
                &id("portions"),
                c.portions,
                "portions",
                0,
                "one a plate",
                &["event.plates"],
            );
        } else {
            f.derived(
                &id("portions"),
                c.portions,
                "portions",
                0,
                "counted as the dish says (covers or pairs, and spares)",
                &["event.covers"],
            );
        }
        let on_top = crate::specials::figures_on_top(&plan.specials, &c.recipe);
        let mut from = vec![id("portions"), id("portion_g")];
        let mut how = format!("{} × {} g", number(c.portions, 0), number(portion, 0));
        if !on_top.is_empty() {
            how.push_str(" + special plates");
            from.extend(on_top);
        }
        f.derived(
            &id("served_need_g"),
            c.served_need_g,
            "g",
            1,
            &how,
            &from.iter().map(String::as_str).collect::<Vec<_>>(),
        );
    } else if let (Some(start), true) = (&c.start, c.portions > 0.0) {
        f.derived(
            &id("portions"),
            c.portions,
            "pieces",
            0,
            "counted as the dish says (covers or pairs, and spares)",
            &["event.covers"],
        );
        let need = start.need_g;
        f.derived(
            &id("served_need_g"),
            c.served_need_g,
            "g",
            1,
            &format!("{} g at the start × every yield", number(need, 1)),
            &[&id("portions")],
        );
    } else {
        let mut users: Vec<String> = users(plan, c);
        users.extend(crate::specials::figures_on_top(&plan.specials, &c.recipe));
        f.derived(
            &id("served_need_g"),
            c.served_need_g,
            "g",
            1,
            "what the recipes that use it need",
            &users.iter().map(String::as_str).collect::<Vec<_>>(),
        );
    }
    let from = &c.flows[c.chain_from];
    f.derived(
        &id("base_need_g"),
        if matches!(recipe.steps[c.chain_from].base.kind, BaseKind::Made) {
            from.need_base_g
        } else {
            from.need_in_g
        },
        "g",
        1,
        &format!("{} g ÷ {}", number(c.served_need_g, 1), number(c.chain, 5)),
        &[&id("served_need_g"), &id("chain")],
    );
    f.of(
        &id("base_need_g"),
        recipe.steps[c.chain_from].base.name.name(),
    );
    if let Some(start) = &c.start {
        let before: Vec<String> = recipe.steps[start.step..c.chain_from.max(start.step)]
            .iter()
            .filter(|s| (s.yields.mean - 1.0).abs() > 1e-12)
            .map(|s| format!("{r}.{}.yield", s.id))
            .collect();
        let divided: String = before
            .iter()
            .filter_map(|y| f.number(y))
            .map(|y| format!(" ÷ {}", number(y, 3)))
            .collect();
        let base_need = f.number(&id("base_need_g")).unwrap_or(0.0);
        let mut from: Vec<&str> = before.iter().map(String::as_str).collect();
        let base = id("base_need_g");
        from.insert(0, &base);
        f.derived(
            &id("raw_need_g"),
            start.need_g,
            "g",
            1,
            &format!("{} g{divided}", number(base_need, 1)),
            &from,
        );
        f.of(&id("raw_need_g"), start.item.as_str());
    }
    for (i, (step, flow)) in recipe.steps.iter().zip(&c.flows).enumerate() {
        step_masses(plan, c, i, step, flow, f);
    }
    let last = &recipe.steps[recipe.last()];
    f.derived(
        &id("made_g"),
        c.made_g,
        "g",
        1,
        "what leaves the last step",
        &[&format!("{r}.{}.out_g", last.id)],
    );
    if let Some(portion) = c.portion_g {
        f.derived(
            &id("portions_made"),
            c.made_g / portion,
            "portions",
            1,
            &format!("{} g ÷ {} g", number(c.made_g, 1), number(portion, 0)),
            &[&id("made_g"), &id("portion_g")],
        );
    }
}

fn chain_steps(plan: &Plan, c: &Component) -> Vec<kitchen::Id> {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return Vec::new();
    };
    let mut at = c.chain_from;
    let mut steps = vec![recipe.steps[at].id.clone()];
    while let Some((next, _)) = recipe.takers(at).first() {
        steps.push(recipe.steps[*next].id.clone());
        at = *next;
    }
    steps
}

/// Figures of the lines and inflows that use a recipe's product.
fn users(plan: &Plan, c: &Component) -> Vec<String> {
    let mut users = Vec::new();
    for user in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&user.recipe) else {
            continue;
        };
        for step in &recipe.steps {
            if step
                .lines
                .iter()
                .any(|l| matches!(&l.item, LineItem::Recipe(x) if *x == c.recipe))
            {
                users.push(format!("{}.{}.{}", user.recipe, step.id, c.recipe));
            }
            if step
                .feeds
                .iter()
                .any(|x| matches!(&x.from, FeedFrom::Recipe(x) if *x == c.recipe))
            {
                users.push(format!("{}.{}.in_g", user.recipe, step.id));
            }
        }
    }
    users
}

fn step_masses(plan: &Plan, c: &Component, i: usize, step: &Step, flow: &Flow, f: &mut Figures) {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return;
    };
    let r = c.recipe.as_str();
    let id = |s: &str| format!("{r}.{}.{s}", step.id);
    if !step.feeds.is_empty() {
        let (mut from, mut words) = (Vec::new(), Vec::new());
        for feed in &step.feeds {
            match &feed.from {
                FeedFrom::Item { item, .. } => {
                    let through = c
                        .start
                        .as_ref()
                        .is_some_and(|s| s.step == i && (s.used_g - s.need_g).abs() > 1e-9);
                    if through {
                        from.push(format!("order.{item}.bought"));
                        words.push(format!("all of the {item} bought"));
                    } else {
                        from.push(format!("{r}.raw_need_g"));
                        words.push(format!("the {item} needed"));
                    }
                }
                FeedFrom::Step(s) => {
                    from.push(format!("{r}.{s}.out_g"));
                    words.push(format!("what leaves {s}"));
                }
                FeedFrom::Recipe(x) => {
                    from.push(format!("{x}.made_g"));
                    words.push(format!("{x}"));
                }
            }
        }
        // The starting item's need is only there when the component has one.
        from.retain(|x| !x.ends_with(".raw_need_g") || c.start.is_some());
        f.derived(
            &id("in_g"),
            flow.in_g,
            "g",
            1,
            &words.join(" + "),
            &from.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        f.of(&id("in_g"), step.base.name.name());
    }
    base(c, step, flow, f);
    let out_of = if matches!(step.base.kind, BaseKind::Made) {
        "base_g"
    } else {
        "in_g"
    };
    let weighed = plan
        .scene
        .weighed
        .iter()
        .any(|(x, s, _)| *x == recipe.id && *s == step.id);
    if weighed {
        f.leaf(
            &id("out_g"),
            flow.out_g,
            "g",
            1,
            &super::entered(&id("weighed")),
        );
    } else if (step.yields.mean - 1.0).abs() < 1e-12 {
        f.derived(
            &id("out_g"),
            flow.out_g,
            "g",
            1,
            "nothing is lost",
            &[&id(out_of)],
        );
    } else {
        f.derived(
            &id("out_g"),
            flow.out_g,
            "g",
            1,
            &format!(
                "{} g × {}",
                number(
                    if out_of == "in_g" {
                        flow.in_g
                    } else {
                        flow.base_g
                    },
                    1
                ),
                number(step.yields.mean, 3)
            ),
            &[&id(out_of), &id("yield")],
        );
    }
    lines(plan, c, step, flow, f);
}

fn base(c: &Component, step: &Step, flow: &Flow, f: &mut Figures) {
    let r = c.recipe.as_str();
    let id = |s: &str| format!("{r}.{}.{s}", step.id);
    let rounded = step.base.make_in.map_or_else(String::new, |m| {
        format!(", made in whole {} g", number(m.g(), 0))
    });
    match step.base.kind {
        BaseKind::Inflow => f.derived(
            &id("base_g"),
            flow.base_g,
            "g",
            1,
            "what flows in, weighed",
            &[&id("in_g")],
        ),
        BaseKind::Cover(ratio) => f.derived(
            &id("base_g"),
            flow.base_g,
            "g",
            1,
            &format!("{} g × {}{rounded}", number(flow.in_g, 1), number(ratio, 2)),
            &[&id("in_g")],
        ),
        BaseKind::Made => f.derived(
            &id("base_g"),
            flow.base_g,
            "g",
            1,
            &format!(
                "{} g ÷ {}{rounded}",
                number(flow.need_out_g, 1),
                number(step.yields.mean, 3)
            ),
            &[&format!("{r}.served_need_g"), &id("yield")],
        ),
    }
    f.of(&id("base_g"), step.base.name.name());
}

fn lines(plan: &Plan, c: &Component, step: &Step, flow: &Flow, f: &mut Figures) {
    let r = c.recipe.as_str();
    let id = |s: &str| format!("{r}.{}.{s}", step.id);
    let mut mix = Vec::new();
    let mut total = 0.0;
    for (line, g) in step.lines.iter().zip(&flow.lines) {
        let item = line.item.id().as_str();
        let key = id(item);
        let from = format!("recipe {}, step {}", c.recipe, step.id);
        match &line.amount {
            LineAmount::OfBase(pct) => {
                f.leaf(
                    &format!("{key}.pct"),
                    *pct,
                    "%",
                    2,
                    &stated(plan, &key, &from),
                );
                f.of(&format!("{key}.pct"), step.base.name.name());
                f.derived(
                    &key,
                    g.made_g,
                    "g",
                    2,
                    &format!("{} % × {} g", number(*pct, 2), number(flow.base_g, 1)),
                    &[&format!("{key}.pct"), &id("base_g")],
                );
                f.of(&key, step.base.name.name());
                mix.push(key.clone());
                total += g.made_g;
            }
            LineAmount::PerBatch(written) => {
                let note = line
                    .written
                    .as_ref()
                    .map_or_else(String::new, |w| format!(", written \"{w}\""));
                f.leaf(
                    &format!("{key}.written_g"),
                    written.g(),
                    "g",
                    2,
                    &book(&format!("{from}{note}")),
                );
                let for_g = step.base.written_for.map_or(flow.base_g, units::Mass::g);
                f.derived(
                    &key,
                    g.made_g,
                    "g",
                    2,
                    &format!(
                        "{} g × ({} g ÷ {} g written for)",
                        number(written.g(), 2),
                        number(flow.base_g, 0),
                        number(for_g, 0)
                    ),
                    &[&format!("{key}.written_g"), &id("base_g")],
                );
                mix.push(key.clone());
                total += g.made_g;
            }
            LineAmount::PerLoad(each) => {
                f.leaf(&format!("{key}.per_load_g"), each.g(), "g", 0, &book(&from));
                f.leaf(
                    &id("loads"),
                    f64::from(flow.loads),
                    "loads",
                    0,
                    &book("mass over the machine's capacity, rounded up"),
                );
                f.derived(
                    &key,
                    g.made_g,
                    "g",
                    0,
                    &format!("{} g × {} loads", number(each.g(), 0), flow.loads),
                    &[&format!("{key}.per_load_g"), &id("loads")],
                );
            }
            LineAmount::PerPiece(n) => {
                f.leaf(
                    &key,
                    g.made_g,
                    "pieces",
                    0,
                    &book(&format!(
                        "{from}: {} for each of {} pieces",
                        number(*n, 2),
                        number(c.pieces, 0)
                    )),
                );
            }
        }
        if g.hold_back_g > 0.0 {
            let start = line.start_with.unwrap_or(1.0);
            f.derived(
                &format!("{key}.hold_back_g"),
                g.hold_back_g,
                "g",
                2,
                &format!(
                    "{} g × (1 − {}): the batch is at least four times as written; taste, then add",
                    number(g.made_g, 2),
                    number(start, 2)
                ),
                &[&key],
            );
        }
        if g.boils_off_g > 0.0 {
            let how = match line.boils_off {
                Some(BoilOff::Part(part)) => format!(
                    "{} g × {} ÷ (1 − {})",
                    number(flow.base_g, 0),
                    number(part, 3),
                    number(part, 3)
                ),
                Some(BoilOff::Pan {
                    diameter,
                    time,
                    rate_g_cm2_h,
                }) => format!(
                    "pan {} mm: area {} cm² × {} g/(cm²·h) × {time}; it does not grow with the batch",
                    number(diameter.mm(), 0),
                    number(std::f64::consts::PI * (diameter.cm() / 2.0).powi(2), 1),
                    number(rate_g_cm2_h, 4)
                ),
                None => String::new(),
            };
            f.derived(
                &format!("{key}.boils_off_g"),
                g.boils_off_g,
                "g",
                1,
                &how,
                &[&id("base_g")],
            );
            f.derived(
                &format!("{key}.put_in_g"),
                g.made_g + g.boils_off_g,
                "g",
                1,
                "what stays and what boils off",
                &[&key, &format!("{key}.boils_off_g")],
            );
        }
    }
    if mix.len() > 1 {
        let from: Vec<&str> = mix.iter().map(String::as_str).collect();
        f.derived(&id("mix_g"), total, "g", 1, "sum of the lines", &from);
        if step.spare_mix > 0.0 {
            f.derived(
                &id("mix_made_g"),
                total * (1.0 + step.spare_mix),
                "g",
                1,
                &format!(
                    "mix × (1 + {} % made to spare)",
                    number(step.spare_mix * 100.0, 1)
                ),
                &[&id("mix_g")],
            );
        }
    }
    if c.pieces > 1.0 && c.start.as_ref().is_some_and(|s| s.piece_g.is_some()) {
        pieces(c, step, flow, f, &mix);
    }
}

/// Weights for one piece, for the sheet where each is weighed by itself.
fn pieces(c: &Component, step: &Step, flow: &Flow, f: &mut Figures, mix: &[String]) {
    let id = |s: &str| format!("{}.{}.{s}", c.recipe, step.id);
    let n = c.pieces;
    for (key, g, from) in [
        ("in_per_piece_g", flow.in_g, "in_g"),
        ("out_per_piece_g", flow.out_g, "out_g"),
    ] {
        f.derived(
            &id(key),
            g / n,
            "g",
            1,
            &format!("{} g ÷ {} pieces", number(g, 1), number(n, 0)),
            &[&id(from)],
        );
    }
    if mix.len() > 1 {
        let total = f.number(&id("mix_g")).unwrap_or(0.0);
        f.derived(
            &id("mix_per_piece_g"),
            total / n,
            "g",
            2,
            &format!("{} g ÷ {} pieces", number(total, 2), number(n, 0)),
            &[&id("mix_g")],
        );
        for key in mix {
            let g = f.number(key).unwrap_or(0.0);
            f.derived(
                &format!("{key}.per_piece_g"),
                g / n,
                "g",
                2,
                &format!("{} g ÷ {} pieces", number(g, 2), number(n, 0)),
                &[key],
            );
        }
    }
}
