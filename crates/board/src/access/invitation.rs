//! One-time sign-ins: a square to look at with a tablet, and six digits to type. They live in memory for ten minutes,
//! as hashes, and end with the program.

use std::sync::{Mutex, PoisonError};

use jiff::{SignedDuration, Timestamp};
use store::{Label, Name, PersonId};

use super::secret::{hashed, one_time, pin, same};
use super::{Chance, NoChance};

/// How long one may be used.
pub(crate) const LASTS: SignedDuration = SignedDuration::from_mins(10);
/// Wrong numbers before it is void.
const MOST_WRONG: u32 = 5;
/// Kept at a time; the oldest goes.
const MOST_KEPT: usize = 200;

/// Who is let in where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Offer {
    pub(crate) person: PersonId,
    pub(crate) name: Name,
    pub(crate) station: Label,
}

/// The two ways to use it; shown once, kept nowhere.
pub(crate) struct Ways {
    pub(crate) token: String,
    pub(crate) pin: String,
}

struct Invitation {
    offer: Offer,
    token: String,
    /// Of the token and the number together: six digits by themselves are soon tried through.
    pin: String,
    ends: Timestamp,
    wrong: u32,
}

/// All that are open.
#[derive(Default)]
pub(crate) struct Invitations(Mutex<Vec<Invitation>>);

impl Invitations {
    /// A new one; it takes the place of an older one for the same person and place.
    pub(crate) fn give(
        &self,
        offer: Offer,
        chance: &dyn Chance,
        now: Timestamp,
    ) -> Result<Ways, NoChance> {
        let ways = Ways {
            token: one_time(chance)?,
            pin: pin(chance)?,
        };
        let token = hashed("sign-in", &ways.token);
        let mut open = self.open(now);
        open.retain(|i| i.offer != offer);
        if open.len() >= MOST_KEPT {
            open.remove(0);
        }
        open.push(Invitation {
            pin: hashed(&token, &ways.pin),
            token,
            offer,
            ends: now.saturating_add(LASTS).unwrap_or(now),
            wrong: 0,
        });
        Ok(ways)
    }

    /// Whom a token would let in.
    pub(crate) fn of_token(&self, token: &str, now: Timestamp) -> Option<Offer> {
        let token = hashed("sign-in", token);
        let open = self.open(now);
        let found = open.iter().find(|i| same(&i.token, &token));
        found.map(|i| i.offer.clone())
    }

    /// Uses a token; a second time there is none.
    pub(crate) fn use_token(&self, token: &str, now: Timestamp) -> Option<Offer> {
        let token = hashed("sign-in", token);
        let mut open = self.open(now);
        let at = open.iter().position(|i| same(&i.token, &token))?;
        Some(open.remove(at).offer)
    }

    /// Uses the number of somebody. A wrong one counts against every sign-in open for them; the fifth makes it void.
    pub(crate) fn use_pin(&self, person: PersonId, pin: &str, now: Timestamp) -> Option<Offer> {
        let mut open = self.open(now);
        let fits =
            |i: &Invitation| i.offer.person == person && same(&i.pin, &hashed(&i.token, pin));
        if let Some(at) = open.iter().position(fits) {
            return Some(open.remove(at).offer);
        }
        for i in open.iter_mut().filter(|i| i.offer.person == person) {
            i.wrong += 1;
        }
        open.retain(|i| i.wrong < MOST_WRONG);
        None
    }

    /// Ends every open one of a person.
    pub(crate) fn end(&self, person: PersonId, now: Timestamp) {
        self.open(now).retain(|i| i.offer.person != person);
    }

    fn open(&self, now: Timestamp) -> std::sync::MutexGuard<'_, Vec<Invitation>> {
        let mut open = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        open.retain(|i| now < i.ends);
        open
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Counted(Mutex<u8>);

    impl Chance for Counted {
        fn fill(&self, bytes: &mut [u8]) -> Result<(), NoChance> {
            let mut n = self.0.lock().unwrap();
            *n += 1;
            bytes.fill(*n);
            Ok(())
        }
    }

    fn at(second: i64) -> Timestamp {
        Timestamp::from_second(1_800_000_000 + second).unwrap()
    }

    fn offer(person: i64, station: &str) -> Offer {
        Offer {
            person: PersonId(person),
            name: Name::new("Ode").unwrap(),
            station: Label::new(station).unwrap(),
        }
    }

    fn given(person: i64, station: &str, all: &Invitations) -> Ways {
        let chance = Counted(Mutex::new(u8::try_from(person).unwrap() * 10));
        all.give(offer(person, station), &chance, at(0)).unwrap()
    }

    #[test]
    fn a_token_works_once_and_takes_its_number_with_it() {
        let all = Invitations::default();
        let ways = given(1, "smoker", &all);
        assert_eq!(all.of_token(&ways.token, at(1)), Some(offer(1, "smoker")));
        assert_eq!(all.use_token(&ways.token, at(1)), Some(offer(1, "smoker")));
        assert_eq!(all.use_token(&ways.token, at(1)), None);
        assert_eq!(all.use_pin(PersonId(1), &ways.pin, at(1)), None);
    }

    #[test]
    fn ten_minutes_and_no_longer() {
        let all = Invitations::default();
        let ways = given(1, "smoker", &all);
        assert!(all.of_token(&ways.token, at(599)).is_some());
        assert!(all.of_token(&ways.token, at(600)).is_none());
        assert!(all.use_pin(PersonId(1), &ways.pin, at(600)).is_none());
    }

    #[test]
    fn a_number_is_void_after_five_wrong_ones_and_so_is_its_token() {
        let all = Invitations::default();
        let (ode, other) = (given(1, "smoker", &all), given(2, "smoker", &all));
        for _ in 0..4 {
            assert!(all.use_pin(PersonId(1), "nonsense", at(1)).is_none());
        }
        // The number of somebody else is a wrong one, too.
        assert_ne!(ode.pin, other.pin);
        assert!(all.use_pin(PersonId(1), &other.pin, at(1)).is_none());
        assert!(all.use_pin(PersonId(1), &ode.pin, at(1)).is_none());
        assert!(all.use_token(&ode.token, at(1)).is_none());
        assert!(all.use_pin(PersonId(2), &other.pin, at(1)).is_some());
    }

    #[test]
    fn a_new_one_for_the_same_place_ends_the_old() {
        let all = Invitations::default();
        let first = given(1, "smoker", &all);
        let elsewhere = given(2, "cold bench", &all);
        let chance = Counted(Mutex::new(99));
        all.give(offer(1, "smoker"), &chance, at(1)).unwrap();
        assert!(all.use_token(&first.token, at(2)).is_none());
        all.end(PersonId(2), at(2));
        assert!(all.use_token(&elsewhere.token, at(2)).is_none());
    }

    #[test]
    fn neither_token_nor_number_is_kept() {
        let all = Invitations::default();
        let ways = given(1, "smoker", &all);
        let open = all.open(at(0));
        assert!(open.iter().all(|i| i.token != ways.token
            && !i.token.contains(&ways.token)
            && !i.pin.contains(&ways.pin)));
    }
}
