//! The README shows what the program prints.
#![allow(clippy::unwrap_used)]

use std::process::Command;

/// Every text block of the README's run stands in the output, to the letter.
#[test]
fn the_readme_shows_the_real_run() {
    let readme =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../README.md")).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(["plan", "demo", "harvest-supper"])
        .output()
        .unwrap();
    let printed = String::from_utf8(output.stdout).unwrap();
    let run = readme
        .split("<!-- run: saltern plan demo harvest-supper -->")
        .nth(1)
        .unwrap();
    let blocks: Vec<&str> = run
        .split("```text\n")
        .skip(1)
        .map(|rest| rest.split("\n```").next().unwrap())
        .collect();
    assert_eq!(blocks.len(), 3);
    for block in blocks {
        assert!(printed.contains(block), "not printed any more:\n{block}");
    }
}
