//! A remembered growth form for Listeria monocytogenes in smoked fish and meat.

use core::fmt;

use sources::Status;
use units::{Ppm, Temperature};

use super::StatedRate;
use crate::ScienceError;
use crate::acid::Ph;
use crate::error::within;
use crate::water_activity::WaterActivity;

// Every constant from here to the end of the list: [MEJLHOLM_2009](sources::list::MEJLHOLM_2009), from
// memory, none checked against the paper.
/// Rate at 25 °C with nothing in the way, per h.
const RATE_25C: f64 = 0.419;
/// Temperature at which growth ends, °C, and the reference, °C.
const T_MIN_C: f64 = -2.83;
const T_REF_C: f64 = 25.0;
/// Water activity at which growth ends.
const AW_MIN: f64 = 0.923;
/// pH at which growth ends.
const PH_MIN: f64 = 4.97;
/// Phenol that ends growth, ppm.
const PHENOL_MOST: f64 = 32.0;
/// Nitrite that ends growth, ppm.
const NITRITE_MOST: f64 = 350.0;
/// Dissolved carbon dioxide that ends growth, ppm.
const CO2_MOST: f64 = 3140.0;
/// Whole acid in the water that ends growth, mmol/L, and its pKa.
const LACTIC: (f64, f64) = (3.79, 3.86);
const ACETIC: (f64, f64) = (10.3, 4.76);
const DIACETATE: (f64, f64) = (4.8, 4.76);
const BENZOIC: (f64, f64) = (0.349, 4.20);
const CITRIC: (f64, f64) = (2.119, 3.13);
const SORBIC: (f64, f64) = (1.896, 4.76);

/// Acids and preservatives in the water phase, all forms together, mmol/L.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Acids {
    /// Lactic acid and lactate, mmol/L water.
    pub lactic_mmol_l: f64,
    /// Acetic acid and acetate, mmol/L water.
    pub acetic_mmol_l: f64,
    /// Sodium diacetate, mmol/L water.
    pub diacetate_mmol_l: f64,
    /// Benzoic acid and benzoate, mmol/L water.
    pub benzoic_mmol_l: f64,
    /// Citric acid and citrate, mmol/L water.
    pub citric_mmol_l: f64,
    /// Sorbic acid and sorbate, mmol/L water.
    pub sorbic_mmol_l: f64,
}

/// A food as the form sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ListeriaProduct {
    /// Temperature it is kept at.
    pub temperature: Temperature,
    /// Water activity.
    pub water_activity: WaterActivity,
    /// pH.
    pub ph: Ph,
    /// Phenol from smoke.
    pub phenol: Ppm,
    /// Nitrite.
    pub nitrite: Ppm,
    /// Carbon dioxide dissolved in the water.
    pub carbon_dioxide: Ppm,
    /// Acids in the water.
    pub acids: Acids,
}

/// What the form says of a food: a rate and how near the boundary of growth it is, not without status.
#[derive(Clone, Copy, PartialEq)]
pub struct ListeriaForecast {
    rate: StatedRate,
    psi: Option<f64>,
    damping: f64,
}

impl ListeriaForecast {
    /// The growth rate. Nought where the form has no growth.
    #[must_use]
    pub fn rate(self) -> StatedRate {
        self.rate
    }

    /// Distance to the boundary of growth, 1 being the boundary and `None` one factor alone past it; with status.
    #[must_use]
    pub fn boundary_with_status(self) -> (Option<f64>, Status) {
        (self.psi, self.rate.status)
    }

    /// By how much hurdles together slow growth beyond each alone: 1 not at all, 0 to a stop; with status.
    #[must_use]
    pub fn interaction_with_status(self) -> (f64, Status) {
        (self.damping, self.rate.status)
    }
}

/// "Listeria, remembered form: 0.0227 per h (from memory; decides nothing)".
impl fmt::Display for ListeriaForecast {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Listeria, remembered form: {}", self.rate)
    }
}

impl fmt::Debug for ListeriaForecast {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

/// The growth rate of Listeria monocytogenes by a remembered form.
///
/// # Method
/// `μ = 0.419 γ(T) γ(a_w) γ(pH) γ(phenol) γ(nitrite) γ(CO₂) Π γ(whole acid) ξ`, `φ = (1 − √γ)²`,
/// `ψ = Σ φ_i ÷ (2 Π_(j≠i) (1 − φ_j))`, `ξ` 1 to `ψ` 0.5, then `2 (1 − ψ)`, nought from 1.
/// # Valid range
/// 0 to 25 °C, pH to 7.7 (house values; the paper's own range was not read).
/// # Source
/// [MEJLHOLM_2009](sources::list::MEJLHOLM_2009): every parameter from memory, only the abstract read. The
/// worked figures test that the form is written down right, nothing else.
/// # Errors
/// Outside the range; an acid below nothing.
/// # Example
/// ```
/// use science::acid::Ph;
/// use science::growth::{Acids, ListeriaProduct, listeria};
/// use science::water_activity::WaterActivity;
/// use units::{Ppm, Temperature};
/// let none = Ppm::new(0.0)?;
/// let forecast = listeria(&ListeriaProduct {
///     temperature: Temperature::celsius(5.0)?,
///     water_activity: WaterActivity::new(0.98)?,
///     ph: Ph::new(6.1)?,
///     phenol: none, nitrite: none, carbon_dioxide: none,
///     acids: Acids::default(),
/// })?;
/// assert_eq!(forecast.rate().to_string(), "0.0227 per h (from memory; decides nothing)");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn listeria(food: &ListeriaProduct) -> Result<ListeriaForecast, ScienceError> {
    let t = within(
        "temperature for the Listeria form",
        "°C",
        food.temperature.c(),
        0.0,
        T_REF_C,
        "the form is not used outside",
    )?;
    let ph = within(
        "pH for the Listeria form",
        "",
        food.ph.ph(),
        0.0,
        7.7,
        "the form is not used above",
    )?;
    let whole = |total: f64, pka: f64| -> Result<f64, ScienceError> {
        let total = within(
            "acid in the water",
            "mmol/L",
            total,
            0.0,
            5000.0,
            "check the sign and the unit",
        )?;
        Ok(total / (1.0 + 10_f64.powf(ph - pka)))
    };
    let straight = |total: f64, (most, pka): (f64, f64)| {
        Ok::<_, ScienceError>(1.0 - whole(total, pka)? / most)
    };
    let rooted = |total: f64, (most, pka): (f64, f64)| {
        Ok::<_, ScienceError>(1.0 - (whole(total, pka)? / most).sqrt())
    };
    let a = &food.acids;
    // Squared factors are kept as they are written, with the sign of what is squared: past a limit they
    // must end growth, not turn positive again.
    let signed_square = |x: f64| x * x.abs();
    let gamma = [
        signed_square((t - T_MIN_C) / (T_REF_C - T_MIN_C)),
        (food.water_activity.aw() - AW_MIN) / (1.0 - AW_MIN),
        1.0 - 10_f64.powf(PH_MIN - ph),
        (PHENOL_MOST - food.phenol.ppm()) / PHENOL_MOST,
        signed_square((NITRITE_MOST - food.nitrite.ppm()) / NITRITE_MOST),
        (CO2_MOST - food.carbon_dioxide.ppm()) / CO2_MOST,
        straight(a.lactic_mmol_l, LACTIC)?,
        rooted(a.acetic_mmol_l, ACETIC)?,
        rooted(a.diacetate_mmol_l, DIACETATE)?,
        straight(a.benzoic_mmol_l, BENZOIC)?,
        straight(a.citric_mmol_l, CITRIC)?,
        straight(a.sorbic_mmol_l, SORBIC)?,
    ];
    let rate = |per_hour| StatedRate {
        per_hour,
        status: Status::FromMemory,
    };
    if gamma.iter().any(|g| *g <= 0.0) {
        return Ok(ListeriaForecast {
            rate: rate(0.0),
            psi: None,
            damping: 0.0,
        });
    }
    let phi = gamma.map(|g| (1.0 - g.sqrt()).powi(2));
    let open: f64 = phi.iter().map(|p| 1.0 - p).product();
    let psi: f64 = phi.iter().map(|p| p * (1.0 - p) / (2.0 * open)).sum();
    let damping = if psi <= 0.5 {
        1.0
    } else {
        (2.0 * (1.0 - psi)).max(0.0)
    };
    Ok(ListeriaForecast {
        rate: rate(RATE_25C * gamma.iter().product::<f64>() * damping),
        psi: Some(psi),
        damping,
    })
}
