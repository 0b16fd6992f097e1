//! Vegetable in an acid liquor: the pH a pickle may come to, as a bracket.

use core::fmt;

use units::{Mass, Temperature};

use super::equilibrium::{charge, root_ph};
use super::{Acid, CalculatedPh, Molality, Ph};
use crate::ScienceError;
use crate::error::within;

/// How much acid a vegetable swallows for each unit of pH, as a spread, mol a kilogram and pH.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Buffer {
    least: f64,
    most: f64,
}

/// What is assumed of a vegetable of which nothing is known.
///
/// # Source
/// [HOUSE](sources::list::HOUSE): assumed. No published value was read for any vegetable or flesh.
pub const ASSUMED_BUFFER: Buffer = Buffer {
    least: 0.01,
    most: 0.04,
};

impl Buffer {
    /// A spread of buffer capacities, mol/(kg pH).
    ///
    /// # Valid range
    /// 0 to 0.2, least to most.
    /// # Errors
    /// Outside it; the wrong way round.
    pub fn mol_per_kg_ph(least: f64, most: f64) -> Result<Self, ScienceError> {
        let do_now = "titrate the vegetable, or take the assumed spread";
        let unit = "mol/(kg pH)";
        within("buffer capacity", unit, most, 0.0, 0.2, do_now)?;
        within("least buffer capacity", unit, least, 0.0, most, do_now)?;
        Ok(Self { least, most })
    }

    /// The least, mol/(kg pH).
    #[must_use]
    pub fn least(self) -> f64 {
        self.least
    }

    /// The most, mol/(kg pH).
    #[must_use]
    pub fn most(self) -> f64 {
        self.most
    }
}

/// The pH of a pickle by calculation, from the least buffered vegetable to the most. It releases nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhBracket {
    /// With the least buffer.
    pub lowest: CalculatedPh,
    /// With the most buffer.
    pub highest: CalculatedPh,
}

/// "pH 3.56 to 4.14 calculated with an assumed buffer, measure it".
impl fmt::Display for PhBracket {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "pH {:.2} to {:.2} calculated with an assumed buffer, measure it",
            self.lowest.calculated(),
            self.highest.calculated()
        )
    }
}

/// A pickle: liquor over vegetable, until both are one.
#[derive(Debug, Clone, PartialEq)]
pub struct PickleBalance {
    /// Liquor.
    pub liquor: Mass,
    /// Acids of the liquor, mol a kilogram of liquor.
    pub acids: Vec<(Acid, Molality)>,
    /// Vegetable.
    pub vegetable: Mass,
    /// pH of the vegetable before.
    pub vegetable_ph: Ph,
    /// What the vegetable swallows.
    pub buffer: Buffer,
    /// Temperature at which the pH is wanted.
    pub temperature: Temperature,
}

impl PickleBalance {
    /// The pH it comes to, as a bracket.
    ///
    /// # Method
    /// `10^−pH + B (pH0 − pH) = Σ C z̄(pH)`: what the acids give off is what the vegetable takes up, with
    /// `B = β × vegetable ÷ all`, `C = c × liquor ÷ all`. Bracketed root. Concentrations for activities.
    /// # Valid range
    /// β even over the whole way of pH, which no vegetable does; β is assumed unless titrated. A model
    /// built on titrations predicts within 0.11 of a pH (Price 2020, abstract read); this one is no better.
    /// # Source
    /// [MASS_BALANCE](sources::list::MASS_BALANCE) of protons; [PKA_OF_T](sources::list::PKA_OF_T), from memory.
    /// # Errors
    /// No liquor; temperature outside 0 to 60 °C; a balance with no pH between 0 and 14.
    /// # Example
    /// ```
    /// use science::acid::{ASSUMED_BUFFER, Acid, Molality, Ph, PickleBalance};
    /// use units::{Mass, Temperature};
    /// let onions = PickleBalance {
    ///     liquor: Mass::grams(500.0)?,
    ///     acids: vec![(Acid::Acetic, Molality::mol_per_kg(0.42)?)],
    ///     vegetable: Mass::grams(500.0)?,
    ///     vegetable_ph: Ph::new(6.0)?,
    ///     buffer: ASSUMED_BUFFER,
    ///     temperature: Temperature::celsius(25.0)?,
    /// };
    /// assert_eq!(onions.bracket()?.to_string(),
    ///     "pH 3.56 to 4.10 calculated with an assumed buffer, measure it");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn bracket(&self) -> Result<PhBracket, ScienceError> {
        if self.liquor <= Mass::ZERO {
            return Err(ScienceError::None { what: "liquor" });
        }
        let all = self.liquor + self.vegetable;
        let (liquor, vegetable) = (self.liquor.ratio_to(all)?, self.vegetable.ratio_to(all)?);
        let acids = self
            .acids
            .iter()
            .map(|&(acid, amount)| {
                let ka = acid
                    .pka(self.temperature)?
                    .iter()
                    .map(|pk| 10_f64.powf(-pk))
                    .collect::<Vec<_>>();
                Ok((ka, amount.value() * liquor))
            })
            .collect::<Result<Vec<_>, ScienceError>>()?;
        let with = |beta: f64| {
            let buffered = beta * vegetable;
            root_ph(|h: f64| {
                h + buffered * (self.vegetable_ph.ph() + h.log10()) - charge(&acids, h)
            })
            .map(CalculatedPh)
        };
        let (one, other) = (with(self.buffer.least)?, with(self.buffer.most)?);
        Ok(PhBracket {
            lowest: if one <= other { one } else { other },
            highest: if one <= other { other } else { one },
        })
    }
}
