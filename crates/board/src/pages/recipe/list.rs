//! Every recipe of the book, and every other page of it.

use std::sync::Arc;

use axum::extract::State;
use axum::http::header;
use axum::response::IntoResponse;
use maud::{Markup, html};
use store::{OpenConflicts, PageKind};

use super::{not_kept, saved, which};
use crate::Board;
use crate::address::encoded;
use crate::page::{Frame, frame};
use crate::shelf;
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

pub(crate) async fn page(State(board): State<Arc<Board>>) -> Result<Markup, Trouble> {
    let standing = board.standing_now().await?;
    let mut recipes: Vec<_> = standing.book.recipes.values().collect();
    recipes.sort_by(|a, b| a.name.cmp(&b.name));
    let other: Vec<_> = standing
        .pages
        .iter()
        .filter(|p| p.kind != PageKind::Recipe)
        .collect();
    let open = if standing.number == 0 {
        Vec::new()
    } else {
        board.ask(OpenConflicts).await?
    };
    Ok(frame(
        &Frame {
            title: &say("board-recipes"),
            plan: None,
            here: "recipe",
        },
        html! {
            @if standing.number > 0 { (not_kept(&board)) }
            @if let Some(wrong) = board.wrong_on_record() {
                div class="trouble" role="alert" {
                    p class="found" { (say_with("board-pages-wrong", &[("n", wrong.len().into())])) }
                    @if let Some(first) = wrong.first() { p { (first.to_string()) } }
                    p { span class="label" { (say("board-do-now")) " " } (say("board-mend-page")) }
                }
            }
            @for c in &open {
                div class="decide" {
                    p { (say_with("board-change-met", &[("who", c.who.as_str().into()), ("page", c.page.as_str().into()), ("n", c.met.number.into())])) " "
                        a href=(format!("/recipe/{}/conflict/{}", which(&c.page, c.met.text.as_deref()), c.id)) { (say("board-settle-it")) } }
                }
            }
            ul class="cards" {
                @for r in recipes {
                    @let page = standing.page_of(r.id.as_str());
                    @let address = if r.id == "paste" { page.map_or_else(String::new, |p| encoded(p.page.as_str())) } else { r.id.to_string() };
                    li {
                        a class="whole" href=(format!("/recipe/{address}")) { h2 { (r.name) } }
                        p { (say_with("board-n-steps", &[("n", r.steps.len().into())])) }
                        @if let Some(p) = page { p class="small" { (say_with("board-revision-n", &[("n", p.number.into())])) ", " (saved(p)) } }
                    }
                }
            }
            @if standing.number > 0 {
                p {
                    a href="/recipe/paste" { (say("board-paste-measures")) } " · "
                    a href="/recipe/book.zip" download { (say("board-book-zip")) }
                }
                h2 { (say("board-other-pages")) }
                div class="wide" tabindex="0" { table {
                    thead { tr { th { (say("board-page")) } th { (say("board-holds")) } th class="n" { (say("board-revision")) } th { (say("board-saved")) } } }
                    tbody { @for p in other {
                        tr {
                            td { a href=(format!("/recipe/{}", encoded(p.page.as_str()))) { (p.page) } }
                            td { (kind(p.kind)) } td class="n" { (p.number) } td { (saved(p)) }
                        }
                    } }
                } }
            }
        },
    ))
}

pub(super) fn kind(kind: PageKind) -> String {
    say(match kind {
        PageKind::Book => "board-page-book",
        PageKind::Recipe => "board-page-recipe",
        PageKind::Site => "board-page-site",
        PageKind::Event => "board-page-event",
        PageKind::Lists => "board-page-lists",
        PageKind::Unread => "board-page-unread",
    })
}

/// The files of the book as they stand, byte for byte.
pub(crate) async fn zip(State(board): State<Arc<Board>>) -> Result<impl IntoResponse, Trouble> {
    let standing = board.standing_now().await?;
    if standing.number == 0 {
        return Err(Trouble::missing(
            "this book has no pages on record",
            "a book on record",
            "start the board with `saltern serve`, which puts it there",
        ));
    }
    let bytes = formats::archive::zipped(&shelf::files(&standing.pages))
        .map_err(|e| Trouble::ours(format!("the zip: {e}")))?;
    let named = format!("attachment; filename=\"book-{}.zip\"", standing.number);
    Ok((
        [
            (header::CONTENT_TYPE, "application/zip".to_owned()),
            (header::CONTENT_DISPOSITION, named),
        ],
        bytes,
    ))
}
