//! Screens that tell each other what happened, and a screen that lost the board: in a real browser, the board really gone.
//!
//! Needs what `browser.rs` needs.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

// Shared with `browser.rs`, which uses what this does not.
#[path = "browser/board.rs"]
mod board;
#[allow(dead_code)]
#[path = "browser/driven.rs"]
mod driven;

use std::time::Duration;

use board::Board;
use driven::{Browser, SIZES};
use fantoccini::Locator;

const RECORD: &str = "/event/harvest-supper/record";
const TODAY: &str = "/event/harvest-supper/today";

/// The words of a place once they hold `wanted`; ten seconds are long for a screen.
async fn shows(screen: &Browser, css: &str, wanted: &str) -> String {
    let mut said = String::new();
    for _ in 0..100 {
        // While a page is renewed the place may be gone for a moment.
        if let Ok(place) = screen.client.find(Locator::Css(css)).await
            && let Ok(text) = place.text().await
        {
            if text.contains(wanted) {
                return text;
            }
            said = text;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    panic!("{css} never said {wanted:?}, but: {said}");
}

/// Until nothing is kept on the screen any more.
async fn sent(screen: &Browser) {
    for _ in 0..200 {
        if screen.client.find(Locator::Css(".kept")).await.is_err() {
            return;
        }
        tokio::time::sleep(Duration::from_millis(100)).await;
    }
    panic!("still kept: {}", screen.text(Locator::Css(".kept")).await);
}

async fn choose(screen: &Browser, name: &str, value: &str) {
    let css = format!("select[name={name}]");
    let list = screen.client.find(Locator::Css(&css)).await.unwrap();
    list.select_by_value(value).await.unwrap();
}

/// Presses the button, and waits for no page.
async fn press(screen: &Browser, css: &str) {
    let button = screen.client.find(Locator::Css(css)).await.unwrap();
    button.click().await.unwrap();
}

/// A core written down, on a board that is away.
async fn core(screen: &Browser, reading: &str) {
    choose(screen, "kind", "temperature").await;
    choose(screen, "about", "hot-smoked-char.smoke").await;
    screen.fill("input[name=reading]", reading).await;
    press(screen, "form[data-entry] button").await;
}

/// Readings of the record as it stands on a page loaded anew, the oldest first.
async fn record(screen: &Browser) -> Vec<String> {
    screen.go(RECORD).await;
    let all = screen
        .client
        .execute(
            "return [...document.querySelectorAll('tbody tr')].map(r => r.cells[4].textContent + r.cells[5].textContent).reverse()",
            Vec::new(),
        )
        .await
        .unwrap();
    all.as_array()
        .unwrap()
        .iter()
        .map(|v| v.as_str().unwrap().trim().to_owned())
        .collect()
}

#[tokio::test]
async fn what_one_writes_down_the_other_sees() {
    let board = Board::start();
    let writes = board.screen(390, 844).await;
    let sees = board.screen(820, 1180).await;
    sees.go(TODAY).await;
    shows(&sees, ".live-line", "Connected at").await;
    writes.go(RECORD).await;
    writes.fill("input[name=who]", "Maren").await;
    choose(&writes, "about", "hot-smoked-char.smoke").await;
    writes.click(Locator::Css("form[data-entry] button")).await;
    let line = shows(&sees, ".live-line", "Updated").await;
    assert!(
        line.contains("Hot-smoked char: smoke: started by Maren"),
        "{line}"
    );
    let under_way = shows(&sees, ".underway", "since").await;
    assert!(
        under_way.contains("hold not started: no reading yet"),
        "{under_way}"
    );
    // The writer is on a page of its own again, and it works on.
    writes.fill("input[name=reading]", "62.8 °C").await;
    choose(&writes, "kind", "temperature").await;
    choose(&writes, "about", "hot-smoked-char.smoke").await;
    writes.click(Locator::Css("form[data-entry] button")).await;
    shows(&sees, ".underway", "hold not started: coldest 62.8 °C").await;
    for screen in [&writes, &sees] {
        let found = screen.axe().await;
        assert!(found.is_empty(), "{}", found.join("\n"));
    }
    writes.close().await;
    sees.close().await;
}

#[tokio::test]
async fn three_entries_made_while_the_board_was_away_arrive_once_each_and_in_order() {
    let mut board = Board::start();
    let screen = board.screen(390, 844).await;
    screen.go(RECORD).await;
    shows(&screen, ".live-line", "Connected at").await;
    screen.fill("input[name=who]", "Maren").await;
    board.stop();
    let lost = shows(&screen, ".live-line", "Not connected since").await;
    assert!(lost.contains("what stands here may be old"), "{lost}");
    for reading in ["63.1 °C", "63.2 °C", "63.3 °C"] {
        core(&screen, reading).await;
    }
    let kept = shows(&screen, ".kept", "Kept here, not yet sent (3)").await;
    assert!(
        kept.contains("temperature read, Hot-smoked char: smoke, 63.1 °C, by Maren"),
        "{kept}"
    );
    let found = screen.axe().await;
    assert!(found.is_empty(), "{}", found.join("\n"));
    board.start_again();
    sent(&screen).await;
    shows(&screen, ".live-line", "Updated").await;
    assert_eq!(record(&screen).await, ["63.1 °C", "63.2 °C", "63.3 °C"]);
    screen.close().await;
}

#[tokio::test]
async fn a_refused_entry_stands_aside_and_is_mended_or_withdrawn() {
    let mut board = Board::start();
    let screen = board.screen(820, 1180).await;
    screen.go(RECORD).await;
    shows(&screen, ".live-line", "Connected at").await;
    screen.fill("input[name=who]", "Maren").await;
    board.stop();
    shows(&screen, ".live-line", "Not connected since").await;
    for reading in ["63.1 °C", "63.2", "5 kg", "63.4 °C"] {
        core(&screen, reading).await;
    }
    shows(&screen, ".kept", "not yet sent (4)").await;
    // The page is left and the board comes back only then: what was kept is still here.
    screen.client.goto("about:blank").await.unwrap();
    board.start_again();
    screen.go(RECORD).await;
    let kept = shows(&screen, ".kept", "Not taken, kept here (2)").await;
    assert!(kept.contains("found \"63.2\" without its unit"), "{kept}");
    assert!(kept.contains("a temperature in °C or °F"), "{kept}");
    let found = screen.axe().await;
    assert!(found.is_empty(), "{}", found.join("\n"));
    press(&screen, ".kept li:nth-child(1) button:nth-of-type(1)").await;
    screen.fill("input[name=reading]", "63.2 °C").await;
    screen.click(Locator::Css("form[data-entry] button")).await;
    shows(&screen, ".kept", "Not taken, kept here (1)").await;
    press(&screen, ".kept li:nth-child(1) button:nth-of-type(2)").await;
    screen.client.accept_alert().await.unwrap();
    sent(&screen).await;
    assert_eq!(record(&screen).await, ["63.1 °C", "63.4 °C", "63.2 °C"]);
    // Mended it was sent last, and it still happened before the last.
    let hours = "return [...document.querySelectorAll('tbody tr')].map(r => r.cells[0].textContent).join(' ')";
    assert_eq!(
        screen.client.execute(hours, Vec::new()).await.unwrap(),
        "3 2 1"
    );
    screen.close().await;
}

#[tokio::test]
async fn a_half_typed_form_outlives_an_update() {
    let board = Board::start();
    let types = board.screen(820, 1180).await;
    let writes = board.screen(390, 844).await;
    types.go(RECORD).await;
    shows(&types, ".live-line", "Connected at").await;
    types.fill("input[name=who]", "Ivo").await;
    types.fill("input[name=reading]", "5,22").await;
    let note = async |words: &str| {
        writes.go(RECORD).await;
        writes.fill("input[name=who]", "Maren").await;
        choose(&writes, "kind", "note").await;
        writes.fill("input[name=words]", words).await;
        writes.click(Locator::Css("form[data-entry] button")).await;
    };
    note("first").await;
    // A finger is in the field: nothing moves under it.
    shows(&types, ".live-line", "Shown here when the field is left").await;
    let state = "return [document.activeElement.name, document.querySelector('[name=reading]').value, document.querySelector('[name=who]').value, \
                 document.querySelectorAll('tbody tr').length].join('|')";
    assert_eq!(
        types.client.execute(state, Vec::new()).await.unwrap(),
        "reading|5,22|Ivo|0"
    );
    // The field is left: the record is renewed, the form is as it was.
    types
        .client
        .execute("document.activeElement.blur()", Vec::new())
        .await
        .unwrap();
    shows(&types, "tbody", "first").await;
    assert_eq!(
        types.client.execute(state, Vec::new()).await.unwrap(),
        "|5,22|Ivo|1"
    );
    // And so it is where nobody is in it but it is half filled, a link has the focus and the page is scrolled.
    let before = "document.querySelector('tbody a').focus(); window.scrollTo(0, 40); window.linkBefore = document.activeElement";
    types.client.execute(before, Vec::new()).await.unwrap();
    note("second").await;
    shows(&types, "tbody", "second").await;
    let same = "return window.linkBefore === document.activeElement && document.activeElement.href.includes('corrects=1') \
                && document.querySelector('[name=reading]').value === '5,22'";
    assert_eq!(types.client.execute(same, Vec::new()).await.unwrap(), true);
    // It is still a form that can be sent.
    types.fill("input[name=reading]", "5.22 kg").await;
    choose(&types, "kind", "weighed").await;
    types.click(Locator::Css("form[data-entry] button")).await;
    assert_eq!(record(&types).await, ["first", "second", "5.22 kg"]);
    types.close().await;
    writes.close().await;
}

#[tokio::test]
async fn a_refused_form_comes_back_as_typed_and_outlives_an_update() {
    let board = Board::start();
    let types = board.screen(390, 844).await;
    let writes = board.screen(390, 844).await;
    types.go(RECORD).await;
    shows(&types, ".live-line", "Connected at").await;
    types.fill("input[name=who]", "Ivo").await;
    types.fill("input[name=reading]", "63.4").await;
    choose(&types, "kind", "temperature").await;
    types.click(Locator::Css("form[data-entry] button")).await;
    shows(&types, ".wrong", "without its unit").await;
    let found = types.axe().await;
    assert!(found.is_empty(), "{}", found.join("\n"));
    writes.go(RECORD).await;
    writes.fill("input[name=who]", "Maren").await;
    writes.click(Locator::Css("form[data-entry] button")).await;
    shows(&types, "tbody", "Maren").await;
    let state = "return ['reading', 'who', 'kind'].map(n => document.querySelector(`form[data-entry] [name=${n}]`).value).join('|') \
                 + document.querySelectorAll('form .trouble').length + document.querySelectorAll('form[data-entry]').length";
    assert_eq!(
        types.client.execute(state, Vec::new()).await.unwrap(),
        "63.4|Ivo|temperature11"
    );
    types.fill("input[name=reading]", "63.4 °C").await;
    types.click(Locator::Css("form[data-entry] button")).await;
    assert_eq!(record(&types).await, ["", "63.4 °C"]);
    types.close().await;
    writes.close().await;
}

#[tokio::test]
async fn a_screen_that_lost_the_board_says_so_on_every_page_and_size() {
    let mut board = Board::start();
    let mut screens = Vec::new();
    for (name, width, height) in SIZES {
        screens.push((name, board.screen(*width, *height).await));
    }
    for page in [
        TODAY,
        RECORD,
        "/event/harvest-supper/cold",
        "/event/harvest-supper/lot/hot-smoked-char",
    ] {
        for (_, screen) in &screens {
            screen.go(page).await;
            shows(screen, ".live-line", "Connected at").await;
        }
        board.stop();
        for (name, screen) in &screens {
            shows(screen, ".live-line.lost", "may be old").await;
            let found = screen.axe().await;
            assert!(found.is_empty(), "{name} {page}: {}", found.join("\n"));
            let over = "return document.scrollingElement.scrollWidth - window.innerWidth";
            assert!(screen.number(over).await <= 0.0, "{name} {page}");
        }
        board.start_again();
        for (_, screen) in &screens {
            shows(screen, ".live-line:not(.lost)", "Connected again").await;
        }
    }
    for (_, screen) in screens {
        screen.close().await;
    }
}
