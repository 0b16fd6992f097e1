//! What comes back: a schedule, or the facts that stand against one.

use crate::problem::Minute;

/// How hard to look, counted in steps instead of time so that the same call gives the same answer on every computer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Seeds every random choice.
    pub seed: u64,
    /// Ceiling on the steps. One step is about one start looked at, one window moved or one booking read; learning, which
    /// comes after, gets a share of its own in proportion.
    pub steps: u64,
}

impl Effort {
    /// Steps of [`Effort::standard`]; about a second of work for 300 tasks on a small computer (measured here).
    pub const STANDARD_STEPS: u64 = 60_000_000;

    /// The usual effort: seed 1 and [`Effort::STANDARD_STEPS`]. Small problems stop long before the ceiling, when many
    /// moves in a row have brought nothing.
    #[must_use]
    pub const fn standard() -> Self {
        Self {
            seed: 1,
            steps: Self::STANDARD_STEPS,
        }
    }
}

impl Default for Effort {
    fn default() -> Self {
        Self::standard()
    }
}

/// What the caller is shown now and then while the engine works.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Steps spent on the stretch of work under way: a first schedule and improving it, then learning.
    pub steps: u64,
    /// Steps allowed for that stretch.
    pub of_steps: u64,
    /// Tasks with a place at this moment.
    pub placed: usize,
    /// Tasks in the problem.
    pub tasks: usize,
    /// Value of the best schedule so far, if there is one.
    pub best: Option<f64>,
    /// No schedule can be cheaper than this.
    pub bound: f64,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// A schedule that keeps every rule.
    Found(Schedule),
    /// No schedule exists; the facts prove it.
    Impossible(Clash),
    /// The search gave up. A schedule may exist; the facts say what was tightest.
    NotFound(Clash),
}

/// A start and a crew for every task.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// Start of each task.
    pub start: Vec<Minute>,
    /// The people of each task, as indexes into the problem's people, ascending; empty for a task without a crew.
    pub people: Vec<Vec<usize>>,
    /// What it costs: weighted minutes away from the wished starts plus weighted overtime.
    pub value: f64,
    /// No schedule can cost less than this.
    pub bound: f64,
    /// True when `value` meets `bound`: nothing better exists.
    pub proved: bool,
    /// Earliest start of each task by the lags and the bounds alone (no calendars, people or machines).
    pub earliest: Vec<Minute>,
    /// Latest start of each task by the lags and the bounds alone.
    pub latest: Vec<Minute>,
    /// How many minutes each task may move (earlier, later) with all others where they are, by the lags and its own
    /// bounds alone. Both are at least 0.
    pub free: Vec<(Minute, Minute)>,
}

/// Facts that cannot all be true together, or, for [`Outcome::NotFound`], the tightest ones met.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Clash {
    /// In an order that reads as a chain. From a contradiction of lags alone they are minimal: exactly the lags and
    /// bounds on one cycle, none of which can be left out.
    pub facts: Vec<Fact>,
}

/// Which of two bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// The lower one: a least lag, an earliest start.
    Least,
    /// The upper one: a most lag, a latest start.
    Most,
}

/// One thing that is so, with a plain sentence for the reader.
#[derive(Debug, Clone, PartialEq)]
pub enum Fact {
    /// A lag.
    Link {
        /// Index into the problem's links.
        link: usize,
        /// Its least or its most minutes.
        side: Side,
        /// In words.
        sentence: String,
    },
    /// A bound on a task's start.
    TaskWindow {
        /// Index into the problem's tasks.
        task: usize,
        /// Its earliest or its latest start.
        side: Side,
        /// In words.
        sentence: String,
    },
    /// Nothing comes out of a machine before it went in.
    HoldOrder {
        /// Index into the problem's occupancies.
        occupancy: usize,
        /// In words.
        sentence: String,
    },
    /// Too few fitting people are there together when the task could be done.
    NoPeople {
        /// Index into the problem's tasks.
        task: usize,
        /// People it takes.
        need: usize,
        /// The most fitting people ever there together for its whole length, over all time.
        have: usize,
        /// In words.
        sentence: String,
    },
    /// Work that must fall into one stretch, against what the people in it can give. In a proof `need` is more than
    /// `have`; where the search gave up it may be less and only says how full the hours are.
    PeopleFull {
        /// Indexes of the tasks that must lie in the stretch.
        tasks: Vec<usize>,
        /// The skill counted; `None` counts everybody.
        skill: Option<String>,
        /// Person-minutes of work.
        need: Minute,
        /// Person-minutes there are, overtime included.
        have: Minute,
        /// In words.
        sentence: String,
    },
    /// A machine has no room, or no time, for what must go through it; where the search gave up, how full it is.
    MachineFull {
        /// Index into the problem's machines.
        machine: usize,
        /// Indexes of the occupancies concerned.
        occupancies: Vec<usize>,
        /// In words.
        sentence: String,
    },
    /// Work that has no place together in any order; found by ruling out every order. The bounds of its tasks follow as
    /// further facts; lags between them count as given.
    NoOrder {
        /// Indexes of the tasks whose people or machines clash.
        tasks: Vec<usize>,
        /// The earliest and latest start of each of these, by lags and calendars together.
        windows: Vec<(Minute, Minute)>,
        /// Those of them whose crew is among what clashes.
        crews: Vec<usize>,
        /// Indexes of the occupancies among what clashes.
        occupancies: Vec<usize>,
        /// Each crew and each occupancy left was shown to be needed. False when the effort ended first.
        minimal: bool,
        /// In words.
        sentence: String,
    },
    /// The search could not find a place for a task beside the others. Never part of a proof.
    NotPlaced {
        /// Index into the problem's tasks.
        task: usize,
        /// In words.
        sentence: String,
    },
}

impl Fact {
    /// The fact in words.
    #[must_use]
    pub fn sentence(&self) -> &str {
        match self {
            Self::Link { sentence, .. }
            | Self::TaskWindow { sentence, .. }
            | Self::HoldOrder { sentence, .. }
            | Self::NoPeople { sentence, .. }
            | Self::PeopleFull { sentence, .. }
            | Self::MachineFull { sentence, .. }
            | Self::NoOrder { sentence, .. }
            | Self::NotPlaced { sentence, .. } => sentence,
        }
    }
}
