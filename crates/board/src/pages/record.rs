//! The record of an event: what happened, who says so, and what the readings show. Nothing in it is ever changed;
//! a correction is an entry of its own.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use safety::Judgement;
use store::{Entry, LogHead};

use super::{plan_for_entry, plan_of, verdicts};
use crate::access::doors::may_send;
use crate::access::visitor::{visitor, who_field};
use crate::address::Query;
use crate::day::judged::{self, Judged};
use crate::entry::{KINDS, kind_word, new_id};
use crate::kept::ask;
use crate::page::{Frame, frame};
use crate::shown::Shown;
use crate::tongue::{moment, say, say_with};
use crate::trouble::Trouble;
use crate::written::Written;
use crate::{Board, device, live, written};

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
    headers: HeaderMap,
) -> Result<Markup, Trouble> {
    let since = board.live.newest();
    let (plan, query) = plan_of(&(State(Arc::clone(&board)), path, query)).await?;
    let who = device::remembered(&headers).unwrap_or_default();
    whole(&board, &plan, since, &query, &who, None).await
}

/// The page; `refused` is why what the form says was not taken.
async fn whole(
    board: &Arc<Board>,
    plan: &Shown,
    since: i64,
    query: &Query,
    who: &str,
    refused: Option<&Trouble>,
) -> Result<Markup, Trouble> {
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
    let head = ask(board, LogHead).await?;
    Ok(frame(
        &Frame {
            title: &say("board-record"),
            plan: Some(plan),
            here: "record",
        },
        html! {
            (live::line(board, plan, None, since))
            @if !board.kept {
                div class="what-if" role="status" {
                    strong { (say("board-not-kept")) } (say("board-ends-with")) " " code { "saltern serve --db FILE" } " " (say("board-to-keep"))
                }
            }
            @if may_send(&visitor(), "/event/{event}/record") { (form(board, plan, query, who, refused)) }
            (shown(plan))
            (list(plan, &plan.day.log, before))
            p class="small" {
                (say_with("board-entries", &[("n", head.sequence.unsigned_abs().into())])) " " (say("board-sealed-with")) " "
                code class="seal" { (head.hash) }
                (say("board-seal-tells"))
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
    let path = (
        State(Arc::clone(&board)),
        Path(event.clone()),
        RawQuery(None),
    );
    let since = board.live.newest();
    let (plan, _) = plan_for_entry(&path).await?;
    let form = Query::read(Some(&body));
    let who = form.first("who").unwrap_or("");
    let refused = match written::write(&board, &plan, &form).await {
        Ok(Written::Down(receipt)) => {
            let next = match form.first("back") {
                Some("today") => format!("/event/{event}/today"),
                _ => format!("/event/{event}/record?who={}", crate::address::encoded(who)),
            };
            let mut response = written::taken(&headers, &receipt, &next);
            if let Some(cookie) = device::remember(who) {
                response.headers_mut().insert(header::SET_COOKIE, cookie);
            }
            return Ok(response);
        }
        // A script cannot answer a question: the entry stays where it was kept, with why.
        Ok(Written::Asks(_)) if written::plainly(&headers) => Trouble::entry(
            "a weight that looks like a slip",
            "the weight the sheet asks for, or a yes that it is meant",
            "open the entry, look at its unit, and send it by hand: the board asks there",
        ),
        Ok(Written::Asks(page)) => return Ok(*page),
        Err(refused) => refused,
    };
    if written::plainly(&headers) {
        return Ok(refused.plain());
    }
    if !refused.is_entry() {
        return Err(refused);
    }
    // The form as it was filled in, with what is wrong beside its field.
    let page = whole(&board, &plan, since, &form, who, Some(&refused)).await?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// What is wrong with a field, beside it.
fn wrong(refused: Option<&Trouble>, field: &str) -> Markup {
    html! {
        @if let Some(trouble) = refused.filter(|t| t.field() == Some(field)) {
            span class="wrong" id=(format!("wrong-{field}")) { (trouble.found()) }
        }
    }
}

/// The units a reading of a kind may be in, the usual one first.
fn units(kind: &str) -> &'static [&'static str] {
    match kind {
        "weighed" => &["g", "kg", "oz", "lb"],
        "temperature" => &["°C", "°F"],
        "ph" => &["pH"],
        _ => &[],
    }
}

/// The form: whole, or filled in by the button that led here, with one more tap to send it.
fn form(
    board: &Board,
    plan: &Plan,
    query: &Query,
    remembered: &str,
    refused: Option<&Trouble>,
) -> Markup {
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
    let kind = query.first("kind").unwrap_or("");
    let who = query.first("who").unwrap_or(remembered);
    // The button that led here chose the unit; it stands beside the number and can be changed there.
    let unit = query.first("unit");
    let quick = query.first("quick").is_some() && corrects.is_none();
    let named = KINDS.iter().find(|(w, _, _)| *w == kind);
    let reads = !units(kind).is_empty();
    let more = html! {
        label { (say("board-which-piece")) input name="part" autocomplete="off" value=[query.first("part")] aria-invalid=[is_wrong("part")] aria-describedby=[at("part")] list=[(kind == "deviation").then_some("deviations")];
            span class="hint" { @if kind == "deviation" { (say("board-kind-hint")) } @else { (say("board-part-hint")) } } (wrong(refused, "part")) }
        @if kind == "deviation" {
            datalist id="deviations" { @for d in safety::ways::all().unwrap_or_default() { option value=(d.rule) { (d.what) } } }
        }
        @if !quick || !reads {
            label { (say("board-reading-unit")) input name="reading" autocomplete="off" value=(said("reading")) aria-invalid=[is_wrong("reading")] aria-describedby=[at("reading")]; span class="hint" { "63.4 °C, 5.22 kg, pH 4.1" } (wrong(refused, "reading")) }
        }
        label { (say("board-when-not-now")) input name="when" autocomplete="off" placeholder="2027-10-06 15:05" value=(said("when")) aria-invalid=[is_wrong("when")] aria-describedby=[at("when")]; (wrong(refused, "when")) }
        label { (say("board-words")) input name="words" autocomplete="off" value=[query.first("words")] aria-invalid=[is_wrong("words")] aria-describedby=[at("words")]; (wrong(refused, "words")) }
    };
    html! {
        h2 {
            @if let Some(of) = corrects { (say_with("board-correct-entry-head", &[("n", of.into())])) }
            @else if let (true, Some((word, _, _))) = (quick, named) { (about_words(plan, chosen)) ": " (say(&format!("board-kind-{word}"))) }
            @else { (say("board-enter")) }
        }
        @if corrects.is_some() {
            p class="small" {
                (say("board-correcting"))
            }
        }
        form class=(if quick { "fields quick" } else { "fields" }) method="post" action=(format!("/event/{}/record", plan.scene.event.id)) data-entry data-refused[refused.is_some()] {
            @if let Some(trouble) = refused {
                div class="trouble" role="alert" { (trouble.told()) p { (say("board-nothing-written")) } }
            }
            input type="hidden" name="id" value=(id);
            @if let Some(entered) = query.first("entered").filter(|_| refused.is_some()) { input type="hidden" name="entered" value=(entered); }
            @if let Some(of) = corrects { input type="hidden" name="corrects" value=(of); }
            @if quick {
                input type="hidden" name="kind" value=(kind);
                input type="hidden" name="about" value=(chosen);
                input type="hidden" name="back" value="today";
                input type="hidden" name="quick" value="1";
                @if reads {
                    label { (say("board-reading")) input name="reading" required inputmode="decimal" autocomplete="off" autofocus value=[query.first("reading")] aria-invalid=[is_wrong("reading")] aria-describedby=[at("reading")]; (wrong(refused, "reading")) }
                    label { (say("board-unit-shown"))
                        select name="unit" { @for u in units(kind) { option value=(u) selected[unit == Some(*u)] { (u) } } }
                    }
                }
            }
            (who_field(who))
            (wrong(refused, "who"))
            @if corrects.is_none() && !quick {
                label { (say("board-what-happened"))
                    select name="kind" { @for (word, _, _) in KINDS { option value=(word) selected[kind == *word] { (say(&format!("board-kind-{word}"))) } } }
                    (wrong(refused, "kind"))
                }
            }
            @if !quick {
                label { (say("board-of-what"))
                    select name="about" {
                        option value="" { (say("board-event-whole")) }
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
                (more)
            } @else {
                details class="more" open[query.first("part").is_some() || kind == "deviation"] { summary { (say("board-more-fields")) } (more) }
            }
            button type="submit" { (say("board-write-down")) }
        }
    }
}

/// The step chosen, by the names people use.
fn about_words(plan: &Plan, chosen: &str) -> String {
    let (component, step) = chosen.split_once('.').unwrap_or((chosen, ""));
    plan.component(component).map_or_else(
        || plan.scene.event.name.clone(),
        |c| match step {
            "" => c.name.clone(),
            step => format!("{}, {}", c.name, step.replace('-', " ")),
        },
    )
}

/// Entries on one page: more would be slow to draw and are seldom looked for.
const MOST_SHOWN: usize = 200;

/// The newest first; older ones a page back.
fn list(plan: &Plan, log: &[Arc<Entry>], before: i64) -> Markup {
    let end = log.partition_point(|e| e.sequence < before);
    let from = end.saturating_sub(MOST_SHOWN);
    let shown = log.get(from..end).unwrap_or_default();
    html! {
        h2 { (say("board-what-happened")) }
        @if log.is_empty() { p { (say("board-nothing-yet")) } }
        @else {
            div class="wide" tabindex="0" { table {
                thead { tr { th class="n" { (say("board-number")) } th { (say("board-when")) } th { (say("board-who")) } th { (say("board-what")) } th { (say("board-reading")) } th { (say("board-words")) } td {} } }
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
            td class="hour" { @if let Some(z) = s.at.on_the_clock() { (moment(&z, "%a %m-%d %H:%M")) } }
            td { (s.who) }
            td {
                (kind_word(s.kind)) @if let Some(of) = s.kind.corrects() { " " (say_with("board-of-entry", &[("n", (&of.to_string()).into())])) }
                @if !about.is_empty() { br; span class="small" { (about) } }
            }
            td { @if let Some(r) = s.reading { (r) } }
            td { (s.words) @if let Some(by) = e.corrected_by { " " strong { (say("board-corrected-by")) " " (by) } } }
            td {
                @if e.corrected_by.is_none() && s.kind.corrects().is_none() {
                    a href=(format!("/event/{}/record?corrects={}", plan.scene.event.id, e.sequence)) { (say("board-correct")) }
                }
            }
        }
    }
}

/// What the readings written down show, by the rule their step asks for.
fn shown(plan: &Shown) -> Markup {
    let judged = judged::all(plan, &plan.day.log);
    html! {
        @if !judged.is_empty() {
            h2 { (say("board-readings-show")) }
            @for j in judged { (judgement(plan, &j)) }
        }
    }
}

/// One judgement of the record.
pub(crate) fn judgement(plan: &Shown, j: &Judged) -> Markup {
    let name = format!("{}: {}", j.name, j.step);
    html! {
        @match &j.answer {
            Ok(judged) => { (one(&name, judged)) }
            // Readings that contradict each other show nothing, and saying nothing would hide what they broke.
            Err(why) => { p { (verdicts::word(safety::Verdict::NotShown)) " " strong { (name) } " · " (say("board-not-judged")) " " (why) } }
        }
        @for d in plan.day.deviations.iter().filter(|d| d.component.as_deref() == Some(j.component.as_str()) && d.step.as_deref() == Some(j.step.as_str())) {
            p { a href=(d.address(plan.scene.event.id.as_str())) { (say("board-may-be-done")) } (plan.held(&j.component)) }
        }
    }
}

fn one(name: &str, j: &Judgement) -> Markup {
    html! {
        p { (verdicts::word(j.verdict)) " " strong { (name) } " · " (say("board-asks")) " " (j.asks) }
        p {
            @if let (Some(value), Some(limit)) = (j.value, j.limit) { (number(value, 1)) " " (j.unit) " " (say("board-against")) " " (number(limit, 1)) " " (j.unit) " · " }
            strong { (say("board-next")) " " } (j.next)
        }
        p class="small" { (j.place) br; (j.source.title) " (" (j.status().words()) "; " (j.holds.words()) ")" }
    }
}
