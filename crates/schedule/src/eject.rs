//! Chooses whom to throw out so that a task without a place gets one.

use crate::problem::Minute;
use crate::search::Search;

/// Whom [`Search::make_room`] took off the board, and the start this was done for.
#[derive(Debug, Default)]
pub(crate) struct ThrownOut {
    pub(crate) groups: Vec<usize>,
    pub(crate) around: Option<(usize, Minute)>,
}

impl Search<'_, '_> {
    /// Makes room for one task of a group that is off the board, at the start whose occupants weigh least.
    pub(crate) fn make_room(&mut self, group: usize, task: usize) -> ThrownOut {
        const STARTS_LOOKED_AT: usize = 12;
        let weight = self.weight[group];
        // Where only lags are in the way, or throwing out by place has failed often, the neighbours in time go.
        let neighbours = self.neighbours(group);
        if !neighbours.is_empty() && (weight.is_multiple_of(4) || self.dice.chance(0.1)) {
            self.remove(&neighbours);
            return ThrownOut {
                groups: neighbours,
                around: None,
            };
        }
        let (low, high) = (self.board.low[task], self.board.high[task]);
        let wish = self.board.model.target[task]
            .unwrap_or(low)
            .clamp(low, high);
        let mut best: Option<(u64, u64, Minute, Vec<usize>)> = None;
        for look in 0..STARTS_LOOKED_AT {
            let near = match look {
                0 => wish,
                1 => low,
                2 => high,
                _ => low + (self.dice.fraction() * (high - low + 1) as f64) as Minute,
            };
            let snapped = self
                .board
                .model
                .snap_up(task, near)
                .filter(|&at| at <= high);
            let Some(at) = snapped.or_else(|| {
                self.board
                    .model
                    .snap_down(task, near)
                    .filter(|&at| at >= low)
            }) else {
                continue;
            };
            let Some(in_the_way) = self.in_the_way(task, at) else {
                continue;
            };
            let price: u64 = in_the_way.iter().map(|&other| self.weight[other]).sum();
            let tie = self.dice.below(1 << 16) as u64;
            if best
                .as_ref()
                .is_none_or(|known| (price, tie) < (known.0, known.1))
            {
                best = Some((price, tie, at, in_the_way));
            }
        }
        match best {
            Some((_, _, at, in_the_way)) => {
                self.remove(&in_the_way);
                ThrownOut {
                    groups: in_the_way,
                    around: Some((task, at)),
                }
            }
            None => {
                self.remove(&neighbours);
                ThrownOut {
                    groups: neighbours,
                    around: None,
                }
            }
        }
    }

    /// The lightest groups found that would have to go for a task to start at `at`; `None` if that is not enough.
    pub(crate) fn in_the_way(&mut self, task: usize, at: Minute) -> Option<Vec<usize>> {
        let board = &mut self.board;
        let model = board.model;
        let job = &model.jobs[task];
        let end = at + job.duration;
        let own = self.groups.of[task];
        let mut out: Vec<usize> = Vec::new();
        if let Some(need) = job.need {
            let mut offers: Vec<(u64, usize)> = Vec::new();
            for &person in &model.classes[need.class] {
                if !model.hours[person].cover(at, end) {
                    continue;
                }
                let shifts = if job.duration == 0 {
                    &[]
                } else {
                    board.diaries[person].within(at, end)
                };
                board.steps += 1 + shifts.len() as u64;
                let mut weight = 0;
                for shift in shifts {
                    weight += self.weight[self.groups.of[shift.task]];
                }
                offers.push((weight, person));
            }
            if offers.len() < need.count {
                return None;
            }
            offers.sort_unstable();
            for &(_, person) in &offers[..need.count] {
                let shifts = if job.duration == 0 {
                    &[]
                } else {
                    board.diaries[person].within(at, end)
                };
                out.extend(shifts.iter().map(|shift| self.groups.of[shift.task]));
            }
        }
        for &index in &job.holds {
            let (new, _, _) = board.stretch(task, index, at);
            if new.from >= new.to {
                continue;
            }
            let hold = model.holds[index];
            let room = &model.rooms[hold.machine];
            if room
                .closed
                .iter()
                .any(|span| span.start < new.to && span.end > new.from)
                || new.amount > room.capacity
            {
                return None;
            }
            let gap = room.one_load.unwrap_or(0);
            let mut sharing: Vec<(u64, usize, i64)> = Vec::new();
            for load in board.registers[hold.machine].near(new.from, new.to, gap) {
                board.steps += 1;
                let other = model.holds[load.index];
                let group_of = |task: usize| self.groups.of[task];
                // A half-placed hold stands on the end that is placed.
                let group = if board.placed[other.from] {
                    group_of(other.from)
                } else {
                    group_of(other.to)
                };
                if group == own {
                    continue;
                }
                if room.one_load.is_some() && load.load != new.load {
                    out.push(group);
                    out.extend((board.placed[other.to]).then(|| group_of(other.to)));
                } else if load.from < new.to && load.to > new.from {
                    sharing.push((self.weight[group], group, load.amount));
                }
            }
            // Lightest first until the rest, even if all were inside together, leaves room.
            sharing.sort_unstable();
            let mut inside: i64 = sharing
                .iter()
                .filter(|entry| !out.contains(&entry.1))
                .map(|entry| entry.2)
                .sum();
            for (_, group, amount) in sharing {
                if inside + new.amount <= room.capacity {
                    break;
                }
                if amount > 0 && !out.contains(&group) {
                    out.push(group);
                    inside -= amount;
                }
            }
        }
        out.sort_unstable();
        out.dedup();
        out.retain(|&group| group != own);
        Some(out)
    }
}
