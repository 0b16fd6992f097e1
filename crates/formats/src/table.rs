//! A csv or xlsx file somebody sent, as rows with their places; what it is about is decided elsewhere.
//!
//! Everything is bounded before it is taken into memory: bytes of the file, bytes it unpacks to, rows, columns, characters of a
//! cell. A formula is never computed and its stored result never taken: the cell says what it is, and whoever wants a
//! value of it refuses the row.

mod from_comma;
mod from_workbook;

use rust_decimal::Decimal;

use crate::refusal::{Refusal, quoted};

/// Bytes of a file read at most; the shell reads one more to know that there are too many.
pub const MOST_BYTES: usize = 5_000_000;
/// Rows below the headings.
pub const MOST_ROWS: usize = 20_000;
/// Columns.
pub const MOST_COLUMNS: usize = 60;
/// Characters of one cell: what a text of a book may have.
pub const MOST_CELL: usize = 500;

/// A file as headings and rows.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Headings, in lower case and without their unit.
    pub headings: Vec<Heading>,
    /// Rows; empty ones are left out.
    pub rows: Vec<Row>,
}

/// One heading: `price ($)` is `price` in `$`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Heading {
    /// What stands in the column.
    pub name: String,
    /// In which unit, where it says one.
    pub unit: Option<String>,
}

/// One row.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its row or line in the file, from 1.
    pub at: usize,
    /// A cell for every heading.
    pub cells: Vec<Given>,
}

/// What a cell holds.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    /// Nothing.
    Empty,
    /// Words, without blanks around them.
    Text(String),
    /// A number of a spreadsheet.
    Number(f64),
    /// A formula, as it stands there.
    Formula(String),
    /// Something else, told in words: a date, a yes, an error.
    Other(String),
}

impl Given {
    /// How a message tells it.
    #[must_use]
    pub fn told(&self) -> String {
        match self {
            Self::Empty => "nothing".to_owned(),
            Self::Text(t) => format!("\"{}\"", quoted(t)),
            Self::Number(n) => format!("{n}"),
            Self::Formula(f) => format!("a formula, \"{}\"", quoted(f)),
            Self::Other(what) => what.clone(),
        }
    }

    /// Words; a number of a spreadsheet counts as the words it shows.
    ///
    /// # Errors
    /// What it is instead.
    pub fn words(&self) -> Result<Option<String>, Wrong> {
        match self {
            Self::Empty => Ok(None),
            Self::Text(t) => Ok(Some(t.clone())),
            Self::Number(n) => Ok(Some(n.to_string())),
            Self::Formula(_) => Err(Wrong::Formula),
            Self::Other(_) => Err(Wrong::NotWords),
        }
    }

    /// An exact decimal.
    ///
    /// # Errors
    /// What it is instead: a formula, a text with a sign in front, a comma that may mean two things.
    pub fn decimal(&self) -> Result<Option<Decimal>, Wrong> {
        match self {
            Self::Empty => Ok(None),
            Self::Number(n) => n.to_string().parse().map(Some).map_err(|_| Wrong::TooLarge),
            Self::Text(t) => read_decimal(t).map(Some),
            Self::Formula(_) => Err(Wrong::Formula),
            Self::Other(_) => Err(Wrong::NotNumber),
        }
    }
}

/// Why a cell is not what its column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// A formula.
    Formula,
    /// A date or the like where words belong.
    NotWords,
    /// Not a number.
    NotNumber,
    /// A text that begins as a formula does.
    Signed,
    /// A comma: a decimal one, or one between thousands?
    Comma,
    /// More digits than a number keeps exactly.
    TooLarge,
}

impl Wrong {
    /// What was expected, and what to do now.
    #[must_use]
    pub const fn advice(self) -> (&'static str, &'static str) {
        match self {
            Self::Formula => (
                "a value: formulas are not computed and their results not taken",
                "put the value in the cell (in a spreadsheet: copy, paste values)",
            ),
            Self::NotWords => ("words", "write it as words"),
            Self::NotNumber => (
                "a number such as 23.50, without its unit",
                "write the number alone",
            ),
            Self::Signed => (
                "a number that begins with a digit: =, +, -, @ and ' begin a formula or a text",
                "write the number alone, or take the row out",
            ),
            Self::Comma => (
                "a number with a full stop: a comma may be a decimal one or stand between thousands",
                "write 23.50 for 23 and a half, and 1250 for a thousand two hundred and fifty",
            ),
            Self::TooLarge => ("a number of at most 15 digits", "write fewer digits"),
        }
    }
}

fn read_decimal(text: &str) -> Result<Decimal, Wrong> {
    if text.starts_with(['=', '+', '-', '@', '\'']) {
        return Err(Wrong::Signed);
    }
    if text.contains(',')
        && text
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, ',' | '.'))
    {
        return Err(Wrong::Comma);
    }
    let digits = text.chars().filter(char::is_ascii_digit).count();
    let plain = digits > 0
        && text.chars().all(|c| c.is_ascii_digit() || c == '.')
        && text.matches('.').count() <= 1
        && !text.starts_with('.')
        && !text.ends_with('.');
    if !plain {
        return Err(Wrong::NotNumber);
    }
    if digits > 15 {
        return Err(Wrong::TooLarge);
    }
    text.parse().map_err(|_| Wrong::NotNumber)
}

/// Reads a file; what kind it is shows in its first bytes. `tabs` are the names a tab of a workbook may have.
///
/// # Errors
/// What is no table, what is too large, and what is cut off: nothing of such a file is taken.
pub fn read(bytes: &[u8], tabs: &[&str]) -> Result<Table, Vec<Refusal>> {
    if bytes.len() > MOST_BYTES {
        return Err(vec![too_many_bytes()]);
    }
    match bytes {
        [b'P', b'K', ..] => from_workbook::read(bytes, tabs),
        [0xd0, 0xcf, 0x11, 0xe0, ..] => Err(vec![Refusal::whole(
            "a file of an old or locked spreadsheet format",
            "a .xlsx without a password, or a .csv",
            "save it as .xlsx or as CSV UTF-8",
        )]),
        [] => Err(vec![Refusal::whole(
            "an empty file",
            "a row of headings and the rows below it",
            "name another file",
        )]),
        _ => from_comma::read(bytes),
    }
}

/// The refusal of a file past [`MOST_BYTES`].
#[must_use]
pub fn too_many_bytes() -> Refusal {
    Refusal::whole(
        format!("a file of more than {} MB", MOST_BYTES / 1_000_000),
        format!(
            "at most {} MB: a price list of ten thousand items has one",
            MOST_BYTES / 1_000_000
        ),
        "take out what is no list (pictures, other tabs), or send it in parts",
    )
}

/// `price ($)` → `price`, `$`.
fn heading(text: &str) -> Heading {
    let text = text.trim();
    let (name, unit) = match text.strip_suffix(')').and_then(|t| t.rsplit_once('(')) {
        Some((name, unit)) => (name, Some(unit.trim().to_owned())),
        None => (text, None),
    };
    Heading {
        name: name.trim().to_lowercase(),
        unit: unit.filter(|u| !u.is_empty()),
    }
}

fn too_many_rows(at: usize) -> Refusal {
    Refusal::at(
        at,
        "",
        format!("more than {MOST_ROWS} rows"),
        format!("at most {MOST_ROWS}"),
        "send it in parts",
    )
}

fn too_many_columns(at: usize) -> Refusal {
    Refusal::at(
        at,
        "",
        format!("more than {MOST_COLUMNS} columns"),
        format!("at most {MOST_COLUMNS}"),
        "take out the columns the import does not read",
    )
}

/// A text of a cell, or why it cannot be one.
fn cell(text: &str) -> Result<Given, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(Given::Empty);
    }
    if text.chars().count() > MOST_CELL {
        return Err(format!("a cell of more than {MOST_CELL} characters"));
    }
    if text
        .chars()
        .any(|c| c.is_control() && c != '\n' && c != '\t')
    {
        return Err("a cell with a control character".to_owned());
    }
    Ok(Given::Text(text.to_owned()))
}

fn refuse_cell(at: usize, heading: &str, found: String) -> Refusal {
    Refusal::at(
        at,
        heading,
        found,
        format!("a text of at most {MOST_CELL} printable characters"),
        "mend the cell; a quote that was not closed swallows what follows",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(text: &str) -> Result<Decimal, Wrong> {
        read_decimal(text)
    }

    #[test]
    fn a_number_is_digits_with_at_most_one_full_stop() {
        assert_eq!(number("23.50"), Ok(Decimal::new(2350, 2)));
        for (text, why) in [
            ("=1+1", Wrong::Signed),
            ("+3", Wrong::Signed),
            ("-3", Wrong::Signed),
            ("'3", Wrong::Signed),
            ("23,50", Wrong::Comma),
            ("1,250.00", Wrong::Comma),
            ("23.50 $", Wrong::NotNumber),
            ("1e3", Wrong::NotNumber),
            (".5", Wrong::NotNumber),
            ("NaN", Wrong::NotNumber),
            ("1234567890123456", Wrong::TooLarge),
        ] {
            assert_eq!(number(text), Err(why), "{text}");
        }
    }

    #[test]
    fn a_heading_names_its_unit() {
        let h = heading(" Price ($) ");
        assert_eq!((h.name.as_str(), h.unit.as_deref()), ("price", Some("$")));
        assert_eq!(heading("item").unit, None);
    }
}
