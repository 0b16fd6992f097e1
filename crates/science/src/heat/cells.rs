//! The cells of a piece and the solution of one time step.

use units::{Elapsed, Temperature};

use super::conduction::in_range;
use super::surface::{Crossing, Outside};
use super::{Body, Reading, Segment, Shape};
use crate::ScienceError;
use crate::thermal_properties::Material;

/// `1 − 1 ÷ √2`: the first stage's share of a step.
const STAGE: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// Newton steps before giving up; three or four are usual.
const MOST_NEWTON: usize = 40;
/// A Newton correction below this, in K, is the last: the next would be its square.
const SETTLED_K: f64 = 1e-7;
/// The cells of a piece, per m² of open surface, with all the room the solver needs.
pub(super) struct Cells {
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
    pub(super) fn new(material: &impl Material, body: &Body, start_c: f64, cells: usize) -> Self {
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

    pub(super) fn heat_in_j_per_kg(&self) -> f64 {
        self.heat_in / self.weight()
    }

    pub(super) fn water_out_kg_per_m2(&self) -> f64 {
        self.water_out
    }

    pub(super) fn energy_gap(&self) -> f64 {
        if self.heat_either_way == 0.0 {
            return 0.0;
        }
        (self.last_heat - self.first_heat - self.heat_in) / self.heat_either_way
    }

    /// One step of `step` seconds, beginning `done` into a stretch of `whole`.
    pub(super) fn step<M: Material>(
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

    pub(super) fn reading(
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
