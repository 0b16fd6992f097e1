//! The languages there are.

/// A language papers are written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Language {
    /// English.
    English,
    /// French, as a cook in Québec reads it.
    French,
}

impl Language {
    /// Every language with the word that asks for it (BCP 47, its first part).
    pub const ALL: &'static [(&'static str, Self)] = &[("en", Self::English), ("fr", Self::French)];

    /// The language with this word: `en`, `fr`.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, l)| *l)
    }

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::French => "fr",
        }
    }
}
