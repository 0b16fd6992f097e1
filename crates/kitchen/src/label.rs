//! What a label says of an ingredient: its allergens, and what it was made from.
//!
//! The words are ours, finer than any place's list: a place's list names groups of them
//! (`safety::allergens`), a diet leaves some of them out.

use sources::Citation;

/// One allergen as a label names it.
///
/// The two general words, [`Allergen::TreeNut`] and [`Allergen::Gluten`], stand for "one of its kinds, which one is
/// not said". Which kinds they have is a fact of botany and of how cooks speak, not of any law.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Allergen {
    /// Milk of any animal, and what is made of it.
    Milk,
    /// Egg.
    Egg,
    /// Fish with fins.
    Fish,
    /// Crab, lobster, shrimp.
    Crustacean,
    /// Mussel, oyster, squid.
    Mollusc,
    /// A nut of a tree, which one is not said.
    TreeNut,
    /// Almond.
    Almond,
    /// Hazelnut.
    Hazelnut,
    /// Walnut.
    Walnut,
    /// Cashew.
    Cashew,
    /// Pecan.
    Pecan,
    /// Brazil nut.
    BrazilNut,
    /// Pistachio.
    Pistachio,
    /// Macadamia.
    Macadamia,
    /// Pine nut.
    PineNut,
    /// Sweet chestnut.
    Chestnut,
    /// Coconut.
    Coconut,
    /// Peanut.
    Peanut,
    /// Wheat, spelt and khorasan included.
    Wheat,
    /// Rye.
    Rye,
    /// Barley.
    Barley,
    /// Oats.
    Oats,
    /// Triticale.
    Triticale,
    /// A cereal with gluten, which one is not said.
    Gluten,
    /// Soy.
    Soy,
    /// Sesame.
    Sesame,
    /// Mustard.
    Mustard,
    /// Celery, celeriac included.
    Celery,
    /// Lupin.
    Lupin,
    /// Sulphur dioxide and sulphites.
    Sulphites,
}

impl Allergen {
    /// Words of the book.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("milk", Self::Milk),
        ("egg", Self::Egg),
        ("fish", Self::Fish),
        ("crustacean", Self::Crustacean),
        ("mollusc", Self::Mollusc),
        ("tree-nut", Self::TreeNut),
        ("almond", Self::Almond),
        ("hazelnut", Self::Hazelnut),
        ("walnut", Self::Walnut),
        ("cashew", Self::Cashew),
        ("pecan", Self::Pecan),
        ("brazil-nut", Self::BrazilNut),
        ("pistachio", Self::Pistachio),
        ("macadamia", Self::Macadamia),
        ("pine-nut", Self::PineNut),
        ("chestnut", Self::Chestnut),
        ("coconut", Self::Coconut),
        ("peanut", Self::Peanut),
        ("wheat", Self::Wheat),
        ("rye", Self::Rye),
        ("barley", Self::Barley),
        ("oats", Self::Oats),
        ("triticale", Self::Triticale),
        ("gluten", Self::Gluten),
        ("soy", Self::Soy),
        ("sesame", Self::Sesame),
        ("mustard", Self::Mustard),
        ("celery", Self::Celery),
        ("lupin", Self::Lupin),
        ("sulphites", Self::Sulphites),
    ];

    /// The allergen with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, a)| *a)
    }

    /// The word.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, a)| *a == self)
            .map_or("", |(w, _)| w)
    }

    /// The kinds a general word stands for; empty for a word that is one kind itself.
    #[must_use]
    pub const fn kinds(self) -> &'static [Self] {
        match self {
            Self::TreeNut => &[
                Self::Almond,
                Self::Hazelnut,
                Self::Walnut,
                Self::Cashew,
                Self::Pecan,
                Self::BrazilNut,
                Self::Pistachio,
                Self::Macadamia,
                Self::PineNut,
                Self::Chestnut,
                Self::Coconut,
            ],
            Self::Gluten => &[
                Self::Wheat,
                Self::Rye,
                Self::Barley,
                Self::Oats,
                Self::Triticale,
            ],
            _ => &[],
        }
    }

    /// What a guest means by the word: itself and all its kinds.
    #[must_use]
    pub fn with_kinds(self) -> Vec<Self> {
        std::iter::once(self)
            .chain(self.kinds().iter().copied())
            .collect()
    }
}

/// Declared allergens.
#[derive(Debug, Clone, PartialEq)]
pub struct Allergens {
    /// Contains.
    pub contains: Vec<Allergen>,
    /// May contain: read the label.
    pub may: Vec<Allergen>,
    /// Sulphur dioxide and sulphites as SO₂, mg per kg of the ingredient, 0–10,000; `None`: not stated.
    pub so2_mg_per_kg: Option<f64>,
    /// Where it comes from.
    pub source: Citation,
}

/// What an ingredient was made from, as far as a diet asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Origin {
    /// A plant or seaweed.
    Plant,
    /// A mushroom or yeast.
    Fungus,
    /// Salt, water, a mineral.
    Mineral,
    /// Honey.
    Honey,
    /// Milk.
    Milk,
    /// Animal rennet.
    Rennet,
    /// Egg.
    Egg,
    /// Fish.
    Fish,
    /// Crab, mussel, squid.
    Shellfish,
    /// Meat, which animal is not said.
    Meat,
    /// Pork.
    Pork,
    /// Beef or veal.
    Beef,
    /// Lamb or mutton.
    Lamb,
    /// Chicken, duck, goose and other birds.
    Poultry,
    /// Game and rabbit.
    Game,
    /// Gelatine, from which animal is not said.
    Gelatine,
    /// An alcoholic drink, or made from one.
    Alcohol,
}

impl Origin {
    /// Words of the book.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("plant", Self::Plant),
        ("fungus", Self::Fungus),
        ("mineral", Self::Mineral),
        ("honey", Self::Honey),
        ("milk", Self::Milk),
        ("rennet", Self::Rennet),
        ("egg", Self::Egg),
        ("fish", Self::Fish),
        ("shellfish", Self::Shellfish),
        ("meat", Self::Meat),
        ("pork", Self::Pork),
        ("beef", Self::Beef),
        ("lamb", Self::Lamb),
        ("poultry", Self::Poultry),
        ("game", Self::Game),
        ("gelatine", Self::Gelatine),
        ("alcohol", Self::Alcohol),
    ];

    /// The word.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, o)| *o == self)
            .map_or("", |(w, _)| w)
    }

    /// Whether it is flesh, of whatever animal.
    #[must_use]
    pub const fn is_flesh(self) -> bool {
        matches!(
            self,
            Self::Fish
                | Self::Shellfish
                | Self::Meat
                | Self::Pork
                | Self::Beef
                | Self::Lamb
                | Self::Poultry
                | Self::Game
        )
    }
}

/// What an ingredient was made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Origins {
    /// Made from.
    pub from: Vec<Origin>,
    /// May be made from: ask or read the label.
    pub may: Vec<Origin>,
    /// Where it comes from.
    pub source: Citation,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_unique_and_found_again() {
        for (i, (word, allergen)) in Allergen::ALL.iter().enumerate() {
            assert_eq!(Allergen::find(word), Some(*allergen));
            assert_eq!(allergen.word(), *word);
            assert!(Allergen::ALL[i + 1..].iter().all(|(w, _)| w != word));
        }
        for (i, (word, origin)) in Origin::ALL.iter().enumerate() {
            assert_eq!(origin.word(), *word);
            assert!(Origin::ALL[i + 1..].iter().all(|(w, _)| w != word));
        }
    }

    #[test]
    fn a_guest_who_says_gluten_means_rye_too() {
        assert!(Allergen::Gluten.with_kinds().contains(&Allergen::Rye));
        assert_eq!(Allergen::Milk.with_kinds(), [Allergen::Milk]);
    }
}
