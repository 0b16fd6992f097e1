//! Reading a salometer at another temperature than its own.

use units::Temperature;

use super::{DENSITY_C, brine_temperature, density_g_per_ml};
use crate::ScienceError;
use crate::brine::{SATURATED_PCT, Strength};
use crate::error::within;

/// Growth of a glass hydrometer's volume with warmth, parts per kelvin;
/// [MEMORY](sources::list::MEMORY), from memory.
const GLASS_PER_K: f64 = 25e-6;

/// A salometer, by the temperature its scale was made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Instrument {
    /// Made for brine at 60 °F (15.6 °C), the usual one.
    At60F,
    /// Made for cold brine at 38 °F (3.3 °C). That it exists was read; that its 100 is the same
    /// 26.395 % is assumed.
    At38F,
}

impl Instrument {
    /// The temperature at which the scale reads true, °C.
    #[must_use]
    pub fn own_c(self) -> f64 {
        match self {
            Self::At60F => DENSITY_C[3],
            Self::At38F => (38.0 - 32.0) / 1.8,
        }
    }
}

/// The strength of a brine whose salometer was read at some other temperature.
///
/// # Method
/// A hydrometer floats at the mark of an equal density: the strength is sought whose density at the
/// brine's temperature, times the growth of the glass, is that of the marked brine at the
/// instrument's own temperature. Bisection.
/// # Valid range
/// Readings 0 to 100 °SAL in brine at 0 to 30 °C, before sugar goes in.
/// # Source
/// [SALOMETER](sources::list::SALOMETER), read, for the scale; densities as [`super::density`].
/// # Errors
/// Outside the range; a reading that at this temperature means more salt than water holds, or less than none.
/// # Example
/// ```
/// use science::brine_properties::{Instrument, strength_from_reading};
/// use units::Temperature;
/// let warm = strength_from_reading(60.0, Temperature::from_f(80.0)?, Instrument::At60F)?;
/// assert_eq!(format!("{:.1}", warm.salometer()), "62.2");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn strength_from_reading(
    reading: f64,
    brine: Temperature,
    instrument: Instrument,
) -> Result<Strength, ScienceError> {
    let marked = Strength::from_salometer(reading)?;
    let c = brine_temperature(brine)?;
    let own = instrument.own_c();
    let floats_at = density_g_per_ml(marked.pct(), own) / (1.0 + GLASS_PER_K * (c - own));
    let (least, most) = (density_g_per_ml(0.0, c), density_g_per_ml(SATURATED_PCT, c));
    // Rounding of the table's last digit, so that 0 and 100 °SAL at the own temperature stay in.
    let slack = 1e-9;
    within(
        "density at the reading",
        "g/mL",
        floats_at,
        least - slack,
        most + slack,
        "the reading and the temperature do not go together: read both again",
    )?;
    let (mut weak, mut strong) = (0.0, SATURATED_PCT);
    for _ in 0..60 {
        let middle = 0.5 * (weak + strong);
        if density_g_per_ml(middle, c) < floats_at {
            weak = middle;
        } else {
            strong = middle;
        }
    }
    Strength::percent(strong)
}
