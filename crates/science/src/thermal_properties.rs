//! Density, specific heat and conductivity of a food, from what it is made of.
//!
//! # Method
//! Each component (water, protein, fat, carbohydrate, fibre, ash) has a polynomial in °C; the food is
//! their mixture: `ρ = 1 ÷ Σ(x ÷ ρᵢ)`, `cp = Σ x cpᵢ`, `k = Σ (volume share) kᵢ`, heat running along the
//! components side by side. Salt counts as ash.
//! # Valid range
//! Unfrozen food, from its freezing point to 150 °C. Ice is not modelled: below the freezing point
//! every function refuses.
//! # Source
//! [CHOI_OKOS](sources::list::CHOI_OKOS), second-hand: two public copies that disagree in three
//! places. Taken here: fat `cp` slope 1.4733e-3 (one has 1.4733e-4); water `cp` 4.1762 − 9.0864e-5 T +
//! 5.4731e-6 T² (both have 4.1289, and opposite signs; 4.1762 is the original from memory, and gives
//! 4.1766 at 20 °C where the water standard has 4.1841; 4.1289 would be 1.3 % low); ice is left out.

use units::{Density, Fraction, Temperature};

use crate::ScienceError;
use crate::error::within;
pub use crate::heat::quantities::{Conductivity, Diffusivity, SpecificHeat};

/// Hottest the polynomials hold, °C.
pub const HOTTEST_C: f64 = 150.0;
/// Where unsalted fish and meat begin to freeze, °C: −0.9 to −2, from memory.
pub const FREEZING_C: f64 = -1.0;
/// The lowest freezing point taken, °C: that of a 5 % brine (−3.05). Below it the water polynomial
/// has no oracle here.
pub const LOWEST_FREEZING_C: f64 = -3.05;
/// How far from 100 the shares may add up: food tables round each share.
pub const CLOSURE_PCT: f64 = 0.5;

const COMPONENTS: usize = 6;
const NAMES: [&str; COMPONENTS] = ["water", "protein", "fat", "carbohydrate", "fibre", "ash"];

/// `a + b T + c T²`, T in °C.
type Quadratic = [f64; 3];

/// Conductivities, W/(m K).
const CONDUCTIVITY: [Quadratic; COMPONENTS] = [
    [0.571_09, 1.762_5e-3, -6.703_6e-6],
    [0.178_81, 1.195_8e-3, -2.717_8e-6],
    [0.180_71, -2.760_4e-4, -1.774_9e-7],
    [0.201_41, 1.387_4e-3, -4.331_2e-6],
    [0.183_31, 1.249_7e-3, -3.168_3e-6],
    [0.329_62, 1.401_1e-3, -2.906_9e-6],
];

/// Densities, kg/m³.
const DENSITY: [Quadratic; COMPONENTS] = [
    [997.18, 3.143_9e-3, -3.757_4e-3],
    [1329.9, -0.518_4, 0.0],
    [925.59, -0.417_57, 0.0],
    [1599.1, -0.310_46, 0.0],
    [1311.5, -0.365_89, 0.0],
    [2423.8, -0.280_63, 0.0],
];

/// Specific heats, kJ/(kg K).
const SPECIFIC_HEAT: [Quadratic; COMPONENTS] = [
    [4.176_2, -9.086_4e-5, 5.473_1e-6],
    [2.008_2, 1.208_9e-3, -1.312_9e-6],
    [1.984_2, 1.473_3e-3, -4.800_8e-6],
    [1.548_8, 1.962_5e-3, -5.939_9e-6],
    [1.845_9, 1.830_6e-3, -4.650_9e-6],
    [1.092_6, 1.889_6e-3, -3.681_7e-6],
];

fn value([a, b, c]: Quadratic, t_c: f64) -> f64 {
    (c * t_c + b) * t_c + a
}

fn slope([_, b, c]: Quadratic, t_c: f64) -> f64 {
    2.0 * c * t_c + b
}

/// What conduction asks of a material, in plain numbers for the inner loop.
///
/// Temperatures come in °C and inside [`Material::range_c`]; the caller checks it.
pub trait Material {
    /// Coldest and hottest it is known for, °C.
    fn range_c(&self) -> (f64, f64);
    /// Density, kg/m³.
    fn density_kg_per_m3(&self, t_c: f64) -> f64;
    /// Specific heat, J/(kg K).
    fn specific_heat_j_per_kg_k(&self, t_c: f64) -> f64;
    /// Heat that brings a kilogram from 0 °C to `t_c`, J/kg: the integral of the specific heat.
    fn enthalpy_j_per_kg(&self, t_c: f64) -> f64;
    /// Conductivity, W/(m K), and its change per degree.
    fn conductivity_and_slope(&self, t_c: f64) -> (f64, f64);
}

/// A food by what it is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Food {
    shares: [f64; COMPONENTS],
    freezing_c: f64,
    /// The mixture's own specific heat, J/(kg K).
    cp: Quadratic,
}

/// A row of a food table: percent by weight of the whole.
///
/// A component left out is none of it: `Percent { water: 100.0, ..Percent::default() }`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Percent {
    /// Water, %.
    pub water: f64,
    /// Protein, %.
    pub protein: f64,
    /// Fat, %.
    pub fat: f64,
    /// Carbohydrate without fibre, %.
    pub carbohydrate: f64,
    /// Fibre, %.
    pub fibre: f64,
    /// Ash, salt included, %.
    pub ash: f64,
}

/// Salmon flesh, typical, from memory. Farmed fillets of 15.6 to 21.1 % fat were read of: enter yours.
pub const SALMON: Percent = Percent {
    water: 68.5,
    protein: 19.9,
    fat: 10.7,
    carbohydrate: 0.0,
    fibre: 0.0,
    ash: 0.9,
};

/// Trout and char flesh, typical, from memory.
pub const TROUT: Percent = Percent {
    water: 71.5,
    protein: 19.9,
    fat: 7.0,
    carbohydrate: 0.0,
    fibre: 0.0,
    ash: 1.6,
};

/// Plain water, for a tub of thin liquor.
pub const WATER: Percent = Percent {
    water: 100.0,
    protein: 0.0,
    fat: 0.0,
    carbohydrate: 0.0,
    fibre: 0.0,
    ash: 0.0,
};

impl Food {
    /// A food from a row of a food table.
    ///
    /// # Valid range
    /// Shares that add up to 100 within [`CLOSURE_PCT`]; the rounding left is spread over all.
    /// # Errors
    /// A negative share; a sum that is not 100.
    /// # Example
    /// ```
    /// use science::thermal_properties::{Food, Percent, SALMON};
    /// use units::Temperature;
    /// let cold = Food::new(SALMON)?.at(Temperature::celsius(4.0)?)?;
    /// assert_eq!(format!("{:.4}", cold.conductivity.value()), "0.4670");
    /// let short = Food::new(Percent { water: 70.0, protein: 20.0, ..Percent::default() });
    /// assert!(short.unwrap_err().to_string().contains("found 90 %; expected 99.5 to 100.5 %"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(row: Percent) -> Result<Self, ScienceError> {
        let pct = [
            row.water,
            row.protein,
            row.fat,
            row.carbohydrate,
            row.fibre,
            row.ash,
        ];
        for (name, share) in NAMES.into_iter().zip(pct) {
            within(
                name,
                "%",
                share,
                0.0,
                100.0,
                "enter it as percent of the whole food",
            )?;
        }
        let sum = within(
            "water, protein, fat, carbohydrate, fibre and ash together",
            "%",
            pct.iter().sum(),
            100.0 - CLOSURE_PCT,
            100.0 + CLOSURE_PCT,
            "find the share that is missing or counted twice",
        )?;
        let shares = pct.map(|share| share / sum);
        let mut cp = [0.0; 3];
        for (share, own) in shares.into_iter().zip(SPECIFIC_HEAT) {
            for (mixed, part) in cp.iter_mut().zip(own) {
                *mixed += share * part * 1000.0;
            }
        }
        Ok(Self {
            shares,
            freezing_c: FREEZING_C,
            cp,
        })
    }

    /// A food from shares of one base, in the order water, protein, fat, carbohydrate, fibre, ash.
    ///
    /// # Errors
    /// Shares of different bases; as [`Food::new`].
    pub fn from_shares(shares: &[Fraction; COMPONENTS]) -> Result<Self, ScienceError> {
        let [water, protein, fat, carbohydrate, fibre, ash] = shares;
        for other in &shares[1..] {
            water.plus(other)?;
        }
        Self::new(Percent {
            water: water.pct(),
            protein: protein.pct(),
            fat: fat.pct(),
            carbohydrate: carbohydrate.pct(),
            fibre: fibre.pct(),
            ash: ash.pct(),
        })
    }

    /// The same food, beginning to freeze elsewhere than at [`FREEZING_C`]: salt and sugar lower it.
    ///
    /// # Errors
    /// Outside [`LOWEST_FREEZING_C`] to 0 °C.
    pub fn freezing_at(mut self, point: Temperature) -> Result<Self, ScienceError> {
        self.freezing_c = within(
            "freezing point",
            "°C",
            point.c(),
            LOWEST_FREEZING_C,
            0.0,
            "a stronger brine than 5 % is outside this model",
        )?;
        Ok(self)
    }

    /// What the food is at one temperature.
    ///
    /// # Errors
    /// Frozen, or above [`HOTTEST_C`].
    pub fn at(&self, temperature: Temperature) -> Result<Properties, ScienceError> {
        let t_c = within(
            "temperature of the food",
            "°C",
            temperature.c(),
            self.freezing_c,
            HOTTEST_C,
            "frozen and scorched food is outside this model",
        )?;
        Ok(Properties {
            density: Density::g_per_millilitre(self.density_kg_per_m3(t_c) / 1000.0)?,
            specific_heat: SpecificHeat::kj_per_kg_k(self.specific_heat_j_per_kg_k(t_c) / 1000.0)?,
            conductivity: Conductivity::w_per_m_k(self.conductivity_and_slope(t_c).0)?,
        })
    }
}

impl Material for Food {
    fn range_c(&self) -> (f64, f64) {
        (self.freezing_c, HOTTEST_C)
    }

    fn density_kg_per_m3(&self, t_c: f64) -> f64 {
        let volume: f64 = (self.shares.iter().zip(DENSITY))
            .map(|(share, own)| share / value(own, t_c))
            .sum();
        1.0 / volume
    }

    fn specific_heat_j_per_kg_k(&self, t_c: f64) -> f64 {
        value(self.cp, t_c)
    }

    fn enthalpy_j_per_kg(&self, t_c: f64) -> f64 {
        let [a, b, c] = self.cp;
        ((c / 3.0 * t_c + b / 2.0) * t_c + a) * t_c
    }

    fn conductivity_and_slope(&self, t_c: f64) -> (f64, f64) {
        // Σ v k and Σ v, and their slopes, v being the volume of each component in a kilogram.
        let (mut vk, mut vk_slope, mut v, mut v_slope) = (0.0, 0.0, 0.0, 0.0);
        for ((&share, k), rho) in self.shares.iter().zip(CONDUCTIVITY).zip(DENSITY) {
            if share > 0.0 {
                let density = value(rho, t_c);
                let own = share / density;
                let own_slope = -own * slope(rho, t_c) / density;
                let conducts = value(k, t_c);
                vk += own * conducts;
                vk_slope += own * slope(k, t_c) + own_slope * conducts;
                v += own;
                v_slope += own_slope;
            }
        }
        let k = vk / v;
        (k, (vk_slope - k * v_slope) / v)
    }
}

/// Properties held at one value, whatever the temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Properties {
    /// Density.
    pub density: Density,
    /// Specific heat.
    pub specific_heat: SpecificHeat,
    /// Conductivity.
    pub conductivity: Conductivity,
}

impl Properties {
    /// Conductivity over density and specific heat.
    ///
    /// # Errors
    /// A combination outside 1e-9 to 1e-5 m²/s.
    pub fn diffusivity(&self) -> Result<Diffusivity, ScienceError> {
        Diffusivity::m2_per_s(self.diffusivity_m2_per_s())
    }

    pub(crate) fn diffusivity_m2_per_s(&self) -> f64 {
        self.conductivity.value() / self.heat_capacity_j_per_m3_k()
    }

    pub(crate) fn heat_capacity_j_per_m3_k(&self) -> f64 {
        self.density.g_per_ml() * 1000.0 * self.specific_heat.value() * 1000.0
    }
}

impl Material for Properties {
    fn range_c(&self) -> (f64, f64) {
        (LOWEST_FREEZING_C, HOTTEST_C)
    }

    fn density_kg_per_m3(&self, _: f64) -> f64 {
        self.density.g_per_ml() * 1000.0
    }

    fn specific_heat_j_per_kg_k(&self, _: f64) -> f64 {
        self.specific_heat.value() * 1000.0
    }

    fn enthalpy_j_per_kg(&self, t_c: f64) -> f64 {
        self.specific_heat.value() * 1000.0 * t_c
    }

    fn conductivity_and_slope(&self, _: f64) -> (f64, f64) {
        (self.conductivity.value(), 0.0)
    }
}

#[cfg(test)]
mod tests;
