//! Makes a complete schedule cheaper: takes a few groups off the board and puts them back better.

use crate::problem::Minute;
use crate::search::{MEETS, Search};

/// Most groups taken off at once.
const MOST_AT_ONCE: usize = 6;
/// Groups the dearest of which is chosen to be improved.
const TOURNAMENT: usize = 3;

impl Search<'_, '_> {
    /// Works from the schedule on the board until the bound is met, the effort is spent, or nothing has become
    /// cheaper for long.
    pub(crate) fn improve(&mut self) {
        let count = self.groups.parts.len();
        let patience = 300 + 25 * count;
        let mut costs: Vec<f64> = (0..count).map(|group| self.group_cost(group)).collect();
        let mut since = 0;
        let mut value = self.value();
        while since < patience && !self.over() {
            if value <= self.bound + MEETS {
                break;
            }
            since += 1;
            let chosen = self.choose(&costs);
            let before: f64 = chosen.iter().map(|&group| costs[group]).sum();
            let memory: Vec<(usize, Minute, Vec<usize>)> = chosen
                .iter()
                .flat_map(|&group| &self.groups.parts[group])
                .map(|&task| (task, self.board.low[task], self.board.crew[task].clone()))
                .collect();
            self.remove(&chosen);
            let mut order = chosen.clone();
            if self.dice.chance(0.5) {
                self.dice.shuffle(&mut order);
            }
            let noise = if self.dice.chance(0.5) { 0.0 } else { 1.0 };
            let mut after = 0.0;
            let mut fits = true;
            for &group in &order {
                if self.insert_group(group, noise, None).is_err() {
                    fits = false;
                    break;
                }
                after += self.group_cost(group);
                if after > before + MEETS {
                    fits = false;
                    break;
                }
            }
            if !fits {
                self.restore(&chosen, memory);
                continue;
            }
            for &group in &chosen {
                costs[group] = self.group_cost(group);
            }
            if after < before - MEETS * (1.0 + before.abs()) {
                since = 0;
                value += after - before;
            }
        }
        // Nothing dearer was ever accepted, so the best is what stands on the board.
        self.keep_if_best();
    }

    fn group_cost(&self, group: usize) -> f64 {
        self.groups.parts[group].iter().map(|&task| self.board.cost(task)).sum()
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
            rivals = self.in_the_way(task, target).unwrap_or_default();
            if rivals.is_empty() {
                // Nobody stands there: then somebody on the way.
                let here = self.board.low[task];
                let between = here + ((target - here) as f64 * self.dice.fraction()) as Minute;
                rivals = self.in_the_way(task, between).unwrap_or_default();
            }
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
