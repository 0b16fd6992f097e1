//! What moves and how fast: diffusivities with their spread, and the water that answers the salt.

use units::Temperature;

use crate::ScienceError;
use crate::brine::Strength;
use crate::diffusion::Diffusivity;
use crate::error::within;

/// Gas constant, J/(mol K), exact since 2019 as the product of two defined constants.
const GAS_J_PER_MOL_K: f64 = 8.314_462_618;

/// Coldest flesh answered for, °C: below it water freezes out.
const COLDEST_C: f64 = -2.0;
/// Warmest flesh answered for, °C: above it proteins set and the piece is another material.
const WARMEST_C: f64 = 30.0;

/// How a substance's diffusivity goes with the temperature, and how little is known about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiffusivityLaw {
    at_reference: Diffusivity,
    reference: Temperature,
    activation_kj_per_mol: f64,
    spread: f64,
}

impl DiffusivityLaw {
    /// A diffusivity at a reference temperature.
    ///
    /// # Valid range
    /// Activation energy 0 to 120 kJ/mol; `spread` 1 to 100, the factor by which the truth may lie above
    /// or below.
    /// # Errors
    /// Outside it.
    pub fn new(
        at_reference: Diffusivity,
        reference: Temperature,
        activation_kj_per_mol: f64,
        spread: f64,
    ) -> Result<Self, ScienceError> {
        flesh_temperature(reference)?;
        Ok(Self {
            at_reference,
            reference,
            activation_kj_per_mol: within(
                "activation energy",
                "kJ/mol",
                activation_kj_per_mol,
                0.0,
                120.0,
                "20 to 30 is usual for small molecules; check the unit",
            )?,
            spread: within(
                "spread of the diffusivity",
                "times",
                spread,
                1.0,
                100.0,
                "1 is known exactly, 3 a decade from least to most",
            )?,
        })
    }

    /// Salt in flesh, to begin with: 2.5e-10 m²/s at 4 °C, 25 kJ/mol, three times more or less.
    ///
    /// # Source
    /// [MEMORY](sources::list::MEMORY): a round guess inside 1e-10 to 4e-10. Fit it to your own log.
    /// # Errors
    /// None in practice: the figures are constants.
    pub fn salt_guess() -> Result<Self, ScienceError> {
        Self::guess(2.5e-10)
    }

    /// Sugar in flesh, to begin with: 0.8e-10 m²/s at 4 °C, 25 kJ/mol, three times more or less.
    ///
    /// # Source
    /// [MEMORY](sources::list::MEMORY): a third of the salt's, as in plain water. Fit it to your own log.
    /// # Errors
    /// None in practice: the figures are constants.
    pub fn sugar_guess() -> Result<Self, ScienceError> {
        Self::guess(0.8e-10)
    }

    fn guess(m2_s: f64) -> Result<Self, ScienceError> {
        Self::new(
            Diffusivity::m2_per_s(m2_s)?,
            Temperature::celsius(4.0)?,
            25.0,
            3.0,
        )
    }

    /// The diffusivity at a temperature.
    ///
    /// # Method
    /// Arrhenius: `D × exp(−Ea ÷ R × (1 ÷ T − 1 ÷ T_ref))`.
    /// # Valid range
    /// −2 to 30 °C: flesh neither frozen nor cooked.
    /// # Errors
    /// Outside it.
    pub fn at(&self, temperature: Temperature) -> Result<Diffusivity, ScienceError> {
        flesh_temperature(temperature)?;
        let per_kelvin = 1.0 / temperature.kelvin() - 1.0 / self.reference.kelvin();
        let factor = (-self.activation_kj_per_mol * 1000.0 / GAS_J_PER_MOL_K * per_kelvin).exp();
        Diffusivity::m2_per_s(self.at_reference.value_m2_s() * factor)
    }

    /// The slowest this may be, as a law of its own.
    ///
    /// # Errors
    /// A diffusivity below what [`Diffusivity`] takes.
    pub fn slowest(&self) -> Result<Self, ScienceError> {
        self.times(1.0 / self.spread)
    }

    /// The fastest this may be, as a law of its own.
    ///
    /// # Errors
    /// A diffusivity above what [`Diffusivity`] takes.
    pub fn fastest(&self) -> Result<Self, ScienceError> {
        self.times(self.spread)
    }

    fn times(&self, factor: f64) -> Result<Self, ScienceError> {
        Ok(Self {
            at_reference: Diffusivity::m2_per_s(self.at_reference.value_m2_s() * factor)?,
            spread: 1.0,
            ..*self
        })
    }

    /// The factor by which the truth may lie above or below.
    #[must_use]
    pub fn spread(&self) -> f64 {
        self.spread
    }
}

fn flesh_temperature(temperature: Temperature) -> Result<f64, ScienceError> {
    within(
        "temperature of the flesh",
        "°C",
        temperature.c(),
        COLDEST_C,
        WARMEST_C,
        "frozen or cooked flesh is another material",
    )
}

/// Water that leaves the flesh for each weight of salt that enters, `r` of the two-flux model.
///
/// Above zero the piece dries as it salts, below zero it swells. It has to be fitted to weighings: no
/// value was found to rely on, so there is no default.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterOut {
    least: f64,
    likely: f64,
    most: f64,
}

impl WaterOut {
    /// Water stays where it is.
    pub const STILL: Self = Self {
        least: 0.0,
        likely: 0.0,
        most: 0.0,
    };

    /// Kilograms of water out per kilogram of salt in: least, likely, most.
    ///
    /// # Valid range
    /// −10 to 10, in order.
    /// # Errors
    /// Outside it, or out of order.
    pub fn per_salt(least: f64, likely: f64, most: f64) -> Result<Self, ScienceError> {
        let (what, unit) = ("water out for each salt in", "kg/kg");
        let likely = within(what, unit, likely, -10.0, 10.0, "weigh before and after")?;
        let order = "give least, likely and most in that order";
        Ok(Self {
            least: within(what, unit, least, -10.0, likely, order)?,
            likely,
            most: within(what, unit, most, likely, 10.0, order)?,
        })
    }

    /// The likely ratio, kg/kg.
    #[must_use]
    pub fn likely(self) -> f64 {
        self.likely
    }

    /// The least ratio as the likely one, with no spread.
    #[must_use]
    pub fn at_least(self) -> Self {
        Self {
            likely: self.least,
            most: self.least,
            ..self
        }
    }

    /// The largest ratio as the likely one, with no spread.
    #[must_use]
    pub fn at_most(self) -> Self {
        Self {
            likely: self.most,
            least: self.most,
            ..self
        }
    }
}

/// What a brine does to the weight of the flesh in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BrineEffect {
    /// The flesh takes up water: `r` below zero.
    Swells,
    /// Either way: weigh.
    Unsettled,
    /// The flesh loses water: `r` above zero.
    Dries,
}

/// The direction in which a brine of this strength moves the weight of the flesh.
///
/// # Method
/// Below 6 % it swells, above 18 % it dries; the source puts the turn at about 15 to 18 %.
/// # Source
/// [NGUYEN_2010](sources::list::NGUYEN_2010), abstract read, cod: a direction, no amount.
#[must_use]
pub fn brine_effect(brine: Strength) -> BrineEffect {
    if brine.pct() < 6.0 {
        BrineEffect::Swells
    } else if brine.pct() > 18.0 {
        BrineEffect::Dries
    } else {
        BrineEffect::Unsettled
    }
}

/// The diffusivities of a calculation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Params {
    /// Of salt.
    pub salt: DiffusivityLaw,
    /// Of sugar.
    pub sugar: DiffusivityLaw,
}

impl Params {
    /// The two guesses to begin with.
    ///
    /// # Errors
    /// None in practice: the figures are constants.
    pub fn guess() -> Result<Self, ScienceError> {
        Ok(Self {
            salt: DiffusivityLaw::salt_guess()?,
            sugar: DiffusivityLaw::sugar_guess()?,
        })
    }

    /// Both at their slowest.
    ///
    /// # Errors
    /// As [`DiffusivityLaw::slowest`].
    pub fn slowest(&self) -> Result<Self, ScienceError> {
        Ok(Self {
            salt: self.salt.slowest()?,
            sugar: self.sugar.slowest()?,
        })
    }

    /// Both at their fastest.
    ///
    /// # Errors
    /// As [`DiffusivityLaw::fastest`].
    pub fn fastest(&self) -> Result<Self, ScienceError> {
        Ok(Self {
            salt: self.salt.fastest()?,
            sugar: self.sugar.fastest()?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::PUBLISHED;
    use super::*;
    use sources::{Status, list};

    fn c(c: f64) -> Temperature {
        Temperature::celsius(c).unwrap()
    }

    /// Water in pork, both ends and the activation energy from one abstract. The ends imply 32.6 kJ/mol
    /// against the 32.24 printed, 1.5 % of the ratio over ten degrees.
    #[test]
    fn warmth_speeds_up_as_published() {
        let found = PUBLISHED[3];
        let law = DiffusivityLaw::new(
            Diffusivity::m2_per_s(found.least_m2_s).unwrap(),
            c(2.0),
            found.activation_kj_per_mol.unwrap(),
            1.0,
        )
        .unwrap();
        let warm = law.at(c(12.0)).unwrap().value_m2_s();
        assert!((warm / found.most_m2_s - 1.0).abs() < 0.015, "{warm}");
        assert!(law.at(c(31.0)).is_err() && law.at(c(-3.0)).is_err());
    }

    #[test]
    fn the_guess_is_a_guess_and_inside_its_band() {
        let law = DiffusivityLaw::salt_guess().unwrap();
        assert_eq!(law.at(c(4.0)).unwrap().value_m2_s(), 2.5e-10);
        assert!(law.spread() >= 3.0);
        let (slow, fast) = (law.slowest().unwrap(), law.fastest().unwrap());
        assert!(slow.at(c(4.0)).unwrap() < law.at(c(4.0)).unwrap());
        assert!(fast.at(c(4.0)).unwrap() > law.at(c(4.0)).unwrap());
        assert!(!list::MEMORY.status.may_show());
        assert!(PUBLISHED.iter().all(|p| p.source.status == Status::Read));
    }

    #[test]
    fn weak_brine_swells_and_strong_brine_dries() {
        let strong = |pct| brine_effect(Strength::percent(pct).unwrap());
        assert_eq!(strong(5.0), BrineEffect::Swells);
        assert_eq!(strong(15.0), BrineEffect::Unsettled);
        assert_eq!(strong(24.0), BrineEffect::Dries);
        assert!(WaterOut::per_salt(2.0, 1.0, 3.0).is_err());
        assert_eq!(
            WaterOut::per_salt(1.0, 2.0, 3.0)
                .unwrap()
                .at_most()
                .likely(),
            3.0
        );
    }
}
