//! A bare cup is the cup of the recipe: US, metric or imperial.
#![allow(clippy::unwrap_used, clippy::panic)]

use book::{Limits, SourceFile, read};
use kitchen::step::LineAmount;

fn grams(measures: &str, amount: &str) -> f64 {
    let text = format!(
        "recipe = \"dressing\"\nname = \"Dressing\"\n{measures}\n[[step]]\nid = \"mix\"\ndo = \"mix\"\nbase = \"finished\"\nwritten-for = \"1 kg\"\nmix = [ {{ item = \"honey\", amount = \"{amount}\" }} ]\nwait = \"at once\"\n"
    );
    let book = read(
        &[SourceFile::text("dressing.toml", &text)],
        Limits::default(),
    )
    .unwrap();
    let recipe = book.recipes.values().next().unwrap();
    match &recipe.steps[0].lines[0].amount {
        LineAmount::PerBatch(mass) => mass.g(),
        other => panic!("{other:?}"),
    }
}

/// Source: USDA SR 28, NDB 19296, honey: 1 cup = 339 g, 236.588 mL (read); the other cups by UCUM
/// factors and 250 mL.
#[test]
fn three_cups_of_honey_are_three_weights() {
    let us = grams("", "1 cup");
    assert!((us - 339.0).abs() < 0.5, "{us}");
    let metric = grams("measures = \"metric\"", "1 cup");
    assert!((metric / us - 250.0 / 236.588_236_5).abs() < 1e-9);
    let imperial = grams("measures = \"imperial\"", "1 cup");
    assert!((imperial / us - 284.130_625 / 236.588_236_5).abs() < 1e-9);
    // A named cup is that cup wherever it is written.
    assert!((grams("measures = \"metric\"", "1 US cup") - us).abs() < 1e-9);
}
