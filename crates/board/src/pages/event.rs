//! The plan of an event: the answers first, what asks for a decision, and what if.

use maud::{Markup, html};
use plan::Plan;
use plan::timeline::Status;
use plan::wording::{difference, minutes, money};
use safety::Verdict;

use super::{Asked, plan_of};
use crate::address::carried;
use crate::page::{Frame, changes_of, event_address, frame, opens};
use crate::shown::Shown;
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&asked).await?;
    Ok(frame(
        &Frame {
            title: "Plan",
            plan: Some(&plan),
            here: "",
        },
        html! {
            (answers(&plan))
            (ways_out(&plan))
            (decide(&plan))
            (components(&plan))
            (super::recipe::made_from(&plan))
            (what_if(&plan))
        },
    ))
}

/// The figures one comes for.
fn answers(plan: &Plan) -> Markup {
    let sign = &plan.scene.site.currency;
    let cover = &plan.scene.event.cover_word;
    let count = |v: Verdict| {
        plan.verdicts
            .iter()
            .filter(|x| x.judgement.verdict == v)
            .count()
    };
    html! {
        ul class="figures" {
            li { span class="label" { "plates" } strong { (opens(plan, "event.plates", &plan::figures::number(plan.plates, 0))) } }
            li { span class="label" { "clock" } strong { (clock_word(plan)) } }
            li {
                span class="label" { "food, bought" }
                strong { (opens(plan, "cost.food_bought", &money(sign, plan.cost.food_bought, 2))) }
                br;
                (opens(plan, "cost.per_cover_bought", &money(sign, plan.cost.per_cover_bought(), 2))) " a " (cover)
            }
            li { span class="label" { "work" } strong { (opens(plan, "cost.labour_min", &minutes(plan.cost.labour_min))) } }
            li {
                span class="label" { "verdicts" }
                strong { (count(Verdict::Broken)) " broken" } br;
                (count(Verdict::NotShown)) " not shown, " (count(Verdict::Shown)) " shown"
            }
        }
    }
}

/// How the search for a clock ended.
pub(crate) fn clock_word(plan: &Plan) -> &'static str {
    match plan.timeline.status {
        Status::Proved => "holds, none better",
        Status::Feasible => "holds",
        Status::Impossible => "impossible",
        Status::NotFound => "not found",
    }
}

/// What asks for a decision, with ways out.
pub(crate) fn decide(plan: &Plan) -> Markup {
    html! {
        @if !plan.choices.is_empty() {
            h2 { "Decide" }
        }
        @for choice in &plan.choices {
            div class="decide" {
                p { (choice.finding) }
                @if !choice.because.is_empty() {
                    span class="label" { "because" }
                    ul { @for fact in &choice.because { li { (fact) } } }
                }
                ul { @for way in &choice.ways { li { (way) } } }
            }
        }
    }
}

/// Where there is no clock: what was tried, each way with a link to its plan.
pub(crate) fn ways_out(plan: &Plan) -> Markup {
    let Some(found) = &plan.ways_out else {
        return html! {};
    };
    let sign = &plan.scene.site.currency;
    let changes = changes_of(plan);
    let with = |settings: &[plan::Setting]| {
        let added = settings.iter().map(ToString::to_string);
        let all: Vec<String> = changes.iter().cloned().chain(added).collect();
        format!("/event/{}{}", plan.scene.event.id, carried(&all))
    };
    html! {
        h2 id="ways-out" { "Ways out" }
        p class="small" { "Each was planned anew by the same clock (" (found.plans) " plans)." }
        @if found.ways.is_empty() {
            p { "None of what was tried gives a clock." }
        }
        @for way in &found.ways {
            div class="decide" {
                p { a href=(with(&way.settings)) { (way.what) } }
                ul {
                    li { "food " (difference(sign, way.food_by)) ", labour " (difference(sign, way.labour_by)) }
                    @for line in &way.consequences { li { (line) } }
                }
            }
        }
        @if !found.others.is_empty() {
            ul {
                @for other in &found.others {
                    @match &other.why_not {
                        None => { li { "Holds too: " a href=(with(&other.settings)) { (other.what) } } }
                        Some(why) => { li { "Does not help: " (other.what) " (" (why) ")" } }
                    }
                }
            }
        }
        @if found.cut_short {
            p { "The effort for this ended before everything was tried." }
        }
    }
}

fn components(plan: &Shown) -> Markup {
    html! {
        h2 { "Components" }
        ul class="cards" {
            @for c in &plan.components {
                li {
                    a class="whole" href=(event_address(plan, &format!("lot/{}", c.recipe))) { h3 { (c.name) (plan.held(c.recipe.as_str())) } }
                    p {
                        (plan::wording::grams(c.made_g, false))
                        @if let Some(p) = c.portion_g {
                            " = " (plan::figures::number(c.made_g / p, 1)) " portions of " (plan::figures::number(p, 0)) " g"
                        }
                    }
                }
            }
        }
    }
}

/// Rows for changes of any other key.
const FREE_ROWS: usize = 2;

/// The form of a what-if: the usual changes by name, any other by its key.
fn what_if(plan: &Plan) -> Markup {
    let keys = plan::setting::keys(&plan.scene);
    let event = &plan.scene.event;
    html! {
        h2 id="what-if" { "What if" }
        form class="fields" method="get" action=(format!("/event/{}/compare", event.id)) {
            @for change in changes_of(plan) {
                input type="hidden" name="set" value=(change);
            }
            label { "Covers"
                input name="change-covers" inputmode="numeric" placeholder=(event.covers);
                span class="hint" { "how many pay" }
            }
            label { "Serving hour moves"
                input name="change-serve" placeholder="+90min";
                span class="hint" { "+90min, -30min" }
            }
            label { "People at one time"
                input name="change-people" placeholder="-2";
                span class="hint" { "-2: two are absent" }
            }
            @for i in 1..=FREE_ROWS {
                label { "Another change " (i)
                    input name="set" list="keys" placeholder="machine.smoker=off";
                    span class="hint" { "KEY=VALUE: a weight, a thickness, a machine, a price" }
                }
            }
            button type="submit" { "See what changes" }
        }
        datalist id="keys" { @for key in &keys { option value=(format!("{key}=")) {} } }
        details {
            summary { "Every key that can be changed (" (keys.len()) ")" }
            p class="small" { (keys.join(", ")) }
        }
    }
}
