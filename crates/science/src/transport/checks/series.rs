//! Against the series solutions, and the order of the scheme.

use super::*;
use crate::diffusion::{
    Fourier, bath_equilibrium, cylinder_axis, cylinder_mean, limited_bath_mean, rectangle_centre,
    rectangle_mean, slab_at, slab_centre, slab_mean,
};

/// Mean and core after a wide brine, as shares of the face.
fn shares(piece: &Piece, fo: f64, grid: Grid) -> (f64, f64) {
    let history = took(piece, &[wide(10.0, at_fourier(fo))], grid);
    let face = history.curve.last().unwrap().surface.salt_g_per_kg();
    let last = history.last;
    (
        last.mean.salt_g_per_kg() / face,
        last.core.salt_g_per_kg() / face,
    )
}

#[test]
fn a_slab_is_within_a_thousandth_of_the_series() {
    for piece in [slab(20.0, Closed::None), slab(10.0, Closed::One)] {
        for at in [0.05, 0.1, 0.2, 0.5, 1.0, 2.0] {
            let fo = Fourier::new(at).unwrap();
            let (mean, core) = shares(&piece, at, Grid::default());
            assert!((mean / slab_mean(fo) - 1.0).abs() < SERIES, "{at} {mean}");
            assert!((core - slab_centre(fo)).abs() < SERIES, "{at} {core}");
        }
    }
}

#[test]
fn a_profile_is_that_of_the_series() {
    let history = took(
        &slab(20.0, Closed::None),
        &[wide(10.0, at_fourier(0.1))],
        Grid::default(),
    );
    let face = history.curve.last().unwrap().surface.salt_g_per_kg();
    let fo = Fourier::new(0.1).unwrap();
    for place in &history.ends[0].profile {
        let exact = slab_at(fo, 1.0 - place.depth_mm / 10.0).unwrap();
        let found = place.here.salt_g_per_kg() / face;
        assert!((found - exact).abs() < SERIES, "{} mm", place.depth_mm);
    }
}

#[test]
fn a_cylinder_is_within_a_thousandth_of_the_series() {
    for at in [0.05, 0.1, 0.2, 0.5, 1.0] {
        let fo = Fourier::new(at).unwrap();
        let (mean, core) = shares(&cylinder(20.0), at, Grid::default());
        assert!(
            (mean / cylinder_mean(fo) - 1.0).abs() < SERIES,
            "{at} {mean}"
        );
        assert!((core - cylinder_axis(fo)).abs() < SERIES, "{at} {core}");
    }
}

/// The finger's thirty-two cells are two and a half times as coarse, six times the slab's error of 1.8e-4;
/// the wide side, whose own Fourier number is a quarter, doubles it.
#[test]
fn a_finger_follows_the_product_rule() {
    for (piece, part) in [
        (finger(20.0, 20.0, Closed::None), 1.0),
        (finger(20.0, 40.0, Closed::None), 0.25),
        (finger(10.0, 20.0, Closed::One), 1.0),
    ] {
        for at in [0.05, 0.1, 0.2, 0.5] {
            let (fo, other) = (Fourier::new(at).unwrap(), Fourier::new(at * part).unwrap());
            let (mean, core) = shares(&piece, at, Grid::default());
            let exact = rectangle_mean(fo, other);
            assert!((mean / exact - 1.0).abs() < 2.5 * SERIES, "{at} {mean}");
            assert!((core - rectangle_centre(fo, other)).abs() < SERIES);
            // With as many cells as the slab it is as near.
            if at < 0.1 {
                let fine = shares(&piece, at, Grid::of_cells(80).unwrap()).0;
                assert!((fine / exact - 1.0).abs() < 0.5 * SERIES, "{at} {fine}");
            }
        }
    }
}

/// Published errors of the same scheme in space (implicit Euler, 2000 steps) at Fo 0.05 are -0.003234,
/// -0.000808, -0.000213; the last has its error of time in it.
#[test]
fn half_the_cell_is_a_quarter_of_the_error() {
    for (piece, exact) in [
        (
            slab(20.0, Closed::None),
            slab_mean(Fourier::new(0.05).unwrap()),
        ),
        (cylinder(20.0), cylinder_mean(Fourier::new(0.05).unwrap())),
    ] {
        let off = |cells| {
            let grid = Grid::of_cells(cells).unwrap().with_steps(800).unwrap();
            shares(&piece, 0.05, grid).0 - exact
        };
        let errors = [off(10), off(20), off(40), off(80)];
        for pair in errors.windows(2) {
            let factor = pair[0] / pair[1];
            assert!((3.7..4.3).contains(&factor), "{errors:?}");
        }
        if piece.shape() == slab(20.0, Closed::None).shape() {
            // The table's own error of time is some 1e-5.
            assert!((errors[0] + 0.003_234).abs() < 2e-5, "{errors:?}");
            assert!((errors[1] + 0.000_808).abs() < 2e-5, "{errors:?}");
        }
    }
}

/// Doubling the steps quarters what the step leaves, against a run of very many.
#[test]
fn twice_the_steps_is_a_quarter_of_the_error() {
    let piece = slab(20.0, Closed::None);
    let brine = cover(72.0, 10.0, 1.0, 1.0, at_fourier(0.3));
    let mean = |steps| {
        let grid = Grid::of_cells(20).unwrap().with_steps(steps).unwrap();
        took(&piece, std::slice::from_ref(&brine), grid)
            .last
            .mean
            .salt_g_per_kg()
    };
    let exact = mean(1600);
    let (coarse, fine) = (mean(50) - exact, mean(100) - exact);
    assert!((3.0..5.0).contains(&(coarse / fine)), "{coarse} {fine}");
}

#[test]
fn a_limited_bath_is_that_of_the_series() {
    for alpha in [1.0, 2.0, 4.0] {
        for at in [0.05, 0.1, 0.2, 0.5] {
            let brine = cover(72.0 * alpha, 10.0, 1.0, 0.0, at_fourier(at));
            let history = took(&slab(20.0, Closed::None), &[brine], Grid::default());
            let full = 0.72 * 1000.0 * (10.0 / 90.0);
            let found =
                history.last.mean.salt_g_per_kg() / (full * bath_equilibrium(alpha).unwrap());
            let exact = limited_bath_mean(Fourier::new(at).unwrap(), alpha).unwrap();
            assert!(
                (found / exact - 1.0).abs() < SERIES,
                "{alpha} {at} {found} {exact}"
            );
        }
    }
}

/// A partition of one half is the same series with twice the bath to the food.
#[test]
fn a_partition_stands_for_water_that_dissolves_nothing() {
    let brine = cover(72.0, 10.0, 0.5, 0.0, at_fourier(0.2));
    let history = took(&slab(20.0, Closed::None), &[brine], Grid::default());
    let end = 0.5 * 80.0 * bath_equilibrium(2.0).unwrap();
    let exact = limited_bath_mean(Fourier::new(0.2).unwrap(), 2.0).unwrap();
    assert!((history.last.mean.salt_g_per_kg() / end / exact - 1.0).abs() < SERIES);
}

/// Fourier number at 0.95 of the uptake of a slab, from the table of the series: 1.129 007.
#[test]
fn the_time_for_a_goal_is_that_of_the_series() {
    let time = time_to(
        &slab(20.0, Closed::None),
        &flesh(),
        &params(),
        &wide(15.0, at_fourier(10.0)),
        &Goal::Uptake { share: 0.95 },
        Grid::default(),
    )
    .unwrap();
    let fo = time.seconds() as f64 / 1e5;
    assert!((fo / 1.129_007 - 1.0).abs() < SERIES, "{fo}");
}
