//! Plans as text: calm, aligned, answers first, a hundred columns at most.

mod allergens;
mod clock;
pub(crate) mod compare;
mod happened;
pub(crate) mod plan;
mod robust;
mod sections;
mod specials;
pub(crate) mod text;
pub(crate) mod ways;
pub(crate) mod why;
