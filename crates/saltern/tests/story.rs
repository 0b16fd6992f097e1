//! A week with the program, from a book that will not read to a plan that holds: the whole binary, start to end.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

struct Told {
    text: String,
    exit: i32,
}

impl Told {
    #[track_caller]
    fn says(&self, words: &[&str]) {
        // A line may break anywhere.
        let text = self.text.split_whitespace().collect::<Vec<_>>().join(" ");
        for w in words {
            assert!(text.contains(w), "does not say \"{w}\":\n{}", self.text);
        }
    }
}

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

/// A kitchen with its own copy of the demo book.
struct Kitchen {
    folder: PathBuf,
}

impl Kitchen {
    fn new(name: &str) -> Self {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("story")
            .join(name);
        let _ = fs::remove_dir_all(&folder);
        copy(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join("../../book"),
            &folder.join("book"),
        );
        Self { folder }
    }

    fn asks(&self, words: &[&str]) -> Told {
        let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
            .args(words)
            .current_dir(&self.folder)
            .output()
            .unwrap();
        let mut text = String::from_utf8(output.stdout).unwrap();
        text.push_str(&String::from_utf8(output.stderr).unwrap());
        Told {
            text,
            exit: output.status.code().expect("not ended by a signal"),
        }
    }

    fn writes(&self, file: &str, old: &str, new: &str) {
        let path = self.folder.join("book").join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert_eq!(text.matches(old).count(), 1, "{file} holds \"{old}\" once");
        fs::write(path, text.replacen(old, new, 1)).unwrap();
    }
}

impl Drop for Kitchen {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

#[test]
fn a_week_from_a_slip_in_the_book_to_a_plan_that_holds() {
    let kitchen = Kitchen::new("week");
    let file = "recipes/hot-smoked-char.toml";
    let salt = "{ item = \"salt-table\",     of-base = \"2.50 %\" }";

    // Monday: somebody writes a comma into the cure.
    kitchen.writes(
        file,
        salt,
        "{ item = \"salt-table\",     of-base = \"2,50 %\" }",
    );
    let told = kitchen.asks(&["check", "book"]);
    assert_eq!(told.exit, 2, "{}", told.text);
    told.says(&[
        "recipes/hot-smoked-char.toml:",
        "2,50 %",
        "expected:",
        "do now:",
        "nothing was loaded",
    ]);
    // Nothing is planned on half a book.
    let told = kitchen.asks(&["plan", "book", "harvest-supper"]);
    assert_eq!(told.exit, 2);
    assert!(!told.text.contains("ORDER"), "{}", told.text);

    // It is mended, and the plan is the one of the demo.
    kitchen.writes(file, "2,50 %", "2.50 %");
    assert_eq!(kitchen.asks(&["check", "book"]).exit, 0);
    let plan = kitchen.asks(&["plan", "book", "harvest-supper"]);
    assert_eq!(plan.exit, 0, "{}", plan.text);
    plan.says(&[
        "63 plates for 60 covers",
        "139.5 g",
        "5 fish",
        "$292.04",
        "order by Mon 10-04 11:00",
    ]);
    assert_eq!(
        plan.text,
        kitchen.asks(&["plan", "demo", "harvest-supper"]).text,
        "the same book, the same plan"
    );

    // Why so much salt? 2.50 % of 9,000 g × 0.62.
    let why = kitchen.asks(&[
        "why",
        "book",
        "harvest-supper",
        "hot-smoked-char.cure.salt-table",
    ]);
    assert_eq!(why.exit, 0);
    why.says(&["139.50 g", "2.50 %", "5,580.0 g"]);

    // Tuesday, the fish is five hours late.
    let late = ["--set", "delivery.arctic-char-whole=2027-10-05T13:30"];
    let told = kitchen.asks(&["compare", "book", "harvest-supper", late[0], late[1]]);
    assert_eq!(told.exit, 0);
    told.says(&[
        "Wed 10-06 08:30 → Wed 10-06 09:10",
        "PLATE AT 17:50",
        "no difference",
        "still 19 h 14 min",
    ]);

    // It fillets poorly: the cure follows the scale, no fish is bought behind anybody's back.
    let poor = ["--set", "hot-smoked-char.fillet.yield=0.58"];
    let told = kitchen.asks(&[
        "plan",
        "book",
        "harvest-supper",
        late[0],
        late[1],
        poor[0],
        poor[1],
    ]);
    assert_eq!(told.exit, 0);
    told.says(&[
        "130.5 g",
        "62.0 portions of 60 g for 63 wanted",
        "59.0 g a portion",
        "one more fish: +$42.30",
        "$292.04",
    ]);
    assert!(!told.text.contains("6 fish"), "{}", told.text);
    let told = kitchen.asks(&[
        "why",
        "book",
        "harvest-supper",
        "hot-smoked-char.fillet.yield",
        late[0],
        late[1],
        poor[0],
        poor[1],
    ]);
    assert_eq!(told.exit, 0);
    told.says(&["0.580", "from"]);

    // Wednesday the smoker does not start: no clock, and it says which machine.
    let told = kitchen.asks(&[
        "plan",
        "book",
        "harvest-supper",
        "--set",
        "machine.smoker=off",
    ]);
    assert_eq!(told.exit, 1);
    told.says(&[
        "IMPOSSIBLE",
        "S1 smoker is out of order",
        "hot-smoked-char.smoke",
    ]);

    // What the week taught goes into the book: the next plan buys a sixth fish by itself.
    kitchen.writes(
        file,
        "yield = { mean = 0.62, low = 0.58, high = 0.68, source = \"practice\" }",
        "yield = { mean = 0.58, low = 0.55, high = 0.62, source = \"practice\" }",
    );
    let told = kitchen.asks(&["plan", "book", "harvest-supper"]);
    assert_eq!(told.exit, 0, "{}", told.text);
    // 5,307.4 ÷ 0.58 = 9,150.7 g ÷ 1,800 = 5.08.
    told.says(&["6 fish", "needs 5.084"]);
}
