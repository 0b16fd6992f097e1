//! The recipe pages in a real browser: figures that follow the typing, two tabs that edit one recipe, a recipe pasted
//! in kitchen measures; and every page fit for eyes, ears and thumbs.
//!
//! Needs what `browser.rs` needs. Without it these tests fail, they do not pass.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "browser/driven.rs"]
#[allow(dead_code)] // the stories of the other file use the rest
mod driven;

use std::time::{Duration, Instant};

use driven::{Browser, SIZES};
use fantoccini::Locator;

const PAGES: &[&str] = &[
    "/recipe",
    "/recipe/hot-smoked-char",
    "/recipe/hot-smoked-char/edit",
    "/recipe/hot-smoked-char/revisions",
    "/recipe/hot-smoked-char/compare?from=1&to=1",
    "/recipe/paste",
    "/recipe/demo%2Fsite.toml",
    "/recipe/demo%2Fsite.toml/edit",
    "/recipe/made_from?event=harvest-supper",
    "/recipe/nothing-here",
];

const SALT: &str = "input[name^='set|step/2:cure/mix/0:salt-table/of-base']";
const YIELD: &str = "input[name^='set|step/1:fillet/yield/mean']";

async fn fits(b: &Browser, place: &str) {
    let found = b.axe().await;
    assert!(found.is_empty(), "{place}: {}", found.join("\n"));
    let over = b
        .number("return document.scrollingElement.scrollWidth - window.innerWidth")
        .await;
    assert!(over <= 0.0, "{place}: {over} px wider than the screen");
}

/// Waits until a script says yes.
async fn until(b: &Browser, script: &str) {
    let began = Instant::now();
    while began.elapsed() < Duration::from_secs(10) {
        if b.number(&format!("return ({script}) ? 1 : 0")).await > 0.5 {
            return;
        }
        tokio::time::sleep(Duration::from_millis(25)).await;
    }
    panic!("not in 10 s: {script}");
}

#[tokio::test]
async fn every_recipe_page_holds_to_the_accessibility_rules_and_fits_its_screen() {
    for (name, width, height) in SIZES {
        let b = Browser::open(*width, *height).await;
        for page in PAGES {
            b.go(page).await;
            fits(&b, &format!("{name} {page}")).await;
        }
        b.close().await;
    }
}

#[tokio::test]
async fn two_tabs_change_one_recipe_and_nothing_is_lost() {
    let b = Browser::open(820, 1180).await;
    let client = b.client();
    b.go("/recipe/hot-smoked-char/edit").await;
    let first = client.window().await.unwrap();
    let second = client.new_window(true).await.unwrap().handle;
    client.switch_to_window(second.clone()).await.unwrap();
    b.go("/recipe/hot-smoked-char/edit").await;

    // The first tab: more salt, by its field; text and figures follow without a button.
    client.switch_to_window(first).await.unwrap();
    b.fill(SALT, "3.00 %").await;
    until(
        &b,
        "document.getElementById('preview').textContent.includes('167.40 g')",
    )
    .await;
    until(
        &b,
        "document.getElementById('text').value.includes('of-base = \"3.00 %\"')",
    )
    .await;
    fits(&b, "tablet, a look").await;
    b.fill("input[name=who]", "Maren").await;
    b.click(Locator::Css("button[value=save]")).await;
    let saved = b.text(Locator::Css("main")).await;
    assert!(saved.contains("Revision 2 is saved"), "{saved}");

    // The second tab began before that: another yield. It meets the first and is told both.
    client.switch_to_window(second).await.unwrap();
    b.fill(YIELD, "0.61").await;
    b.fill("input[name=who]", "Ode").await;
    b.click(Locator::Css("button[value=save]")).await;
    let met = b.text(Locator::Css("main")).await;
    assert!(met.contains("Maren saved revision 2"), "{met}");
    assert!(met.contains("0.61") && met.contains("3.00 %"), "{met}");
    fits(&b, "tablet, two changes").await;
    b.click(Locator::LinkText("Put mine on top of theirs"))
        .await;
    let both = "const t = document.getElementById('text').value; return (t.includes('0.61') && t.includes('3.00 %')) ? 1 : 0";
    assert!(b.number(both).await > 0.5, "both changes stand in the text");
    b.click(Locator::Css("button[value=save]")).await;
    let saved = b.text(Locator::Css("main")).await;
    assert!(saved.contains("Revision 3 is saved"), "{saved}");
    b.go("/recipe/hot-smoked-char/compare?from=1&to=3").await;
    let difference = b.text(Locator::Css("main")).await;
    assert!(difference.contains("0.61") && difference.contains("3.00 %"));
    fits(&b, "tablet, a comparison").await;
    b.close().await;
}

#[tokio::test]
async fn a_mistake_typed_is_told_at_its_line_while_one_types() {
    let b = Browser::open(390, 844).await;
    b.go("/recipe/hot-smoked-char/edit").await;
    b.fill(YIELD, "62").await;
    until(
        &b,
        "document.getElementById('preview').textContent.includes('line 20, column')",
    )
    .await;
    fits(&b, "phone, a mistake").await;
    b.close().await;
}

#[tokio::test]
async fn a_pasted_recipe_is_asked_about_and_goes_on_in_the_editor() {
    let b = Browser::open(390, 844).await;
    b.go("/recipe/paste").await;
    b.fill("input[name=name]", "Cured side").await;
    b.fill(
        "#lines",
        "3 lb salmon\n2 cups kosher salt\n1-2 tbsp white pepper",
    )
    .await;
    b.click(Locator::Css("button[value=read]")).await;
    let asked = b.text(Locator::Css("main")).await;
    assert!(asked.contains("no ingredient is called"), "{asked}");
    fits(&b, "phone, lines").await;
    b.fill("input[name='amount-2']", "10 g").await;
    b.click(Locator::Css("button[value=answer]")).await;
    let lines = b
        .number(
            "return document.getElementById('lines').value.includes('10 g white pepper') ? 1 : 0",
        )
        .await;
    assert!(lines > 0.5);
    b.click(Locator::Css("button[formaction]")).await;
    let editor = b.text(Locator::Css("main")).await;
    assert!(editor.contains("nothing is saved"), "{editor}");
    fits(&b, "phone, a draft").await;
    b.close().await;
}
