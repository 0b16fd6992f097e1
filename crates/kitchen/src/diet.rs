//! Diets a guest may name.

/// A diet a guest may name. What it leaves out is the matter of who asks; here it is a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Diet {
    /// No flesh, gelatine or rennet.
    Vegetarian,
    /// Nothing of an animal.
    Vegan,
    /// No pork.
    NoPork,
    /// No alcohol; vinegar is a question for the guest.
    NoAlcohol,
    /// The usual caution with raw-cured and cold-smoked food.
    Pregnancy,
}

impl Diet {
    /// Words of the book and of the command line.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("vegetarian", Self::Vegetarian),
        ("vegan", Self::Vegan),
        ("no-pork", Self::NoPork),
        ("no-alcohol", Self::NoAlcohol),
        ("pregnancy", Self::Pregnancy),
    ];

    /// The word.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, d)| *d == self)
            .map_or("", |(w, _)| w)
    }

    /// The word's meaning.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, d)| *d)
    }
}
