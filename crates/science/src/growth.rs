//! Growth of microbes: limits from tables, and two models of its rate.
//!
//! Nearly every figure here is remembered or second-hand. A rate is a [`StatedRate`], which cannot be
//! read without its status; none may carry a verdict. Get the papers before any use of that kind.

mod limits;
mod listeria;
mod square_root;

pub use limits::{
    BotulinumAlternative, Conditions, GROWTH_LIMITS, GrowthLimits, Hurdle, LISTERIA_SPANS, Limit,
    NON_PROTEOLYTIC_BOTULINUM, Organism, Oxygen, WHITEFISH_TOXIN, WhitefishTrial,
};
pub use listeria::{Acids, ListeriaForecast, ListeriaProduct, listeria};
pub use square_root::{LISTERIA_MILK_T_MIN_C, SquareRoot};

use core::fmt;

use sources::Status;
use units::Elapsed;

/// A growth rate (natural logarithm, per hour) that does not come without its status.
#[derive(Clone, Copy, PartialEq)]
pub struct StatedRate {
    per_hour: f64,
    status: Status,
}

impl StatedRate {
    /// The rate per hour and how far its source was read.
    #[must_use]
    pub fn with_status(self) -> (f64, Status) {
        (self.per_hour, self.status)
    }

    /// Tenfold increases in a time, with the status of the rate. No lag and no ceiling: the most it could be.
    ///
    /// # Method
    /// `μ t ÷ ln 10`.
    #[must_use]
    pub fn tenfolds_in(self, time: Elapsed) -> (f64, Status) {
        (
            self.per_hour * time.hours() / core::f64::consts::LN_10,
            self.status,
        )
    }
}

/// "0.0227 per h (from memory; decides nothing)".
impl fmt::Display for StatedRate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{:.4} per h ({}; decides nothing)",
            self.per_hour,
            self.status.words()
        )
    }
}

/// As it displays: not even a debugging print shows the number alone.
impl fmt::Debug for StatedRate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

#[cfg(test)]
mod tests;
