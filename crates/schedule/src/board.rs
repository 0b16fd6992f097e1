//! A schedule in the making: which tasks stand where, the windows that leaves the others, and who is booked.

use crate::ledger::{Diary, Load, Register, Shift};
use crate::model::{FAR, Model};
use crate::network::Windows;
use crate::problem::Minute;

/// How far a start would at least have to move, either way, for what failed to become possible.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Deficit {
    pub(crate) later: Minute,
    pub(crate) earlier: Minute,
}

impl Deficit {
    pub(crate) const ONE: Self = Self {
        later: 1,
        earlier: 1,
    };
}

/// What entering or striking out one task's bookings counts as.
const STEPS_PER_BOOKING: u64 = 10;

/// The state of the search. Windows of tasks already placed are a single minute.
#[derive(Debug)]
pub(crate) struct Board<'m> {
    pub(crate) model: &'m Model<'m>,
    pub(crate) root: &'m Windows,
    pub(crate) low: Vec<Minute>,
    pub(crate) high: Vec<Minute>,
    pub(crate) placed: Vec<bool>,
    pub(crate) crew: Vec<Vec<usize>>,
    pub(crate) diaries: Vec<Diary>,
    pub(crate) registers: Vec<Register>,
    pub(crate) placed_count: usize,
    pub(crate) steps: u64,
    held: Vec<Option<Load>>,
    /// Windows as they were before each change, for taking changes back.
    trail: Vec<(usize, Minute, Minute)>,
    queue: Vec<usize>,
    queued: Vec<bool>,
    frees: Vec<Minute>,
}

impl<'m> Board<'m> {
    pub(crate) fn empty(model: &'m Model<'m>, root: &'m Windows) -> Self {
        let count = model.jobs.len();
        Self {
            model,
            root,
            low: root.low.clone(),
            high: root.high.clone(),
            placed: vec![false; count],
            crew: vec![Vec::new(); count],
            diaries: vec![Diary::default(); model.hours.len()],
            registers: vec![Register::default(); model.rooms.len()],
            placed_count: 0,
            steps: 0,
            held: vec![None; model.holds.len()],
            trail: Vec::new(),
            queue: Vec::new(),
            queued: vec![false; count],
            frees: Vec::new(),
        }
    }

    /// Weighted minutes of overtime of a crew at a start.
    pub(crate) fn overtime_cost(&self, task: usize, at: Minute, crew: &[usize]) -> f64 {
        if self.model.problem.overtime_weight == 0.0 {
            return 0.0;
        }
        let end = at + self.model.jobs[task].duration;
        let minutes: Minute = crew
            .iter()
            .map(|&person| self.model.hours[person].overtime_in(at, end))
            .sum();
        self.model.problem.overtime_weight * minutes as f64
    }

    /// What a placed task costs.
    pub(crate) fn cost(&self, task: usize) -> f64 {
        self.model.wish_cost(task, self.low[task])
            + self.overtime_cost(task, self.low[task], &self.crew[task])
    }

    /// A mark to come back to with [`Board::rewind`].
    pub(crate) fn mark(&self) -> usize {
        self.trail.len()
    }

    /// Puts all windows back to what they were at the mark. Bookings are not touched.
    pub(crate) fn rewind(&mut self, mark: usize) {
        while self.trail.len() > mark {
            if let Some((task, low, high)) = self.trail.pop() {
                self.low[task] = low;
                self.high[task] = high;
            }
        }
    }

    /// Forgets how to take back what has been done so far.
    pub(crate) fn forget_trail(&mut self) {
        self.trail.clear();
    }

    /// Sets a window to one start and books people and machines; windows of others are left to
    /// [`Board::propagate`]. False, with nothing changed, if two holds of the task get in each other's way.
    pub(crate) fn place(&mut self, task: usize, at: Minute, crew: Vec<usize>) -> bool {
        self.trail.push((task, self.low[task], self.high[task]));
        self.low[task] = at;
        self.high[task] = at;
        self.placed[task] = true;
        self.placed_count += 1;
        self.steps += STEPS_PER_BOOKING;
        let to = at + self.model.jobs[task].duration;
        for &person in &crew {
            self.diaries[person].add(Shift { from: at, to, task });
        }
        self.crew[task] = crew;
        let holds = &self.model.jobs[task].holds;
        for &index in holds {
            self.lift(index);
        }
        for &index in holds {
            if let Some(load) = self.load_of(index) {
                let room = &self.model.rooms[self.model.holds[index].machine];
                let machine = self.model.holds[index].machine;
                if holds.len() > 1
                    && self.registers[machine]
                        .conflict(room, &load, &mut self.steps)
                        .is_some()
                {
                    let mark = self.trail.len() - 1;
                    self.unplace(task);
                    self.rewind(mark);
                    return false;
                }
                self.registers[machine].add(load);
                self.held[index] = Some(load);
            }
        }
        true
    }

    /// Takes back the bookings of a task. Windows are left to [`Board::rewind`] or [`Board::reset_windows`].
    pub(crate) fn unplace(&mut self, task: usize) {
        let crew = std::mem::take(&mut self.crew[task]);
        for person in crew {
            self.diaries[person].remove(self.low[task], task);
        }
        self.placed[task] = false;
        self.placed_count -= 1;
        self.steps += STEPS_PER_BOOKING;
        for &index in &self.model.jobs[task].holds {
            self.lift(index);
            self.settle_hold(index);
        }
    }

    fn lift(&mut self, index: usize) {
        if let Some(load) = self.held[index].take() {
            self.registers[self.model.holds[index].machine].remove(load.from, index);
        }
    }

    fn settle_hold(&mut self, index: usize) {
        if let Some(load) = self.load_of(index) {
            self.registers[self.model.holds[index].machine].add(load);
            self.held[index] = Some(load);
        }
    }

    /// The stretch an occupancy certainly takes, as far as its ends are placed.
    fn load_of(&self, index: usize) -> Option<Load> {
        let hold = self.model.holds[index];
        let from = self.low[hold.from] + hold.from_after;
        let to = self.low[hold.to] + hold.to_after;
        let (from, to) = match (self.placed[hold.from], self.placed[hold.to]) {
            (true, true) => (from, to),
            (true, false) => (from, from + hold.least),
            (false, true) => (to - hold.least, to),
            (false, false) => return None,
        };
        (from < to).then_some(Load {
            from,
            to,
            amount: hold.amount,
            load: hold.load,
            index,
        })
    }

    /// Narrows the windows of the others after `task` has changed.
    pub(crate) fn propagate(&mut self, task: usize) -> Result<(), Deficit> {
        self.queue.push(task);
        self.queued[task] = true;
        self.drain()
    }

    fn drain(&mut self) -> Result<(), Deficit> {
        let model = self.model;
        // Moving the placed task by less than the smallest leap of a snapped bound moves no bound further than that.
        let (mut later_leap, mut earlier_leap) = (FAR, FAR);
        let mut next = 0;
        let mut failure = None;
        'all: while next < self.queue.len() {
            let task = self.queue[next];
            next += 1;
            self.queued[task] = false;
            for &index in &model.leaving[task] {
                self.steps += 1;
                let arc = model.arcs[index as usize];
                let raw = self.low[task] + arc.weight;
                if raw <= self.low[arc.to] {
                    continue;
                }
                let snapped = if self.placed[arc.to] {
                    Some(raw)
                } else {
                    model.snap_up(arc.to, raw)
                };
                if let Some(up) = snapped
                    && up != raw
                {
                    earlier_leap = earlier_leap
                        .min(model.snap_down(arc.to, raw).map_or(FAR, |down| raw - down));
                }
                let up = snapped.unwrap_or(FAR);
                if up > self.high[arc.to] {
                    let high = self.high[arc.to];
                    failure = Some(Deficit {
                        later: up - high,
                        earlier: raw - high,
                    });
                    break 'all;
                }
                self.narrow(arc.to, up, self.high[arc.to]);
            }
            for &index in &model.reaching[task] {
                self.steps += 1;
                let arc = model.arcs[index as usize];
                let raw = self.high[task] - arc.weight;
                if raw >= self.high[arc.from] {
                    continue;
                }
                let snapped = if self.placed[arc.from] {
                    Some(raw)
                } else {
                    model.snap_down(arc.from, raw)
                };
                if let Some(down) = snapped
                    && down != raw
                {
                    later_leap =
                        later_leap.min(model.snap_up(arc.from, raw).map_or(FAR, |up| up - raw));
                }
                let down = snapped.unwrap_or(-FAR);
                if down < self.low[arc.from] {
                    let low = self.low[arc.from];
                    failure = Some(Deficit {
                        later: low - raw,
                        earlier: low - down,
                    });
                    break 'all;
                }
                self.narrow(arc.from, self.low[arc.from], down);
            }
        }
        for &task in &self.queue {
            self.queued[task] = false;
        }
        self.queue.clear();
        failure.map_or(Ok(()), |deficit: Deficit| {
            Err(Deficit {
                later: deficit.later.min(later_leap).max(1),
                earlier: deficit.earlier.min(earlier_leap).max(1),
            })
        })
    }

    fn narrow(&mut self, task: usize, low: Minute, high: Minute) {
        self.trail.push((task, self.low[task], self.high[task]));
        self.low[task] = low;
        self.high[task] = high;
        if !self.queued[task] {
            self.queued[task] = true;
            self.queue.push(task);
        }
    }

    /// Recomputes the windows of the unplaced among `tasks`, a set closed under links, from the placed ones.
    ///
    /// Cannot fail: it is only called with placed tasks that keep all lags among themselves, and then every unplaced
    /// task's window is at least the one it had when they were placed. False is answered all the same if it did.
    pub(crate) fn reset_windows(&mut self, tasks: &[usize]) -> bool {
        self.forget_trail();
        for &task in tasks {
            if !self.placed[task] {
                self.low[task] = self.root.low[task];
                self.high[task] = self.root.high[task];
            }
        }
        for &task in tasks {
            let near = |arcs: &[u32]| {
                arcs.iter().any(|&index| {
                    let arc = self.model.arcs[index as usize];
                    !self.placed[arc.from] || !self.placed[arc.to]
                })
            };
            if self.placed[task]
                && (near(&self.model.leaving[task]) || near(&self.model.reaching[task]))
            {
                self.queue.push(task);
                self.queued[task] = true;
            }
        }
        self.steps += tasks.len() as u64;
        let fine = self.drain().is_ok();
        self.forget_trail();
        fine
    }

    /// First start of a task at or after `at`, up to `limit`, with enough people and room beside what is booked.
    pub(crate) fn next_start(
        &mut self,
        task: usize,
        at: Minute,
        limit: Minute,
        regular: bool,
    ) -> Option<Minute> {
        self.with_holds_lifted(task, |board| {
            let mut at = at;
            loop {
                at = board.model.snap_up(task, at)?;
                if at > limit {
                    return None;
                }
                board.steps += 1;
                let crew_at = board.crew_free_from(task, at, regular)?;
                if crew_at > at {
                    at = crew_at;
                    continue;
                }
                let mut clear = at;
                for place in 0..board.model.jobs[task].holds.len() {
                    clear = clear.max(board.clear_of_hold(task, place, at, true)?);
                }
                if clear == at {
                    return Some(at);
                }
                at = clear;
            }
        })
    }

    /// Last start of a task at or before `at`, down to `limit`, with enough people and room beside what is booked.
    pub(crate) fn previous_start(
        &mut self,
        task: usize,
        at: Minute,
        limit: Minute,
        regular: bool,
    ) -> Option<Minute> {
        self.with_holds_lifted(task, |board| {
            let mut at = at;
            loop {
                at = board.model.snap_down(task, at)?;
                if at < limit {
                    return None;
                }
                board.steps += 1;
                let crew_at = board.crew_free_until(task, at, regular)?;
                if crew_at < at {
                    at = crew_at;
                    continue;
                }
                let mut clear = at;
                for place in 0..board.model.jobs[task].holds.len() {
                    clear = clear.min(board.clear_of_hold(task, place, at, false)?);
                }
                if clear == at {
                    return Some(at);
                }
                at = clear;
            }
        })
    }

    pub(crate) fn with_holds_lifted<T>(
        &mut self,
        task: usize,
        search: impl FnOnce(&mut Self) -> T,
    ) -> T {
        let holds = &self.model.jobs[task].holds;
        for &index in holds {
            self.lift(index);
        }
        let found = search(self);
        for &index in holds {
            self.settle_hold(index);
        }
        found
    }

    /// The earliest minute at or after `at` at which enough people may be free: the count-th smallest of their own.
    fn crew_free_from(&mut self, task: usize, at: Minute, regular: bool) -> Option<Minute> {
        let job = &self.model.jobs[task];
        let Some(need) = job.need else {
            return Some(at);
        };
        self.frees.clear();
        for &person in &self.model.classes[need.class] {
            let hours = &self.model.hours[person];
            let free =
                self.diaries[person].next_free(hours, regular, at, job.duration, &mut self.steps);
            self.frees.extend(free);
        }
        let nth = need
            .count
            .checked_sub(1)
            .filter(|&nth| nth < self.frees.len())?;
        Some(*self.frees.select_nth_unstable(nth).1)
    }

    fn crew_free_until(&mut self, task: usize, at: Minute, regular: bool) -> Option<Minute> {
        let job = &self.model.jobs[task];
        let Some(need) = job.need else {
            return Some(at);
        };
        self.frees.clear();
        for &person in &self.model.classes[need.class] {
            let hours = &self.model.hours[person];
            let free = self.diaries[person].previous_free(
                hours,
                regular,
                at,
                job.duration,
                &mut self.steps,
            );
            self.frees.extend(free);
        }
        let nth = self.frees.len().checked_sub(need.count)?;
        (need.count > 0).then(|| *self.frees.select_nth_unstable(nth).1)
    }

    /// The stretch one hold of a task takes when the task starts at `at`, and whether each end moves with it.
    pub(crate) fn stretch(&self, task: usize, index: usize, at: Minute) -> (Load, bool, bool) {
        let hold = self.model.holds[index];
        let (mut first_moves, mut last_moves) = (true, true);
        let (from, to) = if hold.from == hold.to {
            (at + hold.from_after, at + hold.to_after)
        } else if hold.from == task {
            let from = at + hold.from_after;
            last_moves = !self.placed[hold.to];
            (
                from,
                if last_moves {
                    from + hold.least
                } else {
                    self.low[hold.to] + hold.to_after
                },
            )
        } else {
            let to = at + hold.to_after;
            first_moves = !self.placed[hold.from];
            (
                if first_moves {
                    to - hold.least
                } else {
                    self.low[hold.from] + hold.from_after
                },
                to,
            )
        };
        (
            Load {
                from,
                to,
                amount: hold.amount,
                load: hold.load,
                index,
            },
            first_moves,
            last_moves,
        )
    }

    /// The nearest start, later or earlier, at which this one hold may fit; `None` if moving that way never helps.
    fn clear_of_hold(
        &mut self,
        task: usize,
        place: usize,
        at: Minute,
        later: bool,
    ) -> Option<Minute> {
        let index = self.model.jobs[task].holds[place];
        let machine = self.model.holds[index].machine;
        let (load, first_moves, last_moves) = self.stretch(task, index, at);
        let room = &self.model.rooms[machine];
        let Some((begins, ends)) = self.registers[machine].conflict(room, &load, &mut self.steps)
        else {
            return Some(at);
        };
        // Moving later only helps if the first end moves: past the end of what is in the way, or until nothing is
        // held any more; and the same mirrored.
        if later {
            let past = if last_moves { ends } else { ends.min(load.to) };
            (first_moves && past < FAR).then(|| at + (past - load.from).max(1))
        } else {
            let before = if first_moves {
                begins
            } else {
                begins.max(load.from)
            };
            (last_moves && before > -FAR).then(|| at - (load.to - before).max(1))
        }
    }

    /// The crew for a start at which enough people are free: least overtime first, then those with the fewest other
    /// uses (`breadth`), then those idle for the shortest time.
    pub(crate) fn choose_crew(
        &mut self,
        task: usize,
        at: Minute,
        breadth: &[u32],
    ) -> Option<Vec<usize>> {
        let job = &self.model.jobs[task];
        let Some(need) = job.need else {
            return Some(Vec::new());
        };
        let end = at + job.duration;
        let mut free: Vec<(Minute, u32, Minute, usize)> = Vec::new();
        for &person in &self.model.classes[need.class] {
            self.steps += 1;
            let hours = &self.model.hours[person];
            if hours.cover(at, end)
                && (job.duration == 0 || self.diaries[person].within(at, end).is_empty())
            {
                let idle = self.diaries[person]
                    .idle_since(at)
                    .map_or(FAR, |since| at - since);
                free.push((hours.overtime_in(at, end), breadth[person], idle, person));
            }
        }
        if free.len() < need.count {
            return None;
        }
        free.sort_unstable();
        let mut crew: Vec<usize> = free[..need.count].iter().map(|entry| entry.3).collect();
        crew.sort_unstable();
        Some(crew)
    }
}
