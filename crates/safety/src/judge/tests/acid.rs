//! The acid gate and the log of pH: just inside, on, just outside; meters, buffers, samples, missing and impossible readings.

use super::super::{Gate, Meter, PhReading, ph_gate};
use super::*;
use Verdict::{Broken, NotShown, Shown};

fn jar(ph: f64, meter: Meter, even: bool) -> PhReading {
    PhReading {
        sample: "jar 1".to_owned(),
        ph,
        meter,
        even,
    }
}

fn gate(readings: &[PhReading]) -> Gate {
    ph_gate(&Terms::of(RuleSet::Us), readings).unwrap()
}

/// 4.2 is the house's target, 4.6 the line of 21 CFR 114 (read). 4.4 is "add vinegar, re-test": not released.
#[test]
fn the_gate_opens_at_the_target_and_not_at_the_law() {
    for (ph, released, verdict) in [
        (4.1, true, Shown),
        (4.2, true, Shown),
        (4.21, false, NotShown),
        (4.4, false, NotShown),
        (4.6, false, NotShown),
        (4.61, false, Broken),
    ] {
        let g = gate(&[jar(ph, Meter::Checked(CHECKED), true)]);
        assert_eq!(
            (g.released, g.judgement.verdict),
            (released, verdict),
            "{ph}"
        );
        assert_eq!(
            g.judgement.next.contains("add vinegar and re-test"),
            !released
        );
    }
}

#[test]
fn only_a_checked_meter_on_an_even_sample_counts() {
    let released = |meter, even| gate(&[jar(3.8, meter, even)]).released;
    assert!(released(Meter::Checked(CHECKED), true));
    assert!(!released(Meter::Strip, true));
    assert!(!released(Meter::Unchecked, true));
    assert!(!released(Meter::Checked(CHECKED), false));
    for (check, fit) in [
        (
            MeterCheck {
                in_4: 4.06,
                ..CHECKED
            },
            true,
        ),
        (
            MeterCheck {
                in_4: 4.07,
                ..CHECKED
            },
            false,
        ),
        (
            MeterCheck {
                in_7: 6.95,
                ..CHECKED
            },
            true,
        ),
        (
            MeterCheck {
                in_7: 6.94,
                ..CHECKED
            },
            false,
        ),
        (
            MeterCheck {
                in_7: f64::NAN,
                ..CHECKED
            },
            false,
        ),
        (
            MeterCheck {
                sample_c: 20.0,
                ..CHECKED
            },
            true,
        ),
        (
            MeterCheck {
                sample_c: 30.0,
                ..CHECKED
            },
            true,
        ),
        (
            MeterCheck {
                sample_c: 19.9,
                ..CHECKED
            },
            false,
        ),
        (
            MeterCheck {
                sample_c: 30.1,
                ..CHECKED
            },
            false,
        ),
    ] {
        assert_eq!(released(Meter::Checked(check), true), fit, "{check:?}");
    }
    assert!(!gate(&[]).released);
    assert_eq!(gate(&[]).judgement.verdict, NotShown);
}

#[test]
fn the_worst_of_several_samples_decides_and_none_may_be_left_out() {
    let fit = |ph| jar(ph, Meter::Checked(CHECKED), true);
    assert!(gate(&[fit(3.9), fit(4.2)]).released);
    assert!(!gate(&[fit(3.9), fit(4.3)]).released);
    let g = gate(&[fit(3.9), fit(4.7), fit(4.0)]);
    assert_eq!(
        (g.judgement.verdict, g.judgement.value),
        (Broken, Some(4.7))
    );
    let taken = Terms {
        probes: 3,
        ..Terms::of(RuleSet::Us)
    };
    let g = ph_gate(&taken, &[fit(3.9), fit(4.0)]).unwrap();
    assert!(!g.released && g.judgement.next.contains("2 of 3 samples"));
}

#[test]
fn a_ph_that_cannot_be_is_refused() {
    for bad in [15.0, -0.1, f64::NAN] {
        let refused = ph_gate(
            &Terms::of(RuleSet::Us),
            &[jar(bad, Meter::Checked(CHECKED), true)],
        );
        assert!(matches!(refused, Err(Refusal::Terms { .. })), "{bad}");
    }
}

#[test]
fn a_log_of_ph_is_held_against_the_target() {
    let log = |ph: f64| {
        let mut history = one(&steady(0.0, 60.0, 20.0, ph));
        history.channels[0].quantity = Quantity::Ph;
        history
    };
    let checked = Terms {
        meter: Some(CHECKED),
        ..Terms::of(RuleSet::Us)
    };
    for (ph, verdict) in [(4.19, Shown), (4.2, Shown), (4.21, Broken), (4.7, Broken)] {
        let j = super::super::ph(&log(ph), &checked).unwrap();
        assert_eq!(j.verdict, verdict, "{ph}: {j:?}");
    }
    let j = super::super::ph(&log(4.3), &checked).unwrap();
    assert!(j.place.contains("not above the legal limit"), "{}", j.place);
    // Nobody wrote down how the meter was checked.
    let j = super::super::ph(&log(3.9), &Terms::of(RuleSet::Us)).unwrap();
    assert_eq!(j.verdict, NotShown);
    // A place without an acid rule of its own.
    let there = Terms {
        place: RuleSet::Eu,
        ..checked
    };
    let j = super::super::ph(&log(3.9), &there).unwrap();
    assert_eq!((j.verdict, j.holds), (NotShown, Holds::StandIn));
    assert!(j.next.contains("no rule of eu is known here"), "{}", j.next);
}
