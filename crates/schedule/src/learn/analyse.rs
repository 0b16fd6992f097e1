//! Learns from a dead end: which literals together led there, and how far to go back.

use std::collections::BinaryHeap;

use super::clauses::Clauses;
use super::trail::{Conflict, Lit, Reason, Trail};
use crate::problem::Minute;

/// What a dead end taught.
#[derive(Debug)]
pub(super) struct Lesson {
    /// The clause, the literal that becomes true first, one of the level gone back to second.
    pub(super) lits: Vec<Lit>,
    pub(super) back_to: u32,
    pub(super) spread: u32,
}

/// Room for the work, kept between uses.
#[derive(Debug, Default)]
pub(super) struct Analysis {
    /// For each rise the value of it that is needed.
    need: Vec<Option<Minute>>,
    heap: BinaryHeap<usize>,
    touched: Vec<usize>,
    reason: Vec<Lit>,
    /// Clauses and variables met on the way.
    pub(super) clauses_met: Vec<u32>,
}

impl Analysis {
    fn add(&mut self, trail: &Trail, lit: Lit) -> Option<u32> {
        let at = trail.rise_of(lit)?;
        let level = trail.rises[at].level;
        if level == 0 {
            return None;
        }
        match &mut self.need[at] {
            Some(value) => {
                *value = lit.value.max(*value);
                None
            }
            need @ None => {
                *need = Some(lit.value);
                self.touched.push(at);
                self.heap.push(at);
                Some(level)
            }
        }
    }

    /// `None` when the conflict holds at the root: nothing is left to choose.
    pub(super) fn learn(
        &mut self,
        trail: &Trail,
        clauses: &Clauses,
        conflict: &Conflict,
    ) -> Option<Lesson> {
        self.need.resize(trail.rises.len(), None);
        self.clauses_met.clear();
        self.heap.clear();
        for &lit in conflict {
            self.add(trail, lit);
        }
        let lesson = self.first_sole_reason(trail, clauses);
        for at in self.touched.drain(..) {
            self.need[at] = None;
        }
        self.need.clear();
        lesson
    }

    fn first_sole_reason(&mut self, trail: &Trail, clauses: &Clauses) -> Option<Lesson> {
        let level = trail.rises[*self.heap.peek()?].level;
        let mut open = self
            .heap
            .iter()
            .filter(|&&at| trail.rises[at].level == level)
            .count();
        while open > 1 {
            let at = self.heap.pop()?;
            let lit = Lit {
                side: trail.rises[at].side,
                value: self.need[at]?,
            };
            open -= 1;
            self.need[at] = None;
            self.expand(trail, clauses, at, lit);
            let reason = std::mem::take(&mut self.reason);
            for &cause in &reason {
                if self.add(trail, cause) == Some(level) {
                    open += 1;
                }
            }
            self.reason = reason;
        }
        let sole = self.heap.pop()?;
        let first = Lit {
            side: trail.rises[sole].side,
            value: self.need[sole]?,
        };
        let others: Vec<usize> = std::mem::take(&mut self.heap).into_vec();
        let mut kept: Vec<(u32, Lit)> = Vec::with_capacity(others.len());
        for &at in &others {
            let lit = Lit {
                side: trail.rises[at].side,
                value: self.need[at]?,
            };
            if !self.follows_from_the_rest(trail, clauses, at, lit) {
                kept.push((trail.rises[at].level, lit));
            }
        }
        // Of two literals of one side the stronger says it all.
        kept.sort_unstable_by_key(|&(_, lit)| (lit.side, -lit.value));
        kept.dedup_by_key(|&mut (_, lit)| lit.side);
        kept.retain(|&(_, lit)| lit.side != first.side || lit.value > first.value);
        kept.sort_unstable_by_key(|&(level, lit)| (std::cmp::Reverse(level), lit));
        let back_to = kept.first().map_or(0, |&(level, _)| level);
        let mut spread = 1;
        for pair in kept.windows(2) {
            spread += u32::from(pair[0].0 != pair[1].0);
        }
        spread += u32::from(!kept.is_empty());
        let mut lits = vec![first.negated()];
        lits.extend(kept.iter().map(|&(_, lit)| lit.negated()));
        Some(Lesson {
            lits,
            back_to,
            spread,
        })
    }

    fn expand(&mut self, trail: &Trail, clauses: &Clauses, at: usize, lit: Lit) {
        self.reason.clear();
        let reason = trail.rises[at].reason;
        if let Reason::Clause(index) = reason {
            self.clauses_met.push(index);
        }
        trail.explain(reason, lit, &mut self.reason, &|index| clauses.lits(index));
    }

    /// Whether all causes of a rise are in the lesson anyway.
    fn follows_from_the_rest(
        &mut self,
        trail: &Trail,
        clauses: &Clauses,
        at: usize,
        lit: Lit,
    ) -> bool {
        let reason = trail.rises[at].reason;
        if matches!(reason, Reason::None) {
            return false;
        }
        self.reason.clear();
        trail.explain(reason, lit, &mut self.reason, &|index| clauses.lits(index));
        self.reason.iter().all(|&cause| {
            trail.rise_of(cause).is_none_or(|earlier| {
                trail.rises[earlier].level == 0
                    || self.need[earlier].is_some_and(|value| value >= cause.value)
            })
        })
    }
}
