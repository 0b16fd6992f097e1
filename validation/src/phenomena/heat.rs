//! Heat into a piece: the series, and the finite volumes that run a machine's programme.

use ::units::{Density, Elapsed, Length, Temperature};
use science::heat::series::{Form, Series};
use science::heat::{Body, Conductivity, Grid, HeatTransfer, Programme, Segment, SpecificHeat};
use science::thermal_properties::Properties;

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// The tables keep nine digits, the house table six decimals, for cylinders and spheres five.
const SERIES: Tolerance = Tolerance::difference(
    6e-6,
    "two evaluations of one series; the coarsest table keeps five decimals",
);

/// Minutes printed to two decimals.
const MINUTES: Tolerance = Tolerance::part(
    5e-4,
    "one series solved twice; the house table keeps 0.01 min and properties of five digits",
);

/// A textbook's constants have four decimals.
const TEXTBOOK: Tolerance = Tolerance::part(
    0.002,
    "a textbook's table of four decimals, one term of the series",
);

/// A textbook table read between Bi 0.01 and 0.02, where the root goes with the square root of Bi.
const INTERPOLATED: Tolerance = Tolerance::part(
    0.007,
    "the textbook reads its table straight between Bi 0.01 and 0.02: up to 0.7 % low there",
);

/// Forty cells and 15 s against two hundred cells and an integrator at 1e-8.
const GRID: Tolerance = Tolerance::difference(
    0.05,
    "the error of the cells and steps as shipped; a probe reads 0.1 °C",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "heat",
    title: "Heat in a piece",
    shows: "The series are summed right and the finite volumes agree with a general integrator. The heat transfer at the surface, known to 30 % at best, is not shown by this.",
    tables: &[
        table!("heat", "published.csv"),
        table!("heat", "reference.csv"),
        table!("heat", "case.csv"),
    ],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "slab_root" if case.text("bi") == Some("0.0109") => INTERPOLATED,
        _ if case.status == "read" => TEXTBOOK,
        "slab_minutes" => MINUTES,
        "programme_core" | "programme_mean" => GRID,
        _ => SERIES,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let form = match case.quantity.split('_').next() {
        Some("cylinder") => Form::Cylinder,
        Some("sphere") => Form::Sphere,
        _ => Form::Slab,
    };
    let series = || -> Result<Series, Unanswered> { Ok(Series::new(form, case.number("bi")?)?) };
    let left = || -> Result<_, Unanswered> { Ok(series()?.left(case.number("fo")?)?) };
    Ok(match case.quantity.as_str() {
        "slab_root" | "cylinder_root" | "sphere_root" => series()?.first_root(),
        "slab_coefficient" | "cylinder_coefficient" | "sphere_coefficient" => {
            series()?.first_coefficient()
        }
        "slab_centre" => left()?.centre,
        "slab_mean" => left()?.mean,
        "slab_surface" => left()?.surface,
        "slab_minutes" => minutes(case, |series, part| Ok(series.fourier_at_centre(part)?))?,
        "surface_minutes" => minutes(case, fourier_at_surface)?,
        "programme_core" => programme(case)?.0,
        "programme_mean" => programme(case)?.1,
        _ => return case.unknown(),
    })
}

/// Minutes from the Fourier number at which so much of the difference is left.
fn minutes(
    case: &Case,
    fourier: impl Fn(&Series, f64) -> Result<f64, Unanswered>,
) -> Result<f64, Unanswered> {
    let way_m = case.number("half_mm")? / 1000.0;
    let series = Series::new(Form::Slab, case.number("h")? * way_m / case.number("k")?)?;
    let (start, air) = (
        case.number("start")?,
        case.number(if case.text("air").is_some() {
            "air"
        } else {
            "bath"
        })?,
    );
    let left = (case.number("goal")? - air) / (start - air);
    Ok(fourier(&series, left)? * way_m * way_m / case.number("alpha")? / 60.0)
}

/// The science answers for the centre; the surface is found by halving its own series.
fn fourier_at_surface(series: &Series, part: f64) -> Result<f64, Unanswered> {
    let (mut early, mut late) = (0.01, 100.0);
    for _ in 0..60 {
        let middle = 0.5 * (early + late);
        if series.left(middle)?.surface > part {
            early = middle;
        } else {
            late = middle;
        }
    }
    Ok(0.5 * (early + late))
}

/// Core and mean at the end of a programme, °C.
fn programme(case: &Case) -> Result<(f64, f64), Unanswered> {
    let mut segments = Vec::new();
    for airs in case.text("airs").unwrap_or_default().split(' ') {
        let mut parts = airs.split(':').map(|part| {
            part.parse::<f64>().map_err(|_| Unanswered::Input {
                name: "airs".to_owned(),
                found: airs.to_owned(),
            })
        });
        let mut next = || parts.next().unwrap_or(Ok(f64::NAN));
        let (air, h, time) = (next()?, next()?, next()?);
        segments.push(Segment::steady(
            Temperature::celsius(air)?,
            Elapsed::from_minutes(time)?,
            HeatTransfer::w_per_m2_k(h)?,
        ));
    }
    let body = Body::slab(Length::millimetres(2.0 * case.number("half_mm")?)?)?;
    let start = Temperature::celsius(case.number("start")?)?;
    // Properties held as theirs are: only conductivity and diffusivity matter, so the density is water's.
    let held = Properties {
        density: Density::g_per_millilitre(1.0)?,
        specific_heat: SpecificHeat::kj_per_kg_k(case.number("k")? / case.number("alpha")? / 1e6)?,
        conductivity: Conductivity::w_per_m_k(case.number("k")?)?,
    };
    let run = science::heat::heat(
        &held,
        &body,
        &Programme::new(segments)?,
        start,
        Grid::usual()?,
    )?;
    let last = run
        .readings
        .last()
        .ok_or_else(|| Unanswered::Unknown("an empty history".to_owned()))?;
    Ok((last.core.c(), last.mean.c()))
}
