//! Conduction by finite volumes through a machine programme.
//!
//! # Method
//! Equal cells from core to surface, each with the enthalpy of its weight: `m dH/dt = Σ A k ΔT ÷ Δx`.
//! Second order in space (conductivity at the mean of two cells, half a cell to the surface) and in
//! time (the two-stage diagonally implicit scheme with `γ = 1 − 1 ÷ √2`, which never rings after a jump
//! of the air). Each stage is solved by Newton steps on a tridiagonal system, so that the heat in the
//! food is the heat that crossed its surface to rounding, whatever the grid.
//! # Valid range
//! Unfrozen food to 150 °C; weight and size as at the start: a piece that shrinks heats sooner. No fat
//! runs, no water moves inside. A liquor that stirs itself is faster than this.
//! # Source
//! Fourier's law, [CONDUCTION](sources::list::CONDUCTION), from memory; the scheme is Alexander's of
//! 1977, from memory, and is checked here against the series and by halving the step.

use std::ops::ControlFlow;

use units::{Elapsed, Temperature};

use super::cells::Cells;
use super::{Body, History, Programme, Reading};
use crate::ScienceError;
use crate::error::within;
use crate::thermal_properties::Material;

/// Rows a run may have.
const MOST_ROWS: i64 = 1_000_000;

/// How finely a run is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grid {
    cells: usize,
    step: Elapsed,
}

impl Grid {
    /// So many cells from core to surface (of one half piece in a stack), and a time step.
    ///
    /// # Errors
    /// Fewer than 5 or more than 400 cells; no step, or one above an hour.
    pub fn new(cells: usize, step: Elapsed) -> Result<Self, ScienceError> {
        within(
            "cells",
            "",
            cells as f64,
            5.0,
            400.0,
            "40 are plenty for a piece",
        )?;
        within(
            "time step",
            "s",
            step.seconds() as f64,
            1.0,
            3600.0,
            "15 s suit a piece of 25 mm",
        )?;
        Ok(Self { cells, step })
    }

    /// 10 cells and 60 s, for a plan that tries hundreds: a minute and 1 % of the lethality off at most
    /// in the demo smoke.
    ///
    /// # Errors
    /// None in practice.
    pub fn quick() -> Result<Self, ScienceError> {
        Self::new(10, Elapsed::from_seconds(60)?)
    }

    /// 40 cells and 15 s: within 0.01 % of the series in the four worked cases of 25 and 40 mm.
    ///
    /// # Errors
    /// None in practice.
    pub fn usual() -> Result<Self, ScienceError> {
        Self::new(40, Elapsed::from_seconds(15)?)
    }
}

/// Runs a piece, everywhere at `start`, through a programme.
///
/// # Errors
/// A start, surface or core that freezes or passes 150 °C; air too humid; more than a million steps.
/// # Example
/// ```
/// use science::heat::{Body, Grid, Programme, Segment, Surroundings, hold_time_above, heat};
/// use science::thermal_properties::{Food, TROUT};
/// use units::{Elapsed, Length, Temperature};
/// let c = Temperature::celsius;
/// let h = Surroundings::ForcedSmokehouse.heat_transfer()?.usual;
/// let smoke = Programme::new(vec![
///     Segment::steady(c(50.0)?, Elapsed::from_minutes(60.0)?, h),
///     Segment::ramp(c(50.0)?, c(82.0)?, Elapsed::from_minutes(75.0)?, h),
///     Segment::steady(c(82.0)?, Elapsed::from_minutes(30.0)?, h),
/// ])?;
/// let side = Body::slab(Length::millimetres(25.0)?)?;
/// let run = heat(&Food::new(TROUT)?, &side, &smoke, c(4.0)?, Grid::usual()?)?;
/// assert!(run.energy_gap.abs() < 1e-9);
/// assert!(hold_time_above(&run, c(63.0)?)?.longest > Elapsed::ZERO);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn heat(
    material: &impl Material,
    body: &Body,
    programme: &Programme,
    start: Temperature,
    grid: Grid,
) -> Result<History, ScienceError> {
    let mut readings = Vec::with_capacity(rows(programme, grid)?);
    let cells = run(material, body, programme, start, grid, |row| {
        readings.push(row);
        ControlFlow::Continue(())
    })?;
    Ok(History {
        readings,
        heat_kj_per_kg: cells.heat_in_j_per_kg() / 1000.0,
        evaporated_g_per_m2: cells.water_out_kg_per_m2() * 1000.0,
        energy_gap: cells.energy_gap(),
    })
}

/// When the core passes `target`, upward or downward.
///
/// # Errors
/// As [`heat`]; [`ScienceError::CoreNotReached`] when the programme ends before.
pub fn time_to_core(
    material: &impl Material,
    body: &Body,
    programme: &Programme,
    start: Temperature,
    target: Temperature,
    grid: Grid,
) -> Result<Elapsed, ScienceError> {
    rows(programme, grid)?;
    let rising = target > start;
    let mut before = (0.0, start.c());
    let mut nearest = start.c();
    let mut seconds = (target == start).then_some(0.0);
    run(material, body, programme, start, grid, |row| {
        if seconds.is_some() {
            return ControlFlow::Break(());
        }
        let (time, core) = (row.time.seconds() as f64, row.core.c());
        let there = if rising {
            core >= target.c()
        } else {
            core <= target.c()
        };
        if there {
            let part = (target.c() - before.1) / (core - before.1);
            seconds = Some(before.0 + part * (time - before.0));
            return ControlFlow::Break(());
        }
        nearest = if rising {
            nearest.max(core)
        } else {
            nearest.min(core)
        };
        before = (time, core);
        ControlFlow::Continue(())
    })?;
    match seconds {
        Some(seconds) => Ok(Elapsed::from_minutes(seconds / 60.0)?),
        None => Err(ScienceError::CoreNotReached {
            target_c: target.c(),
            nearest_c: nearest,
            after_min: programme.time().minutes(),
        }),
    }
}

fn rows(programme: &Programme, grid: Grid) -> Result<usize, ScienceError> {
    let step = grid.step.seconds();
    let rows: i64 = programme
        .segments()
        .iter()
        .map(|s| (s.time.seconds() + step - 1) / step)
        .sum();
    within(
        "time steps",
        "",
        rows as f64,
        1.0,
        MOST_ROWS as f64,
        "take a longer step",
    )?;
    Ok(rows as usize + 1)
}

/// Walks the programme, handing out a row a step until told to stop.
fn run<M: Material>(
    material: &M,
    body: &Body,
    programme: &Programme,
    start: Temperature,
    grid: Grid,
    mut row: impl FnMut(Reading) -> ControlFlow<()>,
) -> Result<Cells, ScienceError> {
    in_range(material, "start of the food", start.c())?;
    let mut cells = Cells::new(material, body, start.c(), grid.cells);
    let mut clock = 0;
    let first = Reading {
        time: Elapsed::ZERO,
        air: programme.segments().first().map_or(start, |s| s.from),
        surface: start,
        mean: start,
        core: start,
    };
    if row(first).is_break() {
        return Ok(cells);
    }
    for segment in programme.segments() {
        let whole = segment.time.seconds();
        let mut done = 0;
        while done < whole {
            let step = grid.step.seconds().min(whole - done);
            cells.step(material, segment, (done, step, whole), clock)?;
            done += step;
            clock += step;
            let reading = cells.reading(
                material,
                Elapsed::from_seconds(clock)?,
                segment.air_c(done as f64 / whole as f64),
            )?;
            if row(reading).is_break() {
                return Ok(cells);
            }
        }
    }
    Ok(cells)
}

pub(super) fn in_range(
    material: &impl Material,
    what: &'static str,
    t_c: f64,
) -> Result<Temperature, ScienceError> {
    let (least, most) = material.range_c();
    // A message is read by a person: three decimals, rounded away from the range so that nothing
    // outside is rounded into it.
    let said = if t_c < least {
        (t_c * 1000.0).floor() / 1000.0
    } else if t_c > most {
        (t_c * 1000.0).ceil() / 1000.0
    } else {
        t_c
    };
    let t_c = within(
        what,
        "°C",
        said,
        least,
        most,
        "frozen and scorched food is outside this model: change the air, the time or the freezing point",
    )?;
    Ok(Temperature::celsius(t_c)?)
}

#[cfg(test)]
mod tests;
