//! Judging a plan: what the plan itself can break, and what only readings can show.
//!
//! The figures are those of the rows a history is judged by; a test holds the two together. Rules that do not
//! hold together give a judgement that says so, and shows nothing.

mod cooling;
mod cores;
mod dates;
mod papers;
mod salt;

use kitchen::site::RuleSet;
use sources::list;

use crate::judge::figure::Row;
use crate::judge::{Refusal, Terms, figure};
use crate::judgement::Judgement;

pub use cooling::{CoolingRule, cold_hold, cooling, cooling_rule, held_cold, uncooled};
pub use cores::{fish_core, fish_core_missing, meat_core};
pub use dates::date_mark;
pub use papers::{kill_step, parasites, pickle_ph, variance};
pub use salt::water_phase_salt;

/// What a planned value is counted on, where nothing better can be said.
const BASE: &str = "as planned";

/// The row with this id, for a plan in a place; a plan names no state.
fn row(id: &str, place: RuleSet) -> Result<Row, Refusal> {
    figure::row(id, &Terms::of(place))
}

/// A judgement, or one that says why the rules could not be asked.
fn or_refused(rule: &'static str, judged: Result<Judgement, Refusal>) -> Judgement {
    judged.unwrap_or_else(|refusal| {
        Judgement::not_shown(
            rule,
            "a row of the rules",
            refusal.to_string(),
            &list::COMPUTED,
            "install the program anew: its rules are part of it",
        )
    })
}

#[cfg(test)]
mod tests;
