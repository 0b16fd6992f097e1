//! Diffusion with a step at the surface: slabs, bars, cylinders, a bath that weakens.

use ::units::{Elapsed, Length};
use science::diffusion::{
    Diffusivity, Fourier, cylinder_axis, cylinder_mean, fourier_for_centre, fourier_for_mean,
    limited_bath_mean, rectangle_centre, rectangle_mean, slab_at, slab_centre, slab_mean,
};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// The tables keep nine digits; the house table six decimals.
const SERIES: Tolerance = Tolerance::difference(
    1e-6,
    "two evaluations of one series; the coarser table keeps six decimals",
);

/// The example of a piece is printed to four decimals.
const FOUR_DECIMALS: Tolerance = Tolerance::difference(6e-5, "printed to four decimals");

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "diffusion",
    title: "Diffusion in closed form",
    shows: "The series are summed right. The diffusivity of a piece, where published values spread over one to two decades, is not shown by this.",
    tables: &[
        table!("diffusion", "reference.csv"),
        table!("diffusion", "case.csv"),
    ],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "piece_mean" if case.source.starts_with("house") => FOUR_DECIMALS,
        _ => SERIES,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let fo = || -> Result<Fourier, Unanswered> { Ok(Fourier::new(case.number("fo")?)?) };
    // A bar's long side is `aspect` times its short one, so its Fourier number is the square less.
    let along = || -> Result<Fourier, Unanswered> {
        Ok(Fourier::new(
            case.number("fo")? / case.number("aspect")?.powi(2),
        )?)
    };
    Ok(match case.quantity.as_str() {
        "slab_mean" => slab_mean(fo()?),
        "slab_centre" => slab_centre(fo()?),
        "slab_at" => slab_at(fo()?, case.number("x")?)?,
        "slab_fo_mean" => fourier_for_mean(case.number("uptake")?)?.fo(),
        "slab_fo_centre" => fourier_for_centre(case.number("uptake")?)?.fo(),
        "cylinder_mean" => cylinder_mean(fo()?),
        "cylinder_centre" => cylinder_axis(fo()?),
        "rectangle_mean" => rectangle_mean(fo()?, along()?),
        "rectangle_centre" => rectangle_centre(fo()?, along()?),
        "bath" => limited_bath_mean(fo()?, case.number("alpha")?)?,
        "piece_mean" => {
            let way = Length::millimetres(case.number("mm")? / case.number("faces")?)?;
            let time = Elapsed::from_hours(case.number("hours")?)?;
            slab_mean(Fourier::of(
                Diffusivity::m2_per_s(case.number("d")?)?,
                time,
                way,
            )?)
        }
        _ => return case.unknown(),
    })
}
