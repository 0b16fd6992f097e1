//! Quick pickles: what acid, salt and sugar come to once liquor and vegetable are one.
//!
//! Nothing here is a pH. A vegetable buffers, by an amount nobody has published for it, so only a
//! calibrated meter answers for a pickle.

use units::{Base, Fraction, Mass};

use crate::ScienceError;

/// Acetic acid brought by a vinegar.
///
/// # Method
/// `vinegar × strength`, the strength by weight of the vinegar.
/// # Valid range
/// Labels give acid by weight or by volume; at 5 % the two differ by about 1 % of themselves (from memory).
/// # Errors
/// A strength above 100 %.
pub fn acetic(vinegar: Mass, strength: &Fraction) -> Result<Mass, ScienceError> {
    let acid = strength.of(vinegar, strength.base())?;
    part_of(acid, "acetic acid", vinegar, "vinegar")?;
    Ok(acid)
}

/// A solute of the liquor, as a percent of liquor and vegetable together, once even.
///
/// # Method
/// `x_eq = x × L ÷ (L + EP)`, where `x × L` is the weight of the solute in the liquor.
/// # Valid range
/// The vegetable brings none of it, and nothing is poured off or boiled away afterwards.
/// # Source
/// [MASS_BALANCE](sources::list::MASS_BALANCE), computed.
/// # Errors
/// No liquor; more solute than liquor.
/// # Example
/// ```
/// use units::Mass;
/// // 33.8 g acetic acid in 1,300 g liquor on 1,299 g shaved fennel.
/// let acid = science::pickle::of_all(Mass::grams(33.8)?, Mass::grams(1300.0)?, Mass::grams(1299.0)?)?;
/// assert_eq!(format!("{:.2}", acid.pct()), "1.30");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn of_all(solute: Mass, liquor: Mass, edible: Mass) -> Result<Fraction, ScienceError> {
    if liquor <= Mass::ZERO {
        return Err(ScienceError::None { what: "liquor" });
    }
    part_of(solute, "solute", liquor, "liquor")?;
    let share = solute.ratio_to(liquor + edible)?;
    Ok(Fraction::from_ratio(
        share,
        Base::new("liquor and vegetable")?,
    )?)
}

/// A solute of the liquor, as a percent of the water phase it ends in.
///
/// # Method
/// `solute ÷ (solute + water of the liquor + water of the vegetable)`. Acid and salt sit in the water,
/// so this is what a microbe meets; it is always above [`of_all`].
/// # Source
/// [MASS_BALANCE](sources::list::MASS_BALANCE), computed.
/// # Errors
/// No water.
pub fn of_water_phase(
    solute: Mass,
    liquor_water: Mass,
    edible_water: Mass,
) -> Result<Fraction, ScienceError> {
    let water = liquor_water + edible_water;
    if water <= Mass::ZERO {
        return Err(ScienceError::None { what: "water" });
    }
    Ok(Fraction::from_ratio(
        solute.ratio_to(solute + water)?,
        Base::new("water phase")?,
    )?)
}

/// Vinegar to add so that the acid of everything comes up to `wanted`.
///
/// # Method
/// `v = (wanted × all − acid) ÷ (strength − wanted)`: the vinegar added makes everything heavier too.
/// # Errors
/// A target the vinegar itself does not reach; one that is already there.
pub fn vinegar_to_add(
    acid: Mass,
    all: Mass,
    strength: &Fraction,
    wanted: &Fraction,
) -> Result<Mass, ScienceError> {
    if strength.ratio() <= wanted.ratio() {
        return Err(ScienceError::OutOfRange {
            what: "acid wanted",
            found: wanted.pct(),
            least: 0.0,
            most: strength.pct(),
            unit: "%",
            do_now: "use a stronger vinegar",
        });
    }
    let missing = all.scaled(wanted.ratio())?.checked_sub(acid)?;
    Ok(missing.scaled(1.0 / (strength.ratio() - wanted.ratio()))?)
}

fn part_of(
    part: Mass,
    part_name: &'static str,
    whole: Mass,
    whole_name: &'static str,
) -> Result<(), ScienceError> {
    if part > whole {
        return Err(ScienceError::PartAboveWhole {
            part: part_name,
            part_g: part.g(),
            whole: whole_name,
            whole_g: whole.g(),
        });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    fn pct(percent: f64, base: &str) -> Fraction {
        Fraction::percent(percent, Base::new(base).unwrap()).unwrap()
    }

    /// The fennel pickle worked by hand: 676 g vinegar of 5 %, 390 g water, 195 g sugar, 39 g salt on
    /// 1,299 g. Its water phase was printed as 1.49 %, which takes the fennel as 93 % water;
    /// with the 90.21 % of USDA SR28 11957 it is 1.51 %.
    #[test]
    fn the_fennel_pickle_comes_to_its_hand_figures() {
        let acid = acetic(g(676.0), &pct(5.0, "vinegar")).unwrap();
        assert!((acid.g() - 33.8).abs() < 1e-9);
        let of_liquor = of_all(acid, g(1300.0), Mass::ZERO).unwrap();
        assert!((of_liquor.pct() - 2.60).abs() < 1e-9);
        let eq = |x: f64| of_all(g(x), g(1300.0), g(1299.0)).unwrap().pct();
        assert!((eq(33.8) - 1.30).abs() < 0.005);
        assert!((eq(39.0) - 1.50).abs() < 0.005);
        assert!((eq(195.0) - 7.50).abs() < 0.005);
        let liquor_water = g(676.0 * 0.95 + 390.0);
        let phase = |water: f64| {
            of_water_phase(acid, liquor_water, g(1299.0 * water))
                .unwrap()
                .pct()
        };
        assert!((phase(0.93) - 1.49).abs() < 0.005, "{}", phase(0.93));
        assert!((phase(0.9021) - 1.51).abs() < 0.005, "{}", phase(0.9021));
    }

    #[test]
    fn vinegar_added_brings_the_acid_up() {
        let (acid, all) = (g(20.0), g(2600.0));
        let more = vinegar_to_add(acid, all, &pct(5.0, "vinegar"), &pct(1.1, "all")).unwrap();
        let now = (acid.g() + more.g() * 0.05) / (all.g() + more.g());
        assert!((now - 0.011).abs() < 1e-12);
        assert!(vinegar_to_add(acid, all, &pct(1.0, "vinegar"), &pct(1.1, "all")).is_err());
        assert!(vinegar_to_add(g(100.0), all, &pct(5.0, "vinegar"), &pct(1.1, "all")).is_err());
    }

    proptest! {
        #[test]
        fn equilibrium_lies_between_nothing_and_the_liquor(
            x in 0.0..1.0_f64, liquor in 1.0..1e5_f64, ep in 0.0..1e5_f64,
        ) {
            let solute = g(liquor * x);
            let eq = of_all(solute, g(liquor), g(ep)).unwrap().ratio();
            prop_assert!(eq >= 0.0 && eq <= x + 1e-12);
        }

        #[test]
        fn more_liquor_never_means_less_acid(
            x in 0.001..0.1_f64, liquor in 1.0..1e4_f64, more in 0.0..1e4_f64, ep in 1.0..1e4_f64,
        ) {
            let at = |l: f64| of_all(g(l * x), g(l), g(ep)).unwrap().ratio();
            prop_assert!(at(liquor + more) >= at(liquor) - 1e-15);
        }
    }
}
