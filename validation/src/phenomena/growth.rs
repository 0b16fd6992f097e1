//! The remembered form of a growth model: is it written down right.

use ::units::{Ppm, Temperature};
use science::acid::Ph;
use science::growth::{Acids, ListeriaProduct, listeria};
use science::water_activity::WaterActivity;

use super::{Phenomenon, table};
use crate::case::{Case, Unanswered};
use crate::check::Tolerance;

/// The reference prints five or four digits.
const PRINTED: Tolerance = Tolerance::difference(
    6e-5,
    "one remembered form worked twice, printed to four digits",
);

pub(super) const PHENOMENON: Phenomenon = Phenomenon {
    key: "growth",
    title: "Growth",
    shows: "The copying of a form whose every parameter is remembered. It decides nothing and this does not change that.",
    tables: &[table!("growth", "reference.csv")],
    answer,
    tolerance: |_| PRINTED,
};

fn answer(case: &Case) -> Result<f64, Unanswered> {
    let none = Ppm::new(0.0)?;
    let forecast = listeria(&ListeriaProduct {
        temperature: Temperature::celsius(case.number("celsius")?)?,
        water_activity: WaterActivity::new(case.number("aw")?)?,
        ph: Ph::new(case.number("ph")?)?,
        phenol: Ppm::new(case.number("phenol")?)?,
        nitrite: none,
        carbon_dioxide: none,
        acids: Acids {
            lactic_mmol_l: case.number("lactic")?,
            ..Acids::default()
        },
    })?;
    match case.quantity.as_str() {
        "rate" => Ok(forecast.rate().with_status().0),
        "boundary" => forecast
            .boundary_with_status()
            .0
            .ok_or_else(|| Unanswered::Unknown("a boundary".to_owned())),
        _ => case.unknown(),
    }
}
