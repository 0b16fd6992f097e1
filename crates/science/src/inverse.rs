//! Questions asked backwards: where a curve crosses, the least or greatest value that will do, and
//! what is given for what.
//!
//! A formula says what comes of a time, a strength, a thickness. The kitchen asks which time. These
//! searches ask the formula until they know, and hand back both sides of the answer.

use thiserror::Error;

use crate::ScienceError;

mod trade_off;

pub use trade_off::{Sample, runs};

/// Stretch over which something is looked for, and how finely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Search {
    what: &'static str,
    low: f64,
    high: f64,
    tolerance: f64,
}

/// What a search cannot answer.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SearchError {
    /// A stretch or tolerance that cannot be searched.
    #[error(
        "search for {what}: found {low} to {high} in steps of {tolerance}; expected finite ends that rise and a \
         tolerance above their rounding error; correct the ends or search less finely"
    )]
    Stretch {
        /// What is looked for.
        what: &'static str,
        /// Lower end.
        low: f64,
        /// Upper end.
        high: f64,
        /// Tolerance.
        tolerance: f64,
    },
    /// The curve is on the same side at both ends.
    #[error(
        "search for {what}: found {at_low} at {low} and {at_high} at {high}; expected one value below 0 and one above; \
         widen the stretch, or the goal is not met anywhere in it"
    )]
    NoSignChange {
        /// What is looked for.
        what: &'static str,
        /// Lower end.
        low: f64,
        /// Value there.
        at_low: f64,
        /// Upper end.
        high: f64,
        /// Value there.
        at_high: f64,
    },
    /// The formula gave something that is no number.
    #[error(
        "search for {what}: found {value} at {at}; expected a finite value; search a stretch the formula holds for"
    )]
    NotFinite {
        /// What is looked for.
        what: &'static str,
        /// Where.
        at: f64,
        /// What it gave.
        value: f64,
    },
    /// The curve changes sign without passing nothing.
    #[error(
        "search for {what}: found a jump at {at}, from {below} to {above}; expected a curve without breaks; search to \
         one side of it"
    )]
    Jump {
        /// What is looked for.
        what: &'static str,
        /// Where.
        at: f64,
        /// Value just below.
        below: f64,
        /// Value just above.
        above: f64,
    },
    /// Neither end of the stretch will do.
    #[error(
        "search for {what}: found no value from {low} to {high} that will do; expected the condition to hold at one end; \
         widen the stretch, or change what is asked"
    )]
    NeverHolds {
        /// What is looked for.
        what: &'static str,
        /// Lower end.
        low: f64,
        /// Upper end.
        high: f64,
    },
    /// The condition holds at the end from which it should come to hold, and not at the other.
    #[error(
        "search for the {sought} {what}: found the condition to hold at {holds_at} and not at {fails_at}; expected it \
         the other way about; ask for the {other} instead"
    )]
    OtherWay {
        /// What is looked for.
        what: &'static str,
        /// "least" or "greatest".
        sought: &'static str,
        /// The end at which it holds.
        holds_at: f64,
        /// The end at which it does not.
        fails_at: f64,
        /// What to ask instead.
        other: &'static str,
    },
    /// The condition comes and goes.
    #[error(
        "search for {what}: found the condition to hold at {holds_at} but not at {fails_at}; expected it to hold from \
         one place on; search a shorter stretch"
    )]
    ComesAndGoes {
        /// What is looked for.
        what: &'static str,
        /// A place at which it holds.
        holds_at: f64,
        /// A place farther on at which it does not.
        fails_at: f64,
    },
    /// Too few or too many samples.
    #[error("samples of {what}: found {found}; expected 2 to {MOST_SAMPLES}; ask for 50")]
    Samples {
        /// What is sampled.
        what: &'static str,
        /// The number asked for.
        found: usize,
    },
}

/// Most samples of a trade-off: more than a screen has columns.
pub const MOST_SAMPLES: usize = 10_000;

/// Where a curve crosses nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Root {
    /// The answer, within the tolerance of the crossing.
    pub x: f64,
    /// Nearest place known to lie below the crossing, or on it.
    pub below: f64,
    /// Nearest place known to lie above the crossing, or on it.
    pub above: f64,
    /// How often the formula was asked.
    pub asked: usize,
}

/// The least or greatest value for which a condition holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// A value for which the condition was seen to hold.
    pub x: f64,
    /// The nearest value for which it was seen not to hold, within the tolerance of `x`; `None` when it
    /// holds over the whole stretch, so that the true limit may lie outside it.
    pub fails_at: Option<f64>,
    /// How often the condition was asked.
    pub asked: usize,
}

impl Search {
    /// A search from `low` to `high`, to within `tolerance`, all in the unit of what is looked for.
    ///
    /// # Errors
    /// Ends that do not rise or are not finite; a tolerance not above the rounding error at the ends.
    pub fn new(
        what: &'static str,
        low: f64,
        high: f64,
        tolerance: f64,
    ) -> Result<Self, ScienceError> {
        let finest = 4.0 * f64::EPSILON * low.abs().max(high.abs());
        let fine = low < high
            && (high - low).is_finite()
            && tolerance.is_finite()
            && tolerance > finest.max(f64::MIN_POSITIVE);
        if !fine {
            return Err(SearchError::Stretch {
                what,
                low,
                high,
                tolerance,
            }
            .into());
        }
        Ok(Self {
            what,
            low,
            high,
            tolerance,
        })
    }

    /// Where a curve that is below 0 at one end and above it at the other crosses.
    ///
    /// # Method
    /// ITP: a straight line between the two sides, drawn towards the middle, and never so far from it
    /// that more steps are needed than by halving and one. Smooth curves take a fraction of that.
    /// # Valid range
    /// A curve without breaks. One that leaps past nothing growing without bound (1 ÷ x) is found out;
    /// a plain step is not: its place is returned, and the values on either side stay far from 0.
    /// # Source
    /// [`ITP`](sources::list::ITP), with its n₀ = 1, κ₁ = 0.2 ÷ stretch, κ₂ = 2.
    /// # Errors
    /// No change of sign, with both values; a value that is not finite; a leap; what the formula
    /// itself refuses.
    /// # Example
    /// ```
    /// use science::inverse::Search;
    /// let hours = Search::new("time to half, h", 0.0, 100.0, 1e-9)?;
    /// let half = hours.root(|h| Ok(0.5 - (-h / 10.0_f64).exp()))?;
    /// assert!((half.x - 10.0 * 2.0_f64.ln()).abs() < 1e-9);
    /// let never = hours.root(|h| Ok(2.0 + h)).unwrap_err();
    /// assert_eq!(
    ///     never.to_string(),
    ///     "search for time to half, h: found 2 at 0 and 102 at 100; expected one value below 0 and one above; \
    ///      widen the stretch, or the goal is not met anywhere in it"
    /// );
    /// # Ok::<(), science::ScienceError>(())
    /// ```
    pub fn root(
        &self,
        mut f: impl FnMut(f64) -> Result<f64, ScienceError>,
    ) -> Result<Root, ScienceError> {
        let mut asked = 0;
        let mut ask = |x: f64| {
            asked += 1;
            let value = f(x)?;
            if value.is_finite() {
                Ok(value)
            } else {
                Err(ScienceError::from(SearchError::NotFinite {
                    what: self.what,
                    at: x,
                    value,
                }))
            }
        };
        let (mut a, mut b) = (self.low, self.high);
        let (mut at_a, mut at_b) = (ask(a)?, ask(b)?);
        let (start_a, start_b) = (at_a, at_b);
        for (x, value) in [(a, at_a), (b, at_b)] {
            if value == 0.0 {
                return Ok(Root {
                    x,
                    below: x,
                    above: x,
                    asked: 2,
                });
            }
        }
        if (at_a > 0.0) == (at_b > 0.0) {
            return Err(SearchError::NoSignChange {
                what: self.what,
                low: a,
                at_low: at_a,
                high: b,
                at_high: at_b,
            }
            .into());
        }
        let stretch = b - a;
        let halvings = (stretch / (2.0 * self.tolerance)).log2().ceil().max(0.0);
        let mut left = halvings as i32 + 1;
        while b - a > 2.0 * self.tolerance {
            let middle = a + (b - a) / 2.0;
            // How far from the middle the next place may lie without spending the steps that are left.
            let leeway = (self.tolerance * 2.0_f64.powi(left) - (b - a) / 2.0).max(0.0);
            let straight = a + (b - a) * (at_a / (at_a - at_b));
            let straight = if straight > a && straight < b {
                straight
            } else {
                middle
            };
            let towards = (middle - straight).signum();
            let nudge = 0.2 * (b - a) * ((b - a) / stretch);
            let drawn = if nudge <= (middle - straight).abs() {
                straight + towards * nudge
            } else {
                middle
            };
            let x = if (drawn - middle).abs() <= leeway {
                drawn
            } else {
                middle - towards * leeway
            };
            left -= 1;
            let value = ask(x)?;
            if value == 0.0 {
                return Ok(Root {
                    x,
                    below: x,
                    above: x,
                    asked,
                });
            }
            if (value > 0.0) == (at_a > 0.0) {
                (a, at_a) = (x, value);
            } else {
                (b, at_b) = (x, value);
            }
        }
        // Close to a crossing both sides shrink; a pole makes both grow.
        if at_a.abs() > start_a.abs() && at_b.abs() > start_b.abs() {
            return Err(SearchError::Jump {
                what: self.what,
                at: a + (b - a) / 2.0,
                below: at_a,
                above: at_b,
            }
            .into());
        }
        Ok(Root {
            x: a + (b - a) / 2.0,
            below: a,
            above: b,
            asked,
        })
    }

    /// The least value for which a condition holds that, once it holds, goes on holding upwards.
    ///
    /// # Method
    /// Halving. The answer errs upwards by at most the tolerance: the condition was seen to hold there.
    /// # Valid range
    /// A condition that comes to hold once. Only the places asked are seen; use
    /// [`steady`](Self::steady) beforehand where that is not certain.
    /// # Errors
    /// It holds at neither end; it holds at the lower end and not at the upper; what the condition
    /// itself refuses.
    /// # Example
    /// ```
    /// use science::inverse::Search;
    /// let days = Search::new("days hung", 0.0, 60.0, 0.01)?;
    /// let ready = days.least(|d| Ok((-0.0209 * d).exp() <= 0.70))?;
    /// assert_eq!(format!("{:.1}", ready.x), "17.1");
    /// assert!(ready.fails_at.is_some_and(|d| ready.x - d <= 0.01));
    /// # Ok::<(), science::ScienceError>(())
    /// ```
    pub fn least(
        &self,
        holds: impl FnMut(f64) -> Result<bool, ScienceError>,
    ) -> Result<Limit, ScienceError> {
        self.limit(self.low, self.high, ("least", "greatest"), holds)
    }

    /// The greatest value for which a condition holds that, once it fails, goes on failing upwards.
    ///
    /// # Method
    /// As [`least`](Self::least), downwards: the answer errs downwards by at most the tolerance.
    /// # Errors
    /// It holds at neither end; it holds at the upper end and not at the lower; what the condition
    /// itself refuses.
    pub fn greatest(
        &self,
        holds: impl FnMut(f64) -> Result<bool, ScienceError>,
    ) -> Result<Limit, ScienceError> {
        self.limit(self.high, self.low, ("greatest", "least"), holds)
    }

    /// From `far`, where the condition should fail, towards `near`, where it should hold.
    fn limit(
        &self,
        far: f64,
        near: f64,
        (sought, other): (&'static str, &'static str),
        mut holds: impl FnMut(f64) -> Result<bool, ScienceError>,
    ) -> Result<Limit, ScienceError> {
        let what = self.what;
        match (holds(far)?, holds(near)?) {
            (true, true) => {
                return Ok(Limit {
                    x: far,
                    fails_at: None,
                    asked: 2,
                });
            }
            (true, false) => {
                return Err(SearchError::OtherWay {
                    what,
                    sought,
                    holds_at: far,
                    fails_at: near,
                    other,
                }
                .into());
            }
            (false, false) => {
                return Err(SearchError::NeverHolds {
                    what,
                    low: self.low,
                    high: self.high,
                }
                .into());
            }
            (false, true) => {}
        }
        let (mut fails_at, mut x, mut asked) = (far, near, 2);
        while (x - fails_at).abs() > self.tolerance {
            let middle = f64::midpoint(fails_at, x);
            asked += 1;
            if holds(middle)? {
                x = middle;
            } else {
                fails_at = middle;
            }
        }
        Ok(Limit {
            x,
            fails_at: Some(fails_at),
            asked,
        })
    }

    /// Asks a condition at evenly spaced places, ends included, and refuses one that comes and goes.
    ///
    /// # Valid range
    /// 2 to [`MOST_SAMPLES`] places. What happens between two of them is not seen.
    /// # Errors
    /// The condition changes more than once, with two places that show it; the number of places; what
    /// the condition itself refuses.
    pub fn steady(
        &self,
        places: usize,
        mut holds: impl FnMut(f64) -> Result<bool, ScienceError>,
    ) -> Result<(), ScienceError> {
        let mut changes = 0;
        let mut last: Option<(f64, bool)> = None;
        for x in self.even(places)? {
            let now = holds(x)?;
            if let Some((before, was)) = last.filter(|(_, was)| *was != now) {
                changes += 1;
                if changes == 2 {
                    let (holds_at, fails_at) = if was { (before, x) } else { (x, before) };
                    return Err(SearchError::ComesAndGoes {
                        what: self.what,
                        holds_at,
                        fails_at,
                    }
                    .into());
                }
            }
            last = Some((x, now));
        }
        Ok(())
    }

    /// Evenly spaced places from end to end.
    fn even(&self, places: usize) -> Result<Vec<f64>, ScienceError> {
        if !(2..=MOST_SAMPLES).contains(&places) {
            return Err(SearchError::Samples {
                what: self.what,
                found: places,
            }
            .into());
        }
        let last = places - 1;
        Ok((0..places)
            .map(|i| {
                if i == last {
                    self.high
                } else {
                    self.low + (self.high - self.low) * (i as f64 / last as f64)
                }
            })
            .collect())
    }
}

#[cfg(test)]
mod tests;
