//! The report on disk is the report of the code, and no check lies outside its tolerance.

#![allow(clippy::unwrap_used, clippy::panic)] // a test file: a table that does not read ends it

use std::sync::LazyLock;

use validation::{Check, MISSES, Miss, Verdict, checks, render};

/// Asked once: the finite volumes and the draws take some seconds unoptimized.
static CHECKS: LazyLock<Vec<Check>> = LazyLock::new(|| checks().unwrap());

/// Fewer would be a report that lost its tables.
const FEWEST_CHECKS: usize = 120;

#[test]
fn the_report_on_disk_is_what_would_be_written() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/REPORT.md");
    let on_disk = std::fs::read_to_string(path).unwrap();
    let would_be = render(&CHECKS);
    if let Some((n, (found, expected))) = on_disk
        .lines()
        .zip(would_be.lines())
        .enumerate()
        .find(|(_, (a, b))| a != b)
    {
        panic!(
            "REPORT.md, line {}: found\n{found}\nexpected\n{expected}\nrun cargo run -p saltern-validation and look at what moved",
            n + 1
        );
    }
    assert_eq!(
        on_disk.len(),
        would_be.len(),
        "run cargo run -p saltern-validation"
    );
}

#[test]
fn every_check_is_within_its_tolerance_or_its_miss_was_looked_at() {
    let all = &*CHECKS;
    let missed: Vec<String> = all
        .iter()
        .filter(|check| check.verdict() != Verdict::Within && Miss::of(check).is_none())
        .map(|check| {
            format!(
                "{} {} {}: ours {:?}, theirs {} {}, tolerance {}",
                check.phenomenon,
                check.case.quantity,
                check.case.inputs_text(),
                check.ours,
                check.case.value,
                check.case.unit,
                check.tolerance.most
            )
        })
        .collect();
    assert!(
        missed.is_empty(),
        "{} of {}:\n{}",
        missed.len(),
        all.len(),
        missed.join("\n")
    );
}

#[test]
fn a_miss_that_is_none_any_more_is_taken_off_the_list() {
    let all = &*CHECKS;
    for miss in MISSES {
        let still = all
            .iter()
            .any(|check| check.verdict() != Verdict::Within && Miss::of(check) == Some(miss));
        assert!(still, "{miss:?}");
    }
}

#[test]
fn there_are_enough_checks_and_none_twice() {
    let all = &*CHECKS;
    assert!(all.len() >= FEWEST_CHECKS, "{}", all.len());
    for (n, check) in all.iter().enumerate() {
        let twin = all[..n]
            .iter()
            .find(|other| other.phenomenon == check.phenomenon && other.case == check.case);
        assert!(twin.is_none(), "{:?}", check.case);
    }
}

/// Every folder says what its tables are and how they were obtained.
#[test]
fn every_phenomenon_has_a_source_page() {
    for phenomenon in validation::phenomena() {
        let path = format!(
            "{}/{}/SOURCE.md",
            env!("CARGO_MANIFEST_DIR"),
            phenomenon.key
        );
        let text = std::fs::read_to_string(&path).unwrap_or_default();
        for word in ["What", "How obtained", "Status", "Licence"] {
            assert!(text.contains(word), "{path}: no \"{word}\"");
        }
    }
}
