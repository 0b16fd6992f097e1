//! What to decide next: literals that were often part of dead ends first.

use std::collections::HashMap;

use super::trail::{Lit, Trail};

/// Literals met in lessons, the most active on top.
#[derive(Debug, Default)]
pub(super) struct Taste {
    /// Only looked up, never walked through, so its order is of no consequence.
    number: HashMap<Lit, u32>,
    lits: Vec<Lit>,
    activity: Vec<f64>,
    /// A heap by activity, and where each literal stands in it.
    heap: Vec<u32>,
    place: Vec<u32>,
    /// Taken from the heap at some level, to come back when that level is left.
    taken: Vec<(u32, u32)>,
    bump: f64,
}

const AWAY: u32 = u32::MAX;

impl Taste {
    pub(super) fn new() -> Self {
        Self {
            bump: 1.0,
            ..Self::default()
        }
    }

    pub(super) fn met(&mut self, lit: Lit) {
        const TOO_LARGE: f64 = 1e100;
        let lit = if lit.side.is_multiple_of(2) {
            lit
        } else {
            lit.negated()
        };
        let is_new = !self.number.contains_key(&lit);
        let number = *self.number.entry(lit).or_insert_with(|| {
            self.lits.push(lit);
            self.activity.push(0.0);
            self.place.push(AWAY);
            self.lits.len() as u32 - 1
        });
        self.activity[number as usize] += self.bump;
        if self.activity[number as usize] > TOO_LARGE {
            for activity in &mut self.activity {
                *activity /= TOO_LARGE;
            }
            self.bump /= TOO_LARGE;
        }
        if self.place[number as usize] == AWAY {
            // New, or taken from the heap: those come back when their level is left, but a second entry is never made.
            if is_new {
                self.put(number);
            }
        } else {
            self.up(self.place[number as usize] as usize);
        }
    }

    pub(super) fn fade(&mut self) {
        self.bump /= 0.95;
    }

    /// The most active literal that is neither true nor false; it is taken on behalf of the level it will open.
    pub(super) fn next(&mut self, trail: &Trail) -> Option<Lit> {
        loop {
            let number = self.pop()?;
            let lit = self.lits[number as usize];
            let open = !trail.holds(lit) && !trail.fails(lit);
            self.taken.push((trail.level() + u32::from(open), number));
            if open {
                return Some(lit);
            }
        }
    }

    pub(super) fn back_to(&mut self, level: u32) {
        while let Some(&(taken_at, number)) = self.taken.last()
            && taken_at > level
        {
            self.taken.pop();
            self.put(number);
        }
    }

    /// Forgets literals that are decided for good, and all but the most active when they have become too many.
    pub(super) fn clear_out(&mut self, trail: &Trail, most: usize) {
        let mut kept: Vec<(f64, Lit)> = self
            .lits
            .iter()
            .zip(&self.activity)
            .filter(|&(&lit, _)| !trail.holds(lit) && !trail.fails(lit))
            .map(|(&lit, &activity)| (activity, lit))
            .collect();
        kept.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        kept.truncate(most);
        let bump = self.bump;
        *self = Self::new();
        self.bump = bump;
        for (activity, lit) in kept {
            let number = self.lits.len() as u32;
            self.number.insert(lit, number);
            self.lits.push(lit);
            self.activity.push(activity);
            // Already in falling order: a heap as it stands.
            self.heap.push(number);
            self.place.push(number);
        }
    }

    fn put(&mut self, number: u32) {
        if self.place[number as usize] == AWAY {
            self.place[number as usize] = self.heap.len() as u32;
            self.heap.push(number);
            self.up(self.heap.len() - 1);
        }
    }

    fn pop(&mut self) -> Option<u32> {
        let top = *self.heap.first()?;
        let last = self.heap.pop()?;
        self.place[top as usize] = AWAY;
        if last != top {
            self.heap[0] = last;
            self.place[last as usize] = 0;
            self.down(0);
        }
        Some(top)
    }

    fn above(&self, a: u32, b: u32) -> bool {
        self.activity[a as usize] > self.activity[b as usize]
    }

    fn swap(&mut self, a: usize, b: usize) {
        self.heap.swap(a, b);
        self.place[self.heap[a] as usize] = a as u32;
        self.place[self.heap[b] as usize] = b as u32;
    }

    fn up(&mut self, mut at: usize) {
        while at > 0 && self.above(self.heap[at], self.heap[(at - 1) / 2]) {
            self.swap(at, (at - 1) / 2);
            at = (at - 1) / 2;
        }
    }

    fn down(&mut self, mut at: usize) {
        loop {
            let mut best = at;
            for child in [2 * at + 1, 2 * at + 2] {
                if child < self.heap.len() && self.above(self.heap[child], self.heap[best]) {
                    best = child;
                }
            }
            if best == at {
                return;
            }
            self.swap(at, best);
            at = best;
        }
    }
}
