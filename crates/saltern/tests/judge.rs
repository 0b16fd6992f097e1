//! Logger files held against rules, as a cook asks it: the whole answer as a golden. Files and readings are invented.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used)]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

fn saltern(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_saltern"))
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/judge"))
        .arg("judge")
        .args(args)
        .output()
        .unwrap()
}

/// Exit code, what was printed, what was complained of.
fn told(args: &[&str]) -> String {
    let output = saltern(args);
    format!(
        "$ saltern judge {}\n{}{}exit {}\n",
        args.iter()
            .map(|a| if a.contains(' ') {
                format!("\"{a}\"")
            } else {
                (*a).to_owned()
            })
            .collect::<Vec<_>>()
            .join(" "),
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
        output.status.code().unwrap()
    )
}

/// The cases, by the name of their golden.
const CASES: &[(&str, &[&str])] = &[
    ("rules", &["--rules"]),
    (
        "smoke_with_a_dip",
        &[
            "smoke-with-a-dip.csv",
            "--against",
            "fish-core",
            "--probes",
            "3",
            "--column",
            "temp=Core 1 °C",
            "--column",
            "temp=Core 2 °C",
            "--column",
            "temp=Core 3 °C",
        ],
    ),
    (
        "smoke_held_after_a_dip",
        &[
            "smoke-held-after-a-dip.csv",
            "--against",
            "fish-core",
            "--probes",
            "3",
            "--place",
            "us",
            "--column",
            "temp=Core 1 °C",
            "--column",
            "temp=Core 2 °C",
            "--column",
            "temp=Core 3 °C",
        ],
    ),
    (
        "smoke_in_michigan",
        &[
            "smoke-held-after-a-dip.csv",
            "--against",
            "fish-core",
            "--air",
            "Cabinet °C",
            "--state",
            "michigan",
            "--probes",
            "3",
        ],
    ),
    (
        "state_of_another_country",
        &[
            "chill.csv",
            "--against",
            "cooling",
            "--state",
            "maine",
            "--place",
            "canada",
        ],
    ),
    (
        "unknown_air_channel",
        &["chill.csv", "--against", "cooling", "--air", "Cabnet"],
    ),
    (
        "a_probe_left_out",
        &[
            "smoke-held-after-a-dip.csv",
            "--against",
            "fish-core",
            "--probes",
            "3",
            "--column",
            "temp=Core 1 °C",
        ],
    ),
    (
        "chill",
        &[
            "chill.csv",
            "--against",
            "cooling",
            "--place",
            "us",
            "--zone",
            "America/Toronto",
        ],
    ),
    (
        "chill_in_canada",
        &[
            "chill.csv",
            "--against",
            "cooling",
            "--place",
            "canada",
            "--zone",
            "America/Toronto",
        ],
    ),
    (
        "chill_in_england",
        &["chill.csv", "--against", "cooling", "--place", "england"],
    ),
    (
        "chill_too_slow",
        &["chill-too-slow.csv", "--against", "cooling"],
    ),
    (
        "chill_with_a_gap",
        &["chill-with-a-gap.csv", "--against", "cooling"],
    ),
    (
        "chill_with_a_gap_allowed",
        &[
            "chill-with-a-gap.csv",
            "--against",
            "cooling",
            "--gap",
            "1 h",
        ],
    ),
    (
        "two_rules",
        &[
            "chill.csv",
            "--against",
            "cooling",
            "--against",
            "cold-hold",
            "--from",
            "2027-10-06 19:20",
        ],
    ),
    (
        "fridge_in_fahrenheit_with_a_lost_probe",
        &[
            "fridge-fahrenheit.csv",
            "--against",
            "cold-hold",
            "--month-first",
        ],
    ),
    (
        "fridge_day_or_month",
        &["fridge-fahrenheit.csv", "--against", "cold-hold"],
    ),
    (
        "fridge_over_the_clock_change",
        &[
            "fridge-preamble.csv",
            "--against",
            "cold-hold",
            "--zone",
            "America/Toronto",
        ],
    ),
    (
        "fridge_with_its_own_offset",
        &["fridge-preamble.csv", "--against", "cold-hold"],
    ),
    (
        "impossible_reading",
        &["impossible.csv", "--against", "cooling"],
    ),
    ("unknown_rule", &["chill.csv", "--against", "coolling"]),
    (
        "unknown_zone",
        &[
            "chill.csv",
            "--against",
            "cooling",
            "--zone",
            "America/Torontoo",
        ],
    ),
    (
        "unknown_column",
        &[
            "chill.csv",
            "--against",
            "cooling",
            "--column",
            "temp=Core 9",
        ],
    ),
    (
        "column_without_a_role",
        &["chill.csv", "--against", "cooling", "--column", "Core"],
    ),
    (
        "gap_in_words",
        &["chill.csv", "--against", "cooling", "--gap", "soon"],
    ),
    (
        "gap_of_nothing",
        &["chill.csv", "--against", "cooling", "--gap", "0 min"],
    ),
    (
        "moment_in_words",
        &["chill.csv", "--against", "cooling", "--from", "noon"],
    ),
    (
        "period_reversed",
        &[
            "chill.csv",
            "--against",
            "cooling",
            "--from",
            "2027-10-06 18:00",
            "--until",
            "2027-10-06 17:00",
        ],
    ),
    (
        "no_such_file",
        &["no-such-file.csv", "--against", "cooling"],
    ),
];

#[test]
fn every_answer_reads_as_it_did() {
    for (name, args) in CASES {
        insta::with_settings!({ snapshot_path => "snapshots/judge", prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(*name, told(args));
        });
    }
}

#[test]
fn nothing_is_wider_than_the_page_and_no_answer_promises_safety() {
    for (name, args) in CASES {
        let text = told(args);
        for line in text.lines().skip(1) {
            assert!(line.chars().count() <= 100, "{name}: {line}");
        }
        let said = text.split_once('\n').unwrap().1.to_lowercase();
        assert!(!said.contains("safe"), "{name}");
    }
}

#[test]
fn values_for_programs_say_what_the_page_says() {
    for (name, args) in CASES.iter().filter(|(name, _)| *name != "rules") {
        let (page, program) = (saltern(args), saltern(&[args, &["--json"][..]].concat()));
        assert_eq!(page.status.code(), program.status.code(), "{name}");
        if page.status.code() == Some(2) {
            continue;
        }
        let value: Value = serde_json::from_slice(&program.stdout).unwrap();
        let page = String::from_utf8(page.stdout).unwrap();
        for verdict in value["verdicts"].as_array().unwrap() {
            let head = format!(
                "{}  {}",
                verdict["verdict"].as_str().unwrap().to_uppercase(),
                verdict["rule"].as_str().unwrap()
            );
            assert!(page.contains(&head), "{name}: {head}");
        }
    }
}

#[test]
fn an_hour_that_stands_twice_on_the_clock_is_two_hours() {
    // 00:00 to 02:00 by the wall is 3 h across the end of summer time: more than 2 h 30 min of watching.
    let args = [
        "fridge-preamble.csv",
        "--against",
        "cold-hold",
        "--zone",
        "America/Toronto",
        "--json",
    ];
    let value: Value = serde_json::from_slice(&saltern(&args).stdout).unwrap();
    assert_eq!(value["file"]["channels"][0]["readings"], 7);
    assert_eq!(
        value["file"]["from"],
        "2027-11-07T00:00:00-04:00[America/Toronto]"
    );
    assert_eq!(
        value["file"]["until"],
        "2027-11-07T02:00:00-05:00[America/Toronto]"
    );
    assert_eq!(value["file"]["hours"], 3.0);
}

#[test]
fn a_log_on_the_input_is_read_like_a_file() {
    use std::io::Write;
    let mut child = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(["judge", "-", "--against", "cooling", "--json"])
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    let log = include_bytes!("judge/chill.csv");
    child.stdin.take().unwrap().write_all(log).unwrap();
    let piped: Value = serde_json::from_slice(&child.wait_with_output().unwrap().stdout).unwrap();
    let named: Value =
        serde_json::from_slice(&saltern(&["chill.csv", "--against", "cooling", "--json"]).stdout)
            .unwrap();
    assert_eq!(piped["verdicts"], named["verdicts"]);
}
