//! What is written down on one screen as the others hear it: in order, once, from where they stopped; and what is under way.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::body::{Body, BodyDataStream, to_bytes};
use axum::http::{Request, StatusCode};
use board::{Bench, Board, Clock, Question, router};
use futures_util::StreamExt;
use jiff::Timestamp;
use plan::ask::{Answer, Refusal};
use tower::ServiceExt;

const EVENT: &str = "/event/harvest-supper";

/// Ten past noon of the smoking day of the demo supper, on the clock of its kitchen.
struct Noon;

impl Clock for Noon {
    fn now(&self) -> Timestamp {
        "2027-10-06T16:10:00Z".parse().unwrap()
    }
}

struct NoQuestions;

impl Bench for NoQuestions {
    fn questions(&self) -> &[Question] {
        &[]
    }
    fn answer(&self, _: &str, _: &[(String, String)]) -> Result<Answer, Refusal> {
        Err(Refusal::new("a question", "none", "ask nothing"))
    }
}

fn app() -> Router {
    let book = book::read(&book::demo::files(), book::Limits::default()).unwrap();
    router(Arc::new(Board::new(
        book,
        Box::new(NoQuestions),
        Box::new(Noon),
        store::Store::in_memory().unwrap(),
        false,
    )))
}

/// A form sent, as a script sends it or as a browser does.
async fn send(
    app: &Router,
    form: &[(&str, &str)],
    plainly: bool,
) -> (StatusCode, String, Option<String>) {
    let body = form
        .iter()
        .map(|(n, v)| {
            let v: String = v.bytes().map(|b| format!("%{b:02X}")).collect();
            format!("{n}={v}")
        })
        .collect::<Vec<_>>()
        .join("&");
    let accept = if plainly { "text/plain" } else { "text/html" };
    let request = Request::post(format!("{EVENT}/record"))
        .header("accept", accept)
        .body(Body::from(body))
        .unwrap();
    let (parts, body) = app.clone().oneshot(request).await.unwrap().into_parts();
    let bytes = to_bytes(body, 8 << 20).await.unwrap();
    let next = parts
        .headers
        .get("location")
        .map(|v| v.to_str().unwrap().to_owned());
    (
        parts.status,
        String::from_utf8(bytes.to_vec()).unwrap(),
        next,
    )
}

/// An entry that has to be taken.
async fn write(app: &Router, form: &[(&str, &str)]) -> String {
    let (status, said, _) = send(app, form, true).await;
    assert_eq!(status, StatusCode::CREATED, "{said}");
    said
}

async fn note(app: &Router, id: &str) {
    write(
        app,
        &[
            ("id", id),
            ("who", "Maren"),
            ("kind", "note"),
            ("words", id),
        ],
    )
    .await;
}

async fn page(app: &Router, address: &str) -> String {
    let request = Request::get(format!("{EVENT}{address}"))
        .body(Body::empty())
        .unwrap();
    let response = app.clone().oneshot(request).await.unwrap();
    let bytes = to_bytes(response.into_body(), 8 << 20).await.unwrap();
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// An open screen.
struct Screen(BodyDataStream);

impl Screen {
    async fn open(app: &Router, query: &str, last: Option<&str>) -> Self {
        let mut request = Request::get(format!("{EVENT}/live{query}"));
        if let Some(last) = last {
            request = request.header("last-event-id", last);
        }
        let response = app
            .clone()
            .oneshot(request.body(Body::empty()).unwrap())
            .await
            .unwrap();
        assert_eq!(response.status(), StatusCode::OK);
        assert_eq!(response.headers()["content-type"], "text/event-stream");
        Self(response.into_body().into_data_stream())
    }

    /// The next event: its name, id and data.
    async fn hears(&mut self) -> (String, String, String) {
        let frame = tokio::time::timeout(Duration::from_secs(10), self.0.next())
            .await
            .expect("an event in ten seconds")
            .unwrap()
            .unwrap();
        let text = String::from_utf8(frame.to_vec()).unwrap();
        let field = |name: &str| {
            text.lines()
                .find_map(|l| l.strip_prefix(name)?.strip_prefix(": "))
                .unwrap_or("")
                .to_owned()
        };
        (field("event"), field("id"), field("data"))
    }

    async fn silent(&mut self) -> bool {
        tokio::time::timeout(Duration::from_millis(200), self.0.next())
            .await
            .is_err()
    }
}

#[tokio::test]
async fn an_entry_reaches_every_screen_in_words_and_never_twice() {
    let app = app();
    let mut one = Screen::open(&app, "", None).await;
    let mut other = Screen::open(&app, "?after=0", None).await;
    for screen in [&mut one, &mut other] {
        let (event, id, clock) = screen.hears().await;
        assert_eq!((event.as_str(), id.as_str()), ("hello", "0"));
        assert_eq!(clock, "2027-10-06T16:10:00.000Z");
    }
    let form = [
        ("id", "t:1"),
        ("who", "Maren"),
        ("kind", "weighed"),
        ("about", "hot-smoked-char.fillet"),
        ("reading", "5,220 g"),
        ("words", "words stay on the record"),
    ];
    let (status, said, next) = send(&app, &form, true).await;
    assert_eq!((status, said.as_str()), (StatusCode::CREATED, "1"));
    assert_eq!(next.unwrap(), "/event/harvest-supper/record?who=Maren");
    for screen in [&mut one, &mut other] {
        assert_eq!(
            screen.hears().await,
            (
                "entry".to_owned(),
                "1".to_owned(),
                "12:10: Hot-smoked char: fillet: weighed 5,220 g by Maren".to_owned()
            )
        );
    }
    // Sent again it is answered as it was, and nobody hears of it.
    assert_eq!(write(&app, &form).await, "1");
    assert!(one.silent().await && other.silent().await);
    // The same id with other content is refused, and in one line.
    let (status, said, _) = send(
        &app,
        &[("id", "t:1"), ("who", "Ivo"), ("kind", "done")],
        true,
    )
    .await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said.contains("t:1") && !said.contains('<'), "{said}");
}

#[tokio::test]
async fn a_screen_goes_on_from_where_it_stopped() {
    let app = app();
    for i in 1..=5 {
        note(&app, &format!("t:{i}")).await;
    }
    // The browser's header is newer than the address it opened.
    let mut screen = Screen::open(&app, "?after=1", Some("3")).await;
    assert_eq!(screen.hears().await.1, "3");
    for wanted in ["4", "5"] {
        let (event, id, _) = screen.hears().await;
        assert_eq!((event.as_str(), id.as_str()), ("entry", wanted));
    }
    note(&app, "t:6").await;
    assert_eq!(screen.hears().await.1, "6");
    // A number of another record: the page is to be loaded again.
    let mut screen = Screen::open(&app, "?after=900", None).await;
    assert_eq!(screen.hears().await.0, "hello");
    assert_eq!(screen.hears().await.0, "reload");
    let request = Request::get(format!("{EVENT}/live?after=-1")).body(Body::empty());
    let refused = app.clone().oneshot(request.unwrap()).await.unwrap();
    assert_eq!(refused.status(), StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn many_at_once_are_heard_in_the_order_of_the_log() {
    let app = app();
    let mut screen = Screen::open(&app, "", None).await;
    screen.hears().await;
    let writers: Vec<_> = (0..40)
        .map(|i| {
            let app = app.clone();
            tokio::spawn(async move { note(&app, &format!("t:{i}")).await })
        })
        .collect();
    for i in 1..=40 {
        assert_eq!(screen.hears().await.1, i.to_string());
    }
    for writer in writers {
        writer.await.unwrap();
    }
}

#[tokio::test]
async fn a_screen_that_does_not_listen_is_told_to_load_again_and_holds_nobody_up() {
    let app = app();
    let mut slow = Screen::open(&app, "", None).await;
    let mut quick = Screen::open(&app, "", None).await;
    quick.hears().await;
    for i in 1..=300 {
        note(&app, &format!("t:{i}")).await;
        assert_eq!(quick.hears().await.1, i.to_string());
    }
    assert_eq!(slow.hears().await.0, "hello");
    assert_eq!(slow.hears().await.0, "reload");
    // After that it hears what is still kept, up to the newest.
    let mut last = String::new();
    while last != "300" {
        last = slow.hears().await.1;
    }
    // One that was away for longer than is told one by one.
    let mut back = Screen::open(&app, "?after=1", None).await;
    back.hears().await;
    let (event, id, _) = back.hears().await;
    assert_eq!((event.as_str(), id.as_str()), ("reload", "300"));
}

#[tokio::test]
async fn one_screen_too_many_is_refused_in_words_until_another_goes() {
    let app = app();
    let mut open = Vec::new();
    for _ in 0..2_000 {
        open.push(Screen::open(&app, "", None).await);
    }
    let ask = || {
        Request::get(format!("{EVENT}/live"))
            .body(Body::empty())
            .unwrap()
    };
    let refused = app.clone().oneshot(ask()).await.unwrap();
    assert_eq!(refused.status(), StatusCode::SERVICE_UNAVAILABLE);
    let words = to_bytes(refused.into_body(), 1 << 20).await.unwrap();
    assert!(
        String::from_utf8(words.to_vec())
            .unwrap()
            .contains("2000 screens listen already")
    );
    drop(open.pop());
    assert_eq!(
        app.clone().oneshot(ask()).await.unwrap().status(),
        StatusCode::OK
    );
}

#[tokio::test]
async fn a_refused_form_comes_back_with_what_was_typed_and_why_beside_its_field() {
    let app = app();
    let form = [
        ("id", "t:1"),
        ("who", "Maren \"the\" cook"),
        ("kind", "temperature"),
        ("about", "hot-smoked-char.smoke"),
        ("part", "probe 2"),
        ("reading", "63.4"),
        ("words", "<b>thick one</b>"),
    ];
    let (status, page, _) = send(&app, &form, false).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    for kept in [
        "value=\"t:1\"",
        "value=\"Maren &quot;the&quot; cook\"",
        "value=\"temperature\" selected",
        "value=\"hot-smoked-char.smoke\" selected",
        "value=\"probe 2\"",
        "value=\"63.4\" aria-invalid=\"true\" aria-describedby=\"wrong-reading\"",
        "id=\"wrong-reading\"",
        "value=\"&lt;b&gt;thick one&lt;/b&gt;\"",
        "0 entries in all",
    ] {
        assert!(page.contains(kept), "{kept}: {page}");
    }
    // Of a correction as well: it stays one.
    note(&app, "t:2").await;
    let (_, page, _) = send(
        &app,
        &[("id", "t:3"), ("who", "Ivo"), ("corrects", "1")],
        false,
    )
    .await;
    assert!(
        page.contains("Correct entry 1") && page.contains("name=\"corrects\" value=\"1\""),
        "{page}"
    );
}

#[tokio::test]
async fn a_long_record_is_read_page_by_page() {
    let app = app();
    for i in 1..=205 {
        note(&app, &format!("t:{i}")).await;
    }
    let newest = page(&app, "/record").await;
    assert!(newest.contains("Older entries: 5 more") && newest.contains("record?before=6\""));
    assert_eq!(newest.matches("<tr>").count(), 201);
    let oldest = page(&app, "/record?before=6").await;
    assert_eq!(oldest.matches("<tr>").count(), 6);
    assert!(!oldest.contains("Older entries"));
    assert!(
        page(&app, "/record?before=x")
            .await
            .contains("before: found")
    );
}

#[tokio::test]
async fn an_entry_kept_on_a_screen_happened_when_it_was_entered() {
    let app = app();
    let mut form = vec![
        ("id", "screen:1"),
        ("who", "Maren"),
        ("kind", "started"),
        ("about", "hot-smoked-char.smoke"),
        ("entered", "2027-10-06T15:01:00.000Z"),
    ];
    write(&app, &form).await;
    assert!(page(&app, "/record").await.contains("Wed 10-06 11:01"));
    // Not in the time to come, and not at no time.
    for wrong in ["2027-10-06T16:10:00.001Z", "noon"] {
        form[0].1 = "screen:2";
        form[4].1 = wrong;
        let (status, said, _) = send(&app, &form, true).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(said.contains("the moment it was entered"), "{said}");
    }
}

#[tokio::test]
async fn a_step_is_under_way_from_its_start_until_it_is_done() {
    let app = app();
    let smoke = |id: &'static str, kind: &'static str, when: &'static str| {
        [
            ("id", id),
            ("who", "Maren"),
            ("kind", kind),
            ("about", "hot-smoked-char.smoke"),
            ("when", when),
        ]
    };
    assert!(!page(&app, "/today").await.contains("Under way"));
    write(&app, &smoke("t:1", "started", "2027-10-06 11:01")).await;
    let today = page(&app, "/today").await;
    // The plan of the demo gives it 12:05 to 15:40, of which its hands take the first minutes: 3 h 15 min by itself.
    assert!(today.contains("since <strong>11:01</strong>"), "{today}");
    assert!(
        today.contains("data-since=\"2027-10-06T15:01:00Z\">1 h 9 min"),
        "{today}"
    );
    assert!(today.contains("ends <strong>"), "{today}");
    assert!(today.contains("hold not started") && today.contains("no reading yet"));
    assert!(
        page(&app, "/lot/hot-smoked-char")
            .await
            .contains("Under way")
    );
    assert!(!page(&app, "/lot/bread-crisps").await.contains("Under way"));
    // A second start takes the place of the first; one that was corrected has no hour.
    write(&app, &smoke("t:2", "started", "2027-10-06 12:01")).await;
    let today = page(&app, "/today").await;
    assert!(
        !today.contains("since <strong>11:01") && today.contains("since <strong>12:01</strong>")
    );
    let slip = [
        ("id", "t:3"),
        ("who", "Maren"),
        ("corrects", "2"),
        ("words", "not yet"),
    ];
    write(&app, &slip).await;
    let today = page(&app, "/today").await;
    assert!(
        today.contains("Started, and corrected by entry 3"),
        "{today}"
    );
    write(&app, &smoke("t:4", "done", "2027-10-06 12:09")).await;
    assert!(!page(&app, "/today").await.contains("Under way"));
}

/// 63 °C at the coldest probe starts it: the state rule that `fish_core` reads, tested against its own words in `safety`.
#[tokio::test]
async fn the_hold_stands_where_its_readings_put_it() {
    let app = app();
    write(
        &app,
        &[
            ("id", "t:0"),
            ("who", "Maren"),
            ("kind", "started"),
            ("about", "hot-smoked-char.smoke"),
            ("when", "2027-10-06 11:01"),
        ],
    )
    .await;
    let read = async |id: &str, probe: &str, when: &str, reading: &str| {
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
        write(&app, &form).await;
        page(&app, "/today").await
    };
    read("t:1", "probe 1", "11:57", "64.0 °C").await;
    let today = read("t:2", "probe 2", "11:57", "62.8 °C").await;
    assert!(today.contains("hold not started"), "{today}");
    assert!(today.contains("coldest 62.8 °C (probe 2)"), "{today}");
    for (i, when) in ["12:00", "12:05", "12:08"].iter().enumerate() {
        read(&format!("a:{i}"), "probe 1", when, "64.0 °C").await;
        read(&format!("b:{i}"), "probe 2", when, "63.1 °C").await;
    }
    let today = page(&app, "/today").await;
    // The line from 62.8 at 11:57 to 63.1 at 12:00 passes 63 at 11:59: nine minutes to 12:08.
    assert!(today.contains("hold: 9 of 30 min"), "{today}");
    assert!(today.contains("coldest 63.1 °C (probe 2)"), "{today}");
    assert!(
        !today.contains("BROKEN"),
        "a hold that runs is not broken yet"
    );
}
