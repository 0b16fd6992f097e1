//! A vegetable in a liquor of acids and salt: what it takes up, what a trial says of it, and the pH.

use units::Mass;

use super::{Liquor, LiquorState, Ph};
use crate::ScienceError;
use crate::error::within;

/// What a vegetable binds of the acid around it, even over the way of pH.
///
/// It is a curve in truth; a straight one holds about as far as the way it was measured over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uptake {
    buffer: f64,
    before: Ph,
}

impl Uptake {
    /// From a buffer capacity, mol for each kilogram of vegetable and unit of pH, and its pH when raw.
    ///
    /// # Valid range
    /// 0 to 0.2 mol/(kg pH).
    /// # Errors
    /// Outside it.
    pub fn new(mol_per_kg_ph: f64, before: Ph) -> Result<Self, ScienceError> {
        let do_now = "titrate the vegetable: weigh, add vinegar, read the pH before and after";
        let unit = "mol/(kg pH)";
        let buffer = within("buffer capacity", unit, mol_per_kg_ph, 0.0, 0.2, do_now)?;
        Ok(Self { buffer, before })
    }

    /// From a trial: so much of the vegetable, blended with a liquor until its pH stands still.
    ///
    /// `liquor` is counted on all the water of the trial, `water`: what was poured, and that of the
    /// vegetable.
    ///
    /// # Method
    /// `β = [given off by the acids at the pH after] × water ÷ (vegetable × (pH before − pH after))`.
    /// # Valid range
    /// A fall of at least 0.5 of a pH: below it two readings of a bench meter say too little.
    /// # Source
    /// [MASS_BALANCE](sources::list::MASS_BALANCE) of protons; constants as [`Liquor::at_rest`].
    /// # Errors
    /// No vegetable; a pH that falls too little; more acid bound than any vegetable binds, or less than
    /// none: the liquor alone is less sour than what was read.
    pub fn of_trial(
        vegetable: Mass,
        water: Mass,
        liquor: &Liquor,
        before: Ph,
        after: Ph,
    ) -> Result<Self, ScienceError> {
        if vegetable <= Mass::ZERO {
            return Err(ScienceError::None { what: "vegetable" });
        }
        let fall = within(
            "fall in the trial",
            "pH",
            // Two readings of a decimal or two: what binary leaves after them is no fall.
            ((before.ph() - after.ph()) * 1e9).round() / 1e9,
            LEAST_FALL,
            14.0,
            "add more vinegar to the trial and read again",
        )?;
        let bound = liquor.given_off(after)? * water.kg();
        Self::new(bound / vegetable.kg() / fall, before)
    }

    /// Buffer capacity, mol/(kg pH).
    #[must_use]
    pub fn mol_per_kg_ph(self) -> f64 {
        self.buffer
    }

    /// pH of the raw vegetable.
    #[must_use]
    pub fn before(self) -> Ph {
        self.before
    }
}

/// Least fall of pH a trial is reckoned from: ten times what a bench meter is read to. House value.
const LEAST_FALL: f64 = 0.5;

impl Liquor {
    /// What the liquor comes to with a vegetable in it, once both are even.
    ///
    /// The liquor is counted on all the water there is, `water`: its own and the vegetable's.
    ///
    /// # Method
    /// `[H] + base + β m (pH₀ − pH) ÷ water = [OH] + Σ c z̄(pH)`: what the vegetable binds stands on the side
    /// of the base, its counter-ions among the ions. Activities as in [`Liquor::at_rest`].
    /// # Valid range
    /// As [`Liquor::at_rest`]; a buffer even over the way of pH, which is the larger doubt. From a trial to
    /// 4.2 or 3.8 pickles of pH 3.3 to 4.5 of three invented model vegetables came out −0.02 to +0.11 of a
    /// pH beside PHREEQC (median 0.05, nearly all too high). A model built on titrations predicts within 0.11
    /// ([PRICE_2020](sources::list::PRICE_2020)); this one is no better.
    /// # Source
    /// [MASS_BALANCE](sources::list::MASS_BALANCE) of protons; constants as [`Liquor::at_rest`].
    /// # Errors
    /// No water; too many ions; no pH between 0 and 14.
    /// # Example
    /// ```
    /// use science::acid::{Acid, Liquor, Molality, Ph, Uptake};
    /// use units::{Mass, Temperature};
    /// // Fennel: 33.8 g of acetic acid and 39 g of salt in 2,204 g of water, 1,299 g of vegetable.
    /// let water = Mass::grams(2204.0)?;
    /// let liquor = Liquor {
    ///     acids: vec![(Acid::Acetic, Molality::of(Acid::Acetic, Mass::grams(33.8)?, water)?)],
    ///     strong_base: Molality::ZERO,
    ///     salt: Molality::of_salt(Mass::grams(39.0)?, water)?,
    ///     temperature: Temperature::celsius(25.0)?,
    /// };
    /// let fennel = Uptake::new(0.010, Ph::new(6.0)?)?;
    /// let even = liquor.with_vegetable(Mass::grams(1299.0)?, water, &fennel)?;
    /// assert_eq!(even.ph.to_string(), "pH 3.43 calculated, measure it");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn with_vegetable(
        &self,
        vegetable: Mass,
        water: Mass,
        uptake: &Uptake,
    ) -> Result<LiquorState, ScienceError> {
        if water <= Mass::ZERO {
            return Err(ScienceError::None { what: "water" });
        }
        let per_ph = uptake.buffer * vegetable.kg() / water.kg();
        let before = uptake.before.ph();
        self.settled(&|ph| per_ph * (before - ph), per_ph)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::acid::{Acid, Molality};
    use proptest::prelude::*;
    use units::Temperature;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    fn acetic(mol_kg: f64, salt: f64) -> Liquor {
        Liquor {
            acids: vec![(Acid::Acetic, Molality::mol_per_kg(mol_kg).unwrap())],
            strong_base: Molality::ZERO,
            salt: Molality::mol_per_kg(salt).unwrap(),
            temperature: Temperature::celsius(25.0).unwrap(),
        }
    }

    /// Nothing where there are too many ions for the formula.
    fn maybe_ph(acid: f64, salt: f64, vegetable: f64, beta: f64, before: f64) -> Option<f64> {
        let uptake = Uptake::new(beta, Ph::new(before).unwrap()).unwrap();
        let even = acetic(acid, salt).with_vegetable(g(vegetable), g(1000.0), &uptake);
        Some(even.ok()?.ph.calculated())
    }

    fn ph(acid: f64, salt: f64, vegetable: f64, beta: f64, before: f64) -> f64 {
        maybe_ph(acid, salt, vegetable, beta, before).unwrap()
    }

    #[test]
    fn a_vegetable_that_binds_nothing_leaves_the_liquor_as_it_is() {
        let alone = acetic(0.2, 0.3).at_rest().unwrap().ph.calculated();
        assert!((ph(0.2, 0.3, 900.0, 0.0, 6.0) - alone).abs() < 1e-12);
        assert!((ph(0.2, 0.3, 0.0, 0.05, 6.0) - alone).abs() < 1e-12);
    }

    #[test]
    fn a_trial_that_cannot_be_is_refused() {
        let at = |ph| Ph::new(ph).unwrap();
        let trial = |acid, before, after| {
            Uptake::of_trial(
                g(100.0),
                g(200.0),
                &acetic(acid, 0.0),
                at(before),
                at(after),
            )
        };
        assert!(trial(0.04, 6.1, 4.2).is_ok());
        assert!(trial(0.04, 4.5, 4.2).is_err(), "falls too little");
        assert!(trial(0.04, 4.2, 6.1).is_err(), "rises");
        assert!(
            trial(0.001, 6.1, 2.0).is_err(),
            "sourer than the liquor alone"
        );
        let none = Uptake::of_trial(Mass::ZERO, g(200.0), &acetic(0.04, 0.0), at(6.1), at(4.2));
        assert!(none.is_err());
    }

    proptest! {
        #[test]
        fn a_trial_gives_back_the_buffer_it_was_made_with(
            acid in 0.02..0.4_f64, salt in 0.0..0.3_f64, vegetable in 50.0..2000.0_f64, beta in 0.004..0.06_f64,
        ) {
            let after = maybe_ph(acid, salt, vegetable, beta, 6.2).filter(|after| *after < 5.7);
            prop_assume!(after.is_some());
            let after = after.unwrap();
            let found = Uptake::of_trial(
                g(vegetable), g(1000.0), &acetic(acid, salt), Ph::new(6.2).unwrap(), Ph::new(after).unwrap(),
            ).unwrap();
            // Weights are whole to 1e-9 g or so; the buffer comes back to a part in a million.
            prop_assert!((found.mol_per_kg_ph() / beta - 1.0).abs() < 1e-6, "{found:?} for {beta}");
        }

        #[test]
        fn more_acid_never_raises_and_more_buffer_never_lowers_the_ph(
            acid in 0.01..0.5_f64, more in 0.0..0.4_f64, salt in 0.0..0.3_f64, vegetable in 100.0..3000.0_f64,
            beta in 0.0..0.05_f64, buffer in 0.0..0.05_f64, before in 5.0..7.0_f64,
        ) {
            let at = |acid, beta, vegetable| maybe_ph(acid, salt, vegetable, beta, before);
            let one = at(acid, beta, vegetable);
            prop_assume!(one.is_some());
            let one = one.unwrap();
            prop_assert!(at(acid + more, beta, vegetable).is_none_or(|ph| ph <= one + 1e-9));
            prop_assert!(at(acid, beta + buffer, vegetable).is_none_or(|ph| ph >= one - 1e-9));
            prop_assert!(at(acid, beta, vegetable * 1.2).is_none_or(|ph| ph >= one - 1e-9));
        }
    }
}
