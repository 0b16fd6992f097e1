//! What many draws came to.

use super::influence::Influence;
use super::{ScienceError, SpreadError};

/// The normal deviate that leaves 2.5 % on either side (tables of the normal distribution).
const Z_95: f64 = 1.959_963_984_540_054;

/// The results of all draws: what is known, sorted, and how many are unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    sorted: Vec<f64>,
    mean: Option<f64>,
    draws: usize,
    redrawn: usize,
    influences: Vec<Influence>,
}

/// The values below which 5, 50 and 95 percent of the known results lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantiles {
    /// One known result in twenty lies below.
    pub p5: f64,
    /// Half of the known results lie below.
    pub p50: f64,
    /// One known result in twenty lies above.
    pub p95: f64,
}

/// How likely something is, from counted draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Probability {
    /// Draws for which it holds.
    pub holds: usize,
    /// Draws for which nobody can say.
    pub unknown: usize,
    /// All draws.
    pub draws: usize,
    /// Lower end of the interval, 0 to 1, with every unknown draw counted as not holding.
    pub low: f64,
    /// Upper end of the interval, 0 to 1, with every unknown draw counted as holding.
    pub high: f64,
}

impl Probability {
    /// Share of the known draws for which it holds; `None` when none is known.
    ///
    /// This figure says nothing of the unknown draws: print it with [`low`](Self::low) and
    /// [`high`](Self::high), which do.
    #[must_use]
    pub fn share_of_known(&self) -> Option<f64> {
        let known = self.draws - self.unknown;
        (known > 0).then(|| self.holds as f64 / known as f64)
    }
}

impl Outcome {
    pub(super) fn new(
        results: Vec<f64>,
        draws: usize,
        redrawn: usize,
        influences: Vec<Influence>,
    ) -> Self {
        let count = results.len() as f64;
        // Divided first: a sum of large results would overflow.
        let mean = (!results.is_empty()).then(|| results.iter().map(|r| r / count).sum());
        let mut sorted = results;
        sorted.sort_by(f64::total_cmp);
        Self {
            sorted,
            mean,
            draws,
            redrawn,
            influences,
        }
    }

    /// All draws, known and unknown.
    #[must_use]
    pub fn draws(&self) -> usize {
        self.draws
    }

    /// Draws the formula could not answer.
    #[must_use]
    pub fn unknown(&self) -> usize {
        self.draws - self.sorted.len()
    }

    /// Input values drawn anew because they lay outside their valid range, over all inputs. Many of
    /// them say that the spreads entered are not the ones in use.
    #[must_use]
    pub fn redrawn(&self) -> usize {
        self.redrawn
    }

    /// The known results, lowest first.
    #[must_use]
    pub fn known(&self) -> &[f64] {
        &self.sorted
    }

    /// Mean of the known results; `None` when none is known.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        self.mean
    }

    /// The 5, 50 and 95 percent marks of the known results; `None` when none is known.
    ///
    /// They leave the unknown draws out: where [`unknown`](Self::unknown) is not 0, say so beside them.
    #[must_use]
    pub fn quantiles(&self) -> Option<Quantiles> {
        Some(Quantiles {
            p5: at(&self.sorted, 0.05)?,
            p50: at(&self.sorted, 0.50)?,
            p95: at(&self.sorted, 0.95)?,
        })
    }

    /// The value below which this share of the known results lies; `None` when none is known.
    ///
    /// # Method
    /// Straight line between neighbours in order, at `(n − 1) × share`.
    /// # Source
    /// [`SPREAD_STATISTICS`](sources::list::SPREAD_STATISTICS): definition 7 of Hyndman and Fan 1996.
    /// # Errors
    /// A share outside 0 to 1.
    pub fn quantile(&self, share: f64) -> Result<Option<f64>, ScienceError> {
        if !(0.0..=1.0).contains(&share) {
            return Err(SpreadError::NotAShare { found: share }.into());
        }
        Ok(at(&self.sorted, share))
    }

    /// How likely it is that a result is such, with a 95 % interval.
    ///
    /// # Method
    /// Wilson's score interval for a counted share. The lower end counts the unknown draws as not
    /// holding, the upper end as holding; with none unknown it is the plain interval. It speaks of
    /// the number of draws only, not of whether the spreads entered are right.
    /// # Source
    /// [`SPREAD_STATISTICS`](sources::list::SPREAD_STATISTICS): Wilson 1927.
    #[must_use]
    pub fn probability(&self, such: impl Fn(f64) -> bool) -> Probability {
        let holds = self.sorted.iter().filter(|&&r| such(r)).count();
        let unknown = self.unknown();
        Probability {
            holds,
            unknown,
            draws: self.draws,
            low: wilson(holds, self.draws).0,
            high: wilson(holds + unknown, self.draws).1,
        }
    }

    /// The inputs that vary, the one that matters most first.
    ///
    /// Empty when nothing can be said: fewer than [`LEAST_DRAWS`](super::LEAST_DRAWS) known results, or
    /// results that are all the same. Judged on the known draws only.
    #[must_use]
    pub fn influences(&self) -> &[Influence] {
        &self.influences
    }
}

fn at(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = last as f64 * share;
    let below = place.floor() as usize;
    let (low, high) = (*sorted.get(below)?, sorted[(below + 1).min(last)]);
    let part = place - below as f64;
    // In this form equal neighbours give themselves and large ones do not overflow.
    Some(if low == high {
        low
    } else {
        low * (1.0 - part) + high * part
    })
}

/// Both ends of the 95 % interval for `hits` of `n`; `n` above 0.
pub(super) fn wilson(hits: usize, n: usize) -> (f64, f64) {
    let (hits_f, n_f, z2) = (hits as f64, n as f64, Z_95 * Z_95);
    let p = hits_f / n_f;
    let middle = (p + z2 / (2.0 * n_f)) / (1.0 + z2 / n_f);
    let half = Z_95 / (1.0 + z2 / n_f) * (p * (1.0 - p) / n_f + z2 / (4.0 * n_f * n_f)).sqrt();
    // Exactly 0 of n begins at 0, n of n ends at 1; rounding would leave a trace.
    let low = if hits == 0 { 0.0 } else { middle - half };
    let high = if hits == n { 1.0 } else { middle + half };
    (low, high)
}
