//! The layout of an answer, as text and as values.

use safety::Verdict;
use safety::cautions::{Caution, EATEN_RAW, HOT_LIQUOR, UNDER_OIL};
use serde_json::{Value as Json, json};

use crate::Figures;
use crate::figures::wrap;

/// Columns an answer fits.
const COLUMNS: usize = 100;
/// Columns the labels take.
const LABEL: usize = 11;

/// One answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Which question, by its word on the command line.
    pub question: &'static str,
    /// Line 1: the number, its unit, what it is of. Nothing else.
    pub answer: String,
    /// Line 2: the limit or window, and the slack in it.
    pub limit: String,
    /// Line 3: what to do next.
    pub next: String,
    /// Rows of figures, already set in columns.
    pub details: Vec<String>,
    /// Small print: a label and a text each.
    pub small: Vec<(&'static str, String)>,
    /// The worst verdict, where one was given.
    pub verdict: Option<Verdict>,
    /// The figure line 1 gives.
    pub main: &'static str,
    /// Every number printed above the small print, and what each came from.
    pub figures: Figures,
}

/// What is said with every answer to a question where the work can hurt someone. Questions that handle
/// nitrite say their own.
const CAUTIONS: &[(&str, Caution)] = &[
    ("brine", HOT_LIQUOR),
    ("pickle", HOT_LIQUOR),
    ("emulsion", UNDER_OIL),
    ("cure", EATEN_RAW),
    ("dry", EATEN_RAW),
];

impl Answer {
    /// With the cautions of its question in the small print.
    #[must_use]
    pub fn with_cautions(mut self) -> Self {
        for (_, caution) in CAUTIONS.iter().filter(|(q, _)| *q == self.question) {
            let words = format!("{}: {}", caution.about, caution.words);
            self.small.push(("caution", words));
        }
        self
    }

    /// As it is printed: within 100 columns, the number first.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = format!("{}\n", self.answer);
        labelled(&mut text, "limit", &self.limit);
        labelled(&mut text, "next", &self.next);
        if !self.details.is_empty() {
            text.push('\n');
            for row in &self.details {
                text.push_str(format!("  {row}").trim_end());
                text.push('\n');
            }
        }
        if !self.small.is_empty() {
            text.push('\n');
            for (label, small) in &self.small {
                labelled(&mut text, label, small);
            }
        }
        text
    }

    /// For programs, contract 1.
    #[must_use]
    pub fn to_json(&self) -> Json {
        let small: Vec<Json> = self
            .small
            .iter()
            .map(|(label, text)| json!({ "label": label, "text": text }))
            .collect();
        json!({
            "contract": 1,
            "answer": {
                "question": self.question,
                "answer": self.answer,
                "figure": self.main,
                "limit": self.limit,
                "next": self.next,
                "details": self.details,
                "small": small,
                "verdict": self.verdict.map(Verdict::word),
            },
            "figures": self.figures.to_json(),
        })
    }
}

/// One labelled paragraph with a hanging indent.
fn labelled(text: &mut String, label: &str, body: &str) {
    for (i, line) in broken(body, COLUMNS - LABEL).iter().enumerate() {
        let label = if i == 0 { label } else { "" };
        text.push_str(&format!("  {label:<width$}{line}\n", width = LABEL - 2));
    }
}

/// Units that stay on the line of their number.
const UNITS: &[&str] = &[
    "%", "g", "kg", "mL", "L", "°C", "°F", "°SAL", "mm", "ppm", "h", "min", "d",
];

/// Breaks a text into lines of `width` characters, a number never parted from its unit.
#[must_use]
pub fn broken(text: &str, width: usize) -> Vec<String> {
    // A no-break space while the lines are broken, an ordinary one again in the lines.
    let mut glued = String::new();
    let mut before = "";
    for word in text.split(' ') {
        if !glued.is_empty() {
            let unit = word.trim_end_matches(|c: char| c.is_ascii_punctuation() && c != '%');
            let counted = before.ends_with(|c: char| c.is_ascii_digit());
            glued.push(if counted && UNITS.contains(&unit) {
                '\u{a0}'
            } else {
                ' '
            });
        }
        glued.push_str(word);
        before = word;
    }
    wrap(&glued, width)
        .into_iter()
        .map(|line| line.replace('\u{a0}', " "))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stays_with_its_unit() {
        assert_eq!(
            broken("for pork (15 to 20 %); next", 18),
            ["for pork (15 to", "20 %); next"]
        );
        assert_eq!(broken("", 10), [""]);
    }
}
