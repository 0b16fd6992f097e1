//! A dish is what is on a plate; an event is when, for how many, with whom.

use jiff::civil::DateTime;
use units::{Elapsed, Mass, Money};

use crate::Id;
use crate::diet::Diet;
use crate::label::Allergen;
use crate::site::{Hours, People};
use crate::step::Hands;
use crate::swap::Swap;

/// A dish: parts and how they come together.
#[derive(Debug, Clone, PartialEq)]
pub struct Dish {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Parts.
    pub parts: Vec<Part>,
    /// What may stand in the place of a part, best first: the recipe it stands for, and the swap.
    pub swaps: Vec<(Id, Swap)>,
    /// Plating, when it is plated.
    pub plating: Option<Plating>,
}

/// One part of a dish.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The recipe.
    pub recipe: Id,
    /// How much.
    pub portion: Portion,
    /// For each what.
    pub per: Per,
    /// Made beyond the count.
    pub spare: u32,
    /// Whether the plate is still this dish without it.
    pub can_be_left_out: bool,
}

/// How much of a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Portion {
    /// Grams served.
    Served(Mass),
    /// So many purchased pieces.
    Pieces(f64),
}

/// What a part is counted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Per {
    /// Every plate (covers with the spare rate).
    Plate,
    /// Every cover or learner, without the spare rate.
    Cover,
    /// Every pair of learners.
    Pair,
}

impl Per {
    /// Words of the book.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("plate", Self::Plate),
        ("cover", Self::Cover),
        ("learner", Self::Cover),
        ("pair", Self::Pair),
    ];

    /// The word's meaning.
    #[must_use]
    pub fn find(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(w, _)| *w == word).map(|(_, p)| *p)
    }
}

/// Plating on a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Plating {
    /// Work.
    pub hands: Hands,
    /// A plate may stand this long before it is served.
    pub stands_at_most: Elapsed,
    /// The last plate is up this long before service.
    pub ready_before: Elapsed,
}

/// An event.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Site.
    pub site: Id,
    /// Nothing is ordered or done before.
    pub from: DateTime,
    /// Serving hour, local.
    pub serve: DateTime,
    /// Paid covers (or learners).
    pub covers: u32,
    /// What one cover is called: cover, learner.
    pub cover_word: String,
    /// Spare rate, as a ratio.
    pub spare: f64,
    /// Dishes.
    pub dishes: Vec<Id>,
    /// Plates that are laid otherwise, for guests who do without something.
    pub specials: Vec<Special>,
    /// Shadow rate and pace of the people who do the work.
    pub role: Id,
    /// People for this event.
    pub crew: Vec<People>,
    /// Deliveries fixed for this event: supplier and hour.
    pub deliveries: Vec<Delivery>,
    /// Hours a step would best start.
    pub prefers: Vec<Prefer>,
    /// Hours within which a step must lie: a class.
    pub within: Vec<Within>,
    /// Work around the cooking: mise check, labels, cleaning.
    pub tasks: Vec<EventTask>,
    /// People paid by presence.
    pub presence: Vec<Presence>,
    /// Food cost aimed at, as a ratio of the price.
    pub target_food_cost: Option<f64>,
    /// Budget per cover.
    pub budget: Option<Money>,
    /// Extra hours the house opens for this event.
    pub open: Vec<Hours>,
}

/// Plates for guests who do without something. They are among the paid covers. A guest is a seat, never a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Special {
    /// Id: `seat-14`, `table-3`.
    pub id: Id,
    /// The seat, for the ticket.
    pub seat: Option<String>,
    /// How many plates.
    pub plates: u32,
    /// Allergens they do without.
    pub without: Vec<Allergen>,
    /// Diets they named.
    pub diets: Vec<Diet>,
}

/// A delivery.
#[derive(Debug, Clone, PartialEq)]
pub struct Delivery {
    /// Supplier, or one item of it.
    pub what: Id,
    /// When, local.
    pub at: DateTime,
}

/// A start a chef would like.
#[derive(Debug, Clone, PartialEq)]
pub struct Prefer {
    /// `recipe.step`, or the id of an event task, or `plate`.
    pub step: String,
    /// When, local.
    pub at: DateTime,
}

/// Hours within which a step must lie.
#[derive(Debug, Clone, PartialEq)]
pub struct Within {
    /// `recipe.step` or the id of an event task.
    pub step: String,
    /// Not before, local.
    pub from: DateTime,
    /// Done by, local.
    pub to: DateTime,
}

/// Work around the cooking.
#[derive(Debug, Clone, PartialEq)]
pub struct EventTask {
    /// Id.
    pub id: Id,
    /// What.
    pub what: String,
    /// Work.
    pub hands: Hands,
    /// Role that does it, when not the event's.
    pub role: Option<Id>,
    /// Not before.
    pub from: Moment,
    /// Done by.
    pub to: Moment,
}

/// A moment of an event.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moment {
    /// So many minutes after the serving hour (negative: before).
    FromServe(i64),
    /// A date and hour, local.
    At(DateTime),
}

/// People paid for being there.
#[derive(Debug, Clone, PartialEq)]
pub struct Presence {
    /// Role.
    pub role: Id,
    /// From.
    pub from: Moment,
    /// Until.
    pub to: Moment,
}
