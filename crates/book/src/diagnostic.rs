//! What is wrong with a book, as data; the edge renders it.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// Kinds of mistake; the word is stable and printed with the message.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// Not UTF-8.
    NotText,
    /// Larger than a book file may be.
    TooLarge,
    /// Not TOML.
    NotToml,
    /// A key nobody reads.
    UnknownKey,
    /// A key that must be there.
    MissingKey,
    /// A value of the wrong kind.
    WrongKind,
    /// A value that cannot be read as what it should be.
    Unreadable,
    /// A value outside what is possible.
    OutOfRange,
    /// Two things with one id or name.
    Duplicate,
    /// A name nothing answers to.
    UnknownName,
    /// Keys that exclude each other, or need each other.
    Contradiction,
    /// Steps or recipes that wait for each other.
    Cycle,
    /// A measure by volume of something whose kind decides the weight.
    NeedsKind,
    /// A machine that can never hold what it is given.
    TooBig,
    /// Times that cannot be met.
    TooLate,
    /// A draft that says itself what is not settled.
    OpenQuestion,
}

impl Code {
    /// The stable word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::NotText => "not-text",
            Self::TooLarge => "too-large",
            Self::NotToml => "not-toml",
            Self::UnknownKey => "unknown-key",
            Self::MissingKey => "missing-key",
            Self::WrongKind => "wrong-kind",
            Self::Unreadable => "unreadable",
            Self::OutOfRange => "out-of-range",
            Self::Duplicate => "duplicate",
            Self::UnknownName => "unknown-name",
            Self::Contradiction => "contradiction",
            Self::Cycle => "cycle",
            Self::NeedsKind => "needs-kind",
            Self::TooBig => "too-big",
            Self::TooLate => "too-late",
            Self::OpenQuestion => "open-question",
        }
    }
}

impl Code {
    /// A few words for the place itself, when the message has none of its own.
    pub(crate) const fn mark(self) -> &'static str {
        match self {
            Self::NotText => "not text",
            Self::TooLarge => "too much",
            Self::NotToml => "it stops making sense here",
            Self::UnknownKey => "nobody reads this",
            Self::MissingKey => "something is missing here",
            Self::WrongKind => "another kind of value belongs here",
            Self::Unreadable => "cannot be read",
            Self::OutOfRange => "out of range",
            Self::Duplicate => "the second one",
            Self::UnknownName => "no such name",
            Self::Contradiction => "does not go together",
            Self::Cycle => "a circle",
            Self::NeedsKind => "not enough to weigh it by",
            Self::TooBig => "does not fit",
            Self::TooLate => "the times do not meet",
            Self::OpenQuestion => "not settled",
        }
    }
}

/// One mistake: where, what was found, what was expected, what to do now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Kind.
    pub code: Code,
    /// File name.
    pub file: String,
    /// Text of the file, for the edge to quote; empty when it was not text.
    /// Shared, because a file with many mistakes is quoted many times.
    pub text: Arc<str>,
    /// Bytes of the text it points at.
    pub span: Range<usize>,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, in characters.
    pub column: usize,
    /// The cause in a few words, to stand at the place itself.
    pub mark: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
    /// The nearest known name.
    pub did_you_mean: Option<String>,
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}:{}:{}: {}; expected {}; {}",
            self.file, self.line, self.column, self.found, self.expected, self.do_now
        )?;
        if let Some(name) = &self.did_you_mean {
            write!(f, " (did you mean `{name}`?)")?;
        }
        Ok(())
    }
}
