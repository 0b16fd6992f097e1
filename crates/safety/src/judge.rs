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
mod exposure;
pub(crate) mod figure;
mod freezing;
mod histamine;
mod hold_now;
mod holding;
mod holds;
mod inspected;
mod lethality;
mod probes;
mod rules;
mod smoking;
mod stabilising;
mod stages;
mod stretches;
mod time_control;
mod told;

use kitchen::site::RuleSet;
use units::Elapsed;

use crate::rules::{RuleError, State};

pub use acid::{BUFFER_OFF_PH, Gate, Meter, MeterCheck, PhReading, ph, ph_gate};
pub(crate) use cooking::nonintact_holds;
pub use cooking::{
    HoldClock, cook_intact, cook_nonintact, cook_poultry, cook_roast, fish_core, hold_clock, reheat,
};
pub(crate) use cooling::cooling_rows;
pub use cooling::{ambient_cooling, cooling};
pub use exposure::{exposure_cooked, exposure_of, exposure_raw};
pub use freezing::freeze_parasites;
pub(crate) use freezing::{freezing_asks, freezing_rows};
pub use histamine::{forms_histamine, histamine, histamine_frozen};
pub use hold_now::{HoldNow, hold_now};
pub(crate) use holding::cold_rows;
pub use holding::{cold_hold, hot_hold, smoked_fish_hold, thaw, thaw_in_water};
pub use inspected::{
    Bird, Humidity, inspected_meat, inspected_meat_in, inspected_poultry, inspected_poultry_of,
};
pub use lethality::{botulinum_6d, listeria_6d};
pub use rules::{Judge, RULES, find};
pub use smoking::cold_smoke;
pub use stabilising::{
    cool_fsis_1, cool_fsis_2, cool_fsis_3, cool_smoked_fish, cool_smoked_fish_135,
};
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
    /// Probes that were placed, or samples that were taken: fewer than this show nothing. At least one.
    pub probes: usize,
    /// Names of the channels that hang in the air (the chamber, the room). Every other temperature counts as food.
    pub air: Vec<String>,
    /// How the pH meter was checked, where one was and it was written down; without it no pH is shown.
    pub meter: Option<MeterCheck>,
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
            meter: None,
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

#[cfg(test)]
mod tests;
