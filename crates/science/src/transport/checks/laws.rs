//! Laws that hold for any piece and any phases.

use proptest::prelude::*;

use super::*;

fn any_piece() -> impl Strategy<Value = Piece> {
    (10.0..40.0_f64, 10.0..40.0_f64, 0..6_u8).prop_map(|(a, b, kind)| match kind {
        0 => slab(a, Closed::None),
        1 => slab(a, Closed::One),
        2 => cylinder(a),
        3 => finger(a, b, Closed::None),
        4 => finger(a, b, Closed::One),
        _ => finger(a, b, Closed::Both),
    })
}

fn any_phase() -> impl Strategy<Value = Phase> {
    let time = || (0.0..60.0_f64).prop_map(hours);
    prop_oneof![
        (0.0..6.0_f64, 0.0..6.0_f64, 0.0..2.0_f64, time()).prop_map(|(salt, sugar, r, t)| cure(
            salt,
            sugar,
            Juice::AllEnters,
            r,
            t
        )),
        (0.5..6.0_f64, 0.0..6.0_f64, 0.2..2.0_f64, time()).prop_map(|(salt, sugar, r, t)| cure(
            salt,
            sugar,
            Juice::Stays,
            r,
            t
        )),
        (
            20.0..200.0_f64,
            1.0..20.0_f64,
            0.5..1.2_f64,
            -0.5..2.0_f64,
            time()
        )
            .prop_map(|(water, pct, k, r, t)| cover(water, pct, k, r, t)),
        (1.0..20.0_f64, time()).prop_map(|(pct, t)| wide(pct, t)),
        time().prop_map(rest),
        (0.0..2.0_f64).prop_map(|depth| Phase::Rinse { film: mm(depth) }),
        (1.0..15.0_f64, 1.0..20.0_f64).prop_map(|(gain, pct)| Phase::Pump {
            gain: green(gain),
            salt: strength(pct),
            sugar_g_per_kg_water: 20.0,
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn nothing_is_created_or_lost(
        piece in any_piece(),
        phases in prop::collection::vec(any_phase(), 1..5),
    ) {
        let grid = Grid::of_cells(24).unwrap();
        let history = run(&piece, &flesh(), &params(), &phases, grid).unwrap();
        for balance in [history.salt, history.sugar, history.water] {
            prop_assert!(balance.gap().abs() < ROUNDING, "{balance:?}");
        }
        // Nothing comes through the faces that was not offered, unless a wide brine offers without end.
        if !phases.iter().any(|p| matches!(p, Phase::WideBrine { .. })) {
            for b in [history.salt, history.sugar] {
                let unused = b.offered - b.left_outside - b.through_faces;
                prop_assert!(unused.abs() <= ROUNDING * (b.offered + b.put_in), "{b:?}");
            }
        }
    }

    #[test]
    fn more_never_slows(
        a in 8.0..40.0_f64,
        thinner in 0.5..1.0_f64,
        pct in 1.0..20.0_f64,
        more in 0.0..6.0_f64,
        t in 0.5..60.0_f64,
        longer in 0.0..40.0_f64,
        warmer in 0.0..10.0_f64,
    ) {
        let mean = |thickness: f64, pct: f64, time: f64, c: f64| {
            let brine = Phase::WideBrine {
                salt: strength(pct),
                sugar_g_per_kg_water: 0.0,
                water_out: WaterOut::STILL,
                time: hours(time),
                temperature: Temperature::celsius(c).unwrap(),
            };
            let history = took(&slab(thickness, Closed::One), &[brine], Grid::of_cells(30).unwrap());
            history.last.mean.salt_g_per_kg()
        };
        let base = mean(a, pct, t, 4.0);
        // Runs of other lengths take other steps: their errors differ by some 1e-5.
        let floor = base * (1.0 - 5e-5);
        prop_assert!(mean(a * thinner, pct, t, 4.0) >= floor);
        prop_assert!(mean(a, pct + more, t, 4.0) >= floor);
        prop_assert!(mean(a, pct, t + longer, 4.0) >= floor);
        prop_assert!(mean(a, pct, t, 4.0 + warmer) >= floor);
    }

    #[test]
    fn strength_stays_between_nothing_and_the_brine(piece in any_piece(), pct in 1.0..25.0_f64, t in 0.1..60.0_f64) {
        let history = took(&piece, &[wide(pct, hours(t)), rest(hours(t))], Grid::of_cells(24).unwrap());
        for end in &history.ends {
            for place in &end.profile {
                let found = place.here.water_phase_salt_pct();
                prop_assert!((-1e-9..=pct + 1e-9).contains(&found), "{found} of {pct}");
            }
        }
        let mut last = 0.0;
        for moment in history.curve.iter().filter(|m| m.phase == 0) {
            prop_assert!(moment.mean.salt_g_per_kg() >= last - 1e-12);
            last = moment.mean.salt_g_per_kg();
        }
    }

    #[test]
    fn the_same_question_has_the_same_answer(piece in any_piece(), phase in any_phase()) {
        let grid = Grid::of_cells(12).unwrap();
        let once = run(&piece, &flesh(), &params(), std::slice::from_ref(&phase), grid).unwrap();
        prop_assert_eq!(once, run(&piece, &flesh(), &params(), &[phase], grid).unwrap());
    }
}
