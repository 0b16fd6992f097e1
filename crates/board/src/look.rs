//! How the pages look and what they do beside that: style and small scripts, part of the program.

use axum::extract::Path;
use axum::http::header;
use axum::response::{IntoResponse, Response};

use crate::trouble::Trouble;

/// Calm and print-like: black on white, shape and word carry every meaning, no colour does.
const CSS: &str = concat!(
    include_str!("../look/board.css"),
    include_str!("../look/recipe.css")
);

/// Every page works without them.
const SCRIPTS: &[(&str, &str)] = &[
    ("live.js", include_str!("../look/live.js")),
    ("kept.js", include_str!("../look/kept.js")),
    ("renewed.js", include_str!("../look/renewed.js")),
    ("clock.js", include_str!("../look/clock.js")),
];

pub(crate) async fn css() -> impl IntoResponse {
    ([(header::CONTENT_TYPE, "text/css; charset=utf-8")], CSS)
}

pub(crate) async fn script(Path(name): Path<String>) -> Result<Response, Trouble> {
    let Some((_, text)) = SCRIPTS.iter().find(|(known, _)| *known == name) else {
        return Err(Trouble::missing(
            format!(
                "there is no script \"{}\"",
                name.chars().take(40).collect::<String>()
            ),
            "one of this board's",
            "load the page again",
        ));
    };
    Ok((
        [(header::CONTENT_TYPE, "text/javascript; charset=utf-8")],
        *text,
    )
        .into_response())
}
