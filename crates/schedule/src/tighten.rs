//! Windows narrowed by calendars as well as lags, to a fixpoint, with the reasons for every bound.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::{FAR, Model};
use crate::network::Windows;
use crate::problem::Minute;

/// One premise a bound can rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Item {
    /// An arc of the temporal network, by index.
    Arc(usize),
    /// The earliest start of a task.
    Earliest(usize),
    /// The latest start of a task.
    Latest(usize),
    /// The starts the calendars leave a task.
    Calendar(usize),
}

/// The part of the problem some premises speak of.
struct Scene {
    tasks: Vec<usize>,
    /// From, to (both local), weight, index in the model.
    arcs: Vec<(usize, usize, Minute, usize)>,
    leaving: Vec<Vec<usize>>,
    reaching: Vec<Vec<usize>>,
    low: Vec<(Minute, Option<Item>)>,
    high: Vec<(Minute, Option<Item>)>,
    calendar: Vec<bool>,
}

impl Scene {
    fn of(model: &Model<'_>, items: &[Item]) -> Self {
        let mut named = BTreeSet::new();
        for item in items {
            match *item {
                Item::Arc(arc) => {
                    named.insert(model.arcs[arc].from);
                    named.insert(model.arcs[arc].to);
                }
                Item::Earliest(task) | Item::Latest(task) | Item::Calendar(task) => {
                    named.insert(task);
                }
            }
        }
        let tasks: Vec<usize> = named.into_iter().collect();
        let local: BTreeMap<usize, usize> = tasks
            .iter()
            .enumerate()
            .map(|(place, &task)| (task, place))
            .collect();
        let mut scene = Self {
            arcs: Vec::new(),
            leaving: vec![Vec::new(); tasks.len()],
            reaching: vec![Vec::new(); tasks.len()],
            low: vec![(-FAR, None); tasks.len()],
            high: vec![(FAR, None); tasks.len()],
            calendar: vec![false; tasks.len()],
            tasks,
        };
        for &item in items {
            match item {
                Item::Arc(index) => {
                    let arc = model.arcs[index];
                    let (from, to) = (local[&arc.from], local[&arc.to]);
                    scene.leaving[from].push(scene.arcs.len());
                    scene.reaching[to].push(scene.arcs.len());
                    scene.arcs.push((from, to, arc.weight, index));
                }
                Item::Earliest(task) => {
                    scene.low[local[&task]] = (model.jobs[task].earliest, Some(item))
                }
                Item::Latest(task) => {
                    scene.high[local[&task]] = (model.jobs[task].latest, Some(item))
                }
                Item::Calendar(task) => scene.calendar[local[&task]] = true,
            }
        }
        scene
    }
}

/// Where the narrowing came to rest.
pub(crate) struct Settled {
    pub(crate) windows: Windows,
    scene: Scene,
    low_snapped: Vec<bool>,
    high_snapped: Vec<bool>,
    /// A task (local) with no start left.
    wiped: Option<usize>,
}

/// Every premise of the problem.
pub(crate) fn all_items(model: &Model<'_>) -> Vec<Item> {
    let tasks = 0..model.jobs.len();
    (tasks.clone().map(Item::Earliest))
        .chain(tasks.clone().map(Item::Latest))
        .chain(
            tasks
                .filter(|&task| model.jobs[task].starts.is_some())
                .map(Item::Calendar),
        )
        .chain((0..model.arcs.len()).map(Item::Arc))
        .collect()
}

/// Narrows all windows as far as the premises carry. Stops early, with wider but still true windows, if two
/// calendars chase each other for very long.
pub(crate) fn settle(model: &Model<'_>, items: &[Item]) -> Settled {
    let scene = Scene::of(model, items);
    let count = scene.tasks.len();
    let mut settled = Settled {
        windows: Windows {
            low: scene.low.iter().map(|bound| bound.0).collect(),
            high: scene.high.iter().map(|bound| bound.0).collect(),
        },
        low_snapped: vec![false; count],
        high_snapped: vec![false; count],
        wiped: None,
        scene,
    };
    for task in 0..count {
        if !settled.snap(model, task) {
            return settled;
        }
    }
    // Lower bounds are passed on along the lags, upper ones against them: in any other order the end of a long chain
    // would be visited once for every task in it.
    let rank: Vec<usize> = settled
        .scene
        .tasks
        .iter()
        .map(|&task| model.rank[task])
        .collect();
    let mut rise: BTreeSet<(usize, usize)> = rank.iter().copied().zip(0..count).collect();
    let mut fall = rise.clone();
    let mut patience = 1_000_000 + 200 * (count + settled.scene.arcs.len());
    while patience > 0 {
        patience -= 1;
        let (task, rising) = match rise.pop_first() {
            Some((_, task)) => (task, true),
            None => match fall.pop_last() {
                Some((_, task)) => (task, false),
                None => break,
            },
        };
        let touched = if rising {
            settled.scene.leaving[task].clone()
        } else {
            settled.scene.reaching[task].clone()
        };
        for place in touched {
            let (from, to, weight, index) = settled.scene.arcs[place];
            let end = if rising { to } else { from };
            let moved = if rising {
                settled.raise(from, to, weight, index)
            } else {
                settled.lower(from, to, weight, index)
            };
            if moved {
                if !settled.snap(model, end) {
                    return settled;
                }
                if rising {
                    rise.insert((rank[end], end));
                } else {
                    fall.insert((rank[end], end));
                }
            }
        }
    }
    settled
}

impl Settled {
    fn raise(&mut self, from: usize, to: usize, weight: Minute, index: usize) -> bool {
        let reached = self.windows.low[from] + weight;
        // A bound that rests on nothing stays far away instead of creeping.
        if self.scene.low[from].1.is_none() && !self.low_snapped[from]
            || reached <= self.windows.low[to]
        {
            return false;
        }
        self.windows.low[to] = reached;
        self.scene.low[to].1 = Some(Item::Arc(index));
        self.low_snapped[to] = false;
        true
    }

    fn lower(&mut self, from: usize, to: usize, weight: Minute, index: usize) -> bool {
        let reached = self.windows.high[to] - weight;
        if self.scene.high[to].1.is_none() && !self.high_snapped[to]
            || reached >= self.windows.high[from]
        {
            return false;
        }
        self.windows.high[from] = reached;
        self.scene.high[from].1 = Some(Item::Arc(index));
        self.high_snapped[from] = false;
        true
    }

    /// Moves both bounds of a task onto starts its calendar allows; false when none is left between them.
    fn snap(&mut self, model: &Model<'_>, task: usize) -> bool {
        if self.scene.calendar[task] {
            let global = self.scene.tasks[task];
            let (low, high) = (self.windows.low[task], self.windows.high[task]);
            let (Some(up), Some(down)) =
                (model.snap_up(global, low), model.snap_down(global, high))
            else {
                self.low_snapped[task] = true;
                self.high_snapped[task] = true;
                self.wiped = Some(task);
                return false;
            };
            self.low_snapped[task] |= up != low;
            self.high_snapped[task] |= down != high;
            self.windows.low[task] = up;
            self.windows.high[task] = down;
        }
        if self.windows.low[task] > self.windows.high[task] {
            self.wiped = Some(task);
            return false;
        }
        true
    }

    /// The premises behind a task having no start left, or `None` if every task has one.
    pub(crate) fn contradiction(&self) -> Option<Vec<Item>> {
        let wiped = self.wiped?;
        let mut items = Vec::new();
        self.trace(wiped, true, &mut items);
        self.trace(wiped, false, &mut items);
        items.sort_unstable();
        items.dedup();
        Some(items)
    }

    /// The premises behind the lower (or upper) bound of a task, by its index in the model. Only for a settling over
    /// all premises, where both numberings agree.
    pub(crate) fn reasons(&self, task: usize, lower: bool) -> Vec<Item> {
        let mut items = Vec::new();
        self.trace(task, lower, &mut items);
        items
    }

    fn trace(&self, task: usize, lower: bool, items: &mut Vec<Item>) {
        let mut seen = BTreeSet::new();
        let mut at = task;
        let (bounds, snapped) = if lower {
            (&self.scene.low, &self.low_snapped)
        } else {
            (&self.scene.high, &self.high_snapped)
        };
        while seen.insert(at) {
            if snapped[at] {
                items.push(Item::Calendar(self.scene.tasks[at]));
            }
            let Some(item) = bounds[at].1 else { break };
            items.push(item);
            let Item::Arc(index) = item else { break };
            let place = self.scene.arcs.iter().find(|arc| arc.3 == index);
            let Some(&(from, to, _, _)) = place else {
                break;
            };
            at = if lower { from } else { to };
        }
    }
}

/// The premises among `items` that speak of tasks reachable over arcs from those that `premises` speak of.
pub(crate) fn tied_to(model: &Model<'_>, premises: &[Item], items: &[Item]) -> Vec<Item> {
    let mut queue = Scene::of(model, premises).tasks;
    let mut tied: BTreeSet<usize> = queue.iter().copied().collect();
    while let Some(task) = queue.pop() {
        for &index in model.leaving[task].iter().chain(&model.reaching[task]) {
            let arc = model.arcs[index as usize];
            for end in [arc.from, arc.to] {
                if tied.insert(end) {
                    queue.push(end);
                }
            }
        }
    }
    let speaks = |item: &Item| match *item {
        Item::Arc(index) => tied.contains(&model.arcs[index].from),
        Item::Earliest(task) | Item::Latest(task) | Item::Calendar(task) => tied.contains(&task),
    };
    items.iter().copied().filter(speaks).collect()
}

/// Leaves out every premise the contradiction does not need; what remains is needed to the last one.
///
/// `None` when the premises do not contradict each other after all.
pub(crate) fn minimal(model: &Model<'_>, items: Vec<Item>) -> Option<Vec<Item>> {
    /// Longer chains than this are handed over as they are: trying each premise would take the square of the length.
    const LONGEST_FILTERED: usize = 400;
    settle(model, &items).wiped?;
    if items.len() > LONGEST_FILTERED {
        return Some(items);
    }
    let mut kept = items;
    let mut place = kept.len();
    while place > 0 {
        place -= 1;
        let mut without = kept.clone();
        without.remove(place);
        if settle(model, &without).wiped.is_some() {
            kept = without;
        }
    }
    Some(kept)
}
