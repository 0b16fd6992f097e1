//! What programs may lean on: the names of `plan --json`, contract 1, the exit codes, and that every text
//! fits the screen.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeSet;
use std::process::Command;

use serde_json::Value;

/// Widest line the program may print, in characters.
const COLUMNS: usize = 100;

const EVENTS: [&str; 3] = ["harvest-supper", "duck-class", "orchard-lunch"];

/// Names of contract 1, by place; more names are allowed, fewer are not.
const NAMES: [(&str, &str); 10] = [
    (
        "",
        "contract event components order cost schedule verdicts figures",
    ),
    ("event", "id name serve covers plates"),
    (
        "components/*",
        "id name portion_g served_need_g chain raw_need_g buy_g made_g portions_made lines lot",
    ),
    (
        "components/*/lines/*",
        "step item of_base_pct base base_g amount_g",
    ),
    (
        "components/*/lot",
        "water_phase_salt_pct salt_pct water_pct water_activity sugar_pct nitrite_ppm acetic_pct",
    ),
    (
        "order/*",
        "supplier item need_g need_packs packs pack_g price cost_needed cost_bought order_by edge",
    ),
    (
        "cost",
        "currency food_needed food_bought per_cover_needed per_cover_bought labour_min labour prime_per_cover",
    ),
    ("schedule", "status bound value tasks"),
    (
        "schedule/tasks/*",
        "id component step what start end people machines earliest latest",
    ),
    ("schedule/tasks/*/machines/*", "machine amount"),
];

struct Told {
    out: String,
    err: String,
    exit: i32,
}

fn saltern(words: &[&str]) -> Told {
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(words)
        .output()
        .unwrap();
    Told {
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
        exit: output.status.code().expect("not ended by a signal"),
    }
}

fn json(words: &[&str]) -> Value {
    let told = saltern(words);
    serde_json::from_str(&told.out)
        .unwrap_or_else(|e| panic!("{words:?}: {e}\n{}\n{}", told.out, told.err))
}

/// Everything at a place; `*` stands for every entry of a list.
fn at<'v>(value: &'v Value, place: &str) -> Vec<&'v Value> {
    let mut here = vec![value];
    for name in place.split('/').filter(|n| !n.is_empty()) {
        here = here
            .into_iter()
            .flat_map(|v| match name {
                "*" => v.as_array().map(|l| l.iter().collect()).unwrap_or_default(),
                _ => vec![&v[name]],
            })
            .collect();
    }
    here
}

fn holds(value: &Value, place: &str, names: &str) {
    let all = at(value, place);
    assert!(!all.is_empty(), "nothing at {place}");
    for v in all {
        let there: BTreeSet<&str> = v
            .as_object()
            .unwrap_or_else(|| panic!("{place} is {v}"))
            .keys()
            .map(String::as_str)
            .collect();
        let lost: Vec<&str> = names.split(' ').filter(|n| !there.contains(n)).collect();
        assert!(lost.is_empty(), "{place} lacks {lost:?}: {v}");
    }
}

#[test]
fn the_plan_for_programs_has_every_name_of_contract_one() {
    for event in EVENTS {
        let plan = json(&["plan", "demo", event, "--json"]);
        assert_eq!(plan["contract"], 1);
        assert_eq!(plan["event"]["id"], event);
        for (place, names) in NAMES {
            holds(&plan, place, names);
        }
        holds(
            &plan,
            "verdicts/*",
            "id component rule verdict value limit unit margin source status",
        );
        for figure in plan["figures"].as_object().unwrap().values() {
            holds(figure, "", "value unit base from formula source");
        }
        // An hour is an instant with its offset and zone.
        let serve = plan["event"]["serve"].as_str().unwrap();
        assert!(
            serve.ends_with("[America/Toronto]") && serve.contains("-04:00"),
            "{serve}"
        );
        for place in [
            "schedule/tasks/*/start",
            "schedule/tasks/*/end",
            "schedule/tasks/*/earliest",
            "schedule/tasks/*/latest",
        ] {
            for v in at(&plan, place) {
                assert!(
                    v.as_str().is_some_and(|s| s.ends_with("[America/Toronto]")),
                    "{place}: {v}"
                );
            }
        }
        for v in at(&plan, "verdicts/*/verdict") {
            assert!(
                ["shown", "not shown", "broken"].contains(&v.as_str().unwrap()),
                "{v}"
            );
        }
    }
}

#[test]
fn the_schedule_says_proved_feasible_or_impossible() {
    let words = |set: &[&str]| {
        let mut all = vec!["plan", "demo", "harvest-supper", "--json"];
        all.extend(set.iter().flat_map(|s| ["--set", s]));
        json(&all)["schedule"]["status"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(words(&[]), "proved");
    assert_eq!(words(&["machine.smoker=off"]), "impossible");
    assert!(["proved", "feasible"].contains(&words(&["covers=72"]).as_str()));
}

#[test]
fn a_plan_without_a_clock_tells_ways_out_and_each_can_be_pasted() {
    let clash = "delivery.arctic-char-whole=2027-10-06T20:30";
    let words = ["plan", "demo", "harvest-supper", "--set", clash];
    let plan = json(&[&words[..], &["--json"]].concat());
    assert_eq!(plan["schedule"]["status"], "impossible");
    holds(&plan, "ways_out", "ways others plans cut_short");
    holds(
        &plan,
        "ways_out/ways/*",
        "sort what settings status food_by labour_by consequences",
    );
    let text = saltern(&words).out;
    assert!(text.contains("WAYS OUT"), "{text}");
    for way in at(&plan, "ways_out/ways/*") {
        let mut again = words.to_vec();
        for setting in way["settings"].as_array().unwrap() {
            again.extend(["--set", setting.as_str().unwrap()]);
        }
        let told = json(&[&again[..], &["--json"]].concat());
        assert!(
            ["proved", "feasible"].contains(&told["schedule"]["status"].as_str().unwrap()),
            "{again:?}"
        );
        assert!(told["ways_out"].is_null());
        let pasted = format!("--set {}", way["settings"][0].as_str().unwrap());
        assert!(text.contains(&pasted), "{pasted} in {text}");
    }
}

#[test]
fn unknown_is_null_and_never_zero() {
    let plan = json(&["plan", "demo", "harvest-supper", "--json"]);
    // Nothing yet computes a water activity.
    assert!(
        at(&plan, "components/*/lot/water_activity")
            .iter()
            .all(|v| v.is_null())
    );
    let char = &plan["components"][0]["lot"];
    // The book does not say what part of the sugar stays in the fish.
    assert!(char["sugar_pct"].is_null(), "{char}");
    assert!(char["nitrite_ppm"].is_null(), "{char}");
    // Lemons are bought by the piece: no grams.
    let lemon = at(&plan, "order/*")
        .into_iter()
        .find(|l| l["item"] == "lemon")
        .unwrap()
        .clone();
    assert!(
        lemon["need_g"].is_null() && lemon["pack_g"].is_null(),
        "{lemon}"
    );
}

#[test]
fn the_exit_code_is_0_for_a_plan_1_for_none_or_a_broken_verdict_2_for_bad_input() {
    for event in EVENTS {
        assert_eq!(saltern(&["plan", "demo", event]).exit, 0, "{event}");
        assert_eq!(
            saltern(&["plan", "demo", event, "--json"]).exit,
            0,
            "{event}"
        );
    }
    assert_eq!(saltern(&["check", "demo"]).exit, 0);
    assert_eq!(
        saltern(&["why", "demo", "harvest-supper", "cost.food_bought"]).exit,
        0
    );
    assert_eq!(
        saltern(&["compare", "demo", "harvest-supper", "--set", "covers=61"]).exit,
        0
    );
    // No clock.
    for command in ["plan", "compare"] {
        assert_eq!(
            saltern(&[
                command,
                "demo",
                "harvest-supper",
                "--set",
                "machine.smoker=off"
            ])
            .exit,
            1,
            "{command}"
        );
        // A verdict is broken: too much nitrite for these rules.
        assert_eq!(
            saltern(&[command, "demo", "duck-class", "--set", "site.rules=eu"]).exit,
            1,
            "{command}"
        );
    }
    // Bad input: words, event, key, value, book.
    for words in [
        &["plan", "demo"][..],
        &["plan", "demo", "nothing"],
        &["plan", "demo", "harvest-supper", "--set", "colour=red"],
        &["plan", "demo", "harvest-supper", "--set", "covers=0"],
        &["plan", "/no/such/book", "harvest-supper"],
        &["why", "demo", "harvest-supper", "no.figure"],
        &["compare", "demo", "harvest-supper"],
        &["fly"],
        &["--colour"],
    ] {
        let told = saltern(words);
        assert_eq!(told.exit, 2, "{words:?}: {}", told.err);
        assert!(
            told.out.is_empty(),
            "{words:?} prints to the standard output: {}",
            told.out
        );
        assert!(!told.err.is_empty(), "{words:?} says nothing");
    }
}

#[test]
fn why_and_compare_speak_json_too() {
    let why = json(&[
        "why",
        "demo",
        "harvest-supper",
        "cost.per_cover_bought",
        "--json",
    ]);
    assert_eq!(why["contract"], 1);
    let figures = why["figures"].as_object().unwrap();
    assert!(figures.len() > 50, "{} figures", figures.len());
    // Closed under `from`: the whole derivation is there.
    for (id, figure) in figures {
        for from in figure["from"].as_array().unwrap() {
            assert!(
                figures.contains_key(from.as_str().unwrap()),
                "{id} needs {from}"
            );
        }
    }
    let compare = json(&[
        "compare",
        "demo",
        "harvest-supper",
        "--set",
        "serve=+90min",
        "--json",
    ]);
    holds(
        &compare,
        "",
        "contract because status moved stayed clash weights food labour food_by labour_by people verdicts choices",
    );
    assert_eq!(compare["because"][0], "serve=+90min");
    assert!(
        compare["moved"]
            .as_array()
            .unwrap()
            .iter()
            .any(|m| m["id"] == "harvest-plate.plate" && m["by_min"] == 90)
    );
    let both = json(&[
        "plan",
        "demo",
        "harvest-supper",
        "--with",
        "orchard-lunch",
        "--json",
    ]);
    assert!(both["order_merged"].is_array(), "{}", both["order_merged"]);
}

/// Words a kitchen may put into the program, and what may happen to it on the way.
fn texts() -> Vec<Vec<&'static str>> {
    let mut all = vec![vec!["check", "demo"]];
    for event in EVENTS {
        all.push(vec!["plan", "demo", event]);
        all.push(vec!["why", "demo", event, "cost.per_cover_bought"]);
        all.push(vec!["why", "demo", event, "cost.prime_per_cover"]);
        for set in [
            "covers=1",
            "covers=37",
            "covers=72",
            "covers=500",
            "covers=100000",
            "serve=+90min",
            "serve=-1h",
            "people=-1",
            "people=-2",
            "machine.walk-in=off",
            "site.rules=eu",
            "site.rules=canada",
        ] {
            all.push(vec!["plan", "demo", event, "--set", set]);
            all.push(vec!["compare", "demo", event, "--set", set]);
        }
    }
    for set in [
        "hot-smoked-char.fillet.yield=0.58",
        "hot-smoked-char.fillet.weighed=52200 g",
        "hot-smoked-char.cure.thickness=34mm",
        "hot-smoked-char.portion=45 g",
        "machine.smoker=off",
        "delivery.arctic-char-whole=2027-10-05T13:30",
        "price.arctic-char-whole=31.25",
    ] {
        all.push(vec!["compare", "demo", "harvest-supper", "--set", set]);
    }
    all.push(vec![
        "compare",
        "demo",
        "duck-class",
        "--set",
        "dry-cured-duck-breast.per=pair",
    ]);
    all.push(vec![
        "plan",
        "demo",
        "harvest-supper",
        "--with",
        "orchard-lunch",
        "--with",
        "duck-class",
    ]);
    all.push(vec![
        "why",
        "demo",
        "harvest-supper",
        "hot-smoked-char.lot.water_phase_salt_pct",
    ]);
    all.push(vec![
        "why",
        "demo",
        "duck-class",
        "dry-cured-duck-breast.cure.nitrite_ppm",
    ]);
    all.push(vec![
        "why",
        "demo",
        "harvest-supper",
        "clock.hot-smoked-char.rinse.start",
    ]);
    all
}

/// A fault without its command, digits and names.
fn kind(fault: &str) -> String {
    let what = fault.split_once("]: ").map_or(fault, |(_, w)| w);
    what.split_whitespace()
        .filter(|w| {
            !w.contains(|c: char| c.is_ascii_digit() || ".-#".contains(c))
                && !w.starts_with(|c: char| c.is_uppercase())
        })
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn every_text_fits_a_hundred_columns_claims_nothing_and_never_panics() {
    let mut wrong = Vec::new();
    for words in texts() {
        let told = saltern(&words);
        if told.exit != 0 && told.exit != 1 {
            wrong.push(format!("{words:?}: exit {}: {}", told.exit, told.err));
        }
        for line in told.out.lines().chain(told.err.lines()) {
            let columns = line.chars().count();
            if columns > COLUMNS {
                wrong.push(format!("{words:?}: {columns} columns: {line}"));
            }
            if line.chars().any(|c| c.is_control()) {
                wrong.push(format!("{words:?}: a control character: {line:?}"));
            }
            // Nothing here may call food safe; the word stands nowhere, so that no claim can hide in it.
            let lower = line.to_lowercase();
            for bad in ["safe", "panicked", "nan ", "inf ", "backtrace"] {
                if lower
                    .split(|c: char| !c.is_alphanumeric())
                    .any(|w| w == bad.trim())
                {
                    wrong.push(format!("{words:?}: says {bad}: {line}"));
                }
            }
        }
        if told
            .out
            .lines()
            .any(|l| l.contains("-0.0 ") || l.contains("−0.00") || l.contains("$-"))
        {
            wrong.push(format!("{words:?}: a minus that is none"));
        }
    }
    // One of a kind is enough to mend it: faults that differ in names and numbers only are told once.
    let mut kinds = BTreeSet::new();
    let told: Vec<String> = wrong
        .into_iter()
        .filter(|w| kinds.insert(kind(w)))
        .collect();
    assert!(
        told.is_empty(),
        "{} kinds of fault:\n{}",
        told.len(),
        told.join("\n")
    );
}

#[test]
fn the_json_claims_nothing_either() {
    for event in EVENTS {
        let text = saltern(&["plan", "demo", event, "--json"])
            .out
            .to_lowercase();
        assert!(
            !text
                .split(|c: char| !c.is_alphanumeric())
                .any(|w| w == "safe"),
            "{event}"
        );
        let plan: Value = serde_json::from_str(&text).unwrap();
        // A plan is no evidence: nothing of it is shown.
        assert!(
            at(&plan, "verdicts/*/verdict")
                .iter()
                .all(|v| **v != "shown"),
            "{event}"
        );
    }
}
