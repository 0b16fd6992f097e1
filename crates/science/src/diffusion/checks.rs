//! The series against their tables, and their laws.

use super::*;
use proptest::prelude::*;

fn fo(value: f64) -> Fourier {
    Fourier::new(value).unwrap()
}

/// The table is printed to six decimals (computed with mpmath): half of the last one.
const PRINTED: f64 = 6e-7;

#[test]
fn a_slab_follows_the_table() {
    let table = [
        (0.01, 0.112_838, 0.0),
        (0.02, 0.159_577, 0.000_001),
        (0.05, 0.252_313, 0.003_131),
        (0.1, 0.356_823, 0.050_695),
        (0.2, 0.504_088, 0.227_688),
        (0.3, 0.613_236, 0.393_196),
        (0.5, 0.763_950, 0.629_223),
        (1.0, 0.931_260, 0.892_023),
        (1.5, 0.979_982, 0.968_556),
        (2.0, 0.994_170, 0.990_843),
    ];
    for (at, mean, centre) in table {
        assert!((slab_mean(fo(at)) - mean).abs() < PRINTED, "{at}");
        assert!((slab_centre(fo(at)) - centre).abs() < PRINTED, "{at}");
    }
}

#[test]
fn the_time_for_a_share_follows_the_table() {
    for (share, mean, centre) in [
        (0.5, 0.196_731, 0.378_748),
        (0.9, 0.848_085, 1.031_105),
        (0.95, 1.129_007, 1.312_027),
        (0.99, 1.781_288, 1.964_308),
    ] {
        assert!((fourier_for_mean(share).unwrap().fo() - mean).abs() < PRINTED);
        assert!((fourier_for_centre(share).unwrap().fo() - centre).abs() < PRINTED);
    }
    assert!(fourier_for_mean(1.0).is_err());
    assert!(fourier_for_mean(-0.1).is_err());
    assert_eq!(fourier_for_mean(0.0).unwrap(), Fourier::ZERO);
}

#[test]
fn short_time_is_within_its_error_and_refuses_longer() {
    for at in [0.0, 0.01, 0.05, 0.1] {
        let gap = slab_mean_short_time(fo(at)).unwrap() - slab_mean(fo(at));
        assert!(gap.abs() < 1e-5, "{at}: {gap}");
    }
    assert!(slab_mean_short_time(fo(0.11)).is_err());
}

#[test]
fn a_bar_follows_the_table() {
    let means = [
        (0.05, 0.440_965, 0.346_639, 0.290_044),
        (0.1, 0.586_324, 0.471_574, 0.402_724),
        (0.2, 0.754_071, 0.629_213, 0.554_138),
        (0.5, 0.944_281, 0.858_117, 0.801_618),
    ];
    for (at, square, double, five) in means {
        assert!((rectangle_mean(fo(at), fo(at)) - square).abs() < PRINTED);
        assert!((rectangle_mean(fo(at), fo(at / 4.0)) - double).abs() < PRINTED);
        assert!((rectangle_mean(fo(at), fo(at / 25.0)) - five).abs() < PRINTED);
    }
    for (at, centre) in [
        (0.05, 0.006_252),
        (0.1, 0.098_819),
        (0.2, 0.403_535),
        (0.5, 0.862_524),
    ] {
        assert!((rectangle_centre(fo(at), fo(at)) - centre).abs() < PRINTED);
    }
}

/// 25 mm at 2.5e-10 m²/s, computed with mpmath: salted on one side, and on both.
#[test]
fn a_fillet_takes_a_fifth_in_a_day() {
    let d = Diffusivity::m2_per_s(2.5e-10).unwrap();
    let full = Length::millimetres(25.0).unwrap();
    let half = full.scaled(0.5).unwrap();
    for (hours, one, two) in [
        (6.0, 0.1049, 0.2098),
        (12.0, 0.1483, 0.2967),
        (24.0, 0.2098, 0.4195),
        (48.0, 0.2967, 0.5901),
    ] {
        let time = Elapsed::from_hours(hours).unwrap();
        let at = |way| slab_mean(Fourier::of(d, time, way).unwrap());
        assert!((at(full) - one).abs() < 6e-5 && (at(half) - two).abs() < 6e-5);
    }
}

/// The kitchen's own worked caution, at 1e-9 m²/s (from memory) and 26 h 15 min: the skin side has
/// 0.14 of the surface's strength and about 0.31 of the mean.
#[test]
fn the_skin_side_lags_far_behind_the_mean() {
    let at = Fourier::of(
        Diffusivity::m2_per_s(1e-9).unwrap(),
        Elapsed::from_hours(26.25).unwrap(),
        Length::millimetres(25.0).unwrap(),
    )
    .unwrap();
    assert!((slab_centre(at) - 0.14).abs() < 0.005);
    assert!((slab_centre(at) / slab_mean(at) - 0.31).abs() < 0.015);
}

#[test]
fn nothing_has_happened_at_no_time() {
    assert_eq!(slab_mean(Fourier::ZERO), 0.0);
    assert_eq!(slab_centre(Fourier::ZERO), 0.0);
    assert_eq!(slab_at(Fourier::ZERO, 1.0).unwrap(), 1.0);
    assert_eq!(rectangle_mean(Fourier::ZERO, Fourier::ZERO), 0.0);
    assert!(slab_at(fo(0.1), 1.1).is_err());
    assert!(Fourier::new(-1.0).is_err() && Fourier::new(f64::NAN).is_err());
    assert!(Diffusivity::m2_per_s(2.5).is_err());
}

proptest! {
    #[test]
    fn more_time_is_never_less(a in 0.0..3.0_f64, more in 0.0..3.0_f64, x in 0.0..1.0_f64) {
        prop_assert!(slab_mean(fo(a + more)) >= slab_mean(fo(a)) - 1e-14);
        prop_assert!(slab_at(fo(a + more), x).unwrap() >= slab_at(fo(a), x).unwrap() - 1e-14);
    }

    #[test]
    fn nearer_the_face_is_never_less(a in 1e-3..3.0_f64, x in 0.0..1.0_f64, y in 0.0..1.0_f64) {
        let (inner, outer) = (x.min(y), x.max(y));
        prop_assert!(slab_at(fo(a), outer).unwrap() >= slab_at(fo(a), inner).unwrap() - 1e-14);
    }

    #[test]
    fn the_mean_is_the_mean_of_the_places(a in 0.01..2.0_f64) {
        // Midpoint rule on 400 places: its error is below h² ÷ 24 × the steepest curvature.
        let mean = (0..400)
            .map(|i| slab_at(fo(a), (f64::from(i) + 0.5) / 400.0).unwrap())
            .sum::<f64>() / 400.0;
        prop_assert!((mean - slab_mean(fo(a))).abs() < 5e-6);
    }

    #[test]
    fn a_share_and_its_time_agree(share in 0.001..0.999_f64) {
        prop_assert!((slab_mean(fourier_for_mean(share).unwrap()) - share).abs() < 1e-12);
    }
}
