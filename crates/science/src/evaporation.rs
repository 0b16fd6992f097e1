//! Boiling down: water leaves by the surface of the pan and the time, not by the size of the batch.

use std::f64::consts::PI;
use units::{Elapsed, Length, Mass};

use crate::ScienceError;
use crate::error::within;

/// What a pan loses, in grams per square centimetre of surface and hour. It belongs to one burner
/// and one boil: measure it once by weighing a pan before and after.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Rate(f64);

/// Least and most of a measured rate, g/(cm² h). A gentle simmer is a few tenths; a rolling boil of
/// 3 kW on a 200 mm pan boils off 4.8 kg/h, 15 g/(cm² h) (latent heat 2257 kJ/kg, from memory).
const RATE_RANGE: (f64, f64) = (0.001, 20.0);

impl Rate {
    /// A rate in g/(cm² h).
    ///
    /// # Valid range
    /// 0.001 to 20.
    /// # Errors
    /// Outside it.
    pub fn new(g_per_cm2_h: f64) -> Result<Self, ScienceError> {
        within(
            "evaporation",
            "g/(cm² h)",
            g_per_cm2_h,
            RATE_RANGE.0,
            RATE_RANGE.1,
            "weigh the pan again; check the diameter and the time",
        )
        .map(Self)
    }

    /// The rate behind a loss that was weighed.
    ///
    /// # Method
    /// `loss ÷ (pan area × time)`, a round pan of inner `diameter`.
    /// # Source
    /// [PRACTICE](sources::list::PRACTICE): loss goes with surface and time at an equal boil.
    /// # Errors
    /// No time, no pan, or a rate outside the range.
    /// # Example
    /// ```
    /// use science::evaporation::Rate;
    /// use units::{Elapsed, Length, Mass};
    /// let rate = Rate::weighed(
    ///     Mass::grams(50.0)?, Length::millimetres(200.0)?, Elapsed::from_minutes(45.0)?)?;
    /// assert_eq!(format!("{:.4}", rate.g_per_cm2_h()), "0.2122");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn weighed(loss: Mass, diameter: Length, time: Elapsed) -> Result<Self, ScienceError> {
        let reach = area_cm2(diameter)? * time.hours();
        if reach <= 0.0 {
            return Err(ScienceError::None {
                what: "time at the boil",
            });
        }
        Self::new(loss.g() / reach)
    }

    /// In g/(cm² h).
    #[must_use]
    pub fn g_per_cm2_h(self) -> f64 {
        self.0
    }

    /// What a pan loses in a time.
    ///
    /// # Errors
    /// A pan outside 50 to 2000 mm.
    pub fn loss(self, diameter: Length, time: Elapsed) -> Result<Mass, ScienceError> {
        Ok(Mass::grams(self.0 * area_cm2(diameter)? * time.hours())?)
    }

    /// How long a pan takes to lose `loss`.
    ///
    /// # Errors
    /// A pan outside 50 to 2000 mm.
    pub fn time_for(self, loss: Mass, diameter: Length) -> Result<Elapsed, ScienceError> {
        Ok(Elapsed::from_hours(
            loss.g() / (self.0 * area_cm2(diameter)?),
        )?)
    }
}

fn area_cm2(diameter: Length) -> Result<f64, ScienceError> {
    let mm = within(
        "pan diameter",
        "mm",
        diameter.mm(),
        50.0,
        2000.0,
        "measure across the inside",
    )?;
    Ok(PI * (mm / 20.0).powi(2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(mm: f64) -> Length {
        Length::millimetres(mm).unwrap()
    }

    fn min(minutes: f64) -> Elapsed {
        Elapsed::from_minutes(minutes).unwrap()
    }

    /// Worked by hand: 50 g in 45 min from a 200 mm pan; the same boil in a 360 mm pan.
    #[test]
    fn a_wider_pan_loses_more_but_not_as_much_as_the_batch_grows() {
        let rate = Rate::weighed(Mass::grams(50.0).unwrap(), mm(200.0), min(45.0)).unwrap();
        assert!((rate.g_per_cm2_h() - 0.2122).abs() < 5e-5);
        assert!((rate.loss(mm(360.0), min(45.0)).unwrap().g() - 162.0).abs() < 0.05);
        let long = rate
            .time_for(Mass::grams(335.0).unwrap(), mm(360.0))
            .unwrap();
        assert!((long.minutes() - 93.0).abs() < 0.1, "{long}");
    }

    #[test]
    fn pans_and_rates_that_cannot_be_are_refused() {
        let loss = Mass::grams(50.0).unwrap();
        assert!(Rate::weighed(loss, mm(200.0), Elapsed::ZERO).is_err());
        assert!(Rate::weighed(loss, mm(20.0), min(45.0)).is_err());
        assert!(
            Rate::new(0.0).is_err() && Rate::new(25.0).is_err() && Rate::new(f64::NAN).is_err()
        );
    }

    proptest! {
        #[test]
        fn the_time_for_a_loss_loses_it(loss in 10.0..1e4_f64, d in 100.0..600.0_f64, r in 0.05..5.0_f64) {
            let rate = Rate::new(r).unwrap();
            let time = rate.time_for(Mass::grams(loss).unwrap(), mm(d)).unwrap();
            let again = rate.loss(mm(d), time).unwrap().g();
            // Times are whole seconds: half a second of boil is the tolerance.
            let half_second = r * PI * (d / 20.0).powi(2) / 7200.0;
            prop_assert!((again - loss).abs() <= half_second + 1e-9);
        }
    }
}
