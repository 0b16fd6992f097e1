//! Files into kitchen types: every mistake of a book found in one go, with the place it stands at.
//!
//! A book is a set of plain TOML files. The first key of a file says what it holds: `recipe`,
//! `site`, `event`, `book`, or the lists `[[ingredient]]` and `[[dish]]`. Reading is two walks:
//! each file into checked values, then the values against each other (does the item exist, does the
//! graph close, can the machine hold one piece). Nothing is half-loaded: either a whole
//! [`kitchen::Book`] comes back, or every [`Diagnostic`].
//!
//! This room opens no file. The shell hands it names and bytes; the demo book and the ingredient
//! table are compiled in.

mod circle;
mod cross;
pub mod demo;
mod diagnostic;
mod dish;
mod event;
mod fields;
mod goal;
mod hours;
mod inflow;
mod ingredient;
mod known;
mod label;
mod line;
mod order;
mod page;
mod piece;
mod read;
mod recipe;
mod sheet;
mod shipped;
mod site;
mod source;
mod special;
mod step;
mod suggest;
mod supplier;
mod supplies;
mod swap;
mod values;

pub use diagnostic::{Code, Diagnostic};
pub use read::{Limits, read};
pub use shipped::ingredients as shipped_ingredients;
pub use source::SourceFile;
pub use suggest::did_you_mean;
