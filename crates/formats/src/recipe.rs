//! Recipes as schema.org Recipe in JSON-LD: the formula as lines of text going out; lines of text read as a cook's
//! words coming in, and what cannot be read asked, never guessed.
//!
//! # Source
//! schema.org: Recipe, HowToStep, HowToDirection, HowToSupply, HowToTool, PropertyValue and their properties; second-hand
//! from published listings of the vocabulary.

mod draft;
mod line;
mod out;
mod page;
mod pasted;
mod source;

pub use draft::{Draft, draft};
pub use line::{Line, Worth, read_line};
pub use out::{Unknown, json_ld};
pub use pasted::{Pasted, lines, pasted};

/// What a supply says of itself when it is what flows into a step, not what is added there.
const FLOWS_IN: &str = "flows in";
/// What a supply says of itself when it is a line of the step's mix.
const ADDED: &str = "added";
