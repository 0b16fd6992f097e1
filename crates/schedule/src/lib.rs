//! Puts tasks on a clock: people, machines, minimum and maximum lags.
mod board;
mod bound;
mod calendar;
pub mod check;
mod clash;
mod dice;
mod eject;
mod groups;
mod improve;
mod insert;
mod ledger;
mod malformed;
mod model;
mod network;
mod outcome;
mod problem;
mod proof;
mod search;
mod solve;
mod tighten;

pub use malformed::Malformed;
pub use outcome::{Clash, Effort, Fact, Outcome, Progress, Schedule, Side};
pub use problem::{
    AMOUNT_LIMIT, Crew, Edge, Lean, Link, MINUTE_LIMIT, Machine, MachineKind, Minute, Occupancy, Person, Point,
    Problem, Span, Task,
};
pub use solve::solve;
