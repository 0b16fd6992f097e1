use super::*;
use proptest::prelude::*;

fn c(c: f64) -> Temperature {
    Temperature::celsius(c).unwrap()
}

fn air(t: f64, rh: f64) -> MoistAir {
    MoistAir::new(c(t), RelativeHumidity::percent(rh).unwrap()).unwrap()
}

/// °C, %, then from PsychroLib 2.5.0 at 101 325 Pa: humidity ratio, wet bulb, dew point, kJ/kg.
const PSYCHROLIB: [(f64, f64, f64, f64, f64, f64); 16] = [
    (4.0, 80.0, 0.004_020_412_0, 2.6456, 0.8666, 14.1090),
    (10.0, 65.0, 0.004_938_330_6, 6.9430, 3.7305, 22.5026),
    (25.0, 50.0, 0.009_881_043_7, 17.8894, 13.8640, 50.3220),
    (30.0, 60.0, 0.016_040_902_7, 23.8125, 21.3880, 71.1934),
    (65.0, 20.0, 0.032_336_247_5, 38.2402, 32.9056, 150.1724),
    (2.0, 85.0, 0.003_705_190_7, 1.0731, -0.2222, 11.2925),
    (12.0, 75.0, 0.006_524_693_1, 9.6926, 7.7114, 28.5359),
    (-5.0, 90.0, 0.002_227_417_5, -5.4394, -6.2270, 0.5201),
    (-20.0, 60.0, 0.000_380_527_4, -20.6125, -25.2129, -19.1825),
    (50.0, 30.0, 0.023_604_573_1, 32.3299, 27.6464, 111.5303),
    (82.0, 10.0, 0.033_225_279_1, 40.8971, 33.3651, 170.6559),
    (82.0, 60.0, 0.272_006_838_0, 70.1703, 69.7265, 804.2676),
    (120.0, 5.0, 0.067_605_994_4, 52.5477, 45.6810, 304.8922),
    (20.0, 100.0, 0.014_695_051_6, 20.0000, 20.0000, 57.4190),
    (1.0, 40.0, 0.001_617_469_6, -2.8232, -9.8738, 5.0543),
    (35.0, 1.0, 0.000_345_634_3, 12.9774, -26.1699, 36.0969),
];

/// PsychroLib stops its searches at 0.001 °C.
const SEARCH_C: f64 = 0.002;

#[test]
fn air_is_that_of_a_general_library() {
    let mut widest = 0.0_f64;
    for (t, rh, w, wet, dew, enthalpy) in PSYCHROLIB {
        let is = air(t, rh);
        assert!((is.humidity_ratio() - w).abs() < 1e-9, "{t} {rh}");
        widest = widest
            .max((is.wet_bulb().unwrap().c() - wet).abs())
            .max((is.dew_point().unwrap().c() - dew).abs());
        assert!(
            (is.enthalpy_kj_per_kg() - enthalpy).abs() < 6e-5,
            "{t} {rh}"
        );
    }
    println!("wet bulb and dew point, widest: {widest:.5} °C");
    assert!(widest < SEARCH_C, "{widest}");
}

/// CoolProp 8.0.0 HumidAir, a real gas: 10 °C and 65 % is W 0.004 959 3, wet bulb 6.9382 °C.
#[test]
fn a_real_gas_is_half_a_percent_moister() {
    let is = air(10.0, 65.0);
    assert!((is.humidity_ratio() / 0.004_959_3 - 1.0).abs() < 0.005);
    assert!((is.wet_bulb().unwrap().c() - 6.9382).abs() < 0.02);
    // Saturation of water at 20 °C by IAPWS-95 (chemicals 1.5.2): 2339.318 Pa; the polynomial is 0.02 % off.
    assert!((saturation(20.0).0 / 2339.318 - 1.0).abs() < 3e-4);
}

/// Worked with a latent heat of 2501 − 2.381 Twb; here it is 2501 − 2.326 Twb, 0.1 % less loss at most.
const LATENT_FORM: f64 = 1.5e-3;

#[test]
fn a_wet_surface_loses_the_worked_grams() {
    for (t, rh, h, grams) in [
        (4.0, 80.0, 8.0, 15.64),
        (10.0, 65.0, 10.0, 44.30),
        (25.0, 50.0, 15.0, 156.2),
        (30.0, 60.0, 20.0, 182.3),
        (65.0, 20.0, 20.0, 799.5),
    ] {
        let h = HeatTransfer::w_per_m2_k(h).unwrap();
        let is = air(t, rh);
        let lost = is.free_water_loss_g_per_m2_h(h).unwrap();
        assert!((lost / grams - 1.0).abs() < LATENT_FORM, "{t} {rh}: {lost}");
        let wet = is.wet_bulb().unwrap();
        let again = is.loss_g_per_m2_h(h, wet, SurfaceWater::FREE).unwrap();
        assert!((again / lost - 1.0).abs() < 1e-6, "{again} v {lost}");
    }
}

#[test]
fn steam_fog_and_swapped_thermometers_are_refused() {
    let rh = |pct| RelativeHumidity::percent(pct).unwrap();
    assert!(MoistAir::new(c(110.0), rh(90.0)).is_err());
    assert!(MoistAir::new(c(201.0), rh(1.0)).is_err());
    assert!(RelativeHumidity::percent(101.0).is_err());
    assert!(MoistAir::with_dew_point(c(10.0), c(11.0)).is_err());
    assert!(MoistAir::with_wet_bulb(c(10.0), c(11.0)).is_err());
    let error = MoistAir::with_wet_bulb(c(25.0), c(2.0))
        .unwrap_err()
        .to_string();
    assert!(error.contains("wet the wick again"), "{error}");
    assert!(air(20.0, 0.0).dew_point().is_err());
    assert!(air(20.0, 0.0).wet_bulb().unwrap().c() > 5.0);
    assert!(SurfaceWater::activity(0.0).is_err());
    assert!(air(20.0, 50.0).at_pressure_pa(101.3).is_err());
}

#[test]
fn thin_air_wets_colder() {
    let high = air(25.0, 50.0).at_pressure_pa(8e4).unwrap();
    assert!(high.wet_bulb().unwrap() < air(25.0, 50.0).wet_bulb().unwrap());
    assert!((high.relative_humidity().unwrap().pct() - 50.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn three_ways_of_saying_the_same_air(t in 1.0..95.0_f64, rh in 5.0..99.0_f64) {
        let is = air(t, rh);
        let dew = MoistAir::with_dew_point(c(t), is.dew_point().unwrap()).unwrap();
        prop_assert!((dew.humidity_ratio() / is.humidity_ratio() - 1.0).abs() < 1e-9);
        let bulb = is.wet_bulb().unwrap();
        let wet = MoistAir::with_wet_bulb(c(t), bulb).unwrap();
        // Near 0 °C the wick may hold water or ice, and the balance has two answers.
        if bulb.c() > 0.1 {
            prop_assert!((wet.humidity_ratio() / is.humidity_ratio() - 1.0).abs() < 1e-9);
        }
        prop_assert!(is.dew_point().unwrap() <= bulb && bulb <= c(t));
    }

    #[test]
    fn the_slope_of_saturation_is_its_derivative(t in -60.0..190.0_f64) {
        prop_assume!((t - TRIPLE_POINT_C).abs() > 0.01);
        let step = 1e-3;
        let rise = (saturation(t + step).0 / saturation(t - step).0).ln() / (2.0 * step);
        prop_assert!((rise - saturation(t).1).abs() < 1e-8);
    }

    // Ice takes an eighth more heat to leave than water: where only the drier air freezes the surface, it
    // may well dry it slower.
    #[test]
    fn drier_air_never_dries_slower(t in 2.0..80.0_f64, rh in 5.0..90.0_f64, less in 0.0..1.0_f64) {
        let h = HeatTransfer::w_per_m2_k(10.0).unwrap();
        let frozen = |rh: f64| air(t, rh).wet_bulb().unwrap().c() < 0.0;
        prop_assume!(frozen(rh) == frozen(rh * less));
        let moist = air(t, rh).free_water_loss_g_per_m2_h(h).unwrap();
        let dry = air(t, rh * less).free_water_loss_g_per_m2_h(h).unwrap();
        prop_assert!(dry >= moist * (1.0 - 1e-9));
    }
}
