//! A search that learns from its dead ends: it proves that no schedule exists, that none is better, or finds one.
//!
//! Decisions set bounds of starts; lags, calendars, time-tables, pairs and the price draw what follows, each with its
//! reasons; a contradiction is traced back through the reasons to a clause that forbids its cause for good. (Lazy clause
//! generation over bounds: second-hand, after the constraint-programming literature.)
//!
//! People are counted, skill by skill, and named: a set of starts the learner finds has its crews.

mod analyse;
mod build;
mod choose;
mod clauses;
mod crews;
mod pairs;
mod price;
mod profile;
mod taste;
mod tell;
mod trail;

pub(crate) use build::knows_all;

use crate::dice::Dice;
use crate::model::Model;
use crate::problem::Minute;
use analyse::Analysis;
use clauses::Clauses;
use crews::Crews;
use pairs::Pair;
use price::Price;
use profile::Profile;
use taste::Taste;
use trail::{Conflict, Lit, Reason, Trail};

/// How a learner chooses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Manner {
    /// Looks for better and better schedules.
    Better,
    /// Supposes the price to be as low as it is known to be, and learns that it is not.
    Bound,
}

/// Starts and crews.
#[derive(Debug, Clone)]
pub(crate) struct Starts {
    pub(crate) start: Vec<Minute>,
    pub(crate) crew: Vec<Vec<usize>>,
    /// In the whole-number price of the learner.
    pub(crate) price: i64,
}

/// A lesson one learner tells another.
#[derive(Debug, Clone)]
pub(crate) struct Told {
    lits: Vec<Lit>,
    spread: u32,
}

/// How a stretch of search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ended {
    /// Steps spent.
    Spent,
    /// A set of starts with a lower price than any before; it is in [`Learner::best`].
    Found,
    /// Nothing below the price of the best exists.
    Closed,
}

/// The learner's whole state.
#[derive(Debug)]
pub(crate) struct Learner<'m> {
    model: &'m Model<'m>,
    trail: Trail,
    clauses: Clauses,
    analysis: Analysis,
    taste: Taste,
    /// For each side: the sides it raises, and by how much more.
    lags: Vec<Vec<(u32, Minute)>>,
    profiles: Vec<Profile>,
    profiles_of: Vec<Vec<u32>>,
    pairs: Vec<Pair>,
    pairs_of: Vec<Vec<u32>>,
    price: Price,
    in_price: Vec<bool>,
    crews: Crews,
    breadth: Vec<u32>,
    waiting_crews: Vec<u32>,
    crew_waits: Vec<bool>,
    /// The value of each variable in the best schedule known.
    leaning: Option<Vec<Minute>>,
    /// Decided before anything else until the next restart: most starts near where the best schedule has them.
    neighbourhood: Vec<Lit>,
    dice: Dice,
    /// Minutes from the first earliest to the last latest start.
    horizon: Minute,
    /// Lessons worth telling another learner.
    short: Vec<Told>,
    /// Rises whose consequences have been drawn.
    drawn: usize,
    waiting_profiles: Vec<u32>,
    profile_waits: Vec<bool>,
    waiting_pairs: Vec<u32>,
    pair_waits: Vec<bool>,
    price_waits: bool,
    manner: Manner,
    /// The last price supposed, and how far above the bound the next will be.
    supposed: Option<i64>,
    stride: i64,
    /// What a price of 1 is worth in the value of the problem.
    pub(crate) value_of_one: f64,
    pub(crate) best: Option<Starts>,
    pub(crate) steps: u64,
    conflicts: u64,
    restarts: u64,
    /// The restart before which the best schedule known last changed.
    improved_at: u64,
    restart_at: u64,
    most_clauses: usize,
    closed: bool,
}

/// Restarts come after 1, 1, 2, 1, 1, 2, 4, ... times this many dead ends.
const DEAD_ENDS_PER_RESTART: u64 = 100;
/// Clauses kept before the first are forgotten.
const FIRST_CLAUSES: usize = 4_000;
/// Restarts without a better schedule after which proving comes first.
const RESTARTS_UNTIL_STALE: u64 = 60;
/// Lessons of up to this many literals are told to others.
const SHORT_LESSON: usize = 3;
/// Literals remembered for choosing.
const MOST_LITERALS: usize = 20_000;

/// The n-th term (from 1) of 1, 1, 2, 1, 1, 2, 4, 1, 1, 2, ...
fn luby(n: u64) -> u64 {
    let (mut n, mut size) = (n, 1);
    while size < n {
        size = 2 * size + 1;
    }
    while size != n {
        size = (size - 1) / 2;
        if n > size {
            n -= size;
        }
    }
    size.div_ceil(2)
}

impl<'m> Learner<'m> {
    fn total(&self) -> usize {
        self.price.total
    }

    fn back_to(&mut self, level: u32) {
        if self.trail.level() > level {
            self.trail.back_to(level);
            self.taste.back_to(level);
            self.drawn = self.trail.rises.len();
            self.stop_waiting();
        }
    }

    fn stop_waiting(&mut self) {
        for index in self.waiting_profiles.drain(..) {
            self.profile_waits[index as usize] = false;
        }
        for index in self.waiting_pairs.drain(..) {
            self.pair_waits[index as usize] = false;
        }
        for task in self.waiting_crews.drain(..) {
            self.crew_waits[task as usize] = false;
        }
        self.price_waits = false;
    }

    /// Everything waits once, so that the first propagation draws what the problem itself says.
    fn wake_all(&mut self) {
        for index in 0..self.profiles.len() {
            self.wake_profile(index as u32);
        }
        for index in 0..self.pairs.len() {
            self.wake_pair(index as u32);
        }
        for task in 0..self.crew_waits.len() {
            self.wake_crew(task);
        }
        self.price_waits = true;
    }

    fn wake_crew(&mut self, task: usize) {
        if !self.crew_waits[task] && !self.crews.offers[task].is_empty() {
            self.crew_waits[task] = true;
            self.waiting_crews.push(task as u32);
        }
    }

    fn wake_profile(&mut self, index: u32) {
        if !self.profile_waits[index as usize] {
            self.profile_waits[index as usize] = true;
            self.waiting_profiles.push(index);
        }
    }

    fn wake_pair(&mut self, index: u32) {
        if !self.pair_waits[index as usize] {
            self.pair_waits[index as usize] = true;
            self.waiting_pairs.push(index);
        }
    }

    fn propagate(&mut self) -> Result<(), Conflict> {
        loop {
            while self.drawn < self.trail.rises.len() {
                let rise = self.trail.rises[self.drawn];
                self.drawn += 1;
                self.draw(rise.side, rise.before)?;
            }
            if let Some(index) = self.waiting_pairs.pop() {
                self.pair_waits[index as usize] = false;
                self.steps += 1;
                self.pairs[index as usize].propagate(&mut self.trail)?;
            } else if let Some(task) = self.waiting_crews.pop() {
                self.crew_waits[task as usize] = false;
                self.crews
                    .propagate(&mut self.trail, task as usize, &mut self.steps)?;
            } else if let Some(index) = self.waiting_profiles.pop() {
                self.profile_waits[index as usize] = false;
                self.profiles[index as usize].propagate(&mut self.trail, &mut self.steps)?;
            } else if self.price_waits {
                self.price_waits = false;
                let (model, crews) = (self.model, &self.crews);
                self.price
                    .propagate(model, crews, &mut self.trail, &mut self.steps)?;
            } else {
                return Ok(());
            }
        }
    }

    /// What follows at once from one rise, and whom it wakes.
    fn draw(&mut self, side: u32, before: Minute) -> Result<(), Conflict> {
        self.steps += 1;
        let variable = (side / 2) as usize;
        self.snap(side, variable)?;
        let value = self.trail.bound[side as usize];
        for place in 0..self.lags[side as usize].len() {
            let (to, weight) = self.lags[side as usize][place];
            let lit = Lit {
                side: to,
                value: value + weight,
            };
            self.trail.raise(lit, Reason::Lag { from: side, weight })?;
        }
        self.steps += self.lags[side as usize].len() as u64 / 4;
        self.clauses
            .propagate(&mut self.trail, side, before, &mut self.steps)?;
        for place in 0..self.profiles_of[variable].len() {
            self.wake_profile(self.profiles_of[variable][place]);
        }
        for place in 0..self.pairs_of[variable].len() {
            self.wake_pair(self.pairs_of[variable][place]);
        }
        if variable < self.total() {
            self.wake_crew(variable);
        } else if let Some(task) = self.crews.task_of(variable) {
            self.wake_crew(task);
        }
        self.price_waits |= self.in_price[variable];
        Ok(())
    }

    /// Moves a bound onto a start the calendars allow.
    fn snap(&mut self, side: u32, variable: usize) -> Result<(), Conflict> {
        let model = self.model;
        let Some(starts) = model.jobs.get(variable).and_then(|job| job.starts) else {
            return Ok(());
        };
        let starts = &model.starts[starts];
        let low = side.is_multiple_of(2);
        let bound = self.trail.bound[side as usize];
        let (next, last) = if low {
            (starts.next(bound), starts.previous(bound))
        } else {
            (
                starts.previous(-bound).map(|at| -at),
                starts.next(-bound).map(|at| -at),
            )
        };
        // The first value of this side that lies in the gap.
        let gap = last.map_or(bound, |last| last + 1);
        match next {
            Some(next) if next == bound => Ok(()),
            Some(next) => {
                let lit = Lit { side, value: next };
                self.trail.raise(lit, Reason::Gap(gap)).map(|_| ())
            }
            None => Err(vec![Lit { side, value: gap }]),
        }
    }

    /// Searches until the steps are spent, a better set of starts is found, or none is left.
    pub(crate) fn run(&mut self, until_steps: u64) -> Ended {
        if self.closed {
            return Ended::Closed;
        }
        loop {
            if let Err(conflict) = self.propagate() {
                self.stop_waiting();
                if !self.learn(&conflict) {
                    self.closed = true;
                    return Ended::Closed;
                }
                continue;
            }
            if self.steps >= until_steps {
                return Ended::Spent;
            }
            if self.trail.level() == 0 {
                self.trail.forget_root();
                self.drawn = 0;
            }
            if self.conflicts >= self.restart_at {
                self.restart();
                continue;
            }
            let Some(lit) = self.decide() else {
                let price = self.trail.low(self.total());
                let tasks = 0..self.model.jobs.len();
                let start: Vec<Minute> = tasks.clone().map(|task| self.trail.low(task)).collect();
                let crew: Vec<Vec<usize>> = tasks
                    .map(|task| self.crews.crew(&self.trail, task))
                    .collect();
                self.lean_on(&start, &crew);
                self.best = Some(Starts { start, crew, price });
                self.suppose_at_most(price - 1);
                return Ended::Found;
            };
            self.trail.begin_level();
            if self.trail.raise(lit, Reason::None).is_err() {
                // Never: an open literal can be made true. Should it be otherwise, nothing is concluded from it.
                self.back_to(0);
                return Ended::Spent;
            }
        }
    }

    fn restart(&mut self) {
        self.back_to(0);
        self.restarts += 1;
        self.restart_at = self.conflicts + DEAD_ENDS_PER_RESTART * luby(self.restarts + 1);
        if self.clauses.len() > self.most_clauses {
            self.clauses.forget_half(&self.trail);
            self.most_clauses += self.most_clauses / 20;
            self.taste.clear_out(&self.trail, MOST_LITERALS);
        }
        self.neighbourhood.clear();
        // When looking near the best has brought nothing for long, proving that nothing is left comes first.
        let often = if self.stale() { 16 } else { 2 };
        if self.manner == Manner::Better && self.restarts % often == 1 {
            self.choose_neighbourhood();
        }
    }

    /// False when nothing is left to choose.
    fn learn(&mut self, conflict: &Conflict) -> bool {
        self.conflicts += 1;
        let Some(lesson) = self.analysis.learn(&self.trail, &self.clauses, conflict) else {
            return false;
        };
        self.steps += lesson.lits.len() as u64 + self.analysis.clauses_met.len() as u64;
        for place in 0..self.analysis.clauses_met.len() {
            self.clauses.used(self.analysis.clauses_met[place]);
        }
        self.back_to(lesson.back_to);
        for &lit in &lesson.lits {
            if lit.variable() != self.total() {
                self.taste.met(lit);
            }
        }
        self.taste.fade();
        self.clauses.fade();
        if lesson.lits.len() <= SHORT_LESSON || lesson.spread <= 2 {
            self.short.push(Told {
                lits: lesson.lits.clone(),
                spread: lesson.spread,
            });
        }
        let first = lesson.lits[0];
        let reason = if lesson.lits.len() > 1 {
            Reason::Clause(self.clauses.add(lesson.lits, lesson.spread))
        } else {
            Reason::None
        };
        self.trail.raise(first, reason).is_ok()
    }
}
