//! Who may open what: sign-in, roles, sessions, tokens, tries. What each must see and must not see is `docs/access.md`;
//! there is no text outside to check it against, so each promise of that page is tried from the other side.

#![allow(clippy::unwrap_used, clippy::panic)]

mod signed;

use std::collections::{BTreeSet, VecDeque};

use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use signed::{Browser, HOST, Kitchen, PASSPHRASE, RECORD, links, reading, written};

/// Every page of the demo with money on it, and those of people.
const NOT_FOR_LEARNERS: &[&str] = &[
    "/event/harvest-supper",
    "/event/harvest-supper/order",
    "/event/harvest-supper/cost",
    "/event/harvest-supper/compare",
    "/event/harvest-supper/compare?change-covers=72",
    "/event/harvest-supper/today?set=covers%3D72",
    "/event/harvest-supper/weigh?change-covers=72",
    "/event/harvest-supper/why/order.char.cost_bought?set=covers%3D72",
    "/bench/worth",
    "/bench/worth?for=3",
    "/people",
];

#[tokio::test]
async fn nobody_gets_no_page_but_the_sign_in() {
    let kitchen = Kitchen::open();
    let stranger = kitchen.browser("192.168.1.77");
    for page in NOT_FOR_LEARNERS
        .iter()
        .chain(&["/", "/sources", "/bench", RECORD, "/nothing"])
    {
        let answer = stranger.get(page).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{page}");
        assert_eq!(answer.headers[header::LOCATION], "/sign-in", "{page}");
        assert!(answer.page.is_empty());
    }
    for to in [RECORD, "/people", "/people/out", "/people/left", "/"] {
        let answer = stranger.post(to, &reading("t:1")).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{to}");
        assert!(answer.page.contains("sign in"), "{}", answer.page);
    }
    let sign_in = stranger.get("/sign-in").await;
    assert_eq!(sign_in.status, StatusCode::OK);
    assert!(!sign_in.page.contains("Harvest") && !sign_in.page.contains("Maren"));
    assert!(kitchen.log().is_empty());
}

/// All pages somebody can reach by links, with what stands on them; of some thousand derivations every so-manieth.
async fn walked(who: &Browser<'_>, derivations: usize) -> Vec<(String, String)> {
    let mut whys = 0;
    let mut todo: VecDeque<String> = VecDeque::from(["/".to_owned()]);
    let mut seen: BTreeSet<String> = todo.iter().cloned().collect();
    let mut pages = Vec::new();
    while let Some(address) = todo.pop_front() {
        let answer = who.get(&address).await;
        assert_eq!(
            answer.status,
            StatusCode::OK,
            "{address}: a link that leads nowhere"
        );
        assert_eq!(
            answer.headers[header::CACHE_CONTROL],
            if address.starts_with("/look/") {
                "max-age=3600"
            } else {
                "no-store"
            }
        );
        for link in links(&answer.page) {
            if link.contains("/why/") && !seen.contains(&link) {
                whys += 1;
                if whys % derivations != 0 {
                    continue;
                }
            }
            if seen.insert(link.clone()) {
                todo.push_back(link);
            }
        }
        pages.push((address, answer.page));
    }
    pages
}

/// Every figure in money of an event, as the instructor's list has it: id and value.
async fn money_of(maren: &Browser<'_>, event: &str) -> Vec<(String, String)> {
    let list = maren.get(&format!("/event/{event}/why")).await.page;
    list.split("<tr>")
        .filter_map(|row| {
            let id = row
                .split("title=\"how it was reached\">")
                .nth(1)?
                .split('<')
                .next()?;
            let shown = row.split("class=\"n\">").nth(1)?.split('<').next()?;
            shown
                .starts_with('$')
                .then(|| (id.to_owned(), shown.to_owned()))
        })
        .collect()
}

#[tokio::test]
async fn a_learner_and_a_viewer_find_no_price_on_any_page() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    let mut money = Vec::new();
    for event in ["harvest-supper", "orchard-lunch", "duck-class"] {
        // The instructor sees them: what is looked for is there to be found.
        let of = money_of(&maren, event).await;
        assert!(of.len() > 20, "{event}: {} figures in money", of.len());
        money.extend(of.into_iter().map(|(id, shown)| (event, id, shown)));
    }
    // Every derivation for the learner; the viewer's are the same.
    for (role, address, derivations) in
        [("learner", "192.168.1.3", 1), ("viewer", "192.168.1.4", 10)]
    {
        let who = kitchen.somebody("Ode", role, address).await;
        let pages = walked(&who, derivations).await;
        assert!(
            pages.len() * derivations > 1500,
            "only {} pages",
            pages.len()
        );
        for (address, page) in &pages {
            assert!(!page.contains('$'), "{role} {address}: a currency sign");
            for (_, id, shown) in &money {
                assert!(!page.contains(&format!(">{id}<")), "{role} {address}: {id}");
                assert!(
                    !page.contains(shown.as_str()),
                    "{role} {address}: {shown} of {id}"
                );
            }
            for word in ["per_cover", "food share", "labour cost", "cost_bought"] {
                assert!(!page.contains(word), "{role} {address}: {word}");
            }
        }
        // By address, past every link.
        for (event, id, shown) in &money {
            let answer = who.get(&format!("/event/{event}/why/{id}")).await;
            assert_eq!(answer.status, StatusCode::NOT_FOUND, "{event} {id}");
            assert!(!answer.page.contains(shown.as_str()), "{event} {id}");
        }
        for page in NOT_FOR_LEARNERS {
            let answer = who.get(page).await;
            assert_eq!(answer.status, StatusCode::FORBIDDEN, "{role} {page}");
            assert!(
                answer.page.contains("do now") && !answer.page.contains('$'),
                "{page}"
            );
        }
        kitchen.later(60);
        let maren = kitchen.instructor().await;
        let people = maren
            .form("/people", "/people/left", &[("person", "2")])
            .await;
        assert_eq!(people.status, StatusCode::OK, "{}", people.page);
    }
    // And the same pages with the instructor's eyes: the plan kept for one is not the plan of the other.
    let cost = maren.get("/event/harvest-supper/cost").await;
    assert!(cost.page.contains('$'));
}

#[tokio::test]
async fn an_entry_carries_the_name_that_signed_in_and_no_other() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let sent = ode.form(RECORD, RECORD, &reading("t:1")).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.page);
    let mut own = reading("t:2");
    own.push(("who", "Ode"));
    assert_eq!(
        ode.form(RECORD, RECORD, &own).await.status,
        StatusCode::SEE_OTHER
    );
    for other in ["Maren", "ode", "Ode\u{200b}", "Nobody"] {
        let mut form = reading("t:3");
        form.push(("who", other));
        let answer = ode.form(RECORD, RECORD, &form).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{other}");
        assert!(answer.page.contains("from the session of Ode"));
    }
    // Twice in one form: the second is no way around the first.
    let mut twice = reading("t:4");
    twice.extend([("who", "Ode"), ("who", "Maren")]);
    assert_eq!(
        ode.form(RECORD, RECORD, &twice).await.status,
        StatusCode::FORBIDDEN
    );
    let log = kitchen.log();
    assert_eq!(log.len(), 2);
    for entry in log {
        assert_eq!(entry.says.who.as_str(), "Ode");
        assert!(entry.says.device.as_str().starts_with("device-"));
    }
    let page = ode.get(RECORD).await.page;
    assert!(page.contains("Written down as") && !page.contains("name=\"who\" required"));
    // A form kept on the tablet says whose it is.
    assert!(page.contains("name=\"who\" value=\"Ode\""));
}

#[tokio::test]
async fn a_viewer_writes_nothing_and_is_told_why() {
    let kitchen = Kitchen::open();
    let guest = kitchen.somebody("Pia", "viewer", "192.168.1.3").await;
    let answer = guest.form(RECORD, RECORD, &reading("t:1")).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    assert!(
        answer.page.contains("signed in as viewer"),
        "{}",
        answer.page
    );
    assert!(kitchen.log().is_empty());
}

#[tokio::test]
async fn a_form_needs_the_token_of_its_own_session() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let pia = kitchen.somebody("Pia", "learner", "192.168.1.4").await;
    let pias = pia.token(RECORD).await;
    assert_ne!(pias, ode.token(RECORD).await);
    let forged = "0".repeat(64);
    for token in [None, Some(""), Some(forged.as_str()), Some(pias.as_str())] {
        let mut form = reading("t:1");
        form.extend(token.map(|t| ("form-token", t)));
        let answer = ode.post(RECORD, &form).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{token:?}");
        assert!(answer.page.contains("load the page again"));
    }
    // With the right token, but from elsewhere.
    let mut form = reading("t:1");
    let own = ode.token(RECORD).await;
    form.push(("form-token", &own));
    for (name, value) in [
        ("sec-fetch-site", "cross-site"),
        ("sec-fetch-site", "same-site"),
        ("origin", "http://board.local:4781"),
        ("origin", "null"),
    ] {
        let request = Request::post(RECORD).header(name, value);
        let answer = ode
            .ask(request.body(Body::from(written(&form))).unwrap())
            .await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN, "{name} {value}");
    }
    // What is no form is not read past the token.
    let request = Request::post(RECORD)
        .header("sec-fetch-site", "same-origin")
        .header(header::CONTENT_TYPE, "text/plain");
    let answer = ode
        .ask(request.body(Body::from(written(&form))).unwrap())
        .await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(kitchen.log().is_empty());
    assert_eq!(ode.post(RECORD, &form).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn the_square_works_once_and_only_by_the_button() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    let (token, number) = kitchen.given(&maren, "Ode", "learner").await;
    let mut tablet = kitchen.browser("192.168.1.3");
    // A camera that looks at the address uses nothing up.
    for _ in 0..9 {
        let page = tablet.get(&format!("/sign-in/{token}")).await;
        assert_eq!(page.status, StatusCode::OK);
        assert!(
            page.page.contains("Sign in as Ode") && page.headers.get(header::SET_COOKIE).is_none()
        );
    }
    let answer = tablet.send("/sign-in", &[("token", &token)]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
    let cookie = answer.headers[header::SET_COOKIE].to_str().unwrap();
    assert!(
        cookie.contains("; HttpOnly")
            && cookie.contains("; SameSite=Strict")
            && cookie.contains("; Path=/"),
        "{cookie}"
    );
    assert!(tablet.get("/").await.page.contains("cold bench"));
    let again = kitchen.browser("192.168.1.9");
    let answer = again.post("/sign-in", &[("token", &token)]).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    let answer = again
        .post("/sign-in", &[("name", "Ode"), ("pin", &number)])
        .await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    // Neither the secret nor the token is in the record.
    let kept = format!(
        "{:?}",
        kitchen
            .store
            .ask(store::SessionsNow {
                at: "2027-10-06T16:10:00Z".parse().unwrap()
            })
            .unwrap()
    );
    assert!(!kept.contains(&token) && !kept.contains(tablet.cookie.as_deref().unwrap()));
}

#[tokio::test]
async fn ten_minutes_later_a_sign_in_is_over() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    let (token, number) = kitchen.given(&maren, "Ode", "learner").await;
    kitchen.later(600);
    let tablet = kitchen.browser("192.168.1.3");
    let answer = tablet.get(&format!("/sign-in/{token}")).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
    assert!(answer.page.contains("ten minutes"));
    let answer = tablet
        .post("/sign-in", &[("name", "Ode"), ("pin", &number)])
        .await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn a_device_that_guesses_waits_and_a_number_guessed_at_is_void() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    let (_, number) = kitchen.given(&maren, "Ode", "learner").await;
    let wrong = if number == "000000" {
        "000001"
    } else {
        "000000"
    };
    let thief = kitchen.browser("192.168.1.66");
    for _ in 0..5 {
        let answer = thief
            .post("/sign-in", &[("name", "Ode"), ("pin", wrong)])
            .await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN);
    }
    let right = [("name", "Ode"), ("pin", number.as_str())];
    let answer = thief.post("/sign-in", &right).await;
    assert_eq!(answer.status, StatusCode::TOO_MANY_REQUESTS);
    assert!(answer.headers.contains_key(header::RETRY_AFTER));
    assert!(answer.page.contains("wait 6"), "{}", answer.page);
    // The five made the number void, on the right tablet too.
    let tablet = kitchen.browser("192.168.1.3");
    assert_eq!(
        tablet.post("/sign-in", &right).await.status,
        StatusCode::FORBIDDEN
    );
    // A new one works there, and the thief's minute is still not over.
    let (_, number) = kitchen.given(&maren, "Ode", "learner").await;
    let right = [("name", "Ode"), ("pin", number.as_str())];
    assert_eq!(
        thief.post("/sign-in", &right).await.status,
        StatusCode::TOO_MANY_REQUESTS
    );
    assert_eq!(
        tablet.post("/sign-in", &right).await.status,
        StatusCode::SEE_OTHER
    );
}

#[tokio::test]
async fn many_devices_that_guess_are_held_up_together() {
    let kitchen = Kitchen::open();
    let mut told = Vec::new();
    for n in 10..50 {
        let bot = kitchen.browser(&format!("192.168.1.{n}"));
        let token = format!("{n:032x}");
        told.push(bot.get(&format!("/sign-in/{token}")).await.status);
    }
    let waiting = told.iter().filter(|s| **s == StatusCode::TOO_MANY_REQUESTS);
    assert_eq!(
        waiting.count(),
        10,
        "thirty of forty were let to guess: {told:?}"
    );
    kitchen.later(60);
    kitchen.instructor().await;
}

#[tokio::test]
async fn names_that_are_there_and_names_that_are_not_get_the_same_answer() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    kitchen.given(&maren, "Ode", "learner").await;
    let mut answers = BTreeSet::new();
    for (n, form) in [
        [("name", "Maren"), ("passphrase", "not the passphrase")],
        [("name", "Ode"), ("passphrase", PASSPHRASE)],
        [("name", "Nobody"), ("passphrase", PASSPHRASE)],
        [("name", "Ode"), ("pin", "12345")],
        [("name", "Nobody"), ("pin", "123456")],
        [("name", ""), ("pin", "123456")],
    ]
    .into_iter()
    .enumerate()
    {
        let stranger = kitchen.browser(&format!("192.168.2.{n}"));
        let answer = stranger.post("/sign-in", &form).await;
        assert_eq!(answer.status, StatusCode::FORBIDDEN);
        answers.insert(answer.page);
    }
    assert_eq!(answers.len(), 1);
}

#[tokio::test]
async fn a_session_ends_after_twelve_hours_without_use_and_not_before() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    for _ in 0..30 {
        kitchen.later(3600);
        assert_eq!(ode.get("/").await.status, StatusCode::OK);
    }
    kitchen.later(12 * 3600 - 1);
    assert_eq!(ode.get("/").await.status, StatusCode::OK);
    kitchen.later(12 * 3600);
    assert_eq!(ode.get("/").await.status, StatusCode::SEE_OTHER);
    let answer = ode.post(RECORD, &reading("t:1")).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
}

#[tokio::test]
async fn sign_out_the_instructor_and_leaving_each_end_a_session() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    let mut ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let before = ode.clone();
    let token = ode.token("/").await;
    let answer = ode.send("/sign-out", &[("form-token", &token)]).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER);
    assert!(ode.cookie.is_none());
    assert_eq!(
        before.get("/").await.status,
        StatusCode::SEE_OTHER,
        "the old cookie is dead"
    );

    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let list = maren.get("/people").await.page;
    let device = list
        .split("value=\"device-")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap();
    let device = format!("device-{device}");
    let out = [("person", "2"), ("device", device.as_str())];
    let answer = maren.form("/people", "/people/out", &out).await;
    assert!(
        answer.page.contains("Ode is signed out there"),
        "{}",
        answer.page
    );
    assert_eq!(ode.get("/").await.status, StatusCode::SEE_OTHER);

    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let answer = maren
        .form("/people", "/people/left", &[("person", "2")])
        .await;
    assert!(answer.page.contains("has left"), "{}", answer.page);
    assert_eq!(ode.get("/").await.status, StatusCode::SEE_OTHER);
    // The instructor is not signed out by a tablet.
    let answer = maren
        .form("/people", "/people/left", &[("person", "1")])
        .await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(maren.get("/people").await.status, StatusCode::OK);
}

#[tokio::test]
async fn signing_in_again_makes_a_new_cookie_and_ends_the_old_one() {
    let kitchen = Kitchen::open();
    let mut maren = kitchen.instructor().await;
    let before = maren.clone();
    let token = maren.token("/sign-in").await;
    let form = [
        ("name", "maren "),
        ("passphrase", PASSPHRASE),
        ("form-token", &token),
    ];
    let answer = maren.send("/sign-in", &form).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
    assert_ne!(before.cookie, maren.cookie);
    assert_eq!(before.get("/").await.status, StatusCode::SEE_OTHER);
    assert_eq!(maren.get("/").await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_cookie_that_was_not_given_out_opens_nothing() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let good = ode.cookie.clone().unwrap();
    let twice = format!("saltern-session={good}; saltern-session={good}");
    let upper = format!(
        "saltern-session={}",
        good.to_uppercase()
            .replace(|c: char| c.is_ascii_digit(), "A")
    );
    for cookie in [
        "saltern-session=",
        "saltern-session=' OR 1=1 --",
        &format!("saltern-session={}", "0".repeat(64)),
        &format!("saltern-session={good}0"),
        &format!("saltern-session={}", &good[..63]),
        &format!("saltern-session={}", "f".repeat(5000)),
        &format!("Saltern-Session={good}"),
        &twice,
        &upper,
        "=;;;=,",
    ] {
        let request = Request::get("/").header(header::COOKIE, cookie);
        let answer = ode.ask(request.body(Body::empty()).unwrap()).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{cookie}");
    }
    assert_eq!(ode.get("/").await.status, StatusCode::OK);
}

#[tokio::test]
async fn only_its_own_names_are_answered() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    for (host, status) in [
        (HOST, StatusCode::OK),
        ("192.168.1.5:4780", StatusCode::OK),
        ("127.0.0.1:4780", StatusCode::OK),
        ("192.168.1.6", StatusCode::FORBIDDEN),
        ("rebound.example:4780", StatusCode::FORBIDDEN),
        ("board.local.rebound.example", StatusCode::FORBIDDEN),
        ("", StatusCode::FORBIDDEN),
    ] {
        for page in ["/", "/sign-in", "/look/board.css"] {
            let request = Request::get(page).header(header::HOST, host);
            let answer = ode.ask(request.body(Body::empty()).unwrap()).await;
            assert_eq!(answer.status, status, "{host} {page}");
        }
    }
}

#[tokio::test]
async fn the_sixty_first_form_of_a_minute_waits() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "192.168.1.3").await;
    let pia = kitchen.somebody("Pia", "learner", "192.168.1.4").await;
    let token = ode.token(RECORD).await;
    let ids: Vec<String> = (0..61).map(|n| format!("t:{n}")).collect();
    let mut told = Vec::new();
    for id in &ids {
        let mut form = reading(id);
        form.push(("form-token", &token));
        told.push(ode.post(RECORD, &form).await);
    }
    assert!(told[..60].iter().all(|a| a.status == StatusCode::SEE_OTHER));
    assert_eq!(told[60].status, StatusCode::TOO_MANY_REQUESTS);
    assert!(told[60].page.contains("this one was not taken"));
    assert_eq!(kitchen.log().len(), 60);
    // Others write on, reading goes on, and a minute later so does Ode.
    assert_eq!(
        pia.form(RECORD, RECORD, &reading("p:1")).await.status,
        StatusCode::SEE_OTHER
    );
    assert_eq!(ode.get(RECORD).await.status, StatusCode::OK);
    kitchen.later(60);
    let mut form = reading("t:60");
    form.push(("form-token", &token));
    assert_eq!(ode.post(RECORD, &form).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn a_role_is_not_changed_by_giving_a_sign_in() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    kitchen.given(&maren, "Ode", "learner").await;
    for (name, role, words) in [
        ("Ode", "viewer", "is a learner already"),
        ("Maren", "learner", "is an instructor"),
        ("maren", "viewer", "is an instructor"),
        ("Pia", "instructor", "learner or viewer"),
        ("", "learner", "the name"),
        ("\u{200b}", "learner", "the name"),
    ] {
        let form = [("name", name), ("station", "smoker"), ("role", role)];
        let answer = maren.form("/people", "/people", &form).await;
        assert_eq!(
            answer.status,
            StatusCode::UNPROCESSABLE_ENTITY,
            "{name} {role}"
        );
        assert!(
            answer.page.contains(words),
            "{name} {role}: {}",
            answer.page
        );
    }
    assert_eq!(kitchen.store.ask(store::People).unwrap().len(), 2);
}

/// The board on this machine alone: a name is asked for, and forms carry the token of this start.
#[tokio::test]
async fn a_board_for_this_machine_asks_for_a_name_and_a_token() {
    let kitchen = Kitchen::alone();
    let here = |mut form: Vec<(&'static str, &'static str)>, who: &'static str| {
        form.push(("who", who));
        form
    };
    let desk = kitchen.browser("127.0.0.1");
    let get = |page: &'static str| {
        let desk = &desk;
        async move {
            let request = Request::get(page).header(header::HOST, "localhost:4780");
            desk.ask(request.body(Body::empty()).unwrap()).await
        }
    };
    let cost = get("/event/harvest-supper/cost").await;
    assert_eq!(cost.status, StatusCode::OK);
    assert!(cost.page.contains('$') && !cost.page.contains("Sign out"));
    for page in ["/sign-in", "/people"] {
        let answer = get(page).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{page}");
        assert!(answer.page.contains("saltern people passphrase"));
    }
    let page = get(RECORD).await.page;
    assert!(page.contains("name=\"who\""));
    let token = page.split("name=\"form-token\" value=\"").nth(1).unwrap();
    let token = token.split('"').next().unwrap();
    let post = |form: Vec<(&'static str, &'static str)>, token: Option<String>| {
        let desk = &desk;
        async move {
            let mut body = written(&form);
            if let Some(token) = token {
                body.push_str(&format!("&form-token={token}"));
            }
            let request = Request::post(RECORD).header(header::HOST, "localhost:4780");
            desk.ask(request.body(Body::from(body)).unwrap())
                .await
                .status
        }
    };
    let token = Some(token.to_owned());
    let named = || here(reading("t:1"), "Maren");
    assert_eq!(post(named(), None).await, StatusCode::FORBIDDEN);
    assert_eq!(
        post(named(), Some("0".repeat(64))).await,
        StatusCode::FORBIDDEN
    );
    let nobody = here(reading("t:1"), "");
    assert_eq!(
        post(nobody, token.clone()).await,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert!(kitchen.log().is_empty());
    assert_eq!(post(named(), token).await, StatusCode::SEE_OTHER);
    assert_eq!(kitchen.log()[0].says.who.as_str(), "Maren");
    // The very address of this machine is no name of a board that is for this machine alone.
    let request = Request::get("/").header(header::HOST, "192.168.1.5");
    let answer = desk.ask(request.body(Body::empty()).unwrap()).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN);
}
