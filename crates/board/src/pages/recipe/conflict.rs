//! Two changed one page at the same time: theirs, yours, what differs, and the ways on. Nothing of either is lost.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{Path, RawQuery, State};
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use store::{Conflict, Name, OpenConflicts, PageId, Revision, SettleConflict};

use super::edit::Sheet;
use super::{find, form, saved, title_of, which, words};
use crate::Board;
use crate::access::visitor::who_field;
use crate::address::{Query, encoded};
use crate::differ::on_top;
use crate::page::{Frame, frame};
use crate::trouble::Trouble;

/// An open conflict of a page.
pub(super) async fn of(board: &Arc<Board>, page: &PageId, id: i64) -> Result<Conflict, Trouble> {
    let open = board.ask(OpenConflicts).await?;
    let found = open.into_iter().find(|c| c.id == id && c.page == *page);
    found.ok_or_else(|| {
        Trouble::missing(
            format!("no open conflict {id} of {page}"),
            "a change that met another and is not settled yet",
            "look at the revisions of the page: somebody may have settled it",
        )
    })
}

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path((address, id)): Path<(String, i64)>,
    RawQuery(query): RawQuery,
) -> Result<Markup, Trouble> {
    let found = find(&board, &address).await?;
    let conflict = of(&board, &found.page, id).await?;
    let query = Query::read(query.as_deref());
    let who = query.first("who").unwrap_or("");
    let theirs = found.newest.text.as_deref().unwrap_or("");
    let mine = conflict.text.as_deref().unwrap_or("");
    let base = conflict.parent.as_ref().and_then(|p| p.text.as_deref());
    let together = on_top(base.unwrap_or(""), theirs, mine);
    let which = which(&found.page, found.newest.text.as_deref());
    // Earlier conflicts of the same writing end with this one.
    let also: String = query
        .0
        .iter()
        .filter(|(n, _)| n == "also")
        .filter_map(|(_, v)| v.parse::<i64>().ok())
        .map(|id| format!("&also={id}"))
        .collect();
    let way = |way: &str| {
        format!(
            "/recipe/{which}/edit?conflict={id}&way={way}&who={}{also}",
            encoded(who)
        )
    };
    let title = title_of(&found.page, found.newest.text.as_deref());
    Ok(frame(
        &Frame {
            title: &format!("Two changed {title}"),
            plan: None,
            here: "recipe",
        },
        html! {
            div class="trouble" role="alert" {
                p class="found" {
                    "Not saved: " (found.newest.who) " saved revision " (found.newest.number) " while you were writing"
                    @if let Some(p) = &conflict.parent { " on revision " (p.number) }
                }
                p { span class="label" { "what you wrote " } "is kept, whole, until this is settled; it stands below" }
                p { span class="label" { "do now " } "choose one of the ways on" }
            }
            h2 { "Ways on" }
            ul class="cards" {
                li {
                    h3 { a href=(way("merge")) { "Put mine on top of theirs" } }
                    @if together.both == 0 { p { "The two changes touch different lines and go together. You look at the result before it is saved." } }
                    @else { p { (together.both) @if together.both == 1 { " place was" } @else { " places were" } " changed by both: both versions stand there between marks, and it can be saved once you have chosen." } }
                }
                li {
                    h3 { a href=(way("mine")) { "Use my text whole" } }
                    p { "It takes the place of theirs, and their change is undone. It stays among the revisions." }
                }
                li {
                    h3 { a href=(way("anew")) { "Write it anew on theirs" } }
                    p { "Their text to write in, yours beside it." }
                }
                li {
                    h3 { "Take theirs" }
                    p { "Revision " (found.newest.number) " stays; what you wrote is let go. It stays on record." }
                    form method="post" action=(format!("/recipe/{which}/conflict/{id}/theirs")) {
                        (who_field(who))
                        button { "Take theirs" }
                    }
                }
            }
            h2 { "What differs: from theirs to yours" }
            (words::difference(theirs, mine, "Nothing: the two texts are the same."))
            @if let Some(base) = base {
                h2 { "What they changed" }
                p class="small" { (saved(&found.newest)) }
                (words::difference(base, theirs, "Nothing."))
                h2 { "What you changed" }
                p class="small" { (conflict.who) }
                (words::difference(base, mine, "Nothing."))
            }
            details { summary { "Your text, whole" } pre tabindex="0" { (mine) } }
            details { summary { "Their text, whole" } pre tabindex="0" { (theirs) } }
        },
    ))
}

/// The editor begun from a conflict: its text by the way chosen, on the newest revision.
pub(super) fn begin(
    sheet: &mut Sheet,
    newest: &Revision,
    met: &Conflict,
    way: Option<&str>,
) -> Markup {
    let theirs = newest.text.as_deref().unwrap_or("");
    let mine = met.text.as_deref().unwrap_or("");
    let base = met.parent.as_ref().and_then(|p| p.text.as_deref());
    sheet.settles.push(met.id);
    match way {
        Some("anew") => html! {
            p class="what-if" role="status" { "This is " strong { "their text" } ", revision " (newest.number) " (" (saved(newest)) "). What you wrote stands here to take from:" }
            details open { summary { "Your text" } pre tabindex="0" { (mine) } }
        },
        Some("mine") => {
            sheet.text = mine.to_owned();
            html! { p class="what-if" role="status" { "This is " strong { "your text whole" } ". Saved, it takes the place of revision " (newest.number) " (" (saved(newest)) "), which stays among the revisions." } }
        }
        _ => {
            let together = on_top(base.unwrap_or(""), theirs, mine);
            sheet.text = together.text;
            html! { p class="what-if" role="status" {
                "This is " strong { "your change on top of revision " (newest.number) } " (" (saved(newest)) "). "
                @if together.both > 0 { (together.both) @if together.both == 1 { " place was" } @else { " places were" } " changed by both: choose there, between <<< and >>>." }
                @else { "Look at it, then save." }
            } }
        }
    }
}

/// What they saved stands; what was written is let go on purpose.
pub(crate) async fn take_theirs(
    State(board): State<Arc<Board>>,
    Path((address, id)): Path<(String, i64)>,
    headers: HeaderMap,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Trouble> {
    let form = form(&headers, body)?;
    let found = find(&board, &address).await?;
    let conflict = of(&board, &found.page, id).await?;
    let settle = SettleConflict {
        conflict: conflict.id,
        taken_into: None,
        who: Name::new(form.first("who").unwrap_or(""))?,
        at: board.moment()?,
    };
    board.ask(settle).await?;
    let which = which(&found.page, found.newest.text.as_deref());
    Ok(Redirect::to(&format!("/recipe/{which}?theirs={}", found.newest.number)).into_response())
}
