//! Who and what is taken when: the bookings of people and machines while a schedule is being built.

use crate::calendar::Hours;
use crate::model::{FAR, Room};
use crate::problem::Minute;

/// One booking of a person.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shift {
    pub(crate) from: Minute,
    pub(crate) to: Minute,
    pub(crate) task: usize,
}

/// The bookings of one person, ascending and disjoint.
#[derive(Debug, Clone, Default)]
pub(crate) struct Diary(Vec<Shift>);

impl Diary {
    pub(crate) fn add(&mut self, shift: Shift) {
        if shift.from < shift.to {
            let place = self.0.partition_point(|other| other.from < shift.from);
            self.0.insert(place, shift);
        }
    }

    pub(crate) fn remove(&mut self, from: Minute, task: usize) {
        let place = self.0.partition_point(|other| other.from < from);
        if self.0.get(place).is_some_and(|shift| shift.task == task) {
            self.0.remove(place);
        }
    }

    /// The bookings that share a minute with a stretch.
    pub(crate) fn within(&self, from: Minute, to: Minute) -> &[Shift] {
        let first = self.0.partition_point(|shift| shift.to <= from);
        let last = self.0.partition_point(|shift| shift.from < to);
        self.0.get(first..last).unwrap_or_default()
    }

    /// End of the last booking at or before a minute.
    pub(crate) fn idle_since(&self, at: Minute) -> Option<Minute> {
        let place = self.0.partition_point(|shift| shift.to <= at);
        place.checked_sub(1).map(|place| self.0[place].to)
    }

    /// First start at or after `at` at which the person is there and free for `duration`. `cost` counts the bookings read.
    pub(crate) fn next_free(
        &self,
        hours: &Hours,
        regular: bool,
        at: Minute,
        duration: Minute,
        cost: &mut u64,
    ) -> Option<Minute> {
        let spans = if regular { &hours.regular } else { &hours.all };
        let mut span_place = spans.partition_point(|span| span.end < at + duration);
        let mut shift_place = self.0.partition_point(|shift| shift.to <= at);
        let mut at = at;
        loop {
            *cost += 1;
            let span = spans.get(span_place)?;
            at = at.max(span.start);
            if at + duration > span.end {
                span_place += 1;
                continue;
            }
            if duration == 0 {
                return Some(at);
            }
            while self.0.get(shift_place).is_some_and(|shift| shift.to <= at) {
                shift_place += 1;
            }
            match self.0.get(shift_place) {
                Some(shift) if shift.from < at + duration => at = shift.to,
                _ => return Some(at),
            }
        }
    }

    /// Last start at or before `at` at which the person is there and free for `duration`. `cost` counts the bookings read.
    pub(crate) fn previous_free(
        &self,
        hours: &Hours,
        regular: bool,
        at: Minute,
        duration: Minute,
        cost: &mut u64,
    ) -> Option<Minute> {
        let spans = if regular { &hours.regular } else { &hours.all };
        let mut spans_left = spans.partition_point(|span| span.start <= at);
        let mut shifts_left = self.0.partition_point(|shift| shift.from < at + duration);
        let mut at = at;
        loop {
            *cost += 1;
            let span = spans.get(spans_left.checked_sub(1)?)?;
            at = at.min(span.end - duration);
            if at < span.start {
                spans_left -= 1;
                continue;
            }
            if duration == 0 {
                return Some(at);
            }
            while shifts_left > 0 && self.0[shifts_left - 1].from >= at + duration {
                shifts_left -= 1;
            }
            match shifts_left.checked_sub(1).map(|place| self.0[place]) {
                Some(shift) if shift.to > at => at = shift.from - duration,
                _ => return Some(at),
            }
        }
    }
}

/// One booking of a machine.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Load {
    pub(crate) from: Minute,
    pub(crate) to: Minute,
    pub(crate) amount: i64,
    pub(crate) load: u32,
    /// The occupancy.
    pub(crate) index: usize,
}

/// The bookings of one machine, by their first minute.
#[derive(Debug, Clone, Default)]
pub(crate) struct Register {
    loads: Vec<Load>,
    /// Longest booking ever entered; bounds how far back a look must go.
    longest: Minute,
}

impl Register {
    pub(crate) fn add(&mut self, load: Load) {
        if load.from < load.to {
            self.longest = self.longest.max(load.to - load.from);
            let place = self.loads.partition_point(|other| other.from < load.from);
            self.loads.insert(place, load);
        }
    }

    pub(crate) fn remove(&mut self, from: Minute, index: usize) {
        let place = self.loads.partition_point(|other| other.from < from);
        let found = self
            .loads
            .iter()
            .skip(place)
            .take_while(|load| load.from == from)
            .position(|load| load.index == index);
        if let Some(found) = found {
            self.loads.remove(place + found);
        }
    }

    /// Bookings that come within `gap` minutes of a stretch.
    pub(crate) fn near(
        &self,
        from: Minute,
        to: Minute,
        gap: Minute,
    ) -> impl Iterator<Item = &Load> {
        let first = self
            .loads
            .partition_point(|load| load.from < from - gap - self.longest);
        (self.loads.iter().skip(first))
            .take_while(move |load| load.from < to + gap)
            .filter(move |load| load.to + gap > from)
    }

    /// Whether a booking can be added. If not, the stretch in the way: anything that fits must either end by its
    /// first minute or begin at or after its last. `cost` counts the bookings read.
    pub(crate) fn conflict(
        &self,
        room: &Room,
        new: &Load,
        cost: &mut u64,
    ) -> Option<(Minute, Minute)> {
        if new.from >= new.to {
            return None;
        }
        let mut way: Option<(Minute, Minute)> = None;
        let mut widen = |from: Minute, to: Minute| {
            way = Some(way.map_or((from, to), |(first, last)| (first.min(from), last.max(to))));
        };
        let closed = room.closed.partition_point(|span| span.end <= new.from);
        for span in room
            .closed
            .iter()
            .skip(closed)
            .take_while(|span| span.start < new.to)
        {
            widen(span.start, span.end);
        }
        let gap = room.one_load.unwrap_or(0);
        let mut lying_over = 0;
        let mut together: Vec<(Minute, i64)> = Vec::new();
        for load in self.near(new.from, new.to, gap) {
            *cost += 2;
            if room.one_load.is_some() && load.load != new.load {
                widen(load.from - gap, load.to + gap);
            } else if load.from < new.to && load.to > new.from {
                lying_over += load.amount;
                together.push((load.from, load.amount));
                together.push((load.to, -load.amount));
            }
        }
        let spare = room.capacity - new.amount;
        if spare < 0 {
            // Never: nothing but an empty hold fits.
            return Some((-FAR, FAR));
        }
        // Mostly all that is near fits even if it all lay together; then nothing needs sorting.
        if lying_over <= spare {
            return way;
        }
        together.sort_unstable();
        let (mut sum, mut over_since) = (0, None);
        for (at, change) in together {
            sum += change;
            // At equal minutes what leaves comes first in the order, so no moment counts both.
            match (over_since, sum > spare) {
                (None, true) => over_since = Some(at),
                (Some(since), false) => {
                    if at > new.from && since < new.to && since < at {
                        widen(since, at);
                    }
                    over_since = None;
                }
                _ => {}
            }
        }
        way
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Span;

    fn hours(spans: &[(Minute, Minute)]) -> Hours {
        let all: Vec<Span> = spans
            .iter()
            .map(|&(start, end)| Span { start, end })
            .collect();
        Hours {
            regular: all.clone(),
            all,
        }
    }

    #[test]
    fn a_person_is_free_between_bookings_on_both_sides() {
        let mut cost = 0;
        let mut diary = Diary::default();
        diary.add(Shift {
            from: 10,
            to: 20,
            task: 0,
        });
        diary.add(Shift {
            from: 25,
            to: 40,
            task: 1,
        });
        let hours = hours(&[(0, 60), (100, 160)]);
        assert_eq!(diary.next_free(&hours, true, 5, 5, &mut cost), Some(5));
        assert_eq!(diary.next_free(&hours, true, 6, 5, &mut cost), Some(20));
        assert_eq!(diary.next_free(&hours, true, 6, 21, &mut cost), Some(100));
        assert_eq!(diary.next_free(&hours, true, 150, 20, &mut cost), None);
        assert_eq!(
            diary.previous_free(&hours, true, 22, 5, &mut cost),
            Some(20)
        );
        assert_eq!(diary.previous_free(&hours, true, 19, 5, &mut cost), Some(5));
        assert_eq!(
            diary.previous_free(&hours, true, 99, 20, &mut cost),
            Some(40)
        );
        assert_eq!(diary.previous_free(&hours, true, 9, 11, &mut cost), None);
        diary.remove(10, 0);
        assert_eq!(diary.next_free(&hours, true, 6, 5, &mut cost), Some(6));
    }

    fn load(from: Minute, to: Minute, amount: i64, load: u32, index: usize) -> Load {
        Load {
            from,
            to,
            amount,
            load,
            index,
        }
    }

    #[test]
    fn a_shared_machine_is_full_only_where_amounts_add_up_past_it() {
        let room = Room {
            capacity: 3,
            one_load: None,
            closed: vec![],
        };
        let mut register = Register::default();
        register.add(load(0, 10, 2, 0, 0));
        register.add(load(5, 20, 1, 0, 1));
        let mut cost = 0;
        assert_eq!(
            register.conflict(&room, &load(0, 5, 1, 0, 2), &mut cost),
            None
        );
        assert_eq!(
            register.conflict(&room, &load(0, 6, 1, 0, 2), &mut cost),
            Some((5, 10))
        );
        assert_eq!(
            register.conflict(&room, &load(10, 30, 2, 0, 2), &mut cost),
            None
        );
        register.remove(5, 1);
        assert_eq!(
            register.conflict(&room, &load(0, 10, 1, 0, 2), &mut cost),
            None
        );
    }

    #[test]
    fn different_loads_keep_the_change_over_and_one_load_adds_up() {
        let room = Room {
            capacity: 3,
            one_load: Some(40),
            closed: vec![],
        };
        let mut register = Register::default();
        register.add(load(100, 200, 2, 7, 0));
        let mut cost = 0;
        assert_eq!(
            register.conflict(&room, &load(239, 300, 1, 8, 1), &mut cost),
            Some((60, 240))
        );
        assert_eq!(
            register.conflict(&room, &load(240, 300, 1, 8, 1), &mut cost),
            None
        );
        assert_eq!(
            register.conflict(&room, &load(150, 300, 1, 7, 1), &mut cost),
            None
        );
        assert_eq!(
            register.conflict(&room, &load(150, 300, 2, 7, 1), &mut cost),
            Some((100, 200))
        );
    }

    #[test]
    fn a_closed_span_is_in_the_way() {
        let room = Room {
            capacity: 1,
            one_load: None,
            closed: vec![Span { start: 50, end: 60 }],
        };
        let mut cost = 0;
        assert_eq!(
            Register::default().conflict(&room, &load(40, 51, 1, 0, 0), &mut cost),
            Some((50, 60))
        );
        assert_eq!(
            Register::default().conflict(&room, &load(60, 61, 1, 0, 0), &mut cost),
            None
        );
    }
}
