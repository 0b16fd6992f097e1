//! What is wrong with a file that came in, as data; the edge renders it.

use std::fmt;

/// One thing refused: where it stands, what was found, what was expected, what to do now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// Row or line of the file, from 1; `None` when the whole file is meant.
    pub row: Option<usize>,
    /// The column's heading, or a place in the file in words; empty when the whole row is meant.
    pub place: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
}

impl Refusal {
    /// A refusal of the whole file.
    #[must_use]
    pub fn whole(
        found: impl Into<String>,
        expected: impl Into<String>,
        do_now: impl Into<String>,
    ) -> Self {
        Self {
            row: None,
            place: String::new(),
            found: found.into(),
            expected: expected.into(),
            do_now: do_now.into(),
        }
    }

    /// A refusal of one row, at a place in it.
    #[must_use]
    pub fn at(
        row: usize,
        place: &str,
        found: impl Into<String>,
        expected: impl Into<String>,
        do_now: impl Into<String>,
    ) -> Self {
        Self {
            row: Some(row),
            place: place.to_owned(),
            ..Self::whole(found, expected, do_now)
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(row) = self.row {
            write!(f, "row {row}: ")?;
        }
        if !self.place.is_empty() {
            write!(f, "{}: ", self.place)?;
        }
        write!(
            f,
            "{}; expected {}; {}",
            self.found, self.expected, self.do_now
        )
    }
}

/// Most characters of a stranger's text that are quoted back.
const QUOTED: usize = 60;

/// Text from a file, short and printable, to stand in a message.
#[must_use]
pub fn quoted(text: &str) -> String {
    let mut short: String = text
        .chars()
        .take(QUOTED)
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    if text.chars().count() > QUOTED {
        short.push('…');
    }
    short
}
