//! One label held against some words.

use kitchen::Id;
use kitchen::ingredient::Ingredient;
use kitchen::label::Allergen;
use kitchen::step::LineItem;
use kitchen::swap::Swap;
use kitchen::{Book, label};

use super::walk::{Eaten, Through, eaten};

/// What can be said of one thing in one food. In order: what is worse for the guest is greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// Every label was read, and none names it. No more than that.
    Free,
    /// It is in it by the labels, and below the amount the place wants named.
    Under,
    /// A label has to be read, or somebody asked, before it is known.
    May,
    /// Somebody has not looked: a label is not in the book.
    Unknown,
    /// It is in it.
    Contains,
}

impl State {
    /// Every state.
    pub const ALL: &'static [Self] = &[
        Self::Free,
        Self::Under,
        Self::May,
        Self::Unknown,
        Self::Contains,
    ];

    /// The word for programs and for `why`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Free => "none on the labels",
            Self::Under => "under the limit",
            Self::May => "may contain",
            Self::Unknown => "unknown",
            Self::Contains => "contains",
        }
    }

    /// The sign in the matrix.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Free => "·",
            Self::Under => "<",
            Self::May => "m",
            Self::Unknown => "?",
            Self::Contains => "C",
        }
    }
}

/// Why a cell is what it is: one ingredient, what its label says, and how it gets there.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// The ingredient.
    pub item: Id,
    /// Its name.
    pub name: String,
    /// What it makes of the cell.
    pub state: State,
    /// What its label says, in a few words: "milk", "states no allergens".
    pub said: String,
    /// The way to the plate.
    pub path: Vec<Through>,
}

/// What one label says of these words: the state and what it says in a few words.
///
/// A general word of the label ("tree nut") against one of its kinds is unknown, unless the label names a kind beside it:
/// then that kind is what it meant.
#[must_use]
pub fn standing(asked: &[Allergen], ingredient: Option<&Ingredient>) -> (State, String) {
    let Some(label) = ingredient.and_then(|i| i.allergens.as_ref()) else {
        return (State::Unknown, "states no allergens".to_owned());
    };
    let hit = |list: &[Allergen]| list.iter().copied().find(|w| asked.contains(w));
    let open = |list: &[Allergen]| {
        list.iter().copied().find(|general| {
            general.kinds().iter().any(|k| asked.contains(k))
                && !general.kinds().iter().any(|k| label.contains.contains(k))
        })
    };
    if let Some(word) = hit(&label.contains) {
        return (State::Contains, word.word().to_owned());
    }
    let which = |word: Allergen| format!("{}, which one is not stated", word.word());
    if let Some(word) = open(&label.contains) {
        return (State::Unknown, which(word));
    }
    if let Some(word) = hit(&label.may) {
        return (State::May, word.word().to_owned());
    }
    if let Some(word) = open(&label.may) {
        return (State::May, which(word));
    }
    match label.so2_mg_per_kg.filter(|mg| *mg > 0.0) {
        Some(mg) if asked.contains(&Allergen::Sulphites) => {
            (State::Under, format!("{mg} mg/kg sulphites"))
        }
        _ => (State::Free, String::new()),
    }
}

/// What the labels of all these ingredients say of these words: the worst of them, and why.
#[must_use]
pub fn of_all(asked: &[Allergen], all: &[Eaten<'_>]) -> (State, Vec<Cause>) {
    judged(all, |e| standing(asked, e.ingredient))
}

/// The worst state over all ingredients, and the causes that are not *free*, worst first.
pub(crate) fn judged(
    all: &[Eaten<'_>],
    judge: impl Fn(&Eaten<'_>) -> (State, String),
) -> (State, Vec<Cause>) {
    let mut causes: Vec<Cause> = Vec::new();
    for e in all {
        let (state, said) = judge(e);
        if state != State::Free {
            causes.push(Cause {
                item: e.item.clone(),
                name: e
                    .ingredient
                    .map_or_else(|| e.item.to_string(), |i| i.name.clone()),
                state,
                said,
                path: e.path.clone(),
            });
        }
    }
    causes.sort_by_key(|c| std::cmp::Reverse(c.state));
    let worst = causes.first().map_or(State::Free, |c| c.state);
    (worst, causes)
}

/// Everything eaten of a swap.
#[must_use]
pub fn of_swap<'b>(book: &'b Book, swap: &Swap) -> Vec<Eaten<'b>> {
    swap.mix
        .iter()
        .flat_map(|part| match &part.item {
            LineItem::Recipe(id) => eaten(book, id),
            LineItem::Item(id) => vec![Eaten {
                item: id.clone(),
                ingredient: book.ingredients.get(id),
                path: Vec::new(),
            }],
        })
        .collect()
}

/// Swaps for a part of a dish: the dish's own first, then the recipe's.
#[must_use]
pub fn swaps<'b>(book: &'b Book, dish: &Id, part: &Id) -> Vec<&'b Swap> {
    let of_dish = book
        .dishes
        .get(dish)
        .into_iter()
        .flat_map(|d| &d.swaps)
        .filter(|(of, _)| of == part)
        .map(|(_, s)| s);
    let of_recipe = book.recipes.get(part).into_iter().flat_map(|r| &r.swaps);
    of_dish.chain(of_recipe).collect()
}

/// What a whole label says, in words, for the leaf of a derivation.
#[must_use]
pub fn label_words(label: Option<&label::Allergens>) -> String {
    let Some(label) = label else {
        return "states no allergens".to_owned();
    };
    let list = |words: &[Allergen]| {
        let words: Vec<&str> = words.iter().map(|w| w.word()).collect();
        words.join(", ")
    };
    let mut parts = Vec::new();
    if label.contains.is_empty() {
        parts.push("contains none of the words".to_owned());
    } else {
        parts.push(format!("contains {}", list(&label.contains)));
    }
    if !label.may.is_empty() {
        parts.push(format!("may contain {}", list(&label.may)));
    }
    if let Some(mg) = label.so2_mg_per_kg {
        parts.push(format!("{mg} mg/kg SO2"));
    }
    parts.join("; ")
}
