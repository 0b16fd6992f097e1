use super::*;
use proptest::prelude::*;

fn weighed(days: f64, g: f64) -> Weighing {
    Weighing {
        at: Elapsed::from_days(days).unwrap(),
        weight: Mass::grams(g).unwrap(),
    }
}

fn g(grams: f64) -> Mass {
    Mass::grams(grams).unwrap()
}

/// A duck breast worked by hand: k 0.02548 per day from 358.9 g, weights printed to 0.1 g.
#[test]
fn the_worked_breast_gives_its_rate_back() {
    let fit = DryingFit::of(&[
        weighed(0.0, 358.9),
        weighed(3.0, 332.5),
        weighed(7.0, 300.3),
        weighed(10.0, 278.2),
        weighed(14.0, 251.2),
        weighed(16.0, 238.7),
    ])
    .unwrap();
    assert!((fit.rate().unwrap().k_per_day() - 0.025_48).abs() < 2e-5);
    let done = fit.forecast(g(358.9 * 0.70)).unwrap();
    assert!((done.likely.days() - 14.0).abs() < 0.02);
    let Window::Closed { earliest, latest } = done.window else {
        panic!("{:?}", done.window)
    };
    assert!(earliest < done.likely && done.likely < latest);
    assert!((latest.days() - earliest.days()) < 0.1);
}

#[test]
fn two_weighings_agree_with_the_plain_rate_and_tell_no_spread() {
    let fit = DryingFit::of(&[weighed(0.0, 358.9), weighed(7.0, 310.0)]).unwrap();
    let plain = Rate::weighed(g(358.9), g(310.0), Elapsed::from_days(7.0).unwrap()).unwrap();
    assert!((fit.rate().unwrap().k_per_day() - plain.k_per_day()).abs() < 1e-12);
    assert_eq!(fit.rate_spread_per_day(), None);
    let target = g(358.9 * 0.70);
    let forecast = fit.forecast(target).unwrap();
    assert_eq!(forecast.window, Window::Unknown);
    // Both round to whole seconds.
    let plain_days = plain.time_to(g(358.9), target).unwrap().days();
    assert!((forecast.likely.days() - plain_days).abs() < 2.0 / 86_400.0);
    assert!((plain_days - 17.0).abs() < 0.05);
}

/// Worked by hand: ln w 6.0, 5.9, 5.85 at 0, 1, 2 days: k 0.075, scatter √(0.025²·(1+4+1)/9) = 0.020412,
/// slope off by 12.706 × 0.020412 ÷ √2 = 0.18339.
#[test]
fn the_spread_of_three_weighings_is_that_of_the_textbook() {
    let fit = DryingFit::of(&[
        weighed(0.0, 6.0_f64.exp()),
        weighed(1.0, 5.9_f64.exp()),
        weighed(2.0, 5.85_f64.exp()),
    ])
    .unwrap();
    let (least, most) = fit.rate_spread_per_day().unwrap();
    assert!((0.5 * (least + most) - 0.075).abs() < 1e-9);
    assert!(
        (0.5 * (most - least) - 0.183_39).abs() < 2e-5,
        "{most} {least}"
    );
    // Three weighings that scatter so cannot promise an end.
    assert!(matches!(
        fit.forecast(g(5.6_f64.exp())).unwrap().window,
        Window::Open { .. }
    ));
}

#[test]
fn a_piece_that_did_not_lose_or_was_weighed_once_is_refused() {
    assert!(matches!(
        DryingFit::of(&[weighed(0.0, 300.0)]),
        Err(ScienceError::TooFew { found: 1, .. })
    ));
    assert!(DryingFit::of(&[]).is_err());
    assert!(DryingFit::of(&[weighed(1.0, 300.0), weighed(1.0, 290.0)]).is_err());
    assert!(matches!(
        DryingFit::of(&[weighed(0.0, 300.0), weighed(2.0, 310.0)]),
        Err(ScienceError::NotDrying { .. })
    ));
    assert!(DryingFit::of(&[weighed(0.0, 300.0), weighed(2.0, 0.0)]).is_err());
    let fit = DryingFit::of(&[weighed(0.0, 300.0), weighed(2.0, 290.0)]).unwrap();
    assert!(fit.forecast(g(400.0)).is_err() && fit.forecast(g(1.0)).is_err());
    assert!(fit.weight_at(Elapsed::from_days(30.0).unwrap()).is_err());
}

#[test]
fn a_rate_carried_to_other_air_says_it_is_assumed() {
    let of = |pct| RelativeHumidity::percent(pct).unwrap();
    let damp = |aw| WaterActivity::new(aw).unwrap();
    let rate = Rate::per_day(0.025).unwrap();
    let (same, status) = at_humidity(rate, of(75.0), of(75.0), damp(0.95))
        .unwrap()
        .with_status();
    assert_eq!((same, status), (rate, Status::House));
    assert!(at_humidity(rate, of(75.0), of(94.0), damp(0.95)).is_err());
    assert!(at_humidity(rate, of(40.0), of(75.0), damp(0.95)).is_err());
    assert!(at_humidity(rate, of(88.0), of(55.0), damp(0.93)).is_err());
}

proptest! {
    #[test]
    fn an_exact_curve_is_found_again(k in 0.005..0.1_f64, w in 50.0..5000.0_f64, days in prop::collection::vec(0.0..30.0_f64, 3..12)) {
        let whole = days.iter().map(|d| Elapsed::from_days(*d).unwrap()).collect::<Vec<_>>();
        prop_assume!(whole.iter().any(|t| (t.days() - whole[0].days()).abs() > 1.0));
        let all = whole.iter().map(|t| Weighing { at: *t, weight: g(w * (-k * t.days()).exp()) }).collect::<Vec<_>>();
        let fit = DryingFit::of(&all).unwrap();
        prop_assert!((fit.k_per_day / k - 1.0).abs() < 1e-6);
        let target = g(w * 0.7);
        let forecast = fit.forecast(target).unwrap();
        prop_assert!((forecast.likely.days() - -(0.7_f64.ln()) / k).abs() < 1e-4);
        prop_assert!(fit.scatter.unwrap() < 1e-9);
    }

    #[test]
    fn the_window_holds_the_likely_time(k in 0.01..0.05_f64, noise in prop::collection::vec(-0.01..0.01_f64, 5..8), part in 0.5..0.9_f64) {
        let all = noise.iter().enumerate().map(|(i, e)| {
            let day = 2.0 * i as f64;
            weighed(day, 300.0 * (e - k * day).exp())
        }).collect::<Vec<_>>();
        if let Ok(fit) = DryingFit::of(&all) {
            let forecast = fit.forecast(g(300.0 * part)).unwrap();
            match forecast.window {
                Window::Closed { earliest, latest } => {
                    prop_assert!(earliest <= forecast.likely && forecast.likely <= latest);
                    // Each end lies on the band: rebuilt from its definition, where not cut at hanging.
                    let reach = fit.reach().unwrap();
                    for end in [earliest, latest] {
                        if end > Elapsed::ZERO {
                            let u = end.days() - fit.mean_day;
                            let off = (fit.mean_ln_g - fit.k_per_day * u - (300.0 * part).ln()).abs();
                            let band = reach * (1.0 + 1.0 / fit.weighings as f64 + u * u / fit.day_squares).sqrt();
                            prop_assert!((off - band).abs() < 1e-5, "{off} {band}");
                        }
                    }
                }
                Window::Open { earliest } => prop_assert!(earliest <= forecast.likely),
                Window::Unknown => prop_assert!(false),
            }
        }
    }

    #[test]
    fn damper_air_never_dries_faster(rh in 55.0..85.0_f64, more in 0.0..5.0_f64) {
        let of = |pct| RelativeHumidity::percent(pct).unwrap();
    let damp = |aw| WaterActivity::new(aw).unwrap();
        let rate = Rate::per_day(0.02).unwrap();
        let at = |rh| at_humidity(rate, of(75.0), of(rh), damp(0.97)).unwrap().rate;
        prop_assert!(at(rh + more) <= at(rh));
    }
}
