//! One judgement: value against limit, with everything needed to check it.

use sources::Source;

use crate::verdict::Verdict;

/// A value held against a limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// Short id of the rule: `wps-mean`, `cooling-2h`, `nitrite`.
    pub rule: &'static str,
    /// What the rule asks, in words.
    pub asks: String,
    /// The answer.
    pub verdict: Verdict,
    /// The value, when there is one.
    pub value: Option<f64>,
    /// The limit.
    pub limit: Option<f64>,
    /// Unit of both.
    pub unit: &'static str,
    /// How far inside (negative: outside).
    pub margin: Option<f64>,
    /// Where and how it was measured or computed, and what it is not.
    pub place: String,
    /// Where the limit comes from.
    pub source: &'static Source,
    /// What to do next.
    pub next: String,
}

/// Which side of a limit is good.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The value must be at least the limit.
    AtLeast,
    /// The value must be at most the limit.
    AtMost,
}

impl Side {
    /// How far inside the limit a value is; negative outside.
    #[must_use]
    pub fn margin(self, value: f64, limit: f64) -> f64 {
        match self {
            Self::AtLeast => value - limit,
            Self::AtMost => limit - value,
        }
    }
}

/// The verdict of a planned value: it can break a limit, and never show it, for a plan is not a reading.
#[must_use]
pub fn by_plan(margin: f64) -> Verdict {
    if margin < 0.0 {
        Verdict::Broken
    } else {
        Verdict::NotShown
    }
}
