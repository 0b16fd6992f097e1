//! Plans as text: calm, aligned, answers first, a hundred columns at most.

mod allergens;
mod clock;
pub(crate) mod compare;
mod happened;
pub(crate) mod plan;
mod sections;
pub(crate) mod text;
pub(crate) mod why;
