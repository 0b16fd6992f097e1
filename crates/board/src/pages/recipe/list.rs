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
            title: "Recipes",
            plan: None,
            here: "recipe",
        },
        html! {
            @if standing.number > 0 { (not_kept(&board)) }
            @if let Some(wrong) = board.wrong_on_record() {
                div class="trouble" role="alert" {
                    p class="found" { "The pages on record do not read together (" (wrong.len()) " mistakes); the board goes on with the book before them" }
                    @if let Some(first) = wrong.first() { p { (first.to_string()) } }
                    p { span class="label" { "do now " } "mend the page below; the book is taken as soon as it reads" }
                }
            }
            @for c in &open {
                div class="decide" {
                    p { "A change by " (c.who) " to " (c.page) " met revision " (c.met.number) " and is in neither: "
                        a href=(format!("/recipe/{}/conflict/{}", which(&c.page, c.met.text.as_deref()), c.id)) { "settle it" } }
                }
            }
            ul class="cards" {
                @for r in recipes {
                    @let page = standing.page_of(r.id.as_str());
                    @let address = if r.id == "paste" { page.map_or_else(String::new, |p| encoded(p.page.as_str())) } else { r.id.to_string() };
                    li {
                        a class="whole" href=(format!("/recipe/{address}")) { h2 { (r.name) } }
                        p { (r.steps.len()) @if r.steps.len() == 1 { " step" } @else { " steps" } }
                        @if let Some(p) = page { p class="small" { "revision " (p.number) ", " (saved(p)) } }
                    }
                }
            }
            @if standing.number > 0 {
                p {
                    a href="/recipe/paste" { "Paste a recipe in kitchen measures" } " · "
                    a href="/recipe/book.zip" download { "The whole book as files (zip)" }
                }
                h2 { "Other pages of the book" }
                div class="wide" tabindex="0" { table {
                    thead { tr { th { "Page" } th { "Holds" } th class="n" { "Revision" } th { "Saved" } } }
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

pub(super) fn kind(kind: PageKind) -> &'static str {
    match kind {
        PageKind::Book => "the name of the book",
        PageKind::Recipe => "a recipe",
        PageKind::Site => "a kitchen: people, machines, suppliers, prices",
        PageKind::Event => "an event",
        PageKind::Lists => "ingredients and dishes",
        PageKind::Unread => "nothing the book reads",
    }
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
