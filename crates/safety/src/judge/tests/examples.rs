//! Worked examples from outside the code: each names where its figures come from.

use super::super::{HoldClock, Terms, fish_core, hold_clock};
use super::*;
use units::Elapsed;

fn three(rows: &[(f64, [f64; 3])]) -> History {
    let channel = |i: usize| {
        let readings: Vec<_> = rows.iter().map(|(m, c)| (*m, Some(c[i]))).collect();
        probe(["shelf 1", "shelf 2", "shelf 3"][i], &readings)
    };
    History {
        channels: (0..3).map(channel).collect(),
    }
}

fn minutes(min: f64) -> Elapsed {
    Elapsed::from_minutes(min).unwrap()
}

/// Three probes of a hot smoke: 64.0, 63.1 and 62.8 °C is no hold; all at 63 is; a dip to 62.6 ends it.
/// The 30 min are the state rule's (Mich. R 285.569.7); the whole degree is the house's reading of 145 °F.
#[test]
fn the_coldest_probe_starts_the_hold_and_a_dip_ends_it() {
    let terms = Terms {
        probes: 3,
        ..Terms::of(RuleSet::Us)
    };
    let mut rows = vec![(0.0, [60.0, 59.0, 58.0]), (5.0, [64.0, 63.1, 62.8])];
    assert_eq!(
        hold_clock(&three(&rows), &terms).unwrap(),
        HoldClock::NotStarted
    );
    rows.extend([(10.0, [64.0, 63.1, 63.0]), (15.0, [64.2, 63.4, 63.1])]);
    assert_eq!(
        hold_clock(&three(&rows), &terms).unwrap(),
        HoldClock::Counting(minutes(5.0))
    );
    rows.push((20.0, [64.2, 63.4, 62.6]));
    assert_eq!(
        hold_clock(&three(&rows), &terms).unwrap(),
        HoldClock::NotStarted
    );
    for i in 0..=6 {
        rows.push((25.0 + 5.0 * f64::from(i), [64.5, 63.6, 63.2]));
    }
    // From 25 min on it is 30 min to 55, and the line from 62.6 to 63.2 passes 63 a little before 25.
    let j = fish_core(&three(&rows), &terms).unwrap();
    assert_eq!(j.verdict, Verdict::Shown, "{j:?}");
    assert!(
        matches!(hold_clock(&three(&rows), &terms).unwrap(), HoldClock::Held(t) if t >= minutes(30.0) && t < minutes(33.0))
    );
    // Another dip in the middle of it, and neither part is long enough.
    rows[8].1[1] = 62.6;
    let j = fish_core(&three(&rows), &terms).unwrap();
    assert_eq!(j.verdict, Verdict::Broken);
    assert!(j.place.contains("coldest of 3 probes"), "{}", j.place);
}

/// A probe lost in the hold: the clock cannot count what nobody read.
#[test]
fn a_lost_probe_stops_the_hold() {
    let mut history = three(&drawn_rows(35.0));
    let terms = Terms::of(RuleSet::Us);
    assert_eq!(fish_core(&history, &terms).unwrap().verdict, Verdict::Shown);
    for reading in &mut history.channels[2].readings[2..5] {
        reading.value = None;
    }
    assert_eq!(
        fish_core(&history, &terms).unwrap().verdict,
        Verdict::NotShown
    );
    assert_eq!(
        fish_core(&three(&drawn_rows(30.0)), &terms)
            .unwrap()
            .verdict,
        Verdict::Shown
    );
    assert_eq!(
        fish_core(&three(&drawn_rows(29.0)), &terms)
            .unwrap()
            .verdict,
        Verdict::Broken
    );
}

fn drawn_rows(until: f64) -> Vec<(f64, [f64; 3])> {
    drawn(&[(0.0, 63.0), (until, 63.0)], 5.0)
        .into_iter()
        .map(|(m, c)| (m, [c + 1.0, c + 0.2, c]))
        .collect()
}

/// Unloaded at 15:40: 21 °C is due at 17:40 and 5 °C at 21:40; 23 °C at 17:41 is a deviation, not a tick.
/// Figures: Food Code 3-501.14(A).
#[test]
fn twenty_three_degrees_a_minute_late_is_a_deviation() {
    let late = one(&drawn(&[(0.0, 57.0), (121.0, 23.0)], 10.0));
    assert_eq!(us("cooling", &late).verdict, Verdict::Broken);
    let in_time = one(&drawn(&[(0.0, 57.0), (120.0, 21.0), (360.0, 5.0)], 10.0));
    assert_eq!(us("cooling", &in_time).verdict, Verdict::Shown);
}

/// Cooling by Newton's law from 57 °C: in air of 3 °C it passes while the time constant is at most
/// 2 h ÷ ln(54 ÷ 18) = 1.820 h, in a blast of −5 °C while it is at most 2 h ÷ ln(62 ÷ 26) = 2.301 h. Own
/// arithmetic with the two temperatures of Food Code 3-501.14(A).
#[test]
fn the_time_constant_that_still_passes() {
    let cooled = |air: f64, tau_h: f64| {
        let readings: Vec<_> = (0..=600)
            .map(|min| {
                (
                    f64::from(min),
                    air + (57.0 - air) * (-f64::from(min) / 60.0 / tau_h).exp(),
                )
            })
            .collect();
        us("cooling", &one(&readings)).verdict
    };
    for (air, limit_h) in [
        (3.0, 2.0 / 3_f64.ln()),
        (-5.0, 2.0 / (62.0_f64 / 26.0).ln()),
    ] {
        assert_eq!(cooled(air, limit_h - 0.005), Verdict::Shown, "{air}");
        assert_eq!(cooled(air, limit_h + 0.005), Verdict::Broken, "{air}");
    }
    assert_eq!(
        format!(
            "{:.2} {:.2}",
            2.0 / 3_f64.ln(),
            2.0 / (62.0_f64 / 26.0).ln()
        ),
        "1.82 2.30"
    );
}

/// Minutes at 70 °C, z 7.5: 60 °C for 10 min is 0.464; a straight line from 20 to 70 °C in 30 min is 1.954;
/// 145 °F for 30 min is 3.267 (own arithmetic, `F = ∫ 10^((T − 70) ÷ 7.5) dt`).
#[test]
fn what_a_core_is_worth_stands_beside_the_verdict() {
    for (knots, worth) in [
        ([(0.0, 60.0), (10.0, 60.0)], "worth 0.46 min"),
        ([(0.0, 20.0), (30.0, 70.0)], "worth 1.95 min"),
        (
            [(0.0, 145.0), (30.0, 145.0)].map(|(m, f)| (m, (f - 32.0) / 1.8)),
            "worth 3.27 min",
        ),
    ] {
        let j = us("fish-core", &one(&drawn(&knots, 5.0)));
        assert!(j.place.contains(worth), "{}", j.place);
        assert_eq!(
            j.verdict,
            Verdict::Broken,
            "worth is not what the rule asks"
        );
    }
}

/// 9 to 23 March 2027, 11:00 to 11:00 where clocks go forward on the 14th: 335 h, not 336. Figures:
/// the IANA time zone database, by way of jiff.
#[test]
fn hours_are_elapsed_whatever_the_clock_says() {
    let at = |day| {
        jiff::civil::date(2027, 3, day)
            .at(11, 0, 0, 0)
            .in_tz("America/New_York")
            .unwrap()
            .timestamp()
            .as_second()
    };
    let (from, to) = (at(9), at(23));
    let readings = (from..=to)
        .step_by(1800)
        .map(|at_s| Reading {
            at_s,
            value: Some(-21.0),
        })
        .collect();
    let history = History {
        channels: vec![Channel {
            name: "core".to_owned(),
            quantity: Quantity::TemperatureC,
            readings,
        }],
    };
    let j = us("freeze-parasites", &history);
    assert_eq!((j.value, j.verdict), (Some(335.0), Verdict::Shown));
}

/// What is planned and what is judged hold the same figures.
#[test]
fn the_plan_and_the_judgement_agree() {
    for (_, place) in RuleSet::ALL {
        let rule = crate::planned::cooling_rule(*place).unwrap();
        let line = |last: f64| {
            one(&drawn(
                &[
                    (0.0, rule.from_c),
                    (rule.first_min, rule.first_c),
                    (last, rule.last_c),
                    (last + 9.0, rule.last_c),
                ],
                10.0,
            ))
        };
        if rule.total_min > rule.first_min {
            let (on, late) = (line(rule.total_min), line(rule.total_min + 1.0));
            assert_ne!(
                in_place("cooling", *place, &on).verdict,
                Verdict::Broken,
                "{place:?}"
            );
            assert_eq!(
                in_place("cooling", *place, &late).verdict,
                Verdict::Broken,
                "{place:?}"
            );
        }
        let (cold_c, _) = crate::planned::cold_hold(*place).unwrap();
        assert_eq!(
            in_place("cold-hold", *place, &one(&steady(0.0, 20.0, 10.0, cold_c))).limit,
            Some(cold_c)
        );
    }
}

/// Out at 16:50, in the bin at 20:50: 4 h (3-501.19(B), read). Six hours only while every reading is at or below 21 °C.
#[test]
fn time_as_control_from_ten_to_five() {
    for (minutes, warmest, four, six) in [
        (239.0, 20.0, Verdict::Shown, Verdict::NotShown),
        (240.0, 20.0, Verdict::Shown, Verdict::NotShown),
        (241.0, 20.0, Verdict::Broken, Verdict::NotShown),
        (241.0, 21.1, Verdict::Broken, Verdict::Broken),
        (360.0, 21.0, Verdict::Broken, Verdict::NotShown),
        (361.0, 21.0, Verdict::Broken, Verdict::Broken),
    ] {
        let out = one(&drawn(&[(0.0, 4.0), (minutes, warmest)], 20.0));
        assert_eq!(us("time-4h", &out).verdict, four, "{minutes} {warmest}");
        assert_eq!(us("time-6h", &out).verdict, six, "{minutes} {warmest}");
    }
}
