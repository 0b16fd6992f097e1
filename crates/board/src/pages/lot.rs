//! One batch: what it weighs, what it is made of, when, until when, and what is shown of it.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use maud::{Markup, html};
use plan::Plan;
use plan::allergens::State as Label;
use plan::demand::Component;
use plan::figures::number;
use plan::tasks::Kind;
use plan::windows::Computed;
use plan::wording::whole;

use super::{curves, plan_of, record, verdicts, weigh};
use crate::day::standing::{Standing, standing};
use crate::day::{self, judged};
use crate::entry::kind_word;
use crate::names;
use crate::page::{Frame, event_address, frame, opens};
use crate::shown::Shown;
use crate::tongue::{moment, people, say, say_with};
use crate::trouble::Trouble;
use crate::wall::wall;
use crate::{Board, live, underway};

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path((event, component)): Path<(String, String)>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let since = board.live.newest();
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
    let live = live::line(&board, &plan, Some(60), since);
    Ok(frame(
        &Frame {
            title: &c.name,
            plan: Some(&plan),
            here: "lot",
        },
        html! {
            (live)
            (underway::on(&plan, &plan.day.log, board.clock.now(), Some(c.recipe.as_str())))
            (stands(&plan, c))
            (made_of(&plan, c))
            (super::recipe::recipe_line(&plan, c.recipe.as_str(), &c.name))
            h2 { (say("board-weigh")) }
            (weigh::weights(&plan, c))
            (weigh::cautions(&plan, c))
            (clock(&plan, c))
            (readings(&plan, c))
            (curves::of(&plan, c.recipe.as_str()))
            (windows(&plan, c))
            h2 { (say("board-label")) }
            (label(&plan, c))
            h2 { (say("board-where-went")) }
            (went(&plan, c))
            h2 { (say("board-plan-verdicts")) }
            @let own: Vec<_> = plan.verdicts.iter().filter(|v| v.component == c.recipe).collect();
            @if own.is_empty() { p { (say("board-no-rule")) } }
            @for v in own { (verdicts::one(&plan, v)) }
            p { a href=(event_address(&plan, &format!("why?part={}", c.recipe))) { (say("board-every-figure")) } }
        },
    ))
}

/// Held, and what for.
fn stands(plan: &Shown, c: &Component) -> Markup {
    let event = plan.scene.event.id.as_str();
    let own: Vec<_> = plan
        .day
        .deviations
        .iter()
        .filter(|d| d.component.as_deref() == Some(c.recipe.as_str()))
        .collect();
    html! {
        @if plan.day.stand(plan, c.recipe.as_str()).is_some() { p class="big" { (plan.held(c.recipe.as_str())) } }
        @for d in own { p { a href=(d.address(event)) { (d.name) } ": " (d.found) } }
        p class="no-print" { a class="act" href=(format!("/event/{event}/record?quick=1&kind=deviation&about={}", c.recipe)) { (say("board-something-outside")) } }
    }
}

/// What was read and weighed, in the order it happened, and what it shows.
fn readings(plan: &Shown, c: &Component) -> Markup {
    let mut of: Vec<Standing> = standing(&plan.day.log)
        .into_iter()
        .filter(|s| s.component() == Some(c.recipe.as_str()))
        .collect();
    of.sort_by_key(|s| (s.at(), s.entry.sequence));
    html! {
        @if !of.is_empty() {
            h2 { (say("board-written-down")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-when")) } th { (say("board-who")) } th { (say("board-step")) } th { (say("board-what")) } th class="n" { (say("board-reading")) } th { (say("board-words")) } } }
                tbody { @for s in &of {
                    @let says = &s.entry.says;
                    tr {
                        td class="hour" { @if let Some(z) = says.at.on_the_clock() { (moment(&z, "%a %m-%d %H:%M")) } }
                        td { (says.who) }
                        td { (s.step().unwrap_or("")) @if let Some(part) = s.part() { br; span class="small" { (part) } } }
                        td { (kind_word(says.kind)) @if !s.holds { " " strong { (say("board-taken-back")) } } }
                        td class="n" {
                            @if let Some(r) = s.reading { (r) }
                            @if let Some(by) = s.entry.corrected_by { br; span class="small" { (say("board-corrected-by")) " " (by) } }
                        }
                        td { (says.words) }
                    }
                } }
            } }
            @for j in judged::all(plan, &plan.day.log).iter().filter(|j| j.component == c.recipe.as_str()) {
                (record::judgement(plan, j))
            }
        }
    }
}

/// What stands on its label, by the plan as it stands.
fn label(plan: &Shown, c: &Component) -> Markup {
    let of = |what: &str| {
        plan.figures
            .get(&format!("{}.{what}", c.recipe))
            .map(plan::Figure::show)
    };
    let contains: Vec<&str> = plan
        .allergens
        .dishes
        .iter()
        .flat_map(|d| &d.parts)
        .find(|p| p.recipe == c.recipe)
        .map(|part| {
            plan.allergens
                .columns
                .iter()
                .zip(&part.cells)
                .filter(|(_, cell)| cell.state == Label::Contains)
                .map(|(column, _)| column.name.as_str())
                .collect()
        })
        .unwrap_or_default();
    let last = plan
        .timeline
        .tasks
        .iter()
        .filter(|t| t.meaning.component.as_ref() == Some(&c.recipe))
        .map(|t| t.end)
        .max();
    html! {
        div class="now" {
            p { strong { (c.name) } (plan.held(c.recipe.as_str())) }
            p { (plan::wording::grams(c.made_g, false)) @if let Some(last) = last { " · " (say("board-ready")) " " (wall(plan, last, "%a %F %H:%M")) } }
            @if let Some(by) = of("discard_by") { p { (say("board-discard-by")) " " strong { (by) } } }
            p { @if contains.is_empty() { (say("board-no-allergen-named")) } @else { (say("board-contains")) " " (contains.join(", ")) } }
        }
        p class="small" { (say("board-label-note")) }
    }
}

/// The plates it goes on.
fn went(plan: &Shown, c: &Component) -> Markup {
    let dishes: Vec<_> = plan
        .scene
        .event
        .dishes
        .iter()
        .filter_map(|d| plan.scene.book.dishes.get(d))
        .filter(|d| d.parts.iter().any(|p| p.recipe == c.recipe))
        .collect();
    let inside: Vec<&str> = plan
        .components
        .iter()
        .filter(|o| {
            plan.scene
                .book
                .recipes
                .get(&o.recipe)
                .is_some_and(|r| day::takes(r, &c.recipe))
        })
        .map(|o| o.name.as_str())
        .collect();
    html! {
        ul {
            @for d in &dishes {
                li { (d.name) ": " (number(c.portions, 0)) " " @if let Some(g) = c.portion_g { (say("board-portions-of")) " " (number(g, 0)) " g" } @else { (say("board-pieces")) } }
            }
            @if !inside.is_empty() { li { (say("board-in-inline")) " " (inside.join(", ")) } }
            @if dishes.is_empty() && inside.is_empty() { li { (say("board-no-plate")) } }
        }
        p class="small" { (say("board-went-note")) }
    }
}

/// What is known of the finished lot; what is not known is not here.
const LOT: &[(&str, &str)] = &[
    ("water_phase_salt_pct", "board-lot-water-phase"),
    ("salt_pct", "board-lot-salt"),
    ("water_pct", "board-lot-water"),
    ("water_activity", "board-lot-activity"),
    ("sugar_pct", "board-lot-sugar"),
    ("nitrite_ppm", "board-lot-nitrite"),
    ("acetic_pct", "board-lot-acetic"),
];

fn made_of(plan: &Plan, c: &Component) -> Markup {
    html! {
        ul class="figures" {
            @if let Some(by) = plan.figures.get(&format!("{}.discard_by", c.recipe)) {
                li { span class="label" { (say("board-discard-by")) } strong { (opens(plan, &by.id, &by.show())) } }
            }
            @for (key, name) in LOT {
                @if let Some(f) = plan.figures.get(&format!("{}.lot.{key}", c.recipe)) {
                    li { span class="label" { (say(name)) } strong { (opens(plan, &f.id, &f.show())) } }
                }
            }
        }
        p class="small" { (say("board-mean-note")) }
    }
}

fn clock(plan: &Plan, c: &Component) -> Markup {
    html! {
        h2 { (say("board-clock")) }
        div class="wide" tabindex="0" { table {
            thead { tr { th { (say("board-step")) } th { (say("board-start-head")) } th { (say("board-end-head")) } th { (say("board-may-start")) } th { (say("board-who")) } } }
            tbody {
                @for t in plan.timeline.tasks.iter().filter(|t| t.meaning.component.as_ref() == Some(&c.recipe) && t.meaning.kind != Kind::Passing) {
                    tr {
                        td {
                            (names::step(t))
                            @if let Some(step) = t.meaning.step.as_ref().filter(|_| t.meaning.kind == Kind::Hands) {
                                br; a class="small no-print" href=(format!("/event/{}/record?about={}.{step}", plan.scene.event.id, c.recipe)) { (say("board-write-down-link")) }
                            }
                        }
                        td class="hour" { (wall(plan, t.start, "%a %m-%d %H:%M")) }
                        td { (wall(plan, t.end, "%a %H:%M")) }
                        td { @if t.meaning.kind == Kind::Hands && t.latest > t.earliest {
                            (wall(plan, t.earliest, "%a %H:%M")) " " (say("board-to")) " " (wall(plan, t.latest, "%a %H:%M"))
                        } }
                        td { @if t.meaning.kind == Kind::Run { (say("board-by-itself")) } @else { (people(&t.people)) } }
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
            h2 { (say("board-windows")) }
            @for w in own {
                h3 { (w.step) ": " (w.goal) }
                @match &w.window {
                    Ok(s) => {
                        ul class="figures" {
                            li { span class="label" { (say("board-thin-piece")) } strong { (whole(s.thin)) } }
                            li { span class="label" { (say("board-usual-piece")) } strong { (whole(s.nominal)) } }
                            li { span class="label" { (say("board-thickest-piece")) } strong { (whole(s.thick)) } }
                            @if let Some(slow) = s.thick_if_slow { li { span class="label" { (say("board-thickest-slow")) } strong { (whole(slow)) } } }
                            @if let Some((min, max)) = &w.house { li { span class="label" { (say("board-house-own")) } strong { (whole(*min)) " " (say("board-to")) " " (whole(*max)) } } }
                        }
                    }
                    Err(why) => { p { (say("board-not-computed")) " " (why) } }
                }
                @if let Some(p) = w.places {
                    p { (say_with("board-places-note", &[("mean", (&number(p.mean_pct, 1)).into()), ("surface", (&number(p.surface_pct, 1)).into()), ("core", (&number(p.core_pct, 1)).into())])) }
                }
                @if let Some(conflict) = &w.conflict { div class="decide" { p { (conflict) } } }
                p class="small" { (w.model) }
            }
        }
    }
}
