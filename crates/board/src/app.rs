//! Every address of the board, in one place.

use std::sync::Arc;

use axum::extract::{DefaultBodyLimit, Request};
use axum::http::{HeaderValue, header};
use axum::middleware::{self, Next};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Router, http::HeaderName};

use crate::{Board, look, pages, trouble};

/// Bytes of a request taken: a form of the board has far less.
const MOST_BYTES: usize = 256 * 1024;

/// All pages.
pub fn router(board: Arc<Board>) -> Router {
    Router::new()
        .route("/", get(pages::start::page))
        .route("/event/{event}", get(pages::event::page))
        .route("/event/{event}/today", get(pages::today::page))
        .route("/event/{event}/weigh", get(pages::weigh::page))
        .route("/event/{event}/lot/{component}", get(pages::lot::page))
        .route("/event/{event}/cold", get(pages::cold::page))
        .route("/event/{event}/guests", get(pages::guests::page))
        .route("/event/{event}/order", get(pages::order::page))
        .route("/event/{event}/cost", get(pages::cost::page))
        .route("/event/{event}/sheets", get(pages::sheets::list))
        .route("/event/{event}/sheets/{paper}", get(pages::sheets::look))
        .route(
            "/event/{event}/sheets/{paper}/{file}",
            get(pages::sheets::file),
        )
        .route(
            "/event/{event}/record",
            get(pages::record::page).post(pages::record::append),
        )
        .route("/event/{event}/verdicts", get(pages::verdicts::page))
        .route("/event/{event}/compare", get(pages::compare::page))
        .route("/event/{event}/why", get(pages::why::list))
        .route("/event/{event}/why/{figure}", get(pages::why::page))
        .route("/bench", get(pages::bench::list))
        .route("/bench/{question}", get(pages::bench::page))
        .route("/sources", get(pages::sources::page))
        .route("/look/board.css", get(look::css))
        .fallback(trouble::no_such_page)
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .layer(middleware::from_fn(guarded))
        .with_state(board)
}

/// Whether a host, with or without its port, is this machine by a name nobody else can give it.
fn is_this_machine(host: &str) -> bool {
    let name = host
        .rsplit_once(':')
        .filter(|(_, port)| port.chars().all(|c| c.is_ascii_digit()))
        .map_or(host, |(name, _)| name);
    matches!(name, "127.0.0.1" | "localhost" | "[::1]")
}

/// Headers every answer carries: nothing from elsewhere, nothing in a frame, nothing guessed, nothing kept.
async fn guarded(request: Request, next: Next) -> Response {
    let is_look = request.uri().path().starts_with("/look/");
    // A name that another site points at this machine is not ours: the board is for this machine alone.
    let host = request
        .headers()
        .get(header::HOST)
        .map(|h| h.to_str().unwrap_or("").to_owned());
    let mut response = if host.as_deref().is_none_or(is_this_machine) {
        next.run(request).await
    } else {
        trouble::other_host().into_response()
    };
    let headers = response.headers_mut();
    for (name, value) in [
        (
            header::CONTENT_SECURITY_POLICY,
            "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; \
             base-uri 'none'; frame-ancestors 'none'",
        ),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::X_FRAME_OPTIONS, "DENY"),
        (header::REFERRER_POLICY, "same-origin"),
        (
            HeaderName::from_static("cross-origin-opener-policy"),
            "same-origin",
        ),
        (
            HeaderName::from_static("permissions-policy"),
            "camera=(), microphone=(), geolocation=()",
        ),
        (
            header::CACHE_CONTROL,
            if is_look { "max-age=3600" } else { "no-store" },
        ),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    response
}
