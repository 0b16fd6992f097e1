//! One plan: demand, loads, order, cost, schedule, verdicts, and the figures behind each of them.
//!
//! A plan is a pure walk: book and event in, [`Plan`] out; nothing flows back. Changing a fact
//! (`--set`) and walking again is the whole of re-planning.

pub mod ask;
pub mod figures;

pub use figures::{Figure, Figures};
