//! Which allergens are in what of an event, and through which step they came in.
//!
//! Everything here rests on what the labels in the book say: an ingredient whose label was not read is *unknown*, and so is
//! every dish it goes into. Nothing here says that a plate is fit for a guest.
//!
//! [`walk`] finds what is eaten of a recipe and by which path, [`standing`] holds one label against some words,
//! [`sulphite`] weighs what has a limit, [`diet`] asks what it was made from, [`matrix`](mod@matrix) sets it all in rows
//! and columns.

pub mod diet;
mod json;
pub mod matrix;
pub mod standing;
pub mod sulphite;
pub mod walk;

pub use diet::Diet;
pub(crate) use json::causes as causes_json;
pub use json::json;
pub use matrix::{Cell, DishRows, Matrix, Row, matrix};
pub use standing::{Cause, State};

/// The figure of a cell: `allergen.RECIPE.COLUMN`.
#[must_use]
pub fn figure_id(recipe: &kitchen::Id, column: &str) -> String {
    format!("allergen.{recipe}.{column}")
}

/// The figure of a label: `label.ITEM`.
#[must_use]
pub fn label_id(item: &kitchen::Id) -> String {
    format!("label.{item}")
}
