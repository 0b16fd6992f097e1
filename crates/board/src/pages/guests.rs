//! Who can eat it: the matrix of the place, and one guest's question.

use kitchen::label::Allergen;
use maud::{Markup, html};
use plan::Plan;
use plan::allergens::{Cell, Diet, Row, State, figure_id};
use plan::ask::guest::{Guest, Matter, guest};

use super::{Asked, bench, plan_of};
use crate::address::Query;
use crate::page::{Frame, changes_of, frame, opens};
use crate::tongue::{covers, say, say_with, translated};
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, query) = plan_of(&asked).await?;
    let question = question(&query)?;
    Ok(frame(
        &Frame {
            title: &say("board-guests"),
            plan: Some(&plan),
            here: "guests",
        },
        html! {
            @if !question.without.is_empty() {
                @match guest(&plan.scene, &question) {
                    Ok(answered) => { (bench::answered(&answered.answer)) }
                    Err(refusal) => { (bench::refused(&refusal)) }
                }
            }
            (specials(&plan))
            (form(&plan, &question))
            (matrix(&plan))
        },
    ))
}

/// What the address asks.
fn question(query: &Query) -> Result<Guest, Trouble> {
    let mut without = Vec::new();
    for (name, value) in &query.0 {
        let known = match name.as_str() {
            "without" => find(value, Allergen::ALL).map(Matter::Allergen),
            "diet" => find(value, Diet::ALL).map(Matter::Diet),
            _ => continue,
        };
        without.push(known.ok_or_else(|| {
            Trouble::entry(
                format!(
                    "{name}: found \"{}\"",
                    value.chars().take(40).collect::<String>()
                ),
                "one of the words on this page",
                "tick what the guest must not have; nothing was left out on a guess",
            )
        })?);
    }
    Ok(Guest {
        without,
        seat: query.first("seat").map(|s| s.chars().take(20).collect()),
        plates: 1,
    })
}

fn find<T: Copy>(word: &str, words: &[(&'static str, T)]) -> Option<T> {
    words.iter().find(|(w, _)| *w == word).map(|(_, t)| *t)
}

/// The special plates of the event, each with its answer.
fn specials(plan: &Plan) -> Markup {
    let plates: u32 = plan.specials.iter().map(|l| l.special.plates).sum();
    html! {
        h2 { (say("board-specials")) }
        @if plan.specials.is_empty() {
            p { (say("board-no-specials")) " " code { "special.seat-14=milk, mustard" } " " (say("board-adds-one")) }
        } @else {
            p { (plates) " " (say("board-of")) " " (covers(&plan.scene.event)) ". " (say("board-guest-asked")) }
            @for l in &plan.specials {
                div class="decide" {
                    h3 { (l.place()) " · " (say_with("board-plates", &[("n", l.special.plates.into())])) " · " (l.said()) }
                    p { strong { (l.headline()) } }
                    @if !l.mixes.is_empty() {
                        ul { @for m in &l.mixes { li {
                            (opens(plan, &format!("special.{}.{}.{}.g", l.special.id, m.part, m.item.id()), &plan::wording::grams(m.grams, false)))
                            " " (plan::wording::item_name(&plan.scene, &m.item).0)
                            @if let Some(form) = &m.form { ", " (form) }
                            " " (say("board-for")) " " (m.swap) ": " (m.from.words())
                        } } }
                    }
                    p { (l.answered.answer.next) }
                }
            }
        }
    }
}

fn form(plan: &Plan, question: &Guest) -> Markup {
    let ticked = |m: &Matter| question.without.contains(m);
    html! {
        form method="get" class="no-print" {
            @for change in changes_of(plan) { input type="hidden" name="set" value=(change); }
            fieldset {
                legend { (say("board-must-not-have")) }
                @for (word, allergen) in Allergen::ALL {
                    label class="tick" {
                        input type="checkbox" name="without" value=(word) checked[ticked(&Matter::Allergen(*allergen))];
                        " " (translated(&format!("label-word-{word}"), word, &[]))
                    }
                }
            }
            fieldset {
                legend { (say("board-or-eats")) }
                @for (word, diet) in Diet::ALL {
                    label class="tick" {
                        input type="checkbox" name="diet" value=(word) checked[ticked(&Matter::Diet(*diet))];
                        " " (translated(&format!("diet-{word}"), word, &[]))
                    }
                }
            }
            div class="fields" {
                label { (say("board-seat")) input name="seat" value=(question.seat.as_deref().unwrap_or("")); }
                button type="submit" { (say("board-can-eat")) }
            }
        }
    }
}

fn matrix(plan: &Plan) -> Markup {
    let m = &plan.allergens;
    html! {
        h2 { (say("board-matrix")) }
        div class="wide" tabindex="0" { table class="matrix" {
            thead { tr { th { "" span class="unseen" { (say("board-dish-part")) } } @for c in &m.columns { th scope="col" { (translated(&format!("allergen-{}", c.id), &c.name, &[])) } } } }
            tbody {
                @for dish in &m.dishes {
                    tr class="dish" {
                        th scope="row" { (dish.name) }
                        @for state in &dish.states { td { (sign(*state)) } }
                    }
                    @for part in &dish.parts { (row(plan, part, 1)) }
                }
            }
        } }
        p class="small" {
            @for state in State::ALL { strong { (state.sign()) } " " (state_word(*state)) " · " }
            (say("board-matrix-note"))
        }
    }
}

fn row(plan: &Plan, part: &Row, depth: usize) -> Markup {
    html! {
        tr {
            th scope="row" class=(if depth > 1 { "inside" } else { "part" }) { (part.name) }
            @for (column, cell) in plan.allergens.columns.iter().zip(&part.cells) {
                td { (opened(plan, part, &column.id, cell)) }
            }
        }
        @for inside in &part.inside { (row(plan, inside, depth + 1)) }
    }
}

fn opened(plan: &Plan, part: &Row, column: &str, cell: &Cell) -> Markup {
    html! {
        @if cell.state == State::Free { (sign(cell.state)) }
        @else { (opens(plan, &figure_id(&part.recipe, column), cell.state.sign())) span class="unseen" { " " (state_word(cell.state)) } }
        @if !cell.swaps.is_empty() { br; span class="small" { (say("board-swap")) } }
    }
}

fn sign(state: State) -> Markup {
    html! { span aria-hidden="true" { (state.sign()) } span class="unseen" { (state_word(state)) } }
}

/// The word of a sign.
fn state_word(state: State) -> String {
    say(match state {
        State::Free => "board-state-free",
        State::Under => "board-state-under",
        State::May => "board-state-may",
        State::Unknown => "board-state-unknown",
        State::Contains => "board-state-contains",
    })
}
