//! Water-phase salt: how salty the water inside the finished flesh is.

use units::{Base, Fraction};

use crate::ScienceError;
use crate::error::within;

/// Salt of salt and water, in the finished flesh.
///
/// # Method
/// `salt ÷ (salt + water)`, both percents of the same sample.
/// # Valid range
/// A laboratory takes the sample from the thick part. Worked from a recipe this is a mean of the
/// piece, never its core: it cannot carry a claim on vacuum packing.
/// # Source
/// FDA fish guide ch. 13, [MEMORY](sources::list::MEMORY); the limits are judged in `safety`.
/// # Errors
/// The two are percents of different bases; together more than everything; no water.
/// # Example
/// ```
/// use units::{Base, Fraction};
/// let sample = Base::new("finished fish")?;
/// let wps = science::water_phase_salt::from_sample(
///     &Fraction::percent(2.53, sample.clone())?, &Fraction::percent(62.1, sample)?)?;
/// assert_eq!(format!("{:.2}", wps.pct()), "3.91");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn from_sample(salt: &Fraction, water: &Fraction) -> Result<Fraction, ScienceError> {
    let both = salt.plus(water)?;
    within(
        "salt and water",
        "%",
        both.pct(),
        0.0,
        100.0,
        "both are percents of one sample",
    )?;
    if water.ratio() <= 0.0 {
        return Err(ScienceError::None { what: "water" });
    }
    Ok(Fraction::from_ratio(
        salt.ratio() / both.ratio(),
        Base::new("water phase")?,
    )?)
}

/// Salt the sample needs for a wanted water-phase salt at its water.
///
/// # Method
/// `salt = wps × water ÷ (1 − wps)`
/// # Errors
/// A wanted share of one or more.
pub fn salt_for(wanted: &Fraction, water: &Fraction) -> Result<Fraction, ScienceError> {
    let share = within(
        "water-phase salt",
        "%",
        wanted.pct(),
        0.0,
        99.0,
        "check the unit",
    )? / 100.0;
    Ok(Fraction::from_ratio(
        share * water.ratio() / (1.0 - share),
        water.base().clone(),
    )?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pct(percent: f64) -> Fraction {
        Fraction::percent(percent, Base::new("sample").unwrap()).unwrap()
    }

    /// Worked by hand from the formula: the second just fails a limit of 3.5.
    #[test]
    fn samples_come_to_their_hand_figures() {
        for (salt, water, wps) in [(2.53, 62.1, 3.91), (2.5, 65.0, 3.704), (2.3, 64.0, 3.469)] {
            let found = from_sample(&pct(salt), &pct(water)).unwrap().pct();
            assert!((found - wps).abs() < 0.005, "{found}");
        }
        assert!(from_sample(&pct(2.0), &pct(99.0)).is_err());
        assert!(from_sample(&pct(2.0), &pct(0.0)).is_err());
        let other = Fraction::percent(2.0, Base::new("raw fish").unwrap()).unwrap();
        assert!(from_sample(&other, &pct(60.0)).is_err());
    }

    proptest! {
        #[test]
        fn the_salt_for_a_strength_gives_it(wps in 0.5..20.0_f64, water in 20.0..75.0_f64) {
            let salt = salt_for(&pct(wps), &pct(water)).unwrap();
            prop_assert!((from_sample(&salt, &pct(water)).unwrap().pct() - wps).abs() < 1e-9);
        }
    }
}
