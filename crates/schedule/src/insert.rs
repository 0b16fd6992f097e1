//! Places a group of tasks beside what already stands, by a short search through their starts.

use crate::board::{Board, Deficit};
use crate::dice::Dice;
use crate::model::FAR;
use crate::problem::Minute;

/// The task that could not be placed, and how far its window would have to move.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stuck {
    pub(crate) task: usize,
    pub(crate) deficit: Deficit,
}

/// How a group is placed.
#[derive(Debug)]
pub(crate) struct Manner<'a> {
    pub(crate) dice: &'a mut Dice,
    /// Number of crews each person could be in.
    pub(crate) breadth: &'a [u32],
    /// 0 takes the narrowest window first; above it the order is disturbed, and wishes may be ignored.
    pub(crate) noise: f64,
    /// Placements left to try.
    pub(crate) trials: u32,
    /// No placement is tried once the board has counted this many steps.
    pub(crate) until_step: u64,
}

/// Starts tried for one task before its caller has to move.
const MOST_STARTS: u32 = 40;

/// Places all unplaced tasks of `group`; on failure everything is as it was.
pub(crate) fn insert(
    board: &mut Board<'_>,
    group: &[usize],
    manner: &mut Manner<'_>,
) -> Result<(), Stuck> {
    let Some(task) = next_task(board, group, manner) else {
        return Ok(());
    };
    let mut stuck = None;
    let overtime =
        board.model.problem.overtime_weight > 0.0 && board.model.jobs[task].need.is_some();
    // Without a price on overtime one look at all hours is enough; with one, regular hours come first.
    let passes: &[bool] = match overtime {
        false => &[false],
        true if manner.noise > 0.0 && manner.dice.chance(0.2) => &[false],
        true => &[true, false],
    };
    for &regular in passes {
        if try_starts(board, group, manner, task, regular, &mut stuck) {
            return Ok(());
        }
        if manner.trials == 0 {
            break;
        }
    }
    Err(stuck.unwrap_or_else(|| no_start(board, task)))
}

/// Puts one task where it is told, then the rest of its group around it.
pub(crate) fn insert_around(
    board: &mut Board<'_>,
    group: &[usize],
    manner: &mut Manner<'_>,
    task: usize,
    at: Minute,
) -> Result<(), Stuck> {
    if board.next_start(task, at, at, false) != Some(at) {
        return Err(no_start(board, task));
    }
    step(board, group, manner, task, at)
        .map_err(|(_, stuck)| stuck.unwrap_or_else(|| no_start(board, task)))
}

fn next_task(board: &Board<'_>, group: &[usize], manner: &mut Manner<'_>) -> Option<usize> {
    let mut best: Option<(f64, f64, usize)> = None;
    for &task in group.iter().filter(|&&task| !board.placed[task]) {
        let mut width = (board.high[task] - board.low[task]) as f64;
        if board.model.jobs[task].need.is_none() && board.model.jobs[task].holds.is_empty() {
            // Nothing but time limits it: wherever its window is, it has a place.
            width = width * 4.0 + 1.0;
        }
        if manner.noise > 0.0 {
            width *= 1.0 + manner.noise * manner.dice.fraction();
        }
        let key = (width, -board.model.jobs[task].weight, task);
        if best.is_none_or(|known| key < known) {
            best = Some(key);
        }
    }
    best.map(|key| key.2)
}

fn try_starts(
    board: &mut Board<'_>,
    group: &[usize],
    manner: &mut Manner<'_>,
    task: usize,
    regular: bool,
    stuck: &mut Option<Stuck>,
) -> bool {
    let (low, high) = (board.low[task], board.high[task]);
    let mut target = board.model.target[task].unwrap_or(low).clamp(low, high);
    if manner.noise > 0.0 && manner.dice.chance(0.04) {
        target = low + (manner.dice.fraction() * (high - low) as f64) as Minute;
    }
    let mut later = board.next_start(task, target, high, regular);
    let mut earlier = if target > low {
        board.previous_start(task, target - 1, low, regular)
    } else {
        None
    };
    for trial in 0..MOST_STARTS {
        // After a few failures minute by minute the steps grow.
        let stride = Minute::from(trial.saturating_sub(8)).pow(2) / 4 + 1;
        let forward = match (later, earlier) {
            (Some(later), Some(earlier)) => later - target <= target - earlier,
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => break,
        };
        let Some(at) = (if forward { later } else { earlier }) else {
            break;
        };
        if manner.trials == 0 || board.steps >= manner.until_step {
            manner.trials = 0;
            break;
        }
        manner.trials -= 1;
        let deficit = match step(board, group, manner, task, at) {
            Ok(()) => return true,
            Err((deficit, found)) => {
                if let Some(found) = found {
                    let known = stuck.map_or(found.deficit, |known| known.deficit);
                    let deficit = Deficit {
                        later: known.later.min(found.deficit.later),
                        earlier: known.earlier.min(found.deficit.earlier),
                    };
                    *stuck = Some(Stuck {
                        task: found.task,
                        deficit,
                    });
                }
                deficit
            }
        };
        if forward {
            later = at
                .checked_add(deficit.later.max(stride))
                .filter(|&at| at <= high);
            later = later.and_then(|at| board.next_start(task, at, high, regular));
        } else {
            earlier = at
                .checked_sub(deficit.earlier.max(stride))
                .filter(|&at| at >= low);
            earlier = earlier.and_then(|at| board.previous_start(task, at, low, regular));
        }
    }
    false
}

/// One placement and everything under it.
fn step(
    board: &mut Board<'_>,
    group: &[usize],
    manner: &mut Manner<'_>,
    task: usize,
    at: Minute,
) -> Result<(), (Deficit, Option<Stuck>)> {
    let Some(crew) = board.choose_crew(task, at, manner.breadth) else {
        return Err((Deficit::ONE, None));
    };
    let mark = board.mark();
    if !board.place(task, at, crew) {
        return Err((Deficit::ONE, None));
    }
    let failed = match board.propagate(task) {
        Err(deficit) => (deficit, None),
        Ok(()) => match insert(board, group, manner) {
            Ok(()) => return Ok(()),
            Err(stuck) => (stuck.deficit, Some(stuck)),
        },
    };
    board.unplace(task);
    board.rewind(mark);
    Err(failed)
}

/// How far outside its window a start is looked for, so that one failure does not read a whole season of bookings.
const LOOK_BEYOND: Minute = 3 * 1_440;

/// No start of the task is left in its window; how far away the next one outside is, or at least is.
fn no_start(board: &mut Board<'_>, task: usize) -> Stuck {
    let (low, high) = (board.low[task], board.high[task]);
    let (first, last) = (board.root.low[task], board.root.high[task]);
    let later = match board.next_start(task, low, last.min(high + LOOK_BEYOND), false) {
        Some(at) => at - high,
        None if last > high + LOOK_BEYOND => LOOK_BEYOND,
        None => FAR,
    };
    let earlier = match board.previous_start(task, high, first.max(low - LOOK_BEYOND), false) {
        Some(at) => low - at,
        None if first < low - LOOK_BEYOND => LOOK_BEYOND,
        None => FAR,
    };
    Stuck {
        task,
        deficit: Deficit {
            later: later.max(1),
            earlier: earlier.max(1),
        },
    }
}
