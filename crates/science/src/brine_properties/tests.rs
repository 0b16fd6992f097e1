use super::solubility::sucrose_pct;
use super::*;
use proptest::prelude::*;

fn pct(pct: f64) -> Strength {
    Strength::percent(pct).unwrap()
}

fn c(c: f64) -> Temperature {
    Temperature::celsius(c).unwrap()
}

fn g(grams: f64) -> Mass {
    Mass::grams(grams).unwrap()
}

/// The two programs behind the table differ by 0.0008 at 60 °F.
const TWO_PROGRAMS: f64 = 1e-3;
/// Reading straight between points, and the last digit of the tables compared with.
const READING: f64 = 6e-5;

/// PHREEQC 3.8.6, pitzer.dat, 15.56 °C: °SAL, specific gravity 60/60, salt in g a litre of brine.
#[test]
fn salometer_degrees_weigh_what_phreeqc_says() {
    for (sal, gravity, grams) in [
        (20.0, 1.0382, 54.8),
        (40.0, 1.0775, 113.6),
        (60.0, 1.1182, 176.9),
        (80.0, 1.1605, 244.8),
        (100.0, 1.2043, 317.6),
    ] {
        let brine = Strength::from_salometer(sal).unwrap();
        let found = specific_gravity_60f(brine).unwrap();
        assert!((found - gravity).abs() < TWO_PROGRAMS, "{sal}: {found}");
        let litre = salt_in_a_litre(brine, Temperature::from_f(60.0).unwrap()).unwrap();
        assert!(
            (litre.g() / grams - 1.0).abs() < TWO_PROGRAMS,
            "{sal}: {litre}"
        );
    }
}

/// Pounds in a US gallon of water at 60 °F (3.7854 L, 0.9990 g/mL), from the same table of degrees;
/// 0.002 lb is the last digit and the weight of a gallon.
#[test]
fn salometer_degrees_take_their_pounds_a_gallon() {
    for (sal, lb) in [
        (20.0, 0.465),
        (40.0, 0.984),
        (60.0, 1.569),
        (80.0, 2.232),
        (100.0, 2.990),
    ] {
        let brine = Strength::from_salometer(sal).unwrap();
        let gallon = density(pct(0.0), Temperature::from_f(60.0).unwrap()).unwrap();
        let water = g(gallon.g_per_ml() * 3_785.411_784);
        let found = brine.salt_for(water).unwrap().lb();
        assert!((found - lb).abs() < 0.002, "{sal}: {found}");
    }
}

/// PHREEQC 3.8.6 gives these water activities at 15.56 °C; 25 °C is within 0.005 of it.
#[test]
fn salometer_degrees_have_their_water_activity() {
    for (sal, aw) in [
        (20.0, 0.9686),
        (40.0, 0.9314),
        (60.0, 0.8854),
        (80.0, 0.8272),
    ] {
        let brine = Strength::from_salometer(sal).unwrap();
        let found = crate::water_activity::salt(brine).unwrap().aw();
        assert!((found - aw).abs() < 1.5e-3, "{sal}: {found}");
    }
}

/// CoolProp 8.0.0 at 4 and 20 °C and PHREEQC at 25 °C, rows that are not rows of the table here.
#[test]
fn density_holds_between_its_points() {
    for (w, at_20, at_4) in [
        (0.5, 1001.8, 1003.7),
        (3.5, 1023.2, 1026.2),
        (7.0, 1048.5, 1052.7),
        (9.0, 1063.2, 1068.0),
        (13.0, 1093.1, 1099.0),
        (17.0, 1124.0, 1130.7),
        (21.0, 1155.8, 1163.1),
    ] {
        let found = |t| density(pct(w), c(t)).unwrap().g_per_ml() * 1000.0;
        // One decimal is printed.
        assert!(
            (found(20.0) - at_20).abs() < 0.05 + READING * 1000.0,
            "{w}: {}",
            found(20.0)
        );
        assert!(
            (found(4.0) - at_4).abs() < 0.05 + READING * 1000.0,
            "{w}: {}",
            found(4.0)
        );
    }
    for (w, at_25) in [
        (3.0, 1.0182),
        (11.0, 1.0760),
        (19.0, 1.1375),
        (25.0, 1.1862),
        (26.0, 1.1945),
    ] {
        let found = density(pct(w), c(25.0)).unwrap().g_per_ml();
        assert!((found - at_25).abs() < 4e-4, "{w}: {found}");
    }
    // CoolProp at 15.56 °C.
    for (w, rho) in [(5.0, 1.035_16), (10.0, 1.072_14), (20.0, 1.149_83)] {
        let found = density(pct(w), Temperature::from_f(60.0).unwrap())
            .unwrap()
            .g_per_ml();
        assert!((found - rho).abs() < READING, "{w}: {found}");
    }
}

/// A handbook table of densities at 0 °C, from memory: the joint above 23 % is met within 0.0003.
#[test]
fn the_joint_above_23_percent_meets_a_third_table() {
    for (w, rho) in [(20.0, 1.156_63), (24.0, 1.189_99), (26.0, 1.207_09)] {
        let found = density(pct(w), c(0.0)).unwrap().g_per_ml();
        assert!((found - rho).abs() < 3e-4, "{w}: {found}");
    }
}

#[test]
fn temperatures_outside_the_table_are_refused() {
    assert!(density(pct(5.0), c(-1.0)).is_err() && density(pct(5.0), c(31.0)).is_err());
    assert!(heat_capacity_kj_per_kg_k(pct(25.0)).is_err());
    assert!((heat_capacity_kj_per_kg_k(pct(5.0)).unwrap() - 3.928).abs() < 2e-3);
}

/// Three programs; the range of the first column of figures is theirs (two decimals).
#[test]
fn brines_freeze_where_three_programs_say() {
    for (w, highest, lowest, tolerance) in [
        (3.0, -1.79, -1.81, 0.1),
        (5.0, -3.05, -3.076, 0.1),
        (8.0, -5.07, -5.14, 0.1),
        (10.0, -6.55, -6.65, 0.1),
        (15.0, -10.90, -11.04, 0.3),
        (20.0, -16.46, -16.72, 0.3),
    ] {
        let at = freezing_point(pct(w)).unwrap();
        assert!((at.highest.c() - highest).abs() < 0.01, "{w}");
        assert!((at.lowest.c() - lowest).abs() < 0.01, "{w}");
        assert!((at.highest - at.lowest).k() <= tolerance, "{w}");
    }
    // Rows of CoolProp that are not rows here.
    for (w, t) in [
        (7.0, -4.38),
        (9.0, -5.80),
        (13.0, -9.03),
        (17.0, -12.96),
        (19.0, -15.23),
    ] {
        let at = freezing_point(pct(w)).unwrap();
        assert!((at.highest.c() - t).abs() < 0.04, "{w}: {}", at.highest.c());
    }
    assert!(freezing_point(pct(23.5)).is_err());
}

/// PHREEQC, halite with pitzer.dat, g in 100 g water: 1 % (it has a dip near 10 °C that is not real).
#[test]
fn salt_dissolves_as_much_as_phreeqc_says() {
    for (t, grams) in [
        (0.0, 35.84),
        (20.0, 35.72),
        (25.0, 35.82),
        (60.0, 37.18),
        (100.0, 39.30),
    ] {
        let found = salt_in_water(g(100.0), c(t)).unwrap().g();
        assert!((found / grams - 1.0).abs() < 0.01, "{t}: {found}");
    }
    // Read on one page: 35.9 at 25 °C, printed to one decimal, read here straight from 20 to 40 °C.
    assert!((salt_in_water(g(100.0), c(25.0)).unwrap().g() - 35.9).abs() < 0.15);
}

#[test]
fn sugar_dissolves_as_vavrinecz_says() {
    assert!((sucrose_pct(20.0) - 66.74).abs() < 0.01);
    assert!(sucrose_in_water(g(100.0), c(101.0)).is_err());
}

/// Remembered: 3.88 kJ/mol in endless water at 25 °C; the table gives 3.74.
#[test]
fn dissolving_salt_takes_the_heat_remembered() {
    let kj_per_mol = heat_of_solution(pct(0.0), c(25.0)).unwrap() * 58.443 / 1000.0;
    assert!(
        (kj_per_mol / 3.88 - 1.0).abs() < HEAT_OF_SOLUTION_SPREAD / 5.0,
        "{kj_per_mol}"
    );
}

#[test]
fn a_salometer_at_its_own_temperature_reads_true() {
    for instrument in [Instrument::At60F, Instrument::At38F] {
        for sal in [0.0, 20.0, 60.0, 90.0, 100.0] {
            let own = c(instrument.own_c());
            let found = strength_from_reading(sal, own, instrument).unwrap();
            assert!(
                (found.salometer() - sal).abs() < 1e-6,
                "{sal}: {}",
                found.salometer()
            );
        }
    }
}

/// The rule of the trade is one degree for every ten of Fahrenheit above 60 (common practice, no source);
/// these densities give 0.95 to 1.17 between 40 and 80 °SAL. Worked from CoolProp alone, 60 °SAL read
/// at 80 °F is 62.23 and at 40 °F 58.03.
#[test]
fn warm_brine_reads_low_by_about_a_degree_in_ten() {
    for sal in [40.0, 60.0, 80.0] {
        let at = |f: f64| {
            strength_from_reading(sal, Temperature::from_f(f).unwrap(), Instrument::At60F)
                .unwrap()
                .salometer()
        };
        let per_ten = at(70.0) - sal;
        assert!((0.5..1.5).contains(&per_ten), "{sal}: {per_ten}");
        assert!(at(40.0) < sal);
        if sal == 60.0 {
            assert!((at(80.0) - 62.23).abs() < 0.01 && (at(40.0) - 58.03).abs() < 0.01);
        }
        // The cold instrument in brine at 60 °F reads low.
        let cold =
            strength_from_reading(sal, Temperature::from_f(60.0).unwrap(), Instrument::At38F);
        assert!(cold.unwrap().salometer() > sal);
    }
    assert!(strength_from_reading(100.0, c(25.0), Instrument::At60F).is_err());
    assert!(strength_from_reading(0.0, c(4.0), Instrument::At60F).is_err());
}

#[test]
fn without_salt_the_ice_is_that_of_plain_water() {
    // 2 kg from 20 to 4 °C by hand: 2000 × 4.19 × 16 ÷ (333.6 + 4.19 × 20).
    let mix = chilled_brine(g(2000.0), pct(0.0), c(20.0), c(20.0), c(4.0)).unwrap();
    assert!((mix.ice.g() - 321.2).abs() < 0.1, "{}", mix.ice);
    assert_eq!(mix.spread.k(), 0.0);
    // The trade's 80 cal/g gives 320.
    let plain = crate::brine::ice_split(g(2000.0), c(20.0), c(4.0)).unwrap();
    assert!((plain.ice.g() / mix.ice.g() - 1.0).abs() < 0.01);
}

#[test]
fn a_brine_that_salt_alone_overchills_takes_no_ice() {
    assert!(chilled_brine(g(1000.0), pct(15.0), c(5.0), c(5.0), c(5.0)).is_err());
    assert!(chilled_brine(Mass::ZERO, pct(15.0), c(5.0), c(5.0), c(5.0)).is_err());
    assert!(chilled_brine(g(1000.0), pct(15.0), c(70.0), c(5.0), c(5.0)).is_err());
}

proptest! {
    #[test]
    fn more_salt_is_heavier_and_warmer_is_lighter(w in 0.0..26.0_f64, more in 0.01..0.39_f64, t in 4.0..29.0_f64) {
        let at = |w, t| density(pct(w), c(t)).unwrap().g_per_ml();
        prop_assert!(at(w + more, t) > at(w, t));
        prop_assert!(at(w, t + 1.0) <= at(w, t));
    }

    #[test]
    fn more_salt_freezes_lower(w in 0.0..22.0_f64, more in 0.01..1.0_f64) {
        let at = |w| freezing_point(pct(w)).unwrap().highest.c();
        prop_assert!(at(w + more) < at(w));
    }

    #[test]
    fn salt_never_asks_for_more_ice(w in 0.0..20.0_f64, more in 0.0..5.0_f64, t in 15.0..25.0_f64, to in 2.0..8.0_f64) {
        let ice = |w| chilled_brine(g(1000.0), pct(w), c(t), c(t), c(to)).map(|m| m.ice.g()).unwrap();
        // Holds while dissolving takes more than the warmer salt brings, which it does from room temperature.
        prop_assert!(ice(w) <= ice(0.0) + 1e-9);
        let mix = chilled_brine(g(1000.0), pct(w + more), c(t), c(t), c(to)).unwrap();
        prop_assert!((mix.ice.g() + mix.water.g() - 1000.0).abs() < 1e-9);
        let made = Strength::of(mix.salt, mix.water + mix.ice).unwrap();
        prop_assert!((made.pct() - w - more).abs() < 1e-9);
    }
}
