//! The pellicle: a wet surface drying in moving air before smoke.
//!
//! How wet a drained fillet is, nobody has published that we know of: the film is an argument. What ends
//! it is touch, tacky and dry to the glove, not a clock.

use units::{Elapsed, Mass, Temperature};

use crate::ScienceError;
use crate::error::within;
use crate::heat::HeatTransfer;

/// Latent heat of water at 0 °C, kJ/kg, and what it loses a degree.
/// [MEMORY](sources::list::MEMORY), from memory: the steam table's 2501 at 0 and 2407 at 40 °C. The 2.326 of
/// the psychrometric formula belongs to that formula.
const LATENT_0C_KJ_KG: f64 = 2501.0;
const LATENT_FALL_KJ_KG_K: f64 = 2.361;

/// How free the surface gives its water up: 1 is a wet film, less is a skin that has begun to dry or was cooked.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct SurfaceFactor(f64);

impl SurfaceFactor {
    /// A wet film.
    pub const WET: Self = Self(1.0);

    /// A part of what a wet film gives up.
    ///
    /// # Valid range
    /// 0.01 to 1. It scales the whole rate, which is rough: a drying surface also warms.
    /// # Errors
    /// Outside it.
    pub fn new(part: f64) -> Result<Self, ScienceError> {
        within(
            "surface factor",
            "",
            part,
            0.01,
            1.0,
            "1 is a wet film; weigh a tray to find another",
        )
        .map(Self)
    }
}

/// What a surface loses, g/(m² h).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct SurfaceLoss(f64);

impl SurfaceLoss {
    /// Loss of a surface in air of a known wet bulb.
    ///
    /// # Method
    /// `m″ = f h (T − T_wb) ÷ h_fg(T_wb)`: a wet surface sits at the wet bulb, all heat goes into water leaving.
    /// # Valid range
    /// Air 0 to 80 °C, wet bulb −5 °C to the air, heat transfer 2 to 100 W/(m² K). No radiation, no heat from the piece.
    /// # Source
    /// [WET_SURFACE](sources::list::WET_SURFACE), computed; latent heat from memory; `h` is ± 30 % at
    /// best (ASHRAE 1123-RP, abstract read).
    /// # Errors
    /// Outside the range.
    /// # Example
    /// ```
    /// use science::heat::HeatTransfer;
    /// use science::pellicle::{SurfaceFactor, SurfaceLoss};
    /// use units::Temperature;
    /// let fridge = SurfaceLoss::of_air(
    ///     Temperature::celsius(4.0)?, Temperature::celsius(2.646)?,
    ///     HeatTransfer::w_per_m2_k(8.0)?, SurfaceFactor::WET)?;
    /// assert_eq!(format!("{:.1}", fridge.g_per_m2_h()), "15.6");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_air(
        air: Temperature,
        wet_bulb: Temperature,
        transfer: HeatTransfer,
        surface: SurfaceFactor,
    ) -> Result<Self, ScienceError> {
        let t = within(
            "drying air",
            "°C",
            air.c(),
            0.0,
            80.0,
            "this is for drying, not for freezing or roasting",
        )?;
        let wet = within(
            "wet bulb",
            "°C",
            wet_bulb.c(),
            -5.0,
            t,
            "a wet bulb is never above the air: read both again",
        )?;
        let h = within(
            "heat transfer to air",
            "W/(m² K)",
            transfer.value(),
            2.0,
            100.0,
            "air gives 5 to 10 in a still fridge, 10 to 25 with a fan",
        )?;
        let latent_j_per_g = LATENT_0C_KJ_KG - LATENT_FALL_KJ_KG_K * wet;
        Ok(Self(surface.0 * h * (t - wet) * 3600.0 / latent_j_per_g))
    }

    /// In g/(m² h).
    #[must_use]
    pub fn g_per_m2_h(self) -> f64 {
        self.0
    }

    /// What an area loses in a time, at an even rate.
    ///
    /// # Valid range
    /// The first stage, while a film is there; afterwards less.
    /// # Errors
    /// A negative area.
    pub fn loss(self, area_m2: f64, time: Elapsed) -> Result<Mass, ScienceError> {
        Ok(Mass::grams(self.0 * area_m2 * time.hours())?)
    }

    /// How long until a film is gone.
    ///
    /// # Method
    /// `film ÷ m″`.
    /// # Valid range
    /// A film of 10 to 1000 g/m²: 0.01 to 1 mm of water left on the surface.
    /// # Errors
    /// Outside it; air so damp that nothing leaves.
    pub fn time_for_film(self, film_g_per_m2: f64) -> Result<Elapsed, ScienceError> {
        let film = within(
            "film of water",
            "g/m²",
            film_g_per_m2,
            10.0,
            1000.0,
            "100 g/m² is a tenth of a millimetre: weigh a tray before and after patting dry",
        )?;
        if self.0 <= 0.0 {
            return Err(ScienceError::None {
                what: "drying power of the air",
            });
        }
        Ok(Elapsed::from_hours(film / self.0)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn c(c: f64) -> Temperature {
        Temperature::celsius(c).unwrap()
    }

    fn loss(t: f64, wet: f64, h: f64) -> SurfaceLoss {
        SurfaceLoss::of_air(
            c(t),
            c(wet),
            HeatTransfer::w_per_m2_k(h).unwrap(),
            SurfaceFactor::WET,
        )
        .unwrap()
    }

    /// PsychroLib 2.5.0 for the wet bulb, printed to 0.001 °C: half of that on a depression of 1.354 °C is
    /// 0.04 %, and the latent heats differ by less than 0.1 %.
    const WET_BULB_PRINTED: f64 = 1e-3;

    #[test]
    fn wet_surfaces_lose_what_their_wet_bulb_says() {
        for (t, wet, h, grams) in [
            (4.0, 2.646, 8.0, 15.64),
            (10.0, 6.943, 10.0, 44.30),
            (25.0, 17.889, 15.0, 156.2),
            (30.0, 23.812, 20.0, 182.3),
            (65.0, 38.240, 20.0, 799.5),
        ] {
            let found = loss(t, wet, h).g_per_m2_h();
            assert!(
                (found / grams - 1.0).abs() < WET_BULB_PRINTED,
                "{t}: {found}"
            );
        }
    }

    /// Common practice, no source: a pellicle in moving cold air takes at least an hour. At the hard end
    /// (4 °C, 60 %, wet bulb 1.236 °C by hand, h 25) a film of a tenth of a millimetre takes just that;
    /// a thinner film is outside the trade's hour, and its thickness was never measured.
    #[test]
    fn a_film_of_a_tenth_of_a_millimetre_takes_the_trades_hour() {
        let hard = loss(4.0, 1.236, 25.0);
        assert!(hard.time_for_film(100.0).unwrap().hours() >= 1.0);
        assert!(hard.time_for_film(50.0).unwrap().hours() < 1.0);
        // Mid-range fan fridge, 3 °C and 70 % (wet bulb 1.03 °C by hand).
        let usual = loss(3.0, 1.03, 15.0).time_for_film(100.0).unwrap().hours();
        assert!((1.0..4.0).contains(&usual), "{usual}");
    }

    #[test]
    fn impossible_air_is_refused() {
        let h = HeatTransfer::w_per_m2_k(10.0).unwrap();
        assert!(SurfaceLoss::of_air(c(4.0), c(5.0), h, SurfaceFactor::WET).is_err());
        assert!(SurfaceLoss::of_air(c(90.0), c(5.0), h, SurfaceFactor::WET).is_err());
        assert!(loss(4.0, 4.0, 10.0).time_for_film(100.0).is_err());
        let water = HeatTransfer::w_per_m2_k(500.0).unwrap();
        assert!(SurfaceLoss::of_air(c(4.0), c(2.0), water, SurfaceFactor::WET).is_err());
        assert!(SurfaceFactor::new(1.5).is_err());
        assert!(
            loss(4.0, 2.0, 10.0)
                .loss(-1.0, Elapsed::ZERO.scaled(1.0).unwrap())
                .is_ok()
        );
        assert!(
            loss(4.0, 2.0, 10.0)
                .loss(-1.0, Elapsed::from_hours(1.0).unwrap())
                .is_err()
        );
    }

    proptest! {
        #[test]
        fn drier_air_more_wind_and_a_wetter_surface_never_lose_less(
            t in 1.0..60.0_f64, gap in 0.1..5.0_f64, more in 0.0..1.0_f64, h in 5.0..40.0_f64, part in 0.1..0.9_f64,
        ) {
            let base = loss(t, t - gap, h).g_per_m2_h();
            // A lower wet bulb takes a little more heat a gram: less than the gap it opens.
            prop_assert!(loss(t, t - gap - more.min(t + 5.0 - gap), h).g_per_m2_h() >= base);
            prop_assert!(loss(t, t - gap, h * 1.1).g_per_m2_h() >= base);
            let drier = SurfaceLoss::of_air(
                c(t), c(t - gap), HeatTransfer::w_per_m2_k(h).unwrap(), SurfaceFactor::new(part).unwrap(),
            ).unwrap();
            prop_assert!((drier.g_per_m2_h() - part * base).abs() < 1e-9);
        }

        #[test]
        fn two_spells_lose_what_one_does(area in 0.01..5.0_f64, a in 0..20_000_i64, b in 0..20_000_i64) {
            let rate = loss(4.0, 2.0, 15.0);
            let s = |s| Elapsed::from_seconds(s).unwrap();
            let apart = rate.loss(area, s(a)).unwrap().g() + rate.loss(area, s(b)).unwrap().g();
            prop_assert!((apart - rate.loss(area, s(a + b)).unwrap().g()).abs() < 1e-9);
        }
    }
}
