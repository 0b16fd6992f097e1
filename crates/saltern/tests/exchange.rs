//! `saltern export` and `saltern import` as a user meets them: files, exit codes, and nothing half-written.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

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

/// A folder with a copy of the demo book in it.
struct Desk(PathBuf);

impl Desk {
    fn new(name: &str) -> Self {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("exchange")
            .join(name);
        let _ = fs::remove_dir_all(&folder);
        copy(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join("../../book"),
            &folder.join("book"),
        );
        Self(folder)
    }

    fn asks(&self, words: &[&str]) -> (i32, String, String) {
        let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
            .args(words)
            .current_dir(&self.0)
            .output()
            .unwrap();
        let text = |bytes: &[u8]| {
            String::from_utf8_lossy(bytes)
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        };
        (
            output.status.code().unwrap(),
            text(&output.stdout),
            text(&output.stderr),
        )
    }

    fn text(&self, path: &str) -> String {
        fs::read_to_string(self.0.join(path)).unwrap()
    }

    fn writes(&self, path: &str, text: impl AsRef<[u8]>) {
        fs::write(self.0.join(path), text).unwrap();
    }

    /// Every file of the book.
    fn book(&self) -> Vec<(PathBuf, Vec<u8>)> {
        fn walk(folder: &Path, into: &mut Vec<(PathBuf, Vec<u8>)>) {
            for entry in fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    walk(&path, into);
                } else {
                    into.push((path.clone(), fs::read(&path).unwrap()));
                }
            }
        }
        let mut all = Vec::new();
        walk(&self.0.join("book"), &mut all);
        all.sort();
        all
    }
}

const DATED: [&str; 2] = ["--printed-at", "2027-02-01T12:00:00Z"];

#[test]
fn nothing_is_written_over_unless_told() {
    let desk = Desk::new("over");
    let export = [
        "export",
        "demo",
        "harvest-supper",
        "--as",
        "csv",
        "--out",
        "papers",
    ];
    assert_eq!(desk.asks(&export).0, 0);
    desk.writes("papers/order.csv", "mine");
    fs::remove_file(desk.0.join("papers/cost.csv")).unwrap();
    let (exit, _, told) = desk.asks(&export);
    assert_eq!(exit, 2);
    assert!(
        told.contains("there already: papers/order.csv") && told.contains("--overwrite"),
        "{told}"
    );
    assert_eq!(desk.text("papers/order.csv"), "mine");
    assert!(!desk.0.join("papers/cost.csv").exists(), "all or nothing");
    let (exit, _, told) = desk.asks(&[&export[..], &["--overwrite"]].concat());
    assert_eq!(exit, 0);
    assert!(
        told.contains("written over: papers/order.csv")
            && told.contains("written: papers/cost.csv"),
        "{told}"
    );
    let left: Vec<_> = fs::read_dir(desk.0.join("papers"))
        .unwrap()
        .map(|e| e.unwrap().file_name())
        .collect();
    assert_eq!(left.len(), 6, "no files left lying about: {left:?}");
}

#[test]
fn a_calendar_since_the_last_one_updates_it() {
    let desk = Desk::new("since");
    let first = [
        &[
            "export",
            "book",
            "harvest-supper",
            "--as",
            "ics",
            "--out",
            "a.ics",
        ][..],
        &DATED,
    ]
    .concat();
    assert_eq!(desk.asks(&first).0, 0);
    let (exit, _, told) = desk.asks(&[
        "export",
        "book",
        "harvest-supper",
        "--as",
        "ics",
        "--set",
        "serve=+90min",
        "--since",
        "a.ics",
        "--out",
        "b.ics",
    ]);
    assert_eq!(exit, 0, "{told}");
    assert!(
        told.contains("1 new, ") && told.contains(" changed, 0 cancelled, "),
        "{told}"
    );
    desk.writes("cut.ics", &desk.text("a.ics")[..900]);
    let (exit, out, told) = desk.asks(&[
        "export",
        "book",
        "harvest-supper",
        "--as",
        "ics",
        "--since",
        "cut.ics",
        "--out",
        "c.ics",
    ]);
    assert_eq!((exit, out.as_str()), (2, ""));
    assert!(
        told.contains("cut off") && told.contains("Nothing was taken"),
        "{told}"
    );
    assert!(!desk.0.join("c.ics").exists());
}

#[test]
fn without_a_clock_there_is_no_calendar_and_nothing_is_called_off() {
    let desk = Desk::new("no-clock");
    let (exit, out, told) = desk.asks(&[
        "export",
        "book",
        "harvest-supper",
        "--as",
        "ics",
        "--set",
        "machine.smoker=off",
        "--out",
        "a.ics",
    ]);
    assert_eq!((exit, out.as_str()), (1, ""));
    assert!(
        told.contains("no clock") && told.contains("nothing was written"),
        "{told}"
    );
    assert!(!desk.0.join("a.ics").exists());
    // The plan itself is a value all the same.
    assert_eq!(
        desk.asks(&[
            "export",
            "book",
            "harvest-supper",
            "--as",
            "json",
            "--set",
            "machine.smoker=off"
        ])
        .0,
        1
    );
}

#[test]
fn words_that_do_not_go_together_are_told() {
    let desk = Desk::new("words");
    for (words, says) in [
        (
            &["export", "demo", "harvest-supper", "--as", "csv"][..],
            "--out",
        ),
        (
            &["export", "demo", "harvest-supper", "--as", "xlsx"],
            "--out",
        ),
        (
            &["export", "demo", "harvest-supper", "--as", "jsonld"],
            "--recipe",
        ),
        (
            &["export", "demo", "--recipe", "fennel-pickle", "--as", "csv"],
            "--as jsonld",
        ),
        (
            &[
                "export",
                "demo",
                "--recipe",
                "fenel-pickle",
                "--as",
                "jsonld",
            ],
            "did you mean fennel-pickle",
        ),
        (
            &["export", "demo", "harvest-super", "--as", "json"],
            "harvest-supper",
        ),
        (
            &[
                "export",
                "demo",
                "harvest-supper",
                "--as",
                "json",
                "--since",
                "a.ics",
            ],
            "--since",
        ),
        (
            &[
                "export",
                "demo",
                "harvest-supper",
                "--as",
                "ics",
                "--printed-at",
                "today",
            ],
            "--printed-at",
        ),
        (&["import", "nothing.csv", "--into", "demo"], "no folder"),
        (&["import", "nothing.csv", "--into", "book"], "nothing.csv"),
        (&["import", "./book", "--into", "book"], "folder"),
    ] {
        let (exit, out, told) = desk.asks(words);
        assert_eq!((exit, out.as_str()), (2, ""), "{words:?}");
        assert!(told.contains(says), "{words:?}: {told}");
        assert!(
            told.contains("expected:") && told.contains("do now:"),
            "{words:?}: {told}"
        );
    }
}

#[test]
fn a_price_is_shown_first_and_written_when_asked() {
    let desk = Desk::new("price");
    desk.writes(
        "new.csv",
        "supplier,item,price ($),price per\npasque-produce,dill,1.95,pack\n",
    );
    let before = desk.book();
    let (exit, told, _) = desk.asks(&["import", "new.csv", "--into", "book"]);
    assert_eq!(exit, 0);
    assert!(
        told.contains("price 1.80 → 1.95") && told.contains("Nothing is written yet"),
        "{told}"
    );
    assert_eq!(desk.book(), before);
    let (exit, told, _) = desk.asks(&["import", "new.csv", "--into", "book", "--apply"]);
    assert_eq!(exit, 0);
    assert!(told.contains("Written: book/site.toml"), "{told}");
    let after = desk.book();
    let moved: Vec<_> = before.iter().zip(&after).filter(|(a, b)| a != b).collect();
    assert_eq!((after.len(), moved.len()), (before.len(), 1));
    let (_, told, _) = desk.asks(&["import", "new.csv", "--into", "book", "--apply"]);
    assert!(
        told.contains("0 changes, 1 row as before, 0 rows refused"),
        "{told}"
    );
    assert_eq!(desk.book(), after);
    assert_eq!(desk.asks(&["check", "book"]).0, 0);
}

#[test]
fn one_refused_row_keeps_all_rows_out() {
    let desk = Desk::new("refused");
    let before = desk.book();
    desk.writes("new.csv", "supplier,item,price ($),price per\npasque-produce,dill,1.95,pack\npasque-produce,lemon,\"0,65\",each\n");
    let (exit, told, wrong) = desk.asks(&["import", "new.csv", "--into", "book", "--apply"]);
    assert_eq!(exit, 2);
    assert!(
        told.contains("1 change, 0 rows as before, 1 row refused") && !told.contains("Written"),
        "{told}"
    );
    assert!(
        wrong.contains("new.csv, row 3, price: \"0,65\"") && wrong.contains("Nothing was taken"),
        "{wrong}"
    );
    assert_eq!(desk.book(), before);
}

#[test]
fn bad_files_change_nothing() {
    let desk = Desk::new("bad");
    let before = desk.book();
    let xlsx = [
        "export",
        "demo",
        "harvest-supper",
        "--as",
        "xlsx",
        "--out",
        "good.xlsx",
    ];
    assert_eq!(desk.asks(&xlsx).0, 0);
    let good = fs::read(desk.0.join("good.xlsx")).unwrap();
    desk.writes("cut.xlsx", &good[..good.len() / 2]);
    desk.writes("columns.csv", "article,cost\ndill,1.95\n");
    // A sparse file: 200 MB to whoever reads it.
    fs::File::create(desk.0.join("huge.csv"))
        .unwrap()
        .set_len(200_000_000)
        .unwrap();
    for (file, says) in [
        ("cut.xlsx", "cut off or damaged"),
        ("columns.csv", "a heading \"article\""),
        ("huge.csv", "more than 5 MB"),
    ] {
        let (exit, out, told) = desk.asks(&["import", file, "--into", "book", "--apply"]);
        assert_eq!((exit, out.as_str()), (2, ""), "{file}");
        assert!(
            told.contains(says) && told.contains("Nothing was taken"),
            "{file}: {told}"
        );
    }
    assert_eq!(
        desk.asks(&["import", "good.xlsx", "--into", "book"]).0,
        0,
        "its own workbook is read"
    );
    assert_eq!(desk.book(), before);
}

#[test]
fn a_recipe_comes_in_as_a_draft_that_does_not_pass() {
    let desk = Desk::new("recipe");
    desk.writes("r.json", r#"{"@context":"https://schema.org","@type":"Recipe","name":"Salted radish","recipeIngredient":["500 g radish","1 tsp salt"],"recipeInstructions":"Slice and salt."}"#);
    let (exit, told, _) = desk.asks(&["import", "r.json", "--into", "book"]);
    assert_eq!(exit, 0);
    assert!(
        told.contains("open: \"1 tsp salt\": \"salt\" is a family"),
        "{told}"
    );
    assert_eq!(
        desk.asks(&["check", "book"]).0,
        0,
        "a preview writes nothing"
    );
    assert_eq!(
        desk.asks(&["import", "r.json", "--into", "book", "--apply"])
            .0,
        0
    );
    let (exit, _, wrong) = desk.asks(&["check", "book"]);
    assert_eq!(exit, 2);
    assert!(
        wrong.contains("(open-question)") && wrong.contains("recipes/salted-radish.toml"),
        "{wrong}"
    );
    let (exit, _, wrong) = desk.asks(&["import", "r.json", "--into", "book", "--apply"]);
    assert_eq!(exit, 2, "{wrong}");
}
