//! The pages of the book: read, edited as revisions, compared, pasted, taken along. Every address that writes lies
//! under `/recipe`.

mod compare;
mod conflict;
mod edit;
mod figures;
mod list;
mod look;
mod made_from;
mod paste;
mod read;
mod revisions;
mod words;

use std::sync::Arc;

use axum::Router;
use axum::body::Bytes;
use axum::extract::DefaultBodyLimit;
use axum::extract::rejection::BytesRejection;
use axum::http::header;
use axum::response::IntoResponse;
use axum::routing::{get, post};
use maud::{Markup, html};
use store::{BookNow, GetPage, LatestPages, PageId, Revision};

use crate::Board;
use crate::address::{Query, encoded};
use crate::shelf::page_of;
use crate::tongue::{moment, say};
use crate::trouble::Trouble;

pub(crate) use made_from::{line as made_from, recipe_line};

/// Bytes of a form: a page of the largest size, every byte written as `%0A`, and a few fields.
pub(crate) const MOST_BYTES: usize = 4 * 1024 * 1024;

/// Addresses of the book's pages. A second part with a dot or an underscore is no id, so no recipe stands in its way.
pub(crate) fn routes() -> Router<Arc<Board>> {
    Router::new()
        .route("/recipe", get(list::page))
        .route("/recipe/book.zip", get(list::zip))
        .route("/recipe/paste", get(paste::page).post(paste::send))
        .route(
            "/recipe/made_from",
            get(made_from::page).post(made_from::send),
        )
        .route("/recipe/{which}", get(read::page))
        .route("/recipe/{which}/edit", get(edit::page).post(edit::send))
        .route("/recipe/{which}/revisions", get(revisions::page))
        .route("/recipe/{which}/compare", get(compare::page))
        .route("/recipe/{which}/conflict/{id}", get(conflict::page))
        .route(
            "/recipe/{which}/conflict/{id}/theirs",
            post(conflict::take_theirs),
        )
        .route("/look/recipe.js", get(script))
        .layer(DefaultBodyLimit::max(MOST_BYTES))
}

/// Looks while one types; without it the button does the same.
async fn script() -> impl IntoResponse {
    let kind = [(header::CONTENT_TYPE, "text/javascript; charset=utf-8")];
    (kind, include_str!("../../look/recipe.js"))
}

/// A page somebody asked for, and the book it stands in.
pub(crate) struct Found {
    /// The book as it is on record.
    pub(crate) now: BookNow,
    /// The page.
    pub(crate) page: PageId,
    /// Its newest revision.
    pub(crate) newest: Revision,
}

/// The page of an address: by the id of its recipe, or by its name, which ends in `.toml`.
async fn find(board: &Arc<Board>, which: &str) -> Result<Found, Trouble> {
    let standing = board.standing_now().await?;
    if standing.number == 0 {
        return Err(Trouble::missing(
            "this book has no pages on record",
            "a book on record",
            "start the board with `saltern serve`, which puts it there",
        ));
    }
    let now = board.ask(LatestPages).await?;
    let found = if which.contains('.') {
        now.pages.iter().find(|p| p.page.as_str() == which)
    } else {
        page_of(&now.pages, which)
    };
    let Some(newest) = found.cloned() else {
        let short: String = which.chars().take(60).collect();
        let ids = standing.book.recipes.keys().map(kitchen::Id::as_str);
        let near = book::did_you_mean(which, ids);
        return Err(Trouble::missing(
            format!("the book has no recipe and no page \"{short}\""),
            "a recipe of the book",
            near.map_or_else(
                || "choose one from the list of recipes".to_owned(),
                |n| format!("did you mean {n}?"),
            ),
        ));
    };
    let page = newest.page.clone();
    Ok(Found { now, page, newest })
}

/// A revision of a page by its number.
async fn revision(board: &Arc<Board>, page: &PageId, number: u32) -> Result<Revision, Trouble> {
    let page = page.clone();
    let number = Some(number);
    board.ask(GetPage { page, number }).await
}

/// The part of an address that leads to a page: its recipe's id where it has one, else its name.
fn which(page: &PageId, text: Option<&str>) -> String {
    text.and_then(|t| formats::fields::says(t, "recipe"))
        .filter(|id| kitchen::Id::new(id).is_some() && id != "paste")
        .unwrap_or_else(|| encoded(page.as_str()))
}

/// What a page is called: the name it gives itself, else its file.
fn title_of(page: &PageId, text: Option<&str>) -> String {
    let named = text.filter(|t| formats::fields::says(t, "recipe").is_some());
    named
        .and_then(|t| formats::fields::says(t, "name"))
        .unwrap_or_else(|| page.to_string())
}

/// A form of this board, read whole.
fn form(body: Result<Bytes, BytesRejection>) -> Result<Query, Trouble> {
    let too_much = || {
        Trouble::entry(
            format!("a form of more than {MOST_BYTES} bytes"),
            format!(
                "a page of at most {} bytes",
                book::Limits::default().file_bytes
            ),
            "split the page: a book may have many",
        )
    };
    let body = body.map_err(|_| too_much())?;
    let text = std::str::from_utf8(&body).map_err(|_| {
        Trouble::entry(
            "a form that is not UTF-8",
            "a form as a browser sends it",
            "send it from this board's own page",
        )
    })?;
    Ok(Query::read(Some(text)))
}

/// The value of a field as it was typed, blanks and all.
fn raw<'q>(form: &'q Query, name: &str) -> Option<&'q str> {
    let found = form.0.iter().find(|(n, _)| n == name);
    found.map(|(_, v)| v.as_str())
}

/// A whole number of a form or an address.
fn whole_number<N: std::str::FromStr>(query: &Query, name: &str) -> Result<Option<N>, Trouble> {
    query
        .first(name)
        .map(|text| {
            text.parse().map_err(|_| {
                let short: String = text.chars().take(40).collect();
                Trouble::entry(
                    format!("{name}: found \"{short}\""),
                    "a whole number",
                    "open the page again from the list",
                )
            })
        })
        .transpose()
}

/// Who saved a revision and when.
fn saved(revision: &Revision) -> Markup {
    html! {
        (revision.who)
        @if let Some(at) = revision.at.on_the_clock() { ", " (moment(&at, "%a %Y-%m-%d %H:%M")) }
    }
}

/// That revisions end with the program, where they do.
fn not_kept(board: &Board) -> Markup {
    html! {
        @if !board.kept {
            div class="what-if" role="status" {
                strong { (say("board-revisions-not-kept")) } (say("board-they-end-with")) " " code { "saltern serve --db FILE" } " " (say("board-to-keep-them"))
            }
        }
    }
}
