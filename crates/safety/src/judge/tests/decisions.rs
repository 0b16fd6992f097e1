//! Just inside, on, just outside; a gap; a lost probe. Limits: `data/rules`.

use super::*;
use Verdict::{Broken, NotShown, Shown};

/// Cooked food reaching 21 °C at `first` minutes and 5 °C at `last`, read every 10 min.
fn cooled(first: f64, last: f64) -> History {
    one(&drawn(
        &[(0.0, 57.0), (first, 21.0), (last, 5.0), (last + 20.0, 4.0)],
        10.0,
    ))
}

#[test]
fn cooling_in_two_stages() {
    for (first, last, verdict) in [
        (119.0, 359.0, Shown),
        (120.0, 360.0, Shown),
        (121.0, 359.0, Broken),
        (119.0, 361.0, Broken),
        // Time not used in the first stage carries over: 6 h in all, not 2 h and 4 h.
        (30.0, 355.0, Shown),
    ] {
        let j = us("cooling", &cooled(first, last));
        assert_eq!(j.verdict, verdict, "{first} {last}: {j:?}");
    }
    let j = us("cooling", &cooled(121.0, 359.0));
    assert_eq!(
        (j.value, j.limit, j.margin),
        (Some(121.0), Some(120.0), Some(-1.0))
    );
    assert_eq!(j.unit, "min");
}

#[test]
fn cooling_that_is_not_all_in_the_log() {
    // Not yet cold, and still in time.
    assert_eq!(
        us(
            "cooling",
            &one(&drawn(&[(0.0, 57.0), (100.0, 21.0), (200.0, 12.0)], 10.0))
        )
        .verdict,
        NotShown
    );
    // Still above 21 °C after two hours and a minute.
    assert_eq!(
        us("cooling", &one(&drawn(&[(0.0, 57.0), (121.0, 23.0)], 10.0))).verdict,
        Broken
    );
    // The log starts in the middle of the fall.
    assert_eq!(
        us(
            "cooling",
            &one(&drawn(&[(0.0, 45.0), (60.0, 21.0), (200.0, 4.0)], 10.0))
        )
        .verdict,
        NotShown
    );
    assert_eq!(
        us(
            "cooling",
            &one(&drawn(&[(0.0, 45.0), (130.0, 21.0), (200.0, 4.0)], 10.0))
        )
        .verdict,
        Broken
    );
    // Still hot: the clock has not started.
    assert_eq!(
        us("cooling", &one(&steady(0.0, 600.0, 10.0, 60.0))).verdict,
        NotShown
    );
}

#[test]
fn a_gap_in_cooling_is_never_drawn_over() {
    let j = us(
        "cooling",
        &one(&[
            (0.0, 57.0),
            (20.0, 40.0),
            (51.0, 25.0),
            (70.0, 20.0),
            (95.0, 5.0),
        ]),
    );
    assert_eq!(j.verdict, NotShown);
    assert!(j.next.contains("no reading for"), "{}", j.next);
    // Thirty minutes are still one line.
    let j = us(
        "cooling",
        &one(&[
            (0.0, 57.0),
            (20.0, 40.0),
            (50.0, 25.0),
            (70.0, 20.0),
            (95.0, 5.0),
        ]),
    );
    assert_eq!(j.verdict, Shown);
    // A gap does not hide what a reading after it says.
    let j = us(
        "cooling",
        &one(&[(0.0, 57.0), (10.0, 50.0), (130.0, 22.0), (150.0, 5.0)]),
    );
    assert_eq!(j.verdict, Broken);
}

#[test]
fn heating_again_does_not_start_the_clock_again() {
    let again = one(&drawn(
        &[
            (0.0, 57.0),
            (130.0, 30.0),
            (140.0, 70.0),
            (200.0, 21.0),
            (300.0, 5.0),
        ],
        10.0,
    ));
    assert_eq!(us("cooling", &again).verdict, Broken);
}

#[test]
fn the_worst_probe_cools_for_all() {
    let mut history = cooled(100.0, 300.0);
    let mut slow = read(&drawn(
        &[(0.0, 60.0), (10.0, 57.0), (140.0, 21.0), (350.0, 5.0)],
        10.0,
    ));
    slow.name = "centre".to_owned();
    history.channels.push(slow);
    let j = us("cooling", &history);
    assert_eq!(j.verdict, Broken);
    assert!(j.place.contains("centre"), "{}", j.place);
    assert_eq!(j.value, Some(130.0));
}

#[test]
fn other_places_cool_by_their_own_figures_and_show_none() {
    let history = one(&drawn(&[(0.0, 63.0), (80.0, 8.0), (100.0, 4.0)], 10.0));
    assert_eq!(
        in_place("cooling", RuleSet::England, &history).verdict,
        NotShown
    );
    assert_eq!(
        in_place("cooling", RuleSet::Canada, &history).verdict,
        NotShown
    );
    let slow = one(&drawn(&[(0.0, 63.0), (91.0, 8.0), (110.0, 4.0)], 10.0));
    let j = in_place("cooling", RuleSet::England, &slow);
    assert_eq!(j.verdict, Broken);
    assert!(j.next.contains("verify with your authority"), "{}", j.next);
    assert_eq!(in_place("cooling", RuleSet::Eu, &slow).verdict, Broken);
    // The same log is well inside the US rule, which gives it 6 h.
    assert_eq!(us("cooling", &slow).verdict, Shown);
}

#[test]
fn ambient_cooling_in_four_hours() {
    for (at, verdict) in [(239.0, Shown), (240.0, Shown), (241.0, Broken)] {
        let j = us(
            "ambient-cooling",
            &one(&drawn(&[(0.0, 20.0), (at, 5.0), (at + 10.0, 4.0)], 10.0)),
        );
        assert_eq!(j.verdict, verdict, "{at}: {j:?}");
    }
    assert_eq!(
        us(
            "ambient-cooling",
            &one(&drawn(&[(0.0, 20.0), (100.0, 8.0)], 10.0))
        )
        .verdict,
        NotShown
    );
    assert_eq!(
        us(
            "ambient-cooling",
            &one(&[(0.0, 20.0), (31.0, 5.0), (40.0, 4.0)])
        )
        .verdict,
        NotShown
    );
}

#[test]
fn held_cold_and_hot() {
    for (name, c, verdict) in [
        ("cold-hold", 4.9, Shown),
        ("cold-hold", 5.0, Shown),
        ("cold-hold", 5.1, Broken),
        ("hot-hold", 57.1, Shown),
        ("hot-hold", 57.0, Shown),
        ("hot-hold", 56.9, Broken),
        ("thaw", 5.0, Shown),
        ("thaw", 5.1, Broken),
    ] {
        let mut readings = steady(
            0.0,
            120.0,
            20.0,
            if name == "hot-hold" { 60.0 } else { 3.0 },
        );
        readings[3].1 = c;
        let j = us(name, &one(&readings));
        assert_eq!(j.verdict, verdict, "{name} {c}");
        assert_eq!(j.value, Some(c));
    }
    // Of the other places only England's 8 °C was read.
    for (place, cold, hot) in [
        (RuleSet::Canada, 4.0, 60.0),
        (RuleSet::England, 8.0, 63.0),
        (RuleSet::Eu, 8.0, 63.0),
    ] {
        for (name, on, out) in [
            ("cold-hold", cold, cold + 0.1),
            ("hot-hold", hot, hot - 0.1),
        ] {
            let read = name == "cold-hold" && place == RuleSet::England;
            assert_eq!(
                in_place(name, place, &one(&steady(0.0, 60.0, 20.0, on))).verdict,
                if read { Shown } else { NotShown },
                "{name} {place:?}"
            );
            assert_eq!(
                in_place(name, place, &one(&steady(0.0, 60.0, 20.0, out))).verdict,
                Broken
            );
        }
    }
}

#[test]
fn a_lost_probe_is_the_gap_it_leaves() {
    let second = |readings: &[(f64, Option<f64>)]| History {
        channels: vec![
            read(&steady(0.0, 60.0, 10.0, 3.0)),
            probe("second", readings),
        ],
    };
    let cold = Some(3.0);
    for (readings, verdict) in [
        (
            vec![(0.0, cold), (15.0, None), (30.0, cold), (60.0, cold)],
            Shown,
        ),
        (
            vec![(0.0, cold), (15.0, None), (31.0, cold), (60.0, cold)],
            NotShown,
        ),
        // Lost at the end: the rows go on, the probe does not.
        (
            vec![(0.0, cold), (20.0, cold), (40.0, None), (60.0, None)],
            NotShown,
        ),
        (vec![(0.0, None), (31.0, cold), (60.0, cold)], NotShown),
        (vec![], NotShown),
        // What the lost probe did read still counts.
        (vec![(0.0, Some(9.0)), (20.0, None)], Broken),
    ] {
        assert_eq!(
            us("cold-hold", &second(&readings)).verdict,
            verdict,
            "{readings:?}"
        );
    }
}

#[test]
fn cooked_for_long_enough() {
    /// Ten minutes below, then `seconds` at `c`, then below again at once.
    fn held(c: f64, seconds: f64) -> History {
        let t = 5.0 + seconds / 60.0;
        one(&[
            (0.0, 40.0),
            (4.95, 40.0),
            (5.0, c),
            (t, c),
            (t + 0.05, 40.0),
            (t + 4.0, 40.0),
        ])
    }
    for (name, c, seconds, verdict) in [
        ("cook-intact", 63.0, 15.0, Shown),
        ("cook-intact", 63.0, 14.0, Broken),
        ("cook-intact", 62.9, 60.0, Broken),
        ("cook-nonintact", 68.4, 17.0, Shown),
        ("cook-nonintact", 68.4, 16.0, Broken),
        ("cook-nonintact", 65.6, 60.0, Shown),
        ("cook-nonintact", 65.6, 59.0, Broken),
        ("cook-nonintact", 65.5, 60.0, Broken),
        ("cook-nonintact", 62.8, 180.0, Shown),
        ("cook-nonintact", 62.8, 175.0, Broken),
        ("cook-nonintact", 70.0, 1.0, Shown),
        ("cook-poultry", 74.0, 15.0, Shown),
        ("cook-poultry", 74.0, 14.0, Broken),
        ("cook-poultry", 73.9, 60.0, Broken),
        ("cook-roast", 70.0, 1.0, Shown),
        ("cook-roast", 60.0, 720.0, Shown),
        ("cook-roast", 60.0, 700.0, Broken),
        // 139 °F (59.44 °C) counts as the row of 138 °F: 18 min.
        ("cook-roast", 59.45, 1080.0, Shown),
        ("cook-roast", 59.45, 1060.0, Broken),
    ] {
        // A hold longer than five minutes needs readings in between.
        let mut history = held(c, seconds);
        if seconds > 299.0 {
            let end = 5.0 + seconds / 60.0;
            let mut readings = vec![(0.0, 40.0), (4.95, 40.0)];
            readings.extend(drawn(&[(5.0, c), (end, c)], 4.0));
            readings.extend([(end + 0.05, 40.0), (end + 4.0, 40.0)]);
            history = one(&readings);
        }
        assert_eq!(us(name, &history).verdict, verdict, "{name} {c} {seconds}");
        assert_ne!(in_place(name, RuleSet::England, &history).verdict, Shown);
    }
}

#[test]
fn a_cook_shows_its_worth_beside_the_verdict_and_never_for_it() {
    let j = us(
        "cook-intact",
        &one(&drawn(&[(0.0, 20.0), (20.0, 62.5), (60.0, 62.5)], 4.0)),
    );
    assert_eq!(
        j.verdict, Broken,
        "40 min at 62.5 °C is worth more than 15 s at 63, and is not what the rule asks"
    );
    assert!(
        j.place.contains("min at 70 °C") && j.place.contains("no verdict"),
        "{}",
        j.place
    );
}

#[test]
fn a_gap_in_a_hold_is_not_shown() {
    let j = us(
        "cook-intact",
        &one(&[(0.0, 40.0), (5.0, 64.0), (11.0, 64.0), (12.0, 60.0)]),
    );
    assert_eq!(j.verdict, NotShown, "{j:?}");
    assert!(j.next.contains("no reading for"), "{}", j.next);
}

#[test]
fn cold_smoke_has_two_ways() {
    let maine = Terms {
        state: Some(State::Maine),
        ..Terms::of(RuleSet::Us)
    };
    for (c, hours, verdict) in [
        (32.2, 20.0, Shown),
        (32.3, 20.0, Broken),
        (32.2, 20.1, Broken),
        (10.0, 24.0, Shown),
        (10.1, 24.0, Broken),
        (10.0, 24.1, Broken),
    ] {
        let history = one(&drawn(&[(0.0, c), (hours * 60.0, c)], 20.0));
        let j = rule("cold-smoke")(&history, &maine).unwrap();
        assert_eq!(j.verdict, verdict, "{c} {hours}: {j:?}");
        assert_eq!(j.holds, Holds::Here);
        // Outside the state its rule stands in: it breaks, and shows nothing.
        let j = us("cold-smoke", &history);
        assert_eq!(j.verdict, verdict.min(NotShown), "{c} {hours}: {j:?}");
        assert!(j.next.contains("stand-in: that of Maine"), "{}", j.next);
        assert_ne!(in_place("cold-smoke", RuleSet::Eu, &history).verdict, Shown);
    }
    assert_eq!(
        us("cold-smoke", &one(&[(0.0, 25.0), (31.0, 25.0)])).verdict,
        NotShown
    );
}

/// A probe named as air is no core; not named, it counts, because the strict reading is the safe one.
#[test]
fn air_is_no_core_where_it_is_named_so() {
    let mut history = one(&steady(0.0, 60.0, 10.0, 4.0));
    let mut air = read(&steady(0.0, 60.0, 10.0, 7.0));
    air.name = "room".to_owned();
    history.channels.push(air);
    assert_eq!(us("cold-hold", &history).verdict, Broken);
    let mut terms = Terms::of(RuleSet::Us);
    terms.air = vec!["room".to_owned()];
    assert_eq!(rule("cold-hold")(&history, &terms).unwrap().verdict, Shown);
    // Every probe in the air: nothing was read of the food.
    terms.air.push("core".to_owned());
    assert_eq!(
        rule("cold-hold")(&history, &terms).unwrap().verdict,
        NotShown
    );
}

#[test]
fn time_in_place_of_temperature() {
    for (name, start, end, minutes, verdict) in [
        ("time-4h", 5.0, 22.0, 240.0, Shown),
        ("time-4h", 5.0, 22.0, 241.0, Broken),
        ("time-4h", 5.1, 22.0, 200.0, Broken),
        ("time-4h", 57.0, 30.0, 240.0, Shown),
        ("time-4h", 56.9, 30.0, 240.0, Broken),
        ("time-6h", 5.0, 21.0, 360.0, NotShown), // the figure is from memory
        ("time-6h", 5.0, 21.0, 361.0, Broken),
        ("time-6h", 5.0, 21.1, 300.0, Broken),
        ("time-6h", 57.0, 20.0, 300.0, Broken),
    ] {
        let j = us(name, &one(&drawn(&[(0.0, start), (minutes, end)], 10.0)));
        assert_eq!(j.verdict, verdict, "{name} {start} {end} {minutes}");
    }
    // No reading when it went out.
    let late = History {
        channels: vec![probe(
            "core",
            &[(0.0, None), (31.0, Some(5.0)), (60.0, Some(9.0))],
        )],
    };
    assert_eq!(us("time-4h", &late).verdict, NotShown);
}

#[test]
fn thawing_in_water_four_hours_in_all() {
    for (minutes, c, verdict) in [
        (240.0, 12.0, Shown),
        (241.0, 12.0, Broken),
        (100.0, 21.0, Shown),
        (100.0, 21.1, Broken),
    ] {
        let history = one(&drawn(&[(0.0, c), (minutes, c)], 10.0));
        assert_eq!(us("thaw-water", &history).verdict, verdict, "{minutes} {c}");
    }
    // Only the time above 5 °C counts: on the line from 3 to 7 °C that is half of it.
    let half = us("thaw-water", &one(&[(0.0, 3.0), (30.0, 7.0)]));
    assert_eq!((half.verdict, half.value), (Shown, Some(0.25)));
}

#[test]
fn frozen_against_parasites() {
    for (c, hours, verdict) in [
        (-20.0, 168.0, Shown),
        (-20.0, 167.5, Broken),
        (-19.9, 200.0, Broken),
        (-35.0, 15.0, Shown),
        (-35.0, 14.5, Broken),
        (-34.9, 20.0, Broken),
    ] {
        let j = us(
            "freeze-parasites",
            &one(&drawn(&[(0.0, c), (hours * 60.0, c)], 30.0)),
        );
        assert_eq!(j.verdict, verdict, "{c} {hours}: {j:?}");
    }
    // Solid at −35 °C, then 24 h at −20 °C.
    let then = |hours: f64, solid: f64| {
        one(&drawn(
            &[(0.0, solid), (30.0, -20.0), (hours * 60.0, -20.0)],
            30.0,
        ))
    };
    assert_eq!(us("freeze-parasites", &then(24.0, -35.0)).verdict, Shown);
    assert_eq!(us("freeze-parasites", &then(23.9, -35.0)).verdict, Broken);
    assert_eq!(us("freeze-parasites", &then(24.0, -34.0)).verdict, Broken);
    // A thaw in between starts the count anew.
    let thawed = one(&drawn(
        &[
            (0.0, -20.0),
            (6000.0, -20.0),
            (6030.0, -19.0),
            (6060.0, -20.0),
            (12_000.0, -20.0),
        ],
        30.0,
    ));
    assert_eq!(us("freeze-parasites", &thawed).verdict, Broken);
    let gap = one(&[
        (0.0, -21.0),
        (30.0, -21.0),
        (168.0 * 60.0, -21.0),
        (168.0 * 60.0 + 30.0, -21.0),
    ]);
    assert_eq!(us("freeze-parasites", &gap).verdict, NotShown);
    let day = one(&drawn(&[(0.0, -20.0), (24.0 * 60.0, -20.0)], 30.0));
    assert_eq!(
        in_place("freeze-parasites", RuleSet::Eu, &day).verdict,
        NotShown,
        "24 h is from memory"
    );
    assert_eq!(us("freeze-parasites", &day).verdict, Broken);
}
