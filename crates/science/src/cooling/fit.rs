//! One time constant through several readings of a core, and how well it carries them.

use units::{Elapsed, Temperature};

use super::TimeConstant;
use crate::ScienceError;

/// Rounds of the fit; three or four do.
const ROUNDS: usize = 100;
/// Settled when the rate moves by less than this part of itself.
const SETTLED: f64 = 1e-13;
/// Fewest readings that can contradict the law: two always lie on it.
pub const LEAST_READINGS: usize = 3;

/// A fall towards the air fitted to readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoolingFit {
    /// The time constant.
    pub constant: TimeConstant,
    /// Where the fitted curve stands at the first reading.
    pub start: Temperature,
    /// Standard deviation of the readings around the curve, K; what is left when two figures are fitted.
    pub scatter_k: f64,
    /// The furthest a reading lies off the curve, K, above it positive.
    pub furthest_k: f64,
}

impl CoolingFit {
    /// The curve through readings of one core in one air, times counted from anywhere, in rising order.
    ///
    /// # Method
    /// `T = air + A e^(−t ÷ τ)` by least squares in the temperatures: straight line through
    /// `ln (T − air)`, weighted, then Gauss and Newton.
    /// # Valid range
    /// At least [`LEAST_READINGS`], all above the air. What the curve says beyond the last reading is a
    /// forecast; it holds while air, surface and stirring stay as they were.
    /// # Source
    /// Newton's law of cooling, [CONDUCTION](sources::list::CONDUCTION), from memory.
    /// # Errors
    /// Too few readings; two at one time or out of order; one not above the air; no fall.
    /// # Example
    /// ```
    /// use science::cooling::CoolingFit;
    /// use units::{Elapsed, Temperature};
    /// let c = |c| Temperature::celsius(c);
    /// let readings = [(0.0, 57.0), (30.0, 44.0), (60.0, 34.0)];
    /// let readings: Vec<_> = readings
    ///     .into_iter()
    ///     .map(|(min, t)| Ok((Elapsed::from_minutes(min)?, c(t)?)))
    ///     .collect::<Result<_, units::QuantityError>>()?;
    /// let fit = CoolingFit::through(&readings, c(3.0)?)?;
    /// assert_eq!(format!("{:.0} min, off by {:.1} K", fit.constant.time()?.minutes(), fit.furthest_k.abs()),
    ///     "108 min, off by 0.1 K");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn through(
        readings: &[(Elapsed, Temperature)],
        air: Temperature,
    ) -> Result<Self, ScienceError> {
        if readings.len() < LEAST_READINGS {
            return Err(ScienceError::TooFew {
                what: "readings of the core",
                found: readings.len(),
                least: LEAST_READINGS,
            });
        }
        let (Some(first), Some(last)) = (readings.first(), readings.last()) else {
            return Err(ScienceError::None { what: "readings" });
        };
        if readings.windows(2).any(|pair| pair[1].0 <= pair[0].0) {
            return Err(ScienceError::None {
                what: "time between two readings",
            });
        }
        if last.1 >= first.1 || readings.iter().any(|(_, t)| *t <= air) {
            return Err(ScienceError::None {
                what: "fall of the core towards air colder than every reading",
            });
        }
        // Hours since the first, and kelvins above the air.
        let points: Vec<(f64, f64)> = readings
            .iter()
            .map(|(at, t)| (at.hours() - first.0.hours(), (*t - air).k()))
            .collect();
        let (mut a, mut k) = straight(&points);
        for _ in 0..ROUNDS {
            let (da, dk) = correction(&points, a, k);
            a += da;
            k += dk;
            if dk.abs() <= SETTLED * k.abs() {
                break;
            }
        }
        let off = |(t, y): &(f64, f64)| y - a * (-k * t).exp();
        let squares: f64 = points.iter().map(|p| off(p).powi(2)).sum();
        let furthest_k = points
            .iter()
            .map(off)
            .fold(0.0_f64, |far, x| if x.abs() > far.abs() { x } else { far });
        Ok(Self {
            constant: TimeConstant::hours(1.0 / k)?,
            start: Temperature::celsius(air.c() + a)?,
            scatter_k: (squares / (points.len() - 2) as f64).sqrt(),
            furthest_k,
        })
    }
}

/// Height at the start and rate of the weighted straight line through the logarithms.
fn straight(points: &[(f64, f64)]) -> (f64, f64) {
    let sum = |f: &dyn Fn(f64, f64) -> f64| points.iter().map(|(t, y)| y * y * f(*t, *y)).sum();
    let weight: f64 = sum(&|_, _| 1.0);
    let (t, l): (f64, f64) = (sum(&|t, _| t), sum(&|_, y| y.ln()));
    let (t, l) = (t / weight, l / weight);
    let spread: f64 = sum(&|x, _| (x - t).powi(2));
    let both: f64 = sum(&|x, y| (x - t) * (y.ln() - l));
    let k = -both / spread;
    ((l + k * t).exp(), k)
}

/// One step of Gauss and Newton.
fn correction(points: &[(f64, f64)], a: f64, k: f64) -> (f64, f64) {
    let (mut aa, mut ak, mut kk, mut ra, mut rk) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (t, y) in points {
        let e = (-k * t).exp();
        let (by_a, by_k, off) = (e, -a * t * e, y - a * e);
        aa += by_a * by_a;
        ak += by_a * by_k;
        kk += by_k * by_k;
        ra += by_a * off;
        rk += by_k * off;
    }
    let det = aa * kk - ak * ak;
    ((ra * kk - rk * ak) / det, (rk * aa - ra * ak) / det)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn readings(points: &[(f64, f64)]) -> Vec<(Elapsed, Temperature)> {
        points
            .iter()
            .map(|(min, c)| {
                (
                    Elapsed::from_minutes(*min).unwrap(),
                    Temperature::celsius(*c).unwrap(),
                )
            })
            .collect()
    }

    fn air() -> Temperature {
        Temperature::celsius(3.0).unwrap()
    }

    #[test]
    fn readings_that_cannot_be_fitted_are_refused() {
        let refused = |points: &[(f64, f64)]| {
            CoolingFit::through(&readings(points), air())
                .unwrap_err()
                .to_string()
        };
        assert!(refused(&[(0.0, 57.0), (10.0, 50.0)]).contains("found 2; expected at least 3"));
        assert!(refused(&[(0.0, 57.0), (0.0, 50.0), (9.0, 40.0)]).contains("time between"));
        assert!(refused(&[(0.0, 57.0), (5.0, 2.0), (9.0, 1.0)]).contains("air colder"));
        assert!(refused(&[(0.0, 57.0), (5.0, 58.0), (9.0, 59.0)]).contains("fall of the core"));
    }

    /// A core that lags behind at first lies under the one curve at the start and over it in the middle.
    #[test]
    fn a_lag_shows_as_scatter() {
        let lag = [
            (0.0, 57.0),
            (10.0, 56.5),
            (30.0, 45.0),
            (60.0, 27.0),
            (90.0, 17.0),
        ];
        let fit = CoolingFit::through(&readings(&lag), air()).unwrap();
        assert!(fit.scatter_k > 2.0 && fit.furthest_k.abs() > 2.0, "{fit:?}");
    }

    proptest! {
        #[test]
        fn an_exact_fall_is_given_back(
            tau_min in 5.0..600.0_f64, start in 30.0..90.0_f64, air in -10.0..10.0_f64,
            steps in prop::collection::vec(60_i64..1200, 2..8),
        ) {
            let air = Temperature::celsius(air).unwrap();
            let mut seconds = 0;
            let mut all = vec![(Elapsed::ZERO, Temperature::celsius(start).unwrap())];
            for step in steps {
                seconds += step;
                let left = (-(seconds as f64) / (tau_min * 60.0)).exp();
                let c = air.c() + (start - air.c()) * left;
                // Below a hundredth of a degree over the air there is nothing left to read.
                if c - air.c() > 0.01 {
                    all.push((Elapsed::from_seconds(seconds).unwrap(), Temperature::celsius(c).unwrap()));
                }
            }
            prop_assume!(all.len() >= LEAST_READINGS);
            let fit = CoolingFit::through(&all, air).unwrap();
            // A time is given in whole seconds.
            let found = fit.constant.time().unwrap().seconds() as f64;
            prop_assert!((found - tau_min * 60.0).abs() <= 0.5 + tau_min * 60.0 * 1e-9, "{found}");
            prop_assert!(fit.scatter_k < 1e-9 && fit.furthest_k.abs() < 1e-9, "{fit:?}");
            prop_assert!((fit.start.c() - start).abs() < 1e-9);
        }
    }
}
