//! Puts tasks on a clock: people, machines, minimum and maximum lags.
//!
//! This room knows no kitchens: it is given abstract tasks and gives back starts and crews, or the facts that stand
//! against them. It reads no clock; minutes count from an epoch the caller chooses, and effort is counted in steps.
//! It does not choose recipes, batch sizes or the number of people a task takes.
//!
//! # The problem
//! Tasks `i` of fixed length `p_i` get an integer start `s_i`. With `σ(P)` for the moment of a [`Point`] (`s_i` or
//! `s_i + p_i`):
//! - **bounds**: `earliest_i ≤ s_i ≤ latest_i`;
//! - **lags**: `min ≤ σ(to) − σ(from) ≤ max` for every [`Link`];
//! - **people**: a task with a [`Crew`] gets exactly `count` different people who have its skill; each of them is there
//!   (regular hours and overtime joined) over all of `[s_i, s_i + p_i)` and in no other task during it;
//! - **machines**: an [`Occupancy`] holds `[σ(from), σ(to))`, never backwards and never over unavailable spans. At
//!   every moment the amounts inside are within the capacity. Two holds of different loads on a
//!   [`MachineKind::OneLoad`] machine are at least `change_over` apart. An empty hold takes nothing.
//!
//! The **value**, to be made small, is `Σ w_i·|s_i − t_i| + w_o·(person-minutes of overtime)`. The target `t_i` is the
//! minute of [`Lean::Toward`], or the task's earliest (latest) start in the temporal network for [`Lean::Early`]
//! ([`Lean::Late`]); [`Lean::Indifferent`] costs nothing.
//!
//! This is project scheduling with generalised precedence, calendars, multi-skilled people and sequence-dependent
//! set-ups; deciding whether any schedule exists is NP-hard already with lags and one machine (from memory of the
//! textbooks on project scheduling with time windows). So there are three answers, and they are kept apart:
//! [`Outcome::Found`], [`Outcome::Impossible`] when there is a proof, and [`Outcome::NotFound`] when the search gave up.
//!
//! # What is proved
//! 1. **Temporal network.** Since lengths are fixed, every lag is an arc `s_j ≥ s_i + w` between two starts, and bounds
//!    are arcs from and to an origin. Longest paths from the origin (Bellman and Ford's relaxation with a queue) give
//!    each earliest start; a positive cycle is a contradiction, found by following predecessors, and the facts of
//!    the [`Clash`] are exactly the arcs of that one cycle: leave any out and it is no cycle.
//! 2. **Calendars.** A crew can start only where enough fitting people are there together for the whole length. Both
//!    bounds of each window are moved onto such starts, and lags and calendars are alternated until nothing moves. If
//!    a window closes, its chain of reasons is thinned by leaving out one premise after another as long as the
//!    contradiction stays (chains of up to 400 premises).
//! 3. **Amounts.** A hold that certainly lasts and is larger than its machine; holds that certainly overlap (latest
//!    `from` before earliest `to`) and are together.
//! 4. **Time of a one-load machine.** For loads whose windows lie in `[a, b)`: the sum of their least lengths plus
//!    `(k − 1)` change-overs, or plus closed time, exceeds `b − a`; or, for two loads, neither order fits. The least
//!    length is the longest path between the two ends.
//! 5. **Time of people.** For tasks whose windows lie in `[a, b)`: their person-minutes exceed the person-minutes of
//!    everybody with the skill, overtime included.
//!
//! 6. **Learning.** What is left is tried systematically, every dead end leaving a clause behind (`learn`): when clauses,
//!    lags, calendars, time-tables, pairs and the price close the root, there is no schedule, or none cheaper. The
//!    facts of such a proof are found by leaving out crews and holds as long as the rest still has no schedule
//!    ([`Fact::NoOrder`]).
//!
//! # What is searched
//! **Re-inserting.** Groups of up to twelve tasks tied by lags with a most are inserted one after another. Within a group
//! the task with the narrowest window is next; its starts are tried outward from its target, jumping over stretches where
//! people or machines are taken; after each placement the windows of the others are narrowed by lags and calendars, and a
//! start that leaves another task none is left again by at least the minutes that are missing. A group that finds
//! no place throws out those in its way, the ones that have been hard to place least readily (weights grow with every
//! failure); searches that do not get on begin anew in another order. A complete schedule is then improved by taking
//! up to ten groups off the board, one that is dear and those that stand where it would rather be, and inserting them
//! in another order; a little dearer is accepted at first, less and less later.
//!
//! **Learning** (up to 800 tasks). One learner looks for cheaper schedules, mostly near the best; another supposes a low
//! price and learns that it is not to be had, which raises the bound. Both work on two cores in rounds of fixed
//! length, re-inserting taking its turns on the first, and tell each other what they found between rounds; so the outcome
//! does not depend on which core was quicker. All chance comes from [`Effort::seed`]. `docs/scheduling.md` has the
//! mathematics and what was measured.
//!
//! # How far to trust it
//! - `bound` begins as the least each task could cost alone and is raised by learning. Where that ends early a crowded
//!   problem shows a wide gap even at its best; `proved` is then false, which does not mean the schedule is bad.
//! - On a fixed sample of 2,000 random problems of up to four tasks, all of those with a schedule were solved; see
//!   `tests/laws.rs`, which counts by trying every start and every crew.
//! - Every schedule found there and on larger random work passes [`check::check`], which shares no code with the engine.
//! - A crew works from start to end: no hand-over between shifts, no interruption.
//! - [`robustness`] lives a schedule through many times with other durations; nobody re-plans in it.
//!
//! # Example
//! ```
//! use schedule::{Crew, Edge, Effort, Lean, Link, Outcome, Person, Point, Problem, Span, Task, solve};
//! let task = |what: &str, duration, crew| Task {
//!     id: what.into(), what: what.into(), duration, crew, earliest: 0, latest: 3_000,
//!     why_earliest: "the fish arrives".into(), why_latest: "guests".into(), lean: Lean::Early, weight: 1.0,
//! };
//! let one = Some(Crew { count: 1, skill: None, min_count: 1 });
//! let problem = Problem {
//!     people: vec![Person {
//!         id: "anna".into(),
//!         available: vec![Span { start: 420, end: 960 }, Span { start: 1_860, end: 2_400 }],
//!         ..Person::default()
//!     }],
//!     tasks: vec![task("salt", 30, one.clone()), task("rinse", 20, one)],
//!     links: vec![Link {
//!         from: Point { task: 0, edge: Edge::End }, to: Point { task: 1, edge: Edge::Start },
//!         min: 720, max: Some(1_380), why: "12 to 23 h in salt".into(),
//!     }],
//!     ..Problem::default()
//! };
//! let Ok(Outcome::Found(found)) = solve(&problem, &Effort::standard(), &mut |_| true) else { panic!("it fits") };
//! assert_eq!(found.start, [450, 1_860]); // no earlier than lets the salt end the next morning
//! assert!(schedule::check::check(&problem, &found.start, &found.people).is_empty());
//! ```

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
mod learn;
mod ledger;
mod malformed;
mod model;
mod network;
mod outcome;
mod problem;
mod proof;
mod race;
mod robust;
mod search;
mod sift;
mod solve;
mod tighten;
mod tightest;

pub use malformed::Malformed;
pub use outcome::{Clash, Effort, Fact, Outcome, Progress, Schedule, Side};
pub use problem::{
    AMOUNT_LIMIT, Crew, Edge, Lean, Link, MINUTE_LIMIT, Machine, MachineKind, Minute, Occupancy,
    Person, Point, Problem, Span, Task,
};
pub use robust::{NoRobustness, Robustness, Spread, robustness};
pub use solve::solve;
