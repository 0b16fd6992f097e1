//! How a clock stands up to other lengths, and time allowed for it.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use demo::{book, first, make, number, replanned, settings};
use kitchen::spread::Spread;
use plan::{Plan, Scene};

const EVENTS: [&str; 3] = ["harvest-supper", "duck-class", "orchard-lunch"];

fn asked(event: &str, target: &str) -> (Plan, Plan) {
    let first = first(event);
    let scene = first.with_all(&settings(&[target])).expect("a setting");
    (make(&first, &first), make(&scene, &first))
}

#[test]
fn robust_mode_never_does_worse_on_the_same_days() {
    for event in EVENTS {
        for target in ["robust=0.5", "robust=95 %", "robust=0.999"] {
            let (plain, sturdy) = asked(event, target);
            let (plain, sturdy) = (plain.robust.unwrap(), sturdy.robust.unwrap());
            let bought = sturdy.bought.clone().expect("it was asked for");
            assert_eq!(bought.met_before, plain.met, "{event} {target}");
            assert!(sturdy.met >= plain.met, "{event} {target}: {sturdy:?}");
            // Nothing is bought for nothing.
            if plain.chance() >= bought.target {
                assert!(bought.allowance.is_empty(), "{event} {target}: {bought:?}");
            }
        }
    }
}

#[test]
fn the_supper_reaches_nineteen_days_in_twenty() {
    let (plain, sturdy) = asked("harvest-supper", "robust=0.95");
    let (before, after) = (
        plain.robust.clone().unwrap(),
        sturdy.robust.clone().unwrap(),
    );
    assert!(
        before.chance() < 0.95 && after.chance() >= 0.95,
        "{before:?} {after:?}"
    );
    let bought = after.bought.unwrap();
    assert!(bought.person_minutes > 0 && bought.value.1 >= bought.value.0);
    // What was bought is booked: the task it was bought for is planned longer.
    for (id, extra) in &bought.allowance {
        let length = |p: &Plan| {
            p.timeline
                .tasks
                .iter()
                .find(|t| t.meaning.id == *id)
                .map(|t| t.end - t.start)
                .unwrap()
        };
        assert_eq!(length(&sturdy), length(&plain) + extra, "{id}");
    }
}

/// Without any spread every drawn day is the planned day.
#[test]
fn work_that_never_varies_is_always_met() {
    let mut scene = first("harvest-supper");
    let still = Spread::new(1.0, 1.0);
    (scene.site.spread.hands, scene.site.spread.programme) = (still, still);
    let plan = make(&scene, &scene);
    let robust = plan.robust.unwrap();
    assert_eq!((robust.met, robust.threats), (robust.draws, vec![]));
    assert_eq!(robust.hands.source.source.key, sources::list::HOUSE.key);
}

#[test]
fn a_wider_spread_on_a_page_counts_as_its_own_and_lowers_the_chance() {
    let plain = make(&first("harvest-supper"), &first("harvest-supper"))
        .robust
        .unwrap();
    let mut scene = first("harvest-supper");
    for recipe in scene.book.recipes.values_mut() {
        for step in &mut recipe.steps {
            step.hands.spread = Spread::new(0.5, 3.0);
        }
    }
    let wide = make(&scene, &scene).robust.unwrap();
    assert!(wide.own > 0 && plain.own == 0);
    assert!(wide.met < plain.met, "{} {}", wide.met, plain.met);
}

#[test]
fn the_figures_are_those_of_the_draws() {
    let (before, after) = replanned("harvest-supper", &["robust=0.95"]);
    for plan in [&before, &after] {
        let r = plan.robust.as_ref().unwrap();
        assert!((number(plan, "robust.chance_pct") - r.chance() * 100.0).abs() < 1e-9);
        assert!((number(plan, "robust.met") - r.met as f64).abs() < 1e-9);
    }
}

/// The same days: a plan made twice meets the same number of them.
#[test]
fn the_same_plan_meets_the_same_days() {
    let first: Scene = first("orchard-lunch");
    assert_eq!(make(&first, &first).robust, make(&first, &first).robust);
    assert!(book().events.len() >= EVENTS.len());
}
