//! The price of a schedule as a sum of minutes away from wished starts, against a variable that stands for it.

use super::crews::Crews;
use super::trail::{Conflict, Lit, Trail, at_least, at_most};
use crate::model::Model;
use crate::problem::Minute;

/// Whole-number price of each minute one variable is away from its wish.
#[derive(Debug, Clone, Copy)]
pub(super) struct Term {
    pub(super) variable: usize,
    pub(super) weight: i64,
    pub(super) wish: Minute,
}

impl Term {
    fn away(&self, trail: &Trail) -> Minute {
        (trail.low(self.variable) - self.wish)
            .max(self.wish - trail.high(self.variable))
            .max(0)
    }

    /// The bound that keeps it away from its wish.
    fn keeps_away(&self, trail: &Trail) -> Lit {
        let low = trail.low(self.variable);
        if low > self.wish {
            at_least(self.variable, low)
        } else {
            at_most(self.variable, trail.high(self.variable))
        }
    }
}

/// `total >= sum of the terms and of overtime`.
#[derive(Debug)]
pub(super) struct Price {
    pub(super) total: usize,
    pub(super) terms: Vec<Term>,
    /// Tasks whose crews may stay beyond their hours at a price.
    late: Vec<usize>,
    why: Vec<Lit>,
}

impl Price {
    pub(super) fn of(total: usize, terms: Vec<Term>, late: Vec<usize>) -> Self {
        Self {
            total,
            terms,
            late,
            why: Vec::new(),
        }
    }

    fn reasons(&mut self, model: &Model<'_>, crews: &Crews, trail: &Trail, not: usize) {
        self.why.clear();
        for &task in &self.late {
            crews.overtime(model, trail, task, Some(&mut self.why));
        }
        for (place, term) in self.terms.iter().enumerate() {
            if place != not && term.away(trail) > 0 {
                self.why.push(term.keeps_away(trail));
            }
        }
    }

    pub(super) fn propagate(
        &mut self,
        model: &Model<'_>,
        crews: &Crews,
        trail: &mut Trail,
        steps: &mut u64,
    ) -> Result<(), Conflict> {
        *steps += 1 + (self.terms.len() + self.late.len()) as u64 / 4;
        let overtime: i64 = self
            .late
            .iter()
            .map(|&task| crews.overtime(model, trail, task, None))
            .sum();
        let sum: i64 = overtime
            + self
                .terms
                .iter()
                .map(|term| term.weight * term.away(trail))
                .sum::<i64>();
        if sum > trail.low(self.total) {
            self.reasons(model, crews, trail, usize::MAX);
            let why = std::mem::take(&mut self.why);
            let raised = trail.raise_for(at_least(self.total, sum), &why);
            self.why = why;
            raised?;
        }
        let most = trail.high(self.total);
        for place in 0..self.terms.len() {
            let term = self.terms[place];
            let room = most - (sum - term.weight * term.away(trail));
            let (low, high) = (trail.low(term.variable), trail.high(term.variable));
            if room < 0 || (high - term.wish).max(term.wish - low) * term.weight <= room {
                continue;
            }
            let reach = room / term.weight;
            self.reasons(model, crews, trail, place);
            self.why.push(at_most(self.total, most));
            let why = std::mem::take(&mut self.why);
            let raised = trail
                .raise_for(at_most(term.variable, term.wish + reach), &why)
                .and_then(|_| trail.raise_for(at_least(term.variable, term.wish - reach), &why));
            self.why = why;
            raised?;
        }
        Ok(())
    }
}
