//! Special plates: what is made on top for them, what is not, and that nothing is made on a guess.
#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used)]

use kitchen::Book;
use plan::specials::From;
use plan::{Plan, Scene, Setting};
use proptest::prelude::*;
use schedule::Effort;

/// Float noise in grams.
const NOISE_G: f64 = 1e-9;

fn demo() -> Book {
    book::read(&book::demo::files(), book::Limits::default()).unwrap()
}

fn with(book: &Book, event: &str, settings: &[&str]) -> Scene {
    let settings: Vec<Setting> = settings.iter().map(|s| Setting::read(s).unwrap()).collect();
    Scene::new(book, event)
        .unwrap()
        .with_all(&settings)
        .unwrap_or_else(|e| panic!("{e:?}"))
}

fn planned(scene: &Scene, first: &Scene) -> Plan {
    plan::make(scene, first, &Effort::standard(), &mut |_| true).unwrap()
}

fn need(plan: &Plan, recipe: &str) -> f64 {
    plan.component(recipe).unwrap().served_need_g
}

// Scenario A: 63 plates × 3 g of oil = 189 g. A guest without milk gets oil and liquor 3 : 1, 12 g: 9 g of oil on top.
#[test]
fn a_swap_is_made_on_top_of_the_plates() {
    let book = demo();
    let first = Scene::new(&book, "harvest-supper").unwrap();
    let scene = with(&book, "harvest-supper", &["special.seat-14=milk"]);
    let plan = planned(&scene, &first);
    assert!((need(&plan, "dill-oil") - (63.0 * 3.0 + 9.0)).abs() < NOISE_G);
    let laid = &plan.specials[0];
    assert_eq!(laid.place(), "seat 14");
    let from: Vec<(&str, From, f64)> = laid
        .mixes
        .iter()
        .map(|m| (m.item.id().as_str(), m.from, m.grams))
        .collect();
    assert_eq!(
        from,
        [
            ("dill-oil", From::MadeMore, 9.0),
            ("fennel-pickle", From::OffWhatIsMade, 3.0)
        ]
    );
    // The figure says so too, and stands on the plates of the special.
    let figure = plan.figures.get("dill-oil.served_need_g").unwrap();
    assert!(
        figure
            .from
            .iter()
            .any(|f| f == "special.seat-14.buttermilk-dressing.dill-oil.g")
    );
}

#[test]
fn a_guest_for_whom_the_dish_is_not_has_nothing_made_of_it() {
    let book = demo();
    let first = Scene::new(&book, "harvest-supper").unwrap();
    let scene = with(
        &book,
        "harvest-supper",
        &["special.table-3=2 vegetarian, milk"],
    );
    let plan = planned(&scene, &first);
    assert!((need(&plan, "dill-oil") - 189.0).abs() < NOISE_G);
    assert!(plan.specials[0].mixes.is_empty());
    assert!(plan.specials[0].headline().starts_with("NO: FISH"));
}

#[test]
fn a_special_taken_off_leaves_the_plan_as_it_was() {
    let book = demo();
    let first = Scene::new(&book, "harvest-supper").unwrap();
    let off = with(
        &book,
        "harvest-supper",
        &["special.seat-14=milk", "special.seat-14=off"],
    );
    assert!(planned(&off, &first).specials.is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    // Every recipe is needed as much as without specials, and on top exactly what the swaps take.
    #[test]
    fn nothing_is_made_but_for_the_plates_and_the_swaps(
        milk in 0_u32..20, mustard in 0_u32..20, vegan in 0_u32..20,
    ) {
        let book = demo();
        let first = Scene::new(&book, "harvest-supper").unwrap();
        let mut settings = Vec::new();
        for (id, n, word) in [("a", milk, "milk"), ("b", mustard, "mustard"), ("c", vegan, "vegan")] {
            if n > 0 {
                settings.push(format!("special.{id}={n} {word}"));
            }
        }
        let settings: Vec<&str> = settings.iter().map(String::as_str).collect();
        let scene = with(&book, "harvest-supper", &settings);
        let none = std::collections::BTreeMap::new();
        let plain = plan::demand::components(&first, &none).unwrap();
        let special = plan::demand::components(&scene, &none).unwrap();
        for (before, after) in plain.iter().zip(&special) {
            let oil = if after.recipe == "dill-oil" { f64::from(milk + mustard) * 9.0 } else { 0.0 };
            prop_assert!((after.served_need_g - before.served_need_g - oil).abs() < NOISE_G, "{}", after.recipe);
        }
    }
}
