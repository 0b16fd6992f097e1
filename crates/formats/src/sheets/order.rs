//! What to buy, from whom, by when.

use plan::Plan;

use super::{title, wall};
use crate::sheet::{Cell, Column, Sheet};

/// The order, one row for every bought item, in the order of the plan.
#[must_use]
pub fn order(plan: &Plan) -> Sheet {
    let money = &plan.scene.site.currency;
    let columns = vec![
        Column::text("supplier", 22),
        Column::text("item", 22),
        Column::text("spec", 34),
        Column::number("need", "g", 1),
        Column::number("need", "pieces", 1),
        Column::number("packs needed", "", 2),
        Column::number("packs to buy", "", 2),
        Column::text("pack", 12),
        Column::number("pack", "g", 0),
        Column::number("price", money, 2),
        Column::text("price per", 10),
        Column::number("cost needed", money, 2),
        Column::number("cost bought", money, 2),
        Column::text("order by", 21),
        Column::text("delivery", 21),
        Column::number("one pack less: short", "%", 2),
        Column::number("one pack less: saves", money, 2),
        Column::text("instead", 34),
    ];
    let rows = plan
        .order
        .iter()
        .map(|l| {
            vec![
                Cell::text(l.supplier.as_str()),
                Cell::text(l.item.as_str()),
                Cell::text(&l.spec),
                Cell::number((!l.counted).then_some(l.need)),
                Cell::number(l.counted.then_some(l.need)),
                Cell::Number(l.need_packs),
                Cell::Number(l.packs),
                Cell::text(if l.by_weight { "by weight" } else { &l.word }),
                Cell::number(l.pack_g),
                Cell::money(l.price),
                Cell::text(if l.per_kg { "kg" } else { "pack" }),
                Cell::money(l.cost_needed),
                Cell::money(l.cost_bought),
                wall(plan, l.order_by),
                wall(plan, l.delivery),
                Cell::number(l.edge.as_ref().map(|e| e.short_pct)),
                Cell::money(l.edge.as_ref().map(|e| e.saves)),
                Cell::text(l.substitutes.join("; ")),
            ]
        })
        .collect();
    Sheet {
        name: "order",
        title: title(plan, "Order"),
        columns,
        rows,
    }
}
