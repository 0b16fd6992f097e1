//! Signing in, in a real browser: a learner gets in by the six digits, works, and gets no price; the new pages are fit for
//! eyes, ears and thumbs. Needs what `browser.rs` needs.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "browser/driven.rs"]
mod driven;
mod wire;

use driven::{Browser, SIZES};
use fantoccini::Locator;
use wire::{PASSPHRASE, with_maren};

/// A board on every address of the machine, its instructor signed in.
async fn listened(folder: &tempfile::TempDir, width: u32, height: u32) -> Browser {
    let db = folder.path().join("kitchen.db");
    with_maren(&db);
    let args = ["--db", db.to_str().unwrap(), "--listen", "0.0.0.0:0"];
    let b = Browser::serving(&args, width, height).await;
    // Whatever is asked for, the sign-in comes first.
    b.go("/event/harvest-supper/cost").await;
    assert_eq!(b.text(Locator::Css("h1")).await, "Sign in");
    b.fill("form:nth-of-type(2) input[name=name]", "Maren")
        .await;
    b.fill("input[name=passphrase]", PASSPHRASE).await;
    b.click(Locator::Css("form:nth-of-type(2) button")).await;
    assert!(b.text(Locator::Css(".here")).await.contains("Maren"));
    b
}

/// Gives somebody a sign-in, and reads the number off the screen.
async fn given(b: &Browser, name: &str) -> String {
    b.go("/people").await;
    b.fill("input[name=name]", name).await;
    b.fill("input[name=station]", "cold bench").await;
    b.click(Locator::Css("form[action=\"/people\"] button"))
        .await;
    b.text(Locator::Css(".given .big")).await
}

async fn fit(b: &Browser, what: &str) {
    let found = b.axe().await;
    assert!(found.is_empty(), "{what}: {}", found.join("\n"));
    let over = b
        .number("return document.scrollingElement.scrollWidth - window.innerWidth")
        .await;
    assert!(over <= 0.0, "{what}: {over} px wider than the screen");
}

#[tokio::test]
async fn a_learner_signs_in_by_number_writes_and_is_refused_the_cost() {
    for (name, width, height) in SIZES {
        let folder = tempfile::tempdir().unwrap();
        let b = listened(&folder, *width, *height).await;
        let number = given(&b, "Ode").await;
        fit(&b, &format!("{name} the sign-in given")).await;
        b.go("/people").await;
        fit(&b, &format!("{name} /people")).await;
        b.click(Locator::Css(".here button")).await;
        fit(&b, &format!("{name} /sign-in")).await;

        b.fill("form:nth-of-type(1) input[name=name]", "ode").await;
        b.fill("input[name=pin]", &number).await;
        b.click(Locator::Css("form:nth-of-type(1) button")).await;
        let here = b.text(Locator::Css(".here")).await;
        assert!(here.contains("Ode, learner, cold bench"), "{here}");

        b.go("/event/harvest-supper/cost").await;
        let refused = b.text(Locator::Css("main")).await;
        assert!(
            refused.contains("this page is for the instructor"),
            "{refused}"
        );
        assert!(!refused.contains('$'), "{refused}");
        fit(&b, &format!("{name} the cost refused")).await;
        b.go("/event/harvest-supper/why/cost.per_cover_bought")
            .await;
        assert!(!b.text(Locator::Css("body")).await.contains('$'));

        b.go("/event/harvest-supper/record?kind=temperature&about=hot-smoked-char.smoke")
            .await;
        let nav = b.text(Locator::Css("nav.pages")).await;
        assert!(
            nav.contains("Weigh") && !nav.contains("Cost") && !nav.contains("Order"),
            "{nav}"
        );
        fit(&b, &format!("{name} the learner's record")).await;
        b.fill("input[name=part]", "probe 2").await;
        b.fill("input[name=reading]", "63.4 °C").await;
        b.click(Locator::Css("main form button")).await;
        let row = b.text(Locator::Css("main table tbody")).await;
        assert!(row.contains("Ode") && row.contains("63.4 °C"), "{row}");
        b.close().await;
    }
}
