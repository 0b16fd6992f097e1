//! How the pages look: one sheet of style, part of the program.

use axum::http::header;
use axum::response::IntoResponse;

/// Calm and print-like: black on white, shape and word carry every meaning, no colour does.
const CSS: &str = concat!(
    include_str!("../look/board.css"),
    include_str!("../look/recipe.css")
);

pub(crate) async fn css() -> impl IntoResponse {
    ([(header::CONTENT_TYPE, "text/css; charset=utf-8")], CSS)
}
