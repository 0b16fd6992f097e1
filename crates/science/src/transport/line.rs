//! One direction of the piece: cells from the open face inward, and one implicit step along them.

/// γ of the two-stage step, `1 − 1/√2`: both stages solve the same matrix, and the roughest modes die.
const GAMMA: f64 = 1.0 - core::f64::consts::FRAC_1_SQRT_2;
/// What the second stage takes of the first: `(1 − γ) ÷ γ`.
const CARRY: f64 = (1.0 - GAMMA) / GAMMA;

/// Cells in a row. The first lies at the open face, the last at the middle or the closed face.
#[derive(Debug, Clone)]
pub(super) struct Line {
    /// Share of the whole each cell holds; they add up to 1.
    pub(super) volume: Vec<f64>,
    /// Conductance between a cell and the next for a diffusivity of 1, per m².
    between: Vec<f64>,
    /// Conductance between the first cell and the open face; 0 when there is none.
    face: f64,
    /// From the outer face to the middle of each cell, m.
    pub(super) depth_m: Vec<f64>,
    /// Length of a cell, m.
    pub(super) cell_m: f64,
}

impl Line {
    pub(super) fn slab(way_m: f64, cells: usize, open: bool) -> Self {
        let n = cells as f64;
        let h = way_m / n;
        Self {
            volume: vec![1.0 / n; cells],
            between: vec![1.0 / (h * way_m); cells - 1],
            face: if open { 2.0 / (h * way_m) } else { 0.0 },
            depth_m: depths(cells, h),
            cell_m: h,
        }
    }

    pub(super) fn cylinder(radius_m: f64, cells: usize) -> Self {
        let n = cells as f64;
        let h = radius_m / n;
        // Radius of the inner side of cell i, over the whole radius.
        let inner = |i: usize| (cells - 1 - i) as f64 / n;
        Self {
            volume: (0..cells)
                .map(|i| (inner(i) + 1.0 / n).powi(2) - inner(i).powi(2))
                .collect(),
            between: (0..cells - 1)
                .map(|i| 2.0 * inner(i) / (h * radius_m))
                .collect(),
            face: 4.0 / (h * radius_m),
            depth_m: depths(cells, h),
            cell_m: h,
        }
    }

    /// A direction in which nothing happens.
    pub(super) fn single() -> Self {
        Self {
            volume: vec![1.0],
            between: Vec::new(),
            face: 0.0,
            depth_m: vec![0.0],
            cell_m: 0.0,
        }
    }

    pub(super) fn cells(&self) -> usize {
        self.volume.len()
    }

    pub(super) fn has_face(&self) -> bool {
        self.face > 0.0
    }
}

fn depths(cells: usize, h: f64) -> Vec<f64> {
    (0..cells).map(|i| (i as f64 + 0.5) * h).collect()
}

/// The factors of one line's matrix, reused by every lane and both stages.
#[derive(Debug, Default)]
pub(super) struct Factors {
    /// `τ × conductance` between a cell and the next.
    link: Vec<f64>,
    /// One over the pivot.
    inverse: Vec<f64>,
    /// `τ × conductance` to the face, 0 when closed.
    face: f64,
}

impl Factors {
    /// `V + τ L`, with `τ = γ D Δt`, by Gauss without pivoting: the matrix is symmetric and dominant.
    fn set(&mut self, line: &Line, tau: f64, open: bool) {
        let n = line.cells();
        self.face = if open { tau * line.face } else { 0.0 };
        self.link.clear();
        self.link.extend(line.between.iter().map(|c| tau * c));
        self.inverse.clear();
        for i in 0..n {
            let (before, after) = (
                if i > 0 { self.link[i - 1] } else { self.face },
                if i + 1 < n { self.link[i] } else { 0.0 },
            );
            let mut pivot = line.volume[i] + before + after;
            if i > 0 {
                pivot -= before * before * self.inverse[i - 1];
            }
            self.inverse.push(1.0 / pivot);
        }
    }
}

/// Room for one sweep, made once.
#[derive(Debug)]
pub(super) struct Sweep {
    factors: Factors,
    stage: Vec<f64>,
}

impl Sweep {
    pub(super) fn new(cells: usize) -> Self {
        Self {
            factors: Factors::default(),
            stage: vec![0.0; cells],
        }
    }

    /// One step of `d_dt_m2` (diffusivity × time) along `line`, for every lane at once.
    ///
    /// `values` holds cell after cell, each with all its lanes; `face` is the strength at the open face of
    /// each lane, or nothing when it is closed. Returns what came in, each lane weighted by `weights`.
    pub(super) fn step(
        &mut self,
        line: &Line,
        d_dt_m2: f64,
        values: &mut [f64],
        face: Option<&[f64]>,
        weights: &[f64],
    ) -> f64 {
        let lanes = weights.len();
        let open = face.is_some() && line.has_face();
        self.factors.set(line, GAMMA * d_dt_m2, open);
        let face = face.filter(|_| open);

        self.solve(line, values, face, lanes);
        let first = self.pass(line, values, face, weights, CARRY);
        self.solve(line, values, face, lanes);
        // The factors' conductance carries γ already.
        first + self.pass(line, values, face, weights, 1.0)
    }

    /// Solves for a stage into `self.stage`.
    fn solve(&mut self, line: &Line, values: &[f64], face: Option<&[f64]>, lanes: usize) {
        let Factors {
            link,
            inverse,
            face: to_face,
        } = &self.factors;
        let n = line.cells();
        for i in 0..n {
            let (done, rest) = self.stage.split_at_mut(i * lanes);
            let here = &mut rest[..lanes];
            let given = &values[i * lanes..(i + 1) * lanes];
            let (v, inv) = (line.volume[i], inverse[i]);
            if i > 0 {
                let before = &done[(i - 1) * lanes..];
                let link = link[i - 1];
                for ((x, s), b) in here.iter_mut().zip(given).zip(before) {
                    *x = (v * s + link * b) * inv;
                }
            } else if let Some(face) = face {
                for ((x, s), b) in here.iter_mut().zip(given).zip(face) {
                    *x = (v * s + to_face * b) * inv;
                }
            } else {
                for (x, s) in here.iter_mut().zip(given) {
                    *x = v * s * inv;
                }
            }
        }
        for i in (0..n.saturating_sub(1)).rev() {
            let (left, right) = self.stage.split_at_mut((i + 1) * lanes);
            let factor = link[i] * inverse[i];
            for (x, next) in left[i * lanes..].iter_mut().zip(&right[..lanes]) {
                *x += factor * next;
            }
        }
    }

    /// Lets `part` of the stage's fluxes pass: what leaves a cell enters its neighbour, to the last digit.
    fn pass(
        &self,
        line: &Line,
        values: &mut [f64],
        face: Option<&[f64]>,
        weights: &[f64],
        part: f64,
    ) -> f64 {
        let lanes = weights.len();
        let mut inflow = 0.0;
        if let Some(face) = face {
            let (to_face, into) = (part * self.factors.face, 1.0 / line.volume[0]);
            let faces = face.iter().zip(&self.stage[..lanes]);
            for ((x, (b, s)), w) in values[..lanes].iter_mut().zip(faces).zip(weights) {
                let flux = to_face * (b - s);
                *x += flux * into;
                inflow += w * flux;
            }
        }
        for i in 0..line.cells() - 1 {
            let (outer, inner) = values[i * lanes..(i + 2) * lanes].split_at_mut(lanes);
            let (from, to) = self.stage[i * lanes..(i + 2) * lanes].split_at(lanes);
            let link = part * self.factors.link[i];
            let (out_of, into) = (1.0 / line.volume[i], 1.0 / line.volume[i + 1]);
            for (((x, y), s), t) in outer.iter_mut().zip(inner).zip(from).zip(to) {
                let flux = link * (s - t);
                *x -= flux * out_of;
                *y += flux * into;
            }
        }
        inflow
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn total(line: &Line, values: &[f64]) -> f64 {
        line.volume.iter().zip(values).map(|(v, s)| v * s).sum()
    }

    #[test]
    fn what_comes_in_is_what_is_there() {
        for line in [Line::slab(0.01, 40, true), Line::cylinder(0.01, 40)] {
            assert!((line.volume.iter().sum::<f64>() - 1.0).abs() < 1e-14);
            let (mut sweep, mut values) = (Sweep::new(40), vec![0.0; 40]);
            let mut inflow = 0.0;
            for k in 1..40 {
                let step = 1e-8 * f64::from(k);
                inflow += sweep.step(&line, step, &mut values, Some(&[1.0]), &[1.0]);
            }
            assert!((inflow / total(&line, &values) - 1.0).abs() < 1e-13);
        }
    }

    #[test]
    fn a_closed_line_keeps_its_total_and_evens_out() {
        let line = Line::cylinder(0.01, 30);
        let (mut sweep, mut values) = (Sweep::new(30), vec![0.0; 30]);
        values[3] = 1.0;
        let before = total(&line, &values);
        for _ in 0..50 {
            assert_eq!(sweep.step(&line, 1e-5, &mut values, None, &[1.0]), 0.0);
        }
        assert!((total(&line, &values) / before - 1.0).abs() < 1e-13);
        assert!(values.iter().all(|v| (v / before - 1.0).abs() < 1e-9));
    }

    #[test]
    fn lanes_do_not_touch_each_other() {
        let line = Line::slab(0.01, 20, true);
        let mut both = vec![0.0; 40];
        let mut one = vec![0.0; 20];
        Sweep::new(40).step(&line, 1e-6, &mut both, Some(&[1.0, 3.0]), &[0.5, 0.5]);
        Sweep::new(20).step(&line, 1e-6, &mut one, Some(&[1.0]), &[1.0]);
        for i in 0..20 {
            // Three times as much rounds otherwise, some hundred last digits after both stages.
            assert_eq!(both[2 * i], one[i]);
            assert!((both[2 * i + 1] - 3.0 * one[i]).abs() < 1e-13);
        }
    }
}
