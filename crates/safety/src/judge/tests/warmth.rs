//! Exposure, histamine and the storage of smoked fish: hours added up, just inside, on, just outside.

use super::super::forms_histamine;
use super::*;
use Verdict::{Broken, NotShown, Shown};

/// Steady at each of several temperatures for so many minutes, with a step of a second between them.
fn steps(parts: &[(f64, f64)]) -> History {
    let mut readings = Vec::new();
    let mut at = 0.0;
    for (c, minutes) in parts {
        readings.extend(drawn(&[(at, *c), (at + minutes, *c)], 20.0));
        at += minutes + 1.0 / 60.0;
    }
    one(&readings)
}

/// Raw ready-to-eat: 4 h in all from 50 to 135 °F (10 to 57.2 °C) of which 2 h above 70 °F (21.1 °C), read; below 70 °F
/// 5 h, from memory. So it breaks and never shows.
#[test]
fn raw_ready_food() {
    for (parts, verdict) in [
        (vec![(3.0, 60.0), (22.0, 119.0), (15.0, 118.0)], NotShown),
        (vec![(3.0, 60.0), (22.0, 121.0)], Broken),
        (vec![(3.0, 60.0), (22.0, 119.0), (15.0, 122.0)], Broken),
        (vec![(20.0, 300.0)], NotShown),
        (vec![(20.0, 301.0)], Broken),
        (vec![(10.0, 900.0)], NotShown),
    ] {
        let j = us("exposure-raw", &steps(&parts));
        assert_eq!(j.verdict, verdict, "{parts:?}: {j:?}");
    }
}

/// Cooked ready-to-eat: ever above 80 °F 4 h of which 1 h above 70 °F; above 70 °F 2 of 4 h; else 5 h. All from memory.
#[test]
fn cooked_ready_food() {
    for (parts, verdict) in [
        (vec![(27.0, 59.0), (15.0, 179.0)], NotShown),
        (vec![(27.0, 61.0)], Broken),
        (vec![(22.0, 119.0), (15.0, 119.0)], NotShown),
        (vec![(22.0, 121.0)], Broken),
        (vec![(20.0, 300.0)], NotShown),
        (vec![(20.0, 301.0)], Broken),
    ] {
        let j = us("exposure-cooked", &steps(&parts));
        assert_eq!(j.verdict, verdict, "{parts:?}: {j:?}");
    }
}

/// A band is a step. *S. aureus*: 12 h above 50 °F, 3 h above 70 °F (from memory). 6 h at 60 °F and 2 h at 75 °F are 8 h above
/// 50 and 2 above 70, within both; a share of each added up, 50 % and 67 %, would be a line drawn between rows, which
/// the guide warns against.
#[test]
fn bands_of_the_table_are_steps() {
    for (parts, verdict, limit) in [
        (vec![(15.6, 360.0), (23.9, 120.0)], NotShown, 3.0),
        (vec![(15.6, 360.0), (23.9, 179.0)], NotShown, 3.0),
        (vec![(23.9, 181.0)], Broken, 3.0),
        (vec![(15.6, 721.0)], Broken, 12.0),
        // Between the rows of 59 and 60 °F of another organism there is nothing: the warmer counts.
        (vec![(15.6, 719.0)], NotShown, 12.0),
    ] {
        let j = us("exposure-staph", &steps(&parts));
        assert_eq!(
            (j.verdict, j.limit),
            (verdict, Some(limit)),
            "{parts:?}: {j:?}"
        );
    }
    let unknown = super::super::exposure_of(
        "x",
        "no such organism",
        &steps(&[(4.0, 60.0)]),
        &Terms::of(RuleSet::Us),
    );
    assert!(matches!(unknown, Err(Refusal::Row { .. })));
}

/// 4 h above 40 °F if ever above 70 °F, else 8 h; frozen before 12 and 24 h. From memory.
#[test]
fn histamine_by_hours() {
    for (name, parts, verdict) in [
        ("histamine", vec![(10.0, 480.0)], NotShown),
        ("histamine", vec![(10.0, 481.0)], Broken),
        ("histamine", vec![(22.0, 10.0), (10.0, 229.0)], NotShown),
        ("histamine", vec![(22.0, 10.0), (10.0, 231.0)], Broken),
        ("histamine", vec![(4.4, 2000.0)], NotShown),
        (
            "histamine-frozen",
            vec![(22.0, 10.0), (10.0, 709.0)],
            NotShown,
        ),
        (
            "histamine-frozen",
            vec![(22.0, 10.0), (10.0, 711.0)],
            Broken,
        ),
        ("histamine-frozen", vec![(10.0, 1440.0)], NotShown),
        ("histamine-frozen", vec![(10.0, 1441.0)], Broken),
    ] {
        let j = us(name, &steps(&parts));
        assert_eq!(j.verdict, verdict, "{name} {parts:?}: {j:?}");
    }
}

/// The list is from memory; what is on neither list is unknown, and unknown is not "no".
#[test]
fn which_fish_form_histamine() {
    let of = |species| forms_histamine(species, &Terms::of(RuleSet::Us)).unwrap();
    for fish in [
        "tuna",
        "bluefin tuna",
        "Atlantic mackerel",
        "mahi-mahi",
        "herring",
        "sardine",
    ] {
        assert_eq!(of(fish), Some(true), "{fish}");
    }
    assert_eq!(of("Atlantic salmon"), Some(false));
    assert_eq!(of("char"), None);
    assert_eq!(of(""), None);
}

/// 38 °F is the law of Michigan, Maine and New York (read), and stands in elsewhere.
#[test]
fn smoked_fish_in_three_states() {
    for state in [State::Michigan, State::Maine, State::NewYork] {
        let terms = Terms {
            state: Some(state),
            ..Terms::of(RuleSet::Us)
        };
        for (c, verdict) in [(3.2, Shown), (3.3, Shown), (3.4, Broken)] {
            let j = rule("smoked-fish-hold")(&steps(&[(c, 60.0)]), &terms).unwrap();
            assert_eq!(
                (j.verdict, j.holds),
                (verdict, Holds::Here),
                "{state:?} {c}"
            );
        }
    }
    for terms in [
        Terms::of(RuleSet::Us),
        Terms {
            state: Some(State::Pennsylvania),
            ..Terms::of(RuleSet::Us)
        },
        Terms::of(RuleSet::England),
    ] {
        let j = rule("smoked-fish-hold")(&steps(&[(3.0, 60.0)]), &terms).unwrap();
        assert_eq!((j.verdict, j.holds), (NotShown, Holds::StandIn));
        assert!(j.next.contains("is known here; stand-in"), "{}", j.next);
    }
}
