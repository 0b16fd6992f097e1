//! Dressings and mayonnaise: how full of oil they are, and how sour and salty their water is.

use core::f64::consts::{PI, SQRT_2};

use units::{Base, Density, Fraction, Mass, Volume};

use crate::ScienceError;
use crate::brine::Strength;
use crate::error::within;
use crate::water_activity::{self, Solute, WaterActivity};

/// Share of space that equal spheres poured at random fill; geometry, remembered as about 0.64.
pub const RANDOM_PACKING: f64 = 0.64;

/// Share of space that equal spheres fill at the closest: `π ÷ (3 √2)`, 0.7405. Geometry, computed.
pub const CLOSEST_PACKING: f64 = PI / (3.0 * SQRT_2);

/// Share of an emulsion's volume that is oil, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct OilVolume(f64);

/// What the share of oil says about a dressing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Body {
    /// Droplets have room: it pours.
    Loose,
    /// Droplets touch, above [`RANDOM_PACKING`].
    Crowded,
    /// Droplets are pressed flat, above [`CLOSEST_PACKING`]: stiff, with a risk of breaking. No failure:
    /// mayonnaise lives here.
    StiffAtRisk,
}

impl OilVolume {
    /// From volumes of oil and of everything watery.
    ///
    /// # Errors
    /// Nothing of either.
    pub fn of_volumes(oil: Volume, watery: Volume) -> Result<Self, ScienceError> {
        let both = oil + watery;
        if both <= Volume::ZERO {
            return Err(ScienceError::None {
                what: "oil and watery part",
            });
        }
        Ok(Self(oil.ml() / both.ml()))
    }

    /// From weights and densities.
    ///
    /// # Method
    /// `(m_o ÷ ρ_o) ÷ (m_o ÷ ρ_o + m_w ÷ ρ_w)`.
    /// # Valid range
    /// Yolk, mustard and honey count with the watery part; their own oil is left out.
    /// # Source
    /// [MASS_BALANCE](sources::list::MASS_BALANCE), computed.
    /// # Errors
    /// Nothing of either.
    /// # Example
    /// ```
    /// use science::emulsion::{Body, OilVolume};
    /// use units::{Density, Mass};
    /// let dressing = OilVolume::of_weights(
    ///     Mass::grams(200.0)?, Density::g_per_millilitre(0.916)?,
    ///     Mass::grams(80.0)?, Density::g_per_millilitre(1.01)?)?;
    /// assert_eq!(format!("{:.4}", dressing.share()), "0.7338");
    /// assert_eq!(dressing.body(), Body::Crowded);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_weights(
        oil: Mass,
        oil_density: Density,
        watery: Mass,
        watery_density: Density,
    ) -> Result<Self, ScienceError> {
        Self::of_volumes(oil_density.volume_of(oil), watery_density.volume_of(watery))
    }

    /// As a share, 0 to 1.
    #[must_use]
    pub fn share(self) -> f64 {
        self.0
    }

    /// What it says about the dressing: a flag, not a verdict.
    ///
    /// # Source
    /// Packing of equal spheres, geometry; real droplets differ in size and give way, so both lines are soft.
    #[must_use]
    pub fn body(self) -> Body {
        if self.0 > CLOSEST_PACKING {
            Body::StiffAtRisk
        } else if self.0 > RANDOM_PACKING {
            Body::Crowded
        } else {
            Body::Loose
        }
    }
}

/// Water, vinegar or liquor to whisk in so that the share of oil comes down to `wanted`.
///
/// # Method
/// `V_w = V_o (1 ÷ φ − 1) − V_w0`.
/// # Errors
/// A wanted share outside 0.05 to 0.95; one that is reached already.
pub fn watery_to_add(
    oil: Volume,
    watery: Volume,
    wanted_share: f64,
) -> Result<Volume, ScienceError> {
    let wanted = wanted_oil(wanted_share)?;
    Ok(oil.scaled(1.0 / wanted - 1.0)?.checked_sub(watery)?)
}

/// Oil to whisk in so that its share comes up to `wanted`.
///
/// # Method
/// `V_o = V_w φ ÷ (1 − φ) − V_o0`.
/// # Errors
/// As [`watery_to_add`].
pub fn oil_to_add(oil: Volume, watery: Volume, wanted_share: f64) -> Result<Volume, ScienceError> {
    let wanted = wanted_oil(wanted_share)?;
    Ok(watery.scaled(wanted / (1.0 - wanted))?.checked_sub(oil)?)
}

fn wanted_oil(share: f64) -> Result<f64, ScienceError> {
    within(
        "share of oil wanted",
        "of the volume",
        share,
        0.05,
        0.95,
        "give it as a share: 70 % is 0.70",
    )
}

/// A range the trade works in; common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Habit {
    /// What of.
    pub what: &'static str,
    /// Least, percent by weight of the whole.
    pub least_pct: f64,
    /// Most, percent by weight of the whole.
    pub most_pct: f64,
}

/// Where an amount lies against a habit of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AgainstHabit {
    /// Less than usual.
    Below,
    /// As usual.
    Usual,
    /// More than usual.
    Above,
}

/// Oil of a mayonnaise. [PRACTICE](sources::list::PRACTICE), no source.
pub const MAYONNAISE_OIL: Habit = Habit {
    what: "oil in mayonnaise",
    least_pct: 65.0,
    most_pct: 84.0,
};
/// Yolk of a mayonnaise. [PRACTICE](sources::list::PRACTICE), no source.
pub const MAYONNAISE_YOLK: Habit = Habit {
    what: "yolk in mayonnaise",
    least_pct: 5.0,
    most_pct: 10.0,
};
/// Mustard that helps hold an emulsion. [PRACTICE](sources::list::PRACTICE), no source.
pub const MUSTARD: Habit = Habit {
    what: "mustard in an emulsion",
    least_pct: 1.0,
    most_pct: 5.0,
};
/// Lecithin. [PRACTICE](sources::list::PRACTICE), no source.
pub const LECITHIN: Habit = Habit {
    what: "lecithin in an emulsion",
    least_pct: 0.2,
    most_pct: 1.0,
};
/// Parts of oil to one of vinegar in a plain vinaigrette, by volume.
/// [PRACTICE](sources::list::PRACTICE), no source.
pub const VINAIGRETTE_OIL_PARTS: f64 = 3.0;

impl Habit {
    /// Where `part` of `whole` lies.
    ///
    /// # Errors
    /// Nothing to be a part of; a part heavier than the whole.
    pub fn of(self, part: Mass, whole: Mass) -> Result<AgainstHabit, ScienceError> {
        if part > whole {
            return Err(ScienceError::PartAboveWhole {
                part: self.what,
                part_g: part.g(),
                whole: "finished emulsion",
                whole_g: whole.g(),
            });
        }
        let pct = part.ratio_to(whole)? * 100.0;
        Ok(if pct < self.least_pct {
            AgainstHabit::Below
        } else if pct > self.most_pct {
            AgainstHabit::Above
        } else {
            AgainstHabit::Usual
        })
    }
}

/// Density of an oil at 20 °C, least and most, g/mL; all from memory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DensityRange {
    /// What of.
    pub what: &'static str,
    /// Least, g/mL.
    pub least_g_per_ml: f64,
    /// Most, g/mL.
    pub most_g_per_ml: f64,
}

/// Densities at 20 °C. [MEMORY](sources::list::MEMORY), from memory: weigh your own.
pub const DENSITIES: [DensityRange; 7] = {
    const fn of(what: &'static str, least_g_per_ml: f64, most_g_per_ml: f64) -> DensityRange {
        DensityRange {
            what,
            least_g_per_ml,
            most_g_per_ml,
        }
    }
    [
        of("olive oil", 0.911, 0.916),
        of("rapeseed oil", 0.914, 0.920),
        of("sunflower oil", 0.918, 0.923),
        of("soy oil", 0.919, 0.925),
        of("grapeseed oil", 0.920, 0.926),
        of("vinegar 5 %", 1.006, 1.006),
        of("honey", 1.40, 1.43),
    ]
};

/// The watery part of a dressing, by what is in it. Acid and salt sit here, not in the oil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WateryPart {
    /// Water of everything.
    pub water: Mass,
    /// Acetic acid.
    pub acetic: Mass,
    /// Salt.
    pub salt: Mass,
    /// Sugar, as sucrose.
    pub sugar: Mass,
}

impl WateryPart {
    /// Acetic acid of acid and water, which is what a microbe meets.
    ///
    /// # Errors
    /// No water.
    pub fn acid(&self) -> Result<Fraction, ScienceError> {
        self.watered()?;
        Ok(Fraction::from_ratio(
            self.acetic.ratio_to(self.acetic + self.water)?,
            Base::new("water phase")?,
        )?)
    }

    /// Salt of salt and water: the water-phase salt.
    ///
    /// # Errors
    /// No water; above saturation.
    pub fn salt(&self) -> Result<Strength, ScienceError> {
        Strength::of(self.salt, self.water)
    }

    /// Water activity from salt and sugar; acetic acid, yolk and mustard are left out, so the true one is lower.
    ///
    /// # Errors
    /// Outside what [`water_activity::ross`] takes.
    pub fn water_activity(&self) -> Result<WaterActivity, ScienceError> {
        water_activity::ross(&[
            water_activity::salt(self.salt()?)?,
            water_activity::sugar(Solute::Sucrose, self.sugar, self.water)?,
        ])
    }

    fn watered(&self) -> Result<(), ScienceError> {
        if self.water > Mass::ZERO {
            Ok(())
        } else {
            Err(ScienceError::None { what: "water" })
        }
    }
}

/// Weight of a yolk, g, and the least and most oil it carries, mL. [PRACTICE](sources::list::PRACTICE), no source.
const YOLK_G: f64 = 18.0;
const OIL_A_YOLK_ML: (f64, f64) = (180.0, 240.0);

/// Yolk to start a rescue with: into a clean bowl, then the broken emulsion into it by drops.
///
/// # Method
/// One yolk of 18 g for 180 to 240 mL of oil; least and most of it.
/// # Source
/// [PRACTICE](sources::list::PRACTICE), no source.
/// # Errors
/// No oil.
pub fn rescue_yolk(oil: Volume) -> Result<(Mass, Mass), ScienceError> {
    if oil <= Volume::ZERO {
        return Err(ScienceError::None { what: "oil" });
    }
    Ok((
        Mass::grams(oil.ml() / OIL_A_YOLK_ML.1 * YOLK_G)?,
        Mass::grams(oil.ml() / OIL_A_YOLK_ML.0 * YOLK_G)?,
    ))
}

#[cfg(test)]
mod tests;
