//! The engine from end to end: refuse, prove impossible, search, report.

use std::sync::atomic::AtomicBool;

use crate::bound::{free, lower_bound};
use crate::clash::clash;
use crate::malformed::{Malformed, refuse_malformed};
use crate::model::Model;
use crate::network::{Windows, least_lengths, windows};
use crate::outcome::{Clash, Effort, Outcome, Progress, Schedule};
use crate::problem::{Lean, Problem};
use crate::proof::overload;
use crate::race::{Known, MOST_TASKS, Watch, race, told};
use crate::search::{MEETS, Search, share_of_effort};
use crate::sift::sift;
use crate::tighten::{Item, all_items, minimal, settle, tied_to};
use crate::tightest::tightest;

/// Puts every task of `problem` on the clock, or says why not.
///
/// `watch` is called every few thousand steps; answering `false` stops the search, which then answers with the best
/// schedule it has. The same problem, effort and answers of `watch` give the same outcome.
///
/// # Errors
/// [`Malformed`] when a number is out of range, an index points at nothing, or a calendar is out of order.
pub fn solve(
    problem: &Problem,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Outcome, Malformed> {
    refuse_malformed(problem)?;
    let mut model = Model::of(problem);
    let plain = match windows(&model) {
        Ok(plain) => plain,
        Err(cycle) => return Ok(Outcome::Impossible(clash(&model, &cycle))),
    };
    for (task, spec) in problem.tasks.iter().enumerate() {
        model.target[task] = match spec.lean {
            _ if spec.weight == 0.0 => None,
            Lean::Early => Some(plain.low[task]),
            Lean::Late => Some(plain.high[task]),
            Lean::Toward(at) => Some(at),
            Lean::Indifferent => None,
        };
    }
    least_lengths(&mut model);
    let items = all_items(&model);
    let settled = settle(&model, &items);
    if let Some(premises) = settled.contradiction() {
        // A chain that went round in circles does not name its beginning; then all premises about the same tasks, and
        // those tied to them, are sifted.
        let kept = minimal(&model, premises.clone())
            .or_else(|| minimal(&model, tied_to(&model, &premises, &items)))
            .unwrap_or(items);
        return Ok(Outcome::Impossible(clash(&model, &in_chain(&model, kept))));
    }
    if let Some(clash) = overload(&model, &settled) {
        return Ok(Outcome::Impossible(clash));
    }
    let windows = &settled.windows;
    let bound = lower_bound(&model, windows);
    let mut watch = Watch {
        ask: watch,
        stop: AtomicBool::new(false),
    };
    let (known, tight) = answer(&model, windows, *effort, bound, &mut watch);
    if known.impossible {
        return Ok(Outcome::Impossible(sift(&model, &settled, *effort)));
    }
    let Some(best) = known.best else {
        return Ok(Outcome::NotFound(tight));
    };
    let mut people = best.crew;
    for crew in &mut people {
        crew.sort_unstable();
    }
    Ok(Outcome::Found(Schedule {
        free: free(&model, &best.start),
        proved: best.value <= known.bound + MEETS,
        start: best.start,
        people,
        value: best.value,
        bound: known.bound.min(best.value),
        earliest: plain.low,
        latest: plain.high,
    }))
}

/// Steps of the first look for a schedule, before learners are asked whether there is one at all.
const FIRST_LOOK: u64 = 6_000_000;
/// Learners' steps at the standard effort where no schedule was found at first ...
const LEARNING_WITHOUT: u64 = 6_000_000;
/// ... and at most where one was.
const LEARNING_WITH: u64 = 4_000_000;
/// A learner's step takes about as long as this many of re-inserting (measured here).
const STEPS_PER_LESSON: u64 = 3;

/// Finds a schedule and makes it cheaper, or finds that there is none; with it what was tightest where none was found.
fn answer(
    model: &Model<'_>,
    windows: &Windows,
    effort: Effort,
    bound: f64,
    watch: &mut Watch<'_>,
) -> (Known, Clash) {
    let tasks = model.jobs.len();
    let mut known = Known {
        best: None,
        bound,
        impossible: false,
    };
    let standard = effort.steps.min(Effort::STANDARD_STEPS);
    let times = (effort.steps / Effort::STANDARD_STEPS).max(1);
    let mut tight = Clash::default();
    {
        let Watch { ask, stop } = &mut *watch;
        let mut ask = |progress: &Progress| told(*ask, stop, progress);
        let first = Effort {
            steps: standard,
            ..effort
        };
        let mut search = Search::new(model, windows, first, bound, &mut ask);
        if tasks <= MOST_TASKS {
            search.allow(standard.min(FIRST_LOOK));
        }
        let found = search.begin();
        search.allow(standard.saturating_sub(search.board.steps));
        if found {
            search.go_on();
        } else {
            tight = tightest(model, &search);
        }
        known.best = search.best.take();
    }
    let learning = |most: u64| Effort {
        steps: (share_of_effort(tasks, effort) / STEPS_PER_LESSON)
            .min(most.saturating_mul(times))
            .min(effort.steps / STEPS_PER_LESSON),
        ..effort
    };
    if known.best.is_none() && (tasks <= MOST_TASKS || times > 1) {
        race(
            model,
            windows,
            &mut known,
            learning(LEARNING_WITHOUT),
            watch,
        );
        if known.best.is_some() || known.impossible {
            return (known, tight);
        }
        // Neither way: a long look, and then again.
        let Watch { ask, stop } = &mut *watch;
        let mut ask = |progress: &Progress| told(*ask, stop, progress);
        let mut search = Search::new(model, windows, effort, bound, &mut ask);
        if search.begin() {
            search.go_on();
        } else {
            tight = tightest(model, &search);
        }
        known.best = search.best.take();
    }
    if known.best.is_some() {
        race(model, windows, &mut known, learning(LEARNING_WITH), watch);
    }
    (known, tight)
}

/// Premises so that a reader can follow them: the bound it starts from, the lags, then calendars and the other bound.
fn in_chain(model: &Model<'_>, mut items: Vec<Item>) -> Vec<Item> {
    items.sort_by_key(|&item| match item {
        Item::Earliest(task) => (0, task),
        Item::Arc(index) => (1, model.arcs[index].from),
        Item::Calendar(task) => (2, task),
        Item::Latest(task) => (3, task),
    });
    items
}
