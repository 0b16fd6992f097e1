//! Order, cost and labour.

use sources::Citation;

use super::{book, stated};
use crate::figures::{Figure, Figures, Value, number};
use crate::order::OrderLine;
use crate::whole::Plan;

fn money(
    f: &mut Figures,
    id: &str,
    amount: units::Money,
    sign: &str,
    places: u32,
    formula: &str,
    from: &[&str],
) {
    f.put(Figure {
        id: id.to_owned(),
        value: Value::Money(amount.amount()),
        unit: sign.to_owned(),
        base: None,
        from: from.iter().map(|s| (*s).to_owned()).collect(),
        formula: formula.to_owned(),
        source: "computed".to_owned(),
        places,
    });
}

fn money_leaf(f: &mut Figures, id: &str, amount: units::Money, sign: &str, source: &Citation) {
    f.put(Figure {
        id: id.to_owned(),
        value: Value::Money(amount.amount()),
        unit: sign.to_owned(),
        base: None,
        from: Vec::new(),
        formula: String::new(),
        source: source.to_string(),
        places: 2,
    });
}

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    let sign = plan.scene.site.currency.clone();
    for line in &plan.order {
        order(plan, line, &sign, f);
    }
    let (needed, bought): (Vec<String>, Vec<String>) = plan
        .order
        .iter()
        .map(|l| {
            (
                format!("order.{}.cost_needed", l.item),
                format!("order.{}.cost_bought", l.item),
            )
        })
        .unzip();
    let refs = |v: &[String]| {
        v.iter()
            .map(String::as_str)
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    for (id, amount, from) in [
        ("cost.food_needed", plan.cost.food_needed, refs(&needed)),
        ("cost.food_bought", plan.cost.food_bought, refs(&bought)),
    ] {
        money(
            f,
            id,
            amount,
            &sign,
            2,
            "sum of the order lines, rounded once",
            &from.iter().map(String::as_str).collect::<Vec<_>>(),
        );
    }
    let c = &plan.cost;
    for (id, amount, of) in [
        (
            "cost.per_cover_needed",
            c.per_cover_needed(),
            "cost.food_needed",
        ),
        (
            "cost.per_cover_bought",
            c.per_cover_bought(),
            "cost.food_bought",
        ),
    ] {
        money(
            f,
            id,
            amount,
            &sign,
            3,
            "food ÷ paid covers",
            &[of, "event.covers"],
        );
    }
    labour(plan, &sign, f);
    money(
        f,
        "cost.prime",
        c.prime(),
        &sign,
        2,
        "food bought + labour",
        &["cost.food_bought", "cost.labour"],
    );
    money(
        f,
        "cost.prime_per_cover",
        c.prime_per_cover(),
        &sign,
        2,
        "prime ÷ paid covers",
        &["cost.prime", "event.covers"],
    );
    if let (Some(price), Some(target)) = (c.target_price, plan.scene.event.target_food_cost) {
        f.leaf(
            "cost.target_food_cost",
            target * 100.0,
            "%",
            0,
            &book("event: food over price"),
        );
        money(
            f,
            "cost.target_price",
            price,
            &sign,
            2,
            "food bought per cover ÷ food cost aimed at",
            &["cost.per_cover_bought", "cost.target_food_cost"],
        );
    }
    if let (Some(budget), Some(each)) = (c.budget, plan.scene.event.budget) {
        money_leaf(
            f,
            "event.budget",
            each,
            &sign,
            &book("event: budget a cover"),
        );
        money(
            f,
            "cost.budget",
            budget,
            &sign,
            2,
            "budget × covers",
            &["event.budget", "event.covers"],
        );
        money(
            f,
            "cost.over_budget",
            c.food_bought - budget,
            &sign,
            2,
            "food bought − budget",
            &["cost.food_bought", "cost.budget"],
        );
    }
    for share in &c.shares {
        let id = format!("cost.component.{}", share.component);
        let from: Vec<String> = plan
            .order
            .iter()
            .filter(|l| l.shares.iter().any(|(x, _)| *x == share.component))
            .map(|l| format!("order.{}.cost_bought", l.item))
            .collect();
        money(
            f,
            &id,
            share.bought,
            &sign,
            2,
            "its part of each order line by grams used",
            &from.iter().map(String::as_str).collect::<Vec<_>>(),
        );
        let of: units::Money = c.food_bought;
        if !of.amount().is_zero() {
            let pct = crate::figures::decimal_to_f64(share.bought.amount() / of.amount()) * 100.0;
            f.derived(
                &format!("{id}.pct"),
                pct,
                "%",
                0,
                "its part ÷ all food bought",
                &[&id, "cost.food_bought"],
            );
        }
        let made = format!("{}.made_g", share.component);
        money(
            f,
            &format!("{id}.per_kg_made"),
            share.per_kg_made,
            &sign,
            2,
            "its part ÷ kilograms made",
            &[&id, &made],
        );
    }
    starts(plan, &sign, f);
}

/// What the starting item alone costs per kilogram made: the figure a chef carries in the head.
fn starts(plan: &Plan, sign: &str, f: &mut Figures) {
    for c in &plan.components {
        let Some(start) = &c.start else { continue };
        let Some(line) = plan
            .order
            .iter()
            .find(|l| l.item == start.item && l.shares.len() == 1)
        else {
            continue;
        };
        let Some(kg) = units::decimal(c.made_g / 1000.0)
            .ok()
            .filter(|kg| !kg.is_zero())
        else {
            continue;
        };
        if let Ok(per_kg) = line.cost_bought.divided(kg) {
            let id = format!("{}.item_cost_per_kg_made", c.recipe);
            money(
                f,
                &id,
                per_kg,
                sign,
                2,
                &format!("{} bought ÷ kilograms made", start.item),
                &[
                    &format!("order.{}.cost_bought", line.item),
                    &format!("{}.made_g", c.recipe),
                ],
            );
            if let Some(portion) = c.portion_g
                && let Ok(per) = units::decimal(portion / 1000.0)
                    .map_err(drop)
                    .and_then(|kg| per_kg.times(kg).map_err(drop))
            {
                money(
                    f,
                    &format!("{}.item_cost_per_portion", c.recipe),
                    per,
                    sign,
                    2,
                    "per kilogram made × portion",
                    &[&id, &format!("{}.portion_g", c.recipe)],
                );
            }
        }
    }
}

fn order(plan: &Plan, line: &OrderLine, sign: &str, f: &mut Figures) {
    let id = |s: &str| format!("order.{}.{s}", line.item);
    let unit = if line.counted { "pieces" } else { "g" };
    let mut from = Vec::new();
    for c in &plan.components {
        if !line.shares.iter().any(|(x, _)| *x == c.recipe) {
            continue;
        }
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        if c.start.as_ref().is_some_and(|s| s.item == line.item) {
            from.push(format!("{}.raw_need_g", c.recipe));
        }
        for step in &recipe.steps {
            for l in &step.lines {
                if *l.item.id() == line.item {
                    let key = format!("{}.{}.{}", c.recipe, step.id, line.item);
                    let put_in = format!("{key}.put_in_g");
                    from.push(if f.get(&put_in).is_some() {
                        put_in
                    } else {
                        key
                    });
                }
            }
        }
    }
    let refs: Vec<&str> = from.iter().map(String::as_str).collect();
    f.derived(
        &id("need"),
        line.need,
        unit,
        1,
        "what the recipes need, trim and spare mix counted",
        &refs,
    );
    f.derived(
        &id("used"),
        line.used,
        unit,
        1,
        "what goes into what is made",
        &refs,
    );
    let price_key = format!("price.{}", line.item);
    let source = stated(plan, &price_key, &format!("offer of {}", line.supplier));
    money_leaf(f, &id("price"), line.price, sign, &source);
    let pack = match line.pack_g {
        Some(g) if line.by_weight => format!("step of {} g", number(g, 0)),
        Some(g) => format!("{} of {} g", line.word, number(g, 0)),
        None => format!(
            "{} at a time",
            if line.counted {
                line.word.as_str()
            } else {
                "gram"
            }
        ),
    };
    f.leaf(
        &id("pack_g"),
        line.pack_g.unwrap_or(1.0),
        if line.counted { "pieces" } else { "g" },
        0,
        &source,
    );
    let word = if line.by_weight {
        "steps"
    } else {
        line.word.as_str()
    };
    f.derived(
        &id("packs_needed"),
        line.need_packs,
        word,
        3,
        &format!("need ÷ a {pack}"),
        &[&id("need"), &id("pack_g")],
    );
    let kept = !plan.scene.facts.is_empty() && !plan.scene.order_again;
    let how = if kept {
        "as bought before the change; order=again buys anew"
    } else {
        "rounded up to what is sold"
    };
    if let (true, Some(g)) = (line.by_weight, line.bought_g()) {
        f.derived(
            &id("packs"),
            g / 1000.0,
            "kg",
            3,
            "sold by weight: what is used, in the steps it is sold in",
            &[&id("used")],
        );
    } else {
        f.derived(
            &id("packs"),
            line.packs,
            &line.word,
            0,
            how,
            &[&id("packs_needed")],
        );
    }
    if let Some(g) = line.bought_g() {
        f.derived(
            &id("bought"),
            g,
            "g",
            0,
            "packs × pack",
            &[&id("packs"), &id("pack_g")],
        );
    }
    let per = if line.per_kg {
        "price a kilogram"
    } else {
        "price a pack"
    };
    money(
        f,
        &id("cost_needed"),
        line.cost_needed,
        sign,
        2,
        &format!("need × {per}"),
        &[&id("packs_needed"), &id("price")],
    );
    money(
        f,
        &id("cost_bought"),
        line.cost_bought,
        sign,
        2,
        &format!("bought × {per}"),
        &[&id("packs"), &id("price")],
    );
    if let Some(edge) = &line.edge {
        f.derived(
            &id("edge_short_pct"),
            edge.short_pct,
            "%",
            3,
            &format!(
                "({} − {}) ÷ {}: a {} less",
                number(line.need_packs, 4),
                number(edge.packs, 0),
                number(line.need_packs, 4),
                line.word
            ),
            &[&id("packs_needed")],
        );
        money(
            f,
            &id("edge_saves"),
            edge.saves,
            sign,
            2,
            "one less",
            &[&id("price")],
        );
        money(
            f,
            &id("edge_total"),
            plan.cost.food_bought - edge.saves,
            sign,
            2,
            "food bought less what it saves",
            &["cost.food_bought", &id("edge_saves")],
        );
    }
}

fn labour(plan: &Plan, sign: &str, f: &mut Figures) {
    for w in &plan.work {
        let id = format!("labour.{}", w.id);
        f.leaf(&id, w.minutes, "min", 1, &book(&w.formula));
        if w.rounds > 0.0 {
            f.leaf(
                &format!("{id}.rounds"),
                w.rounds,
                "min",
                1,
                &book("rounds × minutes of one, learner factor counted"),
            );
        }
    }
    let mut costs = Vec::new();
    for l in &plan.cost.labour {
        let key = if l.by_presence {
            format!("labour.presence.{}", l.role)
        } else {
            format!("labour.role.{}", l.role)
        };
        let mut from: Vec<String> = Vec::new();
        if !l.by_presence {
            for w in plan.work.iter().filter(|w| w.role == l.role) {
                from.push(format!("labour.{}", w.id));
                if w.rounds > 0.0 {
                    from.push(format!("labour.{}.rounds", w.id));
                }
            }
        }
        let how = if l.by_presence {
            "there from and to, as the event says"
        } else {
            "sum of the work"
        };
        if from.is_empty() {
            f.leaf(&format!("{key}.minutes"), l.minutes, "min", 1, &book(how));
        } else {
            f.derived(
                &format!("{key}.minutes"),
                l.minutes,
                "min",
                1,
                how,
                &from.iter().map(String::as_str).collect::<Vec<_>>(),
            );
        }
        money_leaf(
            f,
            &format!("{key}.rate"),
            l.rate,
            sign,
            &book(&format!("site: rate of {} an hour", l.role)),
        );
        money(
            f,
            &format!("{key}.cost"),
            l.cost,
            sign,
            2,
            "minutes ÷ 60 × rate",
            &[&format!("{key}.minutes"), &format!("{key}.rate")],
        );
        costs.push(format!("{key}.cost"));
    }
    let minutes: Vec<String> = plan
        .cost
        .labour
        .iter()
        .filter(|l| !l.by_presence)
        .map(|l| format!("labour.role.{}.minutes", l.role))
        .collect();
    f.derived(
        "cost.labour_min",
        plan.cost.labour_min,
        "min",
        1,
        "work paid by the minute",
        &minutes.iter().map(String::as_str).collect::<Vec<_>>(),
    );
    money(
        f,
        "cost.labour",
        plan.cost.labour_cost,
        sign,
        2,
        "sum over roles",
        &costs.iter().map(String::as_str).collect::<Vec<_>>(),
    );
    money(
        f,
        "cost.labour_per_cover",
        plan.cost.labour_per_cover(),
        sign,
        2,
        "labour ÷ paid covers",
        &["cost.labour", "event.covers"],
    );
}
