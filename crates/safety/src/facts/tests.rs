//! Facts just inside, on and just outside; missing, contradictory and impossible.

mod laws;

use kitchen::site::RuleSet;

use super::*;
use crate::judge::{Refusal, Terms};
use crate::judgement::Holds;
use crate::rules::State;
use crate::verdict::Verdict::{self, Broken, NotShown, Shown};

fn us() -> Terms {
    Terms::of(RuleSet::Us)
}

fn michigan() -> Terms {
    Terms {
        state: Some(State::Michigan),
        ..us()
    }
}

/// A sample whose water-phase salt is `wps` percent of a fish with 60 % of water.
fn salt(taken: Taken, wps: f64) -> SaltSample {
    SaltSample {
        sample: format!("{taken:?} {wps}"),
        taken,
        salt_pct: wps * 60.0 / (100.0 - wps),
        water_pct: 60.0,
        nitrite_ppm: None,
    }
}

fn salted(terms: &Terms, pack: Pack, samples: &[SaltSample]) -> Verdict {
    water_phase_salt(terms, pack, samples).unwrap().verdict
}

#[test]
fn salt_at_the_thickest_place_decides() {
    use Taken::{Blended, Elsewhere, Thickest};
    let rop = Pack::ReducedOxygen;
    for (samples, verdict) in [
        (vec![], NotShown),
        (vec![salt(Thickest, 3.501)], Shown),
        (vec![salt(Thickest, 3.499)], Broken),
        // A mean above the limit is no thickest place, however high; below it is broken all the same.
        (vec![salt(Blended, 3.91)], NotShown),
        (vec![salt(Blended, 9.0)], NotShown),
        (vec![salt(Blended, 3.4)], Broken),
        (vec![salt(Elsewhere, 4.0)], NotShown),
        (vec![salt(Thickest, 4.0), salt(Elsewhere, 3.4)], Broken),
        (vec![salt(Thickest, 4.0), salt(Elsewhere, 3.6)], Shown),
    ] {
        assert_eq!(salted(&us(), rop, &samples), verdict, "{samples:?}");
    }
    let mean = water_phase_salt(&us(), rop, &[salt(Blended, 3.91)]).unwrap();
    assert!(
        mean.next.contains("a mean is not the thickest place"),
        "{}",
        mean.next
    );
    assert_eq!(mean.holds, Holds::AsGuidance);
}

/// In air 2.5 % by Maine, 3.0 % by Michigan, and there only: a stricter place never passes what a laxer one fails.
#[test]
fn air_packs_by_state() {
    for (wps, maine, in_michigan) in [
        (2.499, Broken, Broken),
        (2.501, Shown, Broken),
        (2.999, Shown, Broken),
        (3.001, Shown, Shown),
    ] {
        let loin = [salt(Taken::Thickest, wps)];
        assert_eq!(salted(&us(), Pack::Air, &loin), maine, "{wps}");
        assert_eq!(salted(&michigan(), Pack::Air, &loin), in_michigan, "{wps}");
    }
    let there = Terms::of(RuleSet::England);
    assert_eq!(
        salted(&there, Pack::Air, &[salt(Taken::Thickest, 4.0)]),
        NotShown
    );
}

#[test]
fn less_salt_with_nitrite_that_was_found() {
    let with = |nitrite| SaltSample {
        nitrite_ppm: nitrite,
        ..salt(Taken::Thickest, 3.2)
    };
    for (nitrite, verdict) in [
        (Some(100.0), Shown),
        (Some(200.0), Shown),
        (Some(99.9), Broken),
        (Some(200.1), Broken),
        (None, NotShown),
    ] {
        let found = salted(&us(), Pack::ReducedOxygenWithNitrite, &[with(nitrite)]);
        assert_eq!(found, verdict, "{nitrite:?}");
    }
    assert_eq!(
        salted(&us(), Pack::ReducedOxygen, &[with(Some(150.0))]),
        Broken
    );
}

#[test]
fn analyses_that_cannot_be_are_refused() {
    for (salt_pct, water_pct) in [(-0.1, 60.0), (3.0, 0.0), (40.0, 61.0), (f64::NAN, 60.0)] {
        let sample = SaltSample {
            salt_pct,
            water_pct,
            ..salt(Taken::Thickest, 3.0)
        };
        let refused = water_phase_salt(&us(), Pack::Air, &[sample]);
        assert!(
            matches!(refused, Err(Refusal::Terms { .. })),
            "{salt_pct} {water_pct}"
        );
    }
    for aw in [0.0, 1.01, f64::NAN] {
        let sample = AwSample {
            sample: "1".to_owned(),
            taken: Taken::Thickest,
            aw,
            checked: true,
        };
        assert!(water_activity(&us(), &[sample]).is_err(), "{aw}");
    }
}

#[test]
fn water_activity_by_a_checked_meter() {
    let of = |taken, aw, checked| {
        let sample = AwSample {
            sample: "1".to_owned(),
            taken,
            aw,
            checked,
        };
        water_activity(&us(), &[sample]).unwrap().verdict
    };
    assert_eq!(of(Taken::Thickest, 0.849, true), Shown);
    assert_eq!(of(Taken::Thickest, 0.85, true), Shown);
    assert_eq!(of(Taken::Thickest, 0.851, true), Broken);
    assert_eq!(of(Taken::Thickest, 0.80, false), NotShown);
    assert_eq!(of(Taken::Blended, 0.80, true), NotShown);
    assert_eq!(water_activity(&us(), &[]).unwrap().verdict, NotShown);
}

fn fish(species: &str, origin: Origin, heated: bool, freezing: Freezing) -> Fish {
    Fish {
        species: species.to_owned(),
        origin,
        heated,
        freezing,
    }
}

/// Farmed char hot-smoked: nothing. Wild salmon cold-smoked: −20 °C 168 h or −35 °C 15 h, with the letter attached.
#[test]
fn parasites_by_species_origin_and_process() {
    use Freezing::{Never, Unproved};
    let pellets = Origin::Farmed {
        pellets: Some(true),
    };
    let of = |f: Fish| parasites(&us(), &f).unwrap();
    assert!(of(fish("char", pellets, true, Never)).is_none());
    assert!(of(fish("wild salmon", Origin::Wild, true, Never)).is_none());
    let wild = of(fish("sockeye salmon", Origin::Wild, false, Unproved)).unwrap();
    assert_eq!(wild.verdict, NotShown);
    assert!(
        wild.asks.contains("-20 °C for 168 h") && wild.asks.contains("-35 °C for 15 h"),
        "{}",
        wild.asks
    );
    assert!(wild.next.contains("letter"), "{}", wild.next);
    for (origin, freezing, verdict) in [
        (Origin::Wild, Never, Broken),
        (Origin::Unknown, Never, Broken),
        (Origin::Unknown, Unproved, NotShown),
        (Origin::Farmed { pellets: None }, Never, Broken),
        (
            Origin::Farmed {
                pellets: Some(false),
            },
            Never,
            Broken,
        ),
        // A claim is no letter: exempt, and still not shown.
        (pellets, Never, NotShown),
    ] {
        let j = of(fish("char", origin, false, freezing)).unwrap();
        assert_eq!(j.verdict, verdict, "{origin:?} {freezing:?}: {j:?}");
    }
    assert!(parasites(&us(), &fish(" ", Origin::Wild, false, Never)).is_err());
}

/// The exempt tunas are named in Latin; "tuna" is not one of them. The list is the US one.
#[test]
fn tunas_are_exempt_by_their_latin_names() {
    let of = |species: &str, place| {
        let f = fish(species, Origin::Wild, false, Freezing::Never);
        parasites(&Terms::of(place), &f).unwrap().unwrap().verdict
    };
    for tuna in ["Thunnus albacares", "thunnus thynnus", "Thunnus obesus"] {
        assert_eq!(of(tuna, RuleSet::Us), NotShown, "{tuna}");
        assert_eq!(of(tuna, RuleSet::Eu), Broken, "{tuna}");
    }
    for other in ["tuna", "Thunnus tonggol", "skipjack"] {
        assert_eq!(of(other, RuleSet::Us), Broken, "{other}");
    }
    assert_eq!(of("oyster", RuleSet::Us), NotShown);
}

fn made(part: &str, day: i64, frozen: &[(i64, Option<i64>)]) -> DatedPart {
    DatedPart {
        part: part.to_owned(),
        made_day: Some(day),
        frozen: frozen
            .iter()
            .map(|(from_day, to_day)| Frozen {
                from_day: *from_day,
                to_day: *to_day,
            })
            .collect(),
    }
}

/// Made Wednesday the 16th, the last day is Tuesday the 22nd. Frozen on the 17th with 2 days used and out again on the 30th,
/// five are left, the day it came out the first of them.
#[test]
fn day_one_is_the_day_made_and_the_freezer_stops_the_count() {
    let fresh = made("loin", 16, &[]);
    assert_eq!(days_used(&fresh, 16).unwrap(), Some(1));
    assert_eq!(days_used(&fresh, 22).unwrap(), Some(7));
    let frozen = made("loin", 16, &[(17, Some(30))]);
    assert_eq!(days_used(&frozen, 17).unwrap(), Some(2));
    assert_eq!(days_used(&frozen, 25).unwrap(), Some(2));
    assert_eq!(days_used(&frozen, 30).unwrap(), Some(3));
    assert_eq!(days_used(&frozen, 34).unwrap(), Some(7));
    let still = made("loin", 16, &[(17, None)]);
    assert_eq!(days_used(&still, 400).unwrap(), Some(2));
    for wrong in [
        made("loin", 16, &[(15, Some(20))]),
        made("loin", 16, &[(20, Some(18))]),
        made("loin", 16, &[(17, Some(30)), (29, Some(31))]),
        made("loin", 40, &[]),
    ] {
        assert!(days_used(&wrong, 35).is_err(), "{wrong:?}");
    }
}

#[test]
fn the_oldest_part_decides_and_cold_has_to_be_shown() {
    let parts = [made("dressing", 20, &[]), made("loin", 16, &[])];
    let on = |day, cold| date_marked(&us(), &parts, day, None, cold).unwrap();
    assert_eq!(on(22, Some(Shown)).verdict, Shown);
    assert_eq!(on(23, Some(Shown)).verdict, Broken);
    assert_eq!(on(22, Some(NotShown)).verdict, NotShown);
    assert_eq!(on(22, None).verdict, NotShown);
    assert_eq!(on(22, Some(Broken)).verdict, Broken);
    assert!(
        on(22, None).place.contains("loin"),
        "{}",
        on(22, None).place
    );
    // Past its own use-by, whatever the days.
    let past = date_marked(&us(), &parts, 21, Some(20), Some(Shown)).unwrap();
    assert_eq!(past.verdict, Broken);
    // A smudged label: no date, no evidence.
    let lost = [
        made("loin", 16, &[]),
        DatedPart {
            made_day: None,
            ..made("tub", 0, &[])
        },
    ];
    let j = date_marked(&us(), &lost, 18, None, Some(Shown)).unwrap();
    assert_eq!(j.verdict, NotShown);
    assert!(j.next.contains("discard"), "{}", j.next);
    let j = date_marked(&Terms::of(RuleSet::Canada), &parts, 20, None, Some(Shown)).unwrap();
    assert_eq!((j.verdict, j.holds), (NotShown, Holds::StandIn));
}

fn on_shelf(name: &str, kind: Option<Kind>, shelf: Option<u32>) -> Shelved {
    Shelved {
        name: name.to_owned(),
        kind,
        shelf,
    }
}

#[test]
fn raw_never_above_ready() {
    let of = |things: &[Shelved]| raw_below_ready(&us(), things).unwrap().verdict;
    let duck = |shelf| on_shelf("raw duck", Some(Kind::Raw), shelf);
    let char = |shelf| on_shelf("smoked char", Some(Kind::Ready), shelf);
    assert_eq!(
        of(&[duck(Some(0)), char(Some(1))]),
        NotShown,
        "the row is second-hand"
    );
    assert_eq!(of(&[duck(Some(2)), char(Some(1))]), Broken);
    assert_eq!(of(&[duck(Some(1)), char(Some(1))]), NotShown);
    assert_eq!(of(&[duck(None), char(Some(1))]), NotShown);
    // What is not known never hides what is.
    assert_eq!(
        of(&[duck(Some(2)), char(Some(1)), on_shelf("tub", None, None)]),
        Broken
    );
}

fn batch(name: &str, holds: &[&str], cleaned_before: bool) -> Batch {
    Batch {
        name: name.to_owned(),
        holds: Some(holds.iter().map(|h| (*h).to_owned()).collect()),
        cleaned_before,
    }
}

#[test]
fn free_of_an_allergen_comes_first() {
    let of = |batches: &[Batch]| allergens_in_order(&us(), batches).unwrap();
    let (oil, dressing) = (
        batch("dill oil", &[], false),
        batch("dressing", &["milk"], false),
    );
    assert_eq!(
        of(&[oil.clone(), dressing.clone()]).verdict,
        NotShown,
        "common practice shows nothing"
    );
    let wrong = of(&[dressing.clone(), oil.clone()]);
    assert_eq!(wrong.verdict, Broken);
    assert!(
        wrong.place.contains("dill oil is free of milk"),
        "{}",
        wrong.place
    );
    let clean = batch("dill oil", &[], true);
    assert_eq!(of(&[dressing.clone(), clean]).verdict, NotShown);
    // A clean-down does not mend what came before it.
    let cleaned = batch("crisp", &["gluten"], true);
    assert_eq!(of(&[dressing.clone(), oil, cleaned]).verdict, Broken);
    let unread = Batch {
        holds: None,
        ..batch("horseradish", &[], false)
    };
    assert!(of(&[unread]).next.contains("labels"));
}

#[test]
fn raw_cured_meat_is_not_served_without_a_kill_step() {
    let of = |meant, kill, plan| raw_cured(&us(), meant, kill, plan).unwrap().verdict;
    assert_eq!(of(Meant::Service, None, Some("7")), Broken);
    assert_eq!(of(Meant::Service, Some(NotShown), None), Broken);
    assert_eq!(of(Meant::Service, Some(Broken), None), Broken);
    assert_eq!(of(Meant::Service, Some(Shown), None), NotShown);
    assert_eq!(of(Meant::Tasting, None, None), Broken);
    assert_eq!(of(Meant::Tasting, None, Some("7")), NotShown);
    assert_eq!(of(Meant::Study, None, None), NotShown);
}
