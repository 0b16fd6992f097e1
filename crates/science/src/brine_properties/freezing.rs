//! When a brine begins to freeze.

use units::Temperature;

use super::between;
use crate::ScienceError;
use crate::brine::Strength;
use crate::error::within;

/// Freezing points in °C: percent of salt; CoolProp; PHREEQC with ColdChem.dat; with frezchem.dat.
///
/// # Source
/// [COOLPROP_MNA](sources::list::COOLPROP_MNA) and [PHREEQC](sources::list::PHREEQC), computed.
const FREEZING_C: [(f64, [f64; 3]); 18] = [
    (0.0, [0.0, 0.0, 0.0]),
    (1.0, [-0.596, -0.593, -0.599]),
    (2.0, [-1.196, -1.186, -1.196]),
    (3.0, [-1.803, -1.791, -1.806]),
    (4.0, [-2.422, -2.411, -2.432]),
    (5.0, [-3.055, -3.050, -3.076]),
    (6.0, [-3.706, -3.709, -3.740]),
    (8.0, [-5.074, -5.101, -5.139]),
    (10.0, [-6.553, -6.607, -6.647]),
    (12.0, [-8.168, -8.248, -8.284]),
    (14.0, [-9.943, -10.050, -10.074]),
    (15.0, [-10.898, -11.019, -11.036]),
    (16.0, [-11.901, -12.039, -12.047]),
    (18.0, [-14.065, -14.248, -14.238]),
    (20.0, [-16.456, -16.715, -16.692]),
    (21.0, [-17.744, -18.059, -18.035]),
    (22.0, [-19.096, -19.485, -19.467]),
    (23.0, [-20.515, -21.003, -20.999]),
];

/// Where a brine begins to freeze: three programs say so, and they differ.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FreezingPoint {
    /// The lowest of the three.
    pub lowest: Temperature,
    /// Their mean.
    pub mean: Temperature,
    /// The highest of the three: keep the brine above this one.
    pub highest: Temperature,
}

/// Where salt water begins to freeze.
///
/// # Method
/// Three tables, read straight between their points (at most 0.03 °C added).
/// # Valid range
/// 0 to 23 % salt; the last brine freezes as a whole at 23.3 %, −21.1 °C (second-hand). Sugar lowers it further.
/// # Source
/// [COOLPROP_MNA](sources::list::COOLPROP_MNA), [PHREEQC](sources::list::PHREEQC); computed. They agree
/// within 0.1 °C to 10 %, 0.3 °C to 20 %, 0.5 °C to 23 %.
/// # Errors
/// Above 23 %: salt comes out before ice does.
/// # Example
/// ```
/// use science::{brine::Strength, brine_properties::freezing_point};
/// let at = freezing_point(Strength::percent(10.0)?)?;
/// assert_eq!(format!("{:.2} to {:.2}", at.lowest.c(), at.highest.c()), "-6.65 to -6.55");
/// # Ok::<(), science::ScienceError>(())
/// ```
pub fn freezing_point(brine: Strength) -> Result<FreezingPoint, ScienceError> {
    let pct = within(
        "brine for a freezing point",
        "%",
        brine.pct(),
        0.0,
        23.0,
        "above it salt crystals come out before ice: thin the brine",
    )?;
    let column = |i: usize| between(pct, &FREEZING_C.map(|(pct, c)| (pct, c[i])));
    let three = [column(0), column(1), column(2)];
    let of = |c: f64| Ok::<_, ScienceError>(Temperature::celsius(c)?);
    Ok(FreezingPoint {
        lowest: of(three.into_iter().fold(f64::INFINITY, f64::min))?,
        mean: of(three.iter().sum::<f64>() / 3.0)?,
        highest: of(three.into_iter().fold(f64::NEG_INFINITY, f64::max))?,
    })
}
