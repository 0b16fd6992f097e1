//! What was entered by hand against a rule: the whole answer as a golden. Everything entered is invented.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used)]

use std::process::Command;

fn told(args: &[&str]) -> (String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .arg("verdict")
        .args(args)
        .output()
        .unwrap();
    let code = output.status.code().unwrap();
    let said = [output.stdout, output.stderr].concat();
    let quoted: Vec<String> = args
        .iter()
        .map(|a| {
            if a.contains(' ') {
                format!("\"{a}\"")
            } else {
                (*a).to_owned()
            }
        })
        .collect();
    (
        format!(
            "$ saltern verdict {}\n{}exit {code}\n",
            quoted.join(" "),
            String::from_utf8(said).unwrap()
        ),
        code,
    )
}

/// The cases, by the name of their golden, with the exit code.
const CASES: &[(&str, i32, &[&str])] = &[
    (
        "farmed_char_hot_smoked",
        0,
        &[
            "fish",
            "--species",
            "arctic char",
            "--origin",
            "farmed",
            "--pellets",
            "yes",
            "--heated",
        ],
    ),
    (
        "farmed_salmon_on_pellets",
        0,
        &[
            "fish",
            "--species",
            "atlantic salmon",
            "--origin",
            "farmed",
            "--pellets",
            "yes",
        ],
    ),
    (
        "wild_salmon_never_frozen",
        1,
        &[
            "fish",
            "--species",
            "coho salmon",
            "--origin",
            "wild",
            "--never-frozen",
        ],
    ),
    (
        "wild_salmon_in_the_eu",
        0,
        &[
            "fish",
            "--species",
            "coho salmon",
            "--origin",
            "wild",
            "--place",
            "eu",
        ],
    ),
    (
        "salt_at_the_thickest_place",
        0,
        &[
            "salt",
            "--sample",
            "3, thickest, 2.6 %, 62.0 %",
            "--pack",
            "air",
            "--state",
            "maine",
        ],
    ),
    (
        "salt_as_a_mean",
        0,
        &[
            "salt",
            "--sample",
            "3, blended, 2.53 %, 62.1 %",
            "--pack",
            "no-oxygen",
        ],
    ),
    (
        "salt_too_little",
        1,
        &[
            "salt",
            "--sample",
            "3, thickest, 2.0 %, 63.0 %",
            "--pack",
            "no-oxygen",
        ],
    ),
    (
        "date_with_days_in_the_freezer",
        0,
        &[
            "date",
            "--made",
            "2027-06-16",
            "--frozen",
            "2027-06-18 to 2027-06-25",
            "--eaten",
            "2027-06-28",
        ],
    ),
    (
        "date_of_the_oldest_part",
        1,
        &[
            "date",
            "--made",
            "2027-06-16",
            "--made",
            "2027-06-20",
            "--eaten",
            "2027-06-23",
        ],
    ),
    (
        "piece_that_took_too_much",
        1,
        &[
            "pieces",
            "--piece",
            "1, 150",
            "--piece",
            "4, 210",
            "--product",
            "whole",
            "--how",
            "pumped",
        ],
    ),
    (
        "nitrite_in_trout",
        1,
        &[
            "pieces",
            "--piece",
            "1, 10",
            "--product",
            "fish",
            "--how",
            "dry",
        ],
    ),
    (
        "sample_in_words",
        2,
        &["salt", "--sample", "loin", "--pack", "air"],
    ),
    (
        "salt_and_water_above_the_whole",
        2,
        &[
            "salt",
            "--sample",
            "3, thickest, 60 %, 62.0 %",
            "--pack",
            "air",
        ],
    ),
    (
        "eaten_before_made",
        2,
        &["date", "--made", "2027-06-16", "--eaten", "2027-06-10"],
    ),
    (
        "day_not_in_the_calendar",
        2,
        &["date", "--made", "2027-02-30", "--eaten", "2027-06-10"],
    ),
    (
        "pellets_of_a_wild_fish",
        2,
        &[
            "fish",
            "--species",
            "coho salmon",
            "--origin",
            "wild",
            "--pellets",
            "yes",
        ],
    ),
    (
        "piece_without_a_figure",
        2,
        &[
            "pieces",
            "--piece",
            "4",
            "--product",
            "whole",
            "--how",
            "pumped",
        ],
    ),
];

#[test]
fn every_answer_reads_as_it_did_and_none_is_shown() {
    for (name, code, args) in CASES {
        let (text, found) = told(args);
        assert_eq!(found, *code, "{text}");
        assert!(
            !text.contains("\nSHOWN"),
            "typed figures show nothing: {text}"
        );
        for line in text.lines().skip(1) {
            assert!(line.chars().count() <= 100, "{line}");
        }
        insta::with_settings!({ snapshot_path => "snapshots/verdict", prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(*name, text);
        });
    }
}
