//! A file of a book as text and as a table, and what it says it holds.

use std::sync::Arc;

use toml::Spanned;
use toml::de::DeTable;

use crate::diagnostic::{Code, Diagnostic};
use crate::fields::Fields;
use crate::page::Page;
use crate::read::Limits;
use crate::source::{Lines, SourceFile};

/// Deepest nesting of lists and tables taken; real books use four.
const DEEPEST: usize = 32;
/// Breaks of one file told: after a few lines that are no TOML the rest is guesswork.
const MOST_BREAKS: usize = 3;

/// A page with its parsed table.
pub(crate) struct Sheet<'a> {
    pub(crate) page: Page<'a>,
    pub(crate) table: Spanned<DeTable<'a>>,
    /// Whether the table is all there.
    pub(crate) is_read: bool,
}

pub(crate) fn no_page(
    code: Code,
    file: &str,
    found: String,
    expected: &str,
    do_now: &str,
) -> Diagnostic {
    Diagnostic {
        code,
        file: file.to_owned(),
        text: Arc::from(""),
        span: 0..0,
        line: 1,
        column: 1,
        mark: code.mark().to_owned(),
        found,
        expected: expected.to_owned(),
        do_now: do_now.to_owned(),
        did_you_mean: None,
    }
}

pub(crate) fn text_of<'a>(
    file: &'a SourceFile,
    limits: Limits,
    wrong: &mut Vec<Diagnostic>,
) -> Option<&'a str> {
    if file.bytes.len() > limits.file_bytes {
        wrong.push(no_page(
            Code::TooLarge,
            &file.name,
            format!("a file of more than {} bytes", limits.file_bytes),
            &format!("a book file of at most {} bytes", limits.file_bytes),
            "check that it is a book; split it if it is",
        ));
        return None;
    }
    let bytes = file
        .bytes
        .strip_prefix(b"\xef\xbb\xbf")
        .unwrap_or(&file.bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Some(text),
        Err(error) => {
            let good = std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or("");
            let (line, column) = Lines::of(good).line_column(good, good.len());
            let mut d = no_page(
                Code::NotText,
                &file.name,
                format!(
                    "byte {:#04x} that is not UTF-8 text",
                    bytes[error.valid_up_to()]
                ),
                "a text file in UTF-8",
                "save the file as UTF-8 and read it again",
            );
            (d.line, d.column) = (line, column);
            wrong.push(d);
            None
        }
    }
}

pub(crate) fn parse<'a>(name: &'a str, text: &'a str) -> Sheet<'a> {
    let page = Page::new(name, text);
    if nesting(text) > DEEPEST {
        page.report(
            Code::NotToml,
            0..1,
            format!("brackets nested deeper than {DEEPEST}"),
            "lists and tables a few deep",
            "check that it is a book file; a bracket may be doubled",
        );
        return Sheet {
            page,
            table: Spanned::new(0..0, DeTable::default()),
            is_read: false,
        };
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    let broken = !errors.is_empty();
    let mut lines = Vec::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        // One slip often makes several complaints; the first of a line is the one to read.
        let line = text.get(..span.start).unwrap_or("").matches('\n').count();
        if lines.contains(&line) || lines.len() >= MOST_BREAKS {
            continue;
        }
        lines.push(line);
        let message = error.message().lines().next().unwrap_or("").to_owned();
        let (mark, found, expected, do_now) = in_plain_words(&message);
        page.marked(
            Code::NotToml,
            span,
            mark.to_owned(),
            (found, expected, do_now),
        );
    }
    Sheet {
        page,
        table: if broken {
            Spanned::new(0..0, DeTable::default())
        } else {
            table
        },
        is_read: !broken,
    }
}

/// The breaks a kitchen makes most, in its own words; others as the parser says them.
fn in_plain_words(message: &str) -> (&'static str, String, &'static str, &'static str) {
    let known = [
        (
            "invalid basic string, expected `\"`",
            "a quote is missing",
            "a text that starts with a quote and does not end with one",
            "a quote at both ends of a text",
            "close the quote",
        ),
        (
            "invalid basic string, expected non-double-quote",
            "a control character",
            "a control character in a text",
            "characters that print",
            "take the character out",
        ),
        (
            "duplicate key",
            "the second one",
            "a key that stands twice in one table",
            "each key once",
            "keep one of the two",
        ),
        (
            "string values must be quoted",
            "quotes are missing",
            "a text without quotes",
            "text in quotes, numbers without",
            "put it in quotes",
        ),
    ];
    for (start, mark, found, expected, do_now) in known {
        if message.starts_with(start) {
            return (mark, found.to_owned(), expected, do_now);
        }
    }
    (
        Code::NotToml.mark(),
        format!("not TOML: {message}"),
        "key = value lines and [[table]] headings",
        "mend the line; text values stand in quotes",
    )
}

/// Deepest bracket nesting, brackets in strings included: an upper bound is enough here.
fn nesting(text: &str) -> usize {
    let (mut depth, mut deepest) = (0_usize, 0_usize);
    for byte in text.bytes() {
        match byte {
            b'[' | b'{' => depth += 1,
            b']' | b'}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        deepest = deepest.max(depth);
    }
    deepest
}

/// What a file holds, by its first key.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Holds {
    Book,
    Recipe,
    Site,
    Event,
    Lists,
}

pub(crate) fn holds(sheet: &Sheet<'_>) -> Option<Holds> {
    let table = sheet.table.get_ref();
    for (key, holds) in [
        ("book", Holds::Book),
        ("recipe", Holds::Recipe),
        ("site", Holds::Site),
        ("event", Holds::Event),
    ] {
        // An event names its site too: its own key decides first.
        if table.contains_key(key) && !(key == "site" && table.contains_key("event")) {
            return Some(holds);
        }
    }
    (table.contains_key("ingredient") || table.contains_key("dish")).then_some(Holds::Lists)
}

pub(crate) fn root<'p>(sheet: &'p Sheet<'p>, what: &str) -> Fields<'p, 'p> {
    Fields::new(
        &sheet.page,
        what,
        0..sheet.page.text.len(),
        sheet.table.get_ref(),
    )
}
