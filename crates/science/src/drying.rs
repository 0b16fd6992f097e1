//! Drying in the cabinet: two weighings forecast the third.

use units::{Elapsed, Mass};

use crate::ScienceError;
use crate::error::within;

/// How fast a piece dries: the share of its weight it loses in a day, as a rate.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Rate(f64);

impl Rate {
    /// A rate per day of 24 hours.
    ///
    /// # Valid range
    /// Above 0 to 0.5 per day. A hung muscle is 0.01 to 0.04 (common practice); 0.5 is a jerky rack.
    /// # Errors
    /// Outside it.
    pub fn per_day(k: f64) -> Result<Self, ScienceError> {
        within(
            "drying rate",
            "per day",
            k,
            1e-6,
            0.5,
            "weigh again and check both dates",
        )
        .map(Self)
    }

    /// The rate between two weighings of one piece.
    ///
    /// # Method
    /// `k = ln(w1 ÷ w2) ÷ days`, from `w = w0 × e^(−k t)`.
    /// # Valid range
    /// One piece, one cabinet. A piece slows as its outside hardens, so a rate of the first days
    /// forecasts too early a finish: weigh again.
    /// # Source
    /// [PRACTICE](sources::list::PRACTICE): first-order loss.
    /// # Errors
    /// A piece that did not lose; no time between.
    /// # Example
    /// ```
    /// use science::drying::Rate;
    /// use units::{Elapsed, Mass};
    /// let rate = Rate::weighed(
    ///     Mass::grams(358.9)?, Mass::grams(310.0)?, Elapsed::from_days(7.0)?)?;
    /// assert_eq!(format!("{:.4}", rate.k_per_day()), "0.0209");
    /// let done = rate.time_to(Mass::grams(358.9)?, Mass::grams(358.9 * 0.70)?)?;
    /// assert_eq!(format!("{:.1}", done.days()), "17.0");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn weighed(before: Mass, after: Mass, between: Elapsed) -> Result<Self, ScienceError> {
        falling(before, after)?;
        if between <= Elapsed::ZERO {
            return Err(ScienceError::None {
                what: "time between the weighings",
            });
        }
        Self::per_day((before.g() / after.g()).ln() / between.days())
    }

    /// Per day of 24 hours.
    #[must_use]
    pub fn k_per_day(self) -> f64 {
        self.0
    }

    /// The weight after a time.
    ///
    /// # Errors
    /// None in practice: a part of a valid weight is one.
    pub fn weight_after(self, start: Mass, time: Elapsed) -> Result<Mass, ScienceError> {
        Ok(start.scaled((-self.0 * time.days()).exp())?)
    }

    /// How long from `start` to `target`.
    ///
    /// # Errors
    /// A target not below the start, or of nothing.
    pub fn time_to(self, start: Mass, target: Mass) -> Result<Elapsed, ScienceError> {
        falling(start, target)?;
        Ok(Elapsed::from_days((start.g() / target.g()).ln() / self.0)?)
    }
}

fn falling(before: Mass, after: Mass) -> Result<(), ScienceError> {
    if after < before && after > Mass::ZERO {
        return Ok(());
    }
    Err(ScienceError::NotDrying {
        before_g: before.g(),
        after_g: after.g(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    fn days(days: f64) -> Elapsed {
        Elapsed::from_days(days).unwrap()
    }

    /// A duck breast worked by hand: 30 % of hang weight in 14 days is k 0.02548.
    #[test]
    fn the_breast_follows_its_curve() {
        let rate = Rate::weighed(g(100.0), g(70.0), days(14.0)).unwrap();
        assert!((rate.k_per_day() - 0.025_48).abs() < 5e-6);
        for (day, weight) in [
            (3.0, 332.5),
            (7.0, 300.3),
            (10.0, 278.2),
            (14.0, 251.2),
            (16.0, 238.7),
        ] {
            let at = rate.weight_after(g(358.9), days(day)).unwrap();
            assert!((at.g() - weight).abs() < 0.05, "day {day}: {at}");
        }
        let slow = Rate::weighed(g(358.9), g(310.0), days(7.0)).unwrap();
        let class = slow.weight_after(g(358.9), days(14.0)).unwrap();
        assert!((1.0 - class.g() / 358.9 - 0.254).abs() < 5e-4);
    }

    #[test]
    fn a_piece_that_gained_is_another_piece() {
        assert!(matches!(
            Rate::weighed(g(310.0), g(358.9), days(7.0)),
            Err(ScienceError::NotDrying { .. })
        ));
        assert!(Rate::weighed(g(310.0), g(300.0), Elapsed::ZERO).is_err());
        assert!(
            Rate::per_day(0.025)
                .unwrap()
                .time_to(g(300.0), Mass::ZERO)
                .is_err()
        );
        assert!(Rate::weighed(g(310.0), g(3.1), days(1.0)).is_err());
    }

    proptest! {
        #[test]
        fn the_time_to_a_weight_reaches_it(k in 0.005..0.1_f64, part in 0.3..0.99_f64, w in 50.0..1e4_f64) {
            let rate = Rate::per_day(k).unwrap();
            let time = rate.time_to(g(w), g(w * part)).unwrap();
            let at = rate.weight_after(g(w), time).unwrap();
            // Times are whole seconds: half of one at the fastest rate here is 6e-7 of the weight.
            prop_assert!((at.g() / (w * part) - 1.0).abs() < 1e-6);
        }

        #[test]
        fn longer_is_never_heavier(k in 0.005..0.1_f64, a in 0.0..30.0_f64, more in 0.0..30.0_f64) {
            let rate = Rate::per_day(k).unwrap();
            let (early, late) = (
                rate.weight_after(g(300.0), days(a)).unwrap(),
                rate.weight_after(g(300.0), days(a + more)).unwrap(),
            );
            prop_assert!(late <= early);
        }
    }
}
