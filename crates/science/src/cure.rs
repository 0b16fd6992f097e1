//! Dry cures: salt by the weight of the piece, the salt a curing salt brings, sugar against salt.

use units::{Base, Fraction, Mass};

use crate::ScienceError;
use crate::error::within;

/// A curing salt: salt with nitrite, perhaps nitrate, mixed in. By weight; the rest is salt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CuringSalt {
    nitrite: f64,
    nitrate: f64,
}

impl CuringSalt {
    /// Curing salt No. 1: 6.25 % sodium nitrite, 93.75 % salt.
    ///
    /// # Source
    /// [PRACTICE](sources::list::PRACTICE); read the label.
    pub const NO_1: Self = Self {
        nitrite: 0.0625,
        nitrate: 0.0,
    };

    /// A curing salt with these percents of sodium nitrite and sodium nitrate.
    ///
    /// # Valid range
    /// Nitrite above 0 to 10 %, nitrate 0 to 10 %: what is sold for kitchens. Pure nitrite is refused: it
    /// is no curing salt and no bench scale weighs it.
    /// # Errors
    /// Outside that range.
    pub fn percent(nitrite_pct: f64, nitrate_pct: f64) -> Result<Self, ScienceError> {
        let label = "read the label of the curing salt";
        let nitrite = within(
            "sodium nitrite in the curing salt",
            "%",
            nitrite_pct,
            0.01,
            10.0,
            label,
        )?;
        let nitrate = within(
            "sodium nitrate in the curing salt",
            "%",
            nitrate_pct,
            0.0,
            10.0,
            label,
        )?;
        Ok(Self {
            nitrite: nitrite / 100.0,
            nitrate: nitrate / 100.0,
        })
    }

    /// Sodium nitrite as a proportion of the weight.
    #[must_use]
    pub fn nitrite_ratio(self) -> f64 {
        self.nitrite
    }

    /// Sodium nitrate as a proportion of the weight.
    #[must_use]
    pub fn nitrate_ratio(self) -> f64 {
        self.nitrate
    }

    /// Salt (sodium chloride) as a proportion of the weight.
    #[must_use]
    pub fn salt_ratio(self) -> f64 {
        1.0 - self.nitrite - self.nitrate
    }
}

/// Salt for an equilibrium cure: a percent of the weighed green weight, in a bag with its own juice.
///
/// # Method
/// `salt = green × %`; nothing is lost, so all of it ends in the piece.
/// # Valid range
/// A share of the same base as the weight.
/// # Source
/// [PRACTICE](sources::list::PRACTICE) for the percent; the arithmetic is mass balance.
/// # Errors
/// Another base.
/// # Example
/// ```
/// use units::{Base, Fraction, Mass};
/// let fillet = Base::new("skin-on fillet")?;
/// let salt = science::cure::equilibrium_salt(Mass::grams(5580.0)?, &Fraction::percent(2.5, fillet)?)?;
/// assert_eq!(salt.to_string(), "139.5 g");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn equilibrium_salt(green: Mass, salt: &Fraction) -> Result<Mass, ScienceError> {
    Ok(salt.of(green, salt.base())?)
}

/// All the sodium chloride of a cure, the carrier of the curing salt counted.
///
/// # Method
/// `salt % + curing salt % × salt in the curing salt`.
/// # Errors
/// The two are percents of different bases.
/// # Example
/// ```
/// use science::cure::{CuringSalt, total_salt};
/// use units::{Base, Fraction};
/// let green = Base::new("green weight")?;
/// let total = total_salt(
///     &Fraction::percent(2.75, green.clone())?,
///     &Fraction::percent(0.25, green)?,
///     CuringSalt::NO_1,
/// )?;
/// assert_eq!(format!("{:.3}", total.pct()), "2.984");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn total_salt(
    salt: &Fraction,
    curing_salt: &Fraction,
    kind: CuringSalt,
) -> Result<Fraction, ScienceError> {
    let carrier = Fraction::from_ratio(
        curing_salt.ratio() * kind.salt_ratio(),
        curing_salt.base().clone(),
    )?;
    Ok(salt.plus(&carrier)?)
}

/// Salt and sugar of a mix, against each other.
#[derive(Debug, Clone, PartialEq)]
pub struct SugarAndSalt {
    /// Grams of sugar for each gram of salt.
    pub sugar_per_salt: f64,
    /// Salt as a share of salt and sugar together.
    pub salt_of_mix: Fraction,
}

/// How salt and sugar stand in a mix, by weight.
///
/// # Method
/// `sugar ÷ salt` and `salt ÷ (salt + sugar)`. "2:1" means nothing until it says by weight.
/// # Errors
/// No salt.
/// # Example
/// ```
/// use units::Mass;
/// let mix = science::cure::sugar_and_salt(Mass::grams(500.0)?, Mass::grams(175.0)?)?;
/// assert_eq!(format!("{:.2} to 1, {:.1} %", mix.sugar_per_salt, mix.salt_of_mix.pct()), "2.86 to 1, 25.9 %");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn sugar_and_salt(sugar: Mass, salt: Mass) -> Result<SugarAndSalt, ScienceError> {
    if salt <= Mass::ZERO {
        return Err(ScienceError::None { what: "salt" });
    }
    Ok(SugarAndSalt {
        sugar_per_salt: sugar.ratio_to(salt)?,
        salt_of_mix: Fraction::from_ratio(
            salt.ratio_to(salt + sugar)?,
            Base::new("salt and sugar")?,
        )?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    /// Common practice, no source: 500 g sugar and 175 g salt; and 2:1 by weight is a third of salt,
    /// while 2:1 by the cup with flake salt (140 g) and sugar (200 g) is a quarter.
    #[test]
    fn ratios_by_weight_and_by_cup_are_not_the_same() {
        let mix = sugar_and_salt(g(500.0), g(175.0)).unwrap();
        assert!((mix.sugar_per_salt - 2.857).abs() < 5e-4);
        assert!((mix.salt_of_mix.pct() - 25.926).abs() < 5e-4);
        assert!((sugar_and_salt(g(2.0), g(1.0)).unwrap().salt_of_mix.pct() - 33.333).abs() < 1e-3);
        assert!(
            (sugar_and_salt(g(400.0), g(140.0))
                .unwrap()
                .salt_of_mix
                .pct()
                - 25.926)
                .abs()
                < 1e-3
        );
        assert!(sugar_and_salt(g(1.0), Mass::ZERO).is_err());
    }

    #[test]
    fn what_is_no_curing_salt_is_refused() {
        assert!(CuringSalt::percent(100.0, 0.0).is_err());
        assert!(CuringSalt::percent(0.0, 0.0).is_err());
        assert!((CuringSalt::percent(6.25, 4.0).unwrap().salt_ratio() - 0.8975).abs() < 1e-12);
    }

    #[test]
    fn percents_of_two_bases_do_not_add() {
        let a = Fraction::percent(2.75, Base::new("green weight").unwrap()).unwrap();
        let b = Fraction::percent(0.25, Base::new("hang weight").unwrap()).unwrap();
        assert!(total_salt(&a, &b, CuringSalt::NO_1).is_err());
    }

    proptest! {
        #[test]
        fn salt_goes_with_the_weight(green in 1.0..1e6_f64, pct in 0.1..10.0_f64, k in 0.1..10.0_f64) {
            let share = Fraction::percent(pct, Base::new("green weight").unwrap()).unwrap();
            let once = equilibrium_salt(g(green), &share).unwrap();
            let scaled = equilibrium_salt(g(green * k), &share).unwrap();
            prop_assert!((scaled.g() - once.g() * k).abs() <= 1e-9 * scaled.g());
        }
    }
}
