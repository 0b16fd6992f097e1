//! The pages of the book as a browser works them: read, edited, met by another, put back, pasted; and what a stranger
//! sends is refused in clear words with nothing saved.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::fmt::Write as _;
use std::sync::Arc;
use std::time::Instant;

use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use board::{Bench, Board, Clock, Question, Shelf, router};
use jiff::Timestamp;
use plan::ask::{Answer, Refusal};
use store::{ImportBook, Moment, Name, Store};
use tower::ServiceExt;

struct Noon;

impl Clock for Noon {
    fn now(&self) -> Timestamp {
        "2027-10-06T16:10:00Z".parse().unwrap()
    }
}

struct NoBench;

impl Bench for NoBench {
    fn questions(&self) -> &[Question] {
        &[]
    }
    fn answer(&self, _: &str, _: &[(String, String)]) -> Result<Answer, Refusal> {
        Err(Refusal::new("nothing", "nothing", "nothing"))
    }
}

const PAGE: &str = "demo/recipes/hot-smoked-char.toml";
const EDIT: &str = "/recipe/hot-smoked-char/edit";

fn app() -> axum::Router {
    let store = Store::in_memory().unwrap();
    let noon = Moment::new(Noon.now(), "America/Toronto").unwrap();
    store
        .ask(ImportBook {
            files: book::demo::files(),
            onto: 0,
            who: Name::new("first start").unwrap(),
            at: noon,
        })
        .unwrap();
    let shelf = Shelf::of(&store).unwrap().unwrap();
    let board = Board::new(shelf, Box::new(NoBench), Box::new(Noon), store, true);
    router(Arc::new(board))
}

fn demo(page: &str) -> String {
    let files = book::demo::files();
    let file = files.iter().find(|f| f.name == page).unwrap();
    String::from_utf8(file.bytes.clone()).unwrap()
}

struct Answered {
    status: StatusCode,
    page: String,
    to: String,
}

async fn ask(app: &axum::Router, request: Request<Body>) -> Answered {
    let response = app.clone().oneshot(request).await.unwrap();
    let (parts, body) = response.into_parts();
    let to = parts.headers.get(header::LOCATION);
    let bytes = to_bytes(body, 64 << 20).await.unwrap();
    Answered {
        status: parts.status,
        to: to.map_or(String::new(), |l| l.to_str().unwrap().to_owned()),
        page: String::from_utf8_lossy(&bytes).into_owned(),
    }
}

async fn get(app: &axum::Router, address: &str) -> Answered {
    ask(app, Request::get(address).body(Body::empty()).unwrap()).await
}

async fn post(app: &axum::Router, address: &str, form: &[(&str, &str)]) -> Answered {
    let mut body = String::new();
    for (name, value) in form {
        for (text, end) in [(name, '='), (value, '&')] {
            for b in text.bytes() {
                if b.is_ascii_alphanumeric() {
                    body.push(char::from(b));
                } else {
                    let _ = write!(body, "%{b:02X}");
                }
            }
            body.push(end);
        }
    }
    ask(app, Request::post(address).body(Body::from(body)).unwrap()).await
}

/// A save of the char on a revision.
async fn save(app: &axum::Router, who: &str, parent: &str, text: &str) -> Answered {
    let form = [
        ("do", "save"),
        ("page", PAGE),
        ("parent", parent),
        ("who", who),
        ("text", text),
    ];
    post(app, EDIT, &form).await
}

fn salted(text: &str, pct: &str) -> String {
    text.replace("of-base = \"2.50 %\"", &format!("of-base = \"{pct} %\""))
}

#[tokio::test]
async fn a_recipe_is_read_with_its_formula_and_what_uses_it() {
    let page = get(&app(), "/recipe/hot-smoked-char").await.page;
    for words in [
        "Revision 1",
        "first start",
        "skin-on fillet",
        "2.50 %",
        "4.60 %",
        "18 h to 24 h",
        "Harvest lantern supper",
        "For Harvest",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[tokio::test]
async fn a_saved_change_moves_every_plan_and_its_figures() {
    let app = app();
    let weigh = "/event/harvest-supper/weigh";
    assert!(get(&app, weigh).await.page.contains("139.5 g"));
    let text = salted(&demo(PAGE), "3.00");
    let saved = save(&app, "Maren", "1", &text).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.page);
    let page = get(&app, &saved.to).await.page;
    assert!(
        page.contains("Revision 2 is saved") && page.contains("Maren"),
        "{page}"
    );
    // 3 % of 5,580 g of fillet, by hand.
    let weights = get(&app, weigh).await.page;
    assert!(weights.contains("167.4 g") && !weights.contains("139.5 g"));
    let lot = get(&app, "/event/harvest-supper/lot/hot-smoked-char")
        .await
        .page;
    assert!(lot.contains("Hot-smoked char, revision 2"), "{lot}");
}

#[tokio::test]
async fn a_look_tells_what_moves_and_saves_nothing() {
    let app = app();
    let text = salted(&demo(PAGE), "3.00");
    let began = Instant::now();
    let form = [
        ("do", "look"),
        ("page", PAGE),
        ("parent", "1"),
        ("text", &text),
    ];
    let look = post(&app, EDIT, &form).await;
    let took = began.elapsed();
    assert_eq!(look.status, StatusCode::OK);
    assert!(
        look.page.contains("139.50 g") && look.page.contains("167.40 g"),
        "{}",
        look.page
    );
    assert!(took.as_secs_f64() < 2.0, "a look took {took:?}");
    assert!(
        get(&app, "/event/harvest-supper/weigh")
            .await
            .page
            .contains("139.5 g")
    );
    assert!(
        get(&app, "/recipe/hot-smoked-char")
            .await
            .page
            .contains("Revision 1")
    );
}

#[tokio::test]
async fn a_field_writes_its_value_into_the_text_and_the_rest_stays() {
    let app = app();
    let text = demo(PAGE).replace('\n', "\r\n");
    let field = "set|step/2:cure/mix/0:salt-table/of-base|2.50 %";
    let form = [
        ("do", "save"),
        ("page", PAGE),
        ("parent", "1"),
        ("who", "Maren"),
        ("text", text.as_str()),
        (field, "2.75 %"),
        ("set|step/2:cure/yield/mean|0.95", "0.95"),
    ];
    let saved = post(&app, EDIT, &form).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.page);
    // A browser sends CR LF; the page keeps its own line ends, its comments and its blanks.
    let zip = get(&app, "/recipe/hot-smoked-char/compare?from=1&to=2")
        .await
        .page;
    assert_eq!(zip.matches(">out<").count(), 1, "one line goes: {zip}");
    assert_eq!(zip.matches(">in<").count(), 1, "one line comes");
    assert!(
        zip.contains("2.75 %") && zip.contains("153.45 g"),
        "2.75 % of 5,580 g"
    );
}

#[tokio::test]
async fn a_field_and_the_text_that_disagree_are_told_and_what_was_typed_stays() {
    let app = app();
    let text = salted(&demo(PAGE), "2.60");
    let field = "set|step/2:cure/mix/0:salt-table/of-base|2.50 %";
    let form = [
        ("do", "save"),
        ("page", PAGE),
        ("parent", "1"),
        ("who", "Maren"),
        ("text", text.as_str()),
        (field, "2.75 %"),
    ];
    let answer = post(&app, EDIT, &form).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        answer
            .page
            .contains("the text says 2.60 %, the field says 2.75 %"),
        "{}",
        answer.page
    );
    assert!(
        answer.page.contains("value=\"2.75 %\""),
        "what was typed stands in its field"
    );
    assert!(answer.page.contains("of-base = &quot;2.60 %&quot;"));
}

#[tokio::test]
async fn a_mistake_is_told_with_line_and_column_and_nothing_is_saved() {
    let app = app();
    for (text, words) in [
        (
            demo(PAGE).replace("coriander-seed", "coriander-sed"),
            "coriander-seed",
        ),
        (
            demo(PAGE).replace("mean = 0.62", "mean = 62"),
            "line 20, column",
        ),
        (
            demo(PAGE).replace("hands = { setup = \"12 min", "hands = { setup = \"12"),
            "line",
        ),
        (
            demo(PAGE).replace("recipe  = \"hot-smoked-char\"", "recipe = \"char\""),
            "demo/dishes.toml, line",
        ),
        (String::new(), "line"),
    ] {
        let answer = save(&app, "Maren", "1", &text).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(answer.page.contains(words), "{words}: {}", answer.page);
        assert!(answer.page.contains("nothing is saved"));
    }
    let nameless = save(&app, "", "1", &salted(&demo(PAGE), "2.90")).await;
    assert_eq!(nameless.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(nameless.page.contains("the name") && nameless.page.contains("2.90 %"));
    assert!(
        get(&app, "/recipe/hot-smoked-char")
            .await
            .page
            .contains("Revision 1")
    );
}

#[tokio::test]
async fn two_who_change_one_page_meet_and_nothing_is_lost() {
    let app = app();
    let theirs = salted(&demo(PAGE), "2.60");
    let mine = demo(PAGE).replace("mean = 0.62, low = 0.58", "mean = 0.61, low = 0.58");
    assert_eq!(
        save(&app, "Maren", "1", &theirs).await.status,
        StatusCode::SEE_OTHER
    );
    let met = save(&app, "Ode", "1", &mine).await;
    assert_eq!(met.status, StatusCode::SEE_OTHER);
    assert!(met.to.contains("/conflict/1"), "{}", met.to);
    let page = get(&app, &met.to).await.page;
    for words in [
        "Maren saved revision 2",
        "0.61",
        "2.60 %",
        "Put mine on top of theirs",
        "touch different lines",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
    // Somebody who comes later sees that a change waits.
    assert!(get(&app, "/recipe").await.page.contains("A change by Ode"));
    let merged = get(
        &app,
        "/recipe/hot-smoked-char/edit?conflict=1&way=merge&who=Ode",
    )
    .await
    .page;
    assert!(merged.contains("0.61") && merged.contains("of-base = &quot;2.60 %&quot;"));
    assert!(merged.contains("name=\"parent\" value=\"2\""), "{merged}");
    let both = salted(&mine, "2.60");
    let form = [
        ("do", "save"),
        ("page", PAGE),
        ("parent", "2"),
        ("conflict", "1"),
        ("who", "Ode"),
        ("text", both.as_str()),
    ];
    let saved = post(&app, EDIT, &form).await;
    assert!(saved.to.contains("saved=3"), "{} {}", saved.to, saved.page);
    assert!(
        !get(&app, "/recipe").await.page.contains("A change by Ode"),
        "it is settled"
    );
    assert_eq!(
        get(&app, "/recipe/hot-smoked-char/conflict/1").await.status,
        StatusCode::NOT_FOUND
    );
}

#[tokio::test]
async fn changes_of_one_line_cannot_be_saved_before_somebody_chose() {
    let app = app();
    save(&app, "Maren", "1", &salted(&demo(PAGE), "2.60")).await;
    let met = save(&app, "Ode", "1", &salted(&demo(PAGE), "2.80")).await;
    let page = get(&app, &met.to).await.page;
    assert!(page.contains("1 place was changed by both"), "{page}");
    let merged = get(&app, "/recipe/hot-smoked-char/edit?conflict=1&way=merge")
        .await
        .page;
    assert!(
        merged.contains("&lt;&lt;&lt; theirs") && merged.contains("nothing is saved"),
        "{merged}"
    );
    assert!(merged.contains("2.60 %") && merged.contains("2.80 %"));
    let theirs = post(
        &app,
        "/recipe/hot-smoked-char/conflict/1/theirs",
        &[("who", "Ode")],
    )
    .await;
    assert_eq!(theirs.status, StatusCode::SEE_OTHER);
    assert!(
        get(&app, "/recipe/hot-smoked-char")
            .await
            .page
            .contains("Revision 2")
    );
}

#[tokio::test]
async fn an_earlier_revision_is_put_back_as_a_new_one() {
    let app = app();
    save(&app, "Maren", "1", &salted(&demo(PAGE), "2.60")).await;
    let page = get(&app, "/recipe/hot-smoked-char/revisions").await.page;
    assert!(page.contains("put revision 1 back"), "{page}");
    let edit = get(&app, "/recipe/hot-smoked-char/edit?from=1").await.page;
    assert!(
        edit.contains("of-base = &quot;2.50 %&quot;")
            && edit.contains("name=\"parent\" value=\"2\"")
    );
    let saved = save(&app, "Maren", "2", &demo(PAGE)).await;
    assert!(saved.to.contains("saved=3"), "{}", saved.to);
    let page = get(&app, "/recipe/hot-smoked-char/compare?from=1&to=3")
        .await
        .page;
    assert!(page.contains("Nothing: the two texts are the same."));
}

#[tokio::test]
async fn a_plan_is_put_on_record_with_its_revisions() {
    let app = app();
    let of = "/recipe/made_from?event=harvest-supper&set=covers%3D72";
    assert!(
        get(&app, of)
            .await
            .page
            .contains("No plan of this event is on record yet")
    );
    let form = [
        ("event", "harvest-supper"),
        ("set", "covers=72"),
        ("who", "Maren"),
    ];
    let put = post(&app, "/recipe/made_from", &form).await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.page);
    save(&app, "Ode", "1", &salted(&demo(PAGE), "2.60")).await;
    let page = get(&app, of).await.page;
    for words in [
        "No. 1",
        "covers=72",
        "hot-smoked-char.toml, revision 1 (another now)",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
    assert!(
        !page.contains("duck-class.toml"),
        "another event is no page of this plan"
    );
}

#[tokio::test]
async fn a_price_is_a_field_of_the_kitchen() {
    let app = app();
    let page = "demo/site.toml";
    let text = demo(page);
    let form = [
        ("do", "save"),
        ("page", page),
        ("parent", "1"),
        ("who", "Maren"),
        ("text", text.as_str()),
        ("set|offer/0:arctic-char-whole/per-kg|23.50", "24.50"),
    ];
    let saved = post(&app, "/recipe/demo%2Fsite.toml/edit", &form).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.page);
    // Five fish of 1.8 kg, a dollar more a kg: nine dollars, by hand.
    let moved = get(
        &app,
        "/recipe/demo%2Fsite.toml/compare?from=1&to=2&event=harvest-supper",
    )
    .await;
    assert!(moved.page.contains("+$9.00"), "{}", moved.page);
}

#[tokio::test]
async fn pasted_lines_are_settled_or_asked_and_never_guessed() {
    let app = app();
    let lines = "3 lb salmon\n2 cups kosher salt\n½ cup honey\n1 bunch dill\n1-2 tbsp white pepper\n500 g cucumber\na pinch of clove";
    let form = [
        ("do", "read"),
        ("name", "Cured side"),
        ("measures", "us"),
        ("lines", lines),
        ("method", "Salt it.\nWait."),
    ];
    let page = post(&app, "/recipe/paste", &form).await.page;
    for words in [
        "3 lb = ",
        "no ingredient is called &quot;kosher salt&quot;",
        "choose one weight",
        "1 bunch = ",
        "a pinch",
        "salt, flake",
        "open questions",
        "open = [",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
    // A cup of honey is 339 g (USDA SR28, 19296, as the shipped table cites it): half of it.
    assert!(page.contains("169.5 g"), "{page}");
    assert!(!page.contains("curing salt"), "nobody said curing");
    // The answers go into the lines.
    let answers = [
        ("do", "answer"),
        ("name", "Cured side"),
        ("measures", "us"),
        ("lines", lines),
        ("line-1", "2 cups kosher salt"),
        ("item-1", "salt, flake"),
        ("line-4", "1-2 tbsp white pepper"),
        ("amount-4", "10 g"),
    ];
    let page = post(&app, "/recipe/paste", &answers).await.page;
    assert!(
        page.contains("2 cups salt, flake") && page.contains("10 g white pepper"),
        "{page}"
    );
    assert!(!page.contains("no ingredient is called &quot;kosher salt&quot;"));
    // The draft goes to the editor, where it is refused until its questions are settled.
    let draft = "open = [ \"which salt?\" ]\nrecipe = \"cured-side\"\nname = \"Cured side\"\n";
    let form = [("do", "save"), ("who", "Maren"), ("text", draft)];
    let refused = post(&app, "/recipe/recipes%2Fcured-side.toml/edit", &form).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.page.contains("which salt?"), "{}", refused.page);
}

#[tokio::test]
async fn a_new_page_is_saved_and_worked_from() {
    let app = app();
    let text = "recipe = \"salt-fish\"\nname = \"Salt fish\"\n[[step]]\nid = \"receive\"\ndo = \"receive\"\ntakes = { item = \"haddock\" }\nwait = \"at once\"\n";
    let form = [("do", "save"), ("who", "Maren"), ("text", text)];
    let saved = post(&app, "/recipe/recipes%2Fsalt-fish.toml/edit", &form).await;
    assert!(
        saved.to.contains("/recipe/salt-fish?saved=1"),
        "{} {}",
        saved.to,
        saved.page
    );
    assert!(get(&app, "/recipe").await.page.contains("Salt fish"));
    // A second one of that name did not see the first: they meet.
    let other = text.replace("Salt fish", "Other fish");
    let form = [("do", "save"), ("who", "Ode"), ("text", other.as_str())];
    let met = post(&app, "/recipe/recipes%2Fsalt-fish.toml/edit", &form).await;
    assert!(met.to.contains("/conflict/"), "{} {}", met.to, met.page);
}

#[tokio::test]
async fn the_book_comes_as_a_zip() {
    let app = app();
    let request = Request::get("/recipe/book.zip")
        .body(Body::empty())
        .unwrap();
    let response = app.clone().oneshot(request).await.unwrap();
    assert_eq!(response.headers()["content-type"], "application/zip");
    let bytes = to_bytes(response.into_body(), 8 << 20).await.unwrap();
    assert!(bytes.starts_with(b"PK\x03\x04") && bytes.len() > 5_000);
}

#[tokio::test]
async fn hostile_text_is_refused_in_clear_words() {
    let app = app();
    let deep = format!(
        "recipe = \"x\"\na = {}{}",
        "[".repeat(50_000),
        "]".repeat(50_000)
    );
    let tables = format!("[{}]", vec!["a"; 20_000].join("."));
    let keys: String = (0..80_000).map(|i| format!("k{i}=1\n")).collect();
    let keys = format!("recipe = \"x\"\n{keys}");
    let dotted = format!("{} = 1", vec!["a"; 30_000].join("."));
    let large = "x".repeat(1_500_000);
    for (name, text, words) in [
        ("NUL", "recipe = \"a\0b\"\n".to_owned(), "line 1"),
        (
            "script",
            "recipe = \"<script>alert(1)</script>\"\n".to_owned(),
            "line 1",
        ),
        ("deep", deep, "line"),
        ("deep tables", tables, "line"),
        ("dotted", dotted, "line"),
        ("many keys", keys, "202 mistakes"),
        ("1.5 MB", large, "more than 1000000 bytes"),
        ("not read", "recipe = \"a\u{fffd}\"".to_owned(), "U+FFFD"),
        (
            "closing",
            "</textarea><script>alert(1)</script>".to_owned(),
            "line 1",
        ),
    ] {
        let began = Instant::now();
        let answer = save(&app, "Maren", "1", &text).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        let told = answer.page.replace([',', '\u{202f}'], "");
        assert!(
            told.contains(words),
            "{name}: {}",
            &answer.page[..answer.page.len().min(3000)]
        );
        assert!(!answer.page.contains("<script>"), "{name}");
        assert!(
            began.elapsed().as_secs_f64() < 10.0,
            "{name}: {:?}",
            began.elapsed()
        );
    }
    let body = format!(
        "do=save&who=M&parent=1&text={}",
        "x".repeat(10 * 1024 * 1024)
    );
    let huge = ask(&app, Request::post(EDIT).body(Body::from(body)).unwrap()).await;
    assert_eq!(huge.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        huge.page.contains("1000000 bytes") || huge.page.contains("at most"),
        "{}",
        huge.page
    );
    let bytes = ask(
        &app,
        Request::post(EDIT)
            .body(Body::from(&b"text=\xff\xfe"[..]))
            .unwrap(),
    )
    .await;
    assert_eq!(bytes.status, StatusCode::UNPROCESSABLE_ENTITY);
    for (parent, status) in [
        ("99", StatusCode::UNPROCESSABLE_ENTITY),
        ("-1", StatusCode::UNPROCESSABLE_ENTITY),
        ("x", StatusCode::UNPROCESSABLE_ENTITY),
    ] {
        assert_eq!(
            save(&app, "Maren", parent, &salted(&demo(PAGE), "2.6"))
                .await
                .status,
            status,
            "{parent}"
        );
    }
    for page in ["../../etc/passwd.toml", "/etc/x.toml", "a\0.toml", "x.txt"] {
        let form = [
            ("do", "save"),
            ("who", "M"),
            ("page", page),
            ("text", "book = \"x\""),
        ];
        let answer = post(&app, EDIT, &form).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{page}");
    }
    let other = Request::post(EDIT)
        .header("sec-fetch-site", "cross-site")
        .body(Body::from("do=save&who=M&parent=1&text="))
        .unwrap();
    assert_eq!(ask(&app, other).await.status, StatusCode::FORBIDDEN);
    for address in [
        "/recipe/none",
        "/recipe/none/edit",
        "/recipe/hot-smoked-char/compare?from=7",
        "/recipe/hot-smoked-char/conflict/9",
        "/recipe/..%2fx.toml/edit",
        "/recipe/hot-smoked-char/edit?from=x",
    ] {
        let answer = get(&app, address).await;
        assert!(
            answer.status.is_client_error(),
            "{address}: {}",
            answer.status
        );
    }
    assert!(
        get(&app, "/recipe/hot-smoked-char")
            .await
            .page
            .contains("Revision 1"),
        "nothing was saved"
    );
}

#[tokio::test]
async fn a_book_that_only_stands_is_read_and_not_edited() {
    let book = book::read(&book::demo::files(), book::Limits::default()).unwrap();
    let store = Store::in_memory().unwrap();
    let board = Board::new(book, Box::new(NoBench), Box::new(Noon), store, false);
    let app = router(Arc::new(board));
    assert_eq!(get(&app, "/recipe").await.status, StatusCode::OK);
    assert_eq!(
        get(&app, "/recipe/hot-smoked-char").await.status,
        StatusCode::OK
    );
    let edit = get(&app, EDIT).await;
    assert_eq!(edit.status, StatusCode::NOT_FOUND);
    assert!(edit.page.contains("no pages on record"));
}
