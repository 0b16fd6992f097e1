//! Which tasks are placed together, and which windows depend on each other.

use std::collections::BTreeMap;

use crate::model::Model;
use crate::network::Windows;
use crate::problem::Minute;

/// Tasks that tight lags bind together are placed, and thrown out, as one group of at most this many.
const LARGEST_GROUP: usize = 12;

/// A partition of the tasks.
#[derive(Debug, Clone)]
pub(crate) struct Partition {
    /// Tasks of each part, ascending.
    pub(crate) parts: Vec<Vec<usize>>,
    /// Part of each task.
    pub(crate) of: Vec<usize>,
}

/// Sets that can be joined.
struct Sets {
    parent: Vec<usize>,
    size: Vec<usize>,
}

impl Sets {
    fn singles(count: usize) -> Self {
        Self {
            parent: (0..count).collect(),
            size: vec![1; count],
        }
    }

    fn root(&mut self, mut item: usize) -> usize {
        while self.parent[item] != item {
            self.parent[item] = self.parent[self.parent[item]];
            item = self.parent[item];
        }
        item
    }

    fn join(&mut self, a: usize, b: usize, largest: usize) {
        let (a, b) = (self.root(a), self.root(b));
        if a != b && self.size[a] + self.size[b] <= largest {
            let (big, small) = if self.size[a] >= self.size[b] {
                (a, b)
            } else {
                (b, a)
            };
            self.parent[small] = big;
            self.size[big] += self.size[small];
        }
    }

    fn partition(mut self) -> Partition {
        let mut number: BTreeMap<usize, usize> = BTreeMap::new();
        let mut parts: Vec<Vec<usize>> = Vec::new();
        let mut of = Vec::with_capacity(self.parent.len());
        for task in 0..self.parent.len() {
            let root = self.root(task);
            let part = *number.entry(root).or_insert_with(|| {
                parts.push(Vec::new());
                parts.len() - 1
            });
            parts[part].push(task);
            of.push(part);
        }
        Partition { parts, of }
    }
}

fn pinned(windows: &Windows, task: usize) -> bool {
    windows.low[task] == windows.high[task]
}

/// Tasks bound by lags with a most as well as a least, tightest first, while the groups stay small. A pinned task
/// binds nobody: its neighbours' windows already know where it is.
pub(crate) fn groups(model: &Model<'_>, windows: &Windows) -> Partition {
    let mut tightest: BTreeMap<(usize, usize), Minute> = BTreeMap::new();
    let mut strongest: BTreeMap<(usize, usize), Minute> = BTreeMap::new();
    for arc in &model.arcs {
        let weight = strongest.entry((arc.from, arc.to)).or_insert(arc.weight);
        *weight = arc.weight.max(*weight);
    }
    for (&(from, to), &least) in &strongest {
        if from < to
            && let Some(&back) = strongest.get(&(to, from))
        {
            // start[to] - start[from] lies between `least` and `-back`.
            tightest.insert((from, to), -back - least);
        }
    }
    let width = |task: usize| windows.high[task] - windows.low[task];
    let mut pairs: Vec<(Minute, usize, usize)> = tightest
        .into_iter()
        .map(|((from, to), slack)| (slack, from, to))
        .filter(|&(slack, from, to)| slack < width(from).min(width(to)))
        .collect();
    pairs.sort_unstable();
    let mut sets = Sets::singles(model.jobs.len());
    for (_, from, to) in pairs {
        sets.join(from, to, LARGEST_GROUP);
    }
    sets.partition()
}

/// Tasks whose windows can influence each other at all.
pub(crate) fn areas(model: &Model<'_>, windows: &Windows) -> Partition {
    let mut sets = Sets::singles(model.jobs.len());
    for arc in &model.arcs {
        if !pinned(windows, arc.from) && !pinned(windows, arc.to) {
            sets.join(arc.from, arc.to, usize::MAX);
        }
    }
    sets.partition()
}
