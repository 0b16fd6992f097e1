//! csv out: RFC 4180 with CRLF, a comma, UTF-8 without a mark at its start, full stops in numbers.
//!
//! A text that a spreadsheet would run as a formula is disarmed: where the first character after any
//! apostrophes is one of `=`, `+`, `-`, `@`, tab or carriage return, one apostrophe is put in front, which is what
//! spreadsheets themselves take for "this is a text". Reading such a file with [`armed`] gives the text back.
//! Numbers are written as numbers: a negative one begins with its sign and is no text.

use crate::sheet::{Cell, Sheet};

/// What makes a spreadsheet take a text for a formula.
const STARTS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

fn would_run(text: &str) -> bool {
    text.trim_start_matches('\'').starts_with(STARTS)
}

/// A text that no spreadsheet runs.
#[must_use]
pub fn disarmed(text: &str) -> String {
    if would_run(text) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// The text before it was [`disarmed`].
#[must_use]
pub fn armed(text: &str) -> &str {
    match text.strip_prefix('\'') {
        Some(rest) if would_run(rest) => rest,
        _ => text,
    }
}

/// A table as csv.
#[must_use]
pub fn write(sheet: &Sheet) -> String {
    let mut out = String::new();
    let headings: Vec<String> = sheet
        .columns
        .iter()
        .map(|c| field(&disarmed(&c.heading())))
        .collect();
    line(&mut out, &headings);
    for row in &sheet.rows {
        let fields: Vec<String> = row.iter().map(cell).collect();
        line(&mut out, &fields);
    }
    out
}

fn line(out: &mut String, fields: &[String]) {
    out.push_str(&fields.join(","));
    out.push_str("\r\n");
}

fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Unknown => String::new(),
        Cell::Text(text) => field(&disarmed(text)),
        Cell::Number(n) => n.to_string(),
        Cell::Money(amount) => money(*amount),
        Cell::Moment(at) => at.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string(),
        Cell::Day(day) => day.to_string(),
    }
}

/// Exact, with two decimals at least.
fn money(amount: rust_decimal::Decimal) -> String {
    let mut amount = amount.normalize();
    if amount.scale() < 2 {
        amount.rescale(2);
    }
    amount.to_string()
}

fn field(text: &str) -> String {
    // A lone space at an end is kept by quoting too: some readers trim what is not quoted.
    let quote = text.contains([',', '"', '\n', '\r', ';', '\'', '\t']) || text.trim() != text;
    if quote {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Column;
    use proptest::prelude::*;

    #[test]
    fn a_formula_is_disarmed_and_a_negative_number_is_not() {
        for text in ["=1+1", "+1", "-1 °C shelf", "@now", "\ttab", "'=1"] {
            assert!(disarmed(text).starts_with('\''), "{text}");
        }
        assert_eq!(disarmed("lamb's lettuce"), "lamb's lettuce");
        assert_eq!(disarmed("'tis"), "'tis");
        assert_eq!(cell(&Cell::Number(-3.5)), "-3.5");
        assert_eq!(cell(&Cell::Unknown), "");
    }

    proptest! {
        #[test]
        fn disarming_loses_nothing(text in "['=+@\\-\t\ra-z]{0,8}") {
            let safe = disarmed(&text);
            prop_assert_eq!(armed(&safe), text.as_str());
            prop_assert!(!safe.starts_with(STARTS));
        }

        #[test]
        fn what_is_written_is_read_back(texts in proptest::collection::vec("[^\u{0}-\u{8}\u{b}\u{c}\u{e}-\u{1f}]{1,30}", 1..12)) {
            let sheet = Sheet {
                name: "x", title: String::new(), columns: vec![Column::text("a", 9)],
                rows: texts.iter().map(|t| vec![Cell::Text(t.clone())]).collect(),
            };
            let mut reader = csv::ReaderBuilder::new().from_reader(std::io::Cursor::new(write(&sheet)));
            let back: Vec<String> = reader.records().map(|r| armed(&r.unwrap()[0]).to_owned()).collect();
            prop_assert_eq!(back, texts);
        }
    }
}
