//! The phenomena: each a folder of tables and the science's answer to them.

mod acid;
mod brine;
mod brine_properties;
mod cooling;
mod diffusion;
mod drying;
mod emulsion;
mod evaporation;
mod growth;
mod hanging;
mod heat;
mod lethality;
mod measures;
mod nitrite;
mod pellicle;
mod pickle;
mod psychrometrics;
mod spread;
mod steeping;
mod thermal_properties;
mod thickness;
mod transport;
mod units;
mod water_activity;
mod water_phase_salt;
mod yields;

use crate::case::{Case, CaseError, Unanswered};
use crate::check::{Check, Tolerance};

/// Exact arithmetic against exact arithmetic: what is left is the digits the table prints.
const DIGITS_OF_THE_TABLE: Tolerance = Tolerance::part(
    1e-11,
    "the same arithmetic twice; the tables keep thirteen digits",
);

/// A kind of thing the science computes, with the tables that question it.
#[derive(Debug, Clone, Copy)]
pub struct Phenomenon {
    /// Name of its folder and its key in the report.
    pub key: &'static str,
    /// Its name for a reader.
    pub title: &'static str,
    /// What agreement here shows, and what it does not.
    pub shows: &'static str,
    /// Its tables: file name and text.
    pub tables: &'static [(&'static str, &'static str)],
    /// The science's answer.
    pub answer: fn(&Case) -> Result<f64, Unanswered>,
    /// How far apart the two may be.
    pub tolerance: fn(&Case) -> Tolerance,
}

impl Phenomenon {
    /// Its checks, in the order of the tables.
    ///
    /// # Errors
    /// A table that does not read.
    pub fn checks(&self) -> Result<Vec<Check>, CaseError> {
        let mut checks = Vec::new();
        for (file, text) in self.tables {
            for case in Case::read(&format!("{}/{file}", self.key), text)? {
                checks.push(Check {
                    phenomenon: self.key,
                    ours: (self.answer)(&case),
                    tolerance: (self.tolerance)(&case),
                    case,
                });
            }
        }
        Ok(checks)
    }
}

/// All of them, in the order of the report: from plain arithmetic to the physics of a piece.
#[must_use]
pub fn all() -> Vec<Phenomenon> {
    vec![
        units::PHENOMENON,
        measures::PHENOMENON,
        brine::PHENOMENON,
        brine_properties::PHENOMENON,
        water_phase_salt::PHENOMENON,
        water_activity::PHENOMENON,
        nitrite::PHENOMENON,
        pickle::PHENOMENON,
        yields::PHENOMENON,
        thickness::PHENOMENON,
        evaporation::PHENOMENON,
        drying::PHENOMENON,
        hanging::PHENOMENON,
        diffusion::PHENOMENON,
        transport::PHENOMENON,
        thermal_properties::PHENOMENON,
        heat::PHENOMENON,
        cooling::PHENOMENON,
        lethality::PHENOMENON,
        psychrometrics::PHENOMENON,
        pellicle::PHENOMENON,
        acid::PHENOMENON,
        steeping::PHENOMENON,
        emulsion::PHENOMENON,
        growth::PHENOMENON,
        spread::PHENOMENON,
    ]
}

/// Names a table of this folder.
macro_rules! table {
    ($path:literal, $file:literal) => {
        ($file, include_str!(concat!("../../", $path, "/", $file)))
    };
}
use table;
