//! What a brine weighs, how much it holds, when it freezes, and how cold dissolving salt makes it.
//!
//! Tables computed once with general-purpose programs, carried over here and read between their points.

mod chilling;
mod freezing;
mod salometer;
mod solubility;

pub use chilling::{ChilledBrine, HEAT_OF_SOLUTION_SPREAD, chilled_brine, heat_of_solution};
pub use freezing::{FreezingPoint, freezing_point};
pub use salometer::{Instrument, strength_from_reading};
pub use solubility::{salt_in_water, sucrose_in_water};

use units::{Density, Mass, Temperature};

use crate::ScienceError;
use crate::brine::Strength;
use crate::error::within;

/// Temperatures of [`DENSITY`], °C; the fourth is 60 °F.
const DENSITY_C: [f64; 7] = [0.0, 4.0, 10.0, 140.0 / 9.0, 20.0, 25.0, 30.0];

/// Density of brine in g/mL: percent of salt, then one value a temperature of [`DENSITY_C`].
///
/// # Source
/// To 23 % [COOLPROP_MNA](sources::list::COOLPROP_MNA), computed, which ends there. Above, the rise
/// over 23 % of [PHREEQC](sources::list::PHREEQC) (pitzer.dat) on top of it, computed: the two differ
/// at 23 % by 0.0032 at 0 °C, 0.0007 at 60 °F and 0.0002 at 25 °C.
const DENSITY: [(f64, [f64; 7]); 18] = [
    (
        0.0,
        [
            0.999_97, 0.999_97, 0.999_65, 0.999_00, 0.998_25, 0.997_15, 0.995_78,
        ],
    ),
    (
        1.0,
        [
            1.007_59, 1.007_47, 1.006_97, 1.006_20, 1.005_35, 1.004_16, 1.002_72,
        ],
    ),
    (
        2.0,
        [
            1.015_21, 1.014_97, 1.014_31, 1.013_40, 1.012_47, 1.011_19, 1.009_68,
        ],
    ),
    (
        4.0,
        [
            1.030_48, 1.030_00, 1.029_04, 1.027_88, 1.026_77, 1.025_33, 1.023_69,
        ],
    ),
    (
        6.0,
        [
            1.045_81, 1.045_12, 1.043_86, 1.042_47, 1.041_21, 1.039_61, 1.037_84,
        ],
    ),
    (
        8.0,
        [
            1.061_23, 1.060_34, 1.058_82, 1.057_22, 1.055_80, 1.054_06, 1.052_17,
        ],
    ),
    (
        10.0,
        [
            1.076_77, 1.075_70, 1.073_94, 1.072_14, 1.070_58, 1.068_71, 1.066_70,
        ],
    ),
    (
        12.0,
        [
            1.092_44, 1.091_21, 1.089_23, 1.087_25, 1.085_57, 1.083_57, 1.081_46,
        ],
    ),
    (
        14.0,
        [
            1.108_27, 1.106_89, 1.104_72, 1.102_58, 1.100_78, 1.098_67, 1.096_46,
        ],
    ),
    (
        16.0,
        [
            1.124_25, 1.122_75, 1.120_40, 1.118_12, 1.116_22, 1.114_00, 1.111_70,
        ],
    ),
    (
        18.0,
        [
            1.140_38, 1.138_78, 1.136_28, 1.133_87, 1.131_88, 1.129_57, 1.127_18,
        ],
    ),
    (
        20.0,
        [
            1.156_67, 1.154_97, 1.152_35, 1.149_83, 1.147_76, 1.145_37, 1.142_91,
        ],
    ),
    (
        22.0,
        [
            1.173_10, 1.171_33, 1.168_60, 1.165_99, 1.163_85, 1.161_38, 1.158_86,
        ],
    ),
    (
        23.0,
        [
            1.181_35, 1.179_55, 1.176_78, 1.174_14, 1.171_97, 1.169_47, 1.166_91,
        ],
    ),
    (
        24.0,
        [
            1.189_84, 1.187_97, 1.185_12, 1.182_42, 1.180_21, 1.177_68, 1.175_09,
        ],
    ),
    (
        25.0,
        [
            1.198_35, 1.196_42, 1.193_49, 1.190_74, 1.188_51, 1.185_95, 1.183_34,
        ],
    ),
    (
        26.0,
        [
            1.206_87, 1.204_89, 1.201_91, 1.199_12, 1.196_86, 1.194_28, 1.191_66,
        ],
    ),
    (
        26.395,
        [
            1.210_24, 1.208_25, 1.205_25, 1.202_45, 1.200_18, 1.197_59, 1.194_97,
        ],
    ),
];

/// Heat capacity at 20 °C in kJ/(kg K), by percent of salt.
///
/// # Source
/// [COOLPROP_MNA](sources::list::COOLPROP_MNA), computed; it ends at 23 %. The first is water.
const HEAT_CAPACITY: [(f64, f64); 14] = [
    (0.0, 4.184),
    (1.0, 4.126),
    (2.0, 4.073),
    (4.0, 3.974),
    (6.0, 3.884),
    (8.0, 3.800),
    (10.0, 3.723),
    (12.0, 3.651),
    (14.0, 3.584),
    (16.0, 3.522),
    (18.0, 3.465),
    (20.0, 3.411),
    (22.0, 3.360),
    (23.0, 3.336),
];

/// The place of `x` in a rising row of points: the point below, and the part of the way to the next.
/// `x` lies within the row.
fn place(x: f64, points: impl Iterator<Item = f64>) -> (usize, f64) {
    let (mut below, mut from) = (0, f64::NEG_INFINITY);
    for (i, point) in points.enumerate() {
        if i > 0 && x <= point {
            return (below, (x - from) / (point - from));
        }
        (below, from) = (i, point);
    }
    (below.saturating_sub(1), 1.0)
}

/// Read straight between the rows of a table of two columns; `x` lies within it.
fn between(x: f64, table: &[(f64, f64)]) -> f64 {
    let (i, part) = place(x, table.iter().map(|row| row.0));
    table[i].1 + part * (table[i + 1].1 - table[i].1)
}

/// Read straight between rows and columns; `pct` and `c` lie within the table.
fn between_both<const ROWS: usize, const COLUMNS: usize>(
    pct: f64,
    c: f64,
    table: &[(f64, [f64; COLUMNS]); ROWS],
    columns_c: &[f64; COLUMNS],
) -> f64 {
    let (row, down) = place(pct, table.iter().map(|row| row.0));
    let (column, along) = place(c, columns_c.iter().copied());
    let at = |row: usize| {
        let cells = &table[row].1;
        cells[column] + along * (cells[column + 1] - cells[column])
    };
    at(row) + down * (at(row + 1) - at(row))
}

fn brine_temperature(temperature: Temperature) -> Result<f64, ScienceError> {
    within(
        "brine temperature",
        "°C",
        temperature.c(),
        DENSITY_C[0],
        DENSITY_C[6],
        "bring the brine to between 0 and 30 °C, then measure",
    )
}

/// In g/mL; both arguments lie within the table.
fn density_g_per_ml(pct: f64, c: f64) -> f64 {
    between_both(pct, c, &DENSITY, &DENSITY_C)
}

/// Density of salt water.
///
/// # Method
/// Read straight between the points of a table, which adds at most 0.00003 g/mL.
/// # Valid range
/// 0 °C to 30 °C, water to saturation. Salt and water only: sugar makes it heavier.
/// # Source
/// [COOLPROP_MNA](sources::list::COOLPROP_MNA) to 23 %, above with
/// [PHREEQC](sources::list::PHREEQC); computed. Expect 0.001 g/mL.
/// # Errors
/// A temperature outside the range.
/// # Example
/// ```
/// use science::{brine::Strength, brine_properties::density};
/// use units::Temperature;
/// let brine = density(Strength::percent(10.0)?, Temperature::celsius(20.0)?)?;
/// assert_eq!(format!("{:.4}", brine.g_per_ml()), "1.0706");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn density(brine: Strength, temperature: Temperature) -> Result<Density, ScienceError> {
    let c = brine_temperature(temperature)?;
    Ok(Density::g_per_millilitre(density_g_per_ml(brine.pct(), c))?)
}

/// Specific gravity at 60 °F against water at 60 °F.
///
/// # Errors
/// None in practice.
pub fn specific_gravity_60f(brine: Strength) -> Result<f64, ScienceError> {
    let c = DENSITY_C[3];
    Ok(density_g_per_ml(brine.pct(), c) / density_g_per_ml(0.0, c))
}

/// Salt in each litre of finished brine, which is not the salt for each litre of water.
///
/// # Errors
/// As [`density`].
pub fn salt_in_a_litre(brine: Strength, temperature: Temperature) -> Result<Mass, ScienceError> {
    Ok(Mass::kilograms(
        density(brine, temperature)?.g_per_ml() * brine.ratio(),
    )?)
}

/// Heat capacity of salt water at 20 °C, kJ/(kg K).
///
/// # Valid range
/// 0 to 23 %.
/// # Source
/// [COOLPROP_MNA](sources::list::COOLPROP_MNA), computed.
/// # Errors
/// Above 23 %.
pub fn heat_capacity_kj_per_kg_k(brine: Strength) -> Result<f64, ScienceError> {
    let pct = within(
        "brine for a heat capacity",
        "%",
        brine.pct(),
        0.0,
        23.0,
        "use a weaker brine",
    )?;
    Ok(between(pct, &HEAT_CAPACITY))
}

#[cfg(test)]
mod tests;
