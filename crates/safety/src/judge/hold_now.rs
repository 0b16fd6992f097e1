//! Where the hold of a hot smoke stands while it runs: for a screen beside the smoker, never in place of the verdict.

use units::Elapsed;

use super::cooking::HoldClock;
use super::figure::row;
use super::probes::Probes;
use super::stretches::{length, longest};
use super::{HOLD_GAP_MIN, Refusal, Terms};
use crate::history::History;
use crate::judgement::Side;

/// The hold of `fish-core` as of the last moment every probe was read.
#[derive(Debug, Clone, PartialEq)]
pub struct HoldNow {
    /// Where it stands. What was held is counted up to the last moment every probe was read, and not beyond.
    pub clock: HoldClock,
    /// The temperature that starts it, °C.
    pub at_c: f64,
    /// How long it has to be held.
    pub need: Elapsed,
    /// Longest time between two readings that still counts.
    pub gap: Elapsed,
    /// Probes that were read at all.
    pub probes: usize,
    /// The coldest of the probes' last readings: its name, °C. `None` without a reading.
    pub coldest: Option<(String, f64)>,
    /// Probes whose last row is empty: lost.
    pub lost: Vec<String>,
    /// The last moment every probe was read, seconds since 1970.
    pub as_of_s: Option<i64>,
}

/// Where the hold stands, for probes that are read one after the other and not in one row.
///
/// # Method
/// Probes read by hand have moments of their own. The hold counts to the last moment all of them cover; a last reading
/// below the temperature, of any probe, ends it whatever the others said since.
/// # Source
/// `smoked_fish.hot.core` (read), as [`fish_core`](super::fish_core) reads it; the gap is the house's ([`HOLD_GAP_MIN`]).
/// # Errors
/// Readings that cannot be, or contradict each other; terms that mean nothing.
pub fn hold_now(history: &History, terms: &Terms) -> Result<HoldNow, Refusal> {
    let row = row("smoked_fish.hot.core", terms)?;
    let (at_c, need_s) = (row.limit_c()?, row.number("hold_min")? * 60.0);
    let probes = Probes::of(history, terms, HOLD_GAP_MIN)?;
    let lost: Vec<String> = history
        .channels
        .iter()
        .filter(|c| probes.tracks.iter().any(|t| t.name == c.name))
        .filter(|c| c.readings.last().is_some_and(|r| r.value.is_none()))
        .map(|c| c.name.clone())
        .collect();
    let lasts: Vec<(&str, f64, f64)> = probes
        .tracks
        .iter()
        .filter_map(|t| t.readings.last().map(|(at, c)| (t.name.as_str(), *at, *c)))
        .collect();
    let coldest = lasts
        .iter()
        .min_by(|a, b| a.2.total_cmp(&b.2))
        .map(|(name, _, c)| ((*name).to_owned(), *c));
    let every_probe = probes.missing == 0 && lasts.len() == probes.tracks.len();
    let as_of = lasts
        .iter()
        .map(|l| l.1)
        .reduce(f64::min)
        .filter(|_| every_probe);
    let stretches = probes.stretches(Side::AtLeast, at_c, false);
    // Whole seconds, rounded down: a hold is never made longer than it was.
    let whole = |s: f64| Elapsed::from_seconds(s.floor() as i64).unwrap_or(Elapsed::ZERO);
    let best = longest(&stretches).map_or(0.0, length);
    let running = stretches.last().filter(|(_, to)| {
        as_of.is_some_and(|moment| *to >= moment)
            && lost.is_empty()
            && lasts.iter().all(|l| l.2 >= at_c)
    });
    let clock = match running {
        _ if !every_probe => HoldClock::NotStarted,
        _ if best >= need_s => HoldClock::Held(whole(best)),
        Some(stretch) => HoldClock::Counting(whole(length(*stretch))),
        None => HoldClock::NotStarted,
    };
    Ok(HoldNow {
        clock,
        at_c,
        need: whole(need_s),
        gap: whole(probes.gap_s),
        probes: probes.tracks.len(),
        coldest,
        lost,
        as_of_s: as_of.map(|s| probes.moment(s)),
    })
}

#[cfg(test)]
mod tests {
    use kitchen::site::RuleSet;

    use super::*;
    use crate::history::{Channel, Quantity, Reading};

    /// A probe and its readings: minute and °C, `None` where it was lost.
    type Probe<'a> = (&'a str, &'a [(i64, Option<f64>)]);

    fn read(probes: &[Probe]) -> HoldNow {
        let history = History {
            channels: probes
                .iter()
                .map(|(name, readings)| Channel {
                    name: (*name).to_owned(),
                    quantity: Quantity::TemperatureC,
                    readings: readings
                        .iter()
                        .map(|(minute, value)| Reading {
                            at_s: minute * 60,
                            value: *value,
                        })
                        .collect(),
                })
                .collect(),
        };
        hold_now(&history, &Terms::of(RuleSet::Us)).unwrap()
    }

    fn minutes(min: f64) -> Elapsed {
        Elapsed::from_minutes(min).unwrap()
    }

    /// The 63 °C and 30 min are the state rule's, as in `tests/examples.rs`; the whole degree is the house's.
    #[test]
    fn the_coldest_probe_starts_it_and_probes_read_in_turn_count_to_the_last_of_them() {
        let now = read(&[("1", &[(0, Some(64.0))]), ("2", &[(1, Some(62.8))])]);
        assert_eq!(now.clock, HoldClock::NotStarted);
        assert_eq!(now.coldest, Some(("2".to_owned(), 62.8)));
        assert_eq!((now.at_c, now.need), (63.0, minutes(30.0)));
        let mut one = vec![(0, Some(64.0)), (5, Some(64.0)), (10, Some(64.0))];
        let two = [(1, Some(63.1)), (6, Some(63.1)), (11, Some(63.1))];
        let now = read(&[("1", &one), ("2", &two)]);
        // From 1 min, where both are read, to 10 min, where the first was read last.
        assert_eq!(now.clock, HoldClock::Counting(minutes(9.0)));
        assert_eq!(now.as_of_s, Some(600));
        // The first probe is read again, the second not yet: the clock waits for it and does not stop.
        one.push((15, Some(64.0)));
        let now = read(&[("1", &one), ("2", &two)]);
        assert_eq!(now.clock, HoldClock::Counting(minutes(10.0)));
        // Read again and below: it is over at once.
        one.push((16, Some(62.9)));
        assert_eq!(
            read(&[("1", &one), ("2", &two)]).clock,
            HoldClock::NotStarted
        );
    }

    #[test]
    fn a_lost_probe_and_a_gap_count_nothing() {
        let now = read(&[("1", &[(0, Some(64.0)), (5, Some(64.0)), (6, None)])]);
        assert_eq!(now.clock, HoldClock::NotStarted);
        assert_eq!(now.lost, ["1"]);
        // Six minutes apart: only the last moment is known.
        let now = read(&[("1", &[(0, Some(64.0)), (6, Some(64.0))])]);
        assert_eq!(now.clock, HoldClock::Counting(Elapsed::ZERO));
        let held: Vec<_> = (0..=6).map(|i| (5 * i, Some(63.0))).collect();
        assert_eq!(read(&[("1", &held)]).clock, HoldClock::Held(minutes(30.0)));
        assert_eq!(read(&[]).clock, HoldClock::NotStarted);
    }
}
