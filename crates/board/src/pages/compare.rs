//! What a change moves, why, and what it costs.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use maud::{Markup, html};
use plan::compare::{Difference, difference, shift, slack_left};
use plan::wording::{difference as more, money};

use super::event::{clock_word, decide, ways_out};
use super::{Asked, plan_of};
use crate::address::AS_PLANNED;
use crate::day::Day;
use crate::page::{Frame, changes_of, event_address, frame};
use crate::planned;
use crate::shown::Shown;
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (after, _) = plan_of(&asked).await?;
    // A change is held against the day as it stands; the day against the book.
    let what_if = changes_of(&after).iter().any(|c| c != AS_PLANNED);
    let before = if what_if && !after.as_planned {
        let asked = (
            State(Arc::clone(&asked.0.0)),
            Path(asked.1.0.clone()),
            RawQuery(None),
        );
        plan_of(&asked).await?.0
    } else {
        let plan = planned::plan(&asked.0.0, &asked.1.0, &[]).await?;
        Arc::new(Shown::of(
            plan,
            Day::default(),
            asked.0.0.standing_now().await?,
        ))
    };
    let happened = !after.day.facts.is_empty() && !after.as_planned;
    let d = difference(&before, &after);
    let sign = &after.scene.site.currency;
    let food = after.cost.food_bought - before.cost.food_bought;
    let labour = after.cost.labour_cost - before.cost.labour_cost;
    Ok(frame(
        &Frame {
            title: "What changes",
            plan: Some(&after),
            here: "compare",
        },
        html! {
            @if happened && what_if { p { "The day as it stands, and the day with the change." } }
            @else if happened { p { "The plan of the book, and the plan from what was written down." } }
            @else if !what_if {
                p { "Nothing was changed. " a href=(event_address(&after, "")) { "Back to the plan" } }
            }
            ul class="figures" {
                li { span class="label" { "clock" } strong { (clock_word(&before)) " → " (clock_word(&after)) } }
                li { span class="label" { "tasks that move" } strong { (d.moved.len()) } br; (d.stayed) " stay" }
                li { span class="label" { "food" } strong { (more(sign, food)) } }
                li { span class="label" { "labour" } strong { (more(sign, labour)) } }
                li { span class="label" { "prime" } strong { (money(sign, after.cost.prime_per_cover(), 2)) } " a " (after.scene.event.cover_word) }
            }
            (decide(&after))
            (ways_out(&after))
            (moved(&d))
            @let slack = slack_left(&d, &after);
            @if !slack.is_empty() {
                h2 { "Slack left" }
                ul { @for line in &slack { li { (line) } } }
            }
            (changed(&d, sign))
        },
    ))
}

pub(crate) fn moved(d: &Difference) -> Markup {
    html! {
        h2 { "Clock" }
        @if d.moved.is_empty() { p { "Nothing moves." } }
        @else {
            div class="wide" tabindex="0" { table {
                thead { tr { th { "Task" } th { "Was" } th { "Is" } th class="n" { "By" } } }
                tbody { @for m in &d.moved {
                    tr {
                        td { (m.id) @if let (Some(near), true) = (m.because.first(), m.by_min.is_some()) {
                            br; span class="small" { (near) @if let (Some(root), true) = (m.because.last(), m.because.len() > 1) { "; at the root: " (root) } }
                        } }
                        td { (m.before.as_deref().unwrap_or("new")) }
                        td { (m.after.as_deref().unwrap_or("gone")) }
                        td class="n" { @if let Some(by) = m.by_min { (shift(by)) } }
                    }
                } }
            } }
        }
        @for (group, was, now) in &d.people {
            p { (group) " stays: " (was.as_deref().unwrap_or("–")) " → " (now.as_deref().unwrap_or("–")) }
        }
    }
}

pub(crate) fn changed(d: &Difference, sign: &str) -> Markup {
    html! {
        @if !d.weights.is_empty() {
            h2 { "Weights" }
            div class="wide" tabindex="0" { table {
                thead { tr { th { "Figure" } th class="n" { "Was" } th class="n" { "Is" } } }
                tbody { @for w in &d.weights { tr { td { (w.id) } td class="n" { (w.before) } td class="n" { (w.after) } } } }
            } }
        }
        @if !d.food.is_empty() || !d.labour.is_empty() {
            h2 { "Money" }
            div class="wide" tabindex="0" { table { tbody {
                @for m in d.food.iter().chain(&d.labour) {
                    tr { td { (m.what) } td class="n" { (more(sign, m.by)) } }
                }
            } } }
        }
        @if !d.verdicts.is_empty() {
            h2 { "Verdicts" }
            ul { @for (id, was, now) in &d.verdicts { li { (id) ": " (was) " → " (now) } } }
        }
    }
}
