//! What is not known exactly, and what would have to change: draws and searches at a planned time.

use science::ScienceError;
use science::inverse::{Limit, Search, SearchError};
use science::spread::{Input, Outcome, Spread, draws};
use science::transport::Grid;
use units::{Elapsed, Length, Temperature};

use super::model::Model;

/// Draws for a chance: the interval of a share is then at most one point either way.
pub(super) const DRAWS: usize = 10_000;
/// Spreads of the inputs; house values: what a ruler, a probe, a table and a bench scale leave open.
/// Two draws in three lie within one of them.
pub(super) const THICKNESS_SD_MM: f64 = 1.0;
pub(super) const AT_SD_C: f64 = 0.5;
pub(super) const WATER_SD_PCT: f64 = 2.0;
pub(super) const SALT_SD_OF_DOSE: f64 = 0.01;
/// Normal deviate that leaves one draw in forty on either side (tables of the normal distribution).
const Z_95: f64 = 1.96;
/// Where a dose is looked for, percent: of green weight, and of a brine. House values.
pub(super) const DRY_PCT: (f64, f64) = (0.2, 20.0);
pub(super) const BRINE_PCT: (f64, f64) = (0.5, 26.0);
/// Where a cut is looked for, mm. House values.
pub(super) const CUT_MM: (f64, f64) = (1.0, 300.0);

/// Standard deviations a draw may lie from its mean; beyond it, it is drawn anew.
const FURTHEST_SD: f64 = 4.0;

/// The goal's figure in the thickest piece at `time`, over the draws.
pub(super) fn drawn(
    model: &Model,
    thick: Length,
    time: Elapsed,
    seed: u64,
) -> Result<Outcome, ScienceError> {
    let dose = model.salt_pct();
    let spread = model.law.spread();
    let inputs = [
        Input::new(
            "diffusivity",
            Spread::LogNormal {
                median: 1.0,
                factor: spread.powf(1.0 / Z_95),
            },
            spread.powi(-2)..=spread.powi(2),
        )?,
        normal("thickness", thick.mm(), THICKNESS_SD_MM, (0.5, 500.0))?,
        normal("temperature", model.at.c(), AT_SD_C, (-2.0, 30.0))?,
        normal(
            "water of the flesh",
            model.water_pct,
            WATER_SD_PCT,
            (20.0, 95.0),
        )?,
        normal("salt", dose, dose * SALT_SD_OF_DOSE, (0.0, 200.0))?,
    ];
    let table = Table::of(model, thick, time)?;
    draws(&inputs, DRAWS, seed, |v| table.figure(v))
}

fn normal(name: &str, mean: f64, sd: f64, valid: (f64, f64)) -> Result<Input, ScienceError> {
    let (low, high) = reach(mean, sd, valid);
    Input::new(name, Spread::Normal { mean, sd }, low..=high)
}

fn reach(mean: f64, sd: f64, valid: (f64, f64)) -> (f64, f64) {
    (
        (mean - FURTHEST_SD * sd).max(valid.0),
        (mean + FURTHEST_SD * sd).min(valid.1),
    )
}

/// Salt per water, of the whole piece and of its thickest place, and sugar per water, against √(time ×
/// speed). Sugar is taken to be quicker or slower with the salt.
#[derive(Debug)]
struct Uptake {
    points: Vec<(f64, [f64; 3])>,
}

impl Uptake {
    /// Read straight between the steps, which lie evenly along √time.
    fn at(&self, root: f64) -> Option<[f64; 3]> {
        let after = self.points.partition_point(|(x, _)| *x < root).max(1);
        let (x0, a) = self.points.get(after - 1)?;
        let (x1, b) = self.points.get(after)?;
        let part = (root - x0) / (x1 - x0);
        Some([0, 1, 2].map(|i| a[i] + part * (b[i] - a[i])))
    }
}

/// What the draws read from.
///
/// While water stays in the piece, salt per water depends on four things only: the shape, D t ÷ L², the
/// dose per water (a dry cure) or the water of the piece (a brine, whose salt then scales all of it). So
/// a few runs answer ten thousand draws; a finger, whose width does not vary with its thickness, takes
/// a row of runs for each of five thicknesses.
#[derive(Debug)]
struct Table<'a> {
    model: &'a Model,
    time_s: f64,
    /// Thickness of the runs, mm; one for a slab or a cylinder, which scale.
    sizes: Vec<f64>,
    /// Dose per water of a dry cure, water of the piece in a brine.
    keys: Vec<f64>,
    /// By size, then by key.
    runs: Vec<Vec<Uptake>>,
}

/// Runs along the dose; what they read between lies within a thousandth of a run of its own.
const KEYS: usize = 9;
/// Runs along the thickness of a finger.
const SIZES: usize = 5;
/// Steps of a run.
const STEPS: usize = 300;

impl<'a> Table<'a> {
    fn of(model: &'a Model, thick: Length, time: Elapsed) -> Result<Self, ScienceError> {
        let even = |(low, high): (f64, f64), count: usize| -> Vec<f64> {
            (0..count)
                .map(|i| low + (high - low) * i as f64 / (count - 1) as f64)
                .collect()
        };
        let reach_mm = reach(thick.mm(), THICKNESS_SD_MM, (0.5, 500.0));
        let scales = !matches!(model.cut, super::Cut::Finger { .. });
        let sizes = if scales {
            vec![thick.mm()]
        } else {
            even(reach_mm, SIZES)
        };
        let water = reach(model.water_pct, WATER_SD_PCT, (20.0, 95.0));
        let dose = model.salt_pct();
        let doses = reach(dose, dose * SALT_SD_OF_DOSE, (0.0, 200.0));
        let dry = matches!(model.contact, super::Contact::Dry { .. });
        let keys = if dry {
            even((doses.0 / water.1, doses.1 / water.0), KEYS)
        } else {
            even(water, KEYS)
        };
        // As far as the fastest salt in the thinnest, warmest piece goes, and a little over.
        let warmest = Temperature::celsius(reach(model.at.c(), AT_SD_C, (-2.0, 30.0)).1)?;
        let mut far = model.law.at(warmest)?.value_m2_s() / model.law.at(model.at)?.value_m2_s()
            * model.law.spread().powi(2);
        if scales {
            far *= (thick.mm() / reach_mm.0).powi(2);
        }
        let until = time.scaled(far * 1.01)?;
        let grid = Grid::default().with_steps(STEPS)?;
        let one = |mm: f64, key: f64| -> Result<Uptake, ScienceError> {
            let other = if dry {
                model.with_salt(key * model.water_pct)
            } else {
                Model {
                    water_pct: key,
                    ..model.clone()
                }
            };
            let per_water = 10.0 * other.water_pct;
            let history = other.run(Length::millimetres(mm)?, until, grid)?;
            let points = history.curve.iter().map(|m| {
                let [mean, core] = [m.mean, m.core].map(|h| h.salt_g_per_kg() / per_water);
                let sugar = m.mean.sugar_g_per_kg() / per_water;
                ((m.hours * 3600.0).sqrt(), [mean, core, sugar])
            });
            Ok(Uptake {
                points: points.collect(),
            })
        };
        let runs = sizes
            .iter()
            .map(|mm| keys.iter().map(|key| one(*mm, *key)).collect())
            .collect::<Result<_, _>>()?;
        Ok(Self {
            model,
            time_s: time.seconds() as f64,
            sizes,
            keys,
            runs,
        })
    }

    /// The goal's figure of one draw; nothing where the model cannot say.
    fn figure(&self, draw: &[f64]) -> Option<f64> {
        let [factor, mm, c, water_pct, salt_pct] = *draw else {
            return None;
        };
        let model = self.model;
        let at = Temperature::celsius(c).ok()?;
        let mut speed = factor * model.law.at(at).ok()?.value_m2_s()
            / model.law.at(model.at).ok()?.value_m2_s();
        if let [size] = self.sizes.as_slice() {
            speed *= (size / mm).powi(2);
        }
        let root = (self.time_s * speed).sqrt();
        let dry = matches!(model.contact, super::Contact::Dry { .. });
        let key = if dry { salt_pct / water_pct } else { water_pct };
        let (k, key_part) = place(&self.keys, key)?;
        let row = |size: usize| -> Option<[f64; 3]> {
            let runs = self.runs.get(size)?;
            Some(between(
                runs.get(k)?.at(root)?,
                runs.get(k + 1)?.at(root)?,
                key_part,
            ))
        };
        let [mut mean, mut core, sugar] = match self.sizes.len() {
            1 => row(0)?,
            _ => {
                let (s, part) = place(&self.sizes, mm)?;
                between(row(s)?, row(s + 1)?, part)
            }
        };
        if !dry {
            let ratio = |pct: f64| pct / (100.0 - pct);
            let scale = ratio(salt_pct) / ratio(model.salt_pct());
            mean *= scale;
            core *= scale;
        }
        let water = water_pct / 100.0;
        Some(match model.wanted {
            super::Wanted::Uptake { .. } => {
                let other = Model {
                    water_pct,
                    ..model.with_salt(salt_pct)
                };
                mean * water / other.ends_at() * 100.0
            }
            super::Wanted::Core { .. } => core / (1.0 + core) * 100.0,
            super::Wanted::Mean { .. } => mean * water / (1.0 + (mean + sugar) * water) * 100.0,
        })
    }
}

fn between(a: [f64; 3], b: [f64; 3], part: f64) -> [f64; 3] {
    [0, 1, 2].map(|i| a[i] + part * (b[i] - a[i]))
}

/// The stretch of a rising row that holds `x`, and the part of the way along it.
fn place(row: &[f64], x: f64) -> Option<(usize, f64)> {
    let (first, last) = (row.first()?, row.last()?);
    if x < *first || x > *last {
        return None;
    }
    let k = row.partition_point(|at| *at <= x).clamp(1, row.len() - 1) - 1;
    let (low, high) = (row.get(k)?, row.get(k + 1)?);
    Some((k, (x - low) / (high - low)))
}

fn is_there(model: &Model, thick: Length, time: Elapsed) -> Result<bool, ScienceError> {
    let history = model.run(thick, time, Grid::default())?;
    Ok(model.figure(&history.last) >= model.least())
}

/// Where a search ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Found {
    /// There.
    At(f64),
    /// All of the range will do.
    Everywhere,
    /// None of the range will.
    Nowhere,
}

/// The least dose, percent, with which a piece meets the goal by `time`. For a share of the uptake there
/// is none to look for: a bigger dose takes longer, not less.
pub(super) fn least_salt(
    model: &Model,
    thick: Length,
    time: Elapsed,
) -> Result<Found, ScienceError> {
    let (low, high) = doses(model);
    let search = Search::new("salt", low, high, 0.005)?;
    found(search.least(|pct| is_there(&model.with_salt(pct), thick, time)))
}

/// The largest dose that has come in to the share wanted by `time`.
pub(super) fn most_salt(
    model: &Model,
    thick: Length,
    time: Elapsed,
) -> Result<Found, ScienceError> {
    let (low, high) = doses(model);
    let search = Search::new("salt", low, high, 0.005)?;
    found(search.greatest(|pct| is_there(&model.with_salt(pct), thick, time)))
}

/// The range a dose is looked for in, percent.
pub(super) fn doses(model: &Model) -> (f64, f64) {
    match model.contact {
        super::Contact::Dry { .. } => DRY_PCT,
        super::Contact::Brine { .. } => BRINE_PCT,
    }
}

/// The thickest cut, mm, that meets the goal by `time`.
pub(super) fn thickest_cut(model: &Model, time: Elapsed) -> Result<Found, ScienceError> {
    let search = Search::new("thickest cut", CUT_MM.0, CUT_MM.1, 0.02)?;
    found(search.greatest(|mm| is_there(model, Length::millimetres(mm)?, time)))
}

/// That nothing in the range will do is an answer here; whatever else is refused stays refused.
fn found(limit: Result<Limit, ScienceError>) -> Result<Found, ScienceError> {
    match limit {
        Ok(Limit {
            fails_at: Some(_),
            x,
            ..
        }) => Ok(Found::At(x)),
        Ok(_) => Ok(Found::Everywhere),
        Err(ScienceError::Search(SearchError::NeverHolds { .. })) => Ok(Found::Nowhere),
        Err(other) => Err(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ask::cure::{Contact, Cure, Cut, Wanted};

    /// Draws read from the table against a run of each draw's own: within 0.3 % of the figure, and of the
    /// figure's own scale where it is next to nothing.
    #[test]
    fn the_table_says_what_a_run_says() {
        let mm = |mm| Length::millimetres(mm).unwrap();
        let time = Elapsed::from_hours(30.0).unwrap();
        let dry = Contact::Dry {
            salt_pct: 2.5,
            sugar_pct: 1.5,
        };
        let brine = |water_pct| Contact::Brine {
            strength_pct: 15.0,
            water_pct,
        };
        let finger = Cut::Finger { width: mm(28.0) };
        let mean = Wanted::Mean {
            least_pct: 2.0,
            most_pct: 2.4,
        };
        let core = Wanted::Core { pct: 2.0 };
        for (cut, both_faces, contact, wanted) in [
            (Cut::Slab, false, dry.clone(), Wanted::Uptake { pct: 95.0 }),
            (Cut::Slab, true, dry.clone(), core.clone()),
            (Cut::Cylinder, true, brine(None), mean.clone()),
            (Cut::Slab, true, brine(Some(100.0)), core),
            (finger, false, dry, mean),
        ] {
            let ask = Cure {
                thickness: mm(25.0),
                thin: None,
                thick: None,
                cut,
                both_faces,
                contact,
                water_pct: 72.0,
                at: Temperature::celsius(3.0).unwrap(),
                wanted,
                diffusivity: None,
                juice_stays: false,
                water_out: None,
                wall: None,
                find: None,
                time: Some(time),
                seed: 1,
            };
            let model = Model::of(&ask).unwrap();
            let table = Table::of(&model, mm(25.0), time).unwrap();
            for (factor, size, c, water, dose) in [
                (1.0, 25.0, 3.0, 72.0, 1.0),
                (2.3, 23.4, 3.9, 76.1, 1.02),
                (0.4, 27.7, 2.2, 68.3, 0.985),
            ] {
                let salt = model.salt_pct() * dose;
                let at = Temperature::celsius(c).unwrap();
                let speed = model.law.at(at).unwrap().value_m2_s() * factor;
                let other = Model {
                    at,
                    water_pct: water,
                    ..model.with_salt(salt)
                }
                .moving(speed)
                .unwrap();
                let run = other
                    .run(mm(size), time, Grid::default().with_steps(600).unwrap())
                    .unwrap();
                let own = other.figure(&run.last);
                let read = table.figure(&[factor, size, c, water, salt]).unwrap();
                assert!(
                    (read - own).abs() < 0.003 * own.max(1.0),
                    "{cut:?} {factor}: {read} for {own}"
                );
            }
        }
    }
}
