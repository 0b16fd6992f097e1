//! What is told back: problems that stop the reading, remarks on what was done.

use std::fmt;

/// Which option would answer a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Ask {
    /// Which column is what: [`Options::columns`](crate::Options::columns).
    Columns,
    /// Day or month first: [`Options::day_first`](crate::Options::day_first).
    DayFirst,
    /// °F or °C: [`Options::fahrenheit`](crate::Options::fahrenheit).
    Fahrenheit,
    /// Which of two readings at one moment: [`Options::keep`](crate::Options::keep).
    Keep,
    /// Which clock the logger followed: [`Options::zone`](crate::Options::zone).
    Zone,
}

/// Why the file was not read, in four answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Line of the file, counted from 1; `None` where it is about the whole file.
    pub line: Option<usize>,
    /// Column by its name in the file; `None` where it is about the whole line.
    pub column: Option<String>,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
    /// The option that answers it; `None` where the file itself has to change.
    pub asks: Option<Ask>,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        place(f, self.line, self.column.as_deref())?;
        write!(
            f,
            "found {}; expected {}; now: {}",
            self.found, self.expected, self.do_now
        )
    }
}

/// What a remark is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Rows were put in order of time.
    Sorted,
    /// Rows at one moment were dropped.
    Dropped,
    /// No rows for longer than the usual step.
    Gap {
        /// Seconds from the reading before to the reading after.
        seconds: i64,
    },
    /// Readings of nothing: a lost probe, an empty cell.
    Lost,
    /// The clock on the wall, or in the logger, was changed.
    ClockChange,
    /// Lines or columns that were not read.
    Skipped,
    /// The bytes were not plain UTF-8.
    Encoding,
    /// Fractions of a second were left out.
    Rounded,
    /// Which zone or offset was taken, where the file says something about it.
    Zone,
    /// Values were turned into the unit of the history.
    Converted,
    /// Day first or month first, and what decided it.
    DayOrder,
}

/// What was noticed and what was done about it; the history stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// What it is about.
    pub kind: Kind,
    /// Line of the file, counted from 1; `None` where it is about the whole file.
    pub line: Option<usize>,
    /// Column by its name in the file.
    pub column: Option<String>,
    /// What was found.
    pub found: String,
    /// What was done.
    pub done: String,
}

impl Remark {
    pub(crate) fn new(
        kind: Kind,
        line: Option<usize>,
        column: Option<&str>,
        found: String,
        done: &str,
    ) -> Self {
        Self {
            kind,
            line,
            column: column.map(shown),
            found,
            done: done.to_owned(),
        }
    }
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        place(f, self.line, self.column.as_deref())?;
        write!(f, "{}; {}", self.found, self.done)
    }
}

fn place(f: &mut fmt::Formatter<'_>, line: Option<usize>, column: Option<&str>) -> fmt::Result {
    match (line, column) {
        (Some(line), Some(column)) => write!(f, "line {line}, column \"{column}\": "),
        (Some(line), None) => write!(f, "line {line}: "),
        (None, Some(column)) => write!(f, "column \"{column}\": "),
        (None, None) => Ok(()),
    }
}

/// Problems listed one by one before the rest is only counted.
pub(crate) const MOST_LISTED: usize = 20;

/// Problems gathered while reading; the first few are listed, the rest counted.
#[derive(Debug, Default)]
pub(crate) struct Problems {
    listed: Vec<Problem>,
    more: usize,
}

impl Problems {
    pub(crate) fn push(&mut self, problem: Problem) {
        if self.listed.len() < MOST_LISTED {
            self.listed.push(problem);
        } else {
            self.more += 1;
        }
    }

    pub(crate) fn into_result<T>(mut self, value: T) -> Result<T, Vec<Problem>> {
        if self.listed.is_empty() {
            return Ok(value);
        }
        // Stable: what is about the whole file stands first, then by line.
        self.listed.sort_by_key(|problem| problem.line);
        if self.more > 0 {
            self.listed.push(Problem {
                line: None,
                column: None,
                found: format!("{} more problems of the same reading", self.more),
                expected: "none".to_owned(),
                do_now: "mend those listed first, then read the file again".to_owned(),
                asks: None,
            });
        }
        Err(self.listed)
    }
}

/// Characters of a cell shown in a message.
const MOST_SHOWN: usize = 40;

/// A piece of the file fit for a message: short, and with no control characters.
pub(crate) fn shown(text: &str) -> String {
    let mut out: String = text
        .chars()
        .take(MOST_SHOWN)
        .map(|c| if c.is_control() { '\u{FFFD}' } else { c })
        .collect();
    if text.chars().nth(MOST_SHOWN).is_some() {
        out.push('…');
    }
    out
}

/// A count and its noun: `1 line`, `2 lines`.
pub(crate) fn counted(count: usize, noun: &str) -> String {
    match count {
        1 => format!("1 {noun}"),
        n => format!("{n} {noun}s"),
    }
}

/// A length of time in words: `3 h 40 min`.
pub(crate) fn length(seconds: i64) -> String {
    let (days, hours) = (seconds / 86_400, seconds % 86_400 / 3600);
    let (minutes, rest) = (seconds % 3600 / 60, seconds % 60);
    let parts: Vec<String> = [(days, "d"), (hours, "h"), (minutes, "min"), (rest, "s")]
        .iter()
        .filter(|(n, _)| *n != 0)
        .map(|(n, word)| format!("{n} {word}"))
        .collect();
    if parts.is_empty() {
        "0 s".to_owned()
    } else {
        parts.join(" ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_told_in_words() {
        assert_eq!(length(13_200), "3 h 40 min");
        assert_eq!(length(90_061), "1 d 1 h 1 min 1 s");
        assert_eq!(length(0), "0 s");
    }

    #[test]
    fn a_shown_cell_is_short_and_has_no_controls() {
        let told = shown(&"\u{7}".repeat(500));
        assert_eq!(told.chars().count(), MOST_SHOWN + 1);
        assert!(!told.contains('\u{7}'));
    }
}
