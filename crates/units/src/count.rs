//! Things that are counted, not weighed.

use crate::error::within;
use crate::{QuantityError, numerals};
use core::fmt;
use std::sync::Arc;

/// So many of something, zero or more, with the word for one: 2 "clove", 0.5 "shallot".
#[derive(Debug, Clone, PartialEq)]
pub struct Count {
    n: f64,
    word: Arc<str>,
}

impl Count {
    /// The most a constructor takes.
    pub const MOST: f64 = 1e9;

    /// So many of `word` (the word for one).
    ///
    /// # Errors
    /// Refuses NaN, infinities, negatives, more than [`Count::MOST`], and an empty word.
    pub fn new(n: f64, word: &str) -> Result<Self, QuantityError> {
        let n = within("count", "pieces", n, 0.0, Self::MOST)?;
        let word = word.split_whitespace().collect::<Vec<_>>().join(" ");
        if word.is_empty() || word.chars().any(char::is_control) {
            return Err(QuantityError::NoName {
                what: "counted thing",
                example: "clove",
            });
        }
        Ok(Self {
            n,
            word: word.into(),
        })
    }

    /// How many.
    #[must_use]
    pub fn n(&self) -> f64 {
        self.n
    }

    /// The word for one.
    #[must_use]
    pub fn word(&self) -> &str {
        &self.word
    }

    /// This many times a plain number.
    ///
    /// # Errors
    /// As [`Count::new`].
    pub fn scaled(&self, factor: f64) -> Result<Self, QuantityError> {
        Self::new(self.n * factor, &self.word)
    }
}

/// "2 × clove", "0.5 × shallot": the multiplication sign spares English plurals.
impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} × {}", numerals::plain(self.n, 0, 3), self.word)
    }
}

/// Counts compare only when they count the same thing.
impl PartialOrd for Count {
    fn partial_cmp(&self, other: &Self) -> Option<core::cmp::Ordering> {
        if self.word == other.word {
            self.n.partial_cmp(&other.n)
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cloves_are_not_compared_with_shallots() {
        let cloves = Count::new(2.0, "clove").unwrap();
        let shallots = Count::new(0.5, "shallot").unwrap();
        assert_eq!(cloves.partial_cmp(&shallots), None);
        assert!(cloves < cloves.scaled(2.0).unwrap());
        assert_eq!(shallots.to_string(), "0.5 × shallot");
        assert!(Count::new(-1.0, "egg").is_err());
        assert!(Count::new(1.0, " ").is_err());
    }
}
