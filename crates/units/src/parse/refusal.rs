//! What could not be read, where, and what to do about it.

use core::ops::Range;
use thiserror::Error;

/// A text that is not the amount it should be.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("found {found}; expected {expected}; {do_now}")]
pub struct ReadError {
    /// The bytes of the text this is about; always on character boundaries of it.
    pub range: Range<usize>,
    /// What was found there.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
}

impl ReadError {
    pub(crate) fn new(
        range: Range<usize>,
        found: impl Into<String>,
        expected: impl Into<String>,
        do_now: impl Into<String>,
    ) -> Self {
        Self {
            range,
            found: found.into(),
            expected: expected.into(),
            do_now: do_now.into(),
        }
    }
}
