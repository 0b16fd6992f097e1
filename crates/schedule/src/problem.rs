//! What is to be put on the clock: people, machines, tasks, the lags between them and what holds a machine.

/// Minutes since an epoch the caller chooses.
///
/// Elapsed minutes, never wall-clock readings: a clock change neither adds nor removes an hour. Everything handed to
/// [`solve`](crate::solve) must lie within ±[`MINUTE_LIMIT`].
pub type Minute = i64;

/// The furthest minute, lag or duration accepted, either side of zero: about 1,900 years.
///
/// It keeps every sum along a chain of a million tasks inside an `i64`.
pub const MINUTE_LIMIT: Minute = 1_000_000_000;

/// The largest amount or capacity accepted, so that no sum of amounts can overflow.
pub const AMOUNT_LIMIT: i64 = 1_000_000_000_000;

/// A stretch of time, its first minute inside and its last one outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// The first minute inside.
    pub start: Minute,
    /// The first minute outside again; must be after `start`.
    pub end: Minute,
}

/// Somebody who can be put to work.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Person {
    /// The caller's name for the person.
    pub id: String,
    /// What the person can do; compared letter by letter with [`Crew::skill`].
    pub skills: Vec<String>,
    /// Hours at work, sorted and disjoint. Two spans that touch are one stretch.
    pub available: Vec<Span>,
    /// Further hours that may be used at a price, sorted and disjoint. Minutes that are also in `available` are not
    /// overtime.
    pub overtime: Vec<Span>,
}

/// How a machine is shared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MachineKind {
    /// Anything may be in it at once while the amounts stay within the capacity: shelves in a cold room.
    Shared,
    /// One load at a time: a smoker, an oven. Between two different loads it stands empty for `change_over` minutes.
    OneLoad {
        /// Minutes between the end of one load and the start of a different one; at least 0.
        change_over: Minute,
    },
}

/// Something with room in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Machine {
    /// The caller's name for the machine.
    pub id: String,
    /// What it holds at one moment, in the unit of the amounts (slots, grams); at least 0.
    pub capacity: i64,
    /// Shared by amount, or one load at a time.
    pub kind: MachineKind,
    /// Spans in which nothing may be inside. Any order; they may overlap.
    pub unavailable: Vec<Span>,
}

/// The people a task takes, from its start to its end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Crew {
    /// How many people; at least 1.
    pub count: usize,
    /// What each of them must be able to do; `None` means anybody.
    pub skill: Option<String>,
    /// The fewest that would do. Must equal `count`: a smaller crew working longer is not modelled.
    pub min_count: usize,
}

/// Where a task would like to start.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lean {
    /// As near as possible to the earliest start the lags and bounds allow.
    Early,
    /// As near as possible to the latest start the lags and bounds allow.
    Late,
    /// As near as possible to a minute, on either side.
    Toward(Minute),
    /// No wish; costs nothing wherever it is.
    Indifferent,
}

/// One piece of work, or of waiting, of known length.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// The caller's name for the task.
    pub id: String,
    /// What is done, in words; used in sentences.
    pub what: String,
    /// Length in minutes, at least 0. A task of 0 minutes is a milestone: it takes nobody's time.
    pub duration: Minute,
    /// Who does it; `None` for something that happens by itself and may run through the night.
    pub crew: Option<Crew>,
    /// The earliest start.
    pub earliest: Minute,
    /// The latest start.
    pub latest: Minute,
    /// Why it cannot start earlier; used in sentences.
    pub why_earliest: String,
    /// Why it cannot start later; used in sentences.
    pub why_latest: String,
    /// Where it would like to start.
    pub lean: Lean,
    /// Price of each minute away from there; finite and at least 0.
    pub weight: f64,
}

/// One end of a task.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Edge {
    /// Its start.
    Start,
    /// Its end.
    End,
}

/// A moment tied to a task.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Point {
    /// Index into [`Problem::tasks`].
    pub task: usize,
    /// Which end of it.
    pub edge: Edge,
}

/// A lag: `from + min <= to`, and `to <= from + max` where there is a `max`.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// The moment counted from.
    pub from: Point,
    /// The moment that must follow.
    pub to: Point,
    /// Least minutes between them; may be negative.
    pub min: Minute,
    /// Most minutes between them; `None` for no limit.
    pub max: Option<Minute>,
    /// Why, in words; used in sentences.
    pub why: String,
}

/// A hold on a machine from one moment to another, for example from the start of "cure in" to the start of "rinse".
///
/// `from` may not come after `to`; a hold of no length takes no room.
#[derive(Debug, Clone, PartialEq)]
pub struct Occupancy {
    /// Index into [`Problem::machines`].
    pub machine: usize,
    /// Room taken, in the unit of the capacity; at least 0.
    pub amount: i64,
    /// When it goes in.
    pub from: Point,
    /// When it comes out.
    pub to: Point,
    /// Which load it belongs to. On a [`MachineKind::OneLoad`] machine equal numbers share a load: their amounts add
    /// up and no change-over lies between them. Ignored on a shared machine.
    pub load: u32,
    /// What is inside, in words; used in sentences.
    pub what: String,
}

/// Everything the engine is told.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Problem {
    /// Who can work.
    pub people: Vec<Person>,
    /// What can be filled.
    pub machines: Vec<Machine>,
    /// What must be done; every task is placed exactly once.
    pub tasks: Vec<Task>,
    /// The lags between them.
    pub links: Vec<Link>,
    /// The holds on machines.
    pub occupancies: Vec<Occupancy>,
    /// Price of one person-minute of overtime; finite and at least 0.
    pub overtime_weight: f64,
}
