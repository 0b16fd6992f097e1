//! Two plans of one event side by side: what a change of the book moves.

use maud::{Markup, html};
use plan::Plan;
use plan::compare::difference;
use plan::windows::Computed;
use plan::wording::{difference as more, money, whole};
use safety::Verdict;

use crate::pages::compare::{changed, moved};
use crate::pages::event::clock_word;
use crate::tongue::{cover_word, say, say_with, translated};

/// The difference in figures.
pub(super) fn figures(before: &Plan, after: &Plan) -> Markup {
    let d = difference(before, after);
    let sign = &after.scene.site.currency;
    let cover = cover_word(after);
    let count = |plan: &Plan, v: Verdict| {
        let of = |x: &&plan::verdicts::Verdict| x.judgement.verdict == v;
        plan.verdicts.iter().filter(of).count()
    };
    let from_to = |v: Verdict| {
        let (was, is) = (count(before, v), count(after, v));
        html! { @if was != is { (was) " → " } (is) " " (translated(&format!("verdict-{}", v.word().replace(' ', "-")), v.word(), &[])) }
    };
    html! {
        ul class="figures" {
            li {
                span class="label" { (say("board-prime-short")) } strong { (money(sign, after.cost.prime_per_cover(), 2)) } " " (say_with("board-a-cover", &[("cover", (&cover).into())])) br;
                (say("board-was")) " " (money(sign, before.cost.prime_per_cover(), 2))
            }
            li { span class="label" { (say("board-food-bought")) } strong { (more(sign, after.cost.food_bought - before.cost.food_bought)) } }
            li { span class="label" { (say("board-labour")) } strong { (more(sign, after.cost.labour_cost - before.cost.labour_cost)) } }
            li { span class="label" { (say("board-clock-label")) } strong { @if clock_word(before) != clock_word(after) { (clock_word(before)) " → " } (clock_word(after)) } }
            li {
                span class="label" { (say("board-verdicts-label")) }
                strong { (from_to(Verdict::Broken)) } br;
                (from_to(Verdict::NotShown)) ", " (from_to(Verdict::Shown))
            }
        }
        (decide(before, after))
        (changed(&d, sign))
        (windows(before, after))
        @if d.moved.is_empty() { h2 { (say("board-clock")) } p { (say("board-nothing-moves")) } }
        @else { details { summary { (say_with("board-tasks-move-stay", &[("moved", d.moved.len().into()), ("stayed", d.stayed.into())])) } (moved(&d)) } }
    }
}

/// What asks for a decision now and did not before.
fn decide(before: &Plan, after: &Plan) -> Markup {
    let new: Vec<_> = after
        .choices
        .iter()
        .filter(|c| before.choices.iter().all(|b| b.finding != c.finding))
        .collect();
    html! {
        @if !new.is_empty() { h2 { (say("board-decide-head")) } }
        @for choice in new {
            div class="decide" {
                p { (choice.finding) }
                @if !choice.because.is_empty() { ul { @for fact in &choice.because { li { (fact) } } } }
                ul { @for way in &choice.ways { li { (way) } } }
            }
        }
        @if after.timeline.tasks.is_empty() {
            div class="decide" {
                p { (say("board-no-clock-holds")) }
                ul { @for fact in &after.timeline.clash { li { (fact) } } }
            }
        }
    }
}

/// Computed windows that are others now.
fn windows(before: &Plan, after: &Plan) -> Markup {
    let is_of = |a: &Computed, b: &Computed| {
        a.component == b.component && a.step == b.step && a.goal == b.goal
    };
    let rows: Vec<(&Computed, Option<&Computed>)> = after
        .windows
        .iter()
        .map(|w| (w, before.windows.iter().find(|b| is_of(b, w))))
        .filter(|(w, b)| b.is_none_or(|b| said(b) != said(w)))
        .collect();
    html! {
        @if !rows.is_empty() {
            h2 { (say("board-windows-head")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-window-what")) } th { (say("board-window-was")) } th { (say("board-is-head")) } } }
                tbody { @for (w, was) in rows {
                    tr { td { (w.component) ", " (w.step) ": " (w.goal) } td { (was.map_or_else(|| "–".to_owned(), said)) } td { strong { (said(w)) } } }
                } }
            } }
        }
    }
}

fn said(w: &Computed) -> String {
    match &w.window {
        Ok(s) => format!(
            "{}, {}, {}",
            whole(s.thin),
            whole(s.nominal),
            whole(s.thick)
        ),
        Err(why) => format!("{} {why}", say("board-not-computed-inline")),
    }
}
