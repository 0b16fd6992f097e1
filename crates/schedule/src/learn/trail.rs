//! Bounds, what raised each of them, and the way back.
//!
//! Every variable has two *sides*: `2v` is its lower bound and `2v + 1` its upper bound with the sign turned, so both only
//! ever rise. A [`Lit`] says "this side has reached this value"; its negation is a literal of the other side.

use crate::problem::Minute;

/// "The bound of `side` is at least `value`."
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Lit {
    pub(super) side: u32,
    pub(super) value: Minute,
}

/// Variable at or above a value.
pub(super) fn at_least(variable: usize, value: Minute) -> Lit {
    Lit {
        side: 2 * variable as u32,
        value,
    }
}

/// Variable at or below a value.
pub(super) fn at_most(variable: usize, value: Minute) -> Lit {
    Lit {
        side: 2 * variable as u32 + 1,
        value: -value,
    }
}

impl Lit {
    pub(super) fn negated(self) -> Self {
        Self {
            side: self.side ^ 1,
            value: 1 - self.value,
        }
    }

    pub(super) fn variable(self) -> usize {
        (self.side / 2) as usize
    }
}

/// Why a bound rose.
#[derive(Debug, Clone, Copy)]
pub(super) enum Reason {
    /// Chosen, or true from the outset.
    None,
    /// A lag: the other side's bound plus the weight.
    Lag { from: u32, weight: Minute },
    /// A clause, whose first literal this made true.
    Clause(u32),
    /// Literals in the store of given reasons.
    Given { first: u32, count: u32 },
    /// The calendar has no value between this one and the one reached.
    Gap(Minute),
}

/// One rise of one bound.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rise {
    pub(super) side: u32,
    pub(super) before: Minute,
    pub(super) level: u32,
    previous: u32,
    pub(super) reason: Reason,
}

const NONE: u32 = u32::MAX;

/// Literals that are all true and cannot be.
pub(super) type Conflict = Vec<Lit>;

/// All bounds, with the history of their rises.
#[derive(Debug)]
pub(super) struct Trail {
    pub(super) bound: Vec<Minute>,
    latest: Vec<u32>,
    pub(super) rises: Vec<Rise>,
    /// Number of rises, and of given literals, when each level began.
    levels: Vec<(u32, u32)>,
    given: Vec<Lit>,
}

impl Trail {
    pub(super) fn of(windows: impl Iterator<Item = (Minute, Minute)>) -> Self {
        let bound: Vec<Minute> = windows.flat_map(|(low, high)| [low, -high]).collect();
        Self {
            latest: vec![NONE; bound.len()],
            bound,
            rises: Vec::new(),
            levels: Vec::new(),
            given: Vec::new(),
        }
    }

    pub(super) fn low(&self, variable: usize) -> Minute {
        self.bound[2 * variable]
    }

    pub(super) fn high(&self, variable: usize) -> Minute {
        -self.bound[2 * variable + 1]
    }

    pub(super) fn fixed(&self, variable: usize) -> bool {
        self.bound[2 * variable] + self.bound[2 * variable + 1] == 0
    }

    pub(super) fn holds(&self, lit: Lit) -> bool {
        self.bound[lit.side as usize] >= lit.value
    }

    pub(super) fn fails(&self, lit: Lit) -> bool {
        self.bound[(lit.side ^ 1) as usize] > -lit.value
    }

    pub(super) fn level(&self) -> u32 {
        self.levels.len() as u32
    }

    pub(super) fn begin_level(&mut self) {
        self.levels
            .push((self.rises.len() as u32, self.given.len() as u32));
    }

    pub(super) fn back_to(&mut self, level: u32) {
        let Some(&(rises, given)) = self.levels.get(level as usize) else {
            return;
        };
        while self.rises.len() > rises as usize {
            if let Some(rise) = self.rises.pop() {
                self.bound[rise.side as usize] = rise.before;
                self.latest[rise.side as usize] = rise.previous;
            }
        }
        self.given.truncate(given as usize);
        self.levels.truncate(level as usize);
    }

    /// At the root nothing needs a reason any more.
    pub(super) fn forget_root(&mut self) {
        if self.levels.is_empty() {
            for rise in self.rises.drain(..) {
                self.latest[rise.side as usize] = NONE;
            }
            self.given.clear();
        }
    }

    /// Makes a literal true; true if that changed something.
    pub(super) fn raise(&mut self, lit: Lit, reason: Reason) -> Result<bool, Conflict> {
        let side = lit.side as usize;
        if self.bound[side] >= lit.value {
            return Ok(false);
        }
        if lit.value > -self.bound[side ^ 1] {
            let mut conflict = vec![lit.negated()];
            self.explain(reason, lit, &mut conflict, &|_| &[]);
            return Err(conflict);
        }
        self.rises.push(Rise {
            side: lit.side,
            before: self.bound[side],
            level: self.levels.len() as u32,
            previous: self.latest[side],
            reason,
        });
        self.latest[side] = self.rises.len() as u32 - 1;
        self.bound[side] = lit.value;
        Ok(true)
    }

    /// [`Trail::raise`] for reasons worked out on the spot.
    pub(super) fn raise_for(&mut self, lit: Lit, why: &[Lit]) -> Result<bool, Conflict> {
        if self.bound[lit.side as usize] >= lit.value {
            return Ok(false);
        }
        if self.fails(lit) {
            let mut conflict = why.to_vec();
            conflict.push(lit.negated());
            return Err(conflict);
        }
        let reason = if self.levels.is_empty() {
            Reason::None
        } else {
            let first = self.given.len() as u32;
            self.given.extend_from_slice(why);
            Reason::Given {
                first,
                count: why.len() as u32,
            }
        };
        self.raise(lit, reason)
    }

    /// Adds the literals from which `lit` followed for a reason.
    pub(super) fn explain<'c>(
        &self,
        reason: Reason,
        lit: Lit,
        into: &mut Vec<Lit>,
        clause: &dyn Fn(u32) -> &'c [Lit],
    ) {
        match reason {
            Reason::None => {}
            Reason::Lag { from, weight } => into.push(Lit {
                side: from,
                value: lit.value - weight,
            }),
            Reason::Clause(index) => {
                into.extend(clause(index).iter().skip(1).map(|lit| lit.negated()));
            }
            Reason::Given { first, count } => {
                into.extend_from_slice(&self.given[first as usize..(first + count) as usize]);
            }
            Reason::Gap(value) => into.push(Lit {
                side: lit.side,
                value,
            }),
        }
    }

    /// The rise that made a true literal true; `None` when it was so from the outset.
    pub(super) fn rise_of(&self, lit: Lit) -> Option<usize> {
        let mut at = self.latest[lit.side as usize];
        while at != NONE {
            let rise = self.rises[at as usize];
            if rise.before < lit.value {
                return Some(at as usize);
            }
            at = rise.previous;
        }
        None
    }
}
