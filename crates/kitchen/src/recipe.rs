//! A recipe: steps in a graph that end in one product.

use units::Temperature;

use crate::Id;
use crate::step::{FeedFrom, Step};
use crate::swap::Swap;

/// One recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// The steps, in an order in which each comes after everything it needs.
    pub steps: Vec<Step>,
    /// What happens to what was bought beyond the need.
    pub surplus: Surplus,
    /// How long the finished product keeps.
    pub keeps_for: Option<DateMark>,
    /// What a rule has to know about the product.
    pub product: Option<Product>,
    /// What may stand in its place on a plate, best first.
    pub swaps: Vec<Swap>,
}

/// What happens to what was bought beyond the need.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surplus {
    /// It goes through the process with the rest (five whole fish are all cured).
    Through,
    /// It stays in the store.
    ToStore,
}

/// A date mark: day 1 is the day the marked step ends.
#[derive(Debug, Clone, PartialEq)]
pub struct DateMark {
    /// Days, day 1 included.
    pub days: u32,
    /// The step whose end is day 1.
    pub from: Id,
    /// Held at or below.
    pub at_most: Temperature,
}

/// What a rule has to know about a product.
#[derive(Debug, Clone, PartialEq)]
pub struct Product {
    /// Its class.
    pub class: ProductClass,
    /// Species, where a rule depends on it.
    pub species: Option<String>,
    /// Packed without oxygen.
    pub reduced_oxygen: bool,
}

/// Classes of product that rules speak about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProductClass {
    /// Hot- or cold-smoked fish.
    SmokedFish,
    /// Whole-muscle meat cured dry.
    DryCuredMeat,
    /// Meat cured in a cover brine.
    ImmersedMeat,
    /// Meat pumped with pickle.
    PumpedMeat,
    /// Vegetables in vinegar, kept cold.
    ColdPickle,
    /// Anything else that is kept cold and eaten as it is.
    ReadyCold,
}

impl ProductClass {
    /// Words of the book.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("smoked-fish", Self::SmokedFish),
        ("dry-cured-meat", Self::DryCuredMeat),
        ("immersed-meat", Self::ImmersedMeat),
        ("pumped-meat", Self::PumpedMeat),
        ("cold-pickle", Self::ColdPickle),
        ("ready-cold", Self::ReadyCold),
    ];

    /// The class with this word.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, c)| *c)
    }
}

impl Recipe {
    /// Position of a step.
    #[must_use]
    pub fn position(&self, step: &Id) -> Option<usize> {
        self.steps.iter().position(|s| &s.id == step)
    }

    /// Positions of the steps that take from step `at`, with their shares.
    #[must_use]
    pub fn takers(&self, at: usize) -> Vec<(usize, f64)> {
        let id = &self.steps[at].id;
        let mut takers = Vec::new();
        for (i, step) in self.steps.iter().enumerate() {
            for feed in &step.feeds {
                if matches!(&feed.from, FeedFrom::Step(s) if s == id) {
                    takers.push((i, feed.share));
                }
            }
        }
        takers
    }

    /// The step whose product is the recipe's product: the last one nobody takes from.
    #[must_use]
    pub fn last(&self) -> usize {
        (0..self.steps.len())
            .rev()
            .find(|i| self.takers(*i).is_empty())
            .unwrap_or(0)
    }
}
