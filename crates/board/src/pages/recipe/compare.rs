//! Two revisions of a page: what differs in the text, and what in the figures of an event.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use maud::{Markup, html};
use store::Revision;

use super::look::{events_with, mistakes, planned, read_with};
use super::{Found, figures, find, revision, saved, title_of, which, whole_number, words};
use crate::Board;
use crate::address::Query;
use crate::page::{Frame, frame};
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path(address): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Markup, Trouble> {
    let query = Query::read(query.as_deref());
    let found = find(&board, &address).await?;
    let newest = found.newest.number;
    let from: u32 =
        whole_number(&query, "from")?.unwrap_or_else(|| newest.saturating_sub(1).max(1));
    let to: u32 = whole_number(&query, "to")?.unwrap_or(newest);
    let from = revision(&board, &found.page, from).await?;
    let to = revision(&board, &found.page, to).await?;
    let which = which(&found.page, found.newest.text.as_deref());
    let title = title_of(&found.page, found.newest.text.as_deref());
    let recipe = found
        .newest
        .text
        .as_deref()
        .and_then(|t| formats::fields::says(t, "recipe"));
    let standing = board.standing_now().await?;
    let events = events_with(&standing.book, recipe.as_deref());
    let event = query
        .first("event")
        .map(str::to_owned)
        .or_else(|| events.first().map(|e| e.id.to_string()));
    let moved = match &event {
        None => html! { p { (say("board-no-event-no-figures")) } },
        Some(event) => moves(&found, &from, &to, event).await,
    };
    Ok(frame(
        &Frame {
            title: &say_with(
                "board-title-from-to",
                &[
                    ("title", (&title).into()),
                    ("from", from.number.into()),
                    ("to", to.number.into()),
                ],
            ),
            plan: None,
            here: "recipe",
        },
        html! {
            ul {
                li { (say_with("board-revision-n-head", &[("n", from.number.into())])) ": " (saved(&from)) }
                li { (say_with("board-revision-n-head", &[("n", to.number.into())])) ": " (saved(&to)) }
            }
            h2 { (say("board-in-the-text")) }
            (words::difference(from.text.as_deref().unwrap_or(""), to.text.as_deref().unwrap_or(""), &say("board-texts-the-same")))
            h2 { (say("board-in-the-figures")) }
            @if !events.is_empty() {
                form class="fields no-print" method="get" {
                    input type="hidden" name="from" value=(from.number);
                    input type="hidden" name="to" value=(to.number);
                    label { (say("board-event"))
                        select name="event" { @for e in &events { option value=(e.id) selected[event.as_deref() == Some(e.id.as_str())] { (e.name) } } }
                    }
                    button type="submit" { (say("board-figures-of-it")) }
                }
            }
            p class="small" { (say("board-both-as-now")) }
            (moved)
            p { a href=(format!("/recipe/{which}/revisions")) { (say("board-all-revisions")) } " · " a href=(format!("/recipe/{which}")) { (say("board-back-to-page")) } }
        },
    ))
}

async fn moves(found: &Found, from: &Revision, to: &Revision, event: &str) -> Markup {
    let book_of = |r: &Revision| {
        let text = r.text.as_deref().unwrap_or("");
        read_with(&found.now.pages, &found.page, text)
    };
    let not_read = |r: &Revision, wrong: &[book::Diagnostic]| {
        html! { p { (say_with("board-book-not-with", &[("n", r.number.into())])) } (mistakes(wrong, &found.page, &say("board-so-no-figures"))) }
    };
    let before = match book_of(from) {
        Ok(book) => book,
        Err(wrong) => return not_read(from, &wrong),
    };
    let after = match book_of(to) {
        Ok(book) => book,
        Err(wrong) => return not_read(to, &wrong),
    };
    let before = match planned(before, event.to_owned(), None).await {
        Ok(plan) => Arc::new(plan),
        Err(trouble) => return trouble.framed(),
    };
    match planned(after, event.to_owned(), Some(Arc::clone(&before))).await {
        Ok(after) => figures::figures(&before, &after),
        Err(trouble) => trouble.framed(),
    }
}
