//! One plan: demand, loads, order, cost, schedule, verdicts, and the figures behind each of them.
//!
//! A plan is a pure walk: book and event in, [`Plan`] out; nothing flows back. Changing a
//! fact (`--set`), or saying what happened ([`happened`]), and walking again is the whole of re-planning.

pub mod allergens;
mod allowance;
pub mod ask;
pub mod causes;
pub mod cautions;
pub mod choices;
mod clock;
pub mod compare;
pub mod concerned;
pub mod cost;
mod decided;
pub mod demand;
mod even;
mod explain;
pub mod figures;
pub mod happened;
pub mod json;
pub mod labour;
mod loads;
pub mod lot;
pub mod make;
pub mod merge;
pub mod order;
pub mod problem;
mod reasons;
pub mod robust;
pub mod scene;
pub mod setting;
pub mod specials;
pub mod tasks;
pub mod timeline;
pub mod verdicts;
pub mod ways;
pub mod whole;
pub mod windows;
pub mod wording;

pub use figures::{Figure, Figures};
pub use make::{make, make_with_problem};
pub use problem::PlanError;
pub use scene::{Scene, SceneError};
pub use setting::{Setting, SettingError};
pub use whole::Plan;
