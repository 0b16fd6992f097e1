//! Smoked fish and cooked meat cooled by the texts for processors: just inside, on, just outside.
//!
//! Figures: the rows named in `judge::stabilising`, second-hand or from memory, so that nothing here is shown.

use super::*;
use Verdict::{Broken, NotShown};

fn f(f: f64) -> f64 {
    (f - 32.0) / 1.8
}

/// From hot through `(minutes, °F)`, read every ten minutes and a little colder at the end.
fn fell(points: &[(f64, f64)]) -> History {
    let mut knots: Vec<(f64, f64)> = points.iter().map(|(m, t)| (*m, f(*t))).collect();
    let (last_m, last_c) = knots[knots.len() - 1];
    knots.push((last_m + 10.0, last_c - 0.5));
    one(&drawn(&knots, 10.0))
}

#[test]
fn smoked_fish_by_either_text() {
    for (name, points, verdict) in [
        (
            "cool-smoked-fish",
            [(0.0, 140.0), (119.0, 70.0), (358.0, 40.0)],
            NotShown,
        ),
        (
            "cool-smoked-fish",
            [(0.0, 140.0), (120.0, 70.0), (360.0, 40.0)],
            NotShown,
        ),
        (
            "cool-smoked-fish",
            [(0.0, 140.0), (121.0, 70.0), (300.0, 40.0)],
            Broken,
        ),
        // Four hours more, and not six in all: a quick first stage does not lend its time to the second.
        (
            "cool-smoked-fish",
            [(0.0, 140.0), (60.0, 70.0), (299.0, 40.0)],
            NotShown,
        ),
        (
            "cool-smoked-fish",
            [(0.0, 140.0), (60.0, 70.0), (301.0, 40.0)],
            Broken,
        ),
        (
            "cool-smoked-fish-135",
            [(0.0, 135.0), (120.0, 70.0), (360.0, 40.0)],
            NotShown,
        ),
        (
            "cool-smoked-fish-135",
            [(0.0, 135.0), (121.0, 70.0), (300.0, 40.0)],
            Broken,
        ),
    ] {
        let j = us(name, &fell(&points));
        assert_eq!(j.verdict, verdict, "{name} {points:?}: {j:?}");
    }
    // The two texts part where the fall from 140 to 135 °F takes long: the clock of the second starts later.
    let slow = fell(&[(0.0, 140.0), (60.0, 135.0), (170.0, 70.0), (300.0, 40.0)]);
    assert_eq!(us("cool-smoked-fish", &slow).verdict, Broken);
    assert_eq!(us("cool-smoked-fish-135", &slow).verdict, NotShown);
}

#[test]
fn cooked_meat_by_its_options() {
    for (name, points, verdict) in [
        (
            "cool-fsis-1",
            vec![(0.0, 130.0), (90.0, 80.0), (390.0, 40.0)],
            NotShown,
        ),
        (
            "cool-fsis-1",
            vec![(0.0, 130.0), (91.0, 80.0), (300.0, 40.0)],
            Broken,
        ),
        (
            "cool-fsis-1",
            vec![(0.0, 130.0), (90.0, 80.0), (391.0, 40.0)],
            Broken,
        ),
        (
            "cool-fsis-2",
            vec![(0.0, 120.0), (60.0, 80.0), (360.0, 55.0), (500.0, 40.0)],
            NotShown,
        ),
        (
            "cool-fsis-2",
            vec![(0.0, 120.0), (61.0, 80.0), (300.0, 55.0), (500.0, 40.0)],
            Broken,
        ),
        (
            "cool-fsis-2",
            vec![(0.0, 120.0), (60.0, 80.0), (361.0, 55.0), (500.0, 40.0)],
            Broken,
        ),
        (
            "cool-fsis-3",
            vec![(0.0, 130.0), (300.0, 80.0), (900.0, 45.0)],
            NotShown,
        ),
        (
            "cool-fsis-3",
            vec![(0.0, 130.0), (301.0, 80.0), (800.0, 45.0)],
            Broken,
        ),
        (
            "cool-fsis-3",
            vec![(0.0, 130.0), (300.0, 80.0), (901.0, 45.0)],
            Broken,
        ),
    ] {
        let j = us(name, &fell(&points));
        assert_eq!(j.verdict, verdict, "{name} {points:?}: {j:?}");
        assert!(!j.status().may_show());
        assert!(
            j.next.contains("verify with your authority") || verdict == Broken,
            "{}",
            j.next
        );
    }
}

#[test]
fn option_two_goes_on_to_forty() {
    let warm = fell(&[(0.0, 120.0), (50.0, 80.0), (300.0, 55.0)]);
    let j = us("cool-fsis-2", &warm);
    assert_eq!(j.verdict, NotShown);
    assert!(j.next.contains("not reached"), "{}", j.next);
    assert!(j.asks.contains("on to 4.4 °C"), "{}", j.asks);
}

/// The clock, the end of each stage, and the ends of the log are named with their moments.
#[test]
fn the_readings_that_decided_are_named() {
    let j = us(
        "cooling",
        &one(&drawn(
            &[
                (0.0, 60.0),
                (30.0, 57.0),
                (160.0, 21.0),
                (300.0, 5.0),
                (320.0, 4.0),
            ],
            10.0,
        )),
    );
    let told: Vec<(&str, i64)> = j
        .evidence
        .iter()
        .map(|e| (e.part.words(), (e.at_s.unwrap() - START_S) / 60))
        .collect();
    assert_eq!(
        told,
        [
            ("first", 0),
            ("clock starts", 30),
            ("reached", 160),
            ("reached", 300),
            ("last", 320)
        ]
    );
    assert_eq!(j.base, "from the last reading at or above 57 °C");
}
