//! The board in a real browser: people find what they came for, and every page is fit for eyes, ears and thumbs.
//!
//! Needs Chromium and its driver (Debian: `chromium chromium-driver`) and axe-core from npm under
//! `target/browser`; `./test.sh` installs them. Without them these tests fail, they do not pass.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "browser/driven.rs"]
mod driven;

use driven::{Browser, SIZES};
use fantoccini::Locator;

/// Pages looked at in every size.
const PAGES: &[&str] = &[
    "/",
    "/event/harvest-supper/today?at=2027-10-06T12:10",
    "/event/harvest-supper",
    "/event/harvest-supper/weigh",
    "/event/harvest-supper/lot/hot-smoked-char",
    "/event/harvest-supper/cold",
    "/event/harvest-supper/guests?without=milk",
    "/event/harvest-supper/order",
    "/event/harvest-supper/cost",
    "/event/harvest-supper/record",
    "/event/harvest-supper/verdicts",
    "/event/harvest-supper/compare?change-covers=72",
    "/event/harvest-supper/why/cost.per_cover_bought",
    "/event/duck-class/today",
    "/bench",
    "/bench/cure?thickness=25+mm&faces=1&salt=2.5+%25&at=3+%C2%B0C&goal=95+%25",
    "/bench/salt?for=nonsense",
    "/sources",
    "/nothing-here",
];

#[tokio::test]
async fn every_page_holds_to_the_accessibility_rules_and_fits_its_screen() {
    for (name, width, height) in SIZES {
        let browser = Browser::open(*width, *height).await;
        for page in PAGES {
            browser.go(page).await;
            let found = browser.axe().await;
            assert!(found.is_empty(), "{name} {page}: {}", found.join("\n"));
            let over = browser
                .number("return document.scrollingElement.scrollWidth - window.innerWidth")
                .await;
            assert!(
                over <= 0.0,
                "{name} {page}: {over} px wider than the screen"
            );
        }
        browser.close().await;
    }
}

#[tokio::test]
async fn a_newcomer_finds_when_the_fish_comes_out_and_why() {
    let b = Browser::open(820, 1180).await;
    b.go("/").await;
    b.click(Locator::LinkText("Harvest lantern supper")).await;
    b.click(Locator::LinkText("Plan")).await;
    b.click(Locator::LinkText("Hot-smoked char")).await;
    let clock = b.text(Locator::Css("main")).await;
    // The row of the rinse: its name, the way to write it down, its hours.
    let rows: Vec<&str> = clock.lines().collect();
    let at = rows.iter().position(|l| *l == "rinse").unwrap();
    let rinse = rows[at..at + 3].join(" ");
    assert!(rinse.contains("Wed 10-06 08:30"), "{rinse}");
    assert!(rinse.contains("Wed 04:10 to Wed 10:10"), "{rinse}");
    // Why so much salt: one tap on the figure.
    b.click(Locator::LinkText("139.5 g")).await;
    let why = b.text(Locator::Css(".tree")).await;
    assert!(why.contains("2.50 % × 5,580.0 g"), "{why}");
    b.close().await;
}

#[tokio::test]
async fn seventy_two_covers_ask_for_one_more_fish() {
    let b = Browser::open(820, 1180).await;
    b.go("/event/harvest-supper").await;
    b.fill("input[name=change-covers]", "72").await;
    b.click(Locator::Css("button[type=submit]")).await;
    let changed = b.text(Locator::Css("main")).await;
    assert!(
        changed.contains("+$42.30"),
        "one more fish of 1.8 kg at 23.50"
    );
    b.click(Locator::LinkText("Order")).await;
    let order = b.text(Locator::Css("main")).await;
    assert!(
        order.contains("covers=72") && order.contains("6 fish"),
        "{order}"
    );
    b.click(Locator::LinkText("as the book has it")).await;
    assert!(!b.text(Locator::Css("main")).await.contains("covers=72"));
    b.close().await;
}

#[tokio::test]
async fn a_bench_question_is_answered_with_the_keyboard_alone() {
    let b = Browser::open(390, 844).await;
    b.go("/bench/salt").await;
    b.fill("input[name=for]", "5580 g").await;
    b.fill("input[name=at]", "2.5 %\u{e007}").await;
    let answer = b.text(Locator::Css(".now .big")).await;
    assert!(answer.contains("139.5 g"), "{answer}");
    b.close().await;
}

#[tokio::test]
async fn a_reading_without_its_unit_is_asked_for_and_then_written_down() {
    let b = Browser::open(390, 844).await;
    b.go("/event/harvest-supper/record?kind=temperature&about=hot-smoked-char.smoke")
        .await;
    b.fill("input[name=who]", "Maren").await;
    b.fill("input[name=part]", "probe 2").await;
    b.fill("input[name=reading]", "63.4").await;
    b.click(Locator::Css("button[type=submit]")).await;
    let refused = b.text(Locator::Css(".trouble")).await;
    assert!(refused.contains("without its unit"), "{refused}");
    b.go("/event/harvest-supper/record?kind=temperature&about=hot-smoked-char.smoke")
        .await;
    b.fill("input[name=who]", "Maren").await;
    b.fill("input[name=part]", "probe 2").await;
    b.fill("input[name=reading]", "63.4 °C").await;
    b.click(Locator::Css("button[type=submit]")).await;
    let record = b.text(Locator::Css("main")).await;
    assert!(
        record.contains("63.4 °C") && record.contains("probe 2"),
        "{record}"
    );
    assert!(record.contains("1 entry in all"), "{record}");
    b.close().await;
}

#[tokio::test]
async fn the_day_prints() {
    let b = Browser::open(1280, 900).await;
    b.go("/event/harvest-supper/today?at=2027-10-06T12:10")
        .await;
    let pdf = b.printed().await;
    assert!(
        pdf.starts_with(b"%PDF-") && pdf.len() > 10_000,
        "{} bytes",
        pdf.len()
    );
    b.close().await;
}
