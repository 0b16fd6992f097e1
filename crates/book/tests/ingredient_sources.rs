//! The shipped ingredient table against the tables its figures come from.
//!
//! Outside the project: USDA National Nutrient Database for Standard Reference, Release 28 (2015, US federal work, public
//! domain) and Health Canada's Canadian Nutrient File (Open Government Licence - Canada). Those files are not part of the
//! project. Where they lie beside the checkout every figure is compared with its row; where they do not, the comparison is
//! skipped, says so, and the fifty-five rows carried over below still hold the volume weights.
#![allow(clippy::disallowed_methods, clippy::expect_used, clippy::panic)] // a test reads files and fails loudly, in its helpers too

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use sources::{Citation, Status};
use toml::{Table, Value};

/// Keys of a composition that are percentages by weight.
const PERCENTAGES: &[&str] = &[
    "water",
    "protein",
    "fat",
    "carbohydrate",
    "sugars",
    "fibre",
    "ash",
    "salt",
    "acetic",
    "alcohol",
];

/// Keys that add up to the whole; sugars and fibre lie inside carbohydrate, salt inside ash.
const PARTS: &[&str] = &[
    "water",
    "protein",
    "fat",
    "carbohydrate",
    "ash",
    "acetic",
    "alcohol",
];

/// SR28 column of each key carried over.
const COLUMNS: &[(&str, &str)] = &[
    ("water", "water_g"),
    ("protein", "protein_g"),
    ("fat", "fat_g"),
    ("carbohydrate", "carb_g"),
    ("sugars", "sugars_g"),
    ("fibre", "fibre_g"),
    ("ash", "ash_g"),
    ("alcohol", "alcohol_g"),
    ("sodium_mg", "sodium_mg"),
];

/// Sodium to sodium chloride: 58.443 / 22.990 (IUPAC weights, from memory).
const SALT_PER_SODIUM: f64 = 2.5421;

const ALLERGENS: &[&str] = &[
    "milk",
    "egg",
    "fish",
    "crustacean",
    "mollusc",
    "tree-nut",
    "almond",
    "hazelnut",
    "walnut",
    "pistachio",
    "pine-nut",
    "peanut",
    "wheat",
    "rye",
    "barley",
    "gluten",
    "soy",
    "sesame",
    "mustard",
    "celery",
    "lupin",
    "sulphites",
];

const ROLES: &[&str] = &[
    "curing-salt",
    "salt",
    "sugar",
    "acid",
    "oil",
    "water",
    "wood",
];

const KEYS: &[&str] = &[
    "id",
    "name",
    "also",
    "family",
    "role",
    "nitrite_pct",
    "nitrate_pct",
    "composition",
    "density",
    "trim",
    "each",
    "allergens",
    "origin",
];

/// Household measures of SR28, copied from the published table: NDB number, measure, grams, millilitres
/// (US cup 236.588, tablespoon 14.787, teaspoon 4.929, fluid ounce 29.574), our ingredient, our form.
#[rustfmt::skip]
const MEASURES: &[(&str, &str, f64, f64, &str, &str)] = &[
    ("02047", "cup", 292.0, 236.588, "salt-table", "level cup"),
    ("19335", "cup", 200.0, 236.588, "sugar-white", "granulated"),
    ("19334", "cup packed", 220.0, 236.588, "sugar-brown", "packed"),
    ("19334", "cup unpacked", 145.0, 236.588, "sugar-brown", "loose"),
    ("19336", "cup sifted", 100.0, 236.588, "sugar-icing", "sifted"),
    ("19296", "cup", 339.0, 236.588, "honey", "liquid"),
    ("19353", "cup", 315.0, 236.588, "maple-syrup", "liquid"),
    ("19304", "cup", 337.0, 236.588, "molasses", "liquid"),
    ("02048", "cup", 239.0, 236.588, "vinegar-cider", "liquid"),
    ("02053", "cup", 238.0, 236.588, "vinegar-white", "liquid"),
    ("02068", "cup", 239.0, 236.588, "vinegar-wine-red", "liquid"),
    ("02069", "cup", 255.0, 236.588, "vinegar-balsamic", "liquid"),
    ("09152", "cup", 244.0, 236.588, "lemon-juice", "liquid"),
    ("09160", "cup", 242.0, 236.588, "lime-juice", "liquid"),
    ("04053", "cup", 216.0, 236.588, "oil-olive", "liquid"),
    ("04582", "cup", 218.0, 236.588, "rapeseed-oil", "liquid"),
    ("04506", "cup", 218.0, 236.588, "oil-sunflower", "liquid"),
    ("04517", "cup", 218.0, 236.588, "oil-grapeseed", "liquid"),
    ("01088", "cup", 245.0, 236.588, "buttermilk", "liquid"),
    ("01056", "cup", 230.0, 236.588, "sour-cream", "stirred"),
    ("01053", "cup, fluid (yields 2 cups whipped)", 238.0, 236.588, "cream-heavy", "liquid"),
    ("01077", "cup", 244.0, 236.588, "milk-whole", "liquid"),
    ("01117", "cup (8 fl oz)", 245.0, 236.588, "yogurt-plain", "stirred"),
    ("01017", "cup", 232.0, 236.588, "cheese-cream", "soft"),
    ("01123", "cup (4.86 large eggs)", 243.0, 236.588, "egg", "beaten"),
    ("01125", "cup", 243.0, 236.588, "egg-yolk", "liquid"),
    ("11215", "cup", 136.0, 236.588, "garlic", "peeled cloves"),
    ("11677", "tbsp chopped", 10.0, 14.787, "shallot", "chopped"),
    ("11282", "cup, chopped", 160.0, 236.588, "onion", "chopped"),
    ("11282", "cup, sliced", 115.0, 236.588, "onion", "sliced"),
    ("11957", "cup, sliced", 87.0, 236.588, "fennel-bulb", "sliced"),
    ("11241", "cup", 135.0, 236.588, "kohlrabi", "diced"),
    ("11205", "cup slices", 52.0, 118.294, "cucumber", "sliced"),
    ("11430", "cup slices", 116.0, 236.588, "daikon", "sliced"),
    ("11429", "cup slices", 116.0, 236.588, "radish", "sliced"),
    ("11135", "cup chopped (1/2\" pieces)", 107.0, 236.588, "cauliflower", "chopped"),
    ("11190", "cup", 56.0, 236.588, "lambs-lettuce", "loose"),
    ("11109", "cup, shredded", 70.0, 236.588, "cabbage-white", "shredded"),
    ("02045", "cup sprigs", 8.9, 236.588, "dill", "loose sprigs"),
    ("11156", "tbsp chopped", 3.0, 14.787, "chives", "chopped"),
    ("11297", "cup chopped", 60.0, 236.588, "parsley", "chopped"),
    ("02013", "tbsp", 5.0, 14.787, "coriander-seed", "whole"),
    ("02032", "tbsp, ground", 7.1, 14.787, "white-pepper", "ground"),
    ("02030", "tbsp, ground", 6.9, 14.787, "black-pepper", "ground"),
    ("02024", "tbsp", 6.3, 14.787, "mustard-powder", "ground"),
    ("02055", "tbsp", 15.0, 14.787, "horseradish-prepared", "drained"),
    ("02046", "cup", 249.0, 236.588, "mustard-yellow", "stirred"),
    ("04025", "cup", 220.0, 236.588, "mayonnaise", "stirred"),
    ("16123", "cup", 255.0, 236.588, "soy-sauce", "liquid"),
    ("04574", "cup", 205.0, 236.588, "duck-fat", "soft"),
    ("14106", "fl oz", 29.4, 29.574, "wine-white", "liquid"),
    ("20081", "cup", 125.0, 236.588, "flour-wheat", "spooned"),
    ("12061", "cup, whole", 143.0, 236.588, "almond", "whole"),
    ("12023", "cup", 144.0, 236.588, "sesame-seed", "whole"),
    ("09003", "cup slices", 109.0, 236.588, "apple", "sliced"),
];

fn data_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data/ingredients")
}

fn shared_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared/data")
}

/// Every ingredient with the file it stands in.
fn ingredients() -> Vec<(String, Table)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(data_folder()).expect("the ingredient folder is there") {
        let path = entry.expect("a readable entry").path();
        if path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let file = path
            .file_name()
            .expect("a file name")
            .to_string_lossy()
            .into_owned();
        let text = std::fs::read_to_string(&path).expect("a readable file");
        let table: Table = text.parse().unwrap_or_else(|e| panic!("{file}: {e}"));
        for (key, value) in table {
            assert_eq!(key, "ingredient", "{file}: only [[ingredient]] is expected");
            for one in value.as_array().expect("an array of tables") {
                found.push((file.clone(), one.as_table().expect("a table").clone()));
            }
        }
    }
    found
}

fn text<'a>(table: &'a Table, key: &str) -> &'a str {
    table.get(key).and_then(Value::as_str).unwrap_or_else(|| {
        panic!(
            "{:?}: no text under {key}",
            table.get("id").unwrap_or(&Value::from("?"))
        )
    })
}

fn number(value: &Value) -> f64 {
    value
        .as_float()
        .or_else(|| value.as_integer().map(|i| i as f64))
        .unwrap_or_else(|| panic!("not a number: {value}"))
}

fn figure(table: &Table, key: &str) -> Option<f64> {
    table.get(key).map(number)
}

fn rows<'a>(ingredient: &'a Table, key: &str) -> Vec<&'a Table> {
    ingredient
        .get(key)
        .map(|v| v.as_array().expect("an array"))
        .into_iter()
        .flatten()
        .map(|v| v.as_table().expect("a table"))
        .collect()
}

fn named(all: &[(String, Table)], id: &str) -> Table {
    all.iter()
        .find(|(_, i)| text(i, "id") == id)
        .unwrap_or_else(|| panic!("no ingredient {id}"))
        .1
        .clone()
}

/// The row number a citation points at: the digits its place starts with.
fn row_number(place: &str) -> String {
    place.chars().take_while(char::is_ascii_digit).collect()
}

/// The SR28 row a composition repeats, also when it is cited as practice with "SR28 nnnnn" in its place.
fn repeated_row(citation: &Citation) -> Option<String> {
    match citation.source.key {
        "sr28" => Some(row_number(&citation.place)),
        "practice" => citation
            .place
            .split_once("SR28 ")
            .map(|(_, after)| row_number(after)),
        _ => None,
    }
}

/// Rows of a CSV file as column name to field, with quoted fields.
fn csv(path: &Path) -> Vec<BTreeMap<String, String>> {
    let text = std::fs::read_to_string(path).expect("a readable CSV file");
    let mut records: Vec<Vec<String>> = Vec::new();
    let (mut record, mut field, mut quoted) = (Vec::new(), String::new(), false);
    let mut letters = text.chars().peekable();
    while let Some(c) = letters.next() {
        match c {
            '"' if quoted && letters.peek() == Some(&'"') => {
                field.push('"');
                letters.next();
            }
            '"' => quoted = !quoted,
            ',' if !quoted => record.push(std::mem::take(&mut field)),
            '\r' if !quoted => {}
            '\n' if !quoted => {
                record.push(std::mem::take(&mut field));
                records.push(std::mem::take(&mut record));
            }
            other => field.push(other),
        }
    }
    if !field.is_empty() || !record.is_empty() {
        record.push(field);
        records.push(record);
    }
    let header = records.remove(0);
    records
        .into_iter()
        .map(|fields| {
            assert_eq!(fields.len(), header.len(), "{}: {fields:?}", path.display());
            header.iter().cloned().zip(fields).collect()
        })
        .collect()
}

fn near(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within
}

/// The number a measure starts with in the Canadian file: "1 bulb", "1/2 bird", "100ml".
fn leading_count(measure: &str) -> Option<f64> {
    let word = measure.split_whitespace().next()?;
    match word.split_once('/') {
        Some((a, b)) => Some(a.parse::<f64>().ok()? / b.parse::<f64>().ok()?),
        None => word.parse().ok(),
    }
}

#[test]
fn the_table_is_large_enough_and_uses_only_the_keys_of_the_format() {
    let all = ingredients();
    assert!(all.len() >= 170, "{} ingredients", all.len());
    for (file, i) in &all {
        let id = text(i, "id");
        for key in i.keys() {
            assert!(KEYS.contains(&key.as_str()), "{file}, {id}: key {key}");
        }
        let kebab = id
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        assert!(kebab && !id.starts_with('-') && !id.ends_with('-'), "{id}");
        assert_eq!(text(i, "name"), text(i, "name").to_lowercase(), "{id}");
        if let Some(role) = i.get("role") {
            let role = role.as_str().expect("a word");
            assert!(ROLES.contains(&role), "{id}: role {role}");
        }
        if let Some(family) = i.get("family") {
            assert!(
                ["salt", "sugar"].contains(&family.as_str().expect("a word")),
                "{id}"
            );
        }
    }
}

#[test]
fn no_word_means_two_ingredients_and_no_bare_salt_or_sugar_is_claimed() {
    let mut owner: BTreeMap<String, String> = BTreeMap::new();
    let mut ids = BTreeSet::new();
    for (file, i) in &ingredients() {
        let id = text(i, "id").to_owned();
        assert!(ids.insert(id.clone()), "{file}: id {id} twice");
        let mut words = vec![id.clone(), text(i, "name").to_owned()];
        let also: Vec<String> = i
            .get("also")
            .map(|v| v.as_array().expect("an array"))
            .into_iter()
            .flatten()
            .map(|v| v.as_str().expect("a word").to_owned())
            .collect();
        for word in &also {
            assert!(
                !words.contains(word),
                "{id}: {word} repeats its own id or name"
            );
        }
        words.extend(also);
        for word in words {
            // The bench may type hyphens, blanks or no apostrophe: those must not change the meaning.
            let plain = word.to_lowercase().replace('-', " ").replace('\'', "");
            assert!(
                !["salt", "sugar", "vinegar", "kosher salt", "pink salt"].contains(&plain.as_str()),
                "{id}: {word} is ambiguous"
            );
            let first = owner.entry(plain).or_insert_with(|| id.clone());
            assert_eq!(*first, id, "{file}: the word {word}");
        }
    }
}

#[test]
fn every_figure_names_a_source_of_the_list() {
    for (file, i) in &ingredients() {
        let id = text(i, "id");
        let mut cited = vec![];
        for key in ["composition", "allergens", "origin"] {
            cited.extend(i.get(key).map(|v| v.as_table().expect("a table")));
        }
        for key in ["density", "trim", "each"] {
            let r = rows(i, key);
            assert!(
                i.get(key).is_none() || !r.is_empty(),
                "{file}, {id}: empty {key}"
            );
            cited.extend(r);
        }
        for table in cited {
            let source = text(table, "source");
            assert!(
                Citation::read(source).is_some(),
                "{file}, {id}: unknown source {source}"
            );
        }
    }
}

#[test]
fn percentages_and_weights_are_possible() {
    for (file, i) in &ingredients() {
        let at = format!("{file}, {}", text(i, "id"));
        if let Some(c) = i.get("composition") {
            let c = c.as_table().expect("a table");
            for key in c.keys() {
                let known = PERCENTAGES.contains(&key.as_str())
                    || ["sodium_mg", "source"].contains(&key.as_str());
                assert!(known, "{at}: composition key {key}");
            }
            for key in PERCENTAGES {
                if let Some(x) = figure(c, key) {
                    assert!((0.0..=100.0).contains(&x), "{at}: {key} {x}");
                }
            }
            let sum: f64 = PARTS.iter().filter_map(|k| figure(c, k)).sum();
            assert!(sum <= 103.0, "{at}: parts sum to {sum}");
            if let (Some(carbohydrate), Some(sugars)) =
                (figure(c, "carbohydrate"), figure(c, "sugars"))
            {
                // Sugars are measured, carbohydrate is by difference: SR28 milk (01077) has 5.05 in 4.80, the widest gap.
                assert!(sugars <= carbohydrate + 0.251, "{at}: sugars {sugars}");
            }
            // Salt is part of the ash: more salt than ash is a contradiction inside the row.
            if let (Some(salt), Some(ash)) = (figure(c, "salt"), figure(c, "ash")) {
                assert!(salt <= ash + 0.051, "{at}: salt {salt} in ash {ash}");
            }
            if let Some(mg) = figure(c, "sodium_mg") {
                assert!((0.0..=39_400.0).contains(&mg), "{at}: sodium {mg} mg");
            }
        }
        for d in rows(i, "density") {
            let x = figure(d, "g_per_ml").expect("a density");
            assert!((0.02..2.0).contains(&x), "{at}: {x} g/mL");
        }
        for t in rows(i, "trim") {
            let y = figure(t, "yield").expect("a yield");
            assert!(y > 0.0 && y <= 1.0, "{at}: yield {y}");
            let (low, high) = (
                figure(t, "low").unwrap_or(y),
                figure(t, "high").unwrap_or(y),
            );
            assert!(low <= y && y <= high && high <= 1.0, "{at}: {low}..{high}");
        }
        for e in rows(i, "each") {
            assert!(figure(e, "g").expect("a weight") > 0.0, "{at}");
        }
        let curing = i.get("role").and_then(Value::as_str) == Some("curing-salt");
        assert_eq!(
            curing,
            i.contains_key("nitrite_pct"),
            "{at}: nitrite belongs to curing salts"
        );
        if curing {
            let salt = figure(i["composition"].as_table().expect("a table"), "salt");
            let sum = salt.expect("the carrier salt")
                + figure(i, "nitrite_pct").unwrap_or(0.0)
                + figure(i, "nitrate_pct").unwrap_or(0.0);
            assert!(near(sum, 100.0, 1e-9), "{at}: parts sum to {sum}");
        }
    }
}

#[test]
fn allergens_are_stated_for_every_ingredient_in_known_words() {
    let all = ingredients();
    for (file, i) in &all {
        let at = format!("{file}, {}", text(i, "id"));
        let a = i.get("allergens").and_then(Value::as_table);
        let a = a.unwrap_or_else(|| panic!("{at}: no allergen statement"));
        assert!(a.contains_key("contains"), "{at}");
        for key in ["contains", "may"] {
            for word in a
                .get(key)
                .map(|v| v.as_array().expect("an array"))
                .into_iter()
                .flatten()
            {
                let word = word.as_str().expect("a word");
                assert!(ALLERGENS.contains(&word), "{at}: {word}");
            }
        }
    }
    // Common practice, no source: what each of these holds by nature.
    for (id, allergen) in [
        ("arctic-char", "fish"),
        ("lobster", "crustacean"),
        ("mussel", "mollusc"),
        ("buttermilk", "milk"),
        ("egg-yolk", "egg"),
        ("celeriac", "celery"),
        ("mustard-seed", "mustard"),
        ("mustard-dijon", "mustard"),
        ("rye-bread", "rye"),
        ("rye-bread", "wheat"),
        ("walnut", "walnut"),
        ("pine-nut", "pine-nut"),
        ("beer", "barley"),
        ("sesame-seed", "sesame"),
        ("soy-sauce", "soy"),
    ] {
        let i = named(&all, id);
        let holds = i["allergens"]["contains"].as_array().expect("an array");
        assert!(
            holds.iter().any(|v| v.as_str() == Some(allergen)),
            "{id}: {allergen}"
        );
    }
}

#[test]
fn volume_weights_agree_with_fifty_five_household_measures_of_sr28() {
    assert!(MEASURES.len() >= 40);
    let all = ingredients();
    for (ndb, measure, grams, ml, id, form) in MEASURES {
        let i = named(&all, id);
        let ours = rows(&i, "density")
            .into_iter()
            .find(|d| text(d, "form") == *form)
            .unwrap_or_else(|| panic!("{id}: no form {form}"));
        assert_eq!(text(ours, "source"), format!("sr28:{ndb}"), "{id}, {form}");
        let (got, want) = (figure(ours, "g_per_ml").expect("a density"), grams / ml);
        assert!(
            (got / want - 1.0).abs() < 0.01,
            "{id}, {form}: {got} g/mL, but {measure} = {grams} g is {want}"
        );
    }
}

/// Common practice, no source, except where said: figures worked recipes lean on.
#[test]
fn figures_the_worked_examples_lean_on() {
    const CUP_ML: f64 = 236.588_236_5; // exact: 231 cubic inches / 16
    let all = ingredients();
    // Salt weights by the US cup: several commercial pages, second-hand.
    for (id, grams) in [
        ("salt-table", 288.0),
        ("salt-flake", 140.0),
        ("salt-dense", 233.0),
    ] {
        let i = named(&all, id);
        let first = rows(&i, "density")[0];
        assert_eq!(text(first, "source"), "salt-cups", "{id}");
        let cup = figure(first, "g_per_ml").expect("a density") * CUP_ML;
        assert!(near(cup, grams, 0.01), "{id}: {cup} g per cup");
    }
    let sugar = named(&all, "sugar-white");
    let cup = figure(rows(&sugar, "density")[0], "g_per_ml").expect("a density") * CUP_ML;
    assert!(near(cup, 200.0, 0.01), "sugar: {cup} g per cup");
    let water = named(&all, "water");
    assert_eq!(figure(rows(&water, "density")[0], "g_per_ml"), Some(0.998));
    for (id, acetic) in [
        ("vinegar-cider", 5.0),
        ("vinegar-white", 5.0),
        ("vinegar-wine-white", 6.0),
        ("vinegar-rice", 4.3),
        ("vinegar-spirit", 10.0),
    ] {
        let c = named(&all, id)["composition"]
            .as_table()
            .expect("a table")
            .clone();
        assert_eq!(figure(&c, "acetic"), Some(acetic), "{id}");
        // The strength is what the label says, so the row may not pass as a table that was read.
        let status = Citation::read(text(&c, "source"))
            .expect("known")
            .source
            .status;
        assert_eq!(status, Status::CommonPractice, "{id}");
    }
    for (id, first_yield) in [
        ("fennel-bulb", 0.75),
        ("kohlrabi", 0.70),
        ("cucumber", 0.92),
        ("daikon", 0.82),
        ("cauliflower", 0.60),
        ("dill", 0.50),
        ("garlic", 0.82),
        ("arctic-char", 0.62),
        ("duck-breast", 0.92),
    ] {
        let i = named(&all, id);
        assert_eq!(
            figure(rows(&i, "trim")[0], "yield"),
            Some(first_yield),
            "{id}"
        );
    }
    let no1 = named(&all, "curing-salt-1");
    assert_eq!(figure(&no1, "nitrite_pct"), Some(6.25));
    let garlic = named(&all, "garlic");
    assert_eq!(figure(rows(&garlic, "each")[0], "g"), Some(3.0));
}

#[test]
fn readme_counts_the_figures_as_they_are() {
    let mut count: BTreeMap<&str, usize> = BTreeMap::new();
    let all = ingredients();
    for (_, i) in &all {
        let mut add = |source: &str, n: usize| {
            let status = Citation::read(source).expect("known").source.status;
            *count.entry(status.words()).or_default() += n;
        };
        if let Some(c) = i.get("composition").and_then(Value::as_table) {
            add(text(c, "source"), c.len() - 1);
        }
        for key in ["density", "trim", "each"] {
            for r in rows(i, key) {
                add(text(r, "source"), 1);
            }
        }
    }
    let readme = std::fs::read_to_string(data_folder().join("README.md")).expect("README.md");
    let size = format!("**{} ingredients**", all.len());
    assert!(readme.contains(&size), "README.md should say {size}");
    for (words, n) in count {
        let line = format!("| {words} | {n} |");
        assert!(readme.contains(&line), "README.md should hold {line}");
    }
}

#[test]
fn every_carried_over_figure_equals_its_row() {
    let folder = shared_folder();
    if !folder.is_dir() {
        println!(
            "comparison skipped: no folder {} (the tables are not part of the project); {} household measures were compared",
            folder.display(),
            MEASURES.len()
        );
        return;
    }
    let by = |name: &str, key: &str| {
        let mut map: BTreeMap<String, Vec<BTreeMap<String, String>>> = BTreeMap::new();
        for row in csv(&folder.join(name)) {
            map.entry(row[key].clone()).or_default().push(row);
        }
        map
    };
    let sr_food = by("usda_sr28_subset_composition.csv", "ndb_no");
    let sr_measure = by("usda_sr28_subset_measures.csv", "ndb_no");
    let cnf_refuse = by("cnf_refuse.csv", "food_code");
    let cnf_measure = by("cnf_measures.csv", "food_code");
    let value = |row: &BTreeMap<String, String>, key: &str| row[key].parse::<f64>().ok();
    let mut compared: BTreeMap<&str, usize> = BTreeMap::new();

    for (_, i) in &ingredients() {
        let id = text(i, "id");
        if let Some(c) = i.get("composition").and_then(Value::as_table) {
            let citation = Citation::read(text(c, "source")).expect("known");
            if let Some(ndb) = repeated_row(&citation) {
                let food = &sr_food
                    .get(&ndb)
                    .unwrap_or_else(|| panic!("{id}: no row {ndb}"))[0];
                let whole_row = citation.source.key == "sr28";
                for (key, column) in COLUMNS {
                    match (figure(c, key), value(food, column)) {
                        (Some(ours), Some(theirs)) => {
                            assert!(
                                near(ours, theirs, 1e-9),
                                "{id}: {key} {ours}, row {ndb} {theirs}"
                            );
                            *compared.entry("composition").or_default() += 1;
                        }
                        (Some(ours), None) => {
                            panic!("{id}: {key} {ours}, but row {ndb} is blank");
                        }
                        (None, Some(theirs)) => {
                            assert!(!whole_row, "{id}: {key} left out, row {ndb} has {theirs}");
                        }
                        (None, None) => {}
                    }
                }
                if let Some(salt) = figure(c, "salt") {
                    let from_ash = value(food, "ash_g").expect("ash");
                    let from_sodium =
                        value(food, "sodium_mg").expect("sodium") * SALT_PER_SODIUM / 1000.0;
                    let pure = i.get("role").and_then(Value::as_str) == Some("salt");
                    let want = if pure { from_ash } else { from_sodium };
                    assert!(near(salt, want, 0.0051), "{id}: salt {salt}, want {want}");
                    *compared.entry("salt").or_default() += 1;
                }
            }
            // A vinegar's label strength lies within half a point of what its row is short of 100.
            if let (Some(acetic), Some(ndb)) = (figure(c, "acetic"), repeated_row(&citation)) {
                let short = 100.0 - value(&sr_food[&ndb][0], "sum_proximates_g").expect("sum");
                assert!(near(acetic, short, 0.5), "{id}: {acetic} against {short}");
            }
        }
        for d in rows(i, "density") {
            let citation = Citation::read(text(d, "source")).expect("known");
            let ours = figure(d, "g_per_ml").expect("a density");
            let number = row_number(&citation.place);
            let measures = match citation.source.key {
                "sr28" => &sr_measure[&number],
                "cnf" => &cnf_measure[&number],
                _ => continue,
            };
            // The note says which measure it was: its grams must be those of a row with this very density.
            let note = text(d, "note");
            let grams: f64 = note
                .split_once(" = ")
                .and_then(|(_, after)| after.split(" g").next())
                .and_then(|g| g.parse().ok())
                .unwrap_or_else(|| panic!("{id}: no grams in {note}"));
            let found = measures.iter().any(|m| {
                value(m, "g_per_ml").is_some_and(|x| near(x, ours, 1e-4))
                    && near(value(m, "grams").unwrap_or(-1.0), grams, 1e-6)
            });
            assert!(found, "{id}: {ours} g/mL, {note}, not in row {number}");
            *compared.entry("density").or_default() += 1;
        }
        for t in rows(i, "trim") {
            let citation = Citation::read(text(t, "source")).expect("known");
            let number = row_number(&citation.place);
            let refuse = match citation.source.key {
                "sr28" => value(&sr_food[&number][0], "refuse_pct"),
                "cnf" => cnf_refuse[&number]
                    .iter()
                    .find(|r| r["refuse_desc"] == "total refuse")
                    .or_else(|| (cnf_refuse[&number].len() == 1).then(|| &cnf_refuse[&number][0]))
                    .and_then(|r| value(r, "refuse_pct")),
                _ => continue,
            };
            let want = 1.0 - refuse.unwrap_or_else(|| panic!("{id}: no waste in {number}")) / 100.0;
            let ours = figure(t, "yield").expect("a yield");
            assert!(near(ours, want, 1e-9), "{id}: yield {ours}, row {want}");
            *compared.entry("trim").or_default() += 1;
        }
        for e in rows(i, "each") {
            let citation = Citation::read(text(e, "source")).expect("known");
            let number = row_number(&citation.place);
            let half = text(e, "word").starts_with("half ");
            let (ours, found) = (
                figure(e, "g").expect("a weight"),
                match citation.source.key {
                    "sr28" => &sr_measure[&number],
                    "cnf" => &cnf_measure[&number],
                    _ => continue,
                },
            );
            let fits = found.iter().any(|m| {
                let count = match citation.source.key {
                    "sr28" => value(m, "amount"),
                    _ => leading_count(&m["measure"]),
                };
                let grams = value(m, "grams").expect("grams");
                match count {
                    Some(0.5) if half => near(ours, grams, 1e-3),
                    Some(n) => near(ours, grams / n, 1e-3),
                    None => false,
                }
            });
            assert!(
                fits,
                "{id}: {} = {ours} g is not in row {number}",
                text(e, "word")
            );
            *compared.entry("each").or_default() += 1;
        }
    }
    for (ndb, measure, grams, ml, ..) in MEASURES {
        let fits = sr_measure[*ndb].iter().any(|m| {
            m["measure"] == *measure
                && near(value(m, "grams").expect("grams"), *grams, 1e-9)
                && near(value(m, "us_volume_ml").unwrap_or(-1.0), *ml, 0.01)
        });
        assert!(fits, "{ndb}, {measure}: the copy in this test is wrong");
        *compared.entry("measures of this test").or_default() += 1;
    }
    println!("compared with the tables: {compared:?}");
    assert!(compared["composition"] > 2000 && compared["density"] > 200 && compared["trim"] > 200);
}

/// What the words of an origin are held against: the file a food stands in and what its name says (common practice, no
/// source). Five additives of which nobody said what they are made from state nothing.
#[test]
fn origins_are_stated_where_somebody_can_say() {
    let all = ingredients();
    let mut silent = Vec::new();
    for (file, i) in &all {
        let id = text(i, "id");
        let Some(origin) = i.get("origin").and_then(Value::as_table) else {
            silent.push(id.to_owned());
            continue;
        };
        let from: Vec<&str> = origin["from"]
            .as_array()
            .expect("an array")
            .iter()
            .map(|v| v.as_str().expect("a word"))
            .collect();
        assert!(!from.is_empty(), "{id}");
        let expected: &[&str] = match file.as_str() {
            "fruit.toml" | "herb-spice.toml" => &["plant"],
            "vegetable.toml" => &["plant", "fungus"],
            "fish.toml" => &["fish", "shellfish"],
            "meat.toml" => &["pork", "beef", "poultry", "game"],
            "dairy-egg.toml" => &["milk", "egg"],
            _ => continue,
        };
        assert!(from.iter().all(|w| expected.contains(w)), "{id}: {from:?}");
        for (part, word) in [
            ("pork", "pork"),
            ("bacon", "pork"),
            ("duck-breast", "poultry"),
        ] {
            assert!(!id.starts_with(part) || from == [word], "{id}: {from:?}");
        }
    }
    silent.sort();
    assert_eq!(
        silent,
        [
            "ascorbic-acid",
            "citric-acid",
            "lecithin",
            "sodium-erythorbate",
            "xanthan"
        ]
    );
}
