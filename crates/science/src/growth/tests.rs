use super::*;
use crate::acid::Ph;
use crate::brine::Strength;
use crate::water_activity::{self, WaterActivity};
use proptest::prelude::*;
use units::{Ppm, Temperature};

fn c(c: f64) -> Temperature {
    Temperature::celsius(c).unwrap()
}

fn food(t: f64, aw: f64, ph: f64, lactic_mmol_l: f64, phenol: f64) -> ListeriaProduct {
    let none = Ppm::new(0.0).unwrap();
    ListeriaProduct {
        temperature: c(t),
        water_activity: WaterActivity::new(aw).unwrap(),
        ph: Ph::new(ph).unwrap(),
        phenol: Ppm::new(phenol).unwrap(),
        nitrite: none,
        carbon_dioxide: none,
        acids: Acids {
            lactic_mmol_l,
            ..Acids::default()
        },
    }
}

fn per_hour(food: ListeriaProduct) -> f64 {
    listeria(&food).unwrap().rate().with_status().0
}

/// Worked from the same remembered form: they hold the copying, nothing else.
#[test]
fn the_listeria_form_is_written_down_right() {
    for (food, mu, psi, damping) in [
        (food(5.0, 0.98, 6.1, 0.0, 0.0), 0.022_732, 0.2854, 1.0),
        (food(5.0, 0.965, 6.1, 80.0, 10.0), 0.010_125, 0.3989, 1.0),
        (food(8.0, 0.97, 6.1, 80.0, 10.0), 0.021_676, 0.2716, 1.0),
        (food(5.0, 0.95, 6.0, 100.0, 15.0), 0.003_312, 0.6352, 0.7296),
    ] {
        let found = listeria(&food).unwrap();
        let rate = found.rate().with_status().0;
        let boundary = found.boundary_with_status().0.unwrap();
        let slowed = found.interaction_with_status().0;
        assert!((rate - mu).abs() < 6e-7, "{rate} for {mu}");
        assert!((boundary - psi).abs() < 6e-5, "{boundary} for {psi}");
        assert!((slowed - damping).abs() < 1.1e-4, "{slowed} for {damping}");
    }
    let sour = listeria(&food(5.0, 0.98, 5.0, 80.0, 0.0)).unwrap();
    assert_eq!(sour.rate().with_status().0, 0.0);
    assert_eq!(sour.boundary_with_status(), (None, Status::FromMemory));
}

#[test]
fn a_rate_is_never_shown_without_its_status() {
    let forecast = listeria(&food(5.0, 0.98, 6.1, 0.0, 0.0)).unwrap();
    for shown in [
        format!("{forecast}"),
        format!("{forecast:?}"),
        format!("{:?}", forecast.rate()),
        format!("{}", forecast.rate()),
        format!("{:?}", GROWTH_LIMITS[0].min_ph),
    ] {
        assert!(shown.contains("from memory"), "{shown}");
    }
    assert!(!forecast.rate().with_status().1.may_show());
}

#[test]
fn past_a_limit_growth_ends_and_does_not_come_back() {
    // Nitrite is squared in the form: 700 ppm would read as none at all.
    let mut cured = food(5.0, 0.98, 6.1, 0.0, 0.0);
    cured.nitrite = Ppm::new(700.0).unwrap();
    assert_eq!(per_hour(cured), 0.0);
    assert_eq!(per_hour(food(5.0, 0.92, 6.1, 0.0, 0.0)), 0.0);
    assert!(listeria(&food(-1.0, 0.98, 6.1, 0.0, 0.0)).is_err());
    assert!(listeria(&food(26.0, 0.98, 6.1, 0.0, 0.0)).is_err());
    assert!(listeria(&food(5.0, 0.98, 6.1, -1.0, 0.0)).is_err());
}

#[test]
fn the_square_root_holds_in_its_own_range_only() {
    let model = SquareRoot {
        slope_per_sqrt_h_k: 0.02,
        t_min: c(LISTERIA_MILK_T_MIN_C.0),
        coldest: c(4.0),
        warmest: c(30.0),
        status: Status::Entered,
    };
    // By hand: (0.02 × 9.4)².
    let (rate, status) = model.rate(c(10.0)).unwrap().with_status();
    assert!((rate - 0.035_344).abs() < 1e-9);
    assert_eq!(status, Status::Entered);
    assert!(model.rate(c(2.0)).is_err() && model.rate(c(35.0)).is_err());
    let day = Elapsed::from_hours(24.0).unwrap();
    let (tenfolds, _) = model.rate(c(10.0)).unwrap().tenfolds_in(day);
    // By hand: 0.848256 ÷ 2.302585.
    assert!((tenfolds - 0.368_393).abs() < 1e-6);
}

#[test]
fn every_organism_finds_its_own_row() {
    for row in GROWTH_LIMITS {
        assert_eq!(row.organism.limits().organism, row.organism);
        assert!(row.min_ph.with_status().0 < row.max_ph.with_status().0);
        assert!(row.min_f.with_status().0 < row.max_f.with_status().0);
        for limit in [
            row.min_aw,
            row.min_ph,
            row.max_ph,
            row.max_wps_pct,
            row.min_f,
            row.max_f,
        ] {
            assert!(!limit.with_status().1.may_show());
        }
    }
}

#[test]
fn hurdles_are_counted_one_by_one() {
    let row = Organism::BotulinumNonProteolytic.limits();
    let salted = Conditions {
        temperature: Some(c(2.0)),
        water_phase_salt: Some(Strength::percent(3.5).unwrap()),
        ..Conditions::default()
    };
    assert_eq!(row.hurdles(&salted), vec![Hurdle::Cold(row.min_f)]);
    assert!(row.hurdles(&Conditions::default()).is_empty());
    let dry = Conditions {
        temperature: Some(c(60.0)),
        water_activity: Some(WaterActivity::new(0.95).unwrap()),
        ph: Some(Ph::new(4.5).unwrap()),
        water_phase_salt: Some(Strength::percent(6.0).unwrap()),
    };
    assert_eq!(row.hurdles(&dry).len(), 4);
}

/// 3.5 % water-phase salt is 0.9796, above 0.97: the two ways are alternatives, not one.
#[test]
fn the_ways_of_holding_botulinum_back_are_not_equals() {
    let [
        _,
        BotulinumAlternative::WaterPhaseSaltPct(salt),
        BotulinumAlternative::WaterActivityBelow(aw),
        _,
    ] = NON_PROTEOLYTIC_BOTULINUM
    else {
        panic!("order of the list")
    };
    let brine = Strength::percent(salt.with_status().0).unwrap();
    assert!(water_activity::salt(brine).unwrap().aw() > aw.with_status().0);
    assert!(
        WHITEFISH_TOXIN
            .iter()
            .all(|t| t.wps_pct > salt.with_status().0)
    );
    // 31.3 °F of the table lies inside the span read elsewhere.
    let listeria = Organism::ListeriaMonocytogenes
        .limits()
        .min_f
        .with_status()
        .0;
    let (from, to) = LISTERIA_SPANS[0];
    assert!((from..to).contains(&((listeria - 32.0) / 1.8)));
}

proptest! {
    #[test]
    fn warmer_is_never_slower_and_hurdles_never_speed_up(
        t in 0.0..20.0_f64, more in 0.0..5.0_f64, aw in 0.93..0.999_f64, ph in 5.2..7.0_f64,
        lactic in 0.0..100.0_f64, phenol in 0.0..20.0_f64,
    ) {
        let base = per_hour(food(t, aw, ph, lactic, phenol));
        prop_assert!(per_hour(food(t + more, aw, ph, lactic, phenol)) >= base - 1e-15);
        prop_assert!(per_hour(food(t, aw - 0.005, ph, lactic, phenol)) <= base + 1e-15);
        prop_assert!(per_hour(food(t, aw, ph - 0.1, lactic, phenol)) <= base + 1e-15);
        prop_assert!(per_hour(food(t, aw, ph, lactic + 10.0, phenol)) <= base + 1e-15);
        prop_assert!(per_hour(food(t, aw, ph, lactic, phenol + 2.0)) <= base + 1e-15);
    }
}
