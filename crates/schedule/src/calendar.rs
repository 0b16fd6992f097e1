//! When a task may start at all: the hours of people and machines folded into sets of starts.

use crate::problem::{Minute, Person, Span};

/// A set of minutes as closed, disjoint, ascending intervals.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Starts(pub(crate) Vec<(Minute, Minute)>);

impl Starts {
    /// The first minute of the set at or after `at`.
    pub(crate) fn next(&self, at: Minute) -> Option<Minute> {
        let place = self.0.partition_point(|&(_, last)| last < at);
        self.0.get(place).map(|&(first, _)| first.max(at))
    }

    /// The last minute of the set at or before `at`.
    pub(crate) fn previous(&self, at: Minute) -> Option<Minute> {
        let place = self.0.partition_point(|&(first, _)| first <= at);
        place
            .checked_sub(1)
            .and_then(|place| self.0.get(place))
            .map(|&(_, last)| last.min(at))
    }

    /// The minutes in both sets.
    pub(crate) fn meet(&self, other: &Self) -> Self {
        let mut both = Vec::new();
        let (mut left, mut right) = (0, 0);
        while let (Some(&(a, b)), Some(&(c, d))) = (self.0.get(left), other.0.get(right)) {
            if a.max(c) <= b.min(d) {
                both.push((a.max(c), b.min(d)));
            }
            if b < d {
                left += 1;
            } else {
                right += 1;
            }
        }
        Self(both)
    }
}

/// Sorts spans and joins those that touch or overlap.
pub(crate) fn joined(spans: impl IntoIterator<Item = Span>) -> Vec<Span> {
    let mut sorted: Vec<Span> = spans.into_iter().collect();
    sorted.sort_unstable();
    let mut joined: Vec<Span> = Vec::with_capacity(sorted.len());
    for span in sorted {
        match joined.last_mut() {
            Some(last) if span.start <= last.end => last.end = last.end.max(span.end),
            _ => joined.push(span),
        }
    }
    joined
}

/// The hours of one person, ready for questions.
#[derive(Debug, Clone)]
pub(crate) struct Hours {
    /// Regular hours, joined.
    pub(crate) regular: Vec<Span>,
    /// Regular hours and overtime together, joined.
    pub(crate) all: Vec<Span>,
}

impl Hours {
    pub(crate) fn of(person: &Person) -> Self {
        Self {
            regular: joined(person.available.iter().copied()),
            all: joined(person.available.iter().chain(&person.overtime).copied()),
        }
    }

    /// Whether the whole stretch lies in the regular hours and overtime together.
    pub(crate) fn cover(&self, from: Minute, to: Minute) -> bool {
        let place = self.all.partition_point(|span| span.end < to);
        self.all.get(place).is_some_and(|span| span.start <= from)
    }

    /// Minutes of the stretch outside the regular hours.
    pub(crate) fn overtime_in(&self, from: Minute, to: Minute) -> Minute {
        let first = self.regular.partition_point(|span| span.end <= from);
        let regular: Minute = self
            .regular
            .get(first..)
            .unwrap_or_default()
            .iter()
            .take_while(|span| span.start < to)
            .map(|span| span.end.min(to) - span.start.max(from))
            .sum();
        to - from - regular
    }
}

/// The starts at which at least `need` of `people` are there for `duration` minutes, and the most ever there.
pub(crate) fn crew_starts<'a>(
    people: impl Iterator<Item = &'a Hours>,
    need: usize,
    duration: Minute,
) -> (Starts, usize) {
    // A person can take the task at the starts [span.start, span.end - duration]; +1 where that begins, -1 just after.
    let mut turns: Vec<(Minute, i32)> = Vec::new();
    for hours in people {
        for span in &hours.all {
            if span.end - duration >= span.start {
                turns.push((span.start, 1));
                turns.push((span.end - duration + 1, -1));
            }
        }
    }
    turns.sort_unstable();
    let (mut there, mut most) = (0_usize, 0_usize);
    let mut starts: Vec<(Minute, Minute)> = Vec::new();
    let mut begun = None;
    let mut place = 0;
    while let Some(&(at, _)) = turns.get(place) {
        while let Some(&(_, turn)) = turns.get(place).filter(|turn| turn.0 == at) {
            there = if turn > 0 {
                there + 1
            } else {
                there.saturating_sub(1)
            };
            place += 1;
        }
        most = most.max(there);
        match (begun, there >= need) {
            (None, true) => begun = Some(at),
            (Some(first), false) => {
                starts.push((first, at - 1));
                begun = None;
            }
            _ => {}
        }
    }
    (Starts(starts), most)
}

/// The starts at which a hold running from `start + after` to `start + until` stays clear of closed spans.
pub(crate) fn open_starts(
    closed: &[Span],
    after: Minute,
    until: Minute,
    horizon: Minute,
) -> Starts {
    let mut open = Vec::new();
    let mut from = -horizon;
    for span in joined(closed.iter().copied()) {
        // Inside means start + after < span.end and start + until > span.start.
        let last = span.start - until;
        if from <= last {
            open.push((from, last));
        }
        from = from.max(span.end - after);
    }
    open.push((from, horizon));
    Starts(open)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn span(start: Minute, end: Minute) -> Span {
        Span { start, end }
    }

    fn person(available: &[(Minute, Minute)], overtime: &[(Minute, Minute)]) -> Person {
        Person {
            id: "x".into(),
            skills: vec![],
            available: available.iter().map(|&(a, b)| span(a, b)).collect(),
            overtime: overtime.iter().map(|&(a, b)| span(a, b)).collect(),
        }
    }

    #[test]
    fn touching_hours_make_one_stretch() {
        let hours = Hours::of(&person(&[(0, 10), (10, 20)], &[(20, 25)]));
        assert!(hours.cover(5, 22));
        assert!(!hours.cover(5, 26));
        assert_eq!(hours.overtime_in(15, 24), 4);
    }

    #[test]
    fn two_people_start_together_only_where_both_have_the_time() {
        let hours = [
            Hours::of(&person(&[(0, 100)], &[])),
            Hours::of(&person(&[(50, 120)], &[])),
        ];
        let (starts, most) = crew_starts(hours.iter(), 2, 20);
        assert_eq!(starts, Starts(vec![(50, 80)]));
        assert_eq!(most, 2);
        let (starts, most) = crew_starts(hours.iter(), 3, 20);
        assert_eq!((starts, most), (Starts(vec![]), 2));
    }

    #[test]
    fn neighbours_in_a_set_of_starts_are_found_on_both_sides() {
        let starts = Starts(vec![(0, 5), (10, 12)]);
        assert_eq!(starts.next(6), Some(10));
        assert_eq!(starts.next(13), None);
        assert_eq!(starts.previous(9), Some(5));
        assert_eq!(starts.previous(-1), None);
        assert_eq!(
            starts.meet(&Starts(vec![(4, 10)])),
            Starts(vec![(4, 5), (10, 10)])
        );
    }

    #[test]
    fn a_hold_keeps_clear_of_a_closed_span_by_its_length() {
        let starts = open_starts(&[span(100, 200)], 0, 30, 1_000);
        assert_eq!(starts, Starts(vec![(-1_000, 70), (200, 1_000)]));
    }
}
