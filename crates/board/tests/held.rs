//! What holds a lot and who may let it go on, with everybody signed in.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

mod signed;

use axum::http::StatusCode;
use signed::{Kitchen, RECORD, reading};

const TODAY: &str = "/event/harvest-supper/today";

#[tokio::test]
async fn a_learner_decides_nothing_and_nobody_decides_on_the_record_form() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "10.0.0.7").await;
    let maren = kitchen.instructor().await;
    let mark = "deviation hot-smoked-char.smoke.fish-core";
    let decision = [
        ("id", "t:1"),
        ("kind", "decision"),
        ("about", "hot-smoked-char.smoke"),
        ("words", "released: fine"),
    ];
    let answer = ode.form(RECORD, RECORD, &decision).await;
    assert_eq!(answer.status, StatusCode::FORBIDDEN, "{}", answer.page);
    let mut marked = decision.to_vec();
    marked.push(("part", mark));
    for kind in ["decision", "deviation"] {
        marked[1] = ("kind", kind);
        let answer = maren.form(RECORD, RECORD, &marked).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{kind}");
        assert!(
            answer.page.contains("open the deviation"),
            "{}",
            answer.page
        );
    }
    assert!(kitchen.log().is_empty());
}

#[tokio::test]
async fn readings_that_contradict_each_other_hold_the_lot_and_its_papers_say_so() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    assert!(!maren.get(TODAY).await.page.contains("HELD"));
    for (id, value) in [("t:1", "61.0 °C"), ("t:2", "64.0 °C")] {
        let mut form = reading(id);
        form.retain(|(name, _)| *name != "reading");
        form.extend([("reading", value), ("when", "2027-10-06 11:30")]);
        let answer = maren.form(RECORD, RECORD, &form).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
    }
    let lot = maren.get("/event/harvest-supper/lot/hot-smoked-char").await;
    assert!(lot.page.contains("HELD"), "{}", lot.page);
    let label = "/event/harvest-supper/sheets/smoker-log/1.svg?lang=fr";
    let svg = maren.get(label).await;
    assert_eq!(svg.status, StatusCode::OK);
    assert!(svg.page.contains("RETENU"), "the paper says nothing");
    // Another lot's paper stays as it is.
    let other = maren
        .get("/event/harvest-supper/sheets/pickle-log/1.svg")
        .await;
    assert!(!other.page.contains("HELD"));
}

#[tokio::test]
async fn a_probe_in_the_air_starts_no_hold() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    let started = [
        ("id", "t:0"),
        ("kind", "started"),
        ("about", "hot-smoked-char.smoke"),
        ("when", "2027-10-06 09:00"),
    ];
    maren.form(RECORD, RECORD, &started).await;
    for n in 0..8 {
        let (id, when) = (format!("t:air-{n}"), format!("2027-10-06 11:{:02}", 5 * n));
        let form = [
            ("id", id.as_str()),
            ("kind", "temperature"),
            ("about", "hot-smoked-char.smoke"),
            ("part", "smoker"),
            ("reading", "85 °C"),
            ("when", when.as_str()),
        ];
        let answer = maren.form(RECORD, RECORD, &form).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
    }
    let today = maren.get(TODAY).await.page;
    assert!(today.contains("hold not started"), "{today}");
    assert!(!today.contains("hold: 30"), "{today}");
}

#[tokio::test]
async fn the_newest_reading_is_the_one_read_last_not_the_one_written_last() {
    let kitchen = Kitchen::open();
    let maren = kitchen.instructor().await;
    for (id, value, when) in [
        ("t:1", "8 °C", "2027-10-06 08:00"),
        ("t:2", "2 °C", "2027-10-05 12:00"),
    ] {
        let form = [
            ("id", id),
            ("kind", "temperature"),
            ("about", "hot-smoked-char.cure"),
            ("reading", value),
            ("when", when),
        ];
        let answer = maren.form(RECORD, RECORD, &form).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
    }
    let lot = maren.get("/event/harvest-supper/lot/hot-smoked-char").await;
    assert!(lot.page.contains("HELD"), "{}", lot.page);
}

#[tokio::test]
async fn a_learner_gets_no_what_if_and_no_cost_aimed_at_once_something_is_written_down() {
    let kitchen = Kitchen::open();
    let ode = kitchen.somebody("Ode", "learner", "10.0.0.7").await;
    let started = [
        ("id", "t:0"),
        ("kind", "started"),
        ("about", "hot-smoked-char.smoke"),
    ];
    let answer = ode.form(RECORD, RECORD, &started).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.page);
    let weigh = "/event/harvest-supper/weigh";
    assert_eq!(ode.get(weigh).await.status, StatusCode::OK);
    let what_if = ode.get(&format!("{weigh}?set=covers%3D10")).await;
    assert_eq!(what_if.status, StatusCode::FORBIDDEN);
    let aimed = "/event/harvest-supper/why/cost.target_food_cost";
    let maren = kitchen.instructor().await;
    assert!(maren.get(aimed).await.page.contains("33"));
    assert_eq!(ode.get(aimed).await.status, StatusCode::NOT_FOUND);
}
