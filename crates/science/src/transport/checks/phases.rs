//! What each phase does, against figures worked by hand.

use super::*;
use crate::ScienceError;

#[test]
fn a_measured_cure_enters_to_the_last_grain() {
    for piece in [
        slab(25.0, Closed::One),
        slab(25.0, Closed::None),
        cylinder(30.0),
        finger(25.0, 30.0, Closed::None),
        finger(25.0, 30.0, Closed::One),
        finger(25.0, 30.0, Closed::Both),
    ] {
        let cure = cure(2.5, 1.5, Juice::AllEnters, 2.0, hours(24.0));
        let history = took(&piece, &[cure, rest(hours(400.0))], Grid::default());
        let cured = history.ends[0].moment;
        assert!((cured.mean.salt_g_per_kg() - 25.0).abs() < 25.0 * ROUNDING);
        assert!((cured.mean.sugar_g_per_kg() - 15.0).abs() < 15.0 * ROUNDING);
        assert!((cured.mean.water_g_per_kg() - 670.0).abs() < 1e-9);
        assert_eq!(history.salt.left_outside, 0.0);
        // 25 g in 670 g of water, by hand: 3.597 %; rest brings the core there.
        let even = history.last.core.water_phase_salt_pct();
        assert!((even - 25.0 / 695.0 * 100.0).abs() < 0.01, "{even}");
        assert!(cured.core.water_phase_salt_pct() < even);
    }
}

#[test]
fn salt_that_runs_out_makes_the_face_fall() {
    let history = took(
        &slab(25.0, Closed::One),
        &[cure(2.5, 0.0, Juice::AllEnters, 0.0, hours(24.0))],
        Grid::default(),
    );
    let saturated = 26.395;
    let face = |m: &Moment| m.surface.water_phase_salt_pct();
    assert!((face(&history.curve[2]) - saturated).abs() < 1e-9);
    // Short-time form: 25 of 258.2 g is Fo 0.00736, at 1e-9 m²/s and 25 mm 4602 s.
    let gone = history
        .curve
        .iter()
        .skip(1)
        .find(|m| face(m) < saturated - 1e-6)
        .unwrap();
    // The curve has a moment every quarter of an hour there.
    assert!((1.27..1.53).contains(&gone.hours), "{}", gone.hours);
    assert!(face(history.curve.last().unwrap()) < 8.0);
}

#[test]
fn juice_that_stays_keeps_part_of_the_cure() {
    let piece = slab(25.0, Closed::None);
    let ends = |juice| {
        let phases = [cure(2.5, 1.0, juice, 2.0, hours(600.0))];
        took(&piece, &phases, Grid::default())
    };
    let (stays, enters) = (ends(Juice::Stays), ends(Juice::AllEnters));
    assert!(stays.last.mean.salt_g_per_kg() < enters.last.mean.salt_g_per_kg());
    // In the end juice and flesh are equally strong, and all the salt is in one or the other.
    let juice_salt = stays.salt.left_outside;
    let juice_water = -stays.water.through_faces;
    let juice_pct = juice_salt / (juice_salt + juice_water) * 100.0;
    let flesh_pct = stays.last.core.water_phase_salt_pct();
    assert!(
        (juice_pct / flesh_pct - 1.0).abs() < 1e-3,
        "{juice_pct} {flesh_pct}"
    );
    let all = stays.salt.in_piece + juice_salt;
    assert!(
        (all / 0.025 - 1.0).abs() < ROUNDING,
        "{:e}",
        all / 0.025 - 1.0
    );
}

#[test]
fn water_answers_the_salt() {
    let phases = |r| {
        [Phase::WideBrine {
            salt: strength(20.0),
            sugar_g_per_kg_water: 0.0,
            water_out: ratio(r),
            time: at_fourier(0.2),
            temperature: cold(),
        }]
    };
    for r in [-1.5, 0.0, 1.0, 3.0] {
        let history = took(&slab(20.0, Closed::None), &phases(r), Grid::default());
        let salt = history.last.mean.salt_g_per_kg();
        assert!((720.0 - history.last.mean.water_g_per_kg() - r * salt).abs() < 1e-9);
        // Whatever the ratio, the face is as strong as the brine.
        let face = history.curve.last().unwrap().surface.water_phase_salt_pct();
        assert!((face - 20.0).abs() < 1e-9, "{face}");
    }
    // At 20 % a face has a quarter as much salt as water: r = 10 leaves 1 ÷ 3.5 of its water, r = -3.5
    // makes eight times as much of it, by hand.
    for r in [10.0, -3.5] {
        let refused = run(
            &slab(20.0, Closed::None),
            &flesh(),
            &params(),
            &phases(r),
            Grid::default(),
        )
        .unwrap_err()
        .to_string();
        let found = if r > 0.0 { "found 0.2857" } else { "found 8 " };
        assert!(refused.contains(found), "{refused}");
    }
}

#[test]
fn a_rinse_takes_from_the_face_and_only_there() {
    let piece = slab(25.0, Closed::One);
    let cured = cure(30.0, 0.0, Juice::AllEnters, 1.0, hours(4.0));
    let rinse = Phase::Rinse { film: mm(1.0) };
    let before = took(&piece, std::slice::from_ref(&cured), Grid::default());
    let after = took(&piece, &[cured, rinse], Grid::default());
    assert!(after.last.mean.salt_g_per_kg() < before.last.mean.salt_g_per_kg());
    assert!(after.last.surface.salt_g_per_kg() < 1e-9);
    assert_eq!(after.last.core, before.last.core);
    let lost = before.last.mean.salt_g_per_kg() - after.last.mean.salt_g_per_kg();
    assert!((lost / 1000.0 / after.salt.rinsed - 1.0).abs() < 1e-9);
    assert!(after.salt.gap().abs() < ROUNDING && after.water.gap().abs() < ROUNDING);
    // The weight of the water phase is the same before and after: water took the place of the salt.
    assert!((after.last.weight_kg_per_kg - before.last.weight_kg_per_kg).abs() < 1e-12);
}

#[test]
fn a_pump_is_even_at_once() {
    let pump = Phase::Pump {
        gain: green(10.0),
        salt: strength(20.0),
        sugar_g_per_kg_water: 0.0,
    };
    let history = took(
        &finger(40.0, 50.0, Closed::None),
        &[pump, rest(hours(12.0))],
        Grid::default(),
    );
    // 100 g of pickle at 20 %, by hand: 20 g of salt, 80 of water.
    for here in [history.last.mean, history.last.core, history.last.surface] {
        assert!((here.salt_g_per_kg() - 20.0).abs() < 1e-9);
        assert!((here.water_g_per_kg() - 800.0).abs() < 1e-9);
    }
    assert!((history.last.weight_kg_per_kg - 1.1).abs() < 1e-12);
}

#[test]
fn a_piece_closed_all_round_only_rests() {
    let shut = slab(25.0, Closed::Both);
    let brine = [wide(10.0, hours(1.0))];
    assert!(matches!(
        run(&shut, &flesh(), &params(), &brine, Grid::default()),
        Err(ScienceError::NoOpenFace { .. })
    ));
    let resting = took(&shut, &[rest(hours(10.0))], Grid::default());
    assert_eq!(resting.last.mean.salt_g_per_kg(), 0.0);
}

#[test]
fn no_time_changes_nothing() {
    let phases = [
        cure(2.5, 1.0, Juice::AllEnters, 1.0, Elapsed::ZERO),
        rest(Elapsed::ZERO),
        Phase::Rinse { film: mm(0.0) },
    ];
    let history = took(&slab(25.0, Closed::One), &phases, Grid::default());
    assert_eq!(history.last.mean, history.curve[0].mean);
    assert_eq!(history.salt.left_outside, 0.025);
}

#[test]
fn splitting_a_time_changes_nothing_beyond_the_step() {
    let piece = slab(25.0, Closed::One);
    let whole = took(&piece, &[wide(10.0, hours(24.0))], Grid::default());
    let halves = [wide(10.0, hours(12.0)), wide(10.0, hours(12.0))];
    let split = took(&piece, &halves, Grid::default());
    let (a, b) = (
        whole.last.mean.salt_g_per_kg(),
        split.last.mean.salt_g_per_kg(),
    );
    assert!((a / b - 1.0).abs() < 2e-5, "{a} {b}");
}
