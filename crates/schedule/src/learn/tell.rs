//! What a learner is told, and what it tells.

use super::trail::{Reason, at_least, at_most};
use super::{Learner, Told};
use crate::problem::Minute;

impl Learner<'_> {
    /// No schedule has a price below this.
    pub(crate) fn bound(&mut self) -> i64 {
        self.back_to(0);
        self.trail.low(self.total())
    }

    /// From now on only prices of at most this count.
    pub(crate) fn suppose_at_most(&mut self, price: i64) {
        self.back_to(0);
        let lit = at_most(self.total(), price);
        self.price_waits = true;
        if self.trail.raise(lit, Reason::None).is_err() {
            self.closed = true;
        }
    }

    /// From now on only schedules whose value is below this.
    pub(crate) fn only_below(&mut self, value: f64) {
        // The price never exceeds the value. A hair is what binary fractions lose.
        const HAIR: f64 = 1e-6;
        self.suppose_at_most((value / self.value_of_one - HAIR).ceil() as i64 - 1);
    }

    /// A bound proved elsewhere.
    pub(crate) fn suppose_at_least(&mut self, price: i64) {
        self.back_to(0);
        let lit = at_least(self.total(), price);
        if self.trail.raise(lit, Reason::None).is_err() {
            self.closed = true;
        }
    }

    /// Starts to lean towards in what follows.
    pub(crate) fn lean_on(&mut self, starts: &[Minute], crew: &[Vec<usize>]) {
        let mut values = vec![0; self.trail.bound.len() / 2];
        values[..starts.len()].copy_from_slice(starts);
        for (offers, crew) in self.crews.offers.iter().zip(crew) {
            for offer in offers {
                values[offer.variable] = Minute::from(crew.contains(&offer.person));
            }
        }
        if self.leaning.as_ref() != Some(&values) {
            self.improved_at = self.restarts;
        }
        self.leaning = Some(values);
    }

    /// Short lessons learned since this was last asked.
    pub(crate) fn short_lessons(&mut self) -> Vec<Told> {
        std::mem::take(&mut self.short)
    }

    /// Takes over what another learner of the same problem found, if it was told no higher price to stay below.
    pub(crate) fn hear(&mut self, lessons: &[Told]) {
        self.back_to(0);
        for lesson in lessons {
            let mut lits = lesson.lits.clone();
            if lits.iter().any(|&lit| self.trail.holds(lit)) {
                continue;
            }
            lits.retain(|&lit| !self.trail.fails(lit));
            match lits.as_slice() {
                [] => self.closed = true,
                [only] => self.closed |= self.trail.raise(*only, Reason::None).is_err(),
                _ => {
                    self.clauses.add(lits, lesson.spread);
                }
            }
        }
    }
}
