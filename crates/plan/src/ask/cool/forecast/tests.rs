use super::*;

fn seen(c: f64, minute: f64) -> Seen {
    Seen {
        core: Temperature::celsius(c).unwrap(),
        minute,
    }
}

fn asked(before: Seen, now: Seen, air: f64) -> Followed {
    Followed {
        readings: vec![before, now],
        air: Temperature::celsius(air).unwrap(),
        place: RuleSet::Us,
    }
}

/// By hand: 57 to 34 °C in 55 min in air of 3 °C is τ = 55 ÷ ln(54 ÷ 31) = 99.1 min; 21 °C is
/// 99.1 × ln(31 ÷ 18) = 53.9 min on, at 1:49, eleven minutes before 2:00; 5 °C is 99.1 × ln(31 ÷ 2) =
/// 271.6 min on, at 5:27.
#[test]
fn two_readings_forecast_both_limits() {
    let found = followed(&asked(seen(57.0, 0.0), seen(34.0, 55.0), 3.0))
        .unwrap()
        .answer;
    assert!(
        found.answer.starts_with("ON TRACK  34 °C at 0:55"),
        "{}",
        found.answer
    );
    assert_eq!(
        found.limit,
        "21 °C by 2:00, forecast 1:49; 5 °C by 6:00, forecast 5:27"
    );
    assert_eq!(found.verdict, Some(Verdict::NotShown));
}

#[test]
fn a_slow_one_is_told_so_before_it_is_late_and_broken_after() {
    let slow = followed(&asked(seen(57.0, 0.0), seen(45.0, 55.0), 3.0))
        .unwrap()
        .answer;
    assert!(slow.answer.starts_with("TOO SLOW"), "{}", slow.answer);
    assert_eq!(slow.verdict, Some(Verdict::NotShown));
    let late = followed(&asked(seen(57.0, 0.0), seen(30.0, 130.0), 3.0))
        .unwrap()
        .answer;
    assert!(late.answer.starts_with("TOO LATE"), "{}", late.answer);
    assert_eq!(late.verdict, Some(Verdict::Broken));
}

#[test]
fn a_reading_that_rises_is_no_cooling() {
    assert!(followed(&asked(seen(34.0, 0.0), seen(40.0, 55.0), 3.0)).is_err());
    assert!(followed(&asked(seen(57.0, 0.0), seen(4.0, 55.0), 3.0)).is_err());
}

/// Readings of the curve of the two above, and one in between that lies off it.
#[test]
fn more_readings_give_the_same_curve_or_say_that_one_does_not_hold() {
    let on = |minute: f64| seen(3.0 + 54.0 * (-minute / 99.1).exp(), minute);
    let mut ask = asked(on(0.0), on(55.0), 3.0);
    ask.readings = vec![on(0.0), on(20.0), on(40.0), on(55.0)];
    let found = followed(&ask).unwrap().answer;
    assert_eq!(
        found.limit,
        "21 °C by 2:00, forecast 1:49; 5 °C by 6:00, forecast 5:27"
    );
    assert!(
        found.text().contains("the law of cooling holds so far"),
        "{}",
        found.text()
    );
    ask.readings[1].core = Temperature::celsius(56.0).unwrap();
    let found = followed(&ask).unwrap().answer;
    assert!(found.text().contains("does NOT hold"), "{}", found.text());
    assert_eq!(found.verdict, Some(Verdict::NotShown));
}

#[test]
fn midnight_is_passed() {
    let found = followed(&asked(seen(57.0, 1400.0), seen(34.0, 15.0), 3.0))
        .unwrap()
        .answer;
    assert!(found.answer.ends_with("at 0:15"), "{}", found.answer);
    assert!(found.limit.contains("by 1:20"), "{}", found.limit);
}
