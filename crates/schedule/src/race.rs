//! Makes the most of two cores once there is a first answer: one side goes on re-inserting groups while the other learns
//! from dead ends, or both learn. They meet after fixed numbers of steps, so what comes out does not depend on which
//! core was quicker.

use std::sync::atomic::{AtomicBool, Ordering};

use crate::board::Board;
use crate::learn::{Ended, Learner, Manner, Starts, knows_all};
use crate::model::Model;
use crate::network::Windows;
use crate::outcome::{Effort, Progress};
use crate::search::{Found, MEETS, Search};

/// Tasks up to which learning is worth its memory and time.
pub(crate) const MOST_TASKS: usize = 800;
/// Steps of a learner in one round; one takes about three times as long as a step of re-inserting (measured here).
const STEPS_PER_ROUND: u64 = 2_000_000;
/// Steps a learner makes before it looks whether to stop.
const STEPS_PER_LOOK: u64 = 200_000;
/// Re-inserting that brings nothing lets this many rounds pass at most before its next turn.
const LONGEST_WAIT: u64 = 16;
/// A re-inserting turn may be this many times as patient as the first one.
const MOST_PATIENCE: usize = 16;

/// What is known at the end, or at any moment before.
#[derive(Debug)]
pub(crate) struct Known {
    pub(crate) best: Option<Found>,
    /// No schedule has a value below this.
    pub(crate) bound: f64,
    /// There is no schedule.
    pub(crate) impossible: bool,
}

impl Known {
    fn value(&self) -> Option<f64> {
        self.best.as_ref().map(|best| best.value)
    }

    fn settled(&self) -> bool {
        self.impossible
            || self
                .value()
                .is_some_and(|value| value <= self.bound + MEETS)
    }

    fn take(&mut self, found: Option<Found>) -> bool {
        let better =
            found.filter(|found| self.value().is_none_or(|value| found.value < value - MEETS));
        let any = better.is_some();
        if any {
            self.best = better;
        }
        any
    }
}

/// The watch of the caller and the flag that carries its answer to the other core.
pub(crate) struct Watch<'w> {
    pub(crate) ask: &'w mut dyn FnMut(&Progress) -> bool,
    pub(crate) stop: AtomicBool,
}

/// Both learners with what they were last told.
struct Learners<'m> {
    better: Learner<'m>,
    bound: Learner<'m>,
}

impl Learners<'_> {
    /// Tells both what is known, and each the short lessons of the other.
    fn tell(&mut self, known: &Known) {
        for learner in [&mut self.better, &mut self.bound] {
            if let Some(best) = &known.best {
                learner.only_below(best.value);
                learner.lean_on(&best.start, &best.crew);
            }
        }
        let lessons = self.better.short_lessons();
        self.better.hear(&self.bound.short_lessons());
        self.bound.hear(&lessons);
        let bound = self.better.bound().max(self.bound.bound());
        self.better.suppose_at_least(bound);
        self.bound.suppose_at_least(bound);
    }
}

/// Goes on from what is known for `steps` steps of a learner.
pub(crate) fn race(
    model: &Model<'_>,
    windows: &Windows,
    known: &mut Known,
    effort: Effort,
    watch: &mut Watch<'_>,
) {
    let learns = model.jobs.len() <= MOST_TASKS && knows_all(model);
    let mut learners = learns.then(|| Learners {
        better: Learner::of(model, windows, Manner::Better, effort.seed),
        bound: Learner::of(model, windows, Manner::Bound, effort.seed),
    });
    // Once with no schedule known, learners go first: they can also find that there is none.
    let (mut wait, mut turn_in, mut patience) = (1, u64::from(known.best.is_none()), 1);
    let (mut spent, mut round) = (0, 0_u64);
    // Whether re-inserting, in a turn here, has brought the best known.
    let mut reinserted = false;
    // The lowest value learners were told to stay below, or found themselves and stayed below since.
    let mut limit = f64::INFINITY;
    while spent < effort.steps && !known.settled() && !watch.stop.load(Ordering::Relaxed) {
        let steps = STEPS_PER_ROUND.min(effort.steps - spent);
        spent += steps;
        round += 1;
        let reinsert = turn_in == 0 || !learns;
        let seed = effort.seed.wrapping_add(2 * round);
        let refine = |seed: u64, known: &Known, ask: &mut dyn FnMut(&Progress) -> bool| {
            let effort = Effort {
                seed,
                steps: 3 * steps * patience as u64,
            };
            let Some(best) = known.best.clone() else {
                let mut search = Search::new(model, windows, effort, known.bound, ask);
                search.begin();
                return search.best.take();
            };
            Search::from(model, windows, effort, known.bound, best, ask).refine(patience)
        };
        let Some(learners) = &mut learners else {
            let Watch { ask, stop } = watch;
            let (here, beside) = std::thread::scope(|scope| {
                let beside = scope.spawn(|| {
                    refine(seed.wrapping_add(1), known, &mut |_| {
                        !stop.load(Ordering::Relaxed)
                    })
                });
                let here = refine(seed, known, &mut |progress| told(*ask, stop, progress));
                (here, beside.join().unwrap_or_default())
            });
            let better = known.take(here) | known.take(beside);
            patience = if better {
                1
            } else {
                (2 * patience).min(MOST_PATIENCE)
            };
            continue;
        };
        learners.tell(known);
        let progress = Progress {
            steps: spent,
            of_steps: effort.steps,
            placed: model.jobs.len(),
            tasks: model.jobs.len(),
            best: known.value(),
            bound: known.bound,
        };
        let Watch { ask, stop } = watch;
        let mut found = None;
        let ends = std::thread::scope(|scope| {
            if reinsert {
                let learner = &mut learners.bound;
                let beside = scope.spawn(|| {
                    stretch(learner, steps * patience as u64, &mut || {
                        !stop.load(Ordering::Relaxed)
                    })
                });
                found = refine(seed, known, &mut |progress| told(*ask, stop, progress));
                [Ended::Spent, beside.join().unwrap_or(Ended::Spent)]
            } else {
                let Learners { better, bound } = learners;
                let beside =
                    scope.spawn(|| stretch(bound, steps, &mut || !stop.load(Ordering::Relaxed)));
                let here = stretch(better, steps, &mut || told(*ask, stop, &progress));
                [here, beside.join().unwrap_or(Ended::Spent)]
            }
        });
        let unit = learners.better.value_of_one;
        for learner in [&learners.better, &learners.bound] {
            if let Some(best) = &learner.best {
                limit = limit.min(best.price as f64 * unit);
            }
        }
        limit = limit.min(known.value().unwrap_or(f64::INFINITY));
        let was_better = known.take(found);
        reinserted |= was_better;
        for learner in [&mut learners.better, &mut learners.bound] {
            if let Some(starts) = learner.best.take()
                && known.take(seat(model, windows, &starts))
            {
                reinserted = false;
            }
        }
        if ends.contains(&Ended::Closed) {
            known.impossible = limit.is_infinite();
            if limit.is_finite() {
                known.bound = known.bound.max(limit);
            }
            break;
        }
        let bound = learners.better.bound().max(learners.bound.bound());
        known.bound = known.bound.max(bound as f64 * unit);
        if reinsert {
            if was_better {
                (wait, patience) = (1, 1);
            } else {
                wait = (2 * wait).min(LONGEST_WAIT);
                // Longer turns only where re-inserting is what has brought the best.
                patience = if reinserted {
                    (2 * patience).min(MOST_PATIENCE)
                } else {
                    1
                };
            }
            turn_in = if was_better { 0 } else { wait };
        } else {
            turn_in = turn_in.saturating_sub(1);
        }
    }
}

pub(crate) fn told(
    ask: &mut dyn FnMut(&Progress) -> bool,
    stop: &AtomicBool,
    progress: &Progress,
) -> bool {
    let on = !stop.load(Ordering::Relaxed) && ask(progress);
    if !on {
        stop.store(true, Ordering::Relaxed);
    }
    on
}

/// One learner's share of a round.
fn stretch(learner: &mut Learner<'_>, steps: u64, go_on: &mut dyn FnMut() -> bool) -> Ended {
    let until = learner.steps + steps;
    while learner.steps < until {
        let look_at = until.min(learner.steps + STEPS_PER_LOOK);
        if learner.run(look_at) == Ended::Closed {
            return Ended::Closed;
        }
        if !go_on() {
            break;
        }
    }
    Ended::Spent
}

/// Enters starts and crews in the books of people and machines; `None` should they not fit after all.
fn seat(model: &Model<'_>, windows: &Windows, starts: &Starts) -> Option<Found> {
    let mut board = Board::empty(model, windows);
    for (task, crew) in starts.crew.iter().enumerate() {
        let at = starts.start[task];
        if board.next_start(task, at, at, false) != Some(at) || !board.place(task, at, crew.clone())
        {
            return None;
        }
    }
    Some(Found {
        value: (0..starts.start.len()).map(|task| board.cost(task)).sum(),
        start: board.low,
        crew: board.crew,
    })
}
