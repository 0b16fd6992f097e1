//! What a book holds: ingredient, recipe, dish, event, site.
//!
//! These are plain values that the rest of Saltern may trust: the `book` room builds them from
//! files and refuses what does not hold together (an unknown item, a cycle, a wait whose minimum is
//! above its maximum), so that `plan` never has to look twice. Nothing here computes a weight, a
//! price or a time.

pub mod book;
pub mod diet;
pub mod event;
pub mod id;
pub mod ingredient;
pub mod label;
pub mod recipe;
pub mod site;
pub mod spread;
pub mod step;
pub mod swap;
pub mod verb;

pub use book::Book;
pub use id::Id;
