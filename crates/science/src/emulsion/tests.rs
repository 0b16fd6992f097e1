use super::*;
use proptest::prelude::*;

fn g(grams: f64) -> Mass {
    Mass::grams(grams).unwrap()
}

fn ml(ml: f64) -> Volume {
    Volume::millilitres(ml).unwrap()
}

fn rho(value: f64) -> Density {
    Density::g_per_millilitre(value).unwrap()
}

/// Worked from the formula: 200 g of oil (0.916) with a watery part of 1.01.
#[test]
fn dressings_come_to_their_worked_shares() {
    for (watery, share, body) in [
        (50.0, 0.8152, Body::StiffAtRisk),
        (60.0, 0.7861, Body::StiffAtRisk),
        (80.0, 0.7338, Body::Crowded),
        (100.0, 0.6880, Body::Crowded),
    ] {
        let found = OilVolume::of_weights(g(200.0), rho(0.916), g(watery), rho(1.01)).unwrap();
        assert!(
            (found.share() - share).abs() < 6e-5,
            "{watery}: {}",
            found.share()
        );
        assert_eq!(found.body(), body);
    }
    assert!((CLOSEST_PACKING - 0.7405).abs() < 6e-5);
}

/// Common practice, no source: equal parts of mustard, honey and vinegar carry 3 to 6 parts of oil.
#[test]
fn a_mustard_honey_dressing_stays_under_the_flag() {
    for parts in [3.0, 4.0, 5.0, 6.0] {
        let dressing = OilVolume::of_volumes(ml(parts * 30.0), ml(3.0 * 30.0)).unwrap();
        assert!(dressing.body() < Body::StiffAtRisk, "{parts}");
    }
}

#[test]
fn a_mayonnaise_is_flagged_and_usual_at_once() {
    // 240 mL oil, one yolk, 15 mL vinegar and mustard.
    let (oil, rest) = (g(240.0 * 0.92), g(18.0 + 15.0));
    let body = OilVolume::of_weights(oil, rho(0.92), rest, rho(1.02))
        .unwrap()
        .body();
    assert_eq!(body, Body::StiffAtRisk);
    assert_eq!(
        MAYONNAISE_OIL.of(oil, oil + g(48.0)).unwrap(),
        AgainstHabit::Usual
    );
    assert_eq!(
        MAYONNAISE_YOLK.of(g(18.0), oil + rest).unwrap(),
        AgainstHabit::Usual
    );
    assert_eq!(
        LECITHIN.of(g(18.0), oil + rest).unwrap(),
        AgainstHabit::Above
    );
    assert_eq!(MUSTARD.of(g(1.0), oil + rest).unwrap(), AgainstHabit::Below);
    assert!(MUSTARD.of(g(10.0), g(5.0)).is_err());
}

#[test]
fn acid_and_salt_are_counted_on_water_alone() {
    // 100 g of vinegar at 5 % by weight and 3 g of salt, by hand: 5 of 100, 3 of 98.
    let watery = WateryPart {
        water: g(95.0),
        acetic: g(5.0),
        salt: g(3.0),
        sugar: Mass::ZERO,
    };
    assert!((watery.acid().unwrap().pct() - 5.0).abs() < 1e-12);
    assert!((watery.salt().unwrap().pct() - 300.0 / 98.0).abs() < 1e-9);
    let alone = crate::water_activity::salt(watery.salt().unwrap()).unwrap();
    assert_eq!(watery.water_activity().unwrap(), alone);
    let dry = WateryPart {
        water: Mass::ZERO,
        ..watery
    };
    assert!(dry.acid().is_err() && dry.salt().is_err());
}

#[test]
fn a_rescue_takes_a_yolk_a_cup() {
    let (least, most) = rescue_yolk(ml(240.0)).unwrap();
    assert!((least.g() - 18.0).abs() < 1e-9 && (most.g() - 24.0).abs() < 1e-9);
    assert!(rescue_yolk(Volume::ZERO).is_err());
    assert!(watery_to_add(ml(100.0), ml(100.0), 0.7).is_err());
    assert!(oil_to_add(ml(100.0), ml(100.0), 70.0).is_err());
}

#[test]
fn every_density_is_a_range() {
    for d in DENSITIES {
        assert!(rho(d.least_g_per_ml) <= rho(d.most_g_per_ml), "{}", d.what);
    }
}

proptest! {
    #[test]
    fn what_is_added_gives_the_share_wanted(oil in 50.0..1e4_f64, watery in 10.0..1e3_f64, wanted in 0.1..0.9_f64) {
        let now = OilVolume::of_volumes(ml(oil), ml(watery)).unwrap().share();
        let (oil, watery) = (ml(oil), ml(watery));
        let then = if wanted < now {
            OilVolume::of_volumes(oil, watery + watery_to_add(oil, watery, wanted).unwrap())
        } else {
            OilVolume::of_volumes(oil + oil_to_add(oil, watery, wanted).unwrap(), watery)
        };
        prop_assert!((then.unwrap().share() - wanted).abs() < 1e-9);
    }

    #[test]
    fn more_oil_is_never_looser(oil in 0.0..1e3_f64, more in 0.0..1e3_f64, watery in 1.0..1e3_f64) {
        let at = |oil| OilVolume::of_volumes(ml(oil), ml(watery)).unwrap();
        prop_assert!(at(oil + more) >= at(oil));
        prop_assert!(at(oil + more).body() >= at(oil).body());
    }
}
