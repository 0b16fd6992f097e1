//! What is given for what: a curve sampled where it has something to say.

use super::{ScienceError, Search, SearchError};

/// One point of a trade-off: what is given, and what comes of it or why nobody can say.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// What is given.
    pub x: f64,
    /// What comes of it.
    pub y: Result<f64, ScienceError>,
}

impl Search {
    /// What comes of each value over the stretch: the curve to draw and to choose from.
    ///
    /// # Method
    /// Nine even samples (or as many as asked), then one at a time halfway into the stretch beside
    /// which the curve bends most, or an answer gives way to an unknown, until there are `samples`.
    /// No stretch is cut below the tolerance, so there may be fewer. In rising order of `x`.
    /// # Errors
    /// The number of samples. What the formula refuses becomes a sample that says so: a gap in the
    /// curve, never a value and never left out.
    /// # Example
    /// ```
    /// use science::inverse::{Search, runs};
    /// let strengths = Search::new("brine strength, %", 2.0, 12.0, 0.01)?;
    /// let hours = strengths.trade_off(20, |pct| Ok(60.0 / pct))?;
    /// assert_eq!(hours.len(), 20);
    /// assert_eq!(runs(&hours).len(), 1);
    /// # Ok::<(), science::ScienceError>(())
    /// ```
    pub fn trade_off(
        &self,
        samples: usize,
        mut f: impl FnMut(f64) -> Result<f64, ScienceError>,
    ) -> Result<Vec<Sample>, ScienceError> {
        let mut ask = |x: f64| {
            let y = f(x).and_then(|value| {
                if value.is_finite() {
                    Ok(value)
                } else {
                    Err(ScienceError::from(SearchError::NotFinite {
                        what: self.what,
                        at: x,
                        value,
                    }))
                }
            });
            Sample { x, y }
        };
        let places = self.even(samples)?.len();
        let mut curve: Vec<Sample> = self
            .even(places.min(9))?
            .into_iter()
            .map(&mut ask)
            .collect();
        while curve.len() < samples {
            let Some(after) = self.worst(&curve) else {
                break;
            };
            let x = f64::midpoint(curve[after].x, curve[after + 1].x);
            curve.insert(after + 1, ask(x));
        }
        Ok(curve)
    }

    /// The stretch, by the index of its lower end, that a new sample serves most; `None` when none can
    /// be cut further or the curve is straight and known throughout.
    fn worst(&self, curve: &[Sample]) -> Option<usize> {
        let ys = || curve.iter().filter_map(|s| s.y.as_ref().ok());
        let height = ys().fold(f64::NEG_INFINITY, |m, y| m.max(*y))
            - ys().fold(f64::INFINITY, |m, y| m.min(*y));
        let width = self.high - self.low;
        // How far a sample lies off the line between its neighbours, as a share of the height.
        let bend = |i: usize| -> f64 {
            let Some([a, b, c]) = i
                .checked_sub(1)
                .and_then(|j| curve.get(j..=i + 1))
                .and_then(|s| s.first_chunk::<3>())
            else {
                return 0.0;
            };
            match (&a.y, &b.y, &c.y) {
                (Ok(ya), Ok(yb), Ok(yc)) if height > 0.0 => {
                    let line = ya + (yc - ya) * ((b.x - a.x) / (c.x - a.x));
                    (yb - line).abs() / height
                }
                _ => 0.0,
            }
        };
        let mut best: Option<(f64, usize)> = None;
        for (i, pair) in curve.windows(2).enumerate() {
            let share = (pair[1].x - pair[0].x) / width;
            if pair[1].x - pair[0].x < 2.0 * self.tolerance {
                continue;
            }
            // The edge of the unknown is as interesting as a leap over the whole height. The length is
            // a tie-break that spreads samples evenly along a straight curve.
            let edge = if pair[0].y.is_ok() == pair[1].y.is_ok() {
                bend(i).max(bend(i + 1))
            } else {
                1.0
            };
            let worth = edge * share + 1e-3 * share * share;
            if best.is_none_or(|(most, _)| worth > most) {
                best = Some((worth, i));
            }
        }
        best.map(|(_, i)| i)
    }
}

/// The stretches of a trade-off over which it is known, each a curve to draw.
#[must_use]
pub fn runs(samples: &[Sample]) -> Vec<Vec<(f64, f64)>> {
    samples
        .split(|s| s.y.is_err())
        .filter(|run| !run.is_empty())
        .map(|run| {
            run.iter()
                .filter_map(|s| s.y.as_ref().ok().map(|&y| (s.x, y)))
                .collect()
        })
        .collect()
}
