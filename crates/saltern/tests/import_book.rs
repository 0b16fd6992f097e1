//! `saltern import book`: told first, saved when asked, each page a revision with a name.

#![allow(clippy::unwrap_used, clippy::panic)]

use std::fs;
use std::path::Path;
use std::process::Command;

fn saltern(words: &[&str]) -> (i32, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(words)
        .output()
        .unwrap();
    (
        output.status.code().unwrap(),
        String::from_utf8(output.stdout).unwrap(),
        String::from_utf8(output.stderr).unwrap(),
    )
}

#[test]
fn a_book_is_told_first_and_saved_when_asked() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("import-book");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let db = folder.join("kitchen.db");
    let db = db.to_str().unwrap();
    let (code, out, _) = saltern(&["import", "book", "demo", "--db", db]);
    assert_eq!(code, 0);
    assert!(
        out.contains("demo/recipes/hot-smoked-char.toml: new"),
        "{out}"
    );
    assert!(out.contains("Nothing is saved yet"));
    assert!(!Path::new(db).exists(), "a preview makes no file");
    let (code, _, err) = saltern(&["import", "book", "demo", "--db", db, "--apply"]);
    assert_eq!(code, 2);
    assert!(err.contains("--who NAME"), "{err}");
    let apply = [
        "import", "book", "demo", "--db", db, "--apply", "--who", "Maren",
    ];
    let (code, out, err) = saltern(&apply);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("Saved"), "{out}");
    let (code, out, _) = saltern(&apply);
    assert_eq!(code, 0);
    assert!(
        out.contains("0 pages") && out.contains("22 as before"),
        "{out}"
    );
    // A folder with one recipe of its own: everything else is taken out, and it says so before it does.
    let book = folder.join("book");
    fs::create_dir_all(&book).unwrap();
    fs::write(
        book.join("salt-fish.toml"),
        "recipe = \"salt-fish\"\nname = \"Salt fish\"\n[[step]]\nid = \"receive\"\ndo = \"receive\"\ntakes = { item = \"haddock\" }\nwait = \"at once\"\n",
    )
    .unwrap();
    let book = book.to_str().unwrap();
    let (code, out, err) = saltern(&["import", "book", book, "--db", db]);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("salt-fish.toml: new, 7 lines"), "{out}");
    assert!(out.contains("demo/site.toml: taken out; its revisions stay"));
    // A book that does not read is refused with its place.
    fs::write(
        Path::new(book).join("salt-fish.toml"),
        "recipe = \"salt-fish\"\n",
    )
    .unwrap();
    let (code, _, err) = saltern(&["import", "book", book, "--db", db, "--apply", "--who", "M"]);
    assert_eq!(code, 2);
    assert!(err.contains("salt-fish.toml"), "{err}");
}
