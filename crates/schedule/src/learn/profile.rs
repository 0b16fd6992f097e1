//! What a store must carry at every moment: the time-table of its certain loads, and why a load has no place beside them.

use super::trail::{Conflict, Lit, Trail, at_least, at_most};
use crate::problem::Minute;

/// A load from one moment to another, each moment a variable and an offset; of fixed length where both variables are
/// the same.
#[derive(Debug, Clone, Copy)]
pub(super) struct Load {
    pub(super) amount: i64,
    pub(super) from: usize,
    pub(super) from_after: Minute,
    pub(super) to: usize,
    pub(super) to_after: Minute,
    /// It lasts at least this long in every schedule.
    pub(super) least: Minute,
}

impl Load {
    /// Earliest and latest first minute, earliest and latest end.
    pub(super) fn times(&self, trail: &Trail) -> (Minute, Minute, Minute, Minute) {
        (
            trail.low(self.from) + self.from_after,
            trail.high(self.from) + self.from_after,
            trail.low(self.to) + self.to_after,
            trail.high(self.to) + self.to_after,
        )
    }

    pub(super) fn starts_by(&self, at: Minute) -> Lit {
        at_most(self.from, at - self.from_after)
    }

    pub(super) fn starts_from(&self, at: Minute) -> Lit {
        at_least(self.from, at - self.from_after)
    }

    pub(super) fn ends_by(&self, at: Minute) -> Lit {
        at_most(self.to, at - self.to_after)
    }

    pub(super) fn ends_from(&self, at: Minute) -> Lit {
        at_least(self.to, at - self.to_after)
    }
}

/// A stretch of the profile.
#[derive(Debug, Clone, Copy)]
struct Block {
    from: Minute,
    to: Minute,
    height: i64,
    /// Of it, what is taken whatever is chosen: hours nobody is there, a machine shut.
    always: i64,
}

/// A store of some capacity with its loads.
#[derive(Debug)]
pub(super) struct Profile {
    capacity: i64,
    /// Taken from the outset: moment and change, sorted.
    always: Vec<(Minute, i64)>,
    /// Largest first.
    pub(super) loads: Vec<Load>,
    turns: Vec<(Minute, i64, i64)>,
    blocks: Vec<Block>,
    why: Vec<Lit>,
}

impl Profile {
    pub(super) fn of(capacity: i64, mut always: Vec<(Minute, i64)>, mut loads: Vec<Load>) -> Self {
        always.sort_unstable();
        loads.retain(|load| load.amount > 0 && (load.from != load.to || load.least > 0));
        loads.sort_by_key(|load| -load.amount);
        Self {
            capacity,
            always,
            loads,
            turns: Vec::new(),
            blocks: Vec::new(),
            why: Vec::new(),
        }
    }

    fn build(&mut self, trail: &Trail) {
        self.turns.clear();
        let (mut first, mut last) = (Minute::MAX, Minute::MIN);
        for load in &self.loads {
            let (from, must, sure, to) = load.times(trail);
            (first, last) = (first.min(from), last.max(to));
            if must < sure {
                self.turns.push((must, load.amount, 0));
                self.turns.push((sure, -load.amount, 0));
            }
        }
        let before = self.always.partition_point(|turn| turn.0 < first);
        let level: i64 = self.always[..before].iter().map(|turn| turn.1).sum();
        if level != 0 {
            self.turns.push((first, level, level));
        }
        for &(at, change) in self.always[before..]
            .iter()
            .take_while(|turn| turn.0 < last)
        {
            self.turns.push((at, change, change));
        }
        self.turns.sort_unstable();
        self.blocks.clear();
        let (mut height, mut always, mut place) = (0, 0, 0);
        while place < self.turns.len() {
            let at = self.turns[place].0;
            while place < self.turns.len() && self.turns[place].0 == at {
                height += self.turns[place].1;
                always += self.turns[place].2;
                place += 1;
            }
            if let Some(block) = self.blocks.last_mut()
                && block.to == Minute::MAX
            {
                block.to = at;
            }
            if height > 0 {
                self.blocks.push(Block {
                    from: at,
                    to: Minute::MAX,
                    height,
                    always,
                });
            }
        }
        if let Some(block) = self.blocks.last_mut()
            && block.to == Minute::MAX
        {
            block.to = last;
        }
    }

    /// The certain loads over `[from, to)` that, with what is always taken, leave less than `amount`.
    fn crowd(
        &mut self,
        trail: &Trail,
        from: Minute,
        to: Minute,
        taken: i64,
        amount: i64,
        not: usize,
    ) {
        let mut missing = self.capacity - amount - taken;
        for (index, load) in self.loads.iter().enumerate() {
            if missing < 0 {
                break;
            }
            if index == not {
                continue;
            }
            let (_, must, sure, _) = load.times(trail);
            if must <= from && to <= sure {
                missing -= load.amount;
                self.why.push(load.starts_by(from));
                self.why.push(load.ends_from(to));
            }
        }
    }

    /// Looks for overload, and moves loads to where there is room.
    pub(super) fn propagate(&mut self, trail: &mut Trail, steps: &mut u64) -> Result<(), Conflict> {
        self.build(trail);
        *steps += 2 + self.loads.len() as u64 / 2 + self.turns.len() as u64 / 2;
        let worst = self.blocks.iter().max_by_key(|block| block.height);
        let Some(&worst) = worst else {
            return Ok(());
        };
        if worst.height > self.capacity {
            self.why.clear();
            let at = worst.from + (worst.to - worst.from) / 2;
            self.crowd(trail, at, at + 1, worst.always, 0, usize::MAX);
            return Err(std::mem::take(&mut self.why));
        }
        for index in 0..self.loads.len() {
            let load = self.loads[index];
            if worst.height + load.amount <= self.capacity {
                break;
            }
            if load.least > 0 {
                self.later(trail, index, steps)?;
                self.earlier(trail, index, steps)?;
            }
        }
        Ok(())
    }

    /// Whether a block, without the load itself, leaves it no room.
    fn full(&self, block: &Block, load: &Load, own: (Minute, Minute)) -> bool {
        let inside = own.0 <= block.from && block.to <= own.1;
        let height = block.height - if inside { load.amount } else { 0 };
        height + load.amount > self.capacity
    }

    fn later(&mut self, trail: &mut Trail, index: usize, steps: &mut u64) -> Result<(), Conflict> {
        let load = self.loads[index];
        let (mut at, must, sure, _) = load.times(trail);
        // The certain part is cut into the blocks, so a block lies wholly inside it or wholly outside.
        let own = if must < sure { (must, sure) } else { (0, 0) };
        if at == must {
            return Ok(());
        }
        let mut place = self.blocks.partition_point(|block| block.to <= at);
        while let Some(&block) = self.blocks.get(place) {
            *steps += 1;
            if block.from >= at + load.least {
                break;
            }
            if !self.full(&block, &load, own) {
                place += 1;
                continue;
            }
            // In one leap when it is long against the load, else moment by moment, which explains itself with less.
            let pointwise = block.to - at <= 4 * load.least;
            let (from, to) = if pointwise {
                let to = block.to.min(at + load.least);
                (to - 1, to)
            } else {
                (block.from.max(at.min(block.to - 1)), block.to)
            };
            self.why.clear();
            self.why.push(load.starts_from(from + 1 - load.least));
            self.crowd(trail, from, to, block.always, load.amount, index);
            let why = std::mem::take(&mut self.why);
            let raised = trail.raise_for(load.starts_from(to), &why);
            self.why = why;
            raised?;
            at = to;
            if at >= block.to {
                place += 1;
            }
        }
        Ok(())
    }

    fn earlier(
        &mut self,
        trail: &mut Trail,
        index: usize,
        steps: &mut u64,
    ) -> Result<(), Conflict> {
        let load = self.loads[index];
        let (_, must, sure, mut at) = load.times(trail);
        let own = if must < sure { (must, sure) } else { (0, 0) };
        if at == sure {
            return Ok(());
        }
        let mut left = self.blocks.partition_point(|block| block.from < at);
        while left > 0 {
            let block = self.blocks[left - 1];
            *steps += 1;
            if block.to <= at - load.least {
                break;
            }
            if !self.full(&block, &load, own) {
                left -= 1;
                continue;
            }
            let pointwise = at - block.from <= 4 * load.least;
            let (from, to) = if pointwise {
                let from = block.from.max(at - load.least);
                (from, from + 1)
            } else {
                (block.from, block.to.min(at.max(block.from + 1)))
            };
            self.why.clear();
            self.why.push(load.ends_by(to - 1 + load.least));
            self.crowd(trail, from, to, block.always, load.amount, index);
            let why = std::mem::take(&mut self.why);
            let raised = trail.raise_for(load.ends_by(from), &why);
            self.why = why;
            raised?;
            at = from;
            if at <= block.from {
                left -= 1;
            }
        }
        Ok(())
    }
}
