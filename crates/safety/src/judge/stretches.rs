//! Stretches of time in which probes are on one side of a limit, and how long they are in all.

use super::probes::{Probes, Track};
use crate::judgement::Side;

/// A stretch of time, seconds since the start of the period.
pub(super) type Stretch = (f64, f64);

impl Probes {
    /// How long a probe is known to have been above `low_c` and at or below `high_c`, up to a moment, seconds. Gaps too
    /// long to join count nothing.
    pub(super) fn time_between(&self, track: &Track, low_c: f64, high_c: f64, until_s: f64) -> f64 {
        track
            .readings
            .windows(2)
            .filter(|p| self.joined(p[0].0, p[1].0) && p[0].0 < until_s)
            .map(|p| {
                let ((t0, a), (t1, b)) = (p[0], p[1]);
                let end = t1.min(until_s);
                let value = a + (b - a) * (end - t0) / (t1 - t0);
                part_between(a, value, low_c, high_c) * (end - t0)
            })
            .sum()
    }

    /// How long a channel is known to have been at a value or above, seconds.
    pub(super) fn time_at_least(&self, track: &Track, least: f64) -> f64 {
        self.stretches_of(track, Side::AtLeast, least, false)
            .iter()
            .map(|s| length(*s))
            .sum()
    }

    /// Stretches in which every probe is on the good side of a limit. `hoped`: gaps too long to join are
    /// counted as good, for telling *broken* from *not shown*.
    pub(super) fn stretches(&self, side: Side, limit_c: f64, hoped: bool) -> Vec<Stretch> {
        let mut all = vec![(self.from_s, self.to_s)];
        for track in &self.tracks {
            all = both(&all, &self.stretches_of(track, side, limit_c, hoped));
        }
        if self.tracks.is_empty() && !hoped {
            Vec::new()
        } else {
            all
        }
    }

    fn stretches_of(&self, track: &Track, side: Side, limit_c: f64, hoped: bool) -> Vec<Stretch> {
        let mut good: Vec<Stretch> = Vec::new();
        let mut add = |from: f64, to: f64| match good.last_mut() {
            Some(last) if last.1 >= from => last.1 = to,
            _ => good.push((from, to)),
        };
        let mut before: Option<(f64, f64)> = None;
        for &(at, value) in &track.readings {
            let margin = side.margin(value, limit_c);
            match before {
                None if hoped && at - self.from_s > self.gap_s => add(self.from_s, at),
                Some((earlier, _)) if !self.joined(earlier, at) && hoped => add(earlier, at),
                Some((earlier, _)) if !self.joined(earlier, at) => {}
                Some((earlier, was)) => {
                    let cross = earlier + was / (was - margin) * (at - earlier);
                    match (was >= 0.0, margin >= 0.0) {
                        (true, true) => add(earlier, at),
                        (true, false) => add(earlier, cross),
                        (false, true) => add(cross, at),
                        (false, false) => {}
                    }
                }
                None => {}
            }
            if margin >= 0.0 {
                add(at, at);
            }
            before = Some((at, margin));
        }
        let last = before.map_or(self.from_s, |(at, _)| at);
        if hoped && self.to_s - last > self.gap_s {
            add(last, self.to_s);
        }
        good
    }
}

/// The part of a straight line from `a` to `b` that lies above `low` and at or below `high`.
fn part_between(a: f64, b: f64, low: f64, high: f64) -> f64 {
    let (least, most) = (a.min(b), a.max(b));
    if most > least {
        (most.min(high) - least.max(low)).max(0.0) / (most - least)
    } else if a > low && a <= high {
        1.0
    } else {
        0.0
    }
}

/// Where two lists of stretches overlap; a single moment counts.
fn both(a: &[Stretch], b: &[Stretch]) -> Vec<Stretch> {
    a.iter()
        .flat_map(|x| b.iter().map(move |y| (x.0.max(y.0), x.1.min(y.1))))
        .filter(|(from, to)| from <= to)
        .collect()
}

/// The longest of some stretches, the first of equals; `None` when there is none.
pub(super) fn longest(stretches: &[Stretch]) -> Option<Stretch> {
    stretches
        .iter()
        .copied()
        .reduce(|a, b| if length(b) > length(a) { b } else { a })
}

/// Length of a stretch, seconds.
pub(super) fn length(stretch: Stretch) -> f64 {
    stretch.1 - stretch.0
}
