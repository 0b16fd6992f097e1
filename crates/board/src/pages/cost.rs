//! What it costs, with labour, and what of it.

use maud::{Markup, html};
use plan::figures::number;
use plan::wording::{minutes, money};

use super::{Asked, plan_of};
use crate::page::{Frame, frame, opens};
use crate::tongue::{cover_word, say, say_with, translated};
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&asked).await?;
    let sign = &plan.scene.site.currency;
    let cover = cover_word(&plan);
    let c = &plan.cost;
    Ok(frame(
        &Frame {
            title: &say("board-cost"),
            plan: Some(&plan),
            here: "cost",
        },
        html! {
            ul class="figures" {
                li {
                    span class="label" { (say("board-food-needed")) } strong { (opens(&plan, "cost.food_needed", &money(sign, c.food_needed, 2))) } br;
                    (opens(&plan, "cost.per_cover_needed", &money(sign, c.per_cover_needed(), 3))) " " (say_with("board-a-cover", &[("cover", (&cover).into())]))
                }
                li {
                    span class="label" { (say("board-food-bought")) } strong { (opens(&plan, "cost.food_bought", &money(sign, c.food_bought, 2))) } br;
                    (opens(&plan, "cost.per_cover_bought", &money(sign, c.per_cover_bought(), 3))) " " (say_with("board-a-cover", &[("cover", (&cover).into())]))
                }
                li {
                    span class="label" { (say("board-labour")) } strong { (opens(&plan, "cost.labour", &money(sign, c.labour_cost, 2))) } br;
                    (money(sign, c.labour_per_cover(), 2)) " " (say_with("board-a-cover", &[("cover", (&cover).into())]))
                }
                li {
                    span class="label" { (say("board-prime")) } strong { (opens(&plan, "cost.prime", &money(sign, c.prime(), 2))) } br;
                    (opens(&plan, "cost.prime_per_cover", &money(sign, c.prime_per_cover(), 2))) " " (say_with("board-a-cover", &[("cover", (&cover).into())]))
                }
                @if let Some(budget) = c.budget {
                    li { span class="label" { (say("board-budget")) } strong { (money(sign, budget, 2)) } br; (plan::wording::difference(sign, c.food_bought - budget)) " " (say("board-against-it")) }
                }
                @if let Some(price) = c.target_price {
                    li { span class="label" { (say("board-target-price")) } strong { (money(sign, price, 2)) } }
                }
            }
            h2 { (say("board-work-head")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-who")) } th class="n" { (say("board-time")) } th class="n" { (say("board-an-hour")) } th class="n" { (say("board-cost")) } } }
                tbody { @for l in &c.labour {
                    tr {
                        td { (translated(&format!("role-{}", l.role), l.role.as_str(), &[])) @if l.by_presence { span class="small" { " " (say("board-paid-present")) } } }
                        td class="n" { (minutes(l.minutes)) }
                        td class="n" { (money(sign, l.rate, 2)) }
                        td class="n" { (money(sign, l.cost, 2)) }
                    }
                } }
            } }
            h2 { (say("board-food-by-component")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-component")) } th class="n" { (say("board-bought")) } th class="n" { (say("board-per-kg")) } } }
                tbody { @for s in &c.shares {
                    tr { td { (s.component) } td class="n" { (money(sign, s.bought, 2)) } td class="n" { (money(sign, s.per_kg_made, 2)) } }
                } }
            } }
            p class="small" { (say_with("board-paying", &[("n", (&number(f64::from(c.covers), 0)).into()), ("cover", (&cover).into())])) }
        },
    ))
}
