//! What to order, from whom, until when.

use kitchen::site::Supplier;
use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use plan::order::OrderLine;
use plan::wording::{money, plural};

use super::{Asked, plan_of};
use crate::page::{Frame, frame, opens};
use crate::tongue::{say, say_with, with_weekday};
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&asked).await?;
    Ok(frame(
        &Frame {
            title: &say("board-order"),
            plan: Some(&plan),
            here: "order",
        },
        html! {
            @for supplier in &plan.scene.site.suppliers {
                (supplied(&plan, supplier))
            }
        },
    ))
}

fn supplied(plan: &Plan, supplier: &Supplier) -> Markup {
    let sign = &plan.scene.site.currency;
    let lines: Vec<&OrderLine> = plan
        .order
        .iter()
        .filter(|l| l.supplier == supplier.id)
        .collect();
    let Some(first) = lines.first() else {
        return html! {};
    };
    html! {
        h2 { (supplier.name) }
        p {
            @if let Some(by) = first.order_by { (say("board-order-by")) " " strong { (by.strftime(&with_weekday("%a %Y-%m-%d %H:%M", by.date()))) } }
            @if let Some(at) = first.delivery { (say("board-comes")) " " (at.strftime(&with_weekday("%a %Y-%m-%d %H:%M", at.date()))) }
        }
        div class="wide" tabindex="0" { table {
            thead { tr { th { (say("board-item")) } th { (say("board-spec")) } th class="n" { (say("board-buy")) } th class="n" { (say("board-needed")) } th class="n" { (say("board-price")) } th class="n" { (say("board-cost")) } } }
            tbody {
                @for l in lines {
                    tr {
                        td {
                            (l.item)
                            @if let Some(edge) = &l.edge {
                                br; span class="small" {
                                    (say_with("board-edge", &[("packs", (&number(edge.packs, 0)).into()), ("short", (&number(edge.short_pct, 2)).into()), ("saves", (&money(sign, edge.saves, 2)).into())]))
                                }
                            }
                            @if !l.substitutes.is_empty() { br; span class="small" { (say("board-or")) " " (l.substitutes.join(", ")) } }
                        }
                        td { (l.spec) }
                        td class="n" { strong {
                            @if l.by_weight { (number(l.packs * l.pack_g.unwrap_or(1.0) / 1000.0, 3)) " kg" }
                            @else { (number(l.packs, 0)) " " (plural(&l.word, l.packs)) }
                        } }
                        td class="n" {
                            @if l.counted { (number(l.need, 0)) } @else { (number(l.need / 1000.0, 3)) " kg" }
                        }
                        td class="n" { (money(sign, l.price, 2)) @if l.per_kg { "/kg" } }
                        td class="n" { (opens(plan, &format!("order.{}.cost_bought", l.item), &money(sign, l.cost_bought, 2))) }
                    }
                }
            }
        } }
    }
}
