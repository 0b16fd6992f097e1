//! Why there is no plan at all. (A plan that cannot be met is a plan that says *impossible*.)

use std::fmt;

/// What stops a plan from being made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlanError {
    /// A figure left the range of numbers.
    TooMuch {
        /// Where.
        what: String,
    },
    /// An item is sold by the piece and nobody said what one gives.
    CannotCount {
        /// The item.
        item: String,
    },
    /// An item has no offer.
    NoOffer {
        /// The item.
        item: String,
    },
    /// A wait is to come from a goal that cannot be computed, or cannot be reached in time.
    NoWindow {
        /// Where.
        what: String,
        /// Why.
        why: String,
    },
    /// Somebody paid for being there leaves before coming.
    LeavesBeforeComing {
        /// The role.
        role: String,
    },
    /// The calendar cannot hold the event.
    Calendar {
        /// What.
        what: String,
    },
    /// The scheduler refused its input.
    Malformed {
        /// Why.
        why: String,
    },
}

impl PlanError {
    /// Found, expected, do now.
    #[must_use]
    pub fn parts(&self) -> (String, &'static str, &'static str) {
        match self {
            Self::TooMuch { what } => (
                format!("{what} would weigh more than a million tonnes"),
                "weights a kitchen can hold",
                "check covers, portions and yields",
            ),
            Self::CannotCount { item } => (
                format!("{item} is sold by the piece and no line says what one gives"),
                "gives = \"5 g\" on the line, or a piece weight in the ingredient table",
                "weigh what one gives and write it",
            ),
            Self::NoOffer { item } => (
                format!("nobody offers {item}"),
                "an [[offer]] in the site",
                "add the offer with its price",
            ),
            Self::NoWindow { what, why } => (
                format!("{what} waits for its goal, and {why}"),
                "a goal that is reached before the wait's maximum",
                "write min and max into the wait, or change the piece, the salt or the goal",
            ),
            Self::LeavesBeforeComing { role } => (
                format!("the presence of {role} ends before it begins"),
                "a presence whose \"from\" comes before its \"to\", also for the hour of service asked for",
                "write both hours from service, such as \"serve -3 h\", or move them with it",
            ),
            Self::Calendar { what } => (
                format!("{what} is outside the calendar"),
                "dates between 2000 and 2199",
                "correct the date",
            ),
            Self::Malformed { why } => (
                format!("the clock cannot be set up: {why}"),
                "times and amounts within bounds",
                "check durations, waits and capacities",
            ),
        }
    }
}

impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (found, expected, do_now) = self.parts();
        write!(f, "{found}; expected {expected}; {do_now}")
    }
}
