//! What it costs, with labour, and what of it.

use maud::{Markup, html};
use plan::figures::number;
use plan::wording::{minutes, money};

use super::{Asked, plan_of};
use crate::page::{Frame, frame, opens};
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&asked).await?;
    let sign = &plan.scene.site.currency;
    let cover = &plan.scene.event.cover_word;
    let c = &plan.cost;
    Ok(frame(
        &Frame {
            title: "Cost",
            plan: Some(&plan),
            here: "cost",
        },
        html! {
            ul class="figures" {
                li {
                    span class="label" { "food, needed" } strong { (opens(&plan, "cost.food_needed", &money(sign, c.food_needed, 2))) } br;
                    (opens(&plan, "cost.per_cover_needed", &money(sign, c.per_cover_needed(), 3))) " a " (cover)
                }
                li {
                    span class="label" { "food, bought" } strong { (opens(&plan, "cost.food_bought", &money(sign, c.food_bought, 2))) } br;
                    (opens(&plan, "cost.per_cover_bought", &money(sign, c.per_cover_bought(), 3))) " a " (cover)
                }
                li {
                    span class="label" { "labour" } strong { (opens(&plan, "cost.labour", &money(sign, c.labour_cost, 2))) } br;
                    (money(sign, c.labour_per_cover(), 2)) " a " (cover)
                }
                li {
                    span class="label" { "prime: food and labour" } strong { (opens(&plan, "cost.prime", &money(sign, c.prime(), 2))) } br;
                    (opens(&plan, "cost.prime_per_cover", &money(sign, c.prime_per_cover(), 2))) " a " (cover)
                }
                @if let Some(budget) = c.budget {
                    li { span class="label" { "budget" } strong { (money(sign, budget, 2)) } br; (plan::wording::difference(sign, c.food_bought - budget)) " against it" }
                }
                @if let Some(price) = c.target_price {
                    li { span class="label" { "price at the food share aimed at" } strong { (money(sign, price, 2)) } }
                }
            }
            h2 { "Work" }
            div class="wide" tabindex="0" { table {
                thead { tr { th { "Who" } th class="n" { "Time" } th class="n" { "An hour" } th class="n" { "Cost" } } }
                tbody { @for l in &c.labour {
                    tr {
                        td { (l.role) @if l.by_presence { span class="small" { " paid for being there" } } }
                        td class="n" { (minutes(l.minutes)) }
                        td class="n" { (money(sign, l.rate, 2)) }
                        td class="n" { (money(sign, l.cost, 2)) }
                    }
                } }
            } }
            h2 { "Food by component" }
            div class="wide" tabindex="0" { table {
                thead { tr { th { "Component" } th class="n" { "Bought" } th class="n" { "A kilogram made" } } }
                tbody { @for s in &c.shares {
                    tr { td { (s.component) } td class="n" { (money(sign, s.bought, 2)) } td class="n" { (money(sign, s.per_kg_made, 2)) } }
                } }
            } }
            p class="small" { (number(f64::from(c.covers), 0)) " paying " (cover) "s" }
        },
    ))
}
