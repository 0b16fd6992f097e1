//! Brine: salt in water, its strength in four ways of saying it, and how to change it.

use units::{Base, Fraction, Mass, Temperature};

use crate::ScienceError;
use crate::error::within;

/// Percent salt of a saturated brine at 60 °F: the 100 of the salometer.
///
/// # Source
/// [SALOMETER](sources::list::SALOMETER), read. A variant built on 25 % and a 38 °F instrument exist too.
pub const SATURATED_PCT: f64 = 26.395;

/// Heat that melts ice, in cal/g: one gram takes up as much as 80 g of water cooled by 1 °C.
///
/// # Source
/// [MEMORY](sources::list::MEMORY): 333.6 kJ/kg over 4.18 kJ/(kg K) is 79.8; the trade says 80.
pub const ICE_CAL_PER_G: f64 = 80.0;

/// How strong a brine is: percent by weight of salt and water that is salt.
///
/// Sugar, spice and vegetables are not counted in the base. "100 g per litre" is therefore not
/// 10 % but about 9.09 %.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Strength(f64);

impl Strength {
    /// A strength in percent: `salt ÷ (salt + water) × 100`.
    ///
    /// # Valid range
    /// 0 to [`SATURATED_PCT`] at 60 °F.
    /// # Errors
    /// [`ScienceError::Saturated`] above; NaN and negatives.
    pub fn percent(pct: f64) -> Result<Self, ScienceError> {
        if pct > SATURATED_PCT {
            return Err(ScienceError::Saturated {
                found_pct: pct,
                most_pct: SATURATED_PCT,
            });
        }
        within(
            "brine strength",
            "%",
            pct,
            0.0,
            SATURATED_PCT,
            "check the sign and the unit",
        )
        .map(Self)
    }

    /// The strength of `salt` dissolved in `water`.
    ///
    /// # Errors
    /// No water; more salt than it holds.
    /// # Example
    /// ```
    /// use science::brine::Strength;
    /// use units::Mass;
    /// let brine = Strength::of(Mass::grams(100.0)?, Mass::kilograms(1.0)?)?;
    /// assert_eq!(format!("{:.2}", brine.pct()), "9.09");
    /// let two_cups_in_a_litre = Strength::of(Mass::grams(576.0)?, Mass::kilograms(1.0)?).unwrap_err();
    /// assert!(two_cups_in_a_litre.to_string().starts_with("brine: found 36.55 % salt; expected at most 26.395 %"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(salt: Mass, water: Mass) -> Result<Self, ScienceError> {
        if water <= Mass::ZERO {
            return Err(ScienceError::None { what: "water" });
        }
        Self::percent(salt.g() / (salt.g() + water.g()) * 100.0)
    }

    /// From degrees of the salometer (°SAL): percent of saturation at 60 °F.
    ///
    /// # Method
    /// `% = °SAL × 26.395 ÷ 100`
    /// # Valid range
    /// 0 to 100 °SAL; read before sugar goes in, which floats the hydrometer too (common practice).
    /// # Source
    /// [SALOMETER](sources::list::SALOMETER), read.
    /// # Errors
    /// Outside 0 to 100.
    pub fn from_salometer(degrees: f64) -> Result<Self, ScienceError> {
        let degrees = within(
            "salometer",
            "°SAL",
            degrees,
            0.0,
            100.0,
            "100 is a saturated brine: check the instrument and the unit",
        )?;
        Ok(Self(degrees * SATURATED_PCT / 100.0))
    }

    /// From grams of salt per kilogram of water.
    ///
    /// # Errors
    /// More than water holds, about 358.6 g.
    pub fn from_g_per_kg_water(grams: f64) -> Result<Self, ScienceError> {
        Self::of(Mass::grams(grams)?, Mass::kilograms(1.0)?)
    }

    /// In percent of salt and water.
    #[must_use]
    pub fn pct(self) -> f64 {
        self.0
    }

    /// As a plain ratio.
    #[must_use]
    pub fn ratio(self) -> f64 {
        self.0 / 100.0
    }

    /// In degrees of the salometer, °SAL at 60 °F.
    #[must_use]
    pub fn salometer(self) -> f64 {
        self.0 / SATURATED_PCT * 100.0
    }

    /// Grams of salt for each kilogram of water.
    ///
    /// # Example
    /// ```
    /// let brine = science::brine::Strength::from_salometer(60.0)?;
    /// assert_eq!(format!("{:.1}", brine.g_per_kg_water()), "188.2");
    /// # Ok::<(), science::ScienceError>(())
    /// ```
    #[must_use]
    pub fn g_per_kg_water(self) -> f64 {
        self.ratio() / (1.0 - self.ratio()) * 1000.0
    }

    /// The salt that makes `water` this strong.
    ///
    /// # Errors
    /// A weight beyond what [`Mass`] takes.
    pub fn salt_for(self, water: Mass) -> Result<Mass, ScienceError> {
        Ok(water.scaled(self.g_per_kg_water() / 1000.0)?)
    }
}

/// Water to add so that `brine` of strength `from` becomes `to`, keeping all its salt.
///
/// # Method
/// Mass balance: `m × w1 ÷ w2 − m`.
/// # Valid range
/// A brine of salt and water only. With sugar in it use [`water_to_add`] on its salt and water.
/// # Errors
/// [`ScienceError::NotWeaker`] when the target is not below; a target of nothing.
/// # Example
/// ```
/// use science::brine::{Strength, dilution};
/// use units::Mass;
/// let (is, wanted) = (Strength::percent(22.4)?, Strength::percent(12.3)?);
/// let water = dilution(Mass::grams(2576.0)?, is, wanted)?;
/// assert_eq!(water.g().round(), 2115.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn dilution(brine: Mass, from: Strength, to: Strength) -> Result<Mass, ScienceError> {
    let salt = brine.scaled(from.ratio())?;
    water_to_add(salt, brine.checked_sub(salt)?, to)
}

/// Water to add to `salt` in `water` to come down to `to`.
///
/// # Errors
/// As [`dilution`].
pub fn water_to_add(salt: Mass, water: Mass, to: Strength) -> Result<Mass, ScienceError> {
    let from = Strength::of(salt, water)?;
    if to >= from || to.ratio() <= 0.0 {
        return Err(ScienceError::NotWeaker {
            from_pct: from.pct(),
            to_pct: to.pct(),
        });
    }
    let whole = salt.scaled(1.0 / to.ratio())?;
    Ok(whole.checked_sub(salt + water)?)
}

/// Salt to add to `salt` in `water` to come up to `to`.
///
/// # Method
/// Mass balance: the water stays, the salt becomes `water × w2 ÷ (1 − w2)`.
/// # Errors
/// [`ScienceError::NotStronger`] when the target is not above.
pub fn salt_to_add(salt: Mass, water: Mass, to: Strength) -> Result<Mass, ScienceError> {
    let from = Strength::of(salt, water)?;
    if to <= from {
        return Err(ScienceError::NotStronger {
            from_pct: from.pct(),
            to_pct: to.pct(),
        });
    }
    Ok(to.salt_for(water)?.checked_sub(salt)?)
}

/// Water and ice that together make the water of a brine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IceSplit {
    /// Water to dissolve the salt in.
    pub water: Mass,
    /// Ice to finish with.
    pub ice: Mass,
}

/// Splits `total` water into tap water and ice so that the mix comes to `wanted`.
///
/// # Method
/// `T_mix = (m_w × T − 80 × m_ice) ÷ (m_w + m_ice)`, solved for the ice; ice at 0 °C, all of it melts.
/// # Valid range
/// Tap water 0 to 60 °C, mix 0 °C to the tap. The heat of solution, the tub and the room are left out,
/// so the mix comes out a little off: measure it.
/// # Source
/// [MASS_BALANCE](sources::list::MASS_BALANCE) of heat, with [`ICE_CAL_PER_G`].
/// # Errors
/// Outside the range.
/// # Example
/// ```
/// use science::brine::ice_split;
/// use units::{Mass, Temperature};
/// let split = ice_split(Mass::kilograms(2.0)?, Temperature::celsius(20.0)?, Temperature::celsius(4.0)?)?;
/// assert_eq!(split.ice.g().round(), 320.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn ice_split(
    total: Mass,
    tap: Temperature,
    wanted: Temperature,
) -> Result<IceSplit, ScienceError> {
    let tap = within(
        "tap water",
        "°C",
        tap.c(),
        0.0,
        60.0,
        "let it cool, or check the unit",
    )?;
    let wanted = within(
        "temperature wanted of the mix",
        "°C",
        wanted.c(),
        0.0,
        tap,
        "ice brings it down to 0 °C at most and never up",
    )?;
    let ice = total.scaled((tap - wanted) / (tap + ICE_CAL_PER_G))?;
    Ok(IceSplit {
        water: total.checked_sub(ice)?,
        ice,
    })
}

/// Salt for an equilibrium brine: a percent of meat and water together.
///
/// # Method
/// `salt = (meat + water) × %`; in the end meat and brine are equally salty.
/// # Valid range
/// `of_meat_and_water` is a share of the base [`meat_and_water`].
/// # Source
/// [PRACTICE](sources::list::PRACTICE): 1.2 to 1.8 % is usual; the arithmetic is mass balance.
/// # Errors
/// Another base.
pub fn equilibrium_salt(
    meat: Mass,
    water: Mass,
    of_meat_and_water: &Fraction,
) -> Result<Mass, ScienceError> {
    Ok(of_meat_and_water.of(meat + water, &meat_and_water()?)?)
}

/// The base of an equilibrium brine's percentage.
///
/// # Errors
/// None in practice: the name is a constant.
pub fn meat_and_water() -> Result<Base, ScienceError> {
    Ok(Base::new("meat and water together")?)
}

/// Salt in the water phase once brine and food have come to one strength.
///
/// # Method
/// `S ÷ (S + food water + brine water)`: an upper bound, all salt counted, none lost.
/// # Errors
/// No water at all; above saturation.
pub fn equilibrium_water_phase(
    salt: Mass,
    brine_water: Mass,
    food_water: Mass,
) -> Result<Strength, ScienceError> {
    Strength::of(salt, brine_water + food_water)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    fn strong(pct: f64) -> Strength {
        Strength::percent(pct).unwrap()
    }

    /// The salometer page, read: 100 °SAL is 26.395 % at 60 °F. The second column are its percents
    /// to three decimals; the third is pounds of salt per US gallon of water worked from them by a
    /// geochemistry program (PHREEQC 3.8.6, pitzer.dat, 15.56 °C).
    #[test]
    fn degrees_of_the_salometer_are_the_tables() {
        let table = [
            (20.0, 5.279, 0.465),
            (40.0, 10.558, 0.984),
            (60.0, 15.837, 1.569),
            (80.0, 21.116, 2.232),
            (100.0, 26.395, 2.990),
        ];
        // UCUM: the pound and the US gallon are exact. Water at 60 °F, 0.999 01 g/mL, from memory.
        let g_per_kg = |lb_per_gal: f64| lb_per_gal * 453.592_37 / (3.785_411_784 * 0.999_01);
        for (degrees, pct, lb_per_gal) in table {
            let brine = Strength::from_salometer(degrees).unwrap();
            assert!((brine.pct() - pct).abs() < 5e-4, "{degrees}");
            assert!((brine.salometer() - degrees).abs() < 1e-12);
            // The pounds are printed to three decimals: half a thousandth of a pound is 0.06 g/kg.
            assert!(
                (brine.g_per_kg_water() - g_per_kg(lb_per_gal)).abs() < 0.12,
                "{degrees}"
            );
        }
        // As the trade's own card has them, rounded to the gram.
        for (degrees, grams) in [(30.0, 86.0), (40.0, 118.0), (60.0, 188.0), (80.0, 268.0)] {
            let brine = Strength::from_salometer(degrees).unwrap();
            assert!((brine.g_per_kg_water() - grams).abs() < 0.5, "{degrees}");
        }
        assert!(Strength::from_salometer(100.1).is_err());
        assert!(Strength::from_salometer(-1.0).is_err());
    }

    /// Halite solubility, IPhreeqc 3.8.6 with pitzer.dat: 35.72 g/100 g water at 20 °C, stated good to
    /// 1 %. The salometer's 26.395 % is 35.86.
    #[test]
    fn saturation_agrees_with_a_geochemistry_program() {
        let per_100 = strong(SATURATED_PCT).g_per_kg_water() / 10.0;
        assert!((per_100 / 35.72 - 1.0).abs() < 0.01, "{per_100}");
    }

    /// Two rules of thumb, common practice, no source.
    #[test]
    fn four_litres_with_a_cup_of_salt_is_seven_or_half_of_it() {
        // A US cup of table salt 288 g, of light flake 140 g (commercial pages, they disagree).
        let table = Strength::of(g(288.0), g(4000.0)).unwrap().pct();
        let flake = Strength::of(g(140.0), g(4000.0)).unwrap().pct();
        assert!((6.0..7.0).contains(&table), "{table}");
        assert!((flake / table - 0.5).abs() < 0.02, "{flake} of {table}");
    }

    #[test]
    fn a_hundred_grams_a_litre_is_nine_percent_and_a_true_tenth_is_111() {
        assert!((Strength::of(g(100.0), g(1000.0)).unwrap().pct() - 9.0909).abs() < 1e-4);
        assert!((strong(10.0).g_per_kg_water() - 111.11).abs() < 0.01);
    }

    #[test]
    fn the_wrong_salt_by_the_cup_is_thinned_with_two_litres() {
        // 2 cups in 2 L: 576 g and 280 g, worked by hand: 576 × 2280 ÷ 280 − 2576 = 2114.3.
        let is = Strength::of(g(576.0), g(2000.0)).unwrap();
        let meant = Strength::of(g(280.0), g(2000.0)).unwrap();
        assert!((is.pct() - 22.36).abs() < 0.005 && (meant.pct() - 12.28).abs() < 0.005);
        let water = dilution(g(2576.0), is, meant).unwrap();
        assert!((water.g() - 2114.286).abs() < 1e-3, "{water}");
        assert!(matches!(
            dilution(g(2576.0), meant, is),
            Err(ScienceError::NotWeaker { .. })
        ));
        assert!(dilution(g(1.0), is, strong(0.0)).is_err());
    }

    #[test]
    fn an_equilibrium_brine_counts_the_water_of_the_meat() {
        // 50 g salt, 1000 g water, 1000 g food of 70 % water, by hand: 50 / 1750 = 2.8571 %.
        let wps = equilibrium_water_phase(g(50.0), g(1000.0), g(700.0)).unwrap();
        assert!((wps.pct() - 2.8571).abs() < 1e-4);
        let share = Fraction::percent(1.5, meat_and_water().unwrap()).unwrap();
        assert!((equilibrium_salt(g(2000.0), g(1000.0), &share).unwrap().g() - 45.0).abs() < 1e-9);
        let other = Fraction::percent(1.5, Base::new("green weight").unwrap()).unwrap();
        assert!(equilibrium_salt(g(2000.0), g(1000.0), &other).is_err());
    }

    #[test]
    fn ice_never_warms() {
        let c = |c| Temperature::celsius(c).unwrap();
        assert!(ice_split(g(1000.0), c(10.0), c(12.0)).is_err());
        assert!(ice_split(g(1000.0), c(10.0), c(-1.0)).is_err());
        assert!(ice_split(g(1000.0), c(80.0), c(4.0)).is_err());
        assert_eq!(
            ice_split(g(1000.0), c(4.0), c(4.0)).unwrap().ice,
            Mass::ZERO
        );
    }

    proptest! {
        #[test]
        fn thinning_then_strengthening_gives_the_strength_back(
            salt in 10.0..250.0_f64, part in 0.05..0.95_f64,
        ) {
            let (salt, water) = (g(salt), g(1000.0));
            let from = Strength::of(salt, water).unwrap();
            let to = strong(from.pct() * part);
            let more = water_to_add(salt, water, to).unwrap();
            let thin = Strength::of(salt, water + more).unwrap();
            prop_assert!((thin.pct() - to.pct()).abs() < 1e-9);
            let extra = salt_to_add(salt, water + more, from).unwrap();
            let again = Strength::of(salt + extra, water + more).unwrap();
            prop_assert!((again.pct() - from.pct()).abs() < 1e-9);
        }

        #[test]
        fn strength_survives_every_way_of_saying_it(pct in 0.01..26.39_f64) {
            let brine = strong(pct);
            let sal = Strength::from_salometer(brine.salometer()).unwrap();
            let kg = Strength::from_g_per_kg_water(brine.g_per_kg_water()).unwrap();
            prop_assert!((sal.pct() - pct).abs() < 1e-9 && (kg.pct() - pct).abs() < 1e-9);
        }

        #[test]
        fn the_mix_balances_its_heat(tap in 1.0..60.0_f64, part in 0.0..1.0_f64, total in 1.0..1e5_f64) {
            let wanted = tap * part;
            let split = ice_split(
                g(total), Temperature::celsius(tap).unwrap(), Temperature::celsius(wanted).unwrap(),
            ).unwrap();
            let mix = (split.water.g() * tap - ICE_CAL_PER_G * split.ice.g()) / total;
            prop_assert!((mix - wanted).abs() < 1e-9);
        }
    }
}
