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

use super::surface::{Crossing, Outside};
use super::{Body, History, Programme, Reading, Segment, Shape};
use crate::ScienceError;
use crate::error::within;
use crate::thermal_properties::Material;

/// `1 − 1 ÷ √2`: the first stage's share of a step.
const STAGE: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// Newton steps before giving up; three or four are usual.
const MOST_NEWTON: usize = 40;
/// A Newton correction below this, in K, is the last: the next would be its square.
const SETTLED_K: f64 = 1e-7;
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
        heat_kj_per_kg: cells.heat_in / cells.weight() / 1000.0,
        evaporated_g_per_m2: cells.water_out * 1000.0,
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

fn in_range(
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

/// The cells of a piece, per m² of open surface, with all the room the solver needs.
struct Cells {
    width_m: f64,
    /// kg.
    mass: Vec<f64>,
    /// Face outside each cell over the open surface.
    face: Vec<f64>,
    /// Resistance of a contact at that face, m² K/W.
    contact: Vec<f64>,
    t_c: Vec<f64>,
    /// Enthalpy at the start of a stage, J/kg.
    base: Vec<f64>,
    diagonal: Vec<f64>,
    /// Off-diagonals: `upper[i]` couples row `i` to `i + 1`, `lower[i]` row `i + 1` to `i`.
    upper: Vec<f64>,
    lower: Vec<f64>,
    residual: Vec<f64>,
    surface_c: f64,
    /// Enthalpy of all at the start, J.
    first_heat: f64,
    last_heat: f64,
    heat_in: f64,
    heat_either_way: f64,
    water_out: f64,
}

impl Cells {
    fn new(material: &impl Material, body: &Body, start_c: f64, cells: usize) -> Self {
        let (pieces, gap) = match body.shape() {
            Shape::Stack { pieces, contact } => {
                (pieces as usize, contact.map_or(0.0, |h| 1.0 / h.value()))
            }
            Shape::Slab { .. } | Shape::Cylinder | Shape::Sphere => (1, 0.0),
        };
        let count = cells * pieces;
        let (way, density) = (body.way_m(), material.density_kg_per_m3(start_c));
        let width_m = way / count as f64;
        // Radius of the face outside cell i, as a part of the way; and the power of the shape.
        let radius = |i: usize| i as f64 / count as f64;
        let power = match body.shape() {
            Shape::Slab { .. } | Shape::Stack { .. } => 0,
            Shape::Cylinder => 1,
            Shape::Sphere => 2,
        };
        let volume = |i: usize| {
            way * (radius(i + 1).powi(power + 1) - radius(i).powi(power + 1)) / f64::from(power + 1)
        };
        // From the middle of the stack pieces touch every two half pieces, counted back from the outside.
        let touches = |i: usize| (i + 1) < count && (count - i - 1).is_multiple_of(2 * cells);
        let enthalpy = material.enthalpy_j_per_kg(start_c);
        let mass: Vec<f64> = (0..count).map(|i| density * volume(i)).collect();
        let first_heat = mass.iter().sum::<f64>() * enthalpy;
        Self {
            width_m,
            mass,
            face: (0..count).map(|i| radius(i + 1).powi(power)).collect(),
            contact: (0..count)
                .map(|i| if touches(i) { gap } else { 0.0 })
                .collect(),
            t_c: vec![start_c; count],
            base: vec![enthalpy; count],
            diagonal: vec![0.0; count],
            upper: vec![0.0; count],
            lower: vec![0.0; count],
            residual: vec![0.0; count],
            surface_c: start_c,
            first_heat,
            last_heat: first_heat,
            heat_in: 0.0,
            heat_either_way: 0.0,
            water_out: 0.0,
        }
    }

    fn weight(&self) -> f64 {
        self.mass.iter().sum()
    }

    fn energy_gap(&self) -> f64 {
        if self.heat_either_way == 0.0 {
            return 0.0;
        }
        (self.last_heat - self.first_heat - self.heat_in) / self.heat_either_way
    }

    /// One step of `step` seconds, beginning `done` into a stretch of `whole`.
    fn step<M: Material>(
        &mut self,
        material: &M,
        segment: &Segment,
        (done, step, whole): (i64, i64, i64),
        clock: i64,
    ) -> Result<(), ScienceError> {
        let seconds = step as f64;
        let part = |stage: f64| (done as f64 + stage * seconds) / whole as f64;
        let stage_s = STAGE * seconds;
        for (base, &t) in self.base.iter_mut().zip(&self.t_c) {
            *base = material.enthalpy_j_per_kg(t);
        }
        let first = self.stage(
            material,
            &Outside::at(segment, part(STAGE))?,
            stage_s,
            clock,
        )?;
        let carried = (1.0 - STAGE) / STAGE;
        for (base, &t) in self.base.iter_mut().zip(&self.t_c) {
            *base += carried * (material.enthalpy_j_per_kg(t) - *base);
        }
        let second = self.stage(material, &Outside::at(segment, part(1.0))?, stage_s, clock)?;
        let weigh = |a: f64, b: f64| seconds * ((1.0 - STAGE) * a + STAGE * b);
        self.heat_in += weigh(first.heat_w_per_m2, second.heat_w_per_m2);
        self.heat_either_way += weigh(first.heat_w_per_m2.abs(), second.heat_w_per_m2.abs());
        self.water_out += weigh(first.water_kg_per_m2_s, second.water_kg_per_m2_s);
        self.surface_c = second.surface_c;
        self.last_heat = (self.mass.iter().zip(&self.t_c))
            .map(|(mass, &t)| mass * material.enthalpy_j_per_kg(t))
            .sum();
        Ok(())
    }

    /// Solves `m (H(T) − base) = time × (heat in − heat out)` for all cells by Newton steps.
    fn stage<M: Material>(
        &mut self,
        material: &M,
        outside: &Outside,
        time: f64,
        clock: i64,
    ) -> Result<Crossing, ScienceError> {
        let unsettled = ScienceError::Unsettled {
            at_min: clock as f64 / 60.0,
        };
        let half = 0.5 * self.width_m;
        let last = self.t_c.len() - 1;
        let mut surface_c = self.surface_c;
        for _ in 0..MOST_NEWTON {
            for i in 0..=last {
                let t = self.t_c[i];
                self.residual[i] = self.mass[i] * (material.enthalpy_j_per_kg(t) - self.base[i]);
                self.diagonal[i] = self.mass[i] * material.specific_heat_j_per_kg_k(t);
            }
            for i in 0..last {
                let (inner, outer) = (self.t_c[i], self.t_c[i + 1]);
                let (k, k_slope) = material.conductivity_and_slope(0.5 * (inner + outer));
                let through = 1.0 / (self.width_m / k + self.contact[i]);
                let bend = 0.5 * k_slope * through * through * self.width_m / (k * k);
                let (rise, weight) = (outer - inner, time * self.face[i]);
                let flow = weight * through * rise;
                // Change of the inward flow with the outer and with the inner temperature.
                let by_outer = weight * (bend * rise + through);
                let by_inner = weight * (bend * rise - through);
                self.residual[i] -= flow;
                self.residual[i + 1] += flow;
                self.diagonal[i] -= by_inner;
                self.diagonal[i + 1] += by_outer;
                self.upper[i] = -by_outer;
                self.lower[i] = by_inner;
            }
            let crossing = outside
                .crossing(material, self.t_c[last], half, surface_c)
                .ok_or_else(|| unsettled.clone())?;
            surface_c = crossing.surface_c;
            self.residual[last] -= time * crossing.heat_w_per_m2;
            self.diagonal[last] -= time * crossing.slope;
            if self.correct() < SETTLED_K {
                return outside
                    .crossing(material, self.t_c[last], half, surface_c)
                    .ok_or(unsettled);
            }
        }
        Err(unsettled)
    }

    /// Solves the tridiagonal system, applies the correction, and says how large it was, K.
    fn correct(&mut self) -> f64 {
        let last = self.t_c.len() - 1;
        for i in 0..last {
            let factor = self.lower[i] / self.diagonal[i];
            self.diagonal[i + 1] -= factor * self.upper[i];
            self.residual[i + 1] -= factor * self.residual[i];
        }
        let mut outer = 0.0;
        let mut largest = 0.0_f64;
        for i in (0..=last).rev() {
            outer = (self.residual[i] - self.upper[i] * outer) / self.diagonal[i];
            self.t_c[i] -= outer;
            largest = largest.max(outer.abs());
        }
        // A NaN compares false and would pass for settled.
        if largest.is_nan() || self.t_c[0].is_nan() {
            f64::INFINITY
        } else {
            largest
        }
    }

    fn reading(
        &self,
        material: &impl Material,
        time: Elapsed,
        air_c: f64,
    ) -> Result<Reading, ScienceError> {
        // At the core the profile is flat: a parabola through the first two cells.
        let core_c = (9.0 * self.t_c[0] - self.t_c[1]) / 8.0;
        let weighed: f64 = self.mass.iter().zip(&self.t_c).map(|(m, t)| m * t).sum();
        Ok(Reading {
            time,
            air: Temperature::celsius(air_c)?,
            surface: in_range(material, "surface of the food", self.surface_c)?,
            mean: Temperature::celsius(weighed / self.weight())?,
            core: in_range(material, "core of the food", core_c)?,
        })
    }
}

#[cfg(test)]
mod tests;
