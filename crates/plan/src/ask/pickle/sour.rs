//! The pH a pickle may come to: a calculation with its spread, and never a release.

use science::ScienceError;
use science::acid::{ASSUMED_BUFFER, Acid, Liquor, Molality, Ph, Uptake};
use science::inverse::{Limit, Search, SearchError};
use science::spread::{Input, Outcome, Spread, draws};
use units::{Mass, Temperature};

use super::{PH_TARGET, Pickle};
use crate::ask::refusal::Refusal;
use crate::figures::number;

/// What the equations are, once for all formulas.
pub(super) const PROTONS: &str = "charge balance [H⁺] + β × vegetable × (pH raw − pH) ÷ water = [OH⁻] + \
     Σ c z̄(pH) at 25 °C; pK of Harned and Ehlers and others, ions by Davies (all from memory)";
/// Draws for a chance, and for each step of a search and of the picture.
pub(super) const DRAWS: usize = 10_000;
pub(super) const SEARCH_DRAWS: usize = 1_000;
/// Draws in a hundred that are to come to the target before an amount is said to do.
pub(super) const SURE_PCT: f64 = 95.0;
/// Spreads of the inputs; house values: what a strip or meter, a label and a bench scale leave open.
pub(super) const PH_SD: f64 = 0.1;
pub(super) const STRENGTH_SD_OF_IT: f64 = 0.02;
pub(super) const WEIGHTS_SD: f64 = 0.01;
pub(super) const WATER_SD_PCT: f64 = 2.0;
/// Of the model itself, pH: what a model built on titrations is said to reach, taken as one deviation.
pub(super) const MODEL_SD_PH: f64 = 0.11;
/// Factor a buffer of one trial, and one entered as a single number, may be off either way. House values:
/// the vegetable of the next delivery is not the one of the trial.
pub(super) const TRIAL_SPREAD: f64 = 1.3;
pub(super) const ENTERED_SPREAD: f64 = 1.5;
/// Normal deviate that leaves one draw in forty on either side (tables of the normal distribution).
const Z_95: f64 = 1.96;
/// Most vinegar looked at, times the vegetable, and the strengths looked at, percent. House values.
const MOST_VINEGAR: f64 = 5.0;
const STRENGTHS_PCT: (f64, f64) = (0.5, 20.0);

/// What is known of how the vegetable binds acid.
#[derive(Debug, Clone, PartialEq)]
pub enum Buffering {
    /// Nothing. Then its pickle has no calculated pH.
    Unknown,
    /// A range of buffer capacity, mmol for each kilogram and unit of pH, and the pH of the raw vegetable.
    Between {
        /// pH of the raw vegetable.
        raw: Ph,
        /// Least, mmol/(kg pH).
        least: f64,
        /// Most, mmol/(kg pH).
        most: f64,
    },
    /// The range assumed of a vegetable nobody measured, asked for by name.
    Assumed {
        /// pH of the raw vegetable.
        raw: Ph,
    },
    /// A trial with the same vinegar.
    Trial {
        /// Vegetable blended.
        vegetable: Mass,
        /// In so much water.
        water: Mass,
        /// Vinegar added until the pH stood at `after`.
        vinegar: Mass,
        /// pH before the vinegar.
        before: Ph,
        /// pH after it.
        after: Ph,
    },
}

/// What is poured on what.
#[derive(Debug, Clone, PartialEq)]
struct Batch {
    vinegar_g: f64,
    strength: f64,
    water_g: f64,
    salt_g: f64,
    acids: Vec<(Acid, f64)>,
    vegetable_g: f64,
    water_pct: f64,
    raw: f64,
    buffer_mmol: f64,
}

impl Batch {
    fn all_water(&self) -> Result<Mass, ScienceError> {
        let vinegar = self.vinegar_g * (1.0 - self.strength);
        let vegetable = self.vegetable_g * self.water_pct / 100.0;
        Ok(Mass::grams(vinegar + self.water_g + vegetable)?)
    }

    fn ph(&self) -> Result<f64, ScienceError> {
        let water = self.all_water()?;
        let acetic = (Acid::Acetic, self.vinegar_g * self.strength);
        let acids = core::iter::once(&acetic)
            .chain(&self.acids)
            .map(|(acid, g)| Ok((*acid, Molality::of(*acid, Mass::grams(*g)?, water)?)))
            .collect::<Result<_, ScienceError>>()?;
        let liquor = Liquor {
            acids,
            strong_base: Molality::ZERO,
            salt: Molality::of_salt(Mass::grams(self.salt_g)?, water)?,
            temperature: Temperature::celsius(25.0)?,
        };
        let uptake = Uptake::new(self.buffer_mmol / 1000.0, Ph::new(self.raw)?)?;
        let even = liquor.with_vegetable(Mass::grams(self.vegetable_g)?, water, &uptake)?;
        Ok(even.ph.calculated())
    }
}

/// A pickle whose pH can be reckoned.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sour {
    batch: Batch,
    buffer: Spread,
    seed: u64,
}

/// What a search varies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Varied {
    /// Grams of the vinegar.
    Vinegar,
    /// Its acid, percent.
    Strength,
}

/// Where a search ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Found {
    At(f64),
    Everywhere,
    Nowhere,
}

/// What the question says of the liquor, weighed.
pub(super) struct Weighed {
    pub(super) vinegar: Mass,
    pub(super) water: Mass,
    pub(super) salt: Mass,
}

impl Sour {
    /// The pickle as it was asked; why there is no pH to reckon otherwise.
    ///
    /// # Errors
    /// A trial that cannot have been.
    pub(super) fn of(ask: &Pickle, weighed: &Weighed) -> Result<Result<Self, String>, Refusal> {
        let Some((water_pct, _)) = ask.edible_water.as_ref() else {
            return Ok(Err(match ask.buffering {
                Buffering::Unknown => NO_BUFFER.to_owned(),
                _ => "unknown: the water of the vegetable is not known; name it with --item, or --ep-water"
                    .to_owned(),
            }));
        };
        let strength = ask.strength.ratio();
        let (raw, middle, buffer) = match &ask.buffering {
            Buffering::Unknown => return Ok(Err(NO_BUFFER.to_owned())),
            Buffering::Between { raw, least, most } if least < most => {
                let (low, high) = (*least, *most);
                (
                    *raw,
                    f64::midpoint(low, high),
                    Spread::Uniform { low, high },
                )
            }
            Buffering::Between { raw, most, .. } => (*raw, *most, around(*most, ENTERED_SPREAD)),
            Buffering::Assumed { raw } => {
                let (low, high) = assumed();
                (
                    *raw,
                    f64::midpoint(low, high),
                    Spread::Uniform { low, high },
                )
            }
            Buffering::Trial {
                vegetable,
                water,
                vinegar,
                before,
                after,
            } => {
                let acid = Mass::grams(vinegar.g() * strength)?;
                let all = Mass::grams(
                    water.g() + vegetable.g() * water_pct / 100.0 + vinegar.g() - acid.g(),
                )?;
                let liquor = Liquor {
                    acids: vec![(Acid::Acetic, Molality::of(Acid::Acetic, acid, all)?)],
                    strong_base: Molality::ZERO,
                    salt: Molality::ZERO,
                    temperature: Temperature::celsius(25.0)?,
                };
                let found = Uptake::of_trial(*vegetable, all, &liquor, *before, *after)
                    .map_err(impossible_trial)?;
                let mmol = found.mol_per_kg_ph() * 1000.0;
                (*before, mmol, around(mmol, TRIAL_SPREAD))
            }
        };
        let sour = Self {
            batch: Batch {
                vinegar_g: weighed.vinegar.g(),
                strength,
                water_g: weighed.water.g(),
                salt_g: weighed.salt.g(),
                acids: ask.acids.iter().map(|(a, m)| (*a, m.g())).collect(),
                vegetable_g: ask.edible.g(),
                water_pct: *water_pct,
                raw: raw.ph(),
                buffer_mmol: middle,
            },
            buffer,
            seed: ask.seed,
        };
        // Too salty for the formula of ions is no wrong question: the rest of the answer stands.
        Ok(match sour.batch.ph() {
            Ok(_) => Ok(sour),
            Err(ScienceError::OutOfRange {
                what,
                found,
                most,
                unit,
                ..
            }) => Err(format!(
                "unknown: {what} comes to {}, and the formula ends at {} {unit}; less salt, or read it",
                number(found, 2),
                number(most, 2)
            )),
            Err(error) => Err(format!("unknown: {error}")),
        })
    }

    /// Its calculated pH, every input as it was asked.
    pub(super) fn ph(&self) -> Result<f64, ScienceError> {
        self.batch.ph()
    }

    /// All the water there is.
    pub(super) fn all_water(&self) -> Result<Mass, ScienceError> {
        self.batch.all_water()
    }

    /// Its buffer, mmol/(kg pH).
    pub(super) fn buffer_mmol(&self) -> f64 {
        self.batch.buffer_mmol
    }

    /// Seed of the draws.
    pub(super) fn seed(&self) -> u64 {
        self.seed
    }

    fn inputs(&self) -> Result<Vec<Input>, ScienceError> {
        let normal = |name: &str, mean: f64, sd: f64, low: f64, high: f64| {
            Input::new(name, Spread::Normal { mean, sd }, low..=high)
        };
        let (s, w) = (self.batch.strength, self.batch.water_pct);
        Ok(vec![
            Input::new("buffer of the vegetable", self.buffer, 0.0..=200.0)?,
            normal("pH of the raw vegetable", self.batch.raw, PH_SD, 0.0, 14.0)?,
            normal(
                "strength of the vinegar",
                s,
                (s * STRENGTH_SD_OF_IT).max(1e-9),
                0.0,
                1.0,
            )?,
            normal("weights", 1.0, WEIGHTS_SD, 0.5, 1.5)?,
            normal("water of the vegetable", w, WATER_SD_PCT, 20.0, 98.0)?,
            normal("the model itself", 0.0, MODEL_SD_PH, -2.0, 2.0)?,
        ])
    }

    pub(super) fn drawn(&self, count: usize) -> Result<Outcome, ScienceError> {
        draws(&self.inputs()?, count, self.seed, |v| {
            let [buffer_mmol, raw, strength, weights, water_pct, model] = *v else {
                return None;
            };
            let batch = Batch {
                vinegar_g: self.batch.vinegar_g * weights,
                strength,
                water_pct,
                raw,
                buffer_mmol,
                ..self.batch.clone()
            };
            Some(batch.ph().ok()? + model)
        })
    }

    /// The same with something else in its place.
    pub(super) fn with(&self, varied: Varied, value: f64) -> Self {
        let mut other = self.clone();
        match varied {
            Varied::Vinegar => other.batch.vinegar_g = value,
            Varied::Strength => other.batch.strength = value / 100.0,
        }
        other
    }

    /// The value asked with, in the unit it is varied in.
    pub(super) fn asked(&self, varied: Varied) -> f64 {
        match varied {
            Varied::Vinegar => self.batch.vinegar_g,
            Varied::Strength => self.batch.strength * 100.0,
        }
    }

    /// The range it is looked for in.
    pub(super) fn range(&self, varied: Varied) -> (f64, f64) {
        match varied {
            Varied::Vinegar => (0.0, MOST_VINEGAR * self.batch.vegetable_g),
            Varied::Strength => STRENGTHS_PCT,
        }
    }

    /// The least with which [`SURE_PCT`] draws in a hundred come to the target.
    pub(super) fn least(&self, varied: Varied) -> Result<Found, ScienceError> {
        let (low, high) = self.range(varied);
        let (what, fine) = match varied {
            Varied::Vinegar => ("vinegar, g", (high / 10_000.0).max(0.05)),
            Varied::Strength => ("strength of the vinegar, %", 0.01),
        };
        let search = Search::new(what, low, high, fine)?;
        let found = search.least(|x| {
            let outcome = self.with(varied, x).drawn(SEARCH_DRAWS)?;
            let high = outcome.quantile(SURE_PCT / 100.0)?;
            Ok(outcome.unknown() == 0 && high.is_some_and(|ph| ph <= PH_TARGET))
        });
        match found {
            Ok(Limit { fails_at: None, .. }) => Ok(Found::Everywhere),
            Ok(limit) => Ok(Found::At(limit.x)),
            Err(ScienceError::Search(SearchError::NeverHolds { .. })) => Ok(Found::Nowhere),
            Err(other) => Err(other),
        }
    }
}

/// A trial that cannot have been, in words of the bench.
fn impossible_trial(error: ScienceError) -> Refusal {
    match error {
        ScienceError::OutOfRange {
            what: "buffer capacity",
            found,
            most,
            ..
        } => {
            let found_now = if found < 0.0 {
                "--trial: found a pH sourer than that much vinegar comes to by itself".to_owned()
            } else {
                format!(
                    "--trial: found {} mmol of acid bound for each kilogram and unit of pH",
                    number(found * 1000.0, 0)
                )
            };
            Refusal::new(
                found_now,
                format!(
                    "a pH a vegetable leaves: 0 to {} mmol bound",
                    number(most * 1000.0, 0)
                ),
                "check the weights and the strength of the vinegar, the meter in its buffers, and read again",
            )
        }
        other => Refusal::from(other).about("--trial"),
    }
}

const NO_BUFFER: &str =
    "unknown: nobody said how this vegetable binds acid, and no value is published";

/// The range assumed of a vegetable nobody measured, mmol/(kg pH).
pub(super) fn assumed() -> (f64, f64) {
    (
        ASSUMED_BUFFER.least() * 1000.0,
        ASSUMED_BUFFER.most() * 1000.0,
    )
}

fn around(median: f64, spread: f64) -> Spread {
    Spread::LogNormal {
        median: median.max(1e-6),
        factor: spread.powf(1.0 / Z_95),
    }
}
