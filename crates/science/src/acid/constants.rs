//! Constants of the acids of the kitchen, every one from memory.

use units::Temperature;

use crate::ScienceError;
use crate::error::within;

/// Largest ionic strength the activity formula is used at, mol/kg.
///
/// # Source
/// [DAVIES](sources::list::DAVIES), from memory: "to about 0.5". 0.55 so that the brine it was held
/// against (0.53 mol/kg of salt, 0.04 of a pH off) lies inside.
pub const ION_ACTIVITY_MOST: f64 = 0.55;

/// Debye–Hückel slope of [DAVIES](sources::list::DAVIES) at 25 °C, (kg/mol)^½; from memory.
const SLOPE_25C: f64 = 0.5115;

/// An acid of the kitchen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Acid {
    /// Of vinegar.
    Acetic,
    /// Of sauerkraut and yoghurt.
    Lactic,
    /// Of lemon.
    Citric,
    /// Of grapes.
    Tartaric,
    /// Of apples.
    Malic,
    /// Of meat, milk and cola.
    Phosphoric,
}

/// How a dissociation constant depends on temperature.
enum Pk {
    /// `a ÷ T − b + c T`, kelvin.
    Curve(f64, f64, f64),
    /// At 25 °C only.
    At25(f64),
}

impl Acid {
    /// Every one.
    pub const ALL: [Self; 6] = [
        Self::Acetic,
        Self::Lactic,
        Self::Citric,
        Self::Tartaric,
        Self::Malic,
        Self::Phosphoric,
    ];

    /// Molar mass without crystal water, g/mol; [ATOMIC](sources::list::ATOMIC), from memory.
    #[must_use]
    pub fn g_per_mol(self) -> f64 {
        match self {
            Self::Acetic => 60.052,
            Self::Lactic => 90.078,
            Self::Citric => 192.124,
            Self::Tartaric => 150.087,
            Self::Malic => 134.087,
            Self::Phosphoric => 97.994,
        }
    }

    /// [PKA_OF_T](sources::list::PKA_OF_T), from memory; malic and phosphoric
    /// [MEMORY](sources::list::MEMORY), known at 25 °C only.
    fn constants(self) -> &'static [Pk] {
        match self {
            Self::Acetic => &[Pk::Curve(1170.48, 3.1649, 0.013_399)],
            Self::Lactic => &[Pk::Curve(1286.49, 4.8607, 0.014_776)],
            Self::Citric => &[
                Pk::Curve(1255.6, 4.5635, 0.011_673),
                Pk::Curve(1585.2, 5.4460, 0.016_399),
                Pk::Curve(1814.9, 6.3664, 0.022_389),
            ],
            Self::Tartaric => &[
                Pk::Curve(1525.59, 6.6558, 0.015_336),
                Pk::Curve(1765.35, 7.3015, 0.019_276),
            ],
            Self::Malic => &[Pk::At25(3.40), Pk::At25(5.11)],
            Self::Phosphoric => &[Pk::At25(2.15), Pk::At25(7.20), Pk::At25(12.35)],
        }
    }

    /// How many protons it gives.
    #[must_use]
    pub fn protons(self) -> usize {
        self.constants().len()
    }

    /// Its dissociation constants as pKa, thermodynamic, first proton first.
    ///
    /// # Valid range
    /// 0 to 60 °C; malic and phosphoric acid 20 to 30 °C, taken as at 25.
    /// # Source
    /// [PKA_OF_T](sources::list::PKA_OF_T), from memory.
    /// # Errors
    /// Outside the range.
    /// # Example
    /// ```
    /// use science::acid::Acid;
    /// use units::Temperature;
    /// let pka = Acid::Acetic.pka(Temperature::celsius(25.0)?)?;
    /// assert_eq!(format!("{:.4}", pka[0]), "4.7558");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn pka(self, temperature: Temperature) -> Result<Vec<f64>, ScienceError> {
        let t = liquor_kelvin(temperature)?;
        self.constants()
            .iter()
            .map(|pk| match *pk {
                Pk::Curve(a, b, c) => Ok(a / t - b + c * t),
                Pk::At25(pk) => within(
                    "temperature for malic or phosphoric acid",
                    "°C",
                    temperature.c(),
                    20.0,
                    30.0,
                    "work at 25 °C: these constants are known there only",
                )
                .map(|_| pk),
            })
            .collect()
    }
}

pub(super) fn liquor_kelvin(temperature: Temperature) -> Result<f64, ScienceError> {
    within(
        "liquor temperature",
        "°C",
        temperature.c(),
        0.0,
        60.0,
        "a pH is wanted at 20 to 30 °C: let it cool",
    )?;
    Ok(temperature.kelvin())
}

/// The ion product of water as pKw.
///
/// # Method
/// `4470.99 ÷ T − 6.0875 + 0.01706 T` (Harned and Robinson).
/// # Source
/// [MEMORY](sources::list::MEMORY), from memory.
/// # Errors
/// Outside 0 to 60 °C.
pub fn pk_water(temperature: Temperature) -> Result<f64, ScienceError> {
    let t = liquor_kelvin(temperature)?;
    Ok(4470.99 / t - 6.0875 + 0.017_06 * t)
}

/// Permittivity of water, `t_c` in °C (Malmberg and Maryott; from memory).
fn permittivity(t_c: f64) -> f64 {
    87.740 + t_c * (-0.400_08 + t_c * (9.398e-4 - 1.410e-6 * t_c))
}

/// The slope of the activity formula at a temperature.
///
/// # Method
/// It goes with `(ε T)^(−3/2)` from 0.5115 at 25 °C.
/// # Source
/// [DAVIES](sources::list::DAVIES), from memory.
/// # Errors
/// Outside 0 to 60 °C.
pub fn davies_slope(temperature: Temperature) -> Result<f64, ScienceError> {
    let t = liquor_kelvin(temperature)?;
    let now = permittivity(temperature.c()) * t;
    let then = permittivity(25.0) * 298.15;
    Ok(SLOPE_25C * (then / now).powf(1.5))
}
