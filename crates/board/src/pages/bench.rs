//! The bench questions: the answer huge, then the limit and the slack, then what to do; the rest small.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use maud::{Markup, html};
use plan::ask::{Answer, Refusal};
use safety::Verdict;

use super::verdicts::word;
use crate::access::doors::may_ask;
use crate::access::visitor::visitor;
use crate::address::Query;
use crate::page::{Frame, frame};
use crate::tongue::say;
use crate::trouble::Trouble;
use crate::{Board, Field, Question};

pub(crate) async fn list(State(board): State<Arc<Board>>) -> Markup {
    frame(
        &Frame {
            title: &say("board-bench-questions"),
            plan: None,
            here: "bench",
        },
        html! {
            ul class="cards" {
                @for q in board.bench.questions().iter().filter(|q| may_ask(&visitor(), &q.word)) {
                    li { a class="whole" href=(format!("/bench/{}", q.word)) { h2 { (capital(&q.word)) } (asks(&q.about)) } }
                }
            }
        },
    )
}

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path(word): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Markup, Trouble> {
    let Some(question) = board.bench.questions().iter().find(|q| q.word == word) else {
        let known: Vec<&str> = board
            .bench
            .questions()
            .iter()
            .map(|q| q.word.as_str())
            .collect();
        return Err(Trouble::missing(
            format!(
                "there is no question \"{}\"",
                word.chars().take(40).collect::<String>()
            ),
            format!("one of {}", known.join(", ")),
            "choose one from the bench questions",
        ));
    };
    if !may_ask(&visitor(), &word) {
        return Err(Trouble::refused(
            "a question of prices and wages",
            "the instructor",
            "ask the instructor to answer it",
        ));
    }
    let query = Query::read(query.as_deref());
    let known = |name: &str| question.fields.iter().any(|f| f.name == name);
    let entries: Vec<(String, String)> = query
        .0
        .iter()
        .filter(|(name, value)| known(name) && !value.trim().is_empty())
        .map(|(name, value)| (name.clone(), value.trim().to_owned()))
        .collect();
    let asked = !entries.is_empty();
    let answer = if asked {
        let board = Arc::clone(&board);
        let (word, entries) = (word.clone(), entries.clone());
        let answered =
            tokio::task::spawn_blocking(move || board.bench.answer(&word, &entries)).await;
        Some(answered.map_err(|e| Trouble::ours(format!("the answer stopped: {e}")))?)
    } else {
        None
    };
    Ok(frame(
        &Frame {
            title: &capital(&question.word),
            plan: None,
            here: "bench",
        },
        html! {
            @match answer {
                Some(Ok(answer)) => { (answered(&answer)) }
                Some(Err(refusal)) => { (refused(&refusal)) }
                None => { p { (question.about) } }
            }
            (form(question, &entries))
            p class="no-print" { a href="/bench" { (say("board-all-bench")) } }
        },
    ))
}

pub(crate) fn answered(a: &Answer) -> Markup {
    html! {
        div class="now" role="status" {
            p class="big" { (a.answer) }
            @if let Some(v) = a.verdict { p { (word(v)) } }
            p { span class="label" { (say("board-limit")) " " } (a.limit) }
            p { strong { (say("board-next")) " " } (a.next) }
        }
        @if !a.details.is_empty() { pre tabindex="0" { @for row in &a.details { (row) "\n" } } }
        @for (label, text) in &a.small {
            @if *label == "caution" { p class="caution" { span class="label" { (say("board-caution-inline")) " " } (text) } }
            @else { p class="small" { (label) ": " (text) } }
        }
        @if a.verdict == Some(Verdict::Shown) { p class="small" { (say("board-shown-by-entered")) } }
    }
}

pub(crate) fn refused(r: &Refusal) -> Markup {
    html! {
        div class="trouble" role="alert" {
            p class="found" { (r.found) }
            @if !r.readings.is_empty() { ul { @for reading in &r.readings { li { (reading) } } } }
            p { span class="label" { (say("board-expected")) " " } (r.expected) }
            p { span class="label" { (say("board-do-now")) " " } (r.do_now) }
        }
    }
}

fn form(question: &Question, entries: &[(String, String)]) -> Markup {
    html! {
        form class="fields" method="get" action=(format!("/bench/{}", question.word)) {
            @for field in &question.fields {
                @let values: Vec<&str> = entries.iter().filter(|(n, _)| *n == field.name).map(|(_, v)| v.as_str()).collect();
                // A field that may be said several times has one more line than was filled in.
                @let lines = if field.many { values.len() + 1 } else { 1 };
                @for i in 0..lines { (input(field, values.get(i).copied())) }
            }
            button type="submit" { (say("board-answer")) }
        }
    }
}

fn input(field: &Field, value: Option<&str>) -> Markup {
    let name = capital(&field.name.replace('-', " "));
    html! {
        label {
            @if field.flag {
                input type="checkbox" name=(field.name) value="yes" checked[value.is_some()];
                " " (name)
            } @else {
                (name) @if field.required { " " (say("board-needed-inline")) }
                @if field.choices.is_empty() {
                    input name=(field.name) value=(value.unwrap_or("")) placeholder=(field.default.as_deref().unwrap_or(&field.hint)) autocomplete="off";
                } @else {
                    select name=(field.name) {
                        option value="" { (field.default.as_deref().unwrap_or("–")) }
                        @for choice in &field.choices { option value=(choice) selected[value == Some(choice)] { (choice) } }
                    }
                }
            }
            span class="hint" { (field.help) }
        }
    }
}

/// What it asks, without the example of the command line.
fn asks(about: &str) -> &str {
    about.split_once(": --").map_or(about, |(asks, _)| asks)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}
