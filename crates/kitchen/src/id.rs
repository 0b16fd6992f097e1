//! Names of things in a book.

use std::fmt;

/// The id of an ingredient, recipe, step, dish, event, machine or supplier: lower-case letters,
/// digits and hyphens, starting with a letter.
///
/// Ids are what `--set` and `why` speak, so they carry no dots: a dot separates ids.
///
/// ```
/// use kitchen::Id;
/// assert!(Id::new("hot-smoked-char").is_some());
/// assert!(Id::new("Hot smoked").is_none());
/// assert!(Id::new("cure.salt").is_none());
/// ```
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(String);

/// Longest id taken, in characters.
pub const LONGEST: usize = 64;

impl Id {
    /// An id, or `None` when the text is not one.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        let mut chars = text.chars();
        let starts = chars.next().is_some_and(|c| c.is_ascii_lowercase());
        let rest = chars.all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
        (starts && rest && text.len() <= LONGEST).then(|| Self(text.to_owned()))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl std::borrow::Borrow<str> for Id {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl PartialEq<str> for Id {
    fn eq(&self, other: &str) -> bool {
        self.0 == other
    }
}

impl PartialEq<&str> for Id {
    fn eq(&self, other: &&str) -> bool {
        self.0 == *other
    }
}
