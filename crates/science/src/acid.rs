//! Weak acids: what pH a liquor comes to by calculation, and a pickle with its vegetable in it.
//!
//! A calculated pH releases nothing. It sizes a trial; a calibrated meter in the finished food, ground
//! in pack ratio, decides. The types here say so: [`CalculatedPh`] is no reading and does not turn into one.

mod constants;
mod equilibrium;
mod pickle_balance;
mod vegetable;

pub use constants::{Acid, ION_ACTIVITY_MOST, davies_slope, pk_water};
pub use equilibrium::{Liquor, LiquorState, buffer_capacity};
pub use pickle_balance::{ASSUMED_BUFFER, Buffer, PhBracket, PickleBalance};
pub use vegetable::Uptake;

use core::fmt;

use units::{Mass, Volume};

use crate::ScienceError;
use crate::error::within;

/// A pH between 0 and 14, entered or assumed, for use in a formula.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Ph(f64);

impl Ph {
    /// A pH.
    ///
    /// # Valid range
    /// 0 to 14.
    /// # Errors
    /// Outside it.
    /// # Example
    /// ```
    /// let error = science::acid::Ph::new(15.2).unwrap_err().to_string();
    /// assert!(error.starts_with("pH: found 15.2"));
    /// ```
    pub fn new(ph: f64) -> Result<Self, ScienceError> {
        within("pH", "", ph, 0.0, 14.0, "read the meter again").map(Self)
    }

    /// The number.
    #[must_use]
    pub fn ph(self) -> f64 {
        self.0
    }
}

/// A pH that was worked out and not measured. It carries no verdict: no limit may be judged on it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct CalculatedPh(f64);

impl CalculatedPh {
    /// The calculated number, for a chart or another calculation, never for a release.
    #[must_use]
    pub fn calculated(self) -> f64 {
        self.0
    }
}

/// "pH 2.57 calculated, measure it".
impl fmt::Display for CalculatedPh {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "pH {:.2} calculated, measure it", self.0)
    }
}

/// Moles of something in each kilogram of the water, or of the liquor, it is counted on; the function
/// that takes it says which.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Molality(f64);

impl Molality {
    /// Nothing.
    pub const ZERO: Self = Self(0.0);

    /// In mol/kg.
    ///
    /// # Valid range
    /// 0 to 20.
    /// # Errors
    /// Outside it.
    pub fn mol_per_kg(value: f64) -> Result<Self, ScienceError> {
        within(
            "molality",
            "mol/kg",
            value,
            0.0,
            20.0,
            "check whether grams were entered for moles",
        )
        .map(Self)
    }

    /// Of a weight of acid in `kilograms_of` water or liquor.
    ///
    /// # Errors
    /// Nothing to count it on; outside the range.
    /// # Example
    /// ```
    /// use science::acid::{Acid, Molality};
    /// use units::Mass;
    /// // Vinegar of 5 % by weight: 5 g in 95 g of water.
    /// let m = Molality::of(Acid::Acetic, Mass::grams(5.0)?, Mass::grams(95.0)?)?;
    /// assert_eq!(format!("{:.4}", m.value()), "0.8764");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(acid: Acid, weight: Mass, kilograms_of: Mass) -> Result<Self, ScienceError> {
        if kilograms_of <= Mass::ZERO {
            return Err(ScienceError::None {
                what: "water or liquor",
            });
        }
        Self::mol_per_kg(weight.g() / acid.g_per_mol() / kilograms_of.kg())
    }

    /// Of dissolved table salt in water.
    ///
    /// # Errors
    /// As [`Molality::of`].
    pub fn of_salt(weight: Mass, water: Mass) -> Result<Self, ScienceError> {
        if water <= Mass::ZERO {
            return Err(ScienceError::None { what: "water" });
        }
        Self::mol_per_kg(weight.g() / crate::water_activity::SALT_G_PER_MOL / water.kg())
    }

    /// In mol/kg.
    #[must_use]
    pub fn value(self) -> f64 {
        self.0
    }
}

/// Moles of an acid in each litre, as laboratories and labels by volume count.
///
/// # Errors
/// No volume.
/// # Example
/// ```
/// use science::acid::{Acid, mol_per_litre};
/// use units::{Mass, Volume};
/// let vinegar = mol_per_litre(Acid::Acetic, Mass::grams(5.0)?, Volume::millilitres(100.0)?)?;
/// assert_eq!(format!("{vinegar:.4}"), "0.8326");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn mol_per_litre(acid: Acid, weight: Mass, volume: Volume) -> Result<f64, ScienceError> {
    if volume <= Volume::ZERO {
        return Err(ScienceError::None { what: "volume" });
    }
    Ok(weight.g() / acid.g_per_mol() / volume.litres())
}

#[cfg(test)]
mod tests;
