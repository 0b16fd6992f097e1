//! The temporal network: windows of starts by lags and bounds alone, or the cycle that contradicts itself.

use std::collections::{BTreeSet, VecDeque};

use crate::model::Model;
use crate::problem::Minute;
use crate::tighten::Item;

/// Earliest and latest start of each task.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Windows {
    pub(crate) low: Vec<Minute>,
    pub(crate) high: Vec<Minute>,
}

/// Longest paths from the origin forwards and backwards; on a contradiction the items of one cycle, in its order.
pub(crate) fn windows(model: &Model<'_>) -> Result<Windows, Vec<Item>> {
    let count = model.jobs.len();
    let mut low: Vec<Minute> = model.jobs.iter().map(|job| job.earliest).collect();
    let mut before: Vec<Option<u32>> = vec![None; count];
    // Along the lags: any other order would visit the end of a long chain once for every task in it.
    let mut rise: BTreeSet<(usize, usize)> = model.rank.iter().copied().zip(0..count).collect();
    for task in 0..count {
        if model.jobs[task].earliest > model.jobs[task].latest {
            return Err(vec![Item::Earliest(task), Item::Latest(task)]);
        }
    }
    let mut raised = 0_usize;
    while let Some((_, task)) = rise.pop_first() {
        for &index in &model.leaving[task] {
            let arc = model.arcs[index as usize];
            let reached = low[task] + arc.weight;
            if reached <= low[arc.to] {
                continue;
            }
            low[arc.to] = reached;
            rise.insert((model.rank[arc.to], arc.to));
            before[arc.to] = Some(index);
            raised += 1;
            if arc.from == arc.to {
                return Err(vec![Item::Arc(index as usize)]);
            }
            if reached > model.jobs[arc.to].latest {
                return Err(cycle_through(model, &before, arc.to));
            }
            if raised.is_multiple_of(count)
                && let Some(cycle) = any_cycle(model, &before)
            {
                return Err(cycle);
            }
        }
    }
    // No contradiction is left, so this side cannot fail and must come to rest.
    let mut high: Vec<Minute> = model.jobs.iter().map(|job| job.latest).collect();
    let mut fall: BTreeSet<(usize, usize)> = model.rank.iter().copied().zip(0..count).collect();
    while let Some((_, task)) = fall.pop_last() {
        for &index in &model.reaching[task] {
            let arc = model.arcs[index as usize];
            let reached = high[task] - arc.weight;
            if reached < high[arc.from] {
                high[arc.from] = reached;
                fall.insert((model.rank[arc.from], arc.from));
            }
        }
    }
    Ok(Windows { low, high })
}

/// From a task pushed past its latest start back to the bound, or the cycle, that pushed it.
fn cycle_through(model: &Model<'_>, before: &[Option<u32>], task: usize) -> Vec<Item> {
    let mut seen = vec![false; before.len()];
    let mut path = vec![Item::Latest(task)];
    let mut at = task;
    while let Some(index) = before[at] {
        if seen[at] {
            return loop_at(model, before, at);
        }
        seen[at] = true;
        path.push(Item::Arc(index as usize));
        at = model.arcs[index as usize].from;
    }
    path.push(Item::Earliest(at));
    path.reverse();
    path
}

fn any_cycle(model: &Model<'_>, before: &[Option<u32>]) -> Option<Vec<Item>> {
    // The walk from each task carries its own mark; meeting that mark again closes a cycle.
    let mut mark = vec![usize::MAX; before.len()];
    for task in 0..before.len() {
        let mut at = task;
        while mark[at] == usize::MAX {
            mark[at] = task;
            let Some(index) = before[at] else { break };
            at = model.arcs[index as usize].from;
            if mark[at] == task {
                return Some(loop_at(model, before, at));
            }
        }
    }
    None
}

fn loop_at(model: &Model<'_>, before: &[Option<u32>], task: usize) -> Vec<Item> {
    let mut cycle = Vec::new();
    let mut at = task;
    while let Some(index) = before[at] {
        cycle.push(Item::Arc(index as usize));
        at = model.arcs[index as usize].from;
        if at == task {
            break;
        }
    }
    cycle.reverse();
    cycle
}

/// Longest paths from one task, with a scratch sheet that is not wiped between uses.
struct Reach {
    /// Minutes reached, and the walk they belong to.
    reached: Vec<(Minute, usize)>,
    walk: usize,
    queue: VecDeque<usize>,
}

impl Reach {
    fn known(&self, task: usize) -> Option<Minute> {
        let (minutes, walk) = self.reached[task];
        (walk == self.walk).then_some(minutes)
    }

    /// The least minutes from one task's start to another's that the lags alone force; `None` when they force nothing.
    ///
    /// Follows at most a fixed number of arcs, so the answer may be smaller than the true one, never larger.
    fn least_between(&mut self, model: &Model<'_>, from: usize, to: usize) -> Option<Minute> {
        const MOST_ARCS: usize = 2_000;
        self.walk += 1;
        self.reached[from] = (0, self.walk);
        self.queue.clear();
        self.queue.push_back(from);
        let mut arcs = 0;
        while let Some(task) = self.queue.pop_front() {
            let reached_here = self.reached[task].0;
            for &index in &model.leaving[task] {
                arcs += 1;
                if arcs > MOST_ARCS {
                    return self.known(to);
                }
                let arc = model.arcs[index as usize];
                let reached = reached_here + arc.weight;
                if self.known(arc.to).is_none_or(|known| known < reached) {
                    self.reached[arc.to] = (reached, self.walk);
                    self.queue.push_back(arc.to);
                }
            }
        }
        self.known(to)
    }
}

/// The least length of every occupancy, by the lags between its two ends. Only for a network that [`windows`] found
/// free of contradictions.
pub(crate) fn least_lengths(model: &mut Model<'_>) {
    let mut reach = Reach {
        reached: vec![(0, 0); model.jobs.len()],
        walk: 0,
        queue: VecDeque::new(),
    };
    for index in 0..model.holds.len() {
        let hold = model.holds[index];
        let between = if hold.from == hold.to {
            Some(0)
        } else {
            reach.least_between(model, hold.from, hold.to)
        };
        model.holds[index].least = between
            .map_or(0, |minutes| minutes + hold.to_after - hold.from_after)
            .max(0);
    }
}
