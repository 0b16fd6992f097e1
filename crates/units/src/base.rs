//! The base of a percentage: what 100 % is.

use crate::QuantityError;
use core::fmt;
use std::sync::Arc;

/// What a percentage is a percentage of, by name: "skin-on fillet", "green weight", "liquor".
///
/// Two bases are the same when their names are, letter for letter, once runs of blanks are
/// made one. Cloning is cheap.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Base(Arc<str>);

impl Base {
    /// A base with this name.
    ///
    /// # Errors
    /// [`QuantityError::NoName`] when nothing readable is left of the name.
    pub fn new(name: &str) -> Result<Self, QuantityError> {
        let tidy = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if tidy.is_empty() || tidy.chars().any(char::is_control) {
            return Err(QuantityError::NoName {
                what: "base of a percentage",
                example: "skin-on fillet",
            });
        }
        Ok(Self(tidy.into()))
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Base {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_do_not_make_another_base() {
        assert_eq!(
            Base::new(" skin-on   fillet ").unwrap(),
            Base::new("skin-on fillet").unwrap()
        );
        assert!(Base::new("  ").is_err());
        assert!(Base::new("a\u{7}b").is_err());
    }
}
