//! Finds a schedule by inserting groups and throwing others out, then makes it cheaper by re-inserting a few at a time.

use crate::board::Board;
use crate::dice::Dice;
use crate::groups::{Partition, areas, groups};
use crate::insert::{Manner, Stuck, insert, insert_around};
use crate::model::Model;
use crate::network::Windows;
use crate::outcome::{Effort, Progress};
use crate::problem::Minute;

/// A complete schedule the search holds on to.
#[derive(Debug, Clone)]
pub(crate) struct Found {
    pub(crate) value: f64,
    pub(crate) start: Vec<Minute>,
    pub(crate) crew: Vec<Vec<usize>>,
}

/// Everything the search works with.
pub(crate) struct Search<'m, 'w> {
    pub(crate) board: Board<'m>,
    pub(crate) dice: Dice,
    pub(crate) groups: Partition,
    areas: Partition,
    /// How often each group could not be placed; what is hard to place is thrown out last.
    pub(crate) weight: Vec<u64>,
    pub(crate) breadth: Vec<u32>,
    /// How often each task was the one without a place.
    pub(crate) blame: Vec<u64>,
    pub(crate) bound: f64,
    pub(crate) best: Option<Found>,
    pub(crate) effort: Effort,
    next_look: u64,
    stopped: bool,
    /// How many times as long as usual improving goes on without success.
    pub(crate) patience: usize,
    watch: &'w mut dyn FnMut(&Progress) -> bool,
}

/// Steps between two calls of the caller's watch.
const STEPS_PER_LOOK: u64 = 50_000;
/// Steps after which inserting one group of a small area is given up.
const MOST_STEPS_PER_GROUP: u64 = 300_000;
/// Steps of improving a small problem gets at the standard effort: this many for every pair of tasks ...
const STEPS_PER_PAIR: u64 = 600;
/// ... and these besides.
const STEPS_FOR_ANY: u64 = 100_000;
/// Rounds of improving at most.
const MOST_ROUNDS: usize = 2;
/// Improving begins anew, warm again, while a round brings the value below this share of what it was.
const WORTH_ANOTHER_ROUND: f64 = 0.995;
/// What is close enough to the bound to count as meeting it.
pub(crate) const MEETS: f64 = 1e-9;

/// How many skills asked for each person has: those with few are put to work first.
pub(crate) fn breadth(model: &Model<'_>) -> Vec<u32> {
    let mut breadth = vec![0; model.hours.len()];
    for class in &model.classes {
        for &person in class {
            breadth[person] += 1;
        }
    }
    breadth
}

/// Steps of improving: a small problem has few neighbours to try, so its share grows with the square of its tasks.
pub(crate) fn share_of_effort(tasks: usize, effort: Effort) -> u64 {
    let tasks = tasks as u64;
    let share = STEPS_PER_PAIR.saturating_mul(tasks * tasks) + STEPS_FOR_ANY;
    let times = (effort.steps / Effort::STANDARD_STEPS).max(1);
    share.saturating_mul(times)
}

impl<'m, 'w> Search<'m, 'w> {
    pub(crate) fn new(
        model: &'m Model<'m>,
        root: &'m Windows,
        effort: Effort,
        bound: f64,
        watch: &'w mut dyn FnMut(&Progress) -> bool,
    ) -> Self {
        let groups = groups(model, root);
        Self {
            board: Board::empty(model, root),
            dice: Dice::seeded(effort.seed),
            areas: areas(model, root),
            weight: vec![1; groups.parts.len()],
            groups,
            breadth: breadth(model),
            blame: vec![0; model.jobs.len()],
            bound,
            best: None,
            effort,
            next_look: 0,
            stopped: false,
            patience: 1,
            watch,
        }
    }

    /// Whether to end: effort spent, or the caller said so.
    pub(crate) fn over(&mut self) -> bool {
        if self.board.steps >= self.next_look {
            self.next_look = self.board.steps + STEPS_PER_LOOK;
            let progress = Progress {
                steps: self.board.steps,
                of_steps: self.effort.steps,
                placed: self.board.placed_count,
                tasks: self.board.placed.len(),
                best: self.best.as_ref().map(|found| found.value),
                bound: self.bound,
            };
            self.stopped |= !(self.watch)(&progress);
        }
        self.stopped || self.board.steps >= self.effort.steps
    }

    /// Looks for a first schedule; false when none was found.
    pub(crate) fn begin(&mut self) -> bool {
        const MOST_RESTARTS: usize = 40;
        const MOST_BEGINNINGS: usize = 3;
        let mut beginnings = 0;
        for round in 0..MOST_RESTARTS {
            beginnings += usize::from(self.construct(round));
            self.keep_if_best();
            let enough = self.best.as_ref().is_some_and(|best| {
                // Further beginnings are only worth it while they cost little.
                best.value <= self.bound + MEETS
                    || beginnings >= MOST_BEGINNINGS
                    || self.board.steps * 8 > self.effort.steps
            });
            if enough || self.over() {
                break;
            }
        }
        self.best.is_some()
    }

    /// Allows this many more steps than have been made.
    pub(crate) fn allow(&mut self, steps: u64) {
        self.effort.steps = self.board.steps.saturating_add(steps);
    }

    /// Looks for cheaper schedules than the first.
    pub(crate) fn go_on(&mut self) {
        self.allow(
            share_of_effort(self.board.placed.len(), self.effort)
                .min(self.effort.steps.saturating_sub(self.board.steps)),
        );
        let mut least = f64::INFINITY;
        for _ in 0..MOST_ROUNDS {
            if !self.back_to_best() || self.over() {
                break;
            }
            self.improve();
            let now = self.best.as_ref().map_or(least, |best| best.value);
            if now > least * WORTH_ANOTHER_ROUND || now <= self.bound + MEETS {
                break;
            }
            least = now;
        }
    }

    /// A search that begins with a schedule.
    pub(crate) fn from(
        model: &'m Model<'m>,
        root: &'m Windows,
        effort: Effort,
        bound: f64,
        best: Found,
        watch: &'w mut dyn FnMut(&Progress) -> bool,
    ) -> Self {
        let mut search = Self::new(model, root, effort, bound, watch);
        search.best = Some(best);
        search
    }

    /// One round of looking for something cheaper, `patience` times as long as usual, and what is then the best.
    pub(crate) fn refine(mut self, patience: usize) -> Option<Found> {
        self.patience = patience;
        if self.back_to_best() {
            self.allow(self.effort.steps);
            self.improve();
        }
        self.best
    }

    /// Puts the best schedule back on the board; false if there is none.
    fn back_to_best(&mut self) -> bool {
        let Some(best) = self.best.clone() else {
            return false;
        };
        let all: Vec<usize> = (0..self.groups.parts.len()).collect();
        self.remove(&all);
        for (task, (at, crew)) in best.start.into_iter().zip(best.crew).enumerate() {
            let stands = self.board.place(task, at, crew);
            debug_assert!(stands, "what stood before stands again");
        }
        self.board.forget_trail();
        true
    }

    pub(crate) fn value(&self) -> f64 {
        (0..self.board.placed.len())
            .map(|task| self.board.cost(task))
            .fold(0.0, |sum, cost| sum + cost)
    }

    pub(crate) fn keep_if_best(&mut self) {
        if self.board.placed_count < self.board.placed.len() {
            return;
        }
        let value = self.value();
        if self.best.as_ref().is_none_or(|best| value < best.value) {
            self.best = Some(Found {
                value,
                start: self.board.low.clone(),
                crew: self.board.crew.clone(),
            });
        }
    }

    /// Takes groups off the board.
    pub(crate) fn remove(&mut self, groups: &[usize]) {
        let mut touched: Vec<usize> = Vec::new();
        for &group in groups {
            for &task in &self.groups.parts[group] {
                if self.board.placed[task] {
                    self.board.unplace(task);
                }
                touched.push(self.areas.of[task]);
            }
        }
        touched.sort_unstable();
        touched.dedup();
        for area in touched {
            let fine = self.board.reset_windows(&self.areas.parts[area]);
            debug_assert!(fine, "taking tasks off the board cannot narrow a window");
        }
    }

    pub(crate) fn insert_group(
        &mut self,
        group: usize,
        noise: f64,
        around: Option<(usize, Minute)>,
    ) -> Result<(), Stuck> {
        let tasks = &self.groups.parts[group];
        let trials = 8 + 3 * tasks.len() as u32;
        // In a large area each placement may move the windows of all.
        let area = tasks.first().map_or(0, |&task| {
            self.areas.parts[self.areas.of[task]].len() as u64
        });
        let until_step =
            (self.board.steps + MOST_STEPS_PER_GROUP + 200 * area).min(self.effort.steps);
        let mut manner = Manner {
            dice: &mut self.dice,
            breadth: &self.breadth,
            noise,
            trials,
            until_step,
        };
        let done = match around {
            Some((task, at)) => insert_around(&mut self.board, tasks, &mut manner, task, at),
            None => insert(&mut self.board, tasks, &mut manner),
        };
        self.board.forget_trail();
        done
    }

    /// Starts from an empty board and inserts all groups, throwing others out where there is no place. True when all
    /// stand.
    fn construct(&mut self, round: usize) -> bool {
        let all: Vec<usize> = (0..self.groups.parts.len()).collect();
        self.remove(&all);
        let mut order: Vec<(f64, f64, usize)> =
            all.iter().map(|&group| self.rank(group, round)).collect();
        order.sort_unstable_by(|a, b| {
            a.0.total_cmp(&b.0)
                .then(a.1.total_cmp(&b.1))
                .then(a.2.cmp(&b.2))
        });
        // Taken from the end.
        let mut waiting: Vec<usize> = order.into_iter().rev().map(|entry| entry.2).collect();
        let (mut fewest, mut since) = (usize::MAX, 0_usize);
        // Short at first, so that every order gets its chance, then longer and longer.
        let patience = (60 + 2 * all.len()) << (round / 3).min(20);
        while let Some(group) = waiting.pop() {
            if self.over() {
                return false;
            }
            let Err(stuck) = self.insert_group(group, 0.0, None) else {
                if waiting.len() < fewest {
                    (fewest, since) = (waiting.len(), 0);
                }
                continue;
            };
            since += 1;
            if since > patience {
                return false;
            }
            self.blame[stuck.task] += 1;
            self.weight[group] += 1;
            let thrown_out = self.make_room(group, stuck.task);
            waiting.extend(thrown_out.groups);
            let noise = if since > 20 { 0.5 } else { 0.0 };
            let around = thrown_out.around.filter(|_| self.dice.chance(0.8));
            if self.insert_group(group, noise, around).is_err()
                && self.insert_group(group, noise, None).is_err()
            {
                // Others first: it goes to the back, but never to the very front of the next turn.
                let place = if waiting.is_empty() {
                    0
                } else {
                    self.dice.below(waiting.len())
                };
                waiting.insert(place, group);
            }
        }
        true
    }

    /// Order of insertion: hardest first, by a different idea of hard in every round.
    fn rank(&mut self, group: usize, round: usize) -> (f64, f64, usize) {
        let (low, high) = (&self.board.root.low, &self.board.root.high);
        let tasks = &self.groups.parts[group];
        let fewest = |value: &dyn Fn(usize) -> Minute| {
            tasks.iter().map(|&task| value(task)).min().unwrap_or(0) as f64
        };
        let narrowest = fewest(&|task| high[task] - low[task]);
        let first = fewest(&|task| low[task]);
        match round {
            0 => (first, narrowest, group),
            1 => (narrowest / self.weight[group] as f64, first, group),
            2 => (-fewest(&|task| high[task]), narrowest, group),
            _ => (
                self.dice.fraction() / self.weight[group] as f64,
                first,
                group,
            ),
        }
    }

    /// Groups tied by lags to a group and placed.
    pub(crate) fn neighbours(&self, group: usize) -> Vec<usize> {
        let model = self.board.model;
        let mut near: Vec<usize> = Vec::new();
        for &task in &self.groups.parts[group] {
            for &index in model.leaving[task].iter().chain(&model.reaching[task]) {
                let arc = model.arcs[index as usize];
                let other = if arc.from == task { arc.to } else { arc.from };
                if self.groups.of[other] != group && self.board.placed[other] {
                    near.push(self.groups.of[other]);
                }
            }
        }
        near.sort_unstable();
        near.dedup();
        near
    }
}
