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
        None => html! { p { "No event uses it, so there are no figures to set side by side." } },
        Some(event) => moves(&found, &from, &to, event).await,
    };
    Ok(frame(
        &Frame {
            title: &format!("{title}: revision {} to {}", from.number, to.number),
            plan: None,
            here: "recipe",
        },
        html! {
            ul {
                li { "Revision " (from.number) ": " (saved(&from)) }
                li { "Revision " (to.number) ": " (saved(&to)) }
            }
            h2 { "In the text" }
            (words::difference(from.text.as_deref().unwrap_or(""), to.text.as_deref().unwrap_or(""), "Nothing: the two texts are the same."))
            h2 { "In the figures" }
            @if !events.is_empty() {
                form class="fields no-print" method="get" {
                    input type="hidden" name="from" value=(from.number);
                    input type="hidden" name="to" value=(to.number);
                    label { "Event"
                        select name="event" { @for e in &events { option value=(e.id) selected[event.as_deref() == Some(e.id.as_str())] { (e.name) } } }
                    }
                    button type="submit" { "Figures of it" }
                }
            }
            p class="small" { "Both with the other pages of the book as they are now." }
            (moved)
            p { a href=(format!("/recipe/{which}/revisions")) { "All revisions" } " · " a href=(format!("/recipe/{which}")) { "Back to the page" } }
        },
    ))
}

async fn moves(found: &Found, from: &Revision, to: &Revision, event: &str) -> Markup {
    let book_of = |r: &Revision| {
        let text = r.text.as_deref().unwrap_or("");
        read_with(&found.now.pages, &found.page, text)
    };
    let not_read = |r: &Revision, wrong: &[book::Diagnostic]| {
        html! { p { "The book as it is now does not read with revision " (r.number) ":" } (mistakes(wrong, &found.page, "so there are no figures of it")) }
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
