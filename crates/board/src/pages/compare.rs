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
use crate::tongue::{cover_word, say, say_with};
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
    let cover = cover_word(&after);
    Ok(frame(
        &Frame {
            title: &say("board-changes-title"),
            plan: Some(&after),
            here: "compare",
        },
        html! {
            @if happened && what_if { p { (say("board-day-and-change")) } }
            @else if happened { p { (say("board-book-and-written")) } }
            @else if !what_if {
                p { (say("board-no-change")) " " a href=(event_address(&after, "")) { (say("board-back-to-plan")) } }
            }
            ul class="figures" {
                li { span class="label" { (say("board-clock-label")) } strong { (clock_word(&before)) " → " (clock_word(&after)) } }
                li { span class="label" { (say("board-tasks-that-move")) } strong { (d.moved.len()) } br; (say_with("board-n-stay", &[("n", d.stayed.into())])) }
                li { span class="label" { (say("board-food")) } strong { (more(sign, food)) } }
                li { span class="label" { (say("board-labour")) } strong { (more(sign, labour)) } }
                li { span class="label" { (say("board-prime-short")) } strong { (money(sign, after.cost.prime_per_cover(), 2)) } " " (say_with("board-a-cover", &[("cover", (&cover).into())])) }
            }
            (decide(&after))
            (ways_out(&after))
            (moved(&d))
            @let slack = slack_left(&d, &after);
            @if !slack.is_empty() {
                h2 { (say("board-slack-left")) }
                ul { @for line in &slack { li { (line) } } }
            }
            (changed(&d, sign))
        },
    ))
}

pub(crate) fn moved(d: &Difference) -> Markup {
    html! {
        h2 { (say("board-clock")) }
        @if d.moved.is_empty() { p { (say("board-nothing-moves")) } }
        @else {
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-task")) } th { (say("board-was-head")) } th { (say("board-is-head")) } th class="n" { (say("board-by-head")) } } }
                tbody { @for m in &d.moved {
                    tr {
                        td { (m.id) @if let (Some(near), true) = (m.because.first(), m.by_min.is_some()) {
                            br; span class="small" { (near) @if let (Some(root), true) = (m.because.last(), m.because.len() > 1) { (say("board-at-the-root")) " " (root) } }
                        } }
                        td { (m.before.clone().unwrap_or_else(|| say("board-task-new"))) }
                        td { (m.after.clone().unwrap_or_else(|| say("board-task-gone"))) }
                        td class="n" { @if let Some(by) = m.by_min { (shift(by)) } }
                    }
                } }
            } }
        }
        @for (group, was, now) in &d.people {
            p { (group) " " (say("board-group-stays")) " " (was.as_deref().unwrap_or("–")) " → " (now.as_deref().unwrap_or("–")) }
        }
    }
}

pub(crate) fn changed(d: &Difference, sign: &str) -> Markup {
    html! {
        @if !d.weights.is_empty() {
            h2 { (say("board-weights")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-figure")) } th class="n" { (say("board-was-head")) } th class="n" { (say("board-is-head")) } } }
                tbody { @for w in &d.weights { tr { td { (w.id) } td class="n" { (w.before) } td class="n" { (w.after) } } } }
            } }
        }
        @if !d.food.is_empty() || !d.labour.is_empty() {
            h2 { (say("board-money")) }
            div class="wide" tabindex="0" { table { tbody {
                @for m in d.food.iter().chain(&d.labour) {
                    tr { td { (m.what) } td class="n" { (more(sign, m.by)) } }
                }
            } } }
        }
        @if !d.verdicts.is_empty() {
            h2 { (say("board-verdicts")) }
            ul { @for (id, was, now) in &d.verdicts { li { (id) ": " (was) " → " (now) } } }
        }
    }
}
