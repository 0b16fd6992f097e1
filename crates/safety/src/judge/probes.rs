//! The readings of a history as lines over one period: where they are known, and where there is a gap.

use kitchen::site::RuleSet;
use units::Elapsed;

use super::{Refusal, Terms};
use crate::history::{Channel, History, Quantity};
use crate::judgement::{Evidence, Part, Side};

/// Coldest and hottest a kitchen probe reads, °C: below liquid nitrogen and above a grill it has failed.
const LEAST_C: f64 = -200.0;
const MOST_C: f64 = 600.0;

/// A stretch of time, seconds since the start of the period.
pub(super) type Stretch = (f64, f64);

/// One probe over the period.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Track {
    pub(super) name: String,
    /// Known readings inside the period: seconds since its start, °C.
    pub(super) readings: Vec<(f64, f64)>,
}

/// Every temperature probe over one period.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Probes {
    pub(super) tracks: Vec<Track>,
    /// Start of the period, seconds since 1970.
    start_s: i64,
    pub(super) from_s: f64,
    pub(super) to_s: f64,
    /// Longest time between readings, seconds.
    pub(super) gap_s: f64,
    /// Probes that should be there and are not.
    pub(super) missing: usize,
}

/// A temperature that a line passes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Passing {
    /// Earliest moment it can have been, seconds.
    pub(super) earliest_s: f64,
    /// The first reading past it, seconds.
    pub(super) read_s: f64,
}

impl Probes {
    /// The probes in the food: every temperature channel that is not named as air.
    ///
    /// # Errors
    /// Readings that cannot be, or contradict each other; terms that mean nothing.
    pub(super) fn of(
        history: &History,
        terms: &Terms,
        house_gap_min: f64,
    ) -> Result<Self, Refusal> {
        Self::among(history, terms, house_gap_min, |name| {
            !terms.air.iter().any(|a| a == name)
        })
    }

    /// The probes in the air: those named so, or every one where none is named.
    ///
    /// # Errors
    /// As [`Probes::of`].
    pub(super) fn of_air(
        history: &History,
        terms: &Terms,
        house_gap_min: f64,
    ) -> Result<Self, Refusal> {
        Self::among(history, terms, house_gap_min, |name| {
            terms.air.is_empty() || terms.air.iter().any(|a| a == name)
        })
    }

    fn among(
        history: &History,
        terms: &Terms,
        house_gap_min: f64,
        counts: impl Fn(&str) -> bool,
    ) -> Result<Self, Refusal> {
        let gap_s = terms
            .gap
            .map_or(house_gap_min * 60.0, |g| g.seconds() as f64);
        if gap_s <= 0.0 {
            return Err(Refusal::Terms {
                found: "a gap of nothing".to_owned(),
                expected: "a gap above 0 min",
            });
        }
        if terms.probes == 0 {
            return Err(Refusal::Terms {
                found: "no probes placed".to_owned(),
                expected: "one probe or more",
            });
        }
        if let Some((from, to)) = terms.period
            && to < from
        {
            return Err(Refusal::Terms {
                found: format!("a period from {from} s to {to} s"),
                expected: "an end after its start",
            });
        }
        if let Some(state) = terms.state.filter(|_| terms.place != RuleSet::Us) {
            return Err(Refusal::Terms {
                found: format!("{} under the rules of {}", state.word(), terms.place.word()),
                expected: "a state only under the rules of us",
            });
        }
        let channels: Vec<&Channel> = history
            .channels
            .iter()
            .filter(|c| c.quantity == Quantity::TemperatureC)
            .collect();
        if let Some(name) = terms
            .air
            .iter()
            .find(|a| !channels.iter().any(|c| c.name == **a))
        {
            return Err(Refusal::Terms {
                found: format!("{name} named as air, and no such temperature in the log"),
                expected: "names of temperature channels of the log",
            });
        }
        for (i, channel) in channels.iter().enumerate() {
            check(channel)?;
            if channels.iter().take(i).any(|c| c.name == channel.name) {
                return Err(Refusal::SameName {
                    channel: channel.name.clone(),
                });
            }
        }
        let rows = || {
            channels
                .iter()
                .flat_map(|c| c.readings.iter().map(|r| r.at_s))
        };
        let (from, to) = terms
            .period
            .or_else(|| Some((rows().min()?, rows().max()?)))
            .unwrap_or((0, 0));
        let tracks: Vec<Track> = channels
            .iter()
            .filter(|c| counts(&c.name))
            .map(|c| Track {
                name: c.name.clone(),
                readings: c
                    .readings
                    .iter()
                    .filter(|r| (from..=to).contains(&r.at_s))
                    .filter_map(|r| Some(((r.at_s - from) as f64, r.value?)))
                    .collect(),
            })
            .collect();
        Ok(Self {
            missing: terms.probes.saturating_sub(tracks.len()),
            tracks,
            start_s: from,
            from_s: 0.0,
            to_s: (to - from) as f64,
            gap_s,
        })
    }

    /// A reading of a probe as evidence.
    pub(super) fn evidence(&self, track: &Track, reading: (f64, f64), part: Part) -> Evidence {
        Evidence {
            channel: track.name.clone(),
            part,
            at_s: Some(self.start_s + reading.0 as i64),
            value: Some(reading.1),
            unit: "°C",
        }
    }

    /// The first and the last reading of a probe, and what else decided in between, in order of time.
    pub(super) fn told(&self, track: &Track, deciding: &[((f64, f64), Part)]) -> Vec<Evidence> {
        let ends = [
            (track.readings.first(), Part::First),
            (track.readings.last(), Part::Last),
        ];
        let mut all: Vec<Evidence> = ends
            .into_iter()
            .filter_map(|(r, part)| Some(self.evidence(track, *r?, part)))
            .chain(
                deciding
                    .iter()
                    .map(|(r, part)| self.evidence(track, *r, *part)),
            )
            .collect();
        all.sort_by_key(|e| (e.at_s, e.part));
        all
    }

    /// The reading farthest outside a limit, or nearest it, of every probe: the first of equals.
    pub(super) fn worst(&self, side: Side, limit_c: f64) -> Option<(&Track, (f64, f64))> {
        self.tracks
            .iter()
            .flat_map(|t| t.readings.iter().map(move |r| (t, *r)))
            .min_by(|a, b| {
                side.margin(a.1.1, limit_c)
                    .total_cmp(&side.margin(b.1.1, limit_c))
            })
    }

    /// First, worst and last reading of the probe that is farthest outside a limit, or nearest it.
    pub(super) fn told_worst(&self, side: Side, limit_c: f64) -> Vec<Evidence> {
        self.worst(side, limit_c)
            .map_or_else(Vec::new, |(t, r)| self.told(t, &[(r, Part::Worst)]))
    }

    /// The first and last reading of every probe inside a stretch.
    pub(super) fn told_hold(&self, stretch: Stretch) -> Vec<Evidence> {
        let inside = |r: &&(f64, f64)| r.0 >= stretch.0 && r.0 <= stretch.1;
        self.tracks
            .iter()
            .flat_map(|t| {
                let first = t.readings.iter().find(inside);
                let last = t.readings.iter().rfind(inside);
                let hold = [(first, Part::HoldStarts), (last, Part::HoldEnds)];
                let deciding: Vec<_> = hold
                    .into_iter()
                    .filter_map(|(r, part)| Some((*r?, part)))
                    .collect();
                self.told(t, &deciding)
            })
            .collect()
    }

    /// Length of the period, seconds.
    pub(super) fn length_s(&self) -> f64 {
        self.to_s - self.from_s
    }

    /// Why the whole period is not covered by every probe, in words; `None` when it is.
    pub(super) fn uncovered(&self) -> Option<String> {
        self.lacking()
            .or_else(|| self.tracks.iter().find_map(|t| self.gap_in(t, self.to_s)))
    }

    /// Why there is too little to go by at all.
    pub(super) fn lacking(&self) -> Option<String> {
        if self.missing > 0 || self.tracks.is_empty() {
            let placed = self.missing + self.tracks.len();
            return Some(format!(
                "{} of {placed} probes in the log",
                self.tracks.len()
            ));
        }
        self.tracks.iter().find(|t| t.readings.len() < 2).map(|t| {
            format!(
                "{}: {} reading, two are the least",
                t.name,
                t.readings.len()
            )
        })
    }

    /// Whether no probe has even two readings: nothing can be said, not even that a rule is broken.
    pub(super) fn silent(&self) -> bool {
        self.tracks.iter().all(|t| t.readings.len() < 2)
    }

    /// The first gap of a probe that is too long, up to a moment, in words.
    pub(super) fn gap_in(&self, track: &Track, until_s: f64) -> Option<String> {
        let mut before = self.from_s;
        for at in track.readings.iter().map(|r| r.0).chain([self.to_s]) {
            if before >= until_s {
                break;
            }
            if at - before > self.gap_s {
                return Some(format!(
                    "{}: no reading for {} from {} after the start; {} is the longest gap that counts",
                    track.name,
                    span(at - before),
                    span(before - self.from_s),
                    span(self.gap_s)
                ));
            }
            before = at;
        }
        None
    }

    /// Whether two moments are near enough for a straight line.
    pub(super) fn joined(&self, a_s: f64, b_s: f64) -> bool {
        b_s - a_s <= self.gap_s
    }

    /// When a probe first reads `limit_c` or less, from reading number `first` on.
    pub(super) fn first_at_most(
        &self,
        track: &Track,
        first: usize,
        limit_c: f64,
    ) -> Option<Passing> {
        let at = (first..track.readings.len()).find(|i| track.readings[*i].1 <= limit_c)?;
        let (read_s, value) = track.readings[at];
        let Some(&(before_s, before)) = at
            .checked_sub(1)
            .and_then(|i| track.readings.get(i))
            .filter(|_| at > first)
        else {
            let covered = at > 0 || self.joined(self.from_s, read_s);
            return Some(Passing {
                earliest_s: if covered { read_s } else { self.from_s },
                read_s,
            });
        };
        let earliest_s = if self.joined(before_s, read_s) {
            before_s + (before - limit_c) / (before - value) * (read_s - before_s)
        } else {
            before_s
        };
        Some(Passing { earliest_s, read_s })
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

fn check(channel: &Channel) -> Result<(), Refusal> {
    let mut before: Option<i64> = None;
    for reading in &channel.readings {
        if let Some(before_s) = before.filter(|b| *b >= reading.at_s) {
            return Err(Refusal::Contradictory {
                channel: channel.name.clone(),
                before_s,
                at_s: reading.at_s,
            });
        }
        before = Some(reading.at_s);
        if let Some(value) = reading.value.filter(|v| !(LEAST_C..=MOST_C).contains(v)) {
            return Err(Refusal::Impossible {
                channel: channel.name.clone(),
                at_s: reading.at_s,
                value,
                unit: "°C",
                least: LEAST_C,
                most: MOST_C,
            });
        }
    }
    Ok(())
}

/// A span of seconds as it is said: "2 h 05 min".
pub(super) fn span(seconds: f64) -> String {
    // Rounded to whole seconds: what is judged is the number, not the words.
    Elapsed::from_seconds(seconds.round() as i64)
        .map_or_else(|_| format!("{seconds} s"), |e| e.to_string())
}
