//! What hangs on the wall: papers and labels as plain values, before anybody draws them.
//!
//! A sheet says what is on a paper, in which order and for whom; it knows no font and no page. `press` draws it. Each role's
//! paper leaves out what that role must not see: money is on the order sheets only, a station card knows its own station
//! only, and those who carry the plates read no curing figures.

mod allergen_matrix;
mod back_plan;
mod cleaning;
pub mod code;
mod contained;
mod cooling_log;
mod cure_sheet;
mod day_board;
mod door_map;
mod dossier;
mod emergency;
mod formula;
mod held;
mod hours;
mod lots;
mod measure;
pub mod model;
mod order_sheet;
mod pickle_log;
mod plating;
mod prep_list;
mod receiving;
mod rubric;
mod service_brief;
mod smoker_log;
mod station_card;
mod stations;
mod tub_label;
mod wishes;
mod writer;

use plan::Plan;

pub use held::{Mark, mark};
pub use lots::{lot_codes, plan_version};
pub use model::{Block, Kind, Sheet};
pub use wishes::{Entry, UnitHabit, Wishes};
use writer::Writer;

/// Every paper of a plan, in the order they are handed out: the wall first, then by station and lot, then those for other
/// people. The same plan and wishes give the same sheets.
#[must_use]
pub fn all(plan: &Plan, wishes: &Wishes) -> Vec<Sheet> {
    IN_ORDER
        .iter()
        .flat_map(|kind| of_kind(plan, wishes, *kind))
        .collect()
}

/// The papers of one kind; none where the plan has nothing for it.
#[must_use]
pub fn of_kind(plan: &Plan, wishes: &Wishes, kind: Kind) -> Vec<Sheet> {
    let w = Writer::new(plan, wishes);
    match kind {
        Kind::DayBoard => day_board::sheets(&w),
        Kind::BackPlan => back_plan::sheets(&w),
        Kind::FormulaCard => formula::sheets(&w),
        Kind::StationCard => station_card::sheets(&w),
        Kind::CureSheet => cure_sheet::sheets(&w),
        Kind::SmokerLog => smoker_log::sheets(&w),
        Kind::CoolingLog => cooling_log::sheets(&w),
        Kind::PickleLog => pickle_log::sheets(&w),
        Kind::ReceivingSheet => receiving::sheets(&w),
        Kind::DoorMap => door_map::sheets(&w),
        Kind::TubLabel => tub_label::sheets(&w),
        Kind::PlatingGuide => plating::sheets(&w),
        Kind::AllergenMatrix => allergen_matrix::sheets(&w),
        Kind::OrderSheet => order_sheet::sheets(&w),
        Kind::PrepList => prep_list::sheets(&w),
        Kind::ServiceBrief => service_brief::sheets(&w),
        Kind::CleaningList => cleaning::sheets(&w),
        Kind::EmergencyCard => emergency::sheets(&w),
        Kind::Rubric => rubric::sheets(&w),
        Kind::Dossier => dossier::sheets(&w),
    }
}

/// The kinds in the order they are handed out.
const IN_ORDER: &[Kind] = &[
    Kind::DayBoard,
    Kind::BackPlan,
    Kind::PrepList,
    Kind::StationCard,
    Kind::FormulaCard,
    Kind::CureSheet,
    Kind::SmokerLog,
    Kind::CoolingLog,
    Kind::PickleLog,
    Kind::ReceivingSheet,
    Kind::DoorMap,
    Kind::TubLabel,
    Kind::PlatingGuide,
    Kind::AllergenMatrix,
    Kind::OrderSheet,
    Kind::ServiceBrief,
    Kind::CleaningList,
    Kind::EmergencyCard,
    Kind::Rubric,
    Kind::Dossier,
];
