//! Limits by place, and the verdicts *shown*, *not shown*, *broken*.
//!
//! This room holds values against limits. It never says that food is fit to eat: it says which rule
//! is broken, and which still lacks evidence. A limit that was not read itself can break a verdict but
//! never show one, a mean is never a core, and a plan is never a reading.

pub mod allergens;
pub mod cautions;
pub mod facts;
pub mod history;
pub mod judge;
pub mod judgement;
pub mod nitrite;
pub mod planned;
pub mod rules;
pub mod verdict;
pub mod ways;

pub use judgement::{Evidence, Holds, Judgement, Part, Side};
pub use verdict::Verdict;
