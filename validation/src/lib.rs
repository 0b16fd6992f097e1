//! Validation: what the science says against what others found, and how far apart the two are.
//!
//! Each folder beside `src/` is one phenomenon: tables of cases (inputs, a value from outside, its
//! source, how far that source was read) and a `SOURCE.md`. A module here asks the science the same
//! question and the report prints both answers with the error. Nothing here is tuned: where the two
//! differ by more than a named tolerance the report says so and the test fails.
//!
//! A table worked from the same remembered constants as the science checks arithmetic, not nature; the
//! status column says which is which.

mod acknowledged;
pub mod bands;
mod case;
mod check;
mod phenomena;
mod remarks;
mod report;
mod spread;

pub use acknowledged::{MISSES, Miss};
pub use case::{Case, CaseError, Unanswered};
pub use check::{Check, Measure, Tolerance, Verdict};
pub use phenomena::{Phenomenon, all as phenomena};
pub use report::render;
pub use spread::Spread;

/// Every check of every phenomenon, in the order of the report.
///
/// # Errors
/// A table that does not read.
pub fn checks() -> Result<Vec<Check>, CaseError> {
    let mut all = Vec::new();
    for phenomenon in phenomena() {
        all.extend(phenomenon.checks()?);
    }
    Ok(all)
}
