//! Salting without a shape: where a cure ends, and the two-exponential curve of a fitted salting.

use units::{Base, Elapsed, Fraction};

use super::piece::Flesh;
use crate::ScienceError;
use crate::brine::Strength;
use crate::error::within;

/// What a piece comes to when all the cure has entered and nothing was lost.
#[derive(Debug, Clone, PartialEq)]
pub struct EquilibriumCure {
    /// Salt of the cured piece.
    pub salt: Fraction,
    /// Salt of its salt and water.
    pub water_phase: Strength,
}

/// Where an equilibrium cure ends.
///
/// # Method
/// With `p` salt per green weight and `W` water: salt `p ÷ (1 + p)`, water phase `p ÷ (p + W)`.
/// # Valid range
/// All salt enters, no water is lost. A mean: the middle gets there last.
/// # Source
/// [MASS_BALANCE](sources::list::MASS_BALANCE).
/// # Errors
/// A water phase beyond saturation.
/// # Example
/// ```
/// use science::transport::{Flesh, equilibrium_cure};
/// use units::{Base, Fraction};
/// let green = Base::new("green weight")?;
/// let flesh = Flesh::with_water(&Fraction::percent(70.0, green.clone())?)?;
/// let end = equilibrium_cure(&Fraction::percent(2.0, green)?, &flesh)?;
/// assert_eq!(format!("{:.4} {:.4}", end.salt.pct(), end.water_phase.pct()), "1.9608 2.7778");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn equilibrium_cure(salt: &Fraction, flesh: &Flesh) -> Result<EquilibriumCure, ScienceError> {
    let p = salt.ratio();
    Ok(EquilibriumCure {
        salt: Fraction::from_ratio(p / (1.0 + p), Base::new("cured piece")?)?,
        water_phase: Strength::percent(p / (p + flesh.water_kg_per_kg()) * 100.0)?,
    })
}

/// A salting fitted to its start, its end and one rate.
#[derive(Debug, Clone, PartialEq)]
pub struct TwoExponentials {
    start: Fraction,
    end: Fraction,
    per_hour: f64,
}

impl TwoExponentials {
    /// From `start` towards `end` at a rate per hour.
    ///
    /// # Valid range
    /// Rate above 0 to 10 per hour; both shares of one base.
    /// # Source
    /// [ZUGARRAMURDI_LUPIN](sources::list::ZUGARRAMURDI_LUPIN), from memory; that it is used for dry-salted
    /// salmon was read in an abstract. The rate is fitted to one piece and holds for its like.
    /// # Errors
    /// Outside it; two bases.
    pub fn new(start: Fraction, end: Fraction, per_hour: f64) -> Result<Self, ScienceError> {
        start.plus(&end)?;
        let per_hour = within(
            "rate of salting",
            "per hour",
            per_hour,
            1e-6,
            10.0,
            "fit it to two weighings or two analyses",
        )?;
        Ok(Self {
            start,
            end,
            per_hour,
        })
    }

    /// The share after a time.
    ///
    /// # Method
    /// `X0 e^(−k t) + Xe (1 − e^(−k t))`.
    /// # Errors
    /// None in practice: the result lies between the two shares.
    /// # Example
    /// ```
    /// use science::transport::TwoExponentials;
    /// use units::{Base, Elapsed, Fraction};
    /// let water = Base::new("water phase")?;
    /// let curve = TwoExponentials::new(
    ///     Fraction::percent(0.0, water.clone())?, Fraction::percent(25.0, water)?, 0.1)?;
    /// assert_eq!(format!("{:.4}", curve.after(Elapsed::from_hours(12.0)?)?.pct()), "17.4701");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn after(&self, time: Elapsed) -> Result<Fraction, ScienceError> {
        let kept = (-self.per_hour * time.hours()).exp();
        let ratio = self.start.ratio() * kept + self.end.ratio() * (1.0 - kept);
        Ok(Fraction::from_ratio(ratio, self.start.base().clone())?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pct(pct: f64, base: &str) -> Fraction {
        Fraction::percent(pct, Base::new(base).unwrap()).unwrap()
    }

    /// Worked by hand; the second with 68 % of water, as one printing of it has it.
    #[test]
    fn an_equilibrium_cure_ends_where_the_balance_says() {
        for (water, wps) in [(70.0, 2.7778), (68.0, 2.8571)] {
            let flesh = Flesh::with_water(&pct(water, "green weight")).unwrap();
            let end = equilibrium_cure(&pct(2.0, "green weight"), &flesh).unwrap();
            assert!((end.salt.pct() - 1.9608).abs() < 5e-5);
            assert!((end.water_phase.pct() - wps).abs() < 5e-5);
        }
    }

    /// Computed from the formula to six decimals.
    #[test]
    fn two_exponentials_follow_their_table() {
        let curve = TwoExponentials::new(pct(0.0, "water"), pct(25.0, "water"), 0.1).unwrap();
        for (hours, share) in [(6.0, 0.112_797), (12.0, 0.174_701), (24.0, 0.227_321)] {
            let at = curve.after(Elapsed::from_hours(hours).unwrap()).unwrap();
            assert!((at.ratio() - share).abs() < 5e-7);
        }
        assert_eq!(curve.after(Elapsed::ZERO).unwrap().ratio(), 0.0);
        assert!(TwoExponentials::new(pct(0.0, "a"), pct(1.0, "b"), 0.1).is_err());
        assert!(TwoExponentials::new(pct(0.0, "a"), pct(1.0, "a"), 0.0).is_err());
    }
}
