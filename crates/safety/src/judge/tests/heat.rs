//! Reheating, the tables of inspection with come-up and humid air, kill targets, and the edition of the poultry rule.

use super::super::{Bird, Humidity, inspected_meat_in, inspected_poultry_of};
use super::*;
use Verdict::{Broken, NotShown, Shown};

/// Air logged at `pct` beside a core.
fn in_air(mut history: History, pct: f64) -> History {
    let readings: Vec<_> = history.channels[0]
        .readings
        .iter()
        .map(|r| ((r.at_s - START_S) as f64 / 60.0, Some(pct)))
        .collect();
    let mut air = probe("air", &readings);
    air.quantity = Quantity::HumidityPct;
    history.channels.push(air);
    history
}

/// Up to `c` in `up` minutes from 10 °C, and held there.
fn cooked(up: f64, c: f64, held: f64) -> History {
    one(&drawn(&[(0.0, 10.0), (up, c), (up + held, c)], 4.0))
}

/// 165 °F (74 °C) for 15 s, no more than 2 h between 41 and 165 °F. California HSC 114016, read.
#[test]
fn reheated_in_time() {
    for (minutes, c, seconds, verdict) in [
        (119.0, 74.0, 15.0, Shown),
        (120.0, 74.0, 15.0, Shown),
        (121.0, 74.0, 15.0, Broken),
        (60.0, 74.0, 14.0, Broken),
        (60.0, 73.9, 60.0, Broken),
    ] {
        let mut readings = drawn(&[(0.0, 5.0), (minutes, c)], 4.0);
        readings.extend([
            (minutes + seconds / 60.0, c),
            (minutes + seconds / 60.0 + 0.05, 60.0),
        ]);
        let j = us("reheat", &one(&readings));
        assert_eq!(j.verdict, verdict, "{minutes} {c} {seconds}: {j:?}");
    }
    // In the fridge first: that is not between 41 and 165 °F, and no part of the two hours.
    let mut readings = drawn(
        &[(0.0, 3.0), (200.0, 3.0), (300.0, 74.0), (301.0, 74.5)],
        4.0,
    );
    readings.push((302.0, 75.0));
    assert_eq!(us("reheat", &one(&readings)).verdict, Shown);
    // A place without the row.
    assert_ne!(
        in_place("reheat", RuleSet::Canada, &one(&readings)).verdict,
        Shown
    );
}

/// FSIS Appendix A of December 2021, Table 2 (read): 140 °F (60 °C) for 12 min; come-up of 6 h at most; humid air, option 3.
#[test]
fn meat_by_the_table_of_inspection() {
    let name = "cook-inspected-meat";
    for (held, verdict) in [(12.0, Shown), (11.9, Broken)] {
        let j = us(name, &in_air(cooked(100.0, 60.0, held), 95.0));
        assert_eq!(j.verdict, verdict, "{held}: {j:?}");
        assert!(j.asks.contains("never for fish"), "{}", j.asks);
    }
    // 50 to 130 °F is 10 to 54.4 °C: 44.4 of the 50 degrees of the way up.
    for (up, verdict) in [(400.0, Shown), (410.0, Broken)] {
        let j = us(name, &in_air(cooked(up, 60.0, 20.0), 95.0));
        assert_eq!(j.verdict, verdict, "{up}: {j:?}");
    }
    for (pct, verdict) in [(90.0, Shown), (89.9, NotShown)] {
        let j = us(name, &in_air(cooked(100.0, 60.0, 20.0), pct));
        assert_eq!(j.verdict, verdict, "{pct}");
    }
    // Nobody logged the air: not shown, unless it is not asked, as in a sealed bag.
    let dry = cooked(100.0, 60.0, 20.0);
    let j = us(name, &dry);
    assert_eq!(j.verdict, NotShown);
    assert!(j.next.contains("humidity"), "{}", j.next);
    let bag = inspected_meat_in(&dry, &Terms::of(RuleSet::Us), Humidity::NotAsked).unwrap();
    assert_eq!(bag.verdict, Shown);
    // Humid for less than an hour.
    let short = in_air(cooked(20.0, 60.0, 20.0), 95.0);
    assert_eq!(us(name, &short).verdict, NotShown);
}

/// Tables 3 and 4 (read): at 150 °F (65.56 °C) chicken of 12 % fat takes 252 s, of 1 % 162 s; turkey of 12 % 294 s. A bird that is
/// neither takes the longer, fat not known the 12 %.
#[test]
fn poultry_by_the_tables_of_inspection() {
    let at = |seconds: f64| {
        let t = 60.0 + seconds / 60.0;
        let mut readings = steady(0.0, 56.0, 4.0, 50.0);
        readings.extend([
            (59.95, 50.0),
            (60.0, 65.6),
            (60.0 + seconds / 120.0, 65.6),
            (t, 65.6),
            (t + 0.05, 50.0),
        ]);
        one(&readings)
    };
    let of = |bird, fat, seconds| {
        inspected_poultry_of(
            &at(seconds),
            &Terms::of(RuleSet::Us),
            bird,
            fat,
            Humidity::NotAsked,
        )
        .unwrap()
        .verdict
    };
    for (bird, fat, seconds) in [
        (Bird::Chicken, Some(1.0), 162.0),
        (Bird::Chicken, Some(1.1), 168.0),
        (Bird::Chicken, Some(12.0), 252.0),
        (Bird::Chicken, None, 252.0),
        (Bird::Turkey, None, 294.0),
        (Bird::Other, None, 294.0),
    ] {
        assert_eq!(of(bird, fat, seconds), Shown, "{bird:?} {fat:?}");
        assert_eq!(of(bird, fat, seconds - 8.0), Broken, "{bird:?} {fat:?}");
    }
    let refused = inspected_poultry_of(
        &at(300.0),
        &Terms::of(RuleSet::Us),
        Bird::Turkey,
        Some(101.0),
        Humidity::NotAsked,
    );
    assert!(matches!(refused, Err(Refusal::Terms { .. })));
}

/// Food Code roast table against FSIS Table 2 of 6.5 log: the same times at the same temperatures (both read), and what one shows
/// the other does.
#[test]
fn the_two_tables_of_roasts_agree() {
    let rules = crate::rules::shipped().unwrap();
    let roast = rules
        .table("food-code-roast")
        .unwrap()
        .pairs("degF", "s")
        .unwrap();
    let fsis = rules
        .table("fsis-meat")
        .unwrap()
        .pairs("degF", "s_for_6.5_log")
        .unwrap();
    for (f, s) in roast {
        assert!(fsis.contains(&(f, s)), "{f} °F {s} s");
    }
}

/// 2 min at 70 °C and 10 min at 90 °C, with z 7.5 and 7 or 9 °C. Only the UK text was read.
#[test]
fn kill_targets() {
    let held = |c: f64, minutes: f64| one(&drawn(&[(0.0, c), (minutes, c)], 4.0));
    for (name, place, c, minutes, verdict) in [
        ("listeria-6d", RuleSet::Us, 70.0, 2.0, NotShown),
        ("listeria-6d", RuleSet::Us, 70.0, 1.9, Broken),
        ("botulinum-6d", RuleSet::Us, 90.0, 10.0, NotShown),
        ("botulinum-6d", RuleSet::Us, 90.0, 9.9, Broken),
        ("botulinum-6d", RuleSet::England, 90.0, 10.0, Shown),
        ("botulinum-6d", RuleSet::England, 90.0, 9.9, Broken),
        // At 85 °C 36 min are enough in England and 51.8 are asked in the US.
        ("botulinum-6d", RuleSet::England, 85.0, 36.0, Shown),
        ("botulinum-6d", RuleSet::Us, 85.0, 36.0, Broken),
        ("botulinum-6d", RuleSet::Us, 85.0, 51.8, NotShown),
    ] {
        let j = in_place(name, place, &held(c, minutes));
        assert_eq!(j.verdict, verdict, "{name} {place:?} {c} {minutes}: {j:?}");
    }
    // In a gap the core may have been anything.
    let gap = one(&[(0.0, 60.0), (4.0, 60.0), (10.0, 60.0)]);
    assert_eq!(us("listeria-6d", &gap).verdict, NotShown);
    let hot = rule("listeria-6d")(&held(151.0, 8.0), &Terms::of(RuleSet::Us));
    assert!(matches!(hot, Err(Refusal::Impossible { most: 150.0, .. })));
}

/// The 15 s of the editions before 2017 were read and are asked; the answer says which edition that is.
#[test]
fn the_poultry_rule_says_its_edition() {
    let j = us(
        "cook-poultry",
        &one(&drawn(&[(0.0, 60.0), (8.0, 74.0), (9.0, 74.0)], 1.0)),
    );
    assert_eq!(j.verdict, Shown);
    assert!(
        j.asks.contains("editions before 2017") && j.asks.contains("15 s"),
        "{}",
        j.asks
    );
}

/// A hold that is there in full and a gap elsewhere: not shown over the whole period, and the answer says which part to judge.
#[test]
fn a_covered_hold_can_be_judged_alone() {
    let history = one(&[
        (0.0, 40.0),
        (4.0, 63.5),
        (8.0, 63.5),
        (20.0, 50.0),
        (24.0, 50.0),
    ]);
    let j = us("cook-intact", &history);
    assert_eq!(j.verdict, NotShown);
    assert!(j.next.contains("judge it alone"), "{}", j.next);
    let alone = Terms {
        period: Some((START_S + 240, START_S + 480)),
        ..Terms::of(RuleSet::Us)
    };
    assert_eq!(
        rule("cook-intact")(&history, &alone).unwrap().verdict,
        Shown
    );
}
