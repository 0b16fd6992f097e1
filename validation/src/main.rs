//! Runs every outside check and writes `validation/REPORT.md`.
//!
//! Exit code 1 when a check lies outside its tolerance and nobody has looked at it, or the report could not be written.

#![allow(clippy::print_stdout, clippy::print_stderr)] // this is the edge

use std::process::ExitCode;

use validation::{Miss, Verdict};

/// Where the report lies: beside the tables.
const REPORT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/REPORT.md");

fn main() -> ExitCode {
    let checks = match validation::checks() {
        Ok(checks) => checks,
        Err(error) => {
            eprintln!("{error}");
            return ExitCode::FAILURE;
        }
    };
    if let Err(error) = std::fs::write(REPORT, validation::render(&checks)) {
        eprintln!("{REPORT}: {error}; expected to be allowed to write there; check the folder");
        return ExitCode::FAILURE;
    }
    let missed: Vec<_> = checks
        .iter()
        .filter(|check| check.verdict() != Verdict::Within)
        .collect();
    let new = missed
        .iter()
        .filter(|check| Miss::of(check).is_none())
        .count();
    println!(
        "{} checks, {} outside tolerance or unanswered, {new} of them not looked at yet: {REPORT}",
        checks.len(),
        missed.len(),
    );
    if new == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
