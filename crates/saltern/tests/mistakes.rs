//! Mistakes a kitchen makes in its book, and what it is told.
//!
//! Each file under `mistakes/` is one mistake: a line saying what happened, what is changed in the
//! demo book, and the whole answer of `saltern check`. `SALTERN_ACCEPT=1 cargo test -p saltern
//! --test mistakes` writes the answers anew; read them before they are kept.
//!
//! Changes:
//! - `in FILE`, then lines `- old` and `+ new`: the old text must stand in the file exactly once.
//! - `new FILE`, then lines `+ text`.
//! - `bytes FILE HEX`: the bytes at the end of a file; `fill FILE N`: N bytes of comment;
//!   `nest FILE N`: a list in a list, N deep.
//! - `empty`: no file at all; `name WORD`: another book name on the command line.
//!
//! In a `+` line `{N × c}` stands for N times the character c.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Widest line the program may print, in characters.
const COLUMNS: usize = 100;
/// Fewest mistakes that must be here.
const LEAST: usize = 48;

/// One change of the demo book.
enum Change {
    Edit {
        file: String,
        old: String,
        new: String,
    },
    New {
        file: String,
        text: String,
    },
    Bytes {
        file: String,
        bytes: Vec<u8>,
    },
    Empty,
    Name(String),
}

/// A mistake as its file tells it.
struct Mistake {
    changes: Vec<Change>,
    input: String,
    exit: i32,
    answer: String,
}

impl Mistake {
    fn read(text: &str) -> Result<Self, String> {
        let (input, golden) = text.split_once("--- exit ").ok_or("no line `--- exit N`")?;
        let (exit, answer) = golden.split_once('\n').ok_or("nothing after `--- exit`")?;
        let mut lines = input.lines().peekable();
        let story = lines.next().unwrap_or("");
        if !story.ends_with('.') || story.len() < 10 {
            return Err("the first line says what happened, and ends in a full stop".to_owned());
        }
        let mut changes = Vec::new();
        while let Some(line) = lines.next() {
            let words: Vec<&str> = line.split(' ').collect();
            match words.as_slice() {
                ["in", file] => {
                    let before = changes.len();
                    while lines.peek().is_some_and(|l| l.starts_with("- ")) {
                        let old = block(&mut lines, "- ");
                        let new = block(&mut lines, "+ ");
                        // A line taken out goes with its line break.
                        let old = if new.is_empty() { old + "\n" } else { old };
                        let new = repeated(&new)?;
                        changes.push(Change::Edit {
                            file: (*file).to_owned(),
                            old,
                            new,
                        });
                    }
                    if changes.len() == before {
                        return Err(format!("no change in {file}"));
                    }
                }
                ["new", file] => {
                    let text = repeated(&(block(&mut lines, "+ ") + "\n"))?;
                    changes.push(Change::New {
                        file: (*file).to_owned(),
                        text,
                    });
                }
                ["bytes", file, hex] => {
                    let bytes = (0..hex.len())
                        .step_by(2)
                        .map(|i| u8::from_str_radix(hex.get(i..i + 2).unwrap_or(""), 16))
                        .collect::<Result<_, _>>()
                        .map_err(|e| format!("{hex}: {e}"))?;
                    changes.push(Change::Bytes {
                        file: (*file).to_owned(),
                        bytes,
                    });
                }
                ["fill", file, n] => {
                    let bytes = vec![b'#'; n.parse().map_err(|e| format!("{n}: {e}"))?];
                    changes.push(Change::Bytes {
                        file: (*file).to_owned(),
                        bytes,
                    });
                }
                ["nest", file, n] => {
                    let n: usize = n.parse().map_err(|e| format!("{n}: {e}"))?;
                    let text = format!("x = {}{}\n", "[".repeat(n), "]".repeat(n));
                    changes.push(Change::New {
                        file: (*file).to_owned(),
                        text,
                    });
                }
                ["empty"] => changes.push(Change::Empty),
                ["name", name] => changes.push(Change::Name((*name).to_owned())),
                _ => return Err(format!("a line that is no change: {line}")),
            }
        }
        if changes.is_empty() {
            return Err("nothing is changed".to_owned());
        }
        Ok(Self {
            changes,
            input: input.to_owned(),
            exit: exit.parse().map_err(|e| format!("exit {exit}: {e}"))?,
            answer: answer.to_owned(),
        })
    }
}

/// The lines that start with `mark`, joined.
fn block<'a>(lines: &mut std::iter::Peekable<impl Iterator<Item = &'a str>>, mark: &str) -> String {
    let mut text = Vec::new();
    let bare = mark.trim_end();
    while let Some(line) = lines.next_if(|l| l.starts_with(mark) || *l == bare) {
        text.push(line.get(mark.len()..).unwrap_or(""));
    }
    text.join("\n")
}

/// `{5000 × a}` written out.
fn repeated(text: &str) -> Result<String, String> {
    let Some((before, rest)) = text.split_once('{').filter(|(_, r)| {
        r.split_once('}')
            .is_some_and(|(inside, _)| inside.contains(" × "))
    }) else {
        return Ok(text.to_owned());
    };
    let (inside, after) = rest.split_once('}').unwrap_or((rest, ""));
    let (n, what) = inside.split_once(" × ").unwrap_or((inside, ""));
    let n: usize = n.parse().map_err(|e| format!("{inside}: {e}"))?;
    Ok(format!("{before}{}{after}", what.repeat(n)))
}

fn copy(from: &Path, to: &Path) -> std::io::Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let target = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            copy(&entry.path(), &target)?;
        } else {
            fs::copy(entry.path(), target)?;
        }
    }
    Ok(())
}

/// Makes the changed book in `folder`; the name to call it by comes back.
fn make(mistake: &Mistake, folder: &Path) -> Result<String, String> {
    let said = |e: std::io::Error| e.to_string();
    let mut name = "book".to_owned();
    let book = folder.join("book");
    copy(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("../../book"),
        &book,
    )
    .map_err(said)?;
    for change in &mistake.changes {
        match change {
            Change::Edit { file, old, new } => {
                let path = book.join(file);
                let text = fs::read_to_string(&path).map_err(said)?;
                let times = text.matches(old.as_str()).count();
                if times != 1 {
                    return Err(format!("{file} holds the text {times} times: {old}"));
                }
                fs::write(&path, text.replacen(old.as_str(), new, 1)).map_err(said)?;
            }
            Change::New { file, text } => fs::write(book.join(file), text).map_err(said)?,
            Change::Bytes { file, bytes } => {
                let path = book.join(file);
                let mut all = fs::read(&path).unwrap_or_default();
                all.extend(bytes);
                fs::write(&path, all).map_err(said)?;
            }
            Change::Empty => {
                fs::remove_dir_all(&book).map_err(said)?;
                fs::create_dir_all(&book).map_err(said)?;
            }
            Change::Name(other) => name.clone_from(other),
        }
    }
    Ok(name)
}

/// What every message must hold.
fn form(mistake: &Mistake, answer: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    for line in answer.lines().filter(|l| l.chars().count() > COLUMNS) {
        wrong.push(format!("wider than {COLUMNS} columns: {line}"));
    }
    for bad in [
        "panicked",
        "/tmp",
        "RUST_BACKTRACE",
        env!("CARGO_TARGET_TMPDIR"),
    ] {
        if answer.contains(bad) {
            wrong.push(format!("holds {bad}"));
        }
    }
    if let Some(c) = answer.chars().find(|c| c.is_control() && *c != '\n') {
        wrong.push(format!("holds the control character {c:?}"));
    }
    let of_a_file = !mistake
        .changes
        .iter()
        .any(|c| matches!(c, Change::Empty | Change::Name(_)));
    let messages: Vec<&str> = answer.split("  × ").skip(1).collect();
    if messages.is_empty() {
        wrong.push("no message".to_owned());
    }
    for message in messages {
        for part in ["    expected: ", "    do now:   "] {
            if message.matches(part).count() != 1 {
                wrong.push(format!("not one `{}` in: {message}", part.trim()));
            }
        }
        if of_a_file && !has_place(message) {
            wrong.push(format!("no file:line:column in: {message}"));
        }
    }
    wrong
}

/// Whether a message holds `file.toml:line:column`.
fn has_place(message: &str) -> bool {
    message.match_indices(".toml:").any(|(at, mark)| {
        let mut parts = message
            .get(at + mark.len()..)
            .unwrap_or("")
            .split([':', ']', '\n']);
        let mut number = || {
            parts
                .next()
                .is_some_and(|p| p.parse::<u32>().is_ok_and(|n| n > 0))
        };
        number() && number()
    })
}

fn run(path: &Path, folder: &Path) -> Result<(), String> {
    let text = fs::read_to_string(path).map_err(|e| e.to_string())?;
    let mistake = Mistake::read(&text)?;
    let name = make(&mistake, folder)?;
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(["check", &name])
        .current_dir(folder)
        .output()
        .map_err(|e| e.to_string())?;
    let mut answer = String::from_utf8(output.stdout).map_err(|e| e.to_string())?;
    answer.push_str(&String::from_utf8(output.stderr).map_err(|e| e.to_string())?);
    let exit = output.status.code().ok_or("ended by a signal")?;
    if std::env::var_os("SALTERN_ACCEPT").is_some() {
        fs::write(path, format!("{}--- exit {exit}\n{answer}", mistake.input))
            .map_err(|e| e.to_string())?;
    } else if answer != mistake.answer || exit != mistake.exit {
        return Err(format!(
            "expected exit {}:\n{}\nfound exit {exit}:\n{answer}",
            mistake.exit, mistake.answer
        ));
    }
    let mut wrong = form(&mistake, &answer);
    if exit != 2 {
        wrong.push(format!("exit {exit}, not 2"));
    }
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(wrong.join("\n"))
    }
}

#[test]
fn every_mistake_is_answered_as_written() {
    let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/mistakes");
    let mut files: Vec<PathBuf> = fs::read_dir(&here)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "txt"))
        .collect();
    files.sort();
    assert!(files.len() >= LEAST, "{} mistakes", files.len());
    let mut failed = Vec::new();
    for path in &files {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("mistakes")
            .join(&name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        if let Err(why) = run(path, &folder) {
            failed.push(format!("== {name}\n{why}"));
        }
        let _ = fs::remove_dir_all(&folder);
    }
    assert!(
        failed.is_empty(),
        "{} of {} mistakes:\n{}",
        failed.len(),
        files.len(),
        failed.join("\n")
    );
}

#[test]
fn a_change_that_does_not_fit_the_book_is_a_failure() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("mistakes-unfit");
    let _ = fs::remove_dir_all(&folder);
    let text = "Nothing here fits.\nin book.toml\n- no such text\n+ x\n--- exit 2\n";
    let mistake = Mistake::read(text).unwrap();
    assert!(make(&mistake, &folder).unwrap_err().contains("0 times"));
    let _ = fs::remove_dir_all(&folder);
    for bad in [
        "Too little.\n--- exit 2\n",
        "A wrong line is refused.\nout book.toml\n--- exit 2\n",
        "No golden part is refused.\nin book.toml\n- a\n+ b\n",
    ] {
        assert!(Mistake::read(bad).is_err(), "{bad}");
    }
}
