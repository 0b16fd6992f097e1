//! Two changed one page at the same time: theirs, yours, what differs, and the ways on. Nothing of either is lost.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{Path, RawQuery, State};
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
use crate::tongue::{say, say_with};
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
            title: &say_with("board-two-changed", &[("title", (&title).into())]),
            plan: None,
            here: "recipe",
        },
        html! {
            div class="trouble" role="alert" {
                p class="found" {
                    (say_with("board-not-saved-met", &[("who", found.newest.who.as_str().into()), ("n", found.newest.number.into())]))
                    @if let Some(p) = &conflict.parent { " " (say_with("board-on-revision", &[("n", p.number.into())])) }
                }
                p { span class="label" { (say("board-what-you-wrote")) " " } (say("board-kept-whole")) }
                p { span class="label" { (say("board-do-now")) " " } (say("board-choose-way")) }
            }
            h2 { (say("board-ways-on")) }
            ul class="cards" {
                li {
                    h3 { a href=(way("merge")) { (say("board-mine-on-theirs")) } }
                    @if together.both == 0 { p { (say("board-go-together")) } }
                    @else { p { (say_with("board-both-between-marks", &[("n", together.both.into())])) } }
                }
                li {
                    h3 { a href=(way("mine")) { (say("board-mine-whole")) } }
                    p { (say("board-mine-whole-note")) }
                }
                li {
                    h3 { a href=(way("anew")) { (say("board-write-anew")) } }
                    p { (say("board-write-anew-note")) }
                }
                li {
                    h3 { (say("board-take-theirs")) }
                    p { (say_with("board-take-theirs-note", &[("n", found.newest.number.into())])) }
                    form method="post" action=(format!("/recipe/{which}/conflict/{id}/theirs")) {
                        (who_field(who))
                        button { (say("board-take-theirs")) }
                    }
                }
            }
            h2 { (say("board-theirs-to-yours")) }
            (words::difference(theirs, mine, &say("board-texts-the-same")))
            @if let Some(base) = base {
                h2 { (say("board-they-changed")) }
                p class="small" { (saved(&found.newest)) }
                (words::difference(base, theirs, &say("board-nothing")))
                h2 { (say("board-you-changed")) }
                p class="small" { (conflict.who) }
                (words::difference(base, mine, &say("board-nothing")))
            }
            details { summary { (say("board-your-text-whole")) } pre tabindex="0" { (mine) } }
            details { summary { (say("board-their-text-whole")) } pre tabindex="0" { (theirs) } }
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
            p class="what-if" role="status" { (say("board-this-is")) " " strong { (say("board-their-text")) } (say_with("board-revision-inline", &[("n", newest.number.into())])) " (" (saved(newest)) "). " (say("board-stands-to-take")) }
            details open { summary { (say("board-your-text")) } pre tabindex="0" { (mine) } }
        },
        Some("mine") => {
            sheet.text = mine.to_owned();
            html! { p class="what-if" role="status" { (say("board-this-is")) " " strong { (say("board-mine-is-whole")) } (say_with("board-takes-place-of", &[("n", newest.number.into())])) " (" (saved(newest)) "), " (say("board-stays-among")) } }
        }
        _ => {
            let together = on_top(base.unwrap_or(""), theirs, mine);
            sheet.text = together.text;
            html! { p class="what-if" role="status" {
                (say("board-this-is")) " " strong { (say_with("board-change-on-top", &[("n", newest.number.into())])) } " (" (saved(newest)) "). "
                @if together.both > 0 { (say_with("board-both-choose-there", &[("n", together.both.into())])) }
                @else { (say("board-look-then-save")) }
            } }
        }
    }
}

/// What they saved stands; what was written is let go on purpose.
pub(crate) async fn take_theirs(
    State(board): State<Arc<Board>>,
    Path((address, id)): Path<(String, i64)>,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Trouble> {
    let form = form(body)?;
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
