//! A question that cannot be answered as asked, and what to do about it.

use drawing::DrawingError;
use science::ScienceError;
use serde_json::{Value as Json, json};
use units::{QuantityError, ReadError};

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
    /// What it would come to under each reading, a row each, when the question has several.
    pub readings: Vec<String>,
}

impl Refusal {
    /// A refusal in the three parts every message has.
    #[must_use]
    pub fn new(
        found: impl Into<String>,
        expected: impl Into<String>,
        do_now: impl Into<String>,
    ) -> Self {
        Self {
            found: found.into(),
            expected: expected.into(),
            do_now: do_now.into(),
            readings: Vec::new(),
        }
    }

    /// Rules that could not be asked; taken by value, as an error is handed over.
    #[must_use]
    #[allow(clippy::needless_pass_by_value)]
    pub(crate) fn rules(why: safety::judge::Refusal) -> Self {
        Self::new(
            why.to_string(),
            "rules that hold together",
            "install the program anew: its rules are part of it",
        )
    }

    /// The same, saying which entry it is about.
    #[must_use]
    pub fn about(mut self, entry: &str) -> Self {
        self.found = format!("{entry}: {}", self.found);
        self
    }

    /// For programs, contract 1.
    #[must_use]
    pub fn to_json(&self) -> Json {
        json!({
            "contract": 1,
            "refused": {
                "found": self.found, "expected": self.expected, "do_now": self.do_now,
                "readings": self.readings,
            },
        })
    }

    /// Takes apart a message of the form "…; expected …; …", which all rooms below keep to.
    fn from_message(message: &str) -> Self {
        let (found, rest) = message.split_once("; expected ").unwrap_or((message, ""));
        let (expected, do_now) = rest.split_once("; ").unwrap_or((rest, ""));
        // A figure without a unit leaves a blank where the unit would be.
        let (found, expected, do_now) = (found.trim_end(), expected.trim_end(), do_now.trim_end());
        let or = |text: &str, other: &str| {
            if text.is_empty() {
                other.to_owned()
            } else {
                text.to_owned()
            }
        };
        Self::new(
            found,
            or(expected, "figures that hold together"),
            or(do_now, "check the figures entered"),
        )
    }
}

impl From<ScienceError> for Refusal {
    fn from(error: ScienceError) -> Self {
        Self::from_message(&error.to_string())
    }
}

impl From<DrawingError> for Refusal {
    fn from(error: DrawingError) -> Self {
        Self::from_message(&error.to_string())
    }
}

impl From<QuantityError> for Refusal {
    fn from(error: QuantityError) -> Self {
        Self::from_message(&error.to_string())
    }
}

impl From<ReadError> for Refusal {
    fn from(error: ReadError) -> Self {
        Self::new(
            format!("found {}", error.found),
            error.expected,
            error.do_now,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_comes_apart_into_its_three_parts() {
        let refusal = Refusal::from(units::Mass::grams(-2.0).unwrap_err());
        assert_eq!(refusal.found, "weight: found -2 g");
        assert_eq!(refusal.expected, "at least 0 g");
        assert_eq!(refusal.do_now, "check the sign and the unit");
        let less = units::Mass::ZERO
            .checked_sub(units::Mass::grams(1.0).unwrap())
            .unwrap_err();
        assert_eq!(Refusal::from(less).do_now, "check the figures entered");
    }
}
