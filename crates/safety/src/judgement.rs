//! One judgement: value against limit, with everything needed to check it.

use sources::{Source, Status};

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
    /// What the value is counted on: "of green weight", "from the last reading at or above 57 °C". Never empty.
    pub base: String,
    /// Where and how it was measured or computed, and what it is not.
    pub place: String,
    /// The readings that decided it, in the order they are to be read; none for a plan.
    pub evidence: Vec<Evidence>,
    /// Where the limit comes from, with the status of its own row.
    pub source: &'static Source,
    /// Whether the row is one of the place asked about.
    pub holds: Holds,
    /// What to do next.
    pub next: String,
}

impl Judgement {
    /// A rule for which nothing was found: *not shown*, without a figure or a reading.
    #[must_use]
    pub fn not_shown(
        rule: &'static str,
        asks: impl Into<String>,
        place: impl Into<String>,
        source: &'static Source,
        next: impl Into<String>,
    ) -> Self {
        Self {
            rule,
            asks: asks.into(),
            verdict: Verdict::NotShown,
            value: None,
            limit: None,
            unit: "",
            margin: None,
            base: "no figure".to_owned(),
            place: place.into(),
            evidence: Vec::new(),
            source,
            holds: Holds::Here,
            next: next.into(),
        }
    }

    /// How far the row behind the limit was read.
    #[must_use]
    pub const fn status(&self) -> Status {
        self.source.status
    }
}

/// One reading a verdict stands on.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// Name of the channel as the file has it, or of the sample.
    pub channel: String,
    /// What this reading is to the verdict.
    pub part: Part,
    /// Moment, seconds since 1970; `None` for a sample without a time.
    pub at_s: Option<i64>,
    /// What was read; `None` where the reading was lost.
    pub value: Option<f64>,
    /// Unit.
    pub unit: &'static str,
}

/// What a reading is to a verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// The first of the period.
    First,
    /// The last reading before the clock of the rule runs.
    ClockStarts,
    /// The first at the temperature that ends a stage.
    Reached,
    /// The first of the longest hold.
    HoldStarts,
    /// The last of the longest hold.
    HoldEnds,
    /// The one farthest outside, or nearest the limit.
    Worst,
    /// The last before a gap that is too long.
    BeforeGap,
    /// The last of the period.
    Last,
}

impl Part {
    /// The words printed.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::First => "first",
            Self::ClockStarts => "clock starts",
            Self::Reached => "reached",
            Self::HoldStarts => "hold starts",
            Self::HoldEnds => "hold ends",
            Self::Worst => "worst",
            Self::BeforeGap => "before the gap",
            Self::Last => "last",
        }
    }
}

/// Whether a row is one of the place asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Holds {
    /// It is.
    Here,
    /// It is the law of a state of that country and guidance in the others.
    AsGuidance,
    /// No rule of the place is known: another's stands in, and can break but never show.
    StandIn,
}

impl Holds {
    /// The words printed.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Here => "a rule of this place",
            Self::AsGuidance => "a state's rule, guidance here",
            Self::StandIn => "stand-in: no rule of this place is known here",
        }
    }
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
