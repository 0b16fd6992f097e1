//! The verdicts of a plan, worst first.

use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use plan::verdicts::Verdict;
use sources::Status;

use super::{Asked, plan_of};
use crate::page::{Frame, frame, opens};
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
        ("Broken", of(safety::Verdict::Broken)),
        ("Not shown", of(safety::Verdict::NotShown)),
        ("Shown", of(safety::Verdict::Shown)),
    ];
    Ok(frame(
        &Frame {
            title: "Verdicts",
            plan: Some(&plan),
            here: "verdicts",
        },
        html! {
            @if plan.verdicts.is_empty() { p { "None of the rules here speaks about this." } }
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
                    " against "
                    (opens(plan, &format!("verdict.{}.limit", v.id), &format!("{} {}", number(limit, places(limit)), j.unit)))
                    " · "
                }
                "asks " (j.asks)
            }
            p { strong { "Next: " } (j.next) }
            p class="small" {
                (j.place) " · counted on: " (j.base) br;
                (j.source.title) " (" (status.words()) "; " (j.holds.words())
                @if verify { "; verify with your authority" }
                ")"
            }
        }
    }
}

/// The word of a verdict in its frame: full for broken, dashed for not shown, plain for shown.
pub(crate) fn word(v: safety::Verdict) -> Markup {
    let class = match v {
        safety::Verdict::Broken => "word broken",
        safety::Verdict::NotShown => "word not-shown",
        safety::Verdict::Shown => "word",
    };
    html! { span class=(class) { (v.word().to_uppercase()) } }
}

fn places(x: f64) -> u32 {
    if (x - x.round()).abs() < 1e-9 { 0 } else { 2 }
}
