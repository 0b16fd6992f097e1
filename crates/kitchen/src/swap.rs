//! What may stand in the place of a part for one guest.

use units::Mass;

use crate::step::LineItem;

/// A swap: a small mix of what is on the bench anyway, put on a plate in the place of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Swap {
    /// Its name on the ticket.
    pub name: String,
    /// What it is mixed of; the shares add to one, by weight.
    pub mix: Vec<SwapPart>,
    /// Grams on one plate.
    pub portion: Mass,
    /// How it is made, one line a cook can follow.
    pub what: Option<String>,
}

/// One part of a swap.
#[derive(Debug, Clone, PartialEq)]
pub struct SwapPart {
    /// An ingredient, or the product of a recipe.
    pub item: LineItem,
    /// What of it, when not the whole: "liquor".
    pub form: Option<String>,
    /// Its part of the weight, 0–1.
    pub share: f64,
}
