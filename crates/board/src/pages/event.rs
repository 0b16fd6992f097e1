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
use crate::tongue::{cover_word, say, say_with};
use crate::trouble::Trouble;

pub(crate) async fn page(asked: Asked) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&asked).await?;
    Ok(frame(
        &Frame {
            title: &say("board-plan"),
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
    let cover = cover_word(plan);
    let count = |v: Verdict| {
        plan.verdicts
            .iter()
            .filter(|x| x.judgement.verdict == v)
            .count()
    };
    html! {
        ul class="figures" {
            li { span class="label" { (say("board-plates-label")) } strong { (opens(plan, "event.plates", &plan::figures::number(plan.plates, 0))) } }
            li { span class="label" { (say("board-clock-label")) } strong { (clock_word(plan)) } }
            li {
                span class="label" { (say("board-food-bought")) }
                strong { (opens(plan, "cost.food_bought", &money(sign, plan.cost.food_bought, 2))) }
                br;
                (opens(plan, "cost.per_cover_bought", &money(sign, plan.cost.per_cover_bought(), 2))) " " (say_with("board-a-cover", &[("cover", (&cover).into())]))
            }
            li { span class="label" { (say("board-work")) } strong { (opens(plan, "cost.labour_min", &minutes(plan.cost.labour_min))) } }
            li {
                span class="label" { (say("board-verdicts-label")) }
                strong { (count(Verdict::Broken)) " " (say("board-broken")) } br;
                (count(Verdict::NotShown)) " " (say("board-not-shown")) " " (count(Verdict::Shown)) " " (say("board-shown"))
            }
        }
    }
}

/// How the search for a clock ended.
pub(crate) fn clock_word(plan: &Plan) -> String {
    say(match plan.timeline.status {
        Status::Proved => "board-clock-proved",
        Status::Feasible => "board-clock-holds",
        Status::Impossible => "board-clock-impossible",
        Status::NotFound => "board-clock-not-found",
    })
}

/// What asks for a decision, with ways out.
pub(crate) fn decide(plan: &Plan) -> Markup {
    html! {
        @if !plan.choices.is_empty() {
            h2 { (say("board-decide")) }
        }
        @for choice in &plan.choices {
            div class="decide" {
                p { (choice.finding) }
                @if !choice.because.is_empty() {
                    span class="label" { (say("board-because")) }
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
        h2 id="ways-out" { (say("board-ways-out")) }
        p class="small" { (say_with("board-ways-plans", &[("n", found.plans.into())])) }
        @if found.ways.is_empty() {
            p { (say("board-no-way-out")) }
        }
        @for way in &found.ways {
            div class="decide" {
                p { a href=(with(&way.settings)) { (way.what) } }
                ul {
                    li { (say_with("board-food-labour", &[("food", (&difference(sign, way.food_by)).into()), ("labour", (&difference(sign, way.labour_by)).into())])) }
                    @for line in &way.consequences { li { (line) } }
                }
            }
        }
        @if !found.others.is_empty() {
            ul {
                @for other in &found.others {
                    @match &other.why_not {
                        None => { li { (say("board-holds-too")) " " a href=(with(&other.settings)) { (other.what) } } }
                        Some(why) => { li { (say("board-no-help")) " " (other.what) " (" (why) ")" } }
                    }
                }
            }
        }
        @if found.cut_short {
            p { (say("board-cut-short")) }
        }
    }
}

fn components(plan: &Shown) -> Markup {
    html! {
        h2 { (say("board-components")) }
        ul class="cards" {
            @for c in &plan.components {
                li {
                    a class="whole" href=(event_address(plan, &format!("lot/{}", c.recipe))) { h3 { (c.name) (plan.held(c.recipe.as_str())) } }
                    p {
                        (plan::wording::grams(c.made_g, false))
                        @if let Some(p) = c.portion_g {
                            " = " (plan::figures::number(c.made_g / p, 1)) " " (say("board-portions-of")) " " (plan::figures::number(p, 0)) " g"
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
        h2 id="what-if" { (say("board-what-if-head")) }
        form class="fields" method="get" action=(format!("/event/{}/compare", event.id)) {
            @for change in changes_of(plan) {
                input type="hidden" name="set" value=(change);
            }
            label { (say("board-covers"))
                input name="change-covers" inputmode="numeric" placeholder=(event.covers);
                span class="hint" { (say("board-covers-hint")) }
            }
            label { (say("board-serve-moves"))
                input name="change-serve" placeholder="+90min";
                span class="hint" { "+90min, -30min" }
            }
            label { (say("board-people-at-once"))
                input name="change-people" placeholder="-2";
                span class="hint" { (say("board-people-hint")) }
            }
            @for i in 1..=FREE_ROWS {
                label { (say("board-another-change")) " " (i)
                    input name="set" list="keys" placeholder="machine.smoker=off";
                    span class="hint" { (say("board-change-hint")) }
                }
            }
            button type="submit" { (say("board-see-changes")) }
        }
        datalist id="keys" { @for key in &keys { option value=(format!("{key}=")) {} } }
        details {
            summary { (say("board-every-key")) (keys.len()) ")" }
            p class="small" { (keys.join(", ")) }
        }
    }
}
