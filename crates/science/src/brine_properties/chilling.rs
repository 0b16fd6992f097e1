//! Salt cools the water it dissolves in; the ice for a cold brine is less by that much.

use units::{Mass, Temperature, TemperatureDifference};

use super::between_both;
use crate::ScienceError;
use crate::brine::{SATURATED_PCT, Strength};
use crate::error::within;
use crate::water_activity::SALT_G_PER_MOL;

/// Temperatures of [`HEAT_KJ_PER_MOL`], °C.
const HEAT_C: [f64; 7] = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0];

/// Heat taken up by dissolving one mole of salt in pure water, kJ/mol: percent of the brine made, then
/// one value a temperature of [`HEAT_C`].
///
/// # Source
/// [PHREEQC](sources::list::PHREEQC) with pitzer.dat, computed: the slope with temperature of the
/// solubility product of halite (central difference over 2 K) and of the excess free energy.
/// At 25 °C and endless water it gives 3.74 kJ/mol; 3.88 is remembered. Its heat capacity of solution is
/// constant, so in the cold it may be a fifth too low (from memory): see [`HEAT_OF_SOLUTION_SPREAD`].
const HEAT_KJ_PER_MOL: [(f64, [f64; 7]); 17] = [
    (0.0, [6.159, 5.674, 5.190, 4.707, 4.223, 3.737, 3.246]),
    (0.5, [6.208, 5.779, 5.351, 4.923, 4.493, 4.060, 3.623]),
    (1.0, [6.082, 5.685, 5.287, 4.887, 4.484, 4.078, 3.666]),
    (2.0, [5.793, 5.448, 5.099, 4.745, 4.385, 4.019, 3.646]),
    (4.0, [5.199, 4.941, 4.673, 4.393, 4.103, 3.802, 3.490]),
    (6.0, [4.615, 4.435, 4.237, 4.023, 3.793, 3.548, 3.288]),
    (8.0, [4.046, 3.938, 3.807, 3.653, 3.480, 3.287, 3.075]),
    (10.0, [3.493, 3.455, 3.387, 3.292, 3.172, 3.028, 2.863]),
    (12.0, [2.959, 2.988, 2.982, 2.943, 2.874, 2.778, 2.657]),
    (14.0, [2.444, 2.540, 2.594, 2.611, 2.592, 2.543, 2.464]),
    (16.0, [1.954, 2.115, 2.229, 2.299, 2.330, 2.325, 2.288]),
    (18.0, [1.493, 1.719, 1.890, 2.013, 2.092, 2.131, 2.134]),
    (20.0, [1.066, 1.355, 1.584, 1.759, 1.885, 1.967, 2.009]),
    (22.0, [0.680, 1.032, 1.317, 1.542, 1.714, 1.837, 1.917]),
    (24.0, [0.343, 0.756, 1.096, 1.371, 1.587, 1.750, 1.866]),
    (26.0, [0.065, 0.538, 0.931, 1.253, 1.512, 1.713, 1.864]),
    (26.395, [0.018, 0.502, 0.906, 1.237, 1.504, 1.713, 1.871]),
];

/// How far the heat of solution may be off either way, as a part of it. House value, see its source.
pub const HEAT_OF_SOLUTION_SPREAD: f64 = 0.25;

/// Heat that melts ice at 0 °C, J/g; [MEMORY](sources::list::MEMORY), from memory.
const ICE_J_PER_G: f64 = 333.6;
/// Heat capacity of water, J/(g K), near 10 °C; [COOLPROP_MNA](sources::list::COOLPROP_MNA) gives 4.184 at 20 °C.
const WATER_J_PER_G_K: f64 = 4.19;
/// Heat capacity of dry salt, J/(g K); [MEMORY](sources::list::MEMORY), from memory.
const SALT_J_PER_G_K: f64 = 0.864;

/// Heat taken from the mix for each gram of salt dissolved in pure water to this strength, J/g.
///
/// # Method
/// A table read straight between its points.
/// # Valid range
/// 0 to 30 °C, to saturation.
/// # Source
/// [PHREEQC](sources::list::PHREEQC), computed; may be off by a quarter ([`HEAT_OF_SOLUTION_SPREAD`]).
/// # Errors
/// A temperature outside the range.
pub fn heat_of_solution(brine: Strength, temperature: Temperature) -> Result<f64, ScienceError> {
    let c = within(
        "temperature for a heat of solution",
        "°C",
        temperature.c(),
        HEAT_C[0],
        HEAT_C[6],
        "dissolve the salt between 0 and 30 °C",
    )?;
    let pct = brine.pct().min(SATURATED_PCT);
    Ok(between_both(pct, c, &HEAT_KJ_PER_MOL, &HEAT_C) * 1000.0 / SALT_G_PER_MOL)
}

/// Water, ice and salt that together come to a cold brine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChilledBrine {
    /// Tap water.
    pub water: Mass,
    /// Ice at 0 °C, all of it to melt.
    pub ice: Mass,
    /// Salt to dissolve in both.
    pub salt: Mass,
    /// How far the brine may come out from the wanted temperature because the heat of solution is not
    /// known better; the tub and the room come on top.
    pub spread: TemperatureDifference,
}

/// Splits the water of a brine into tap water and ice so that the finished brine comes to `wanted`.
///
/// # Method
/// Heat given up by tap water and salt = heat to melt the ice and warm its water + heat of solution:
/// `m_w c (T − T_b) + m_s c_s (T_s − T_b) = m_ice (L + c T_b) + m_s q(T_b)`.
/// # Valid range
/// Tap water and salt 0 to 60 °C, brine 0 to 30 °C. The tub, the room and stirring are left out.
/// # Source
/// [MASS_BALANCE](sources::list::MASS_BALANCE) of heat with [`heat_of_solution`]; latent heat and heat
/// capacities from memory.
/// # Errors
/// Outside the range; a brine that would come out colder than wanted with no ice at all, or warmer
/// with nothing but ice.
/// # Example
/// ```
/// use science::{brine::Strength, brine_properties::chilled_brine};
/// use units::{Mass, Temperature};
/// let c = Temperature::celsius;
/// let mix = chilled_brine(
///     Mass::kilograms(2.0)?, Strength::percent(10.0)?, c(20.0)?, c(20.0)?, c(4.0)?)?;
/// assert_eq!(format!("{:.0} g ice", mix.ice.g()), "297 g ice");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn chilled_brine(
    total_water: Mass,
    strength: Strength,
    tap: Temperature,
    salt_at: Temperature,
    wanted: Temperature,
) -> Result<ChilledBrine, ScienceError> {
    if total_water <= Mass::ZERO {
        return Err(ScienceError::None { what: "water" });
    }
    let warm = |what, t: Temperature| {
        within(
            what,
            "°C",
            t.c(),
            0.0,
            60.0,
            "let it cool, or check the unit",
        )
    };
    let tap_c = warm("tap water", tap)?;
    let salt_c = warm("salt", salt_at)?;
    let q = heat_of_solution(strength, wanted)?;
    let to = wanted.c();
    let salt_each = strength.g_per_kg_water() / 1000.0;
    // Per gram of water in all: x of it ice.
    let spare = WATER_J_PER_G_K * (tap_c - to) + salt_each * (SALT_J_PER_G_K * (salt_c - to) - q);
    let part = spare / (ICE_J_PER_G + WATER_J_PER_G_K * tap_c);
    within(
        "ice needed of the water",
        "%",
        part * 100.0,
        0.0,
        100.0,
        "below 0 the brine comes out colder without ice: warm it; above 100 chill the water first",
    )?;
    let ice = total_water.scaled(part)?;
    let heat_capacity = WATER_J_PER_G_K + salt_each * SALT_J_PER_G_K;
    Ok(ChilledBrine {
        water: total_water.checked_sub(ice)?,
        ice,
        salt: strength.salt_for(total_water)?,
        spread: TemperatureDifference::kelvins(
            HEAT_OF_SOLUTION_SPREAD * salt_each * q / heat_capacity,
        )?,
    })
}
