//! Water activity: how much of its water a food holds free for a microbe.
//!
//! Worked from salt and sugar alone. Proteins, polyols and fat are left out, and agreement between
//! two sodium chloride models shows arithmetic, not food: a meter reading decides, never this.

use core::fmt;

use units::Mass;

use crate::ScienceError;
use crate::brine::Strength;
use crate::error::within;
use crate::psychrometrics::RelativeHumidity;

/// Molar mass of water, kg/mol. [ATOMIC](sources::list::ATOMIC), from memory.
const WATER_KG_PER_MOL: f64 = 0.018_015_3;
/// Molar mass of sodium chloride, g/mol. [ATOMIC](sources::list::ATOMIC), from memory.
pub const SALT_G_PER_MOL: f64 = 58.443;
/// Largest molality the sodium chloride model holds for, mol/kg water: 25.96 % salt.
pub const MOST_SALT_MOLAL: f64 = 6.0;

/// Parameters of [PITZER_NACL](sources::list::PITZER_NACL), all from memory, for 25 °C:
/// the Debye–Hückel slope and the two virial terms, (kg/mol)^½, kg/mol, kg/mol and (kg/mol)².
const A_PHI: f64 = 0.3915;
const BETA_0: f64 = 0.0765;
const BETA_1: f64 = 0.2664;
const C_PHI: f64 = 0.001_27;
const PITZER_B: f64 = 1.2;
const PITZER_ALPHA: f64 = 2.0;

/// A water activity, 0 to 1; also the relative humidity of air in balance with the food.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct WaterActivity(f64);

impl WaterActivity {
    /// Pure water.
    pub const WATER: Self = Self(1.0);

    /// A water activity.
    ///
    /// # Valid range
    /// 0 to 1.
    /// # Errors
    /// Outside it; a percent.
    pub fn new(aw: f64) -> Result<Self, ScienceError> {
        within(
            "water activity",
            "",
            aw,
            0.0,
            1.0,
            "a relative humidity of 75 % is 0.75; check the decimal point",
        )
        .map(Self)
    }

    /// Of air: a food in balance with it has the same.
    #[must_use]
    pub fn of_air(humidity: RelativeHumidity) -> Self {
        Self(humidity.pct() / 100.0)
    }

    /// The number.
    #[must_use]
    pub fn aw(self) -> f64 {
        self.0
    }
}

/// Three decimals: "a_w 0.965".
impl fmt::Display for WaterActivity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a_w {:.3}", self.0)
    }
}

/// Moles of salt in each kilogram of the water of a brine.
#[must_use]
pub fn salt_molality(brine: Strength) -> f64 {
    brine.g_per_kg_water() / SALT_G_PER_MOL
}

/// Osmotic coefficient of sodium chloride at 25 °C.
fn osmotic(m: f64) -> f64 {
    let s = m.sqrt();
    1.0 - A_PHI * s / (1.0 + PITZER_B * s)
        + m * (BETA_0 + BETA_1 * (-PITZER_ALPHA * s).exp())
        + m * m * C_PHI
}

/// Water activity of salt water at 25 °C; a water-phase salt is such a strength.
///
/// # Method
/// Pitzer: `ln a_w = −2 m φ M_w`, with
/// `φ = 1 − A √m ÷ (1 + 1.2 √m) + m (β0 + β1 e^(−2√m)) + m² C`.
/// # Valid range
/// 25 °C, 0 to 6 mol/kg (25.96 %). Between 0 and 25 °C it moves by less than 0.005 (PHREEQC).
/// # Source
/// [PITZER_NACL](sources::list::PITZER_NACL), from memory; tables of [PHREEQC](sources::list::PHREEQC).
/// # Errors
/// Stronger than 6 mol/kg.
/// # Example
/// ```
/// let wps = science::brine::Strength::percent(3.5)?;
/// assert_eq!(science::water_activity::salt(wps)?.to_string(), "a_w 0.980");
/// # Ok::<(), science::ScienceError>(())
/// ```
pub fn salt(brine: Strength) -> Result<WaterActivity, ScienceError> {
    let m = within(
        "salt for a water activity",
        "mol/kg water",
        salt_molality(brine),
        0.0,
        MOST_SALT_MOLAL,
        "measure the water activity: the formula ends at 25.96 % salt",
    )?;
    Ok(salt_at(m))
}

fn salt_at(m: f64) -> WaterActivity {
    WaterActivity((-2.0 * m * osmotic(m) * WATER_KG_PER_MOL).exp())
}

/// The brine, or the water-phase salt, that has this water activity at 25 °C.
///
/// # Method
/// Bisection of [`salt`], which falls all the way.
/// # Errors
/// Below 0.7593, which is 6 mol/kg.
pub fn salt_for(wanted: WaterActivity) -> Result<Strength, ScienceError> {
    let least = salt_at(MOST_SALT_MOLAL).0;
    within(
        "water activity from salt",
        "",
        wanted.0,
        least,
        1.0,
        "salt alone does not reach lower: dry it, or add sugar",
    )?;
    let (mut weak, mut strong) = (0.0, MOST_SALT_MOLAL);
    for _ in 0..60 {
        let middle = 0.5 * (weak + strong);
        if salt_at(middle).0 > wanted.0 {
            weak = middle;
        } else {
            strong = middle;
        }
    }
    Strength::from_g_per_kg_water(strong * SALT_G_PER_MOL)
}

/// A solute without charge whose water activity the Norrish equation gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Solute {
    /// Table sugar.
    Sucrose,
    /// Dextrose.
    Glucose,
    /// Fruit sugar; half of honey and invert sugar.
    Fructose,
    /// Milk sugar.
    Lactose,
    /// Glycerol.
    Glycerol,
    /// Citric acid, without its crystal water.
    CitricAcid,
}

impl Solute {
    /// Molar mass, g/mol; [ATOMIC](sources::list::ATOMIC), from memory.
    fn g_per_mol(self) -> f64 {
        match self {
            Self::Sucrose | Self::Lactose => 342.297,
            Self::Glucose | Self::Fructose => 180.156,
            Self::Glycerol => 92.094,
            Self::CitricAcid => 192.124,
        }
    }

    /// Norrish constant; [NORRISH](sources::list::NORRISH), from memory. For fructose 2.15 is met as well.
    fn k(self) -> f64 {
        match self {
            Self::Sucrose => 6.47,
            Self::Glucose | Self::Fructose => 2.25,
            Self::Lactose => 10.2,
            Self::Glycerol => 1.16,
            Self::CitricAcid => 6.2,
        }
    }

    /// Largest share of solute and water the constant is offered for, %; house value: a saturated or
    /// nearly saturated solution at room temperature.
    fn most_pct(self) -> f64 {
        match self {
            Self::Sucrose => 67.5,
            Self::Glucose => 52.0,
            Self::Fructose => 80.0,
            Self::Lactose => 18.0,
            Self::Glycerol => 80.0,
            Self::CitricAcid => 62.0,
        }
    }
}

/// Water activity of one sugar, glycerol or citric acid in water.
///
/// # Method
/// Norrish: `a_w = X_w exp(−K X_s²)`, mole fractions.
/// # Valid range
/// About 25 °C, up to a saturated solution at room temperature.
/// # Source
/// [NORRISH](sources::list::NORRISH), from memory.
/// # Errors
/// No water; more than dissolves.
pub fn sugar(solute: Solute, weight: Mass, water: Mass) -> Result<WaterActivity, ScienceError> {
    if water <= Mass::ZERO {
        return Err(ScienceError::None { what: "water" });
    }
    within(
        "solute of solute and water",
        "%",
        weight.ratio_to(weight + water)? * 100.0,
        0.0,
        solute.most_pct(),
        "the rest would lie undissolved: count only what dissolves",
    )?;
    let n = weight.g() / solute.g_per_mol();
    let n_water = water.g() / (WATER_KG_PER_MOL * 1000.0);
    let x = n / (n + n_water);
    Ok(WaterActivity((1.0 - x) * (-solute.k() * x * x).exp()))
}

/// Water activity of several solutes together, each worked out alone in all the water.
///
/// # Method
/// Ross: the product.
/// # Valid range
/// The error grows below 0.85, where this refuses.
/// # Source
/// [ROSS_1975](sources::list::ROSS_1975), from memory.
/// # Errors
/// A product below 0.85.
/// # Example
/// ```
/// use science::{brine::Strength, water_activity::{Solute, ross, salt, sugar}};
/// use units::Mass;
/// let g = Mass::grams;
/// // 30 g salt and 20 g sugar in 1 kg of cure and water.
/// let both = ross(&[
///     salt(Strength::of(g(30.0)?, g(950.0)?)?)?,
///     sugar(Solute::Sucrose, g(20.0)?, g(950.0)?)?,
/// ])?;
/// assert_eq!(format!("{:.4}", both.aw()), "0.9811");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn ross(alone: &[WaterActivity]) -> Result<WaterActivity, ScienceError> {
    let product = alone.iter().map(|a| a.0).product();
    within(
        "water activity of a mixture",
        "",
        product,
        0.85,
        1.0,
        "measure it: below 0.85 the product rule is too rough",
    )
    .map(WaterActivity)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Half of one unit in the last printed decimal for figures worked from the same formula.
    const PRINTED_5: f64 = 1e-5;
    /// The tables of others differ from the formula by up to this much.
    const OTHER_TABLES: f64 = 5e-4;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    fn wps(pct: f64) -> f64 {
        salt(Strength::percent(pct).unwrap()).unwrap().aw()
    }

    /// (molality, the formula worked by hand, PHREEQC 3.8.6 with pitzer.dat).
    const MOLAL: [(f64, f64, f64); 8] = [
        (0.1, 0.996_65, 0.996_65),
        (0.5, 0.983_54, 0.983_53),
        (1.0, 0.966_84, 0.966_83),
        (2.0, 0.931_53, 0.931_54),
        (3.0, 0.893_12, 0.893_18),
        (4.0, 0.851_48, 0.851_54),
        (5.0, 0.806_78, 0.806_77),
        (6.0, 0.759_39, 0.759_21),
    ];

    #[test]
    fn salt_agrees_with_the_hand_and_with_phreeqc() {
        for (m, hand, phreeqc) in MOLAL {
            let aw = salt_at(m).aw();
            assert!((aw - hand).abs() < PRINTED_5, "{m}: {aw}");
            assert!((aw - phreeqc).abs() < OTHER_TABLES, "{m}: {aw}");
        }
    }

    /// Robinson and Stokes, osmotic coefficients and water activities at 25 °C, from memory.
    #[test]
    fn salt_agrees_with_robinson_and_stokes() {
        for (m, phi) in [
            (0.1, 0.9324),
            (0.5, 0.9209),
            (1.0, 0.9355),
            (2.0, 0.9833),
            (3.0, 1.0453),
            (4.0, 1.1158),
            (5.0, 1.1916),
            (6.0, 1.2706),
        ] {
            let table = (-2.0 * m * phi * WATER_KG_PER_MOL).exp();
            assert!((salt_at(m).aw() - table).abs() < OTHER_TABLES, "{m}");
        }
        for (m, aw) in [(1.0, 0.9669), (2.0, 0.9316), (6.0, 0.7598)] {
            assert!((salt_at(m).aw() - aw).abs() < OTHER_TABLES, "{m}");
        }
    }

    #[test]
    fn water_phase_salt_has_its_water_activity() {
        for (pct, aw) in [
            (2.0, 0.988_49),
            (2.5, 0.985_56),
            (3.0, 0.982_58),
            (3.5, 0.979_56),
            (4.0, 0.976_49),
            (5.0, 0.970_21),
            (6.0, 0.963_70),
            (8.0, 0.949_97),
            (10.0, 0.935_15),
        ] {
            assert!((wps(pct) - aw).abs() < PRINTED_5, "{pct}: {}", wps(pct));
            // Resnik and Chirife 1988, from memory; they agree within 0.0006.
            let other = 1.0 - 0.005_247_1 * pct - 0.000_122_06 * pct * pct;
            assert!((wps(pct) - other).abs() < 6e-4, "{pct}");
        }
    }

    /// The table of PHREEQC for 25 °C, four decimals, is met over the whole range of the formula.
    #[test]
    fn salt_agrees_with_phreeqc_percent_by_percent() {
        for (pct, aw) in [
            (1.0, 0.9943),
            (7.0, 0.9570),
            (12.0, 0.9191),
            (15.0, 0.8924),
            (18.0, 0.8620),
            (20.0, 0.8394),
            (23.0, 0.8016),
            (25.0, 0.7736),
        ] {
            assert!((wps(pct) - aw).abs() < OTHER_TABLES, "{pct}: {}", wps(pct));
        }
        assert!(salt(Strength::percent(26.0).unwrap()).is_err());
    }

    /// The two limits for non-proteolytic C. botulinum in smoked fish are alternatives, not the same.
    #[test]
    fn the_salt_limit_and_the_activity_limit_are_not_one() {
        assert!(wps(3.5) > 0.97);
        let enough = salt_for(WaterActivity::new(0.97).unwrap()).unwrap().pct();
        assert!((enough - 5.03).abs() < 0.01, "{enough}");
    }

    #[test]
    fn sucrose_follows_norrish() {
        for (pct, aw) in [
            (20.0, 0.985_94),
            (40.0, 0.958_95),
            (50.0, 0.934_76),
            (60.0, 0.895_28),
            (65.0, 0.865_41),
            (67.0, 0.850_59),
        ] {
            let found = sugar(Solute::Sucrose, g(pct), g(100.0 - pct)).unwrap().aw();
            assert!((found - aw).abs() < PRINTED_5, "{pct}: {found}");
        }
        assert!(sugar(Solute::Sucrose, g(70.0), g(30.0)).is_err());
        assert!(sugar(Solute::Sucrose, g(70.0), Mass::ZERO).is_err());
    }

    #[test]
    fn salt_and_sugar_together_follow_ross() {
        for (salt_g, sugar_g, aw) in [
            (30.0, 20.0, 0.981_12),
            (30.0, 100.0, 0.974_45),
            (60.0, 60.0, 0.957_63),
        ] {
            let water = 1000.0 - salt_g - sugar_g;
            let found = ross(&[
                salt(Strength::of(g(salt_g), g(water)).unwrap()).unwrap(),
                sugar(Solute::Sucrose, g(sugar_g), g(water)).unwrap(),
            ])
            .unwrap()
            .aw();
            assert!(
                (found - aw).abs() < PRINTED_5,
                "{salt_g}/{sugar_g}: {found}"
            );
        }
        let dry = WaterActivity::new(0.9).unwrap();
        assert!(ross(&[dry, dry]).is_err());
    }

    #[test]
    fn a_percent_is_not_a_water_activity() {
        let error = WaterActivity::new(97.0).unwrap_err().to_string();
        assert!(error.contains("found 97"), "{error}");
        assert!(WaterActivity::of_air(RelativeHumidity::percent(75.0).unwrap()).aw() == 0.75);
    }

    proptest! {
        #[test]
        fn more_salt_never_frees_water(pct in 0.0..25.0_f64, more in 0.0..0.9_f64) {
            prop_assert!(wps(pct + more) <= wps(pct));
        }

        #[test]
        fn the_salt_for_an_activity_has_it(aw in 0.76..1.0_f64) {
            let brine = salt_for(WaterActivity::new(aw).unwrap()).unwrap();
            prop_assert!((salt(brine).unwrap().aw() - aw).abs() < 1e-12);
        }

        #[test]
        fn more_sugar_never_frees_water(pct in 0.0..66.0_f64, more in 0.0..1.0_f64) {
            let at = |p: f64| sugar(Solute::Sucrose, g(p), g(100.0 - p)).unwrap().aw();
            prop_assert!(at(pct + more) <= at(pct));
        }
    }
}
