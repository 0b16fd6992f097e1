use super::*;
use proptest::prelude::*;

fn search(low: f64, high: f64, tolerance: f64) -> Search {
    Search::new("x", low, high, tolerance).unwrap()
}

fn refused(error: ScienceError) -> SearchError {
    match error {
        ScienceError::Search(error) => error,
        other => panic!("{other}"),
    }
}

/// Roots with a closed form, or known to more digits than asked: the Dottie number cos x = x and the
/// golden ratio x² = x + 1 (standard constants).
#[test]
fn known_crossings_are_found() {
    type F = fn(f64) -> f64;
    let cases: [(F, f64, f64, f64); 6] = [
        (|x| x.cos() - x, 0.0, 1.0, 0.739_085_133_215_160_6),
        (|x| x * x - x - 1.0, 0.0, 5.0, 1.618_033_988_749_895),
        (|x| x.exp() - 2.0, -20.0, 20.0, std::f64::consts::LN_2),
        (|x| 2.0 - x.exp(), -20.0, 20.0, std::f64::consts::LN_2),
        (|x| (x - 3.0).powi(9), 0.0, 10.0, 3.0),
        (|x| (x - 1e-3).atan(), -1e3, 1e6, 1e-3),
    ];
    for (i, (f, low, high, root)) in cases.into_iter().enumerate() {
        let found = search(low, high, 1e-9).root(|x| Ok(f(x))).unwrap();
        assert!((found.x - root).abs() <= 1e-9, "case {i}: {found:?}");
        assert!(found.below <= root + 1e-9 && found.above >= root - 1e-9);
    }
}

#[test]
fn smooth_curves_take_fewer_steps_than_halving() {
    // Halving 1 to 1e-12 takes 39 steps and two ends.
    let found = search(0.0, 1.0, 1e-12).root(|x| Ok(x.cos() - x)).unwrap();
    assert!(found.asked <= 14, "{found:?}");
}

#[test]
fn a_crossing_at_an_end_is_that_end() {
    assert_eq!(search(0.0, 1.0, 1e-9).root(Ok).unwrap().x, 0.0);
    assert_eq!(search(-1.0, 0.0, 1e-9).root(Ok).unwrap().x, 0.0);
}

#[test]
fn what_has_no_crossing_says_both_values() {
    let error = refused(search(1.0, 2.0, 1e-6).root(Ok).unwrap_err());
    assert_eq!(
        error,
        SearchError::NoSignChange {
            what: "x",
            low: 1.0,
            at_low: 1.0,
            high: 2.0,
            at_high: 2.0
        }
    );
    assert!(matches!(
        refused(search(-1.0, 2.0, 1e-6).root(|x| Ok(1.0 / x)).unwrap_err()),
        SearchError::Jump { .. }
    ));
    assert!(matches!(
        refused(search(-1.0, 2.0, 1e-6).root(|x| Ok(x.sqrt())).unwrap_err()),
        SearchError::NotFinite { at: -1.0, .. }
    ));
    let own = search(-1.0, 2.0, 1e-6).root(|_| Err(ScienceError::None { what: "salt" }));
    assert_eq!(own, Err(ScienceError::None { what: "salt" }));
    for (low, high, tolerance) in [
        (1.0, 1.0, 0.1),
        (2.0, 1.0, 0.1),
        (f64::NAN, 1.0, 0.1),
        (0.0, f64::INFINITY, 0.1),
        (0.0, 1.0, 0.0),
        (0.0, 1.0, f64::NAN),
        (1e9, 1e9 + 1.0, 1e-9),
    ] {
        assert!(
            Search::new("x", low, high, tolerance).is_err(),
            "{low} {high} {tolerance}"
        );
    }
}

#[test]
fn limits_over_the_whole_stretch_say_so() {
    let s = search(0.0, 10.0, 0.01);
    assert_eq!(
        s.least(|_| Ok(true)).unwrap(),
        Limit {
            x: 0.0,
            fails_at: None,
            asked: 2
        }
    );
    assert_eq!(
        s.greatest(|_| Ok(true)).unwrap(),
        Limit {
            x: 10.0,
            fails_at: None,
            asked: 2
        }
    );
    assert!(matches!(
        refused(s.least(|_| Ok(false)).unwrap_err()),
        SearchError::NeverHolds { .. }
    ));
    assert_eq!(
        refused(s.least(|x| Ok(x < 4.0)).unwrap_err()).to_string(),
        "search for the least x: found the condition to hold at 0 and not at 10; expected it the other way about; ask \
         for the greatest instead"
    );
    assert!(matches!(
        refused(s.greatest(|x| Ok(x > 4.0)).unwrap_err()),
        SearchError::OtherWay { .. }
    ));
    assert!(
        s.least(|_| Err(ScienceError::None { what: "salt" }))
            .is_err()
    );
}

#[test]
fn a_condition_that_comes_and_goes_is_found_out() {
    let s = search(0.0, 10.0, 0.01);
    assert!(s.steady(11, |x| Ok(x > 4.5)).is_ok());
    assert_eq!(
        refused(s.steady(11, |x| Ok(x > 2.5 && x < 7.5)).unwrap_err()),
        SearchError::ComesAndGoes {
            what: "x",
            holds_at: 7.0,
            fails_at: 8.0
        }
    );
    assert!(s.steady(1, |_| Ok(true)).is_err());
}

#[test]
fn samples_gather_where_the_curve_bends() {
    let s = search(0.0, 10.0, 1e-3);
    let curve = s.trade_off(40, |x| Ok((-5.0 * x).exp())).unwrap();
    assert_eq!(curve.len(), 40);
    let early = curve.iter().filter(|p| p.x < 2.0).count();
    assert!(early > 20, "{early}");
    // Straight lines between the samples miss the curve by less than 1 % of its height; forty even
    // ones, 0.256 apart, miss it by 11 % in the first stretch.
    let run = &runs(&curve)[0];
    for i in 0..=1000 {
        let x = f64::from(i) / 100.0;
        let pair = run.windows(2).find(|w| w[0].0 <= x && x <= w[1].0).unwrap();
        let line = pair[0].1 + (pair[1].1 - pair[0].1) * (x - pair[0].0) / (pair[1].0 - pair[0].0);
        assert!((line - (-5.0 * x).exp()).abs() < 0.01, "{x}");
    }
}

#[test]
fn the_unknown_stays_a_gap() {
    let s = search(-4.0, 4.0, 1e-3);
    let curve = s.trade_off(60, |x| Ok((x * x - 1.0).sqrt())).unwrap();
    let parts = runs(&curve);
    assert_eq!(parts.len(), 2);
    assert!(curve.iter().any(|p| matches!(
        p.y,
        Err(ScienceError::Search(SearchError::NotFinite { .. }))
    )));
    // The edge itself is looked for: the last known sample comes near −1.
    assert!(
        (parts[0].last().unwrap().0 + 1.0).abs() < 0.02,
        "{:?}",
        parts[0].last()
    );
    let none = s
        .trade_off(5, |_| Err(ScienceError::None { what: "salt" }))
        .unwrap();
    assert_eq!((none.len(), runs(&none).len()), (5, 0));
    assert!(s.trade_off(1, Ok).is_err() && s.trade_off(MOST_SAMPLES + 1, Ok).is_err());
}

proptest! {
    #[test]
    fn a_crossing_is_met_within_the_tolerance_and_the_steps_of_halving(
        root in -50.0..50.0_f64, below in 0.1..80.0_f64, above in 0.1..80.0_f64, bend in 0.0..8.0_f64,
        digits in 1..11_i32, sign in prop::sample::select(vec![-1.0, 1.0]),
    ) {
        let tolerance = 10.0_f64.powi(-digits);
        let s = search(root - below, root + above, tolerance);
        let found = s.root(|x| { let d = x - root; Ok(sign * (d + bend * d.powi(3)) * (0.05 * d).exp()) }).unwrap();
        prop_assert!((found.x - root).abs() <= tolerance * (1.0 + 1e-6));
        // Two ends, the halvings, one more, and one for a rounding error in their count.
        let halvings = ((below + above) / (2.0 * tolerance)).log2().ceil().max(0.0) as usize;
        prop_assert!(found.asked <= 2 + halvings + 2, "{} for {halvings}", found.asked);
    }

    #[test]
    fn a_limit_holds_and_its_neighbour_does_not(limit in 0.01..9.99_f64, digits in 1..9_i32) {
        let tolerance = 10.0_f64.powi(-digits);
        let s = search(0.0, 10.0, tolerance);
        let up = s.least(|x| Ok(x >= limit)).unwrap();
        prop_assert!(up.x >= limit && up.x - limit <= tolerance);
        prop_assert!(up.fails_at.is_some_and(|f| f < limit && up.x - f <= tolerance));
        let down = s.greatest(|x| Ok(x <= limit)).unwrap();
        prop_assert!(down.x <= limit && limit - down.x <= tolerance);
        prop_assert!(down.fails_at.is_some_and(|f| f > limit && f - down.x <= tolerance));
    }

    #[test]
    fn the_least_that_will_do_is_where_the_curve_crosses(rate in 0.01..0.5_f64, part in 0.2..0.9_f64) {
        let s = search(0.0, 1000.0, 1e-6);
        let root = s.root(|t| Ok((-rate * t).exp() - part)).unwrap();
        let least = s.least(|t| Ok((-rate * t).exp() <= part)).unwrap();
        prop_assert!((root.x - least.x).abs() <= 2e-6);
    }

    #[test]
    fn a_trade_off_rises_from_end_to_end(samples in 2_usize..80, k in 0.1..9.0_f64) {
        let curve = search(0.0, 3.0, 1e-4).trade_off(samples, |x| Ok((k * x).sin())).unwrap();
        prop_assert_eq!(curve.len(), samples);
        prop_assert_eq!((curve[0].x, curve[samples - 1].x), (0.0, 3.0));
        prop_assert!(curve.windows(2).all(|w| w[0].x < w[1].x));
        prop_assert!(curve.iter().all(|p| p.y == Ok((k * p.x).sin())));
    }
}
