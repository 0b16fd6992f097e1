//! Cooling: Newton's fall, the core of a slab, and hours somebody measured on meat.

use ::units::{Density, Elapsed, Length, Temperature};
use science::cooling::{Stages, TimeConstant, core_times};
use science::heat::{
    Body, Conductivity, Grid, HeatTransfer, Humidity, Programme, Segment, SpecificHeat,
    time_to_core,
};
use science::psychrometrics::{RelativeHumidity, SurfaceWater};
use science::thermal_properties::Properties;

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// Newton's law, in whole seconds.
const WHOLE_SECONDS: Tolerance =
    Tolerance::difference(3e-4, "time is kept in whole seconds: one is 2.8e-4 h");

/// A temperature by Newton's law.
const EXACT: Tolerance = Tolerance::difference(1e-9, "one exponential worked twice");

/// Cells and steps against the series.
const GRID: Tolerance = Tolerance::part(
    0.003,
    "the error of the cells and steps as shipped, over hours of cooling",
);

/// Nobody published the heat transfer or the damp of these coolings, and a joint is no endless cylinder.
const MEASURED: Tolerance = Tolerance::part(
    0.35,
    "heat transfer and humidity not published, taken from the middle of their usual ranges (30 % either way); a joint is no endless cylinder",
);

/// Conductivity and diffusivity of textbook beef.
const BEEF: (f64, f64) = (0.47, 1.3e-7);
/// Humidity of a cold room with uncovered meat in it, percent. Assumed.
const ROOM_HUMIDITY_PCT: f64 = 85.0;
/// Water activity of a cooked, moist surface. Assumed.
const COOKED_SURFACE: f64 = 0.98;
/// Above this a surface is under water and nothing evaporates, W/(m² K).
const UNDER_WATER: f64 = 100.0;

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "cooling",
    title: "Cooling",
    shows: "Newton's fall and the core of a slab are worked right. Six measured totals from 70 to 10 °C, whose heat transfer and humidity were not published, show the right size, not a precision.",
    tables: &[
        table!("cooling", "published.csv"),
        table!("cooling", "case.csv"),
    ],
    answer,
    tolerance: |case| match case.quantity.as_str() {
        "measured_hours" => MEASURED,
        "hours_between" => WHOLE_SECONDS,
        "after" => EXACT,
        _ => GRID,
    },
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let celsius = |name: &str| -> Result<Temperature, Unanswered> {
        Ok(Temperature::celsius(case.number(name)?)?)
    };
    let tau = || -> Result<TimeConstant, Unanswered> {
        Ok(TimeConstant::new(Elapsed::from_hours(
            case.number("tau")?,
        )?)?)
    };
    Ok(match case.quantity.as_str() {
        "hours_between" => tau()?
            .time_between(celsius("start")?, celsius("goal")?, celsius("air")?)?
            .hours(),
        "after" => {
            let time = Elapsed::from_hours(case.number("hours")?)?;
            tau()?.after(celsius("start")?, celsius("air")?, time)?.c()
        }
        "core_to_middle" | "core_to_end" => {
            let rule = Stages::food_code()?;
            let food = held(case.number("k")?, case.number("alpha")?)?;
            let body = Body::slab(Length::millimetres(2.0 * case.number("half_mm")?)?)?;
            let h = HeatTransfer::w_per_m2_k(case.number("h")?)?;
            let times = core_times(&rule, &food, &body, h, celsius("air")?, Grid::usual()?)?;
            let found = if case.quantity == "core_to_end" {
                times.end
            } else {
                times.middle
            };
            match found {
                Some(time) => time.hours(),
                None => return case.unknown(),
            }
        }
        "measured_hours" => measured(case)?,
        _ => return case.unknown(),
    })
}

/// A material whose properties do not change; only conductivity and diffusivity matter, so the density is
/// water's.
fn held(k: f64, alpha: f64) -> Result<Properties, Unanswered> {
    Ok(Properties {
        density: Density::g_per_millilitre(1.0)?,
        specific_heat: SpecificHeat::kj_per_kg_k(k / alpha / 1e6)?,
        conductivity: Conductivity::w_per_m_k(k)?,
    })
}

/// Hours of an uncovered joint: in air its wet surface evaporates, under water it does not.
fn measured(case: &Case) -> Result<f64, Unanswered> {
    let thickness = Length::millimetres(2.0 * case.number("half_mm")?)?;
    let body = match case.text("shape").unwrap_or_default() {
        "slab" => Body::slab(thickness)?,
        "cylinder" => Body::cylinder(thickness)?,
        _ => return case.unknown(),
    };
    let celsius = |name: &str| -> Result<Temperature, Unanswered> {
        Ok(Temperature::celsius(case.number(name)?)?)
    };
    let h = HeatTransfer::w_per_m2_k(case.number("h")?)?;
    let day = Elapsed::from_hours(24.0)?;
    let mut air = Segment::steady(celsius("bath")?, day, h);
    if h.value() < UNDER_WATER {
        let humidity = Humidity::Relative(RelativeHumidity::percent(ROOM_HUMIDITY_PCT)?);
        air = air.evaporating(humidity, SurfaceWater::activity(COOKED_SURFACE)?);
    }
    let beef = held(BEEF.0, BEEF.1)?;
    let programme = Programme::new(vec![air])?;
    let time = time_to_core(
        &beef,
        &body,
        &programme,
        celsius("start")?,
        celsius("goal")?,
        Grid::usual()?,
    )?;
    Ok(time.hours())
}
