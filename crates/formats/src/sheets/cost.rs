//! What it costs, line by line.

use kitchen::Id;
use plan::Plan;
use units::Money;

use super::title;
use crate::sheet::{Cell, Column, Sheet};

/// Food, labour by role, prime cost, and each component's part of the food, one row each.
#[must_use]
pub fn cost(plan: &Plan) -> Sheet {
    let c = &plan.cost;
    let money = &plan.scene.site.currency;
    let columns = vec![
        Column::text("what", 26),
        Column::text("of", 26),
        Column::number("minutes", "min", 0),
        Column::number("rate", &format!("{money}/h"), 2),
        Column::number("amount", money, 2),
        Column::number("per cover", money, 2),
        Column::number("per kg made", money, 2),
    ];
    let row = |what: &str, amount: Option<Money>, per_cover: Option<Money>| {
        vec![
            Cell::text(what),
            Cell::Unknown,
            Cell::Unknown,
            Cell::Unknown,
            Cell::money(amount),
            Cell::money(per_cover),
            Cell::Unknown,
        ]
    };
    let mut rows = vec![
        row(
            "food needed",
            Some(c.food_needed),
            Some(c.per_cover_needed()),
        ),
        row(
            "food bought",
            Some(c.food_bought),
            Some(c.per_cover_bought()),
        ),
    ];
    for l in &c.labour {
        let what = if l.by_presence {
            "labour, by presence"
        } else {
            "labour, by the minute"
        };
        rows.push(vec![
            Cell::text(what),
            id(&l.role),
            Cell::Number(l.minutes),
            Cell::money(l.rate),
            Cell::money(l.cost),
            Cell::Unknown,
            Cell::Unknown,
        ]);
    }
    rows.push(row(
        "labour, all",
        Some(c.labour_cost),
        Some(c.labour_per_cover()),
    ));
    rows.push(row(
        "prime cost",
        Some(c.prime()),
        Some(c.prime_per_cover()),
    ));
    rows.push(row("price aimed at", None, c.target_price));
    rows.push(row("budget", c.budget, None));
    for s in &c.shares {
        rows.push(vec![
            Cell::text("food bought, part of a component"),
            id(&s.component),
            Cell::Unknown,
            Cell::Unknown,
            Cell::money(s.bought),
            Cell::Unknown,
            Cell::money(s.per_kg_made),
        ]);
    }
    Sheet {
        name: "cost",
        title: title(plan, "Cost"),
        columns,
        rows,
    }
}

fn id(id: &Id) -> Cell {
    Cell::text(id.as_str())
}
