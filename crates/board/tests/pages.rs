//! Every page of the demo, as a browser asks for it: each link leads somewhere, nothing says more than it may,
//! and what is sent in by a stranger comes back as text or as a refusal.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::{BTreeSet, VecDeque};
use std::sync::Arc;

use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode};
use board::{Bench, Board, Clock, Field, Question, router};
use jiff::Timestamp;
use plan::ask::{Answer, Refusal};
use tower::ServiceExt;

/// A clock that stands at noon of the smoking day of the demo supper.
struct Noon;

impl Clock for Noon {
    fn now(&self) -> Timestamp {
        "2027-10-06T16:10:00Z".parse().unwrap()
    }
}

/// One question, refused with what was sent.
struct Echo(Vec<Question>);

impl Bench for Echo {
    fn questions(&self) -> &[Question] {
        &self.0
    }
    fn answer(&self, _: &str, entries: &[(String, String)]) -> Result<Answer, Refusal> {
        Err(Refusal::new(
            format!("found {entries:?}"),
            "a number",
            "write one",
        ))
    }
}

fn app() -> axum::Router {
    let book = book::read(&book::demo::files(), book::Limits::default()).unwrap();
    let question = Question {
        word: "salt".to_owned(),
        about: "How much salt".to_owned(),
        fields: vec![Field {
            name: "for".to_owned(),
            help: "weight".to_owned(),
            hint: "500 g".to_owned(),
            default: None,
            choices: Vec::new(),
            required: true,
            many: false,
            flag: false,
        }],
    };
    router(Arc::new(Board::new(
        book,
        Box::new(Echo(vec![question])),
        Box::new(Noon),
    )))
}

async fn get(app: &axum::Router, address: &str) -> (StatusCode, String, axum::http::HeaderMap) {
    let request = Request::get(address).body(Body::empty()).unwrap();
    let response = app.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, 8 << 20).await.unwrap();
    let text = String::from_utf8(bytes.to_vec()).unwrap();
    (parts.status, text, parts.headers)
}

/// Addresses a page leads to.
fn links(page: &str) -> Vec<String> {
    page.split("href=\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|a| a.starts_with('/'))
        .map(|a| a.replace("&amp;", "&"))
        .collect()
}

#[tokio::test]
async fn every_link_leads_to_a_page() {
    let app = app();
    let mut todo: VecDeque<String> = VecDeque::from(["/".to_owned()]);
    let mut seen: BTreeSet<String> = todo.iter().cloned().collect();
    let mut whys = 0;
    while let Some(address) = todo.pop_front() {
        let (status, page, headers) = get(&app, &address).await;
        assert_eq!(status, StatusCode::OK, "{address}");
        assert_eq!(headers["x-content-type-options"], "nosniff", "{address}");
        assert!(
            headers["content-security-policy"]
                .to_str()
                .unwrap()
                .contains("default-src 'none'")
        );
        if address.starts_with("/look/") {
            continue;
        }
        let said = page
            .split(|c: char| !c.is_alphabetic())
            .any(|word| word.eq_ignore_ascii_case("safe"));
        assert!(!said, "{address} says safe");
        assert!(
            !page.contains("style=\"") && !page.contains("<script>"),
            "{address}: the page's own policy forbids it"
        );
        for link in links(&page) {
            // Of some thousand derivations every tenth is enough.
            if link.contains("/why/") {
                whys += 1;
                if whys % 10 != 0 {
                    continue;
                }
            }
            if seen.insert(link.clone()) {
                todo.push_back(link);
            }
        }
    }
    assert!(seen.len() > 60, "only {} addresses", seen.len());
}

#[tokio::test]
async fn the_smoking_day_is_told_at_its_hour() {
    let (_, page, _) = get(&app(), "/event/harvest-supper/today").await;
    assert!(page.contains("12:10"), "now on the clock of the kitchen");
    assert!(page.contains("Hot-smoked char: smoke"));
    assert!(page.contains("12:25"), "the run starts");
    assert!(!page.contains("as if it were"));
}

#[tokio::test]
async fn a_what_if_is_carried_from_page_to_page() {
    let app = app();
    let (_, page, _) = get(&app, "/event/harvest-supper/compare?change-covers=72&set=").await;
    assert!(page.contains("covers=72"));
    let order = links(&page)
        .into_iter()
        .find(|l| l.contains("/order"))
        .unwrap();
    let (_, order, _) = get(&app, &order).await;
    assert!(
        order.contains("What if: ") && order.contains("6 fish"),
        "72 covers need 6 fish"
    );
}

#[tokio::test]
async fn what_is_not_there_says_so() {
    let app = app();
    for (address, status, words) in [
        ("/nothing", StatusCode::NOT_FOUND, "no page at /nothing"),
        ("/event/none/today", StatusCode::NOT_FOUND, "harvest-supper"),
        (
            "/event/harvest-supper/lot/none",
            StatusCode::NOT_FOUND,
            "hot-smoked-char",
        ),
        (
            "/event/harvest-supper/why/cost.per_cover_bough",
            StatusCode::NOT_FOUND,
            "did you mean cost.per_cover_bought?",
        ),
        (
            "/event/harvest-supper?set=covers=-3",
            StatusCode::UNPROCESSABLE_ENTITY,
            "covers",
        ),
        (
            "/event/harvest-supper?set=covers",
            StatusCode::UNPROCESSABLE_ENTITY,
            "covers",
        ),
        (
            "/event/harvest-supper/today?at=noon",
            StatusCode::UNPROCESSABLE_ENTITY,
            "a moment such as",
        ),
    ] {
        let (found, page, _) = get(&app, address).await;
        assert_eq!(found, status, "{address}");
        assert!(page.contains(words), "{address}: {page}");
    }
}

#[tokio::test]
async fn what_a_stranger_sends_comes_back_as_text() {
    let app = app();
    let script = "%3Cscript%3Ealert(1)%3C%2Fscript%3E";
    for address in [
        format!("/{script}"),
        format!("/bench/salt?for={script}"),
        format!("/event/harvest-supper?set=covers%3D{script}"),
        format!("/event/harvest-supper?set={script}"),
        format!("/event/harvest-supper/why?part={script}"),
        format!("/event/harvest-supper/why/{script}"),
        format!("/event/{script}/today"),
        format!("/event/harvest-supper/today?at={script}"),
        "/event/..%2f..%2fetc%2fpasswd/today".to_owned(),
        "/event/harvest-supper?set=%00".to_owned(),
        "/event/harvest-supper?set=covers%3D1e400".to_owned(),
        "/event/harvest-supper?set=covers%3DNaN".to_owned(),
    ] {
        let (status, page, _) = get(&app, &address).await;
        assert!(
            status.is_success() || status.is_client_error(),
            "{address}: {status}"
        );
        assert!(!page.contains("<script>"), "{address}");
        assert!(!page.contains("root:"), "{address}");
    }
    let many = "&set=covers%3D61".repeat(40);
    let (status, _, _) = get(&app, &format!("/event/harvest-supper?{many}")).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn every_field_has_a_label_and_every_page_a_heading() {
    let app = app();
    for address in [
        "/",
        "/bench/salt",
        "/event/duck-class",
        "/event/duck-class/today",
        "/event/orchard-lunch/weigh",
    ] {
        let (_, page, _) = get(&app, address).await;
        assert_eq!(page.matches("<h1>").count(), 1, "{address}");
        assert!(page.contains("lang=\"en\""));
        let inputs = page.matches("<input").count() - page.matches("type=\"hidden\"").count();
        assert!(page.matches("<label>").count() >= inputs, "{address}");
    }
}
