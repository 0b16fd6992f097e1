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
/// Cells of a draw and of a search; a quarter of the usual ones moves the mean by less than a hundredth.
const CELLS: usize = 20;
/// Where a dose is looked for, percent: of green weight, and of a brine. House values.
pub(super) const DRY_PCT: (f64, f64) = (0.2, 20.0);
pub(super) const BRINE_PCT: (f64, f64) = (0.5, 26.0);
/// Where a cut is looked for, mm. House values.
pub(super) const CUT_MM: (f64, f64) = (1.0, 300.0);

/// The goal's figure in the thickest piece at `time`, over the draws.
pub(super) fn drawn(
    model: &Model,
    thick: Length,
    time: Elapsed,
    seed: u64,
) -> Result<Outcome, ScienceError> {
    let factor = model.law.spread().powf(1.0 / Z_95);
    let dose = model.salt_pct();
    let most_dose = match model.contact {
        super::Contact::Dry { .. } => 200.0,
        super::Contact::Brine { .. } => 26.0,
    };
    let normal = |mean, sd| Spread::Normal { mean, sd };
    let inputs = [
        Input::new(
            "diffusivity",
            Spread::LogNormal {
                median: 1.0,
                factor,
            },
            0.01..=100.0,
        )?,
        Input::new(
            "thickness",
            normal(thick.mm(), THICKNESS_SD_MM),
            0.5..=500.0,
        )?,
        Input::new("temperature", normal(model.at.c(), AT_SD_C), -2.0..=30.0)?,
        Input::new(
            "water of the flesh",
            normal(model.water_pct, WATER_SD_PCT),
            20.0..=95.0,
        )?,
        Input::new(
            "salt",
            normal(dose, dose * SALT_SD_OF_DOSE),
            1e-3..=most_dose,
        )?,
    ];
    let grid = Grid::of_cells(CELLS)?;
    let one = |v: &[f64]| -> Result<f64, ScienceError> {
        let [factor, mm, c, water_pct, salt] = *v else {
            return Err(ScienceError::None {
                what: "inputs of a draw",
            });
        };
        let at = Temperature::celsius(c)?;
        let speed = model.law.at(at)?.value_m2_s() * factor;
        let other = Model {
            at,
            water_pct,
            ..model.with_salt(salt)
        }
        .moving(speed)?;
        let history = other.run(Length::millimetres(mm)?, time, grid)?;
        Ok(other.figure(&history.last))
    };
    draws(&inputs, DRAWS, seed, |v| one(v).ok())
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
pub(super) fn most_salt(model: &Model, thick: Length, time: Elapsed) -> Result<Found, ScienceError> {
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
