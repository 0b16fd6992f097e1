//! The readings of a history as lines over one period: where they are known, and where there is a gap.

use kitchen::site::RuleSet;
use units::Elapsed;

use super::{Refusal, Terms};
use crate::history::{Channel, History, Quantity};

/// Coldest and hottest a kitchen probe reads, °C: below liquid nitrogen and above a grill it has failed.
const LEAST_C: f64 = -200.0;
const MOST_C: f64 = 600.0;

/// One probe over the period.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Track {
    pub(super) name: String,
    /// Known readings inside the period: seconds since its start, value.
    pub(super) readings: Vec<(f64, f64)>,
}

/// Every temperature probe over one period.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Probes {
    pub(super) tracks: Vec<Track>,
    /// Unit of the readings.
    pub(super) unit: &'static str,
    /// Start of the period, seconds since 1970.
    pub(super) start_s: i64,
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
    /// Latest moment it can have been, seconds.
    pub(super) latest_s: f64,
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
        Self::among(
            history,
            terms,
            house_gap_min,
            Quantity::TemperatureC,
            |name| !terms.air.iter().any(|a| a == name),
        )
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
        Self::among(
            history,
            terms,
            house_gap_min,
            Quantity::TemperatureC,
            |name| terms.air.is_empty() || terms.air.iter().any(|a| a == name),
        )
    }

    /// Every channel of another quantity than temperature.
    ///
    /// # Errors
    /// As [`Probes::of`].
    pub(super) fn read_as(
        history: &History,
        terms: &Terms,
        house_gap_min: f64,
        quantity: Quantity,
    ) -> Result<Self, Refusal> {
        let mut all = Self::among(history, terms, house_gap_min, quantity, |_| true)?;
        if quantity == Quantity::HumidityPct {
            // The probes placed are those of the food; a channel of the air is there or is not.
            all.missing = 0;
        }
        Ok(all)
    }

    fn among(
        history: &History,
        terms: &Terms,
        house_gap_min: f64,
        quantity: Quantity,
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
            .filter(|c| c.quantity == quantity)
            .collect();
        let temperature = |name: &str| {
            history
                .channels
                .iter()
                .any(|c| c.quantity == Quantity::TemperatureC && c.name == name)
        };
        if let Some(name) = terms.air.iter().find(|a| !temperature(a)) {
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
        // Rows of the log are those of its temperatures, whatever else it holds; of a log without any, its own.
        let temperatures = history
            .channels
            .iter()
            .any(|c| c.quantity == Quantity::TemperatureC);
        let rows = || {
            history
                .channels
                .iter()
                .filter(|c| {
                    c.quantity
                        == if temperatures {
                            Quantity::TemperatureC
                        } else {
                            quantity
                        }
                })
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
            unit: range(quantity).2,
            start_s: from,
            from_s: 0.0,
            to_s: (to - from) as f64,
            gap_s,
        })
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

    /// Whether every probe is read all through a stretch, without a gap.
    pub(super) fn covered_between(&self, from_s: f64, to_s: f64) -> bool {
        self.missing == 0
            && self.tracks.iter().all(|t| {
                let mut inside = t
                    .readings
                    .iter()
                    .map(|r| r.0)
                    .filter(|at| (from_s..=to_s).contains(at))
                    .chain([to_s]);
                let mut before = from_s;
                inside.all(|at| {
                    let near = self.joined(before, at);
                    before = at;
                    near
                })
            })
    }

    /// A moment of the period, seconds since 1970.
    pub(super) fn moment(&self, at_s: f64) -> i64 {
        self.start_s + at_s as i64
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
                latest_s: read_s,
                read_s,
            });
        };
        let (earliest_s, latest_s) = if self.joined(before_s, read_s) {
            let at = before_s + (before - limit_c) / (before - value) * (read_s - before_s);
            (at, at)
        } else {
            (before_s, read_s)
        };
        Some(Passing {
            earliest_s,
            latest_s,
            read_s,
        })
    }
}

/// What a channel can read: least, most, unit.
const fn range(quantity: Quantity) -> (f64, f64, &'static str) {
    match quantity {
        Quantity::TemperatureC => (LEAST_C, MOST_C, "°C"),
        Quantity::Ph => (0.0, 14.0, "pH"),
        Quantity::HumidityPct => (0.0, 100.0, "%"),
        Quantity::WeightG => (0.0, f64::MAX, "g"),
    }
}

fn check(channel: &Channel) -> Result<(), Refusal> {
    let (least, most, unit) = range(channel.quantity);
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
        if let Some(value) = reading.value.filter(|v| !(least..=most).contains(v)) {
            return Err(Refusal::Impossible {
                channel: channel.name.clone(),
                at_s: reading.at_s,
                value,
                unit,
                least,
                most,
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
