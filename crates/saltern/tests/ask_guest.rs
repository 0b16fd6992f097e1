//! Can this guest eat it: whole answers as goldens, the matrix of each place, and the evening a guest speaks up at 16:40.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// Widest line the program may print, in characters.
const COLUMNS: usize = 100;

/// The questions, by the name of their golden. The book is the demo's; every guest is invented.
const QUESTIONS: &[(&str, &str, &[&str])] = &[
    (
        "milk",
        "harvest-supper",
        &["--without", "milk", "--seat", "14"],
    ),
    ("mustard", "harvest-supper", &["--without", "mustard"]),
    (
        "milk_and_mustard",
        "harvest-supper",
        &["--without", "milk,mustard", "--seat", "14"],
    ),
    (
        "milk_for_four",
        "harvest-supper",
        &["--without", "milk", "--plates", "4"],
    ),
    ("fish", "harvest-supper", &["--without", "fish"]),
    ("gluten", "harvest-supper", &["--without", "gluten"]),
    ("sesame", "harvest-supper", &["--without", "sesame"]),
    ("sulphites", "harvest-supper", &["--without", "sulphites"]),
    ("vegetarian", "harvest-supper", &["--diet", "vegetarian"]),
    ("no_alcohol", "harvest-supper", &["--diet", "no-alcohol"]),
    ("pregnancy", "harvest-supper", &["--diet", "pregnancy"]),
    ("pregnancy_and_duck", "duck-class", &["--diet", "pregnancy"]),
    ("no_pork", "orchard-lunch", &["--diet", "no-pork"]),
    (
        "vegan_without_mustard",
        "orchard-lunch",
        &["--diet", "vegan", "--without", "mustard"],
    ),
    ("a_misspelt_word", "harvest-supper", &["--without", "mlik"]),
    (
        "a_diet_nobody_knows",
        "harvest-supper",
        &["--diet", "moonfish"],
    ),
    ("nothing", "harvest-supper", &[]),
    (
        "more_plates_than_covers",
        "harvest-supper",
        &["--without", "milk", "--plates", "61"],
    ),
    (
        "an_event_nobody_knows",
        "harvest-super",
        &["--without", "milk"],
    ),
];

fn saltern(words: &[&str]) -> (String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(words)
        .output()
        .unwrap();
    let text =
        String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap();
    (text, output.status.code().unwrap())
}

fn guest<'a>(book: &'a str, event: &'a str, rest: &[&'a str]) -> Vec<&'a str> {
    let mut words = vec!["ask", "guest", book, event];
    words.extend(rest);
    words
}

/// Nothing printed may promise anything.
fn promises_nothing(text: &str) {
    let plain = text.to_lowercase();
    for word in ["safe", "guarantee", "allergen-free", "milk-free"] {
        assert!(!plain.contains(word), "says \"{word}\":\n{text}");
    }
    for line in text.lines() {
        assert!(line.chars().count() <= COLUMNS, "too wide: {line}");
    }
}

#[test]
fn every_guest_is_answered_as_written() {
    for (name, event, rest) in QUESTIONS {
        let words = guest("demo", event, rest);
        let (text, exit) = saltern(&words);
        promises_nothing(&text);
        insta::assert_snapshot!(
            format!("guest_{name}"),
            format!("$ saltern {}\n{text}exit {exit}", words.join(" "))
        );
    }
}

/// The section of the plan, under the list of each place.
#[test]
fn the_matrix_is_printed_for_every_place() {
    for (name, event, place) in [
        ("supper_us", "harvest-supper", "us"),
        ("supper_canada", "harvest-supper", "canada"),
        ("supper_eu", "harvest-supper", "eu"),
        ("lunch_england", "orchard-lunch", "england"),
        ("class_us", "duck-class", "us"),
    ] {
        let rules = format!("site.rules={place}");
        let (text, _) = saltern(&["plan", "demo", event, "--set", &rules]);
        let start = text.find("ALLERGENS").expect("a section of its own");
        let end = text[start..].find("\n\n").expect("more after it");
        let section = &text[start..start + end];
        promises_nothing(section);
        insta::assert_snapshot!(format!("allergens_{name}"), section);
    }
}

/// Contract 1 has the same cells, and each is a figure that reaches its labels.
#[test]
fn every_cell_can_be_asked_why() {
    let (text, _) = saltern(&["plan", "demo", "orchard-lunch", "--json"]);
    let plan: Value = serde_json::from_str(&text).unwrap();
    let figures = plan["figures"].as_object().unwrap();
    let mut cells = 0;
    let mut rows: Vec<&Value> = plan["allergens"]["dishes"][0]["parts"]
        .as_array()
        .unwrap()
        .iter()
        .collect();
    while let Some(row) = rows.pop() {
        rows.extend(row["inside"].as_array().unwrap());
        for cell in row["cells"].as_object().unwrap().values() {
            let figure = &figures[cell["figure"].as_str().unwrap()];
            assert_eq!(figure["value"], cell["state"]);
            let from = figure["from"].as_array().unwrap();
            assert!(!from.is_empty());
            for label in from {
                assert!(figures[label.as_str().unwrap()]["source"].is_string());
            }
            cells += 1;
        }
    }
    // Three parts and the tea inside the brine, nine allergens and sulphites.
    assert_eq!(cells, 4 * 10);
    let (why, exit) = saltern(&["why", "demo", "harvest-supper", "allergen.rye-crisp.wheat"]);
    assert_eq!(exit, 0);
    insta::assert_snapshot!("allergens_why_wheat", why);
}

#[test]
fn an_answer_for_programs_says_the_same() {
    let (text, exit) = saltern(&guest(
        "demo",
        "harvest-supper",
        &["--without", "milk,mustard", "--seat", "14", "--json"],
    ));
    assert_eq!(exit, 0);
    let value: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["contract"], 1);
    assert_eq!(value["answer"]["answer"], "YES WITHOUT THE DRESSING");
    assert_eq!(value["answer"]["verdict"], Value::Null);
    let parts = value["guest"]["dishes"][0]["parts"].as_array().unwrap();
    let goes: Vec<&Value> = parts.iter().filter(|p| p["stand"] != "stays").collect();
    assert_eq!((parts.len(), goes.len()), (7, 1));
    let swap = &goes[0]["swap"];
    // 3 : 1 by weight on 12 g.
    assert_eq!(swap["mix"][0]["per_plate_g"], 9.0);
    assert_eq!(swap["mix"][1]["per_plate_g"], 3.0);
    let figures = value["figures"].as_object().unwrap();
    for figure in figures.values() {
        for from in figure["from"].as_array().unwrap() {
            assert!(figures.contains_key(from.as_str().unwrap()));
        }
    }
    // A refusal is one for programs too.
    let (text, exit) = saltern(&guest(
        "demo",
        "harvest-supper",
        &["--without", "mlik", "--json"],
    ));
    let value: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(
        (exit, &value["refused"]["do_now"]),
        (2, &"did you mean milk?".into())
    );
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// A copy of the demo book that may be written in.
struct Kitchen(PathBuf);

impl Kitchen {
    fn new(name: &str) -> Self {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("guest")
            .join(name);
        let _ = fs::remove_dir_all(&folder);
        copy(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join("../../book"),
            &folder,
        );
        Self(folder)
    }

    fn writes(&self, file: &str, text: &str) {
        let path = self.0.join(file);
        let before = fs::read_to_string(&path).unwrap();
        fs::write(path, format!("{before}\n{text}\n")).unwrap();
    }

    fn asks(&self, rest: &[&str]) -> String {
        let (text, exit) = saltern(&guest(self.0.to_str().unwrap(), "harvest-supper", rest));
        assert_eq!(exit, 0, "{text}");
        promises_nothing(&text);
        // A line may break anywhere.
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

/// Story 10 of the trade: at 16:40 for 18:30 a guest of scenario A says milk and mustard. Six of seven parts stay, the
/// dressing goes, the book's swap stands in for it and the plate is kept; mustard hangs on the jar of horseradish. Then the
/// jar is read, twice.
#[test]
fn at_16_40_a_guest_says_milk_and_mustard() {
    let kitchen = Kitchen::new("at-16-40");
    let told = kitchen.asks(&["--without", "milk,mustard", "--seat", "14"]);
    for words in [
        "YES WITHOUT THE DRESSING",
        "6 of 7 parts stay",
        "as far as the labels in the book say",
        "dill oil and fennel liquor, 3 : 1, 12.0 g a plate (9.0 g dill oil + 3.0 g shaved fennel pickle, the liquor)",
        "read the label of the prepared horseradish jar for mustard",
        "this plate before any other: clean bowl, board and spoon",
        "ticket × 1, seat 14",
        "write down who told whom",
        "shared boards",
    ] {
        assert!(told.contains(words), "does not say \"{words}\":\n{told}");
    }
    // The guest next to her says mustard only: the dressing stays if the jar says so.
    let told = kitchen.asks(&["--without", "mustard"]);
    assert!(told.starts_with("READ THE LABEL FIRST: PREPARED HORSERADISH JAR"));

    // The jar is read and holds none: whoever reads it writes it in the book.
    kitchen.writes(
        "ingredients.toml",
        "[[ingredient]]\nid = \"horseradish-prepared\"\nname = \"horseradish, prepared\"\n\
         allergens = { contains = [], may = [\"sulphites\"], source = \"invented:label of the jar, on file\" }",
    );
    let told = kitchen.asks(&["--without", "mustard"]);
    assert!(told.starts_with("YES, AS IT IS PLATED"), "{told}");
    assert!(told.contains("label of the jar, on file"), "{told}");
    // Another jar is opened, and nobody has looked at that one.
    let path = kitchen.0.join("ingredients.toml");
    let text = fs::read_to_string(&path).unwrap();
    let at = text.rfind("allergens =").unwrap();
    fs::write(&path, &text[..at]).unwrap();
    let told = kitchen.asks(&["--without", "mustard"]);
    assert!(told.starts_with("YES WITHOUT THE DRESSING"), "{told}");
    assert!(told.contains("states no allergens"), "{told}");
    assert!(told.contains("not stated: horseradish-prepared"), "{told}");
}

/// The crisp has no swap until its recipe names one; then a guest without gluten is offered it.
#[test]
fn a_recipe_that_names_a_swap_is_read() {
    let kitchen = Kitchen::new("recipe-swap");
    let told = kitchen.asks(&["--without", "gluten"]);
    assert!(
        told.contains("leave the rye crisp off, the book names no swap"),
        "{told}"
    );
    let path = kitchen.0.join("recipes/rye-crisp.toml");
    let text = fs::read_to_string(&path).unwrap();
    let swap = "swaps = [ { name = \"toasted seeds\", portion = \"6 g\", mix = [ { item = \"sunflower-seed\", share = \"100 %\" } ] } ]\n";
    fs::write(
        &path,
        text.replacen("product = ", &format!("{swap}product = "), 1),
    )
    .unwrap();
    let told = kitchen.asks(&["--without", "gluten"]);
    assert!(
        told.contains(
            "in place of the rye crisp: toasted seeds, 6.0 g a plate (6.0 g sunflower seeds)"
        ),
        "{told}"
    );
}
