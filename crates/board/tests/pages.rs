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
        store::Store::in_memory().unwrap(),
        false,
    )))
}

async fn get(app: &axum::Router, address: &str) -> (StatusCode, String, axum::http::HeaderMap) {
    let request = Request::get(address).body(Body::empty()).unwrap();
    let response = app.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, 8 << 20).await.unwrap();
    // A PDF is no text; its first letters are.
    let text = String::from_utf8_lossy(&bytes).into_owned();
    (parts.status, text, parts.headers)
}

async fn post(
    app: &axum::Router,
    address: &str,
    form: &[(&str, &str)],
    headers: &[(&str, &str)],
) -> (StatusCode, String) {
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
    let response = app
        .clone()
        .oneshot(request.body(Body::from(body)).unwrap())
        .await
        .unwrap();
    let (parts, body) = response.into_parts();
    let bytes = to_bytes(body, 8 << 20).await.unwrap();
    (parts.status, String::from_utf8(bytes.to_vec()).unwrap())
}

const RECORD: &str = "/event/harvest-supper/record";

/// A temperature of a probe of the smoke, read at an hour of the smoking day.
async fn smoked(app: &axum::Router, id: &str, probe: &str, when: &str, reading: &str) {
    let when = format!("2027-10-06 {when}");
    let form = [
        ("id", id),
        ("who", "Maren"),
        ("kind", "temperature"),
        ("about", "hot-smoked-char.smoke"),
        ("part", probe),
        ("reading", reading),
        ("when", when.as_str()),
    ];
    let (status, page) = post(app, RECORD, &form, &[]).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{page}");
}

#[tokio::test]
async fn a_hold_with_a_dip_is_judged_from_what_was_written_down() {
    let app = app();
    for i in 0..=6 {
        let minute = i * 5;
        let core = if i == 3 { "62.6 °C" } else { "63.4 °C" };
        smoked(
            &app,
            &format!("t:{i}"),
            "probe 1",
            &format!("11:{minute:02}"),
            core,
        )
        .await;
    }
    let (_, page, _) = get(&app, RECORD).await;
    assert!(page.contains("BROKEN"), "the dip starts the 30 min anew");
    // The dip was a slip of the pen: corrected, the hold is there, and both entries stay.
    let form = [
        ("id", "t:fix"),
        ("who", "Maren"),
        ("corrects", "4"),
        ("reading", "63.6 °C"),
        ("words", "misread"),
    ];
    let (status, _) = post(&app, RECORD, &form, &[]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (_, page, _) = get(&app, RECORD).await;
    assert!(page.contains("corrected by") && page.contains("62.6 °C"));
    assert!(!page.contains("BROKEN"), "{page}");
    assert!(page.contains("SHOWN"));
}

#[tokio::test]
async fn readings_that_contradict_each_other_are_told_and_show_nothing() {
    let app = app();
    smoked(&app, "t:1", "probe 1", "11:00", "63.4 °C").await;
    smoked(&app, "t:2", "probe 1", "11:00", "58.0 °C").await;
    let (_, page, _) = get(&app, RECORD).await;
    assert!(
        page.contains("NOT SHOWN") && page.contains("not judged: probe 1"),
        "{page}"
    );
}

#[tokio::test]
async fn an_entry_sent_twice_is_written_once() {
    let app = app();
    smoked(&app, "t:1", "probe 1", "11:00", "63.4 °C").await;
    smoked(&app, "t:1", "probe 1", "11:00", "63.4 °C").await;
    let (_, page, _) = get(&app, RECORD).await;
    assert!(page.contains("1 entry in all"));
}

#[tokio::test]
async fn what_cannot_be_written_down_is_refused_whole() {
    let app = app();
    let good: Vec<(&str, &str)> = vec![
        ("id", "t:1"),
        ("who", "Maren"),
        ("kind", "temperature"),
        ("reading", "63.4 °C"),
    ];
    let with = |name: &'static str, value: &'static str| {
        let mut form: Vec<(&str, &str)> =
            good.iter().copied().filter(|(n, _)| *n != name).collect();
        form.push((name, value));
        form
    };
    for (form, words) in [
        (with("who", ""), "the name"),
        (with("who", "  "), "the name"),
        (with("reading", ""), "a temperature in"),
        (with("reading", "63.4"), "without its unit"),
        (with("reading", "-300 °C"), "temperature"),
        (with("reading", "63.4 kg"), "a temperature in"),
        (with("reading", "NaN °C"), "a number with its unit"),
        (with("kind", "served"), "one of the list"),
        (with("about", "char.fly"), "a component and step"),
        (with("when", "2027-10-07 09:00"), "still to come"),
        (with("when", "noon"), "write day and hour"),
        (with("corrects", "99"), "99"),
        (with("words", "<script>alert(1)</script>"), ""),
    ] {
        let (status, page) = post(&app, RECORD, &form, &[]).await;
        if words.is_empty() {
            assert_eq!(status, StatusCode::SEE_OTHER);
            continue;
        }
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{form:?}: {page}");
        assert!(page.contains(words), "{form:?}: {page}");
    }
    let (_, page, _) = get(&app, RECORD).await;
    assert!(page.contains("1 entry in all") && !page.contains("<script>"));
}

#[tokio::test]
async fn another_site_writes_nothing_and_another_name_reads_nothing() {
    let app = app();
    let form = [
        ("id", "t:1"),
        ("who", "Maren"),
        ("kind", "note"),
        ("words", "x"),
    ];
    for headers in [
        &[("sec-fetch-site", "cross-site")][..],
        &[
            ("origin", "http://elsewhere.example"),
            ("host", "127.0.0.1:4780"),
        ],
    ] {
        let (status, _) = post(&app, RECORD, &form, headers).await;
        assert_eq!(status, StatusCode::FORBIDDEN, "{headers:?}");
    }
    let (status, _) = post(&app, RECORD, &form, &[("host", "kitchen.example:4780")]).await;
    assert_eq!(status, StatusCode::FORBIDDEN);
    let (_, page, _) = get(&app, RECORD).await;
    assert!(page.contains("0 entries in all"));
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
    let mut papers = 0;
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
        if address.starts_with("/look/") || address.contains("print.pdf") {
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
            // Papers of every stock, language and measure: some of the hundreds.
            if link.contains("/sheets") && !seen.contains(&link) {
                papers += 1;
                if papers % 30 != 1 {
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

#[tokio::test]
async fn a_plan_without_a_clock_offers_ways_out_that_open_their_plan() {
    let app = app();
    let broken = "/event/harvest-supper?set=machine.smoker%3Doff";
    let (_, page, _) = get(&app, broken).await;
    assert!(page.contains("Ways out"), "no ways out");
    assert!(page.contains("hot-smoked-char bought ready"));
    let ready = links(&page)
        .into_iter()
        .find(|l| l.contains("hot-smoked-char.make"))
        .unwrap();
    // The changes of the plan come first, the way after them.
    let (off, bought) = (
        ready.find("machine.smoker"),
        ready.find("hot-smoked-char.make"),
    );
    assert!(off.is_some() && off < bought, "{ready}");
    let (status, plan, _) = get(&app, &ready).await;
    assert_eq!(status, StatusCode::OK);
    assert!(plan.contains("holds"), "the way has a clock");
    assert!(!plan.contains("Ways out"));
    assert!(plan.contains("allergens are unknown"));
}

#[tokio::test]
async fn papers_are_listed_looked_at_and_printed() {
    let app = app();
    let base = "/event/duck-class/sheets";
    let (status, page, _) = get(&app, base).await;
    assert_eq!(status, StatusCode::OK);
    for name in [
        "Day board",
        "Cure and brine sheets",
        "Tub labels, to be cut",
        "Everything as one PDF",
    ] {
        assert!(page.contains(name), "{name}");
    }
    // The class smokes nothing.
    assert!(!page.contains("Smoker logs"));
    let (_, look, _) = get(&app, &format!("{base}/cure-sheet?stock=iso&lang=fr")).await;
    assert!(
        look.contains("/cure-sheet/1.svg?stock=iso") && look.contains("lang=fr"),
        "{look}"
    );
    let (status, svg, headers) = get(&app, &format!("{base}/cure-sheet/1.svg?lang=fr")).await;
    assert_eq!(
        (status, headers["content-type"].to_str().unwrap()),
        (StatusCode::OK, "image/svg+xml")
    );
    assert!(svg.starts_with("<svg") && svg.contains("page 1 sur"));
    let (status, pdf, headers) = get(&app, &format!("{base}/cure-sheet/print.pdf")).await;
    assert_eq!(
        (status, headers["content-type"].to_str().unwrap()),
        (StatusCode::OK, "application/pdf")
    );
    assert!(pdf.starts_with("%PDF"));
    // A what-if has papers of its own, and its links keep it.
    let (_, changed, _) = get(&app, &format!("{base}/cure-sheet?set=covers%3D12")).await;
    assert!(
        changed.contains("set=covers%3D12&amp;stock=us"),
        "{changed}"
    );
}

#[tokio::test]
async fn a_paper_that_is_not_there_is_refused_with_what_there_is() {
    let app = app();
    let base = "/event/duck-class/sheets";
    for (address, status, words) in [
        ("/menu", StatusCode::NOT_FOUND, "there is no paper"),
        (
            "/cure-sheet/99.svg",
            StatusCode::NOT_FOUND,
            "print.pdf, or 1.svg to",
        ),
        (
            "/cure-sheet/0.svg",
            StatusCode::NOT_FOUND,
            "print.pdf, or 1.svg to",
        ),
        (
            "?stock=a5",
            StatusCode::UNPROCESSABLE_ENTITY,
            "us (letter, tabloid) or iso (A4, A3)",
        ),
        ("?lang=de", StatusCode::UNPROCESSABLE_ENTITY, "en or fr"),
        (
            "/cure-sheet?units=stone",
            StatusCode::UNPROCESSABLE_ENTITY,
            "metric or us",
        ),
    ] {
        let (found, page, _) = get(&app, &format!("{base}{address}")).await;
        assert_eq!(found, status, "{address}");
        assert!(page.contains(words), "{address}: {page}");
    }
}
