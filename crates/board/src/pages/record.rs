//! The record of an event: what happened, who says so, and what the readings show. Nothing in it is ever changed;
//! a correction is an entry of its own.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use axum::response::{IntoResponse, Redirect, Response};
use kitchen::verb::Verb;
use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use safety::Judgement;
use safety::history::{Channel, History, Quantity, Reading as Read};
use safety::judge::{Refusal, Terms, cooling, fish_core};
use store::{Append, Entry, Kind, Label, LogHead, LogOf, Unit};

use super::{plan_of, verdicts};
use crate::Board;
use crate::access::visitor::who_field;
use crate::address::Query;
use crate::entry::{KINDS, moment, new_id, read};
use crate::kept::ask;
use crate::page::{Frame, frame};
use crate::trouble::Trouble;

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let (plan, query) = plan_of(&(State(Arc::clone(&board)), path, query)).await?;
    let log = entries(&board, &plan).await?;
    let head = ask(&board, LogHead).await?;
    Ok(frame(
        &Frame {
            title: "Record",
            plan: Some(&plan),
            here: "record",
        },
        html! {
            @if !board.kept {
                div class="what-if" role="status" {
                    strong { "This record is not kept" } ": it ends with the program. Start it with " code { "saltern serve --db FILE" } " to keep one."
                }
            }
            (form(&board, &plan, &query))
            (shown(&plan, &log))
            (list(&plan, &log))
            p class="small" {
                @if head.sequence == 1 { "1 entry" } @else { (head.sequence) " entries" } " in all; the last is sealed with "
                code class="seal" { (head.hash) }
                ". Written down elsewhere, it tells whether anything before it was changed since."
            }
        },
    ))
}

pub(crate) async fn append(
    State(board): State<Arc<Board>>,
    Path(event): Path<String>,
    body: String,
) -> Result<Response, Trouble> {
    let path = (
        State(Arc::clone(&board)),
        Path(event.clone()),
        RawQuery(None),
    );
    let (plan, _) = plan_of(&path).await?;
    let now = board.clock.now();
    let form = Query::read(Some(&body));
    let entry = read(&plan, &form, now)?;
    let recorded = moment(&plan, now)?;
    ask(&board, Append { entry, recorded }).await?;
    let who = crate::address::encoded(form.first("who").unwrap_or(""));
    Ok(Redirect::to(&format!("/event/{event}/record?who={who}")).into_response())
}

async fn entries(board: &Arc<Board>, plan: &Plan) -> Result<Vec<Entry>, Trouble> {
    ask(
        board,
        LogOf::event(Label::new(plan.scene.event.id.as_str())?),
    )
    .await
}

fn form(board: &Board, plan: &Plan, query: &Query) -> Markup {
    let corrects = query.first("corrects");
    let chosen = query.first("about").unwrap_or("");
    html! {
        h2 { @if let Some(of) = corrects { "Correct entry " (of) } @else { "Enter" } }
        form class="fields" method="post" action=(format!("/event/{}/record", plan.scene.event.id)) {
            input type="hidden" name="id" value=(new_id(board.clock.now()));
            @if let Some(of) = corrects { input type="hidden" name="corrects" value=(of); }
            (who_field(query.first("who").unwrap_or("")))
            @if corrects.is_none() {
                label { "What happened"
                    select name="kind" { @for (word, name, _) in KINDS { option value=(word) selected[query.first("kind") == Some(*word)] { (name) } } }
                }
            }
            label { "Of what"
                select name="about" {
                    option value="" { "the event as a whole" }
                    @for c in &plan.components {
                        @if let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) {
                            @for step in &recipe.steps {
                                @let value = format!("{}.{}", c.recipe, step.id);
                                option value=(value) selected[value == chosen] { (c.name) ": " (step.id) }
                            }
                        }
                    }
                }
            }
            label { "Which piece, pan or probe" input name="part" autocomplete="off"; span class="hint" { "probe 2" } }
            label { "Reading, with its unit" input name="reading" autocomplete="off"; span class="hint" { "63.4 °C, 5.22 kg, pH 4.1" } }
            label { "When, if not now" input name="when" autocomplete="off" placeholder="2027-10-06 15:05"; }
            label { "Words" input name="words" autocomplete="off"; }
            button type="submit" { "Write it down" }
        }
    }
}

fn list(plan: &Plan, log: &[Entry]) -> Markup {
    html! {
        h2 { "What happened" }
        @if log.is_empty() { p { "Nothing is written down yet." } }
        @else {
            div class="wide" tabindex="0" { table {
                thead { tr { th class="n" { "No." } th { "When" } th { "Who" } th { "What" } th { "Reading" } th { "Words" } td {} } }
                tbody { @for e in log.iter().rev() { (row(plan, e)) } }
            } }
        }
    }
}

fn row(plan: &Plan, e: &Entry) -> Markup {
    let s = &e.says;
    let about = [&s.about.component, &s.about.step, &s.about.part]
        .into_iter()
        .flatten()
        .map(store::Label::as_str)
        .collect::<Vec<_>>()
        .join(", ");
    html! {
        tr {
            td class="n" { (e.sequence) }
            td class="hour" { @if let Some(z) = s.at.on_the_clock() { (z.strftime("%a %m-%d %H:%M")) } }
            td { (s.who) }
            td {
                (s.kind.as_str()) @if let Some(of) = s.kind.corrects() { " of " (of) }
                @if !about.is_empty() { br; span class="small" { (about) } }
            }
            td { @if let Some(r) = s.reading { (r) } }
            td { (s.words) @if let Some(by) = e.corrected_by { " " strong { "corrected by " (by) } } }
            td {
                @if e.corrected_by.is_none() && s.kind.corrects().is_none() {
                    a href=(format!("/event/{}/record?corrects={}&who={}", plan.scene.event.id, e.sequence, crate::address::encoded(s.who.as_str()))) { "correct" }
                }
            }
        }
    }
}

/// What the temperatures written down show, by the rule their step asks for.
fn shown(plan: &Plan, log: &[Entry]) -> Markup {
    let mut judged: Vec<(String, Result<Judgement, Refusal>)> = Vec::new();
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for step in &recipe.steps {
            let rule = match step.verb {
                Verb::HotSmoke if step.until.is_some() => fish_core,
                Verb::Chill => cooling,
                _ => continue,
            };
            let history = history(log, c.recipe.as_str(), step.id.as_str());
            if history.channels.is_empty() {
                continue;
            }
            let answer = rule(&history, &Terms::of(plan.scene.site.rules));
            judged.push((format!("{}: {}", c.name, step.id), answer));
        }
    }
    html! {
        @if !judged.is_empty() {
            h2 { "What the readings show" }
            @for (name, answer) in judged {
                @match answer {
                    Ok(j) => { (one(&name, &j)) }
                    // Readings that contradict each other show nothing, and saying nothing would hide what they broke.
                    Err(why) => { p { (verdicts::word(safety::Verdict::NotShown)) " " strong { (name) } " · not judged: " (why) } }
                }
            }
        }
    }
}

fn one(name: &str, j: &Judgement) -> Markup {
    html! {
        p { (verdicts::word(j.verdict)) " " strong { (name) } " · asks " (j.asks) }
        p {
            @if let (Some(value), Some(limit)) = (j.value, j.limit) { (number(value, 1)) " " (j.unit) " against " (number(limit, 1)) " " (j.unit) " · " }
            strong { "Next: " } (j.next)
        }
        p class="small" { (j.place) br; (j.source.title) " (" (j.status().words()) "; " (j.holds.words()) ")" }
    }
}

/// The temperatures of a step, a channel a probe; what was corrected reads as its correction.
fn history(log: &[Entry], component: &str, step: &str) -> History {
    let mut channels: Vec<Channel> = Vec::new();
    let is = |label: &Option<Label>, id: &str| label.as_ref().is_some_and(|l| l.as_str() == id);
    for e in log {
        let s = &e.says;
        if s.kind != Kind::Temperature
            || !is(&s.about.component, component)
            || !is(&s.about.step, step)
        {
            continue;
        }
        let holds = match e.corrected_by {
            None => s.reading,
            Some(by) => log
                .iter()
                .find(|c| c.sequence == by)
                .and_then(|c| c.says.reading),
        };
        let value = holds.and_then(celsius);
        let name = s.about.part.as_ref().map_or("probe", |p| p.as_str());
        let reading = Read {
            at_s: s.at.instant().as_second(),
            value,
        };
        match channels.iter_mut().find(|c| c.name == name) {
            Some(c) => c.readings.push(reading),
            None => channels.push(Channel {
                name: name.to_owned(),
                quantity: Quantity::TemperatureC,
                readings: vec![reading],
            }),
        }
    }
    for channel in &mut channels {
        channel.readings.sort_by_key(|r| r.at_s);
    }
    History { channels }
}

fn celsius(reading: store::Reading) -> Option<f64> {
    let n: f64 = reading.number().to_string().parse().ok()?;
    let t = match reading.unit() {
        Unit::Celsius => units::Temperature::celsius(n),
        Unit::Fahrenheit => units::Temperature::from_f(n),
        _ => return None,
    };
    t.ok().map(units::Temperature::c)
}
