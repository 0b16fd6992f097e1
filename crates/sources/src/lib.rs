//! Bibliography as code: where a figure comes from, and how far we read it.
//!
//! Every number Saltern shows ends in a leaf, and every leaf names a [`Source`]. A source carries a
//! [`Status`]; what was only remembered, or quoted by somebody else, may never carry a claim that a
//! limit is met. This room holds the list and nothing else: no figures, no formulas.

pub mod list;

pub use list::{ALL, find};

/// How far we got to the text behind a figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    /// The text, table or data file itself was read.
    Read,
    /// Read in a document that quotes or summarises it.
    SecondHand,
    /// Remembered, not looked up.
    FromMemory,
    /// A habit of the trade; nobody has published it that we know of.
    CommonPractice,
    /// Decided in this house, or invented for the demo.
    House,
    /// Typed in by the person using the tool.
    Entered,
    /// Follows from other figures by arithmetic.
    Computed,
}

impl Status {
    /// The words printed beside a figure.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::SecondHand => "second-hand",
            Self::FromMemory => "from memory",
            Self::CommonPractice => "common practice, no source",
            Self::House => "house value",
            Self::Entered => "entered",
            Self::Computed => "computed",
        }
    }

    /// Whether a limit with this status may make a verdict *shown* by itself.
    ///
    /// Only a limit whose own text was read may; everything else prints "verify with your authority".
    #[must_use]
    pub const fn may_show(self) -> bool {
        matches!(self, Self::Read)
    }
}

/// One cited source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    /// Short key used in data files, for example `sr28`.
    pub key: &'static str,
    /// Title, with edition or date.
    pub title: &'static str,
    /// How far it was read.
    pub status: Status,
}

/// A source together with the place in it: a row, a section, a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Citation {
    /// The source.
    pub source: &'static Source,
    /// Row, section or page; empty when the source is a single statement.
    pub place: String,
}

impl Citation {
    /// Reads `key` or `key:place` as data files write it; `None` when the key is not in the list.
    ///
    /// ```
    /// let c = sources::Citation::read("sr28:02047").unwrap();
    /// assert_eq!(c.source.status, sources::Status::Read);
    /// assert_eq!(c.place, "02047");
    /// assert!(sources::Citation::read("hearsay:page 3").is_none());
    /// ```
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let (key, place) = text.split_once(':').unwrap_or((text, ""));
        find(key.trim()).map(|source| Self {
            source,
            place: place.trim().to_owned(),
        })
    }

    /// A citation of `source` as a whole.
    #[must_use]
    pub const fn whole(source: &'static Source) -> Self {
        Self {
            source,
            place: String::new(),
        }
    }
}

impl std::fmt::Display for Citation {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.place.is_empty() {
            write!(f, "{} ({})", self.source.title, self.source.status.words())
        } else {
            write!(
                f,
                "{}, {} ({})",
                self.source.title,
                self.place,
                self.source.status.words()
            )
        }
    }
}
