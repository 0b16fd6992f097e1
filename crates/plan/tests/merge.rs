//! Several events on one order: packs are rounded once.
#![allow(clippy::unwrap_used)]

use book::{Limits, demo, read};
use kitchen::{Book, Id};
use plan::{Plan, Scene, make, merge::merge};
use schedule::Effort;

fn plan_of(book: &Book, event: &str) -> Plan {
    let scene = Scene::new(book, event).unwrap();
    make(&scene, &scene, &Effort::standard(), &mut |_| true).unwrap()
}

/// Worked by hand: 8.5603 kg and a second supper of 14 covers: ⌈14 × 1.05⌉ = 15 plates × 60 g ÷ 0.71222
/// ÷ 0.62 = 2.0382 kg; apart 5 + 2 = 7 fish, together 10.5985 ÷ 1.8 = 5.89 → 6 fish; one fish is
/// 1.8 kg × 23.50 = 42.30.
#[test]
fn two_suppers_share_six_fish_instead_of_seven() {
    let mut book = read(&demo::files(), Limits::default()).unwrap();
    let mut second = book
        .events
        .values()
        .find(|e| e.id == "harvest-supper")
        .unwrap()
        .clone();
    second.id = Id::new("small-supper").unwrap();
    second.covers = 14;
    book.events.insert(second.id.clone(), second);
    let plans = [
        plan_of(&book, "harvest-supper"),
        plan_of(&book, "small-supper"),
    ];
    let merged = merge(&plans).unwrap();
    let fish = merged
        .iter()
        .find(|m| m.line.item == "arctic-char-whole")
        .unwrap();
    assert_eq!(
        fish.apart.iter().map(|(_, n)| *n).collect::<Vec<_>>(),
        [5.0, 2.0]
    );
    assert!((fish.line.packs - 6.0).abs() < 1e-9);
    assert_eq!(fish.saves.to_string(), "42.30");
    // What is sold by weight saves nothing and loses nothing.
    let oil = merged
        .iter()
        .find(|m| m.line.item == "rapeseed-oil")
        .unwrap();
    assert_eq!(oil.saves.rounded(2).to_string(), "0.00");
}

#[test]
fn orders_weeks_apart_stay_apart() {
    let book = read(&demo::files(), Limits::default()).unwrap();
    let plans = [
        plan_of(&book, "harvest-supper"),
        plan_of(&book, "duck-class"),
    ];
    assert!(merge(&plans).unwrap().iter().all(|m| m.apart.len() == 1));
}
