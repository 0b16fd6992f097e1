//! `saltern sheets`: what it writes, what it does not write over, what it says.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const MOMENT: &str = "2027-02-01T12:00:00Z";

/// A folder of its own, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("papers")
        .join(name);
    let _ = fs::remove_dir_all(&folder);
    folder
}

fn sheets(out: &Path, more: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args([
            "sheets",
            "demo",
            "duck-class",
            "--printed-at",
            MOMENT,
            "--out",
        ])
        .arg(out)
        .args(more)
        .output()
        .expect("it runs")
}

/// What it said to whoever ran it, lines joined.
fn told(ran: &Output) -> String {
    String::from_utf8_lossy(&ran.stderr)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fs::read_dir(folder)
        .map(|entries| {
            entries
                .map(|e| e.expect("an entry"))
                .map(|e| {
                    (
                        e.file_name().to_string_lossy().into_owned(),
                        fs::read(e.path()).expect("a file"),
                    )
                })
                .collect()
        })
        .unwrap_or_default()
}

#[test]
fn a_pdf_for_every_kind_and_one_with_everything() {
    let out = folder("all");
    let ran = sheets(&out, &["--stock", "iso"]);
    assert!(
        ran.status.success(),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
    let files = files(&out);
    let told = String::from_utf8_lossy(&ran.stdout).into_owned();
    for kind in [
        "day-board",
        "formula-card",
        "station-card",
        "cure-sheet",
        "tub-label",
        "order-sheet",
        "dossier",
    ] {
        assert!(
            files[&format!("duck-class-{kind}.pdf")].starts_with(b"%PDF"),
            "{kind}"
        );
        assert!(
            told.lines()
                .any(|l| l.starts_with(kind) && l.contains("page")),
            "{told}"
        );
    }
    assert!(files["duck-class-all.pdf"].len() > files["duck-class-tub-label.pdf"].len());
    let again = folder("again");
    sheets(&again, &["--stock", "iso"]);
    assert!(
        files == self::files(&again),
        "the same papers are the same bytes"
    );
}

#[test]
fn what_is_there_is_not_written_over_unless_told_to() {
    let out = folder("there");
    fs::create_dir_all(&out).expect("a folder");
    let mine = out.join("duck-class-order-sheet.pdf");
    fs::write(&mine, "mine").expect("written");
    let ran = sheets(&out, &["--only", "order-sheet"]);
    assert_eq!(ran.status.code(), Some(2));
    assert!(told(&ran).contains("there already"), "{ran:?}");
    assert_eq!(files(&out).len(), 1, "nothing else was written");
    assert_eq!(fs::read(&mine).expect("there"), b"mine");
    assert!(
        sheets(&out, &["--only", "order-sheet", "--overwrite"])
            .status
            .success()
    );
    assert!(fs::read(&mine).expect("there").starts_with(b"%PDF"));
}

#[test]
fn a_reader_gets_their_own_papers_only() {
    let out = folder("purchaser");
    assert!(sheets(&out, &["--for", "purchaser"]).status.success());
    let names: Vec<String> = files(&out).into_keys().collect();
    assert_eq!(
        names,
        [
            "duck-class-all.pdf",
            "duck-class-order-sheet.pdf",
            "duck-class-receiving-sheet.pdf"
        ]
    );
}

#[test]
fn a_kind_that_is_not_there_is_answered_with_the_nearest() {
    let out = folder("nearest");
    let ran = sheets(&out, &["--only", "cure-shet"]);
    assert_eq!(ran.status.code(), Some(2));
    let words = told(&ran);
    assert!(
        words.contains("did you mean cure-sheet?")
            && words.contains("expected:")
            && words.contains("do now:"),
        "{words}"
    );
    // The class smokes nothing.
    let ran = sheets(&out, &["--only", "smoker-log"]);
    assert_eq!(ran.status.code(), Some(2));
    assert!(told(&ran).contains("nothing for the papers asked for"));
    assert!(files(&out).is_empty());
}

#[test]
fn pages_for_the_screen_are_svg_under_the_name_of_their_sheet() {
    let out = folder("svg");
    assert!(
        sheets(&out, &["--only", "back-plan", "--svg", "--lang", "fr"])
            .status
            .success()
    );
    let files = files(&out);
    let (name, text) = files
        .iter()
        .find(|(name, _)| name.ends_with(".svg"))
        .expect("a page");
    assert!(name.starts_with("duck-class-001-"), "{name}");
    let text = String::from_utf8_lossy(text);
    assert!(
        text.starts_with("<svg") && text.contains("page 1 sur"),
        "French counts its pages"
    );
}
