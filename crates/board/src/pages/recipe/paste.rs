//! A recipe pasted in kitchen measures: each line settled, or asked about and never guessed; then a draft page.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::BytesRejection;
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use formats::import::Target;
use formats::recipe::{Draft, Pasted, Worth};
use formats::refusal::Refusal;
use maud::{Markup, html};
use store::LatestPages;
use units::Customary;

use super::{form, not_kept, raw};
use crate::Board;
use crate::address::{Query, encoded};
use crate::page::{Frame, frame};
use crate::shelf;
use crate::trouble::Trouble;

/// Whose cups and spoons.
const MEASURES: &[(&str, &str, Customary)] = &[
    ("us", "United States, a cup of 236.6 mL", Customary::Us),
    ("metric", "metric, a cup of 250 mL", Customary::Metric),
    (
        "imperial",
        "imperial, a cup of 284.1 mL",
        Customary::Imperial,
    ),
];

/// What was pasted.
#[derive(Default)]
struct Asked {
    name: String,
    lines: String,
    method: String,
    measures: Option<Customary>,
}

pub(crate) async fn page(State(board): State<Arc<Board>>) -> Result<Markup, Trouble> {
    on_record(&board).await?;
    Ok(shown(&board, &Asked::default(), html! {}))
}

async fn on_record(board: &Arc<Board>) -> Result<Arc<shelf::Standing>, Trouble> {
    let standing = board.standing_now().await?;
    if standing.number > 0 {
        return Ok(standing);
    }
    Err(Trouble::missing(
        "this book has no pages on record",
        "a book on record",
        "start the board with `saltern serve`, which puts it there",
    ))
}

pub(crate) async fn send(
    State(board): State<Arc<Board>>,
    headers: HeaderMap,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Trouble> {
    let form = form(&headers, body)?;
    let standing = on_record(&board).await?;
    let pages = board.ask(LatestPages).await?.pages;
    let files = shelf::files(&pages);
    let into = Target {
        files: &files,
        book: &standing.book,
    };
    let mut asked = Asked {
        name: form.first("name").unwrap_or("").to_owned(),
        lines: raw(&form, "lines").unwrap_or("").replace("\r\n", "\n"),
        method: raw(&form, "method").unwrap_or("").replace("\r\n", "\n"),
        measures: form
            .first("measures")
            .and_then(|m| MEASURES.iter().find(|(word, ..)| *word == m))
            .map(|(.., c)| *c),
    };
    let found = read(&mut asked, &form, into);
    let (status, body) = match found {
        Ok((lines, draft)) => (StatusCode::OK, settled(&lines, &draft)),
        Err(wrong) => (StatusCode::UNPROCESSABLE_ENTITY, refused(&wrong)),
    };
    Ok((status, shown(&board, &asked, body)).into_response())
}

type Read = (Vec<Pasted>, Result<Draft, Vec<Refusal>>);

/// Reads what was pasted, the answers to the questions of the last reading first written into the lines.
fn read(asked: &mut Asked, form: &Query, into: Target<'_>) -> Result<Read, Vec<Refusal>> {
    if asked.lines.trim_start().starts_with('{') || asked.lines.trim_start().starts_with('[') {
        let draft = formats::recipe::draft(asked.lines.as_bytes(), into, asked.measures)?;
        return Ok((Vec::new(), Ok(draft)));
    }
    let lines = formats::recipe::lines(&asked.lines, into.book, asked.measures)?;
    let lines = if form.first("do") == Some("answer") {
        asked.lines = answered(&lines, form);
        formats::recipe::lines(&asked.lines, into.book, asked.measures)?
    } else {
        lines
    };
    let draft = formats::recipe::pasted(
        &asked.name,
        &asked.lines,
        &asked.method,
        into,
        asked.measures,
    );
    Ok((lines, draft))
}

/// The lines with the answers in them: another amount, another name.
fn answered(lines: &[Pasted], form: &Query) -> String {
    let mut out = String::new();
    for (i, line) in lines.iter().enumerate() {
        // An answer belongs to the line it was asked of, whatever was pasted meanwhile.
        let is_of = form.0.contains(&(format!("line-{i}"), line.text.clone()));
        let amount = form.first(&format!("amount-{i}")).filter(|_| is_of);
        let item = form.first(&format!("item-{i}")).filter(|_| is_of);
        match (amount, item) {
            (None, None) => out.push_str(&line.text),
            (amount, item) => {
                let amount = amount.unwrap_or(&line.line.written);
                let form = line.line.form.as_deref().filter(|_| item.is_none());
                let form = form.map_or_else(String::new, |f| format!(", {f}"));
                let item = item.unwrap_or(&line.line.named);
                out.push_str(&format!("{amount} {}{form}", item.trim_end_matches(&form)));
            }
        }
        out.push('\n');
    }
    out
}

fn shown(board: &Board, asked: &Asked, found: Markup) -> Markup {
    frame(
        &Frame {
            title: "Paste a recipe",
            plan: None,
            here: "recipe",
        },
        html! {
            (not_kept(board))
            p { "One ingredient a line, as it is written: " code { "2 cups salt, flake" } ", " code { "1½ tbsp honey" } ", " code { "3 lb salmon" } ". What a line does not say is asked, never guessed." }
            form method="post" action="/recipe/paste" {
                div class="fields" {
                    label { "Its name" input name="name" value=(asked.name) autocomplete="off"; }
                    label { "Whose cups and spoons"
                        select name="measures" {
                            option value="" { "the page does not say" }
                            @for (word, name, c) in MEASURES { option value=(word) selected[asked.measures == Some(*c)] { (name) } }
                        }
                    }
                }
                div class="desk" {
                    div {
                        label for="lines" { "Ingredients, one a line (or a schema.org Recipe as JSON-LD)" }
                        textarea id="lines" name="lines" rows="12" spellcheck="false" { "\n" (asked.lines) }
                    }
                    div {
                        label for="method" { "What is done, a step a line" }
                        textarea id="method" name="method" rows="12" { "\n" (asked.method) }
                    }
                }
                p { button name="do" value="read" { "Read it" } }
                (found)
            }
        },
    )
}

fn refused(wrong: &[Refusal]) -> Markup {
    html! {
        div class="trouble" role="alert" {
            @for r in wrong {
                p class="found" { @if let Some(row) = r.row { "Line " (row) ": " } (r.found) }
                p { span class="label" { "expected " } (r.expected) }
                p { span class="label" { "do now " } (r.do_now) }
            }
        }
    }
}

fn settled(lines: &[Pasted], draft: &Result<Draft, Vec<Refusal>>) -> Markup {
    let open = lines.iter().filter(|l| is_open(l)).count();
    html! {
        @if !lines.is_empty() {
            h2 { "Line by line" }
            p role="status" { (lines.len() - open) " settled, " strong { (open) " to settle" } }
            div class="lines" {
                @for (i, l) in lines.iter().enumerate() { (one(i, l)) }
            }
            @if open > 0 { p { button name="do" value="answer" { "Take these answers" } } }
        }
        @match draft {
            Err(wrong) => { h2 { "The draft" } (refused(wrong)) }
            Ok(draft) => { (written(draft)) }
        }
    }
}

fn is_open(l: &Pasted) -> bool {
    l.line.worth == Worth::Open || !l.line.open.is_empty()
}

fn one(i: usize, l: &Pasted) -> Markup {
    let read = match &l.line.worth {
        Worth::Weighed(id, m) => Some((id, m, "")),
        Worth::Measured(id, m) => Some((id, m, " by its density or the weight of a piece")),
        Worth::Recipe(id, m) => Some((id, m, " (a recipe of the book)")),
        Worth::Open => None,
    };
    html! {
        fieldset class=(if is_open(l) { "open" } else { "settled" }) {
            legend { (l.text) }
            @if let Some((id, mass, how)) = read {
                p { (l.line.written) " = " strong { (mass) } " of " strong { (id) } (how) }
            }
            @for question in &l.line.open { p { strong { "Asked: " } (question) } }
            @if is_open(l) {
                input type="hidden" name=(format!("line-{i}")) value=(l.text);
                div class="fields" {
                    label { "How much, instead of " (if l.line.written.is_empty() { "nothing" } else { &l.line.written })
                        input name=(format!("amount-{i}")) placeholder="50 g" autocomplete="off";
                    }
                    label { "Of what, instead of " (l.line.named)
                        @if l.perhaps.is_empty() { input name=(format!("item-{i}")) autocomplete="off"; }
                        @else {
                            select name=(format!("item-{i}")) {
                                option value="" { "choose" }
                                @for name in &l.perhaps { option value=(name) { (name) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The draft, to go on with in the editor.
fn written(draft: &Draft) -> Markup {
    html! {
        h2 { "The draft" }
        p { "A page of the book, " code { (draft.file) } ". It is not saved, and cannot be before its " (draft.open.len()) " open questions are settled and taken out." }
        pre tabindex="0" { (draft.page) }
        // Its own form would stand inside this one: the button sends the draft to the editor by itself.
        input type="hidden" name="text" value=(draft.page);
        p { button name="do" value="look" formaction=(format!("/recipe/{}/edit", encoded(&draft.file))) { "Go on in the editor" } }
    }
}
