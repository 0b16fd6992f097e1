//! Salt in a piece by finite volumes, where a series answers the same question.

use ::units::{Base, Elapsed, Fraction, Length, Temperature};
use science::brine::Strength;
use science::diffusion::Diffusivity;
use science::transport::{
    Closed, CoverBrine, DiffusivityLaw, Flesh, Grid, Params, Phase, Piece, Shape, TwoExponentials,
    WaterOut, run,
};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Eighty cells, thirty-two in a finger, and a few dozen steps against an exact series.
const GRID: Tolerance = Tolerance::difference(
    1e-3,
    "the error of the cells and steps as shipped; a salt analysis is good to a hundredth of the uptake",
);

/// The fitted form is exact.
const EXACT: Tolerance =
    Tolerance::difference(1e-6, "one formula twice; the table keeps six decimals");

/// Water of the flesh in these cases; the uptake as a part of the final one does not depend on it.
const FLESH_WATER_PCT: f64 = 72.0;
/// Strength of the brine in these cases, percent.
const BRINE_PCT: f64 = 10.0;
/// The law is asked at its own reference temperature, so it gives the diffusivity of the case.
const REFERENCE_C: f64 = 4.0;

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "transport",
    title: "Salt in a piece",
    shows: "The cells and steps reproduce the series. **Not validated on product data**: no published time series with readable numbers was found.",
    tables: &[
        table!("transport", "reference.csv"),
        table!("transport", "case.csv"),
    ],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "first_order" => EXACT,
        _ => GRID,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let mm =
        |name: &str| -> Result<Length, Unanswered> { Ok(Length::millimetres(case.number(name)?)?) };
    let base = || -> Result<Base, Unanswered> { Ok(Base::new("green weight")?) };
    let time = Elapsed::from_hours(case.number("hours")?)?;
    if case.quantity == "first_order" {
        let share = |name: &str| -> Result<Fraction, Unanswered> {
            Ok(Fraction::from_ratio(case.number(name)?, base()?)?)
        };
        let uptake = TwoExponentials::new(share("start")?, share("end")?, case.number("k")?)?;
        return Ok(uptake.after(time)?.ratio());
    }
    let shape = match case.quantity.as_str() {
        "slab_mean" | "slab_core" | "bath_mean" => Shape::Slab {
            thickness: mm("mm")?,
        },
        "cylinder_mean" => Shape::Cylinder {
            diameter: mm("mm")?,
        },
        "finger_mean" => Shape::Finger {
            thickness: mm("mm")?,
            width: mm("wide_mm")?,
        },
        _ => return case.unknown(),
    };
    let closed = if case.text("faces") == Some("1") {
        Closed::One
    } else {
        Closed::None
    };
    let flesh = Flesh::with_water(&Fraction::percent(FLESH_WATER_PCT, base()?)?)?;
    let temperature = Temperature::celsius(REFERENCE_C)?;
    let law = DiffusivityLaw::new(
        Diffusivity::m2_per_s(case.number("d")?)?,
        temperature,
        0.0,
        1.0,
    )?;
    let salt = Strength::percent(BRINE_PCT)?;
    // What the water of the flesh holds once it is as strong as the brine at the start.
    let mut full = flesh.water_kg_per_kg() * salt.g_per_kg_water();
    let phase = if case.quantity == "bath_mean" {
        let alpha = case.number("alpha")?;
        full *= alpha / (1.0 + alpha);
        let water = Fraction::from_ratio(alpha * flesh.water_kg_per_kg(), base()?)?;
        Phase::Brine {
            brine: CoverBrine {
                water,
                salt,
                sugar_g_per_kg_water: 0.0,
                partition: 1.0,
            },
            water_out: WaterOut::STILL,
            time,
            temperature,
        }
    } else {
        Phase::WideBrine {
            salt,
            sugar_g_per_kg_water: 0.0,
            water_out: WaterOut::STILL,
            time,
            temperature,
        }
    };
    let params = Params {
        salt: law,
        sugar: law,
    };
    let history = run(
        &Piece::new(shape, closed)?,
        &flesh,
        &params,
        &[phase],
        Grid::default(),
    )?;
    let here = if case.quantity == "slab_core" {
        history.last.core
    } else {
        history.last.mean
    };
    Ok(here.salt_g_per_kg() / full)
}
