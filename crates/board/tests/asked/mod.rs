//! The board asked as a browser asks it, on the demo, by a clock that stands still.

// Each test uses a part of it.
#![allow(dead_code, unreachable_pub)]

use std::sync::Arc;

use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode};
use board::{Bench, Board, Clock, Question, router};
use jiff::Timestamp;
use plan::ask::{Answer, Refusal};
use tower::ServiceExt;

struct Stands(Timestamp);

impl Clock for Stands {
    fn now(&self) -> Timestamp {
        self.0
    }
}

struct Silent;

impl Bench for Silent {
    fn questions(&self) -> &[Question] {
        &[]
    }
    fn answer(&self, _: &str, _: &[(String, String)]) -> Result<Answer, Refusal> {
        Err(Refusal::new("nothing", "a question", "ask one"))
    }
}

/// The board on the demo at a moment.
pub fn app_at(moment: &str) -> axum::Router {
    let book = book::read(&book::demo::files(), book::Limits::default()).unwrap();
    router(Arc::new(Board::new(
        book,
        Box::new(Silent),
        Box::new(Stands(moment.parse().unwrap())),
        store::Store::in_memory().unwrap(),
        false,
    )))
}

/// A board whose book has its pages on record.
pub fn app_with_pages(moment: &str) -> axum::Router {
    let now: jiff::Timestamp = moment.parse().unwrap();
    let store = store::Store::in_memory().unwrap();
    store
        .ask(store::ImportBook {
            files: book::demo::files(),
            onto: 0,
            who: store::Name::new("first start").unwrap(),
            at: store::Moment::new(now, "America/Toronto").unwrap(),
        })
        .unwrap();
    let shelf = board::Shelf::of(&store).unwrap().unwrap();
    let board = Board::new(shelf, Box::new(Silent), Box::new(Stands(now)), store, false);
    router(Arc::new(board))
}

async fn send(app: &axum::Router, request: Request<Body>) -> (StatusCode, String, HeaderMap) {
    let response = app.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, 8 << 20).await.unwrap();
    (
        parts.status,
        String::from_utf8(bytes.to_vec()).unwrap(),
        parts.headers,
    )
}

pub async fn get(app: &axum::Router, address: &str) -> (StatusCode, String, HeaderMap) {
    send(app, Request::get(address).body(Body::empty()).unwrap()).await
}

pub async fn get_with(
    app: &axum::Router,
    address: &str,
    headers: &[(&str, &str)],
) -> (StatusCode, String) {
    let mut request = Request::get(address);
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    let (status, page, _) = send(app, request.body(Body::empty()).unwrap()).await;
    (status, page)
}

pub async fn post_whole(
    app: &axum::Router,
    address: &str,
    form: &[(&str, &str)],
    headers: &[(&str, &str)],
) -> (StatusCode, String, HeaderMap) {
    let body: String = form
        .iter()
        .map(|(n, v)| {
            let v: String = v.bytes().map(|b| format!("%{b:02X}")).collect();
            format!("{n}={v}")
        })
        .collect::<Vec<_>>()
        .join("&");
    let mut request = Request::post(address);
    for (name, value) in headers {
        request = request.header(*name, *value);
    }
    send(app, request.body(Body::from(body)).unwrap()).await
}

pub async fn post(
    app: &axum::Router,
    address: &str,
    form: &[(&str, &str)],
    headers: &[(&str, &str)],
) -> (StatusCode, String) {
    let (status, page, _) = post_whole(app, address, form, headers).await;
    (status, page)
}
