//! Makes a complete schedule cheaper: takes a few groups off the board and puts them back better.

use crate::problem::Minute;
use crate::search::{MEETS, Search};

/// Most groups taken off at once.
const MOST_AT_ONCE: usize = 10;
/// Groups the dearest of which is chosen to be improved.
const TOURNAMENT: usize = 3;
/// How much dearer a step may be at first, as a share of what one group is above the bound on average. Tried out here
/// on forty chains of eight tasks; 0.05 to 0.3 made no clear difference.
const WARMTH: f64 = 0.3;

impl Search<'_, '_> {
    /// Works from the schedule on the board until the bound is met, the effort is spent, or nothing has become
    /// cheaper for long. A dearer schedule is accepted now and then, less and less of it, to get out of dead ends.
    pub(crate) fn improve(&mut self) {
        let count = self.groups.parts.len();
        let patience = (50 + 60 * count) * self.patience;
        let mut costs: Vec<f64> = (0..count).map(|group| self.group_cost(group)).collect();
        let mut value = self.value();
        let mut least = value;
        // Whether the cheapest schedule met is in `best`, or only on the board.
        let mut kept = true;
        let first_step = self.board.steps;
        let steps = self.effort.steps.saturating_sub(first_step).max(1) as f64;
        let warmth = WARMTH * (value - self.bound).max(0.0) / count.max(1) as f64;
        let (mut since, mut moves) = (0, 0_usize);
        while since < patience && least > self.bound + MEETS && !self.over() {
            since += 1;
            moves += 1;
            let spent = (self.board.steps - first_step) as f64 / steps;
            let cold = spent.max(moves as f64 / patience as f64).min(1.0);
            if cold < 1.0 {
                since = 0;
            }
            let allowance = MEETS - warmth * (1.0 - cold) * self.dice.fraction().max(MEETS).ln();
            let chosen = self.choose(&costs);
            let before: f64 = chosen.iter().map(|&group| costs[group]).sum();
            let memory = self.memory(&chosen);
            self.remove(&chosen);
            let after = self.put_back(&chosen, before + allowance);
            let leaves_the_least = after.is_some_and(|after| after > before + MEETS) && !kept;
            let Some(after) = after.filter(|_| !leaves_the_least) else {
                self.restore(&chosen, memory);
                if leaves_the_least {
                    self.keep_if_best();
                    kept = true;
                }
                continue;
            };
            for &group in &chosen {
                costs[group] = self.group_cost(group);
            }
            value += after - before;
            if value < least - MEETS * (1.0 + least.abs()) {
                (since, least, kept) = (0, value, false);
            }
        }
        self.keep_if_best();
    }

    /// Inserts groups again and sums what they cost; `None` when one has no place or they cost more than `limit`.
    fn put_back(&mut self, chosen: &[usize], limit: f64) -> Option<f64> {
        let mut order = chosen.to_vec();
        if self.dice.chance(0.5) {
            self.dice.shuffle(&mut order);
        }
        let noise = if self.dice.chance(0.15) { 0.0 } else { 1.0 };
        let mut after = 0.0;
        for &group in &order {
            self.insert_group(group, noise, None).ok()?;
            after += self.group_cost(group);
            if after > limit {
                return None;
            }
        }
        Some(after)
    }

    fn memory(&self, chosen: &[usize]) -> Vec<(usize, Minute, Vec<usize>)> {
        let tasks = chosen.iter().flat_map(|&group| &self.groups.parts[group]);
        tasks
            .map(|&task| (task, self.board.low[task], self.board.crew[task].clone()))
            .collect()
    }

    fn group_cost(&self, group: usize) -> f64 {
        self.groups.parts[group]
            .iter()
            .map(|&task| self.board.cost(task))
            .sum()
    }

    fn restore(&mut self, chosen: &[usize], memory: Vec<(usize, Minute, Vec<usize>)>) {
        self.remove(chosen);
        for (task, at, crew) in memory {
            let stands = self.board.place(task, at, crew);
            debug_assert!(stands, "what stood before stands again");
        }
        self.board.forget_trail();
    }

    /// A group that costs something, and some of those that stand where it would rather be, or any others.
    fn choose(&mut self, costs: &[f64]) -> Vec<usize> {
        let seed = self.costly(costs);
        let mut chosen = vec![seed];
        let size = 1 + self.dice.below(MOST_AT_ONCE.min(costs.len()));
        let tasks = &self.groups.parts[seed];
        let task = tasks[self.dice.below(tasks.len())];
        let mut rivals = Vec::new();
        if let Some(target) = self.board.model.target[task] {
            // All the way to where it would rather be, or a part of it, and the rest of its group moves along.
            let share = if self.dice.chance(0.5) {
                1.0
            } else {
                self.dice.fraction()
            };
            let shift = ((target - self.board.low[task]) as f64 * share) as Minute;
            for place in 0..self.groups.parts[seed].len() {
                let other = self.groups.parts[seed][place];
                let at = self.board.low[other] + shift;
                rivals.extend(self.in_the_way(other, at).unwrap_or_default());
            }
            rivals.sort_unstable();
            rivals.dedup();
        }
        rivals.extend(self.neighbours(seed));
        self.dice.shuffle(&mut rivals);
        for rival in rivals {
            if chosen.len() >= size {
                break;
            }
            if !chosen.contains(&rival) {
                chosen.push(rival);
            }
        }
        for _ in 0..size {
            if chosen.len() >= size || self.dice.chance(0.5) {
                break;
            }
            let any = self.dice.below(costs.len());
            if !chosen.contains(&any) {
                chosen.push(any);
            }
        }
        chosen
    }

    fn costly(&mut self, costs: &[f64]) -> usize {
        if self.dice.chance(0.15) {
            return self.dice.below(costs.len());
        }
        // The dearest of a few drawn at random: nearly as greedy as weighing all, at no cost.
        (0..TOURNAMENT)
            .map(|_| self.dice.below(costs.len()))
            .max_by(|&a, &b| costs[a].total_cmp(&costs[b]))
            .unwrap_or_default()
    }
}
