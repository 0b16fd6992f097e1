//! Every address of the board, in one place.

use std::sync::Arc;

use axum::extract::{DefaultBodyLimit, Request};
use axum::http::{HeaderValue, header};
use axum::middleware::{self, Next};
use axum::response::Response;
use axum::routing::{get, post};
use axum::{Router, http::HeaderName};

use crate::access::door::{MOST_BYTES, door};
use crate::{Board, live, look, pages, tongue, trouble};

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
        .route("/event/{event}/live", get(live::open))
        .route(
            "/event/{event}/deviation",
            get(pages::deviation::page).post(pages::deviation::decide),
        )
        .route("/event/{event}/verdicts", get(pages::verdicts::page))
        .route("/event/{event}/compare", get(pages::compare::page))
        .route("/event/{event}/why", get(pages::why::list))
        .route("/event/{event}/why/{figure}", get(pages::why::page))
        .route("/bench", get(pages::bench::list))
        .route("/bench/{question}", get(pages::bench::page))
        .route("/sources", get(pages::sources::page))
        .route("/look/board.css", get(look::css))
        .route(
            "/sign-in",
            get(pages::sign_in::page).post(pages::sign_in::sign_in),
        )
        .route("/sign-in/{token}", get(pages::sign_in::offered))
        .route("/sign-out", post(pages::sign_in::sign_out))
        .route(
            "/people",
            get(pages::people::page).post(pages::people::give),
        )
        .route("/language", post(tongue::choose))
        .route("/people/out", post(pages::people::out))
        .route("/people/left", post(pages::people::left))
        .route("/look/{script}", get(look::script))
        .fallback(trouble::no_such_page)
        .method_not_allowed_fallback(trouble::no_such_way)
        .layer(DefaultBodyLimit::max(MOST_BYTES))
        .merge(pages::recipe::routes())
        .layer(middleware::from_fn_with_state(Arc::clone(&board), door))
        .layer(middleware::from_fn(tongue::heard))
        .layer(middleware::from_fn(guarded))
        .with_state(board)
}

/// Headers every answer carries: nothing from elsewhere, nothing in a frame, nothing guessed, nothing kept.
async fn guarded(request: Request, next: Next) -> Response {
    let is_look = request.uri().path().starts_with("/look/");
    let mut response = next.run(request).await;
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
