//! What is weighed out, component by component, with the cautions where they belong.

use kitchen::step::LineAmount;
use maud::{Markup, html};
use plan::Plan;
use plan::demand::Component;
use plan::figures::number;
use plan::wording::{bench, grams, item_name};

use super::{Asked, acts, plan_of};
use crate::live;
use crate::page::{Frame, event_address, frame, opens};
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let since = asked.0.0.live.newest();
    let (plan, _) = plan_of(&asked).await?;
    let live = live::line(&asked.0.0, &plan, None, since);
    Ok(frame(
        &Frame {
            title: &say("board-weigh"),
            plan: Some(&plan),
            here: "weigh",
        },
        html! {
            (live)
            @for c in &plan.components {
                h2 { a href=(event_address(&plan, &format!("lot/{}", c.recipe))) { (c.name) } (plan.held(c.recipe.as_str())) }
                (weights(&plan, c))
                (cautions(&plan, c))
            }
        },
    ))
}

/// The formula of a component, step by step.
pub(crate) fn weights(plan: &Plan, c: &Component) -> Markup {
    let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
        return html! {};
    };
    html! {
        p {
            @if let Some(start) = &c.start {
                (opens(plan, &format!("{}.raw_need_g", c.recipe), &grams(start.need_g, false))) " " (say("board-needed-of")) " " (start.item) " → "
            }
            (opens(plan, &format!("{}.made_g", c.recipe), &grams(c.made_g, false))) " " (say("board-made"))
            @if let Some(p) = c.portion_g {
                " = " (number(c.made_g / p, 1)) " " (say("board-portions-of")) " " (number(p, 0)) " g"
            }
        }
        @for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            @if !step.lines.is_empty() {
                div class="wide" tabindex="0" {
                    table {
                        caption class="small" {
                            (step.id) ": " (step.base.name) " "
                            (opens(plan, &format!("{}.{}.base_g", c.recipe, step.id), &grams(flow.base_g, false)))
                            @if flow.loads > 1 { ", " (say_with("board-n-loads", &[("n", flow.loads.into())])) }
                        }
                        thead { tr { td {} th class="n" { (say("board-of-base")) } th class="n" { (say("board-computed")) } th class="n" { (say("board-weigh-out")) } td class="no-print" {} } }
                        tbody {
                            @for (line, g) in step.lines.iter().zip(&flow.lines) {
                                @let counted = matches!(line.amount, LineAmount::PerPiece(_));
                                @let (name, curing) = item_name(&plan.scene, &line.item);
                                tr {
                                    td {
                                        (name)
                                        @if let Some(form) = &line.form { ", " (form) }
                                        @if g.boils_off_g > 0.0 {
                                            br; span class="small" { (say_with("board-put-in", &[("all", (&grams(g.made_g + g.boils_off_g, false)).into()), ("off", (&grams(g.boils_off_g, false)).into())])) }
                                        }
                                        @if g.hold_back_g > 0.0 {
                                            br; span class="small" { (say_with("board-hold-back", &[("first", (&grams(g.made_g - g.hold_back_g, false)).into()), ("rest", (&grams(g.hold_back_g, false)).into())])) }
                                        }
                                    }
                                    td class="n" {
                                        @match line.amount {
                                            LineAmount::OfBase(p) => { (number(p, 2)) " %" }
                                            LineAmount::PerLoad(_) => { (say("board-each-load")) }
                                            LineAmount::PerPiece(_) => { (say("board-each-piece")) }
                                            LineAmount::PerBatch(_) => {}
                                        }
                                    }
                                    td class="n" {
                                        @if counted { (number(g.made_g, 0)) " " (say("board-pieces")) }
                                        @else { (opens(plan, &format!("{}.{}.{}", c.recipe, step.id, line.item.id()), &grams(g.made_g, curing))) }
                                    }
                                    td class="n" { @if !counted { strong { (bench(g.made_g, curing)) } } }
                                    td class="no-print" { @if !counted && g.made_g > 0.0 {
                                        a class="act" href=(acts::weigh_line(plan, c.recipe.as_str(), step.id.as_str(), line.item.id().as_str())) { (say("board-weigh-act")) span class="unseen" { " " (name) } }
                                    } }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The cautions of a component.
pub(crate) fn cautions(plan: &Plan, c: &Component) -> Markup {
    html! {
        @for placed in plan.cautions.iter().filter(|p| p.component == c.recipe) {
            p class="caution" {
                @let about = say(&format!("caution-{}-about", placed.caution.id));
                span class="label" { (say_with("board-caution", &[("step", placed.step.as_str().into()), ("about", (&about).into())])) " " }
                (say(&format!("caution-{}", placed.caution.id)))
            }
        }
    }
}
