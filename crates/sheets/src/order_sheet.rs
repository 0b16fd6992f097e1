//! The order sheets: what one supplier is asked for. They and no other paper carry prices; they carry no portion weights.

use kitchen::Id;
use plan::order::OrderLine;
use units::Money;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Writer, file, number, strong, text};

/// A sheet a supplier, who must be called first on top.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    let mut suppliers: Vec<&Id> = Vec::new();
    for line in &w.plan.order {
        if !suppliers.contains(&&line.supplier) {
            suppliers.push(&line.supplier);
        }
    }
    suppliers.into_iter().map(|s| sheet(w, s)).collect()
}

fn sheet(w: &Writer<'_>, supplier: &Id) -> Sheet {
    let lines: Vec<&OrderLine> = w
        .plan
        .order
        .iter()
        .filter(|l| l.supplier == *supplier)
        .collect();
    let cut_off = lines.iter().filter_map(|l| l.order_by).min();
    let delivery = lines.iter().filter_map(|l| l.delivery).min();
    let rows = lines
        .iter()
        .map(|l| {
            let per = if l.per_kg {
                w.say("per-kilogram")
            } else {
                w.say("per-pack")
            };
            let comes = if l.delivery == delivery {
                Cell::Nothing
            } else {
                text(w.at_or_unknown(l.delivery))
            };
            vec![
                text(l.spec.clone()),
                strong(w.amount(l)),
                number(format!("{} {per}", w.money(l.price))),
                number(w.money(l.cost_bought)),
                comes,
                text(if l.substitutes.is_empty() {
                    w.say("no-substitute")
                } else {
                    l.substitutes.join("; ")
                }),
                Cell::Tick,
            ]
        })
        .collect();
    let total = lines.iter().fold(Money::ZERO, |sum, l| sum + l.cost_bought);
    let mut blocks = vec![
        Block::Facts(vec![
            w.fact("fact-order-by", strong(w.at_or_unknown(cut_off))),
            w.fact("fact-delivery", strong(w.at_or_unknown(delivery))),
            w.fact("fact-budget-code", Cell::WriteIn),
            w.fact("fact-ordered-by", Cell::WriteIn),
            w.fact("fact-spoke-with", Cell::WriteIn),
        ]),
        w.table(
            &[
                ("column-spec", 3.5),
                ("column-quantity", 2.0),
                ("column-price", 1.5),
                ("column-amount", 1.3),
                ("column-other-delivery", 1.5),
                ("column-instead", 3.5),
                ("column-tick", 0.5),
            ],
            rows,
        ),
        Block::Facts(vec![w.fact("fact-total", strong(w.money(total)))]),
    ];
    for l in &lines {
        if let Some(edge) = &l.edge {
            let (saves, packs) = (w.money(edge.saves), w.words.short(edge.packs, 0));
            let short = w.words.percent(edge.short_pct, 1);
            blocks.push(Block::Text(w.say_with(
                "order-edge",
                &[
                    ("spec", (&l.spec).into()),
                    ("packs", (&packs).into()),
                    ("short", (&short).into()),
                    ("saves", (&saves).into()),
                ],
            )));
        }
    }
    blocks.push(w.lines("order-shorts", 2));
    let name = w.supplier(supplier);
    w.sheet(
        &file(&["order", supplier.as_str()]),
        (Kind::OrderSheet, Size::PageWide),
        (
            w.say_with("order-sheet", &[("supplier", (&name).into())]),
            vec![w.plan.scene.site.name.clone()],
        ),
        blocks,
        &[],
    )
}
