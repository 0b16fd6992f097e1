//! Asking a bench question as it is typed, and the laws every answer keeps.

// What a test calls may stop it, as the test itself may.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::process::Command;

use serde_json::Value;

/// Widest line the program may print, in characters.
const COLUMNS: usize = 100;

/// What the program said.
pub(crate) struct Told {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Told {
    /// The answer for programs.
    pub(crate) fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|e| panic!("{e}: {}", self.err))
    }

    /// A figure of the answer.
    pub(crate) fn figure(&self, id: &str) -> f64 {
        let page = self.json();
        page["figures"][id]["value"]
            .as_f64()
            .unwrap_or_else(|| panic!("no figure {id} in {page:#}"))
    }
}

/// The question as it is typed, entries set apart by "|".
pub(crate) fn ask(entries: &str, json: bool) -> Told {
    let mut command = Command::new(env!("CARGO_BIN_EXE_saltern"));
    command.arg("ask").args(entries.split('|'));
    if json {
        command.arg("--json");
    }
    let output = command.output().unwrap();
    Told {
        code: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

fn typed(entries: &str) -> String {
    let quoted = |e: &str| {
        if e.contains(' ') {
            format!("\"{e}\"")
        } else {
            e.to_owned()
        }
    };
    let words: Vec<String> = entries.split('|').map(quoted).collect();
    format!("saltern ask {}", words.join(" "))
}

/// Question and whole answer, as a golden holds them.
pub(crate) fn page(entries: &str) -> String {
    let told = ask(entries, false);
    format!(
        "$ {}\n{}{}exit {}\n",
        typed(entries),
        told.out,
        told.err,
        told.code
    )
}

/// Holds an answer to the width of the screen and to where answers and refusals go.
pub(crate) fn fits(name: &str, entries: &str) {
    let told = ask(entries, false);
    for line in told.out.lines().chain(told.err.lines()) {
        assert!(line.chars().count() <= COLUMNS, "{name}: {line}");
        assert_eq!(line, line.trim_end(), "{name}: blanks at the end");
    }
    assert_eq!(told.code == 2, told.out.is_empty(), "{name}");
    assert_eq!(told.code == 2, !told.err.is_empty(), "{name}");
    if told.code == 2 {
        assert!(
            told.err.contains("expected: ") && told.err.contains("do now:   "),
            "{name}: {}",
            told.err
        );
    }
}

/// Holds every number and hour above the small print to a figure, every figure to a formula or a
/// source, and the exit code to the verdict. How many numbers were looked at.
pub(crate) fn every_number_is_a_figure(name: &str, entries: &str) -> usize {
    let told = ask(entries, true);
    if told.code == 2 {
        let refused: Value = serde_json::from_str(&told.err).unwrap();
        assert_eq!(refused["contract"], 1, "{name}");
        assert!(
            !refused["refused"]["do_now"].as_str().unwrap().is_empty(),
            "{name}"
        );
        return 0;
    }
    let page = told.json();
    assert_eq!(page["contract"], 1, "{name}");
    let figures = page["figures"].as_object().unwrap();
    let answer = &page["answer"];
    assert_eq!(
        told.code,
        i32::from(answer["verdict"] == "broken"),
        "{name}"
    );
    assert!(
        figures.contains_key(answer["figure"].as_str().unwrap()),
        "{name}"
    );
    let lines = ["answer", "limit", "next"].map(|k| answer[k].as_str().unwrap());
    let details = answer["details"].as_array().unwrap();
    let texts = lines
        .into_iter()
        .chain(details.iter().map(|d| d.as_str().unwrap()));
    let mut checked = 0;
    for text in texts {
        assert!(
            !text.contains("?)"),
            "{name}: a figure is missing in \"{text}\""
        );
        for (value, places) in numbers(text) {
            let mut known = figures.values().filter_map(|f| f["value"].as_f64());
            assert!(
                known.any(|f| is_shown_as(f, value, places)),
                "{name}: {value} of \"{text}\" is in no figure"
            );
            checked += 1;
        }
        for clock in clocks(text) {
            let holds = |f: &Value| f.as_str().is_some_and(|moment| moment.contains(&clock));
            assert!(
                figures.values().any(|f| holds(&f["value"])),
                "{name}: {clock} is in no figure"
            );
            checked += 1;
        }
    }
    for (id, figure) in figures {
        let from = figure["from"].as_array().unwrap();
        assert!(
            from.iter()
                .all(|f| figures.contains_key(f.as_str().unwrap())),
            "{name}: {id} hangs loose"
        );
        let (formula, source) = (&figure["formula"], &figure["source"]);
        assert_eq!(
            from.is_empty(),
            formula.as_str().unwrap().is_empty(),
            "{name}: {id}"
        );
        assert!(!source.as_str().unwrap().is_empty(), "{name}: {id}");
        assert_eq!(
            !from.is_empty(),
            source == "computed",
            "{name}: {id}: a leaf has a source, a computed figure its formula"
        );
    }
    checked
}

/// Holds `--why` to every figure of the answer, each with a formula or a source under it, and to the width
/// of the screen; a figure by itself to the same derivation for programs.
pub(crate) fn every_figure_says_why(name: &str, entries: &str) {
    let told = ask(entries, true);
    if told.code == 2 {
        return;
    }
    let page = told.json();
    let why = ask(&format!("{entries}|--why"), false);
    assert_eq!(why.code, told.code, "{name}");
    let lines: Vec<&str> = why.out.lines().collect();
    for line in &lines {
        assert!(line.chars().count() <= COLUMNS, "{name}: {line}");
    }
    let bare = |line: &str| {
        line.trim_start_matches(['│', '├', '└', '─', ' '])
            .to_owned()
    };
    for id in page["figures"].as_object().unwrap().keys() {
        let at = lines
            .iter()
            .position(|l| bare(l).starts_with(&format!("{id} = ")) && !l.contains("(see above)"));
        let below = at.and_then(|at| lines.get(at + 1)).map(|l| l.trim_start());
        assert!(
            below.is_some_and(|l| l.contains("= ") || l.contains("from ")),
            "{name}: {id} has neither a formula nor a source under it: {below:?}"
        );
    }
    let main = page["answer"]["figure"].as_str().unwrap();
    let one = ask(&format!("{entries}|--why={main}"), true).json();
    assert_eq!(one["figure"], main, "{name}");
    for (id, figure) in one["figures"].as_object().unwrap() {
        assert_eq!(figure, &page["figures"][id], "{name}: {id}");
    }
}

/// Numbers of a text, with the decimals they are printed with. What follows "no." or "step" is a name,
/// as is a word with figures in it such as NaNO2; a time or date of the calendar is a word of its own.
fn numbers(text: &str) -> Vec<(f64, usize)> {
    let mut found = Vec::new();
    let mut before = "";
    for word in text.split_whitespace() {
        let digits = word
            .trim_matches(|c: char| !c.is_ascii_digit())
            .replace(',', "");
        let is_name = matches!(before, "no." | "No." | "step")
            || word.starts_with(|c: char| c.is_ascii_alphabetic());
        if let (Ok(value), false) = (digits.parse::<f64>(), is_name) {
            let places = digits.split_once('.').map_or(0, |(_, part)| part.len());
            found.push((value, places));
        }
        before = word;
    }
    found
}

/// Times of the clock of a text: "17:20".
fn clocks(text: &str) -> Vec<String> {
    text.split_whitespace()
        .map(|word| word.trim_matches(|c: char| !c.is_ascii_digit()).to_owned())
        .filter(|word| word.contains(':'))
        .collect()
}

/// Half-up on the decimal, as the program rounds; a binary half may fall either way by one step.
fn is_shown_as(figure: f64, value: f64, places: usize) -> bool {
    let step = 10_f64.powi(-i32::try_from(places).unwrap());
    (figure.abs() - value).abs() <= step * 0.5 + figure.abs() * 1e-9 + 1e-9
}
