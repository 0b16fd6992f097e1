//! The verdicts of a plan, worst first.

use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use plan::verdicts::Verdict;
use sources::Status;

use super::{Asked, plan_of};
use crate::page::{Frame, frame, opens};
use crate::tongue::say;
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&asked).await?;
    let of = |verdict: safety::Verdict| {
        plan.verdicts
            .iter()
            .filter(move |v| v.judgement.verdict == verdict)
            .collect::<Vec<_>>()
    };
    let groups = [
        (say("board-broken-head"), of(safety::Verdict::Broken)),
        (say("board-not-shown-head"), of(safety::Verdict::NotShown)),
        (say("board-shown-head"), of(safety::Verdict::Shown)),
    ];
    Ok(frame(
        &Frame {
            title: &say("board-verdicts"),
            plan: Some(&plan),
            here: "verdicts",
        },
        html! {
            @if plan.verdicts.is_empty() { p { (say("board-no-rule")) } }
            @for (name, verdicts) in groups.iter().filter(|(_, v)| !v.is_empty()) {
                h2 { (name) " (" (verdicts.len()) ")" }
                @for v in verdicts { (one(&plan, v)) }
            }
        },
    ))
}

/// One verdict, whole.
pub(crate) fn one(plan: &Plan, v: &Verdict) -> Markup {
    let j = &v.judgement;
    let status = j.source.status;
    let verify = !status.may_show() && status != Status::House;
    html! {
        section {
            h3 { (word(j.verdict)) " " (opens(plan, &format!("verdict.{}", v.id), &v.id)) }
            p {
                @if let (Some(value), Some(limit)) = (j.value, j.limit) {
                    (opens(plan, &format!("verdict.{}.value", v.id), &format!("{} {}", number(value, places(value)), j.unit)))
                    " " (say("board-against")) " "
                    (opens(plan, &format!("verdict.{}.limit", v.id), &format!("{} {}", number(limit, places(limit)), j.unit)))
                    " · "
                }
                (say("board-asks")) " " (j.asks)
            }
            p { strong { (say("board-next")) " " } (j.next) }
            p class="small" {
                (j.place) " · " (say("board-counted-on")) " " (j.base) br;
                (j.source.title) " (" (status.words()) "; " (j.holds.words())
                @if verify { (say("board-verify")) }
                ")"
            }
        }
    }
}

/// The word of a verdict in its frame: full for broken, dashed for not shown, plain for shown.
pub(crate) fn word(v: safety::Verdict) -> Markup {
    let (class, key) = match v {
        safety::Verdict::Broken => ("word broken", "verdict-broken"),
        safety::Verdict::NotShown => ("word not-shown", "verdict-not-shown"),
        safety::Verdict::Shown => ("word", "verdict-shown"),
    };
    html! { span class=(class) { (say(key).to_uppercase()) } }
}

fn places(x: f64) -> u32 {
    if (x - x.round()).abs() < 1e-9 { 0 } else { 2 }
}
