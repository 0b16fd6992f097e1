//! The engine from end to end: refuse, prove impossible, search, report.

use crate::board::Board;
use crate::bound::{free, lower_bound};
use crate::clash::clash;
use crate::learn::{Starts, duel};
use crate::malformed::{Malformed, refuse_malformed};
use crate::model::Model;
use crate::network::{Windows, least_lengths, windows};
use crate::outcome::{Effort, Outcome, Progress, Schedule};
use crate::problem::{Lean, Problem};
use crate::proof::overload;
use crate::search::{Found, MEETS, Search};
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
    let bound = lower_bound(&model, &settled.windows);
    let first = Effort {
        steps: effort.steps.min(4_000_000),
        ..*effort
    };
    let mut search = Search::new(&model, &settled.windows, first, bound, &mut *watch);
    search.run();
    let mut best = search.best.take();
    let tight = best.is_none().then(|| tightest(&model, &search));
    let mut bound = bound;
    if best.as_ref().is_none_or(|best| best.value > bound + MEETS) {
        let tasks = model.jobs.len();
        let taught = duel(
            &model,
            &settled.windows,
            best.as_ref().map(|best| best.value),
            effort.steps,
            &mut |steps, bound, _| {
                watch(&Progress {
                    steps,
                    of_steps: effort.steps,
                    placed: tasks,
                    tasks,
                    best: None,
                    bound,
                })
            },
        );
        bound = bound.max(taught.bound);
        if let Some(starts) = &taught.best {
            let found = seat(&model, &settled.windows, starts);
            if let Some(found) = found
                && best.as_ref().is_none_or(|best| found.value < best.value)
            {
                best = Some(found);
            }
        }
        if taught.closed && best.is_none() && taught.best.is_none() {
            return Ok(Outcome::Impossible(tight.unwrap_or_default()));
        }
    }
    let Some(best) = best else {
        return Ok(Outcome::NotFound(tight.unwrap_or_default()));
    };
    let mut people = best.crew;
    for crew in &mut people {
        crew.sort_unstable();
    }
    Ok(Outcome::Found(Schedule {
        free: free(&model, &best.start),
        proved: best.value <= bound + MEETS,
        start: best.start,
        people,
        value: best.value,
        bound,
        earliest: plain.low,
        latest: plain.high,
    }))
}

/// Enters starts and crews in the books of people and machines; `None` should they not fit after all.
fn seat(model: &Model<'_>, windows: &Windows, starts: &Starts) -> Option<Found> {
    let mut board = Board::empty(model, windows);
    for (task, crew) in starts.crew.iter().enumerate() {
        let at = starts.start[task];
        if board.next_start(task, at, at, false) != Some(at)
            || !board.place(task, at, crew.clone())
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
