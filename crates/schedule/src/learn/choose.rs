//! What a learner decides next.

use super::trail::{Lit, at_least, at_most};
use super::{Learner, Manner, RESTARTS_UNTIL_STALE};
use crate::problem::Minute;

impl Learner<'_> {
    pub(super) fn stale(&self) -> bool {
        self.restarts > self.improved_at + RESTARTS_UNTIL_STALE
    }

    /// Keeps a random part of the starts at, or not far from, where the best schedule has them. These are decisions like
    /// any other: what is learned under them holds without them.
    pub(super) fn choose_neighbourhood(&mut self) {
        let Some(leaning) = &self.leaning else { return };
        let kept = 0.2 + 0.7 * self.dice.fraction();
        let near = if self.dice.chance(0.5) {
            0
        } else {
            self.dice.below((self.horizon / 20).max(1) as usize) as Minute
        };
        for (task, &at) in leaning.iter().take(self.model.jobs.len()).enumerate() {
            if self.dice.chance(kept) {
                self.neighbourhood
                    .extend([at_most(task, at + near), at_least(task, at - near)]);
            }
        }
        self.dice.shuffle(&mut self.neighbourhood);
    }

    pub(super) fn decide(&mut self) -> Option<Lit> {
        if self.manner == Manner::Bound
            && self.trail.level() == 0
            && let Some(lit) = self.probe()
        {
            return Some(lit);
        }
        let open = |lit: &&Lit| !self.trail.holds(**lit) && !self.trail.fails(**lit);
        if let Some(&lit) = self.neighbourhood.iter().find(open) {
            return Some(lit);
        }
        let by_taste = match self.manner {
            Manner::Better => self.stale() || !self.restarts.is_multiple_of(4),
            Manner::Bound => true,
        };
        if by_taste && let Some(lit) = self.taste.next(&self.trail) {
            return Some(self.polarity(lit));
        }
        self.nearest()
    }

    /// Supposes a price that is low, but not out of reach: further up after every success, nearer after every failure.
    fn probe(&mut self) -> Option<Lit> {
        let (low, high) = (self.trail.low(self.total()), self.trail.high(self.total()));
        if let Some(supposed) = self.supposed {
            self.stride = if low > supposed {
                (2 * self.stride + 1).min(high / 4 + 1)
            } else {
                self.stride / 2
            };
        }
        let supposed = low.saturating_add(self.stride);
        self.supposed = Some(supposed);
        (supposed < high).then(|| at_most(self.total(), supposed))
    }

    fn polarity(&self, lit: Lit) -> Lit {
        let variable = lit.variable();
        let near = match &self.leaning {
            Some(values) => values[variable],
            None if variable < self.total() => self.near(variable),
            None => 1,
        };
        if near >= lit.value {
            lit
        } else {
            lit.negated()
        }
    }

    /// The value of its window a start would like best.
    fn near(&self, task: usize) -> Minute {
        let (low, high) = (self.trail.low(task), self.trail.high(task));
        self.model.target[task].unwrap_or(low).clamp(low, high)
    }

    /// The open start that could be first, set to where it would like to be; or a member for the crew of one that is set.
    fn nearest(&mut self) -> Option<Lit> {
        let tasks = self.model.jobs.len();
        self.steps += tasks as u64 / 8;
        let (_, _, _, task, offer) = (0..tasks)
            .filter_map(|task| {
                let offer = if self.trail.fixed(task) {
                    Some(self.crews.open_offer(&self.trail, task, &self.breadth)?)
                } else {
                    None
                };
                let width = self.trail.high(task) - self.trail.low(task);
                Some((self.near(task), offer.is_none(), width, task, offer))
            })
            .min()?;
        if let Some(variable) = offer {
            return Some(at_least(variable, 1));
        }
        let (near, low) = (self.near(task), self.trail.low(task));
        Some(if near > low {
            at_least(task, near)
        } else {
            at_most(task, low)
        })
    }
}
