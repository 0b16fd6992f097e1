//! Ingoing nitrite: how much sodium nitrite goes into the green weight, in parts per million.
//!
//! The base is always raw (green) weight, never the finished weight. Which of the four ways applies
//! is a question of how the cure goes in; the two ways for immersion do not agree, so the way is
//! named wherever the figure is shown. Limits are judged in `safety`.

use units::{Mass, Ppm};

use crate::ScienceError;
use crate::cure::CuringSalt;

/// Weight of nitrite ion in a weight of sodium nitrite: 46.005 ÷ 68.995.
///
/// # Source
/// [ATOMIC](sources::list::ATOMIC), from memory.
pub const ION_OF_SALT: f64 = 46.005 / 68.995;

/// A share written as a proportion, above 0 and below 1: 0.10 for a 10 % pump.
///
/// The published formula says "percent" and means this; typing 10 makes the answer a hundred times
/// too high, so 10 is refused and asked about.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Proportion(f64);

impl Proportion {
    /// A pump or pick-up as a proportion.
    ///
    /// # Errors
    /// [`ScienceError::PercentForProportion`] from 1 to 100; nothing, negatives and NaN.
    /// # Example
    /// ```
    /// use science::nitrite::Proportion;
    /// assert!(Proportion::new(0.10).is_ok());
    /// assert_eq!(
    ///     Proportion::new(10.0).unwrap_err().to_string(),
    ///     "pump or pick-up: found 10; expected a proportion above 0 and below 1; did you mean 0.1 (10 %)?"
    /// );
    /// ```
    pub fn new(proportion: f64) -> Result<Self, ScienceError> {
        let what = "pump or pick-up";
        if (1.0..=100.0).contains(&proportion) {
            let meant = proportion / 100.0;
            return Err(ScienceError::PercentForProportion {
                what,
                found: proportion,
                meant,
            });
        }
        if proportion > 0.0 && proportion < 1.0 {
            return Ok(Self(proportion));
        }
        Err(ScienceError::OutOfRange {
            what,
            found: proportion,
            least: 0.0,
            most: 1.0,
            unit: "of green weight",
            do_now: "weigh before and after: (after − green) ÷ green",
        })
    }

    /// The proportion.
    #[must_use]
    pub fn ratio(self) -> f64 {
        self.0
    }
}

/// The gain of a piece weighed before and after: `(after − green) ÷ green`.
///
/// # Errors
/// A piece that did not gain, or that doubled.
pub fn gained(green: Mass, after: Mass) -> Result<Proportion, ScienceError> {
    Proportion::new(after.checked_sub(green)?.ratio_to(green)?)
}

/// Dry rub or mince: everything rubbed on counts, also what is rinsed off later.
///
/// # Method
/// `nitrite × 10⁶ ÷ green weight`
/// # Valid range
/// Curing salt no heavier than the meat.
/// # Source
/// [FSIS_CALC](sources::list::FSIS_CALC) ch. 3, second-hand.
/// # Errors
/// No meat; more curing salt than meat.
/// # Example
/// ```
/// use science::{cure::CuringSalt, nitrite};
/// use units::Mass;
/// let ppm = nitrite::dry(Mass::grams(2.5)?, CuringSalt::NO_1, Mass::kilograms(1.0)?)?;
/// assert_eq!(ppm.to_string(), "156.25 ppm");
/// assert_eq!(format!("{:.1}", nitrite::as_ion(ppm)?.ppm()), "104.2");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn dry(curing_salt: Mass, kind: CuringSalt, green: Mass) -> Result<Ppm, ScienceError> {
    share(curing_salt, kind, green, "green weight", 1.0)
}

/// Pumped: the pickle carries the nitrite in, as much of it as the piece gained.
///
/// # Method
/// `nitrite × pump × 10⁶ ÷ pickle`, the pump a proportion of green weight, the pickle weighed whole.
/// # Source
/// [FSIS_CALC](sources::list::FSIS_CALC) ch. 3, second-hand.
/// # Errors
/// No pickle; more curing salt than pickle.
/// # Example
/// ```
/// use science::{cure::CuringSalt, nitrite};
/// use units::Mass;
/// let pump = nitrite::Proportion::new(0.10)?;
/// let ppm = nitrite::pumped(Mass::grams(42.0)?, CuringSalt::NO_1, Mass::grams(1750.0)?, pump)?;
/// assert_eq!(ppm.to_string(), "150 ppm");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn pumped(
    curing_salt: Mass,
    kind: CuringSalt,
    pickle: Mass,
    pump: Proportion,
) -> Result<Ppm, ScienceError> {
    share(curing_salt, kind, pickle, "pickle", pump.ratio())
}

/// Immersed a short time, Method One: counts the pickle picked up, weighed before and after.
///
/// # Method
/// `nitrite × pick-up × 10⁶ ÷ pickle`
/// # Source
/// [FSIS_CALC](sources::list::FSIS_CALC) p. 21, second-hand.
/// # Errors
/// As [`pumped`].
pub fn immersed_pick_up(
    curing_salt: Mass,
    kind: CuringSalt,
    pickle: Mass,
    pick_up: Proportion,
) -> Result<Ppm, ScienceError> {
    share(curing_salt, kind, pickle, "pickle", pick_up.ratio())
}

/// Immersed until even, Method Two: meat and cover pickle are one system.
///
/// # Method
/// `nitrite × 10⁶ ÷ (green weight + pickle)`
/// # Source
/// [FSIS_CALC](sources::list::FSIS_CALC) p. 22, second-hand.
/// # Errors
/// No meat, no pickle; more curing salt than pickle.
pub fn immersed_equilibrium(
    curing_salt: Mass,
    kind: CuringSalt,
    green: Mass,
    pickle: Mass,
) -> Result<Ppm, ScienceError> {
    if green <= Mass::ZERO {
        return Err(ScienceError::None {
            what: "green weight",
        });
    }
    share(
        curing_salt,
        kind,
        pickle,
        "pickle",
        pickle.ratio_to(pickle + green)?,
    )
}

/// Sodium nitrite said as nitrite ion, as the European limit is.
///
/// # Method
/// Times [`ION_OF_SALT`].
/// # Errors
/// None in practice: a share of a valid figure is valid.
pub fn as_ion(sodium_nitrite: Ppm) -> Result<Ppm, ScienceError> {
    Ok(Ppm::new(sodium_nitrite.ppm() * ION_OF_SALT)?)
}

/// Nitrite ion said as sodium nitrite.
///
/// # Errors
/// An ion figure whose salt would be more than everything.
pub fn from_ion(ion: Ppm) -> Result<Ppm, ScienceError> {
    Ok(Ppm::new(ion.ppm() / ION_OF_SALT)?)
}

/// `nitrite × part × 10⁶ ÷ whole`, what all four ways come to.
fn share(
    curing_salt: Mass,
    kind: CuringSalt,
    whole: Mass,
    named: &'static str,
    part: f64,
) -> Result<Ppm, ScienceError> {
    if whole <= Mass::ZERO {
        return Err(ScienceError::None { what: named });
    }
    if curing_salt > whole {
        return Err(ScienceError::PartAboveWhole {
            part: "curing salt",
            part_g: curing_salt.g(),
            whole: named,
            whole_g: whole.g(),
        });
    }
    let nitrite = curing_salt.scaled(kind.nitrite_ratio())?;
    Ok(Ppm::from_ratio(nitrite.ratio_to(whole)? * part)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    fn part(ratio: f64) -> Proportion {
        Proportion::new(ratio).unwrap()
    }

    /// The amounts in 9 CFR 424.21(c) and the ppm the handbook prints for them (second-hand): 1/4 oz of
    /// nitrite in 100 lb is 156, 1 oz is 625; 2 lb in 100 gal (10 lb each) at a 10 % pump is 200; a
    /// target of 120 at a 20 % pump takes 0.06 lb in 100 lb of pickle. No. 1 is a sixteenth nitrite,
    /// so sixteen times the weight; the first is the 4 oz per 100 lb on its labels.
    #[test]
    fn the_federal_amounts_come_to_the_federal_ppm() {
        let no_1 = |nitrite: Mass| nitrite.scaled(16.0).unwrap();
        let (oz, lb) = (
            |oz| Mass::ounces(oz).unwrap(),
            |lb| Mass::pounds(lb).unwrap(),
        );
        for (nitrite_oz, ppm) in [(0.25, 156.25), (1.0, 625.0)] {
            let found = dry(no_1(oz(nitrite_oz)), CuringSalt::NO_1, lb(100.0)).unwrap();
            assert!((found.ppm() - ppm).abs() < 1e-9);
        }
        let pump = pumped(no_1(lb(2.0)), CuringSalt::NO_1, lb(1000.0), part(0.10)).unwrap();
        assert!((pump.ppm() - 200.0).abs() < 1e-9);
        let target = pumped(no_1(lb(0.06)), CuringSalt::NO_1, lb(100.0), part(0.20)).unwrap();
        assert!((target.ppm() - 120.0).abs() < 1e-9);
    }

    /// A user's post applying Method One: 0.6 oz in 67 oz of pickle, 10 % pick-up; exact 55.97.
    #[test]
    fn a_short_dip_counts_what_was_picked_up() {
        let oz = |oz: f64| Mass::ounces(oz).unwrap();
        let dip = immersed_pick_up(oz(0.6), CuringSalt::NO_1, oz(67.0), part(0.10)).unwrap();
        assert!((dip.ppm() - 55.97).abs() < 0.005);
    }

    #[test]
    fn a_piece_that_takes_too_much_shows_it() {
        let at = |pump: f64| {
            pumped(g(42.0), CuringSalt::NO_1, g(1750.0), part(pump))
                .unwrap()
                .ppm()
        };
        for (pump, ppm) in [(0.10, 150.0), (0.12, 180.0), (0.133, 199.5), (0.14, 210.0)] {
            assert!((at(pump) - ppm).abs() < 1e-9, "{pump}");
        }
    }

    /// Atomic weights as IUPAC prints them, from memory; the reading of the European rule is that
    /// 80 mg/kg as ion is about 120 as sodium nitrite.
    #[test]
    fn eighty_of_ion_is_a_hundred_and_twenty_of_salt() {
        let salt = from_ion(Ppm::new(80.0).unwrap()).unwrap();
        assert!((salt.ppm() - 119.98).abs() < 0.005);
        assert!((as_ion(salt).unwrap().ppm() - 80.0).abs() < 1e-12);
    }

    #[test]
    fn a_percent_in_place_of_a_proportion_is_asked_about() {
        for bad in [10.0, 1.0, 100.0] {
            assert!(matches!(
                Proportion::new(bad),
                Err(ScienceError::PercentForProportion { .. })
            ));
        }
        for bad in [0.0, -0.1, 101.0, f64::NAN] {
            assert!(
                matches!(Proportion::new(bad), Err(ScienceError::OutOfRange { .. })),
                "{bad}"
            );
        }
        assert!((gained(g(1000.0), g(1140.0)).unwrap().ratio() - 0.14).abs() < 1e-12);
        assert!(gained(g(1000.0), g(990.0)).is_err());
    }

    #[test]
    fn more_curing_salt_than_meat_is_a_slip() {
        assert!(matches!(
            dry(g(25.0), CuringSalt::NO_1, g(10.0)),
            Err(ScienceError::PartAboveWhole { .. })
        ));
        assert!(dry(g(2.5), CuringSalt::NO_1, Mass::ZERO).is_err());
        assert!(immersed_equilibrium(g(2.5), CuringSalt::NO_1, Mass::ZERO, g(10.0)).is_err());
    }

    proptest! {
        #[test]
        fn ppm_goes_with_the_curing_salt_and_against_the_meat(
            salt in 0.1..50.0_f64, green in 1000.0..1e6_f64, k in 0.1..10.0_f64,
        ) {
            let base = dry(g(salt), CuringSalt::NO_1, g(green)).unwrap().ppm();
            let more = dry(g(salt * k), CuringSalt::NO_1, g(green)).unwrap().ppm();
            let meat = dry(g(salt), CuringSalt::NO_1, g(green * k)).unwrap().ppm();
            prop_assert!((more - base * k).abs() <= 1e-9 * more);
            prop_assert!((meat * k - base).abs() <= 1e-9 * base);
        }

        #[test]
        fn method_two_equals_method_one_at_the_equilibrium_pick_up(
            salt in 0.1..50.0_f64, green in 100.0..1e4_f64, pickle in 100.0..1e4_f64,
        ) {
            // Both are nitrite × share ÷ pickle; at share = pickle ÷ (pickle + green) they are one.
            let two = immersed_equilibrium(g(salt), CuringSalt::NO_1, g(green), g(pickle)).unwrap();
            let one = immersed_pick_up(
                g(salt), CuringSalt::NO_1, g(pickle), part(pickle / (pickle + green)),
            ).unwrap();
            prop_assert!((one.ppm() - two.ppm()).abs() <= 1e-9 * two.ppm());
        }
    }
}
