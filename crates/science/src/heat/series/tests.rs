use super::*;
use proptest::prelude::*;
use units::{Density, Length};

use crate::thermal_properties::{Conductivity, Food, SALMON, SpecificHeat};

/// Half of the last decimal the worked values are printed with.
const SIX_DECIMALS: f64 = 5.1e-7;
const FIVE_DECIMALS: f64 = 5.1e-6;

/// Worked apart from this code by scipy 1.17.1 root finding.
#[test]
fn first_roots_and_coefficients_are_the_worked_ones() {
    for (bi, z, a) in [
        (0.1, 0.311_053, 1.016_094),
        (0.5, 0.653_271, 1.070_128),
        (1.0, 0.860_334, 1.119_132),
        (2.0, 1.076_874, 1.178_456),
        (5.0, 1.313_838, 1.240_249),
        (10.0, 1.428_870, 1.261_963),
        (100.0, 1.555_245, 1.273_088),
    ] {
        let series = Series::new(Form::Slab, bi).unwrap();
        assert!((series.first_root() - z).abs() < SIX_DECIMALS, "Bi {bi}");
        assert!(
            (series.first_coefficient() - a).abs() < SIX_DECIMALS,
            "Bi {bi}"
        );
    }
    for (form, bi, z, a) in [
        (Form::Cylinder, 1.0, 1.255_78, 1.207_09),
        (Form::Cylinder, 10.0, 2.179_50, 1.567_69),
        // One is the case with the root π ÷ 2 and the coefficient 4 ÷ π.
        (Form::Sphere, 1.0, std::f64::consts::FRAC_PI_2, 1.273_24),
        (Form::Sphere, 10.0, 2.836_30, 1.924_91),
    ] {
        let series = Series::new(form, bi).unwrap();
        assert!(
            (series.first_root() - z).abs() < FIVE_DECIMALS,
            "{form:?} {bi}"
        );
        assert!(
            (series.first_coefficient() - a).abs() < FIVE_DECIMALS,
            "{form:?} {bi}"
        );
    }
}

#[test]
fn the_full_series_is_the_worked_one() {
    for (bi, fo, centre, mean, surface) in [
        (1.0, 0.5, 0.772_526, 0.681_105, 0.504_522),
        (5.0, 0.2, 0.864_881, 0.649_017, 0.231_533),
        (10.0, 0.5, 0.454_641, 0.315_016, 0.064_329),
    ] {
        let left = Series::new(Form::Slab, bi).unwrap().left(fo).unwrap();
        assert!((left.centre - centre).abs() < SIX_DECIMALS);
        assert!((left.mean - mean).abs() < SIX_DECIMALS);
        assert!((left.surface - surface).abs() < SIX_DECIMALS);
    }
    // One term alone is 1.5 % off early on.
    let series = Series::new(Form::Slab, 5.0).unwrap();
    let one = series.first_coefficient() * (-0.2 * series.first_root().powi(2)).exp();
    assert!((one - 0.878_164).abs() < SIX_DECIMALS);
}

/// Worked by the full series, salmon as at 4 °C held constant: half thickness mm, air, h, from, to, min.
pub(in crate::heat) const WORKED: [(f64, f64, f64, f64, f64, f64); 4] = [
    (12.5, 2.0, 15.0, 20.0, 4.0, 129.67),
    (12.5, 0.0, 300.0, 20.0, 4.0, 19.10),
    (12.5, 70.0, 20.0, 4.0, 60.0, 88.00),
    (20.0, 3.0, 8.0, 60.0, 5.0, 576.14),
];

/// The printed hundredth of a minute, and half a second of our whole ones.
const HUNDREDTH_AND_HALF_SECOND_MIN: f64 = 0.005 + 0.5 / 60.0 + 1e-9;

#[test]
fn four_worked_cores_are_on_time() {
    let c = |c| Temperature::celsius(c).unwrap();
    let flesh = Food::new(SALMON).unwrap().at(c(4.0)).unwrap();
    for (half, air, h, from, to, minutes) in WORKED {
        let body = Body::slab(Length::millimetres(2.0 * half).unwrap()).unwrap();
        let h = HeatTransfer::w_per_m2_k(h).unwrap();
        let time = time_to_core(&flesh, &body, h, c(air), c(from), c(to)).unwrap();
        println!("series: {:.3} min, worked {minutes}", time.minutes());
        assert!(
            (time.minutes() - minutes).abs() < HUNDREDTH_AND_HALF_SECOND_MIN,
            "{time}"
        );
    }
}

/// Crank's slab and square with the surface held at the outside, worked apart from this code: Fourier
/// number, gone at the centre of a slab and of a square bar. A Biot number of 10 000 stands for the held
/// surface: its roots are one in 10 000 low.
#[test]
fn a_held_surface_and_a_square_bar_are_the_worked_ones() {
    let series = Series::new(Form::Slab, 1e4).unwrap();
    for (fo, slab, square) in [
        (0.05, 0.003_131, 0.006_252),
        (0.1, 0.050_695, 0.098_819),
        (0.2, 0.227_688, 0.403_535),
        (0.5, 0.629_223, 0.862_524),
    ] {
        let left = series.left(fo).unwrap().centre;
        assert!((1.0 - left - slab).abs() < 3e-4, "{fo}");
        assert!((1.0 - left * left - square).abs() < 3e-4, "{fo}");
    }
}

#[test]
fn a_finger_is_faster_than_its_slab_and_a_wide_one_is_the_slab() {
    let c = |c| Temperature::celsius(c).unwrap();
    let flesh = Food::new(SALMON).unwrap().at(c(4.0)).unwrap();
    let slab = |mm| Body::slab(Length::millimetres(mm).unwrap()).unwrap();
    let h = HeatTransfer::w_per_m2_k(20.0).unwrap();
    let of = |sides: &[Body]| {
        time_to_core_of_block(&flesh, sides, h, c(70.0), c(4.0), c(60.0))
            .unwrap()
            .minutes()
    };
    let side = time_to_core(&flesh, &slab(25.0), h, c(70.0), c(4.0), c(60.0))
        .unwrap()
        .minutes();
    let (finger, cube, wide) = (
        of(&[slab(25.0), slab(25.0)]),
        of(&[slab(25.0), slab(25.0), slab(25.0)]),
        of(&[slab(25.0), slab(500.0)]),
    );
    println!("25 mm: slab {side:.1} min, finger {finger:.1}, cube {cube:.1}");
    assert!((of(&[slab(25.0)]) - side).abs() < 0.02);
    assert!((wide - side).abs() < 0.02, "{wide} {side}");
    assert!(cube < finger && finger < side);
    assert!(time_to_core_of_block(&flesh, &[], h, c(70.0), c(4.0), c(60.0)).is_err());
}

#[test]
fn what_the_series_cannot_say_is_refused() {
    let series = Series::new(Form::Sphere, 1.0).unwrap();
    assert!(series.left(1e-4).is_err() && series.left(-1.0).is_err());
    assert_eq!(series.left(0.0).unwrap().centre, 1.0);
    assert!(series.fourier_at_centre(1.2).is_err() && series.fourier_at_centre(0.0).is_err());
    assert!(Series::new(Form::Slab, 1e-4).is_err() && Series::new(Form::Slab, f64::NAN).is_err());
    let c = |c| Temperature::celsius(c).unwrap();
    let flesh = Properties {
        density: Density::g_per_millilitre(1.0).unwrap(),
        specific_heat: SpecificHeat::kj_per_kg_k(4.0).unwrap(),
        conductivity: Conductivity::w_per_m_k(0.5).unwrap(),
    };
    let thick = Length::millimetres(25.0).unwrap();
    let stack = Body::new(
        Shape::Stack {
            pieces: 2,
            contact: None,
        },
        thick,
    )
    .unwrap();
    let h = HeatTransfer::w_per_m2_k(20.0).unwrap();
    assert!(time_to_core(&flesh, &stack, h, c(2.0), c(20.0), c(4.0)).is_err());
    let side = Body::slab(thick).unwrap();
    assert!(time_to_core(&flesh, &side, h, c(2.0), c(20.0), c(1.0)).is_err());
    assert!(time_to_core(&flesh, &side, h, c(20.0), c(20.0), c(20.0)).is_err());
}

fn forms() -> impl Strategy<Value = Form> {
    prop_oneof![Just(Form::Slab), Just(Form::Cylinder), Just(Form::Sphere)]
}

proptest! {
    #[test]
    fn roots_are_in_order_and_terms_add_to_the_start(form in forms(), ln_bi in -6.0..9.0_f64) {
        let series = Series::new(form, ln_bi.exp()).unwrap();
        for pair in series.terms.windows(2) {
            prop_assert!(pair[1].root > pair[0].root);
        }
        // At the least Fourier number the mean has lost what the surface let through, and no more:
        // the loss is at most that of a surface held at the outside, 2 √(Fo ÷ π) of each face.
        let left = series.left(LEAST_FOURIER).unwrap();
        let most = 2.0 * (LEAST_FOURIER / std::f64::consts::PI).sqrt();
        let faces = match form { Form::Slab => 1.0, Form::Cylinder => 2.0, Form::Sphere => 3.0 };
        prop_assert!(left.mean <= 1.0 + 1e-9 && left.mean >= 1.0 - faces * most - 1e-9, "{left:?}");
        prop_assert!((left.centre - 1.0).abs() < 1e-6, "{left:?}");
    }

    #[test]
    fn later_is_never_further_and_the_core_is_last(form in forms(), ln_bi in -5.0..8.0_f64, fo in 0.001..3.0_f64, more in 0.0..1.0_f64) {
        let series = Series::new(form, ln_bi.exp()).unwrap();
        let (early, late) = (series.left(fo).unwrap(), series.left(fo + more).unwrap());
        prop_assert!(late.centre <= early.centre + 1e-9 && late.mean <= early.mean + 1e-9);
        prop_assert!(early.centre + 1e-9 >= early.mean && early.mean + 1e-9 >= early.surface);
    }

    #[test]
    fn the_time_for_a_part_leaves_that_part(form in forms(), ln_bi in -5.0..8.0_f64, part in 0.01..0.99_f64) {
        let series = Series::new(form, ln_bi.exp()).unwrap();
        let fo = series.fourier_at_centre(part).unwrap();
        prop_assert!((series.left(fo).unwrap().centre - part).abs() < 1e-9);
    }
}
