//! Mistakes on the command line of `plan`, `why` and `compare`, and what is answered.
//!
//! Each file under `settings/` is one mistake with the demo book: a line saying what happened, the
//! words after `saltern`, one `--set …` to a line as far as there are any, and the whole answer.
//! `SALTERN_ACCEPT=1 cargo test -p saltern --test settings` writes the answers anew; read them before
//! they are kept.

// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Widest line the program may print, in characters.
const COLUMNS: usize = 100;
/// Fewest mistakes that must be here.
const LEAST: usize = 40;

/// A mistake as its file tells it.
struct Mistake {
    words: Vec<String>,
    input: String,
    exit: i32,
    answer: String,
}

impl Mistake {
    fn read(text: &str) -> Result<Self, String> {
        let (input, golden) = text.split_once("--- exit ").ok_or("no line `--- exit N`")?;
        let (exit, answer) = golden.split_once('\n').ok_or("nothing after `--- exit`")?;
        let mut lines = input.lines();
        let story = lines.next().unwrap_or("");
        if !story.ends_with('.') || story.len() < 10 {
            return Err("the first line says what happened, and ends in a full stop".to_owned());
        }
        let mut words = Vec::new();
        for line in lines {
            match line.strip_prefix("--set ") {
                // What is set is one word, spaces and all; `\e` stands for the escape character.
                Some(set) => words.extend(["--set".to_owned(), set.replace("\\e", "\u{1b}")]),
                None => words.extend(line.split_whitespace().map(str::to_owned)),
            }
        }
        if words.is_empty() {
            return Err("no command".to_owned());
        }
        Ok(Self {
            words,
            input: input.to_owned(),
            exit: exit.parse().map_err(|e| format!("exit {exit}: {e}"))?,
            answer: answer.to_owned(),
        })
    }
}

/// The answer of the program, both streams, and its exit code.
fn asked(words: &[String]) -> Result<(String, i32), String> {
    let output = Command::new(env!("CARGO_BIN_EXE_saltern"))
        .args(words)
        .output()
        .map_err(|e| e.to_string())?;
    let mut answer = String::from_utf8(output.stdout).map_err(|e| e.to_string())?;
    answer.push_str(&String::from_utf8(output.stderr).map_err(|e| e.to_string())?);
    Ok((answer, output.status.code().ok_or("ended by a signal")?))
}

/// What every message must hold.
fn form(answer: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    for bad in ["panicked", "RUST_BACKTRACE", "/work", "/tmp"] {
        if answer.contains(bad) {
            wrong.push(format!("holds {bad}"));
        }
    }
    if let Some(c) = answer.chars().find(|c| c.is_control() && *c != '\n') {
        wrong.push(format!("holds the control character {c:?}"));
    }
    let messages: Vec<&str> = answer.split("  × ").skip(1).collect();
    if messages.len() != 1 {
        wrong.push(format!("{} messages", messages.len()));
    }
    for message in messages {
        for part in ["    expected: ", "    do now:   "] {
            if message.matches(part).count() != 1 {
                wrong.push(format!("not one `{}` in: {message}", part.trim()));
            }
        }
        // A suggestion that is what was written helps nobody.
        let found = between(message, "called \"", "\"");
        let meant = between(message, "did you mean ", "?");
        if found.is_some() && found == meant {
            wrong.push(format!("suggests what was written: {message}"));
        }
    }
    wrong
}

/// How many figures a plan has is no part of a mistake: "all 659 of them" is kept as "all N of them".
fn uncounted(answer: &str) -> String {
    match answer.split_once("prints all ") {
        Some((before, after)) => format!(
            "{before}prints all N{}",
            after.trim_start_matches(|c: char| c.is_ascii_digit())
        ),
        None => answer.to_owned(),
    }
}

fn between<'t>(text: &'t str, from: &str, to: &str) -> Option<&'t str> {
    text.split_once(from)?
        .1
        .split_once(to)
        .map(|(inside, _)| inside)
}

fn run(path: &Path) -> Result<(), String> {
    let text = fs::read_to_string(path).map_err(|e| e.to_string())?;
    let mistake = Mistake::read(&text)?;
    let (answer, exit) = asked(&mistake.words)?;
    let answer = uncounted(&answer);
    if std::env::var_os("SALTERN_ACCEPT").is_some() {
        fs::write(path, format!("{}--- exit {exit}\n{answer}", mistake.input))
            .map_err(|e| e.to_string())?;
    } else if answer != mistake.answer || exit != mistake.exit {
        return Err(format!(
            "expected exit {}:\n{}\nfound exit {exit}:\n{answer}",
            mistake.exit, mistake.answer
        ));
    }
    let mut wrong = form(&answer);
    if exit != 2 {
        wrong.push(format!("exit {exit}, not 2"));
    }
    if wrong.is_empty() {
        Ok(())
    } else {
        Err(wrong.join("\n"))
    }
}

fn files() -> Vec<PathBuf> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/settings");
    let mut files: Vec<PathBuf> = fs::read_dir(&here)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "txt"))
        .collect();
    files.sort();
    files
}

#[test]
fn every_mistake_is_answered_as_written() {
    let files = files();
    assert!(files.len() >= LEAST, "{} mistakes", files.len());
    let failed: Vec<String> = files
        .iter()
        .filter_map(|path| {
            run(path)
                .err()
                .map(|why| format!("== {}\n{why}", path.file_stem().unwrap().to_string_lossy()))
        })
        .collect();
    assert!(
        failed.is_empty(),
        "{} of {} mistakes:\n{}",
        failed.len(),
        files.len(),
        failed.join("\n")
    );
}

#[test]
fn no_answer_is_wider_than_the_screen() {
    let mut wide = Vec::new();
    for path in files() {
        let mistake = Mistake::read(&fs::read_to_string(&path).unwrap()).unwrap();
        for line in asked(&mistake.words)
            .unwrap()
            .0
            .lines()
            .filter(|l| l.chars().count() > COLUMNS)
        {
            wide.push(format!(
                "{}: {line}",
                path.file_stem().unwrap().to_string_lossy()
            ));
        }
    }
    assert!(
        wide.is_empty(),
        "{} lines wider than {COLUMNS}:\n{}",
        wide.len(),
        wide.join("\n")
    );
}

#[test]
fn a_file_that_is_no_mistake_is_a_failure() {
    for bad in [
        "Too little.\n--- exit 2\n",
        "no full stop\nplan demo x\n--- exit 2\n",
        "No golden part is refused.\nplan demo x\n",
    ] {
        assert!(Mistake::read(bad).is_err(), "{bad}");
    }
    assert!(
        !form("  × x\n    expected: y\n").is_empty(),
        "a message without what to do now"
    );
    assert!(
        !form(
            "  × nothing is called \"a.b\"; did you mean a.b?\n    expected: y\n    do now:   z\n"
        )
        .is_empty()
    );
    assert!(form("  × x\n    expected: y\n    do now:   z\n").is_empty());
}
