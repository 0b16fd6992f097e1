//! What is done to a piece, one phase after another.

use units::{Elapsed, Fraction, Length, Mass, Temperature};

use super::outside::Supply;
use super::substance::WaterOut;
use crate::ScienceError;
use crate::brine::{SATURATED_PCT, Strength};
use crate::brine_properties::sucrose_in_water;
use crate::error::within;

/// What becomes of the juice a dry cure draws.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Juice {
    /// All the cure enters: the faces stay at the cure's own strength until it is gone and are closed from
    /// then on. The juice is forgotten, so uptake is quicker than it will be.
    AllEnters,
    /// The juice stays on the piece, as in a bag: it holds part of the cure and goes on exchanging. Needs
    /// salt, and water leaving the flesh.
    Stays,
}

/// A cover brine of limited volume, well stirred.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverBrine {
    /// Its water, as a share of the green weight.
    pub water: Fraction,
    /// Its salt.
    pub salt: Strength,
    /// Its sugar, g per kg of its water.
    pub sugar_g_per_kg_water: f64,
    /// Ratio in the water of the flesh over ratio in the brine once they are even; 1 when all the water of
    /// the flesh dissolves salt.
    pub partition: f64,
}

/// One thing done to a piece.
#[derive(Debug, Clone, PartialEq)]
pub enum Phase {
    /// Salt and sugar laid on the open faces. What is undissolved at the end is taken off.
    DryCure {
        /// Salt, as a share of the green weight.
        salt: Fraction,
        /// Sugar, as a share of the green weight.
        sugar: Fraction,
        /// What becomes of the juice.
        juice: Juice,
        /// Water that leaves for each salt that enters.
        water_out: WaterOut,
        /// How long.
        time: Elapsed,
        /// How warm the flesh is.
        temperature: Temperature,
    },
    /// So much brine that it does not weaken.
    WideBrine {
        /// Its salt.
        salt: Strength,
        /// Its sugar, g per kg of its water.
        sugar_g_per_kg_water: f64,
        /// Water that leaves for each salt that enters.
        water_out: WaterOut,
        /// How long.
        time: Elapsed,
        /// How warm the flesh is.
        temperature: Temperature,
    },
    /// A brine of limited volume. It is thrown away at the end.
    Brine {
        /// The brine.
        brine: CoverBrine,
        /// Water that leaves for each salt that enters.
        water_out: WaterOut,
        /// How long.
        time: Elapsed,
        /// How warm the flesh is.
        temperature: Temperature,
    },
    /// Nothing in or out: the salt evens out. Water answers it as in the phase before.
    Rest {
        /// How long.
        time: Elapsed,
        /// How warm the flesh is.
        temperature: Temperature,
    },
    /// The water phase of a film under the open faces is replaced by its weight in water.
    Rinse {
        /// How deep.
        film: Length,
    },
    /// Pickle pumped in evenly.
    Pump {
        /// Pickle, as a share of the green weight.
        gain: Fraction,
        /// Its salt.
        salt: Strength,
        /// Its sugar, g per kg of its water.
        sugar_g_per_kg_water: f64,
    },
}

/// What the faces meet over a time, in plain figures.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contact {
    pub(super) salt: Supply,
    pub(super) sugar: Supply,
    /// Water outside that dissolves them, kg per kg of green weight.
    pub(super) bath_kg: f64,
    pub(super) partition: f64,
    /// Nothing for a rest: as before.
    pub(super) water_out: Option<f64>,
    pub(super) temperature: Temperature,
    pub(super) time: Elapsed,
}

/// Grams of sucrose a gram of water holds.
fn sugar_saturated(temperature: Temperature) -> Result<f64, ScienceError> {
    Ok(sucrose_in_water(Mass::kilograms(1.0)?, temperature)?.kg())
}

impl Phase {
    /// The phase in a word.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::DryCure { .. } => "dry cure",
            Self::WideBrine { .. } => "wide brine",
            Self::Brine { .. } => "cover brine",
            Self::Rest { .. } => "rest",
            Self::Rinse { .. } => "rinse",
            Self::Pump { .. } => "pump",
        }
    }

    /// The contact of a phase that takes time; nothing for a rinse or a pump.
    pub(super) fn contact(&self) -> Result<Option<Contact>, ScienceError> {
        let contact = match self {
            Self::DryCure {
                salt,
                sugar,
                juice,
                water_out,
                time,
                temperature,
            } => Contact {
                water_out: Some(water_out.likely()),
                temperature: *temperature,
                time: *time,
                ..laid(salt, sugar, *juice, *water_out, *temperature)?
            },
            Self::WideBrine {
                salt,
                sugar_g_per_kg_water,
                water_out,
                time,
                temperature,
            } => Contact {
                salt: Supply::Held {
                    ratio: per_water(*salt),
                },
                sugar: Supply::Held {
                    ratio: sugar_ratio(*sugar_g_per_kg_water)?,
                },
                bath_kg: 0.0,
                partition: 1.0,
                water_out: Some(water_out.likely()),
                temperature: *temperature,
                time: *time,
            },
            Self::Brine {
                brine,
                water_out,
                time,
                temperature,
            } => {
                let bath_kg = within(
                    "water of the brine",
                    "% of the green weight",
                    brine.water.pct(),
                    1.0,
                    10_000.0,
                    "half to one and a half times the weight is usual",
                )? / 100.0;
                Contact {
                    salt: Supply::Mixed {
                        kg: bath_kg * per_water(brine.salt),
                    },
                    sugar: Supply::Mixed {
                        kg: bath_kg * sugar_ratio(brine.sugar_g_per_kg_water)?,
                    },
                    bath_kg,
                    partition: within(
                        "partition of salt between flesh and brine",
                        "",
                        brine.partition,
                        0.2,
                        2.0,
                        "1 when all the water of the flesh dissolves salt",
                    )?,
                    water_out: Some(water_out.likely()),
                    temperature: *temperature,
                    time: *time,
                }
            }
            Self::Rest { time, temperature } => Contact {
                salt: Supply::Closed,
                sugar: Supply::Closed,
                bath_kg: 0.0,
                partition: 1.0,
                water_out: None,
                temperature: *temperature,
                time: *time,
            },
            Self::Rinse { .. } | Self::Pump { .. } => return Ok(None),
        };
        Ok(Some(contact))
    }
}

pub(super) fn per_water(strength: Strength) -> f64 {
    strength.ratio() / (1.0 - strength.ratio())
}

pub(super) fn sugar_ratio(g_per_kg_water: f64) -> Result<f64, ScienceError> {
    Ok(within(
        "sugar of the brine",
        "g per kg of water",
        g_per_kg_water,
        0.0,
        1800.0,
        "cold water holds about 1800 g",
    )? / 1000.0)
}

/// The contact of a dry cure, the salt as strong as at 60 °F, which is within 1 % from 0 to 30 °C; with
/// sugar, 0 °C or warmer. Salt and sugar dissolve side by side as they lie until one of them is as
/// strong as it gets alone. That they lower each other's solubility is left out.
fn laid(
    salt: &Fraction,
    sugar: &Fraction,
    juice: Juice,
    water_out: WaterOut,
    temperature: Temperature,
) -> Result<Contact, ScienceError> {
    let share = |what, share: &Fraction| {
        within(
            what,
            "% of the green weight",
            share.pct(),
            0.0,
            200.0,
            "2 to 3 % is usual for an equilibrium cure, 50 % a box",
        )
        .map(|pct| pct / 100.0)
    };
    let salt_kg = share("salt of the cure", salt)?;
    let sugar_kg = share("sugar of the cure", sugar)?;
    if juice == Juice::Stays && !(salt_kg > 0.0 && water_out.likely() > 0.0) {
        return Err(ScienceError::None {
            what: "juice: salt in the cure and water leaving the flesh",
        });
    }
    let most_salt = SATURATED_PCT / (100.0 - SATURATED_PCT);
    let most_sugar = if sugar_kg > 0.0 {
        sugar_saturated(temperature)?
    } else {
        0.0
    };
    let limited = |most: f64, kg: f64, other_most: f64, other_kg: f64| {
        if other_kg > 0.0 {
            most.min(other_most * kg / other_kg)
        } else {
            most
        }
    };
    let supply = |kg: f64, ratio: f64| match juice {
        _ if kg <= 0.0 => Supply::Closed,
        Juice::AllEnters => Supply::Laid { kg, ratio },
        Juice::Stays => Supply::InJuice { kg, ratio },
    };
    Ok(Contact {
        salt: supply(salt_kg, limited(most_salt, salt_kg, most_sugar, sugar_kg)),
        sugar: supply(sugar_kg, limited(most_sugar, sugar_kg, most_salt, salt_kg)),
        bath_kg: 0.0,
        partition: 1.0,
        water_out: None,
        temperature,
        time: Elapsed::ZERO,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Base;

    /// The same remembered formula worked by hand at 20 °C: 66.74 %.
    #[test]
    fn sugar_saturates_at_two_thirds() {
        let ratio = sugar_saturated(Temperature::celsius(20.0).unwrap()).unwrap();
        assert!((ratio / (1.0 + ratio) - 0.6674).abs() < 5e-5);
    }

    #[test]
    fn a_sugar_rich_cure_is_weaker_in_salt() {
        let green = |pct| Fraction::percent(pct, Base::new("green weight").unwrap()).unwrap();
        let cold = Temperature::celsius(4.0).unwrap();
        let salt_ratio = |salt, sugar| match laid(
            &green(salt),
            &green(sugar),
            Juice::AllEnters,
            WaterOut::STILL,
            cold,
        )
        .unwrap()
        .salt
        {
            Supply::Laid { ratio, .. } => ratio,
            other => panic!("{other:?}"),
        };
        let pure = salt_ratio(3.0, 0.0);
        assert!((pure - 0.3586).abs() < 1e-4, "{pure}");
        assert_eq!(salt_ratio(3.0, 6.0), pure);
        assert!(salt_ratio(1.0, 10.0) < 0.19);
        assert!(
            laid(
                &green(3.0),
                &green(0.0),
                Juice::Stays,
                WaterOut::STILL,
                cold
            )
            .is_err()
        );
    }
}
