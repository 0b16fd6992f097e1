//! Bench questions: one question, one answer.
//!
//! An answer has the number first, alone, with its unit; then the limit or window and the slack in it;
//! then what to do next; then, small, base and sources. Every number it prints is one of its
//! [`Figures`](crate::Figures). Reading what a cook typed, and finding an ingredient by its name, is the
//! shell's; what is here takes quantities and gives an [`Answer`] or a [`Refusal`].

mod answer;
pub mod brine;
pub mod convert;
pub mod cook;
pub mod cool;
pub mod cure;
pub mod dry;
pub mod emulsion;
pub mod guest;
mod measure;
pub mod nitrite;
pub mod pickle;
mod picture;
mod refusal;
pub mod salt;
mod sheet;
pub mod steep;
pub mod warmth;
mod weighable;
pub mod weighing;
pub mod worth;
pub mod yields;

pub use answer::{Answer, broken};
pub use measure::{Kind, Measure};
pub use picture::Pictured;
pub use refusal::Refusal;
