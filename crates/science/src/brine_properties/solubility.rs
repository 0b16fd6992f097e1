//! How much salt or sugar water holds.

use units::{Mass, Temperature};

use super::between;
use crate::ScienceError;
use crate::error::within;

/// Salt that 100 g of water holds, g, by °C. [NACL_SOLUBILITY](sources::list::NACL_SOLUBILITY), from
/// memory; one page read gives 35.9 at 25 °C; PHREEQC with pitzer.dat within 1 %.
const SALT_G_PER_100_G: [(f64, f64); 6] = [
    (0.0, 35.65),
    (20.0, 35.89),
    (40.0, 36.4),
    (60.0, 37.0),
    (80.0, 37.9),
    (100.0, 39.0),
];

/// Salt that `water` holds.
///
/// # Method
/// A table read straight between its points.
/// # Valid range
/// 0 to 100 °C. Warm water dissolves salt faster, hardly more.
/// # Source
/// [NACL_SOLUBILITY](sources::list::NACL_SOLUBILITY), from memory. Within 1 % of
/// [PHREEQC](sources::list::PHREEQC).
/// # Errors
/// Outside the range.
pub fn salt_in_water(water: Mass, temperature: Temperature) -> Result<Mass, ScienceError> {
    let c = within(
        "water temperature",
        "°C",
        temperature.c(),
        0.0,
        100.0,
        "check the unit",
    )?;
    Ok(water.scaled(between(c, &SALT_G_PER_100_G) / 100.0)?)
}

/// Table sugar that `water` holds.
///
/// # Method
/// `w% = 64.447 + 0.08222 T + 1.66169e-3 T² − 1.558e-6 T³ − 4.63e-8 T⁴`, percent of the syrup.
/// # Valid range
/// 0 to 100 °C.
/// # Source
/// [VAVRINECZ](sources::list::VAVRINECZ), from memory.
/// # Errors
/// Outside the range.
/// # Example
/// ```
/// use units::{Mass, Temperature};
/// let sugar = science::brine_properties::sucrose_in_water(Mass::grams(100.0)?, Temperature::celsius(20.0)?)?;
/// assert_eq!(format!("{:.0}", sugar.g()), "201");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn sucrose_in_water(water: Mass, temperature: Temperature) -> Result<Mass, ScienceError> {
    let t = within(
        "syrup temperature",
        "°C",
        temperature.c(),
        0.0,
        100.0,
        "check the unit",
    )?;
    let pct = sucrose_pct(t);
    Ok(water.scaled(pct / (100.0 - pct))?)
}

/// Percent of a saturated syrup that is sucrose, `t` in °C.
pub(super) fn sucrose_pct(t: f64) -> f64 {
    64.447 + t * (0.082_22 + t * (1.661_69e-3 + t * (-1.558e-6 + t * -4.63e-8)))
}
