//! One batch: what it weighs, what it is made of, when, until when, and what is shown of it.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use maud::{Markup, html};
use plan::Plan;
use plan::demand::Component;
use plan::figures::number;
use plan::tasks::Kind;
use plan::windows::Computed;
use plan::wording::{people, whole};

use super::{plan_of, verdicts, weigh};
use crate::names;
use crate::page::{Frame, event_address, frame, opens};
use crate::trouble::Trouble;
use crate::wall::wall;
use crate::{Board, happened, live, underway};

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path((event, component)): Path<(String, String)>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&(State(Arc::clone(&board)), Path(event), query)).await?;
    let Some(c) = plan.component(&component) else {
        let known: Vec<&str> = plan.components.iter().map(|c| c.recipe.as_str()).collect();
        let shown: String = component.chars().take(60).collect();
        return Err(Trouble::missing(
            format!("this event has no component \"{shown}\""),
            format!("one of {}", known.join(", ")),
            "open it from the plan",
        ));
    };
    let live = live::line(&board, &plan, Some(60));
    let log = happened::log(&board, &plan).await?;
    Ok(frame(
        &Frame {
            title: &c.name,
            plan: Some(&plan),
            here: "lot",
        },
        html! {
            (live)
            (underway::on(&plan, &log, board.clock.now(), Some(c.recipe.as_str())))
            (made_of(&plan, c))
            (super::recipe::recipe_line(&board, &plan, c.recipe.as_str(), &c.name))
            h2 { "Weigh" }
            (weigh::weights(&plan, c))
            (weigh::cautions(&plan, c))
            (clock(&plan, c))
            (windows(&plan, c))
            h2 { "Verdicts" }
            @let own: Vec<_> = plan.verdicts.iter().filter(|v| v.component == c.recipe).collect();
            @if own.is_empty() { p { "None of the rules here speaks about this." } }
            @for v in own { (verdicts::one(&plan, v)) }
            p { a href=(event_address(&plan, &format!("why?part={}", c.recipe))) { "Every figure of it" } }
        },
    ))
}

/// What is known of the finished lot; what is not known is not here.
const LOT: &[(&str, &str)] = &[
    ("water_phase_salt_pct", "water-phase salt, mean"),
    ("salt_pct", "salt"),
    ("water_pct", "water"),
    ("water_activity", "water activity"),
    ("sugar_pct", "sugar"),
    ("nitrite_ppm", "nitrite, ingoing"),
    ("acetic_pct", "acetic acid"),
];

fn made_of(plan: &Plan, c: &Component) -> Markup {
    html! {
        ul class="figures" {
            @if let Some(by) = plan.figures.get(&format!("{}.discard_by", c.recipe)) {
                li { span class="label" { "discard by" } strong { (opens(plan, &by.id, &by.show())) } }
            }
            @for (key, name) in LOT {
                @if let Some(f) = plan.figures.get(&format!("{}.lot.{key}", c.recipe)) {
                    li { span class="label" { (name) } strong { (opens(plan, &f.id, &f.show())) } }
                }
            }
        }
        p class="small" { "Computed for the whole lot from the formula and the yields: a mean, never the core." }
    }
}

fn clock(plan: &Plan, c: &Component) -> Markup {
    html! {
        h2 { "Clock" }
        div class="wide" tabindex="0" { table {
            thead { tr { th { "Step" } th { "Start" } th { "End" } th { "May start" } th { "Who" } } }
            tbody {
                @for t in plan.timeline.tasks.iter().filter(|t| t.meaning.component.as_ref() == Some(&c.recipe) && t.meaning.kind != Kind::Passing) {
                    tr {
                        td {
                            (names::step(t))
                            @if let Some(step) = t.meaning.step.as_ref().filter(|_| t.meaning.kind == Kind::Hands) {
                                br; a class="small no-print" href=(format!("/event/{}/record?about={}.{step}", plan.scene.event.id, c.recipe)) { "write down" }
                            }
                        }
                        td class="hour" { (wall(plan, t.start, "%a %m-%d %H:%M")) }
                        td { (wall(plan, t.end, "%a %H:%M")) }
                        td { @if t.meaning.kind == Kind::Hands && t.latest > t.earliest {
                            (wall(plan, t.earliest, "%a %H:%M")) " to " (wall(plan, t.latest, "%a %H:%M"))
                        } }
                        td { @if t.meaning.kind == Kind::Run { "by itself" } @else { (people(&t.people)) } }
                    }
                }
            }
        } }
    }
}

fn windows(plan: &Plan, c: &Component) -> Markup {
    let own: Vec<&Computed> = plan
        .windows
        .iter()
        .filter(|w| w.component == c.recipe)
        .collect();
    html! {
        @if !own.is_empty() {
            h2 { "Computed windows" }
            @for w in own {
                h3 { (w.step) ": " (w.goal) }
                @match &w.window {
                    Ok(s) => {
                        ul class="figures" {
                            li { span class="label" { "thin piece" } strong { (whole(s.thin)) } }
                            li { span class="label" { "usual piece" } strong { (whole(s.nominal)) } }
                            li { span class="label" { "thickest piece" } strong { (whole(s.thick)) } }
                            @if let Some(slow) = s.thick_if_slow { li { span class="label" { "thickest, were it slow" } strong { (whole(slow)) } } }
                            @if let Some((min, max)) = &w.house { li { span class="label" { "the house's own" } strong { (whole(*min)) " to " (whole(*max)) } } }
                        }
                    }
                    Err(why) => { p { "Not computed: " (why) } }
                }
                @if let Some(p) = w.places {
                    p { "Water-phase salt of the thickest piece when it comes out: mean " (number(p.mean_pct, 1)) " %, surface "
                        (number(p.surface_pct, 1)) " %, where it comes last " (number(p.core_pct, 1)) " %." }
                }
                @if let Some(conflict) = &w.conflict { div class="decide" { p { (conflict) } } }
                p class="small" { (w.model) }
            }
        }
    }
}
