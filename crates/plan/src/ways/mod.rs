//! Ways out of a plan without a clock: changes that were tried, each planned anew by the same engine through the same walk.
//!
//! Every way is a list of changes anybody can add to the command and get the same plan. What was tried and does not help
//! is told as well. Nothing here knows a shortcut: a change counts when the re-plan holds, and for no other reason.

mod bench;
mod hours;
mod json;
mod orders;
mod pieces;
mod room;
mod wording;

use schedule::{Effort, Progress};
use units::Money;

use crate::scene::Scene;
use crate::setting::Setting;
use crate::timeline::Status;
use crate::whole::Plan;

use bench::Bench;
pub use json::json;

/// Ways shown with their cost and what follows from them.
pub const MOST_WAYS: usize = 3;

/// A change that gives a clock.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// What sort of change.
    pub sort: Sort,
    /// What is changed, in words.
    pub what: String,
    /// The changes, to be added to those of the plan.
    pub settings: Vec<Setting>,
    /// How the search for its clock ended: proved or feasible.
    pub status: Status,
    /// Food bought, more (negative: less) than in the plan without a clock.
    pub food_by: Money,
    /// Labour by the minute and by presence, more or less.
    pub labour_by: Money,
    /// What follows for quality, evidence and money the plan does not count.
    pub consequences: Vec<String>,
}

/// Something that was tried.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// In words.
    pub what: String,
    /// The changes.
    pub settings: Vec<Setting>,
    /// The first reason that still stands against it; `None` where the clock holds.
    pub why_not: Option<String>,
}

/// All that was tried.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WaysOut {
    /// The smallest changes that give a clock, at most [`MOST_WAYS`].
    pub ways: Vec<Way>,
    /// Further changes that give one, and what does not help.
    pub others: Vec<Tried>,
    /// Plans made on the way.
    pub plans: u32,
    /// Whether the effort ended before everything was tried.
    pub cut_short: bool,
}

/// Sorts of change, those that disturb least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// Another place of the house takes it.
    OtherMachine,
    /// It is delivered earlier.
    Delivery,
    /// The work begins earlier.
    Begin,
    /// Somebody more.
    People,
    /// Longer hours, or another day at work.
    Hours,
    /// A step on another day than the event says.
    OtherDay,
    /// Fewer spare plates.
    Spare,
    /// Thinner pieces.
    Thickness,
    /// A machine repaired, or more of it.
    Machine,
    /// Another hour of service.
    Serve,
    /// Fewer covers.
    Covers,
    /// A part comes ready.
    Ready,
}

impl Sort {
    /// The word of the contract.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::OtherMachine => "other machine",
            Self::Delivery => "delivery",
            Self::Begin => "begin",
            Self::People => "people",
            Self::Hours => "hours",
            Self::OtherDay => "other day",
            Self::Spare => "spare",
            Self::Thickness => "thickness",
            Self::Machine => "machine",
            Self::Serve => "serve",
            Self::Covers => "covers",
            Self::Ready => "ready",
        }
    }
}

/// Looks for ways out of a plan that has no clock; `None` for one that has.
///
/// `first` is the scene before any change and `effort` that of the plan itself. Candidates come from what the facts of
/// the clash are about and are tried with a small effort; the ways shown are planned once more with the whole one. The
/// same plan gives the same ways as long as `watch` answers `true`.
pub fn find(
    plan: &Plan,
    first: &Scene,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Option<WaysOut> {
    if !matches!(plan.timeline.status, Status::Impossible | Status::NotFound) {
        return None;
    }
    let mut bench = Bench::new(plan, first, effort, watch)?;
    // The cheapest to think of come first; the order they are shown in is that of their sort.
    room::machines(&mut bench);
    pieces::ready(&mut bench);
    let about = &plan.timeline.concerned;
    let off = |id: &kitchen::Id| {
        plan.scene
            .site
            .machines
            .iter()
            .any(|m| m.id == *id && m.off)
    };
    if about.machines.iter().any(off) {
        // Hours, hands and smaller lots do not mend a machine.
        return Some(bench.told());
    }
    pieces::no_spare(&mut bench);
    pieces::fewer_covers(&mut bench);
    orders::deliveries(&mut bench);
    orders::begin(&mut bench);
    hours::people(&mut bench);
    hours::other_day(&mut bench);
    pieces::thinner(&mut bench);
    hours::serve(&mut bench);
    hours::longer(&mut bench);
    hours::another_day_at_work(&mut bench);
    Some(bench.told())
}

/// The plan with its ways out filled in, where it has no clock.
#[must_use]
pub fn with_ways_out(
    mut plan: Plan,
    first: &Scene,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Plan {
    plan.ways_out = find(&plan, first, effort, watch);
    plan
}

/// A change as it is written on a command line: in quotes where it holds a blank.
#[must_use]
pub fn on_the_command_line(setting: &Setting) -> String {
    let text = setting.to_string();
    if text.contains(char::is_whitespace) {
        format!("--set \"{text}\"")
    } else {
        format!("--set {text}")
    }
}
