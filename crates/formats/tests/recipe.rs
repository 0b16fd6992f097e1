//! Recipes out and in again, and recipes of strangers.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod demo;

use demo::Demo;
use formats::recipe::{Draft, Worth, draft, json_ld, read_line};
use serde_json::{Value, json};
use units::Customary;

fn ld(demo: &Demo, id: &str) -> Value {
    serde_json::from_str(&json_ld(&demo.book, id).unwrap()).unwrap()
}

fn read(demo: &Demo, value: &Value, measures: Option<Customary>) -> Draft {
    draft(value.to_string().as_bytes(), demo.target(), measures).unwrap()
}

#[test]
fn recipes_of_the_demo() {
    let demo = Demo::new();
    for id in ["hot-smoked-char", "mustard-dressing", "clove-tea"] {
        insta::assert_snapshot!(format!("jsonld_{id}"), json_ld(&demo.book, id).unwrap());
    }
}

#[test]
fn the_formula_of_the_char_stands_for_a_kilogram_of_fish() {
    // By hand: salt g = green g × % / 100. Of 1000 g whole fish 620 g are fillet (mean yield 0.62); 2.5 % of it is 15.5 g.
    let lines = ld(&Demo::new(), "hot-smoked-char");
    let lines: Vec<&str> = lines["recipeIngredient"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(Value::as_str)
        .collect();
    assert!(
        lines.contains(&"15.5 g salt, table (2.5 % of skin-on fillet)"),
        "{lines:?}"
    );
    assert!(lines[0].starts_with("1000 g arctic char"), "{lines:?}");
}

/// Out of the book and into a draft of another id: every line that the format can carry has the same item, the same
/// percentage or the same grams, at the same step.
#[test]
fn what_goes_out_comes_in_again() {
    let demo = Demo::new();
    for recipe in demo.book.recipes.values() {
        let mut value = ld(&demo, recipe.id.as_str());
        value["identifier"] = json!("another");
        let draft = read(&demo, &value, Some(Customary::Us));
        let page: toml_edit::DocumentMut = draft.page.parse().unwrap();
        assert_eq!(page["name"].as_str(), Some(recipe.name.as_str()));
        let steps = page["step"].as_array_of_tables().unwrap();
        assert_eq!(steps.len(), recipe.steps.len());
        for (step, table) in recipe.steps.iter().zip(steps) {
            assert_eq!(table["id"].as_str(), Some(step.id.as_str()));
            assert_eq!(table["do"].as_str(), Some(step.verb.word()));
            assert_eq!(table["what"].as_str(), Some(step.what.as_str()));
            let mut mix: Vec<&toml_edit::Value> = Vec::new();
            if let Some(list) = table.get("mix").and_then(toml_edit::Item::as_array) {
                mix.extend(list.iter());
            }
            let carried: Vec<_> = step
                .lines
                .iter()
                .filter(|l| {
                    !matches!(
                        l.amount,
                        kitchen::step::LineAmount::PerLoad(_)
                            | kitchen::step::LineAmount::PerPiece(_)
                    )
                })
                .collect();
            assert_eq!(
                mix.len(),
                carried.len(),
                "{}.{}:\n{}",
                recipe.id,
                step.id,
                draft.page
            );
            for (line, entry) in carried.iter().zip(mix) {
                let entry = entry.as_inline_table().unwrap();
                let id = entry
                    .get("item")
                    .or(entry.get("recipe"))
                    .unwrap()
                    .as_str()
                    .unwrap();
                assert_eq!(id, line.item.id().as_str());
                assert_eq!(
                    entry.get("form").and_then(|f| f.as_str()),
                    line.form.as_deref()
                );
                match line.amount {
                    kitchen::step::LineAmount::OfBase(pct) => {
                        let given = entry.get("of-base").unwrap().as_str().unwrap();
                        assert_eq!(units::read_percent(given).unwrap(), pct);
                        assert_eq!(table["base"].as_str(), Some(step.base.name.name()));
                    }
                    kitchen::step::LineAmount::PerBatch(mass) => match &line.written {
                        Some(written) => assert_eq!(
                            entry.get("amount").unwrap().as_str(),
                            Some(written.as_str())
                        ),
                        None => {
                            let given = entry.get("per-batch").unwrap().as_str().unwrap();
                            let given = units::read_mass(given).unwrap();
                            assert!(
                                (given.g() - mass.g()).abs() < 5e-4,
                                "{} {}",
                                recipe.id,
                                line.item.id()
                            );
                        }
                    },
                    _ => unreachable!("not carried"),
                }
            }
        }
    }
}

fn stranger() -> Value {
    json!({
        "@context": "https://schema.org", "@type": "Recipe", "name": "Quick salted cucumber",
        "recipeYield": "4 servings", "totalTime": "PT40M",
        "recipeIngredient": [
            "500 g cucumber", "1 tsp salt", "2 tbsp sugar, white granulated", "a pinch of nutmeg", "2-3 cloves garlic",
            "1 cup moon dust", "salt to taste", "1 cup honey (340 g)"
        ],
        "recipeInstructions": [ { "@type": "HowToStep", "text": "Slice and salt" }, { "@type": "HowToStep", "text": "Drain" } ]
    })
}

#[test]
fn what_a_stranger_leaves_open_is_asked() {
    let demo = Demo::new();
    let draft = read(&demo, &stranger(), None);
    insta::assert_snapshot!("stranger", draft.page);
    assert_eq!(draft.read, 1, "only the cucumber is plain");
    for words in [
        "family of ingredients",
        "pinch",
        "2",
        "moon dust",
        "to taste",
        "which one holds",
        "whose",
    ] {
        assert!(
            draft.open.iter().any(|q| q.contains(words)),
            "{words}: {:#?}",
            draft.open
        );
    }
}

#[test]
fn a_draft_with_open_questions_does_not_pass_and_a_settled_one_does() {
    let demo = Demo::new();
    let mut value = stranger();
    value["recipeIngredient"] = json!([
        "500 g cucumber",
        "10 g salt, table",
        "20 g sugar, white granulated"
    ]);
    let draft = read(&demo, &value, None);
    assert_eq!(draft.unread, 0);
    let wrong = demo.with(&draft.file, &draft.page).err().unwrap();
    let asked = wrong
        .iter()
        .filter(|d| d.code == book::Code::OpenQuestion)
        .count();
    assert_eq!(asked, draft.open.len());
    // Taking the questions out does not settle them: the acts and waits are still missing.
    let mut page: toml_edit::DocumentMut = draft.page.parse().unwrap();
    page.remove("open");
    let wrong = demo.with(&draft.file, &page.to_string()).err().unwrap();
    assert!(
        wrong.iter().all(|d| d.code == book::Code::MissingKey),
        "{wrong:?}"
    );
    for (step, act) in page["step"]
        .as_array_of_tables_mut()
        .unwrap()
        .iter_mut()
        .zip(["mix", "strain"])
    {
        step["do"] = toml_edit::value(act);
        step["wait"] = "{ min = \"30 min\", max = \"2 h\", at = \"<= 5 °C\" }"
            .parse::<toml_edit::Value>()
            .unwrap()
            .into();
    }
    let after = demo
        .with(&draft.file, &page.to_string())
        .unwrap_or_else(|d| panic!("{d:?}\n{page}"));
    let recipe = &after.book.recipes["quick-salted-cucumber"];
    assert_eq!(recipe.steps[0].lines.len(), 3);
    assert_eq!(recipe.steps[0].base.written_for.unwrap().g(), 530.0);
}

#[test]
fn percentages_of_a_stranger_are_not_taken_on_trust() {
    // Of flour, as bakers reckon it: read as "of all that is made" it would be another dough.
    let demo = Demo::new();
    let mut value = stranger();
    for (lines, words) in [
        (
            [
                "500 g cucumber (100 % of cucumber)",
                "10 g salt, table (2 % of cucumber)",
            ],
            "do not add to 100",
        ),
        (
            [
                "500 g cucumber (98 % of all)",
                "25 g salt, table (2 % of all)",
            ],
            "do not agree",
        ),
        (
            [
                "500 g cucumber (98 % of all)",
                "10 g salt, table (2 % of cucumber)",
            ],
            "several bases",
        ),
    ] {
        value["recipeIngredient"] = json!(lines);
        let draft = read(&demo, &value, None);
        assert!(
            draft.open.iter().any(|q| q.contains(words)),
            "{words}: {:#?}",
            draft.open
        );
    }
    // The recipes of the demo agree with themselves.
    for id in demo.book.recipes.keys() {
        let mut value = ld(&demo, id.as_str());
        value["identifier"] = json!("another");
        let draft = read(&demo, &value, Some(Customary::Us));
        assert!(
            draft.open.iter().all(|q| !q.contains("agree; which")),
            "{id}: {:#?}",
            draft.open
        );
    }
}

#[test]
fn a_recipe_the_book_has_is_not_overwritten() {
    let demo = Demo::new();
    let wrong = draft(
        ld(&demo, "fennel-pickle").to_string().as_bytes(),
        demo.target(),
        None,
    )
    .unwrap_err();
    assert!(wrong[0].found.contains("already"), "{}", wrong[0]);
}

#[test]
fn kitchen_measures_weigh_what_ask_convert_says() {
    // The dressing's half cup of honey: 118.29 mL at 1.4329 g/mL (USDA SR28 19296: 339 g a cup), as in `ask convert`.
    let book = Demo::new().book;
    let line = read_line("1/2 cup honey", &book, Some(Customary::Us));
    let Worth::Measured(id, mass) = &line.worth else {
        panic!("{line:?}")
    };
    assert_eq!(id.as_str(), "honey");
    assert!((mass.g() - 169.5).abs() < 0.05, "{}", mass.g());
    assert_eq!(line.open, Vec::<String>::new());
    // Two salts: a cup of one weighs up to twice a cup of the other, so a bare "salt" is asked for.
    for (text, words) in [
        ("1 cup salt", "family"),
        ("1 cup honey", "whose cup"),
        ("some honey", "has no weight"),
        ("500 honey", "how much"),
        ("", "how much"),
        ("1 cup", "of what"),
        ("3 cm honey", "no amount"),
    ] {
        let line = read_line(text, &book, None);
        assert!(
            line.open.iter().any(|q| q.contains(words)),
            "{text}: {line:?}"
        );
    }
    let metric = read_line("1 metric cup honey", &book, None);
    assert_eq!(metric.open, Vec::<String>::new(), "said whose it is");
}

#[test]
fn texts_of_strangers_stand_in_the_page_as_texts() {
    let demo = Demo::new();
    let mut value = stranger();
    value["name"] = json!("Fish \"\"\" \n]] # x = 1 \u{1b}[2J");
    value["identifier"] = json!("../../etc/passwd");
    value["recipeInstructions"] = json!(["\"\"\"\n[[step]]\nid = \"evil\"", "x".repeat(3000)]);
    let draft = read(&demo, &value, None);
    assert_eq!(draft.file, "recipes/fish-x-1-2j.toml");
    let page: toml_edit::DocumentMut = draft.page.parse().unwrap();
    assert_eq!(page["step"].as_array_of_tables().unwrap().len(), 2);
    let wrong = demo.with(&draft.file, &draft.page).err().unwrap();
    let known = [
        book::Code::OpenQuestion,
        book::Code::MissingKey,
        book::Code::NeedsKind,
    ];
    assert!(wrong.iter().all(|d| known.contains(&d.code)), "{wrong:#?}");
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(64))]

    #[test]
    fn whatever_a_file_says_the_page_is_toml_and_does_not_pass(
        name in "[a-zA-Z]\\PC{0,40}", lines in proptest::collection::vec("\\PC{1,60}", 1..5), steps in proptest::collection::vec("\\PC{1,60}", 0..4)
    ) {
        let demo = Demo::new();
        let value = json!({ "@type": "Recipe", "name": name, "recipeIngredient": lines, "recipeInstructions": steps });
        if let Ok(draft) = draft(value.to_string().as_bytes(), demo.target(), None) {
            let page: Result<toml_edit::DocumentMut, _> = draft.page.parse();
            proptest::prop_assert!(page.is_ok(), "{}", draft.page);
            proptest::prop_assert!(demo.with(&draft.file, &draft.page).is_err());
            proptest::prop_assert!(!draft.open.is_empty());
        }
    }
}
