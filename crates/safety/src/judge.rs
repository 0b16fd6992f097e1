//! Judging what was read: a history against a rule of a place.
//!
//! Three laws hold for every rule here, and tests keep them. A worse reading never betters a verdict:
//! the clock of a rule starts once and a dip ends a hold. Evidence taken away never turns *not shown*
//! into *shown*: every row of the log between the first and the last (or of [`Terms::period`]) must be
//! covered, a lost probe counts as the gap it leaves, and only a gap, a missing probe or a limit that
//! was not read itself makes *not shown*. A stricter place never passes what a laxer one fails.
//!
//! Between two readings no further apart than the gap allowed the probe is taken to run straight;
//! across a longer gap nothing is taken.

mod acid;
mod cooking;
mod cooling;
pub(crate) mod figure;
mod freezing;
mod holding;
mod probes;
mod smoking;
mod time_control;

use kitchen::site::RuleSet;
use units::Elapsed;

use crate::history::History;
use crate::judgement::Judgement;
use crate::rules::{RuleError, State};

pub use acid::{Gate, Meter, PhReading, ph_gate};
pub(crate) use cooking::nonintact_holds;
pub use cooking::{
    HoldClock, cook_intact, cook_nonintact, cook_poultry, cook_roast, fish_core, hold_clock,
};
pub(crate) use cooling::cooling_rows;
pub use cooling::{ambient_cooling, cooling};
pub use freezing::{ParasiteExemption, freeze_parasites, parasite_exempt};
pub(crate) use freezing::{freezing_asks, freezing_rows};
pub(crate) use holding::cold_rows;
pub use holding::{cold_hold, hot_hold, thaw, thaw_in_water};
pub use smoking::cold_smoke;
pub use time_control::{time_4h, time_6h};

/// Longest time between two readings that still count as one line, minutes: house value.
pub const GAP_MIN: f64 = 30.0;
/// The same where a rule counts seconds or minutes of a hold: house value.
pub const HOLD_GAP_MIN: f64 = 5.0;

/// On what terms a history is judged.
#[derive(Debug, Clone, PartialEq)]
pub struct Terms {
    /// Whose rules.
    pub place: RuleSet,
    /// The state of that country, where it is known: a state's own rule holds only there.
    pub state: Option<State>,
    /// Longest time between readings; `None`: [`GAP_MIN`], or [`HOLD_GAP_MIN`] for cooking.
    pub gap: Option<Elapsed>,
    /// From and to, seconds since 1970; `None`: the first to the last row of the log, lost readings included.
    pub period: Option<(i64, i64)>,
    /// Probes that were placed: fewer channels than this show nothing. At least one.
    pub probes: usize,
    /// Names of the channels that hang in the air (the chamber, the room). Every other temperature counts as food.
    pub air: Vec<String>,
}

impl Terms {
    /// The rules of a place, over the whole log, at the house gap, every probe in the food.
    #[must_use]
    pub const fn of(place: RuleSet) -> Self {
        Self {
            place,
            state: None,
            gap: None,
            period: None,
            probes: 1,
            air: Vec::new(),
        }
    }
}

/// Why a history cannot be judged at all.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// A reading no probe can give.
    #[error(
        "{channel}: found {value} {unit} at {at_s} s; expected {least} to {most} {unit}. Look at the probe, and mark the reading as lost"
    )]
    Impossible {
        /// Channel.
        channel: String,
        /// Moment, seconds since 1970.
        at_s: i64,
        /// What it read.
        value: f64,
        /// Unit.
        unit: &'static str,
        /// Least that can be read.
        least: f64,
        /// Most.
        most: f64,
    },
    /// Two readings of one probe at one moment, or time running back.
    #[error(
        "{channel}: found a reading at {at_s} s after one at {before_s} s; expected each later than the one before. Say which of them holds"
    )]
    Contradictory {
        /// Channel.
        channel: String,
        /// The moment before.
        before_s: i64,
        /// Moment.
        at_s: i64,
    },
    /// Two channels of one name.
    #[error("found two channels called {channel}; expected a name each. Rename one")]
    SameName {
        /// Name.
        channel: String,
    },
    /// A gap, a period or a number of probes that means nothing.
    #[error("found {found}; expected {expected}. Correct the terms")]
    Terms {
        /// What was given.
        found: String,
        /// What is taken.
        expected: &'static str,
    },
    /// The rules themselves do not hold together.
    #[error("the rules that come with the program: {0}")]
    Rules(#[from] RuleError),
    /// A row the judgement needs is not there, or lacks a figure.
    #[error("rule {id}: found no {what}; expected it in data/rules. Restore the row")]
    Row {
        /// Id of the row.
        id: String,
        /// What is missing.
        what: &'static str,
    },
}

/// A rule that can be asked for by name.
pub type Judge = fn(&History, &Terms) -> Result<Judgement, Refusal>;

/// Rules by the name they are asked for, with what each asks, in the order they are listed.
pub const RULES: &[(&str, &str, Judge)] = &[
    (
        "cooling",
        "cooked food cooled in two stages; every probe in a core",
        cooling,
    ),
    (
        "ambient-cooling",
        "cold food made from ingredients at room temperature, cold within 4 h",
        ambient_cooling,
    ),
    ("cold-hold", "held cold", cold_hold),
    ("hot-hold", "held hot", hot_hold),
    ("thaw", "thawed in the cold", thaw),
    (
        "thaw-water",
        "thawed in running water, raw, 4 h in all",
        thaw_in_water,
    ),
    ("time-4h", "four hours without temperature control", time_4h),
    (
        "time-6h",
        "six hours without temperature control, never above 21 °C",
        time_6h,
    ),
    ("cook-intact", "fish and intact meat cooked", cook_intact),
    (
        "cook-nonintact",
        "minced, injected or tenderised meat and fish cooked",
        cook_nonintact,
    ),
    (
        "cook-poultry",
        "poultry, game and stuffed food cooked",
        cook_poultry,
    ),
    (
        "cook-roast",
        "a whole roast cooked by time and temperature; not fish",
        cook_roast,
    ),
    (
        "fish-core",
        "hot-smoked fish: core held 30 min without a break",
        fish_core,
    ),
    (
        "cold-smoke",
        "cold smoking: ceiling of the chamber and hours",
        cold_smoke,
    ),
    (
        "freeze-parasites",
        "fish frozen against parasites",
        freeze_parasites,
    ),
];

/// The rule of this name.
#[must_use]
pub fn find(name: &str) -> Option<Judge> {
    RULES
        .iter()
        .find(|(n, _, _)| *n == name)
        .map(|(_, _, judge)| *judge)
}

#[cfg(test)]
mod tests;
