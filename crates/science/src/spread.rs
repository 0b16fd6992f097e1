//! What is not known exactly: inputs with a spread, many draws, and what comes of them.
//!
//! A draw takes one value for every input and asks the formula once. Draws the formula cannot answer
//! are counted as unknown and stay in sight: they widen every probability and never vanish.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use rayon::prelude::*;
use std::ops::RangeInclusive;
use thiserror::Error;

use crate::ScienceError;

mod influence;
mod outcome;

pub use influence::Influence;
pub use outcome::{Outcome, Probability, Quantiles};

/// Draws that share one stream of chance; the same whatever the number of threads.
const BLOCK: usize = 256;
/// Tries to draw a value inside its range before the input is refused. A range that holds one draw in
/// fifty is missed a thousand times running once in 6 × 10⁸ draws.
const TRIES: usize = 1000;
/// Fewest draws: below it the 5 and 95 percent marks rest on less than five draws each.
pub const LEAST_DRAWS: usize = 100;
/// Most draws; ten million of ten inputs are 800 MB.
pub const MOST_DRAWS: usize = 10_000_000;

/// How a value may turn out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// Known exactly.
    Fixed(f64),
    /// Around a mean, alike on both sides.
    Normal {
        /// The middle.
        mean: f64,
        /// Standard deviation, above 0: two draws in three lie within one of the mean.
        sd: f64,
    },
    /// Around a median by a factor: as often twice as half. For diffusivities and rates.
    LogNormal {
        /// The middle, above 0.
        median: f64,
        /// Above 1: two draws in three lie between `median ÷ factor` and `median × factor`.
        factor: f64,
    },
    /// Anywhere between two ends alike.
    Uniform {
        /// The lower end.
        low: f64,
        /// The upper end.
        high: f64,
    },
    /// Between two ends, most often near a third value.
    Triangular {
        /// The lower end.
        low: f64,
        /// The likeliest value, not outside the ends.
        mode: f64,
        /// The upper end.
        high: f64,
    },
}

/// One input of a calculation: its name, its spread and the range in which it makes sense.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    name: String,
    spread: Spread,
    least: f64,
    most: f64,
}

/// What is wrong with a spread, or with the draws asked for.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SpreadError {
    /// Figures that do not make a spread.
    #[error("{name}: found {found}; expected {expected}; correct the spread of this input")]
    NotASpread {
        /// The input.
        name: String,
        /// The spread, as entered.
        found: String,
        /// What it must be.
        expected: &'static str,
    },
    /// An input without a name, or with the name of another.
    #[error(
        "input \"{name}\": found no name or one used twice; expected a name of its own; rename it"
    )]
    Name {
        /// The name.
        name: String,
    },
    /// The valid range excludes the spread.
    #[error(
        "{name}: found no draw inside {least} to {most} in {tries} tries of {spread}; expected a spread mostly inside \
         its valid range; correct the spread or the range"
    )]
    HardlyInside {
        /// The input.
        name: String,
        /// The spread, as entered.
        spread: String,
        /// Least valid value.
        least: f64,
        /// Greatest valid value.
        most: f64,
        /// Tries made.
        tries: usize,
    },
    /// Too few or too many draws.
    #[error("draws: found {found}; expected {LEAST_DRAWS} to {MOST_DRAWS}; ask for 10000")]
    Draws {
        /// The number asked for.
        found: usize,
    },
    /// Nothing that could vary.
    #[error("draws: found no inputs; expected at least one; name what the result depends on")]
    NoInputs,
    /// Not a share of the draws.
    #[error("quantile: found {found}; expected 0 to 1; for the 5 percent mark write 0.05")]
    NotAShare {
        /// The number offered.
        found: f64,
    },
}

impl Input {
    /// An input, its draws kept inside the range in which it makes sense.
    ///
    /// # Method
    /// A draw outside the range is thrown away and drawn anew, so the spread keeps its shape inside
    /// the range; nothing heaps up at the ends. An end may be infinite.
    /// # Errors
    /// No name; figures that do not make the spread; a range that runs backwards or that the spread
    /// cannot meet.
    /// # Example
    /// ```
    /// use science::spread::{Input, Spread};
    /// let thick = Input::new("thickness", Spread::Normal { mean: 40.0, sd: 2.0 }, 20.0..=60.0)?;
    /// assert_eq!(thick.name(), "thickness");
    /// let wrong = Input::new("thickness", Spread::Normal { mean: 40.0, sd: -2.0 }, 20.0..=60.0);
    /// assert_eq!(
    ///     wrong.unwrap_err().to_string(),
    ///     "thickness: found Normal { mean: 40.0, sd: -2.0 }; expected a finite mean and a standard deviation above 0; \
    ///      correct the spread of this input"
    /// );
    /// # Ok::<(), science::ScienceError>(())
    /// ```
    pub fn new(
        name: &str,
        spread: Spread,
        valid: RangeInclusive<f64>,
    ) -> Result<Self, ScienceError> {
        let name = name.trim().to_owned();
        if name.is_empty() {
            return Err(SpreadError::Name { name }.into());
        }
        let (least, most) = valid.into_inner();
        let (fine, expected, reaches) = match spread {
            Spread::Fixed(value) => (
                value.is_finite(),
                "a finite value inside the valid range",
                (value, value),
            ),
            Spread::Normal { mean, sd } => (
                mean.is_finite() && sd.is_finite() && sd > 0.0,
                "a finite mean and a standard deviation above 0",
                (f64::NEG_INFINITY, f64::INFINITY),
            ),
            Spread::LogNormal { median, factor } => (
                median.is_finite() && median > 0.0 && factor.is_finite() && factor > 1.0,
                "a median above 0 and a factor above 1",
                (0.0, f64::INFINITY),
            ),
            Spread::Uniform { low, high } => (
                low < high && (high - low).is_finite(),
                "a lower end below the upper end, overlapping the valid range",
                (low, high),
            ),
            Spread::Triangular { low, mode, high } => (
                low < high && low <= mode && mode <= high && (high - low).is_finite(),
                "lower end, likeliest value and upper end in rising order, overlapping the valid range",
                (low, high),
            ),
        };
        if least.is_nan() || most.is_nan() || least > most {
            return Err(SpreadError::NotASpread {
                name,
                found: format!("a valid range of {least} to {most}"),
                expected: "a range that rises",
            }
            .into());
        }
        if !fine || reaches.1 < least || reaches.0 > most {
            return Err(SpreadError::NotASpread {
                name,
                found: format!("{spread:?}"),
                expected,
            }
            .into());
        }
        Ok(Self {
            name,
            spread,
            least,
            most,
        })
    }

    /// The name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The spread.
    #[must_use]
    pub fn spread(&self) -> Spread {
        self.spread
    }

    /// The chance of one block of draws of this input.
    ///
    /// The key is the seed and the name, the stream is the block: adding, dropping or reordering
    /// other inputs leaves these draws as they were, so two recipes can be compared on the same luck.
    fn chance(&self, seed: u64, block: u64) -> ChaCha8Rng {
        let mut key = [0_u8; 32];
        key[..8].copy_from_slice(&seed.to_le_bytes());
        key[8..16].copy_from_slice(&fingerprint(&self.name).to_le_bytes());
        let mut chance = ChaCha8Rng::from_seed(key);
        chance.set_stream(block);
        chance
    }

    /// Fills `column` with draws; how many were thrown away for lying outside the range.
    fn fill(&self, column: &mut [f64], chance: &mut ChaCha8Rng) -> Result<usize, SpreadError> {
        let mut redrawn = 0;
        for value in column {
            let mut tries = 0;
            *value = loop {
                let drawn = self.spread.draw(chance);
                if drawn >= self.least && drawn <= self.most {
                    break drawn;
                }
                tries += 1;
                if tries == TRIES {
                    return Err(SpreadError::HardlyInside {
                        name: self.name.clone(),
                        spread: format!("{:?}", self.spread),
                        least: self.least,
                        most: self.most,
                        tries,
                    });
                }
            };
            redrawn += tries;
        }
        Ok(redrawn)
    }
}

/// FNV-1a over the bytes of a name (published constants, from memory); any fixed mixing would do.
fn fingerprint(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

impl Spread {
    /// One draw.
    ///
    /// # Method
    /// Normal by Box and Muller's sine and cosine pair, of which the cosine is used; the others by
    /// inverting their distribution function.
    /// # Source
    /// [`SPREAD_STATISTICS`](sources::list::SPREAD_STATISTICS) (textbook forms).
    fn draw(self, chance: &mut ChaCha8Rng) -> f64 {
        match self {
            Self::Fixed(value) => value,
            Self::Normal { mean, sd } => mean + sd * standard_normal(chance),
            Self::LogNormal { median, factor } => median * factor.powf(standard_normal(chance)),
            Self::Uniform { low, high } => low + (high - low) * share(chance),
            Self::Triangular { low, mode, high } => {
                let (u, width) = (share(chance), high - low);
                let rising = (mode - low) / width;
                if u < rising {
                    low + (u * width * (mode - low)).sqrt()
                } else {
                    high - ((1.0 - u) * width * (high - mode)).sqrt()
                }
            }
        }
    }
}

/// From 0 (inside) to 1 (outside), in steps of 2⁻⁵³.
fn share(chance: &mut ChaCha8Rng) -> f64 {
    (chance.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}

fn standard_normal(chance: &mut ChaCha8Rng) -> f64 {
    // 1 − share is above 0, so the logarithm is finite.
    let radius = (-2.0 * (1.0 - share(chance)).ln()).sqrt();
    radius * (std::f64::consts::TAU * share(chance)).cos()
}

/// One block of draws: values by input, one input after the other, and the answers.
struct Block {
    values: Vec<f64>,
    answers: Vec<Option<f64>>,
    redrawn: usize,
}

/// Asks `f` once for each of `n` draws of the inputs.
///
/// `f` is handed one value for each input, in their order, and answers `None` where it cannot say; an
/// answer that is not finite counts as `None`.
///
/// # Method
/// Independent draws (plain Monte Carlo). The inputs are taken as independent of one another: where
/// two move together (a thick piece is also a heavy one), draw one and compute the other in `f`.
/// The outcome depends on inputs, `n` and `seed` alone, not on the number of threads.
/// # Valid range
/// [`LEAST_DRAWS`] to [`MOST_DRAWS`].
/// # Errors
/// Too few or too many draws; no inputs; two inputs of one name; a spread hardly ever inside its
/// valid range.
/// # Example
/// ```
/// use science::spread::{Input, Spread, draws};
/// let inputs = [
///     Input::new("weight, g", Spread::Normal { mean: 350.0, sd: 20.0 }, 0.0..=1000.0)?,
///     Input::new("salt, %", Spread::Uniform { low: 2.2, high: 2.6 }, 0.0..=5.0)?,
/// ];
/// let salt_g = draws(&inputs, 10_000, 7, |v| Some(v[0] * v[1] / 100.0))?;
/// assert_eq!(salt_g.unknown(), 0);
/// assert!(salt_g.probability(|g| g > 7.0).high < 1.0);
/// assert_eq!(salt_g.influences()[0].name, "weight, g");
/// # Ok::<(), science::ScienceError>(())
/// ```
pub fn draws<F>(inputs: &[Input], n: usize, seed: u64, f: F) -> Result<Outcome, ScienceError>
where
    F: Fn(&[f64]) -> Option<f64> + Sync,
{
    if !(LEAST_DRAWS..=MOST_DRAWS).contains(&n) {
        return Err(SpreadError::Draws { found: n }.into());
    }
    if inputs.is_empty() {
        return Err(SpreadError::NoInputs.into());
    }
    for (i, input) in inputs.iter().enumerate() {
        if inputs[..i].iter().any(|other| other.name == input.name) {
            let name = input.name.clone();
            return Err(SpreadError::Name { name }.into());
        }
    }
    let blocks: Vec<Result<Block, SpreadError>> = (0..n.div_ceil(BLOCK))
        .into_par_iter()
        .map(|block| {
            let count = BLOCK.min(n - block * BLOCK);
            block_of(inputs, count, seed, block as u64, &f)
        })
        .collect();

    let mut known = vec![Vec::with_capacity(n); inputs.len()];
    let mut results = Vec::with_capacity(n);
    let mut redrawn = 0;
    for block in blocks {
        // The first block that failed, whichever thread met its failure first.
        let block = block?;
        redrawn += block.redrawn;
        let count = block.answers.len();
        for (column, values) in known.iter_mut().zip(block.values.chunks_exact(count)) {
            let answered = values.iter().zip(&block.answers);
            column.extend(answered.filter_map(|(&v, answer)| answer.map(|_| v)));
        }
        results.extend(block.answers.into_iter().flatten());
    }
    let columns: Vec<(&str, Vec<f64>)> = inputs.iter().map(Input::name).zip(known).collect();
    let influences = influence::of(&columns, &results);
    Ok(Outcome::new(results, n, redrawn, influences))
}

fn block_of(
    inputs: &[Input],
    count: usize,
    seed: u64,
    block: u64,
    f: &(impl Fn(&[f64]) -> Option<f64> + Sync),
) -> Result<Block, SpreadError> {
    let mut values = vec![0.0; inputs.len() * count];
    let mut redrawn = 0;
    for (input, column) in inputs.iter().zip(values.chunks_exact_mut(count)) {
        redrawn += input.fill(column, &mut input.chance(seed, block))?;
    }
    let mut row = vec![0.0; inputs.len()];
    let answers = (0..count)
        .map(|draw| {
            for (i, value) in row.iter_mut().enumerate() {
                *value = values[i * count + draw];
            }
            f(&row).filter(|answer| answer.is_finite())
        })
        .collect();
    Ok(Block {
        values,
        answers,
        redrawn,
    })
}

#[cfg(test)]
mod tests;
