//! A wet film drying off.

use ::units::Temperature;
use science::heat::HeatTransfer;
use science::pellicle::{SurfaceFactor, SurfaceLoss};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// A straight line for the latent heat.
const LATENT: Tolerance = Tolerance::part(
    5e-4,
    "latent heat by a straight line against the equation of state; whole seconds",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "pellicle",
    title: "Pellicle",
    shows: "The heat balance of a wet surface. How much water a drained fillet carries, and when a pellicle is one, nobody has published.",
    tables: &[table!("pellicle", "case.csv")],
    answer,
    tolerance: |_| LATENT,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let loss = SurfaceLoss::of_air(
        Temperature::celsius(case.number("celsius")?)?,
        Temperature::celsius(case.number("wet_bulb")?)?,
        HeatTransfer::w_per_m2_k(case.number("h")?)?,
        SurfaceFactor::WET,
    )?;
    Ok(match case.quantity.as_str() {
        "loss" => loss.g_per_m2_h(),
        "film_hours" => loss.time_for_film(case.number("film")?)?.hours(),
        _ => return case.unknown(),
    })
}
