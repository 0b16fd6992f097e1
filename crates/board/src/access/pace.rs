//! How often somebody may try or write within a minute.

use std::collections::{BTreeMap, VecDeque};
use std::sync::{Mutex, PoisonError};

use jiff::{SignedDuration, Timestamp};

/// What is counted within.
const MINUTE: SignedDuration = SignedDuration::from_secs(60);

/// At most so many of one and so many of all within any sixty seconds.
pub(crate) struct Pace {
    each: usize,
    all: usize,
    taken: Mutex<BTreeMap<String, VecDeque<Timestamp>>>,
}

/// It was too often: seconds until there is room again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct TooOften(pub(crate) i64);

impl Pace {
    pub(crate) fn new((each, all): (usize, usize)) -> Self {
        Self {
            each,
            all,
            taken: Mutex::default(),
        }
    }

    /// Counts one of `who`, before it is known how it ends: tries at the same moment count too.
    pub(crate) fn take(&self, who: &str, now: Timestamp) -> Result<(), TooOften> {
        let mut taken = self.taken.lock().unwrap_or_else(PoisonError::into_inner);
        // What lies a minute back is forgotten. A clock set back keeps what it counted until it has caught up.
        taken.retain(|_, times| {
            times.retain(|t| now.duration_since(*t) < MINUTE);
            !times.is_empty()
        });
        let wait = |oldest: Option<&Timestamp>| {
            let over = oldest.map_or(MINUTE, |t| MINUTE - now.duration_since(*t));
            TooOften(over.as_secs().clamp(0, 3600) + 1)
        };
        if let Some(own) = taken.get(who)
            && own.len() >= self.each
        {
            return Err(wait(own.front()));
        }
        if taken.values().map(VecDeque::len).sum::<usize>() >= self.all {
            return Err(wait(taken.values().filter_map(VecDeque::front).min()));
        }
        taken.entry(who.to_owned()).or_default().push_back(now);
        Ok(())
    }

    /// Takes one of `who` back: it was no wrong one.
    pub(crate) fn give_back(&self, who: &str) {
        let mut taken = self.taken.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(own) = taken.get_mut(who) {
            own.pop_back();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(second: i64) -> Timestamp {
        Timestamp::from_second(1_800_000_000 + second).unwrap()
    }

    #[test]
    fn the_sixth_waits_until_the_first_is_a_minute_old() {
        let pace = Pace::new((5, 100));
        for s in 0..5 {
            pace.take("a", at(s)).unwrap();
        }
        assert_eq!(pace.take("a", at(5)), Err(TooOften(56)));
        assert_eq!(pace.take("a", at(59)), Err(TooOften(2)));
        pace.take("b", at(59)).unwrap();
        pace.take("a", at(60)).unwrap();
        assert!(pace.take("a", at(60)).is_err());
    }

    #[test]
    fn many_devices_together_wait_too() {
        let pace = Pace::new((5, 12));
        for n in 0..12 {
            pace.take(&format!("d{n}"), at(0)).unwrap();
        }
        assert!(pace.take("another", at(1)).is_err());
        pace.take("another", at(60)).unwrap();
    }

    #[test]
    fn what_is_given_back_does_not_count() {
        let pace = Pace::new((1, 1));
        for _ in 0..3 {
            pace.take("a", at(0)).unwrap();
            pace.give_back("a");
        }
        pace.give_back("nobody");
        pace.take("a", at(0)).unwrap();
        assert!(pace.take("a", at(0)).is_err());
    }

    #[test]
    fn a_clock_set_back_counts_on() {
        let pace = Pace::new((1, 9));
        pace.take("a", at(600)).unwrap();
        assert!(pace.take("a", at(0)).is_err());
        pace.take("a", at(661)).unwrap();
    }
}
