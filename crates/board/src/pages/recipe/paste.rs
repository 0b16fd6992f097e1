//! A recipe pasted in kitchen measures: each line settled, or asked about and never guessed; then a draft page.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::BytesRejection;
use axum::http::StatusCode;
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
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

/// Whose cups and spoons: the word of the form, the key of the label, the measures.
const MEASURES: &[(&str, &str, Customary)] = &[
    ("us", "board-measures-us", Customary::Us),
    ("metric", "board-measures-metric", Customary::Metric),
    ("imperial", "board-measures-imperial", Customary::Imperial),
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
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Trouble> {
    let form = form(body)?;
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
            title: &say("board-paste-title"),
            plan: None,
            here: "recipe",
        },
        html! {
            (not_kept(board))
            p { (say("board-one-a-line")) " " code { "2 cups salt, flake" } ", " code { "1½ tbsp honey" } ", " code { "3 lb salmon" } (say("board-asked-not-guessed")) }
            form method="post" action="/recipe/paste" {
                div class="fields" {
                    label { (say("board-its-name")) input name="name" value=(asked.name) autocomplete="off"; }
                    label { (say("board-whose-cups"))
                        select name="measures" {
                            option value="" { (say("board-does-not-say")) }
                            @for (word, key, c) in MEASURES { option value=(word) selected[asked.measures == Some(*c)] { (say(key)) } }
                        }
                    }
                }
                div class="desk" {
                    div {
                        label for="lines" { (say("board-ingredients-a-line")) }
                        textarea id="lines" name="lines" rows="12" spellcheck="false" { "\n" (asked.lines) }
                    }
                    div {
                        label for="method" { (say("board-done-a-line")) }
                        textarea id="method" name="method" rows="12" { "\n" (asked.method) }
                    }
                }
                p { button name="do" value="read" { (say("board-read-it")) } }
                (found)
            }
        },
    )
}

fn refused(wrong: &[Refusal]) -> Markup {
    html! {
        div class="trouble" role="alert" {
            @for r in wrong {
                p class="found" { @if let Some(row) = r.row { (say_with("board-line-n", &[("n", (&row.to_string()).into())])) " " } (r.found) }
                p { span class="label" { (say("board-expected")) " " } (r.expected) }
                p { span class="label" { (say("board-do-now")) " " } (r.do_now) }
            }
        }
    }
}

fn settled(lines: &[Pasted], draft: &Result<Draft, Vec<Refusal>>) -> Markup {
    let open = lines.iter().filter(|l| is_open(l)).count();
    html! {
        @if !lines.is_empty() {
            h2 { (say("board-line-by-line")) }
            p role="status" { (say_with("board-n-settled", &[("n", (lines.len() - open).into())])) " " strong { (say_with("board-n-to-settle", &[("n", open.into())])) } }
            div class="lines" {
                @for (i, l) in lines.iter().enumerate() { (one(i, l)) }
            }
            @if open > 0 { p { button name="do" value="answer" { (say("board-take-answers")) } } }
        }
        @match draft {
            Err(wrong) => { h2 { (say("board-the-draft")) } (refused(wrong)) }
            Ok(draft) => { (written(draft)) }
        }
    }
}

fn is_open(l: &Pasted) -> bool {
    l.line.worth == Worth::Open || !l.line.open.is_empty()
}

/// The label of an amount to give in place of the one that was read.
fn instead(l: &Pasted) -> String {
    let nothing = say("board-nothing-inline");
    let was = if l.line.written.is_empty() {
        &nothing
    } else {
        &l.line.written
    };
    say_with("board-how-much-instead", &[("was", was.into())])
}

fn one(i: usize, l: &Pasted) -> Markup {
    let read = match &l.line.worth {
        Worth::Weighed(id, m) => Some((id, m, None)),
        Worth::Measured(id, m) => Some((id, m, Some("board-by-density"))),
        Worth::Recipe(id, m) => Some((id, m, Some("board-book-recipe"))),
        Worth::Open => None,
    };
    html! {
        fieldset class=(if is_open(l) { "open" } else { "settled" }) {
            legend { (l.text) }
            @if let Some((id, mass, how)) = read {
                p { (l.line.written) " = " strong { (mass) } " " (say("board-of")) " " strong { (id) } @if let Some(key) = how { " " (say(key)) } }
            }
            @for question in &l.line.open { p { strong { (say("board-asked-head")) " " } (question) } }
            @if is_open(l) {
                input type="hidden" name=(format!("line-{i}")) value=(l.text);
                div class="fields" {
                    label { (instead(l))
                        input name=(format!("amount-{i}")) placeholder="50 g" autocomplete="off";
                    }
                    label { (say_with("board-what-instead", &[("was", l.line.named.as_str().into())]))
                        @if l.perhaps.is_empty() { input name=(format!("item-{i}")) autocomplete="off"; }
                        @else {
                            select name=(format!("item-{i}")) {
                                option value="" { (say("board-choose")) }
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
        h2 { (say("board-the-draft")) }
        p { (say("board-a-page-of-book")) " " code { (draft.file) } (say_with("board-draft-open", &[("n", draft.open.len().into())])) }
        pre tabindex="0" { (draft.page) }
        // Its own form would stand inside this one: the button sends the draft to the editor by itself.
        input type="hidden" name="text" value=(draft.page);
        p { button name="do" value="look" formaction=(format!("/recipe/{}/edit", encoded(&draft.file))) { (say("board-go-on-editor")) } }
    }
}
