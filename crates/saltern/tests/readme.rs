//! The README shows what the program prints. `SALTERN_ACCEPT=1` writes what it prints now.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::process::Command;

/// The part of `text` from one mark up to another, without the blank end.
fn part<'t>(text: &'t str, from: &str, to: &str) -> &'t str {
    let start = text
        .find(from)
        .unwrap_or_else(|| panic!("no {from:?} in the output"));
    let end = text[start..]
        .find(to)
        .unwrap_or_else(|| panic!("no {to:?} after {from:?}"));
    text[start..start + end].trim_end()
}

/// The blocks of the README's run, each a stretch of the output to the letter.
#[test]
fn the_readme_shows_the_real_run() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(["plan", "demo", "harvest-supper"])
        .output()
        .unwrap();
    let printed = String::from_utf8(output.stdout).unwrap();
    let expected = [
        part(&printed, "Harvest lantern", "  Kohlrabi ribbons"),
        part(&printed, "CLOCK proved:", "VERDICTS"),
        part(
            &printed,
            "  NOT SHOWN hot-smoked-char.water",
            "  NOT SHOWN hot-smoked-char.fish",
        ),
    ];
    let mark = "<!-- run: saltern plan demo harvest-supper -->";
    let (before, run) = readme.split_once(mark).unwrap();
    let mut pieces: Vec<String> = run.split("```text\n").map(str::to_owned).collect();
    assert_eq!(pieces.len(), expected.len() + 1, "three blocks of output");
    for (piece, block) in pieces.iter_mut().skip(1).zip(expected) {
        let (shown, rest) = piece.split_once("\n```").unwrap();
        if std::env::var_os("SALTERN_ACCEPT").is_some() {
            *piece = format!("{block}\n```{rest}");
        } else {
            assert_eq!(
                shown, block,
                "run with SALTERN_ACCEPT=1 and read the difference"
            );
        }
    }
    if std::env::var_os("SALTERN_ACCEPT").is_some() {
        std::fs::write(path, format!("{before}{mark}{}", pieces.join("```text\n"))).unwrap();
    }
}
