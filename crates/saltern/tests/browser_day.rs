//! A day worked on the board in a real browser: a weight that moves the plan, a smoke that goes wrong, a newcomer with
//! twelve more guests; and every new page fit for eyes, ears and thumbs.
//!
//! Needs what `browser.rs` needs.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "browser/driven.rs"]
#[allow(dead_code)]
mod driven;

use driven::{Browser, SIZES, program};
use fantoccini::Locator;

/// A board whose clock was set to a moment of the demo supper.
async fn day(moment: &str, width: u32, height: u32) -> Browser {
    let (running, base) = program(&["--listen", "127.0.0.1:0", "--practise-at", moment]);
    Browser::at(base, Some(running), width, height).await
}

/// Holds the page to the accessibility rules, and to the width of its screen.
async fn fits(b: &Browser, page: &str) {
    let found = b.axe().await;
    assert!(found.is_empty(), "{page}: {}", found.join("\n"));
    let over = b
        .number("return document.scrollingElement.scrollWidth - window.innerWidth")
        .await;
    assert!(over <= 0.0, "{page}: {over} px wider than the screen");
}

const SEND: Locator = Locator::Css("main form button[type=submit]");

/// Half past ten on the day the fish comes: filleted, about to be cured.
const CURING: &str = "2027-10-05T09:36:00-04:00";
/// Ten past four on the smoking day.
const SMOKED: &str = "2027-10-06T16:10:00-04:00";

/// Five fish gave 5,220 g and not 5,580: 2.50 % of it is 130.5 g of salt.
#[tokio::test]
async fn the_fish_is_weighed_in_two_taps_and_the_cure_is_read_anew() {
    let b = day(CURING, 820, 1180).await;
    b.go("/event/harvest-supper/weigh").await;
    assert!(b.text(Locator::Css("main")).await.contains("139.5 g"));
    b.go("/event/harvest-supper/today?at=2027-10-05T09:30")
        .await;
    b.click(Locator::Css("a[href*='kind=weighed'][href*='fillet']"))
        .await;
    b.fill("input[name=reading]", "5220").await;
    b.fill("input[name=who]", "Maren").await;
    b.click(SEND).await;
    let told = b.text(Locator::Css("main")).await;
    assert!(told.contains("Re-planned from 1 entry"), "{told}");
    b.click(Locator::LinkText("Weigh")).await;
    let cure = b.text(Locator::Css("main")).await;
    assert!(
        cure.contains("130.5 g") && cure.contains("62.0 portions"),
        "{cure}"
    );
    b.click(Locator::LinkText("Plan")).await;
    let choices = b.text(Locator::Css("main")).await;
    assert!(choices.contains("59.0 g a portion on all 63") && choices.contains("one more fish"));
    b.click(Locator::LinkText("what moved")).await;
    assert!(b.text(Locator::Css("main")).await.contains("130.5"));
    // The next entry already knows who it is.
    b.go("/event/harvest-supper/record?quick=1&kind=started&about=hot-smoked-char.cure")
        .await;
    b.click(SEND).await;
    b.click(Locator::LinkText("Record")).await;
    let record = b.text(Locator::Css("main")).await;
    assert!(
        record.contains("started") && record.contains("2 entries in all"),
        "{record}"
    );
    b.close().await;
}

/// 0.197 oz is the 5.58 g of pepper the cure asks for; keyed as grams it is asked about.
#[tokio::test]
async fn ounces_are_asked_about_with_both_readings_as_buttons() {
    let b = day(CURING, 390, 844).await;
    b.go("/event/harvest-supper/weigh").await;
    b.click(Locator::Css("a[href*='part=white-pepper']")).await;
    b.fill("input[name=reading]", "0.197").await;
    b.fill("input[name=who]", "Jo").await;
    b.click(SEND).await;
    let asked = b.text(Locator::Css("main")).await;
    assert!(
        asked.contains("0.197 g") && asked.contains("0.197 oz ="),
        "{asked}"
    );
    fits(&b, "which unit").await;
    b.click(Locator::Css(".choose form:last-child button"))
        .await;
    b.go("/event/harvest-supper/record").await;
    let record = b.text(Locator::Css("main")).await;
    assert!(record.contains("asked: 0.197 g or 0.197 oz"), "{record}");
    b.close().await;
}

#[tokio::test]
async fn a_smoke_with_a_dip_gets_a_deviation_with_choices_and_is_held() {
    let b = day(SMOKED, 820, 1180).await;
    for (minute, core) in [
        ("15:10", "63.4"),
        ("15:15", "63.6"),
        ("15:20", "62.6"),
        ("15:25", "63.5"),
    ] {
        b.go("/event/harvest-supper/record?quick=1&kind=temperature&about=hot-smoked-char.smoke&part=probe+1&unit=%C2%B0C")
            .await;
        b.fill("input[name=reading]", core).await;
        b.fill("input[name=when]", &format!("2027-10-06 {minute}"))
            .await;
        b.fill("input[name=who]", "Maren").await;
        b.click(SEND).await;
    }
    let today = b.text(Locator::Css("main")).await;
    assert!(
        today.contains("Open deviations") && today.contains("HELD"),
        "{today}"
    );
    b.click(Locator::Css(".trouble a.act")).await;
    let page = b.text(Locator::Css("main")).await;
    assert!(
        page.contains("30 min") && page.contains("Discard it"),
        "{page}"
    );
    fits(&b, "deviation").await;
    b.client
        .find(Locator::Css("input[value=hold-again]"))
        .await
        .unwrap()
        .click()
        .await
        .unwrap();
    b.click(SEND).await;
    let today = b.text(Locator::Css("main")).await;
    assert!(
        today.contains("held until readings show the rule met"),
        "{today}"
    );
    b.click(Locator::LinkText("Plan")).await;
    assert!(b.text(Locator::Css("main")).await.contains("HELD"));
    b.close().await;
}

/// One more fish of 1.8 kg at 23.50 the kg is +42.30.
#[tokio::test]
async fn a_newcomer_changes_sixty_covers_to_seventy_two() {
    let b = day(CURING, 820, 1180).await;
    b.go("/").await;
    b.click(Locator::LinkText("Harvest lantern supper")).await;
    b.click(Locator::LinkText("Plan")).await;
    b.fill("input[name=change-covers]", "72").await;
    b.click(SEND).await;
    let changed = b.text(Locator::Css("main")).await;
    assert!(changed.contains("+$42.30"), "{changed}");
    b.close().await;
}

#[tokio::test]
async fn the_pages_of_a_day_hold_to_the_accessibility_rules_and_fit_their_screen() {
    for (name, width, height) in SIZES {
        let b = day(SMOKED, *width, *height).await;
        b.go("/event/harvest-supper/record?quick=1&kind=deviation&about=hot-smoked-char.smoke&part=smoker-stopped&words=the+smoker+stopped")
            .await;
        fits(&b, &format!("{name} quick entry")).await;
        b.fill("input[name=who]", "Maren").await;
        b.click(SEND).await;
        for page in [
            "today",
            "today?as=planned",
            "lot/hot-smoked-char",
            "deviation?of=entry-1",
            "weigh",
            "cold",
            "compare",
            "record",
            "record?corrects=1",
            "record?quick=1&kind=weighed&about=hot-smoked-char.fillet&unit=g",
        ] {
            b.go(&format!("/event/harvest-supper/{page}")).await;
            fits(&b, &format!("{name} {page}")).await;
        }
        b.close().await;
    }
}
