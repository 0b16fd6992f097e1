//! How the papers are wanted, and what was written down so far.

use jiff::Timestamp;
use words::Language;

use crate::model::Stock;

/// In which measures a sheet speaks first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitHabit {
    /// Grams, kilograms, °C, mm.
    Metric,
    /// Pounds and ounces, °F, inches, each with the gram, the °C or the mm beside it: the gram is never lost.
    UsCustomary,
}

/// How the papers are wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Wishes {
    /// Language of every label. Names of the book stay as the book has them.
    pub language: Language,
    /// Measures.
    pub units: UnitHabit,
    /// The stock it is printed on. No sheet says anything else because of it; who draws it measures by it.
    pub stock: Stock,
    /// When it is printed, on every foot.
    pub printed_at: Timestamp,
    /// Which state of the plan this is: [`plan_version`](crate::plan_version), on every foot.
    pub version: String,
    /// What was written down, for the dossiers; empty before anything was.
    pub log: Vec<Entry>,
}

/// One line that was written down, as a plain value.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// When.
    pub at: Timestamp,
    /// Who, as they signed.
    pub who: String,
    /// The component it is about, where it is about one.
    pub component: Option<String>,
    /// Its step.
    pub step: Option<String>,
    /// What was written: "core, probe 2", "weighed".
    pub what: String,
    /// The reading, where there was one. A missing reading stays missing.
    pub value: Option<f64>,
    /// Its unit.
    pub unit: String,
    /// In words: what was done about it.
    pub note: String,
    /// Something went otherwise than planned.
    pub deviation: bool,
}
