//! The record of an event: what happened, who says so, and what the readings show. Nothing in it is ever changed;
//! a correction is an entry of its own.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use kitchen::verb::Verb;
use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use safety::Judgement;
use safety::history::{Channel, History, Quantity, Reading as Read};
use safety::judge::{Refusal, Terms, cooling, fish_core};
use store::{Entry, Error, Kind, Label, LogHead, Store, Unit};
use tokio::sync::oneshot;

use super::{plan_of, verdicts};
use crate::address::Query;
use crate::entry::{KINDS, new_id};
use crate::page::{Frame, frame};
use crate::trouble::Trouble;
use crate::{Board, asked_from_here, happened, live, written};

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let (plan, query) = plan_of(&(State(Arc::clone(&board)), path, query)).await?;
    whole(&board, &plan, &query, None).await
}

/// The page; `refused` is why what the form says was not taken.
async fn whole(
    board: &Board,
    plan: &Plan,
    query: &Query,
    refused: Option<&Trouble>,
) -> Result<Markup, Trouble> {
    let live = live::line(board, plan, None);
    let before = match query.first("before") {
        None => i64::MAX,
        Some(number) => number.parse::<i64>().map_err(|_| {
            Trouble::entry(
                format!(
                    "before: found \"{}\"",
                    number.chars().take(40).collect::<String>()
                ),
                "the number of an entry",
                "open the record again and go back from there",
            )
        })?,
    };
    let log = happened::log(board, plan).await?;
    let head = ask(&board.store, LogHead).await?;
    Ok(frame(
        &Frame {
            title: "Record",
            plan: Some(plan),
            here: "record",
        },
        html! {
            (live)
            @if !board.kept {
                div class="what-if" role="status" {
                    strong { "This record is not kept" } ": it ends with the program. Start it with " code { "saltern serve --db FILE" } " to keep one."
                }
            }
            (form(board, plan, query, refused))
            (shown(plan, &log))
            (list(plan, &log, before))
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
    headers: HeaderMap,
    body: String,
) -> Result<Response, Trouble> {
    if !asked_from_here(&headers) {
        return Err(Trouble::entry(
            "a form of another page",
            "the board's own form",
            "open the record on this board and enter it there",
        ));
    }
    let path = (
        State(Arc::clone(&board)),
        Path(event.clone()),
        RawQuery(None),
    );
    let (plan, _) = plan_of(&path).await?;
    let form = Query::read(Some(&body));
    let refused = match written::write(&board, &plan, &form).await {
        Ok(receipt) => {
            let who = crate::address::encoded(form.first("who").unwrap_or(""));
            let next = format!("/event/{event}/record?who={who}");
            return Ok(written::taken(&headers, &receipt, &next));
        }
        Err(refused) => refused,
    };
    if written::plainly(&headers) {
        return Ok(refused.plain());
    }
    if !refused.is_entry() {
        return Err(refused);
    }
    // The form as it was filled in, with what is wrong beside its field.
    let page = whole(&board, &plan, &form, Some(&refused)).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// A command to the store, beside the pages and not in their way.
pub(crate) async fn ask<C: store::Command>(
    store: &Store,
    command: C,
) -> Result<C::Answer, Trouble> {
    let (reply, answer) = oneshot::channel();
    store.send(command, move |answer| {
        // Whoever asked may be gone.
        let _ = reply.send(answer);
    });
    answer
        .await
        .map_err(|e| Trouble::ours(format!("the record stopped: {e}")))?
        .map_err(|e| {
            let told = e.told();
            match e {
                Error::Refused(_) | Error::OtherContent { .. } | Error::NoEntry { .. } => {
                    Trouble::entry(told.found, told.expected, told.do_now)
                }
                _ => Trouble::record(told.found, told.expected, told.do_now),
            }
        })
}

/// What is wrong with a field, beside it.
fn wrong(refused: Option<&Trouble>, field: &str) -> Markup {
    html! {
        @if let Some(trouble) = refused.filter(|t| t.field() == Some(field)) {
            span class="wrong" id=(format!("wrong-{field}")) { (trouble.found()) }
        }
    }
}

fn form(board: &Board, plan: &Plan, query: &Query, refused: Option<&Trouble>) -> Markup {
    let said = |name: &str| query.first(name).unwrap_or("");
    // Ears are told what is wrong with a field as eyes are.
    let at = |name: &str| {
        refused
            .filter(|t| t.field() == Some(name))
            .map(|_| format!("wrong-{name}"))
    };
    let is_wrong = |name: &str| at(name).map(|_| "true");
    // Sent again it is the same entry, unless the id itself is what was wrong.
    let id = refused
        .filter(|t| t.field().is_some())
        .and_then(|_| query.first("id"))
        .map_or_else(|| new_id(board.clock.now()), str::to_owned);
    let corrects = query.first("corrects");
    let chosen = query.first("about").unwrap_or("");
    html! {
        h2 { @if let Some(of) = corrects { "Correct entry " (of) } @else { "Enter" } }
        form class="fields" method="post" action=(format!("/event/{}/record", plan.scene.event.id)) data-entry data-refused[refused.is_some()] {
            @if let Some(trouble) = refused {
                div class="trouble" role="alert" { (trouble.told()) p { "Nothing was written down. What you filled in stands below." } }
            }
            input type="hidden" name="id" value=(id);
            @if let Some(entered) = query.first("entered").filter(|_| refused.is_some()) { input type="hidden" name="entered" value=(entered); }
            @if let Some(of) = corrects { input type="hidden" name="corrects" value=(of); }
            label { "Who (needed)" input name="who" required value=(said("who")) autocomplete="off" aria-invalid=[is_wrong("who")] aria-describedby=[at("who")]; (wrong(refused, "who")) }
            @if corrects.is_none() {
                label { "What happened"
                    select name="kind" { @for (word, name, _) in KINDS { option value=(word) selected[query.first("kind") == Some(*word)] { (name) } } }
                    (wrong(refused, "kind"))
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
                (wrong(refused, "about"))
            }
            label { "Which piece, pan or probe" input name="part" autocomplete="off" value=(said("part")) aria-invalid=[is_wrong("part")] aria-describedby=[at("part")]; span class="hint" { "probe 2" } (wrong(refused, "part")) }
            label { "Reading, with its unit" input name="reading" autocomplete="off" value=(said("reading")) aria-invalid=[is_wrong("reading")] aria-describedby=[at("reading")]; span class="hint" { "63.4 °C, 5.22 kg, pH 4.1" } (wrong(refused, "reading")) }
            label { "When, if not now" input name="when" autocomplete="off" placeholder="2027-10-06 15:05" value=(said("when")) aria-invalid=[is_wrong("when")] aria-describedby=[at("when")]; (wrong(refused, "when")) }
            label { "Words" input name="words" autocomplete="off" value=(said("words")) aria-invalid=[is_wrong("words")] aria-describedby=[at("words")]; (wrong(refused, "words")) }
            button type="submit" { "Write it down" }
        }
    }
}

/// Entries on one page: more would be slow to draw and are seldom looked for.
const MOST_SHOWN: usize = 200;

/// The newest first; older ones a page back.
fn list(plan: &Plan, log: &[Arc<Entry>], before: i64) -> Markup {
    let end = log.partition_point(|e| e.sequence < before);
    let from = end.saturating_sub(MOST_SHOWN);
    let shown = log.get(from..end).unwrap_or_default();
    html! {
        h2 { "What happened" }
        @if log.is_empty() { p { "Nothing is written down yet." } }
        @else {
            div class="wide" tabindex="0" { table {
                thead { tr { th class="n" { "No." } th { "When" } th { "Who" } th { "What" } th { "Reading" } th { "Words" } td {} } }
                tbody { @for e in shown.iter().rev() { (row(plan, e)) } }
            } }
            @if from > 0 && let Some(oldest) = shown.first() {
                p { a href=(format!("/event/{}/record?before={}", plan.scene.event.id, oldest.sequence)) { "Older entries: " (from) " more" } }
            }
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
fn shown(plan: &Plan, log: &[Arc<Entry>]) -> Markup {
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
pub(crate) fn history(log: &[Arc<Entry>], component: &str, step: &str) -> History {
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
