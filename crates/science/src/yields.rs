//! Yields: what is left of what went in, step by step, and what the kitchen learned about it.

use units::Mass;

use crate::ScienceError;
use crate::error::within;

/// How much the house figure weighs against logged ones: as much as four of them.
///
/// # Source
/// [HOUSE](sources::list::HOUSE): chosen here; a kitchen may set its own.
pub const HOUSE_COUNTS_AS: f64 = 4.0;

/// Out over in, of one step. Above 1 for a gain: a pumped loin, soaked seeds.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Yield(f64);

impl Yield {
    /// A yield as a plain ratio.
    ///
    /// # Valid range
    /// 0.01 to 5: mustard seed swells to about 3.3 times its weight, nothing in the kitchen passes 5.
    /// # Errors
    /// Outside it, percents typed as numbers (62 for 0.62) among them.
    pub fn ratio_of(ratio: f64) -> Result<Self, ScienceError> {
        within(
            "yield",
            "(out ÷ in)",
            ratio,
            0.01,
            5.0,
            "write 0.62, or 62 % with its sign",
        )
        .map(Self)
    }

    /// From a weight in and a weight out.
    ///
    /// # Errors
    /// Nothing in; outside the range of [`Yield::ratio_of`].
    pub fn weighed(into: Mass, out: Mass) -> Result<Self, ScienceError> {
        Self::ratio_of(out.ratio_to(into)?)
    }

    /// Out over in.
    #[must_use]
    pub fn ratio(self) -> f64 {
        self.0
    }
}

/// The yield of steps one after another: their product, never their sum.
///
/// # Example
/// ```
/// use science::yields::{Yield, chain};
/// let steps = [0.95, 0.98, 0.85, 0.90].map(|y| Yield::ratio_of(y).unwrap());
/// assert!((chain(&steps) - 0.712_215).abs() < 1e-12);
/// ```
#[must_use]
pub fn chain(steps: &[Yield]) -> f64 {
    steps.iter().map(|y| y.ratio()).product()
}

/// What has to go in so that `served` comes out of the steps.
///
/// # Method
/// `raw = served ÷ Π yields`
/// # Source
/// [MASS_BALANCE](sources::list::MASS_BALANCE), computed.
/// # Errors
/// A weight beyond what [`Mass`] takes.
pub fn raw_for(served: Mass, steps: &[Yield]) -> Result<Mass, ScienceError> {
    Ok(served.scaled(1.0 / chain(steps))?)
}

/// What comes out of the steps when `raw` goes in.
///
/// # Errors
/// A weight beyond what [`Mass`] takes.
pub fn served_from(raw: Mass, steps: &[Yield]) -> Result<Mass, ScienceError> {
    Ok(raw.scaled(chain(steps))?)
}

/// The yield to plan on next time: logged ones, held back by the house figure while they are few.
///
/// # Method
/// `(n × mean + k × default) ÷ (n + k)`
/// # Source
/// [HOUSE](sources::list::HOUSE), with `k` = [`HOUSE_COUNTS_AS`].
/// # Errors
/// A negative `k`, or none of either.
/// # Example
/// ```
/// use science::yields::{HOUSE_COUNTS_AS, Yield, learned};
/// let next = learned(Yield::ratio_of(0.58)?, 1, Yield::ratio_of(0.62)?, HOUSE_COUNTS_AS)?;
/// assert_eq!(format!("{:.3}", next.ratio()), "0.612");
/// # Ok::<(), science::ScienceError>(())
/// ```
pub fn learned(mean: Yield, n: u32, house: Yield, k: f64) -> Result<Yield, ScienceError> {
    let k = within(
        "weight of the house figure",
        "logs",
        k,
        0.0,
        1000.0,
        "use 4",
    )?;
    let n = f64::from(n);
    if n + k <= 0.0 {
        return Err(ScienceError::None {
            what: "logged yields",
        });
    }
    Yield::ratio_of((n * mean.ratio() + k * house.ratio()) / (n + k))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn y(ratio: f64) -> Yield {
        Yield::ratio_of(ratio).unwrap()
    }

    /// A char starter worked by hand: 3,780 g served through cure, pellicle, smoke and flaking.
    #[test]
    fn a_starter_goes_back_to_whole_fish() {
        let steps = [y(0.95), y(0.98), y(0.85), y(0.90)];
        let fillet = raw_for(Mass::grams(3780.0).unwrap(), &steps).unwrap();
        assert!((fillet.g() - 5307.4).abs() < 0.05);
        let whole = raw_for(fillet, &[y(0.62)]).unwrap();
        assert!((whole.g() - 8560.3).abs() < 0.05);
    }

    #[test]
    fn a_percent_typed_as_a_number_is_refused() {
        let error = Yield::ratio_of(62.0).unwrap_err().to_string();
        assert!(error.contains("write 0.62, or 62 %"), "{error}");
        assert!(Yield::ratio_of(0.0).is_err());
        assert!(learned(y(0.5), 0, y(0.6), 0.0).is_err());
    }

    proptest! {
        #[test]
        fn back_then_forward_gives_the_served_weight(
            served in 1.0..1e6_f64, steps in prop::collection::vec(0.2..1.5_f64, 0..6),
        ) {
            let steps: Vec<Yield> = steps.into_iter().map(y).collect();
            let raw = raw_for(Mass::grams(served).unwrap(), &steps).unwrap();
            let again = served_from(raw, &steps).unwrap();
            prop_assert!((again.g() - served).abs() <= 1e-9 * served);
        }

        #[test]
        fn what_is_learned_lies_between_the_log_and_the_house(
            mean in 0.1..1.5_f64, n in 0..1000_u32, house in 0.1..1.5_f64,
        ) {
            let next = learned(y(mean), n, y(house), HOUSE_COUNTS_AS).unwrap().ratio();
            prop_assert!(next >= mean.min(house) - 1e-12 && next <= mean.max(house) + 1e-12);
        }
    }
}
