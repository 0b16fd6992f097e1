//! Moist air: water in it, wet bulb, dew point, and how fast a wet surface dries.

use ::units::Temperature;
use science::psychrometrics::{MoistAir, RelativeHumidity};

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// The library is the source of the equations: what is left is how far each solves them.
const SAME_EQUATIONS: Tolerance = Tolerance::part(
    1e-4,
    "the library's own equations; it stops solving at a thousandth of a kelvin",
);

/// Real gas against ideal mixture.
const REAL_GAS: Tolerance = Tolerance::part(
    0.006,
    "real-gas properties: half a percent in the humidity ratio is expected",
);

/// Wet bulb and dew point.
const A_FIFTIETH_OF_A_KELVIN: Tolerance = Tolerance::difference(
    0.02,
    "the library stops solving at 0.001 K; a thermometer reads 0.1 K; real gas is 0.005 K off",
);

/// The saturation polynomials against the steam equation of state.
const STEAM: Tolerance = Tolerance::part(
    0.001,
    "the polynomials are known to lie within 0.05 % of the equation of state of water",
);

/// Latent heat by a straight line against the equation of state, and the wet bulb's error over a
/// difference of a kelvin or two.
const LOSS: Tolerance = Tolerance::part(
    0.01,
    "latent heat by a straight line, and 0.005 K of wet bulb in a difference of one kelvin",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "psychrometrics",
    title: "Moist air",
    shows: "Air is as a standard library has it. A rate of drying agrees by construction, for the wet bulb is defined by the same balance: it does not validate a pellicle.",
    tables: &[
        table!("psychrometrics", "reference.csv"),
        table!("psychrometrics", "case.csv"),
    ],
    answer,
    tolerance,
};

fn tolerance(case: &Case) -> Tolerance {
    match case.quantity.as_str() {
        "humidity_ratio" if case.call.contains("real gas") => REAL_GAS,
        "humidity_ratio" => SAME_EQUATIONS,
        "saturation_pressure" => STEAM,
        "evaporation" => LOSS,
        _ => A_FIFTIETH_OF_A_KELVIN,
    }
}

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let temperature = Temperature::celsius(case.number("celsius")?)?;
    let humidity = RelativeHumidity::percent(case.number_or("percent", 100.0)?)?;
    let air = MoistAir::new(temperature, humidity)?;
    Ok(match case.quantity.as_str() {
        "humidity_ratio" => air.humidity_ratio(),
        "wet_bulb" => air.wet_bulb()?.c(),
        "dew_point" => air.dew_point()?.c(),
        "saturation_pressure" => air.vapour_pressure_pa(),
        "evaporation" => {
            let h = science::heat::HeatTransfer::w_per_m2_k(case.number("h")?)?;
            air.free_water_loss_g_per_m2_h(h)?
        }
        _ => return case.unknown(),
    })
}
