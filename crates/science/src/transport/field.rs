//! A content over the section of a piece, and one step of it in time.

use super::line::{Line, Sweep};

/// The section: two directions, the second a single cell for slab and cylinder.
///
/// Contents lie cell after cell of the first direction, each with all cells of the second.
#[derive(Debug)]
pub(super) struct Section {
    pub(super) across: Line,
    pub(super) along: Line,
}

/// A figure for every cell at an open face, in both directions.
#[derive(Debug)]
pub(super) struct Faces {
    pub(super) across: Vec<f64>,
    pub(super) along: Vec<f64>,
}

impl Faces {
    /// The figures of the cells at the faces, each passed through `of`.
    pub(super) fn fill(&mut self, section: &Section, of: impl Fn(usize) -> f64) {
        let width = section.along.cells();
        for (lane, face) in self.across.iter_mut().enumerate() {
            *face = of(lane);
        }
        for (row, face) in self.along.iter_mut().enumerate() {
            *face = of(row * width);
        }
    }
}

impl Section {
    pub(super) fn cells(&self) -> usize {
        self.across.cells() * self.along.cells()
    }

    pub(super) fn has_face(&self) -> bool {
        self.across.has_face() || self.along.has_face()
    }

    pub(super) fn faces(&self) -> Faces {
        Faces {
            across: vec![0.0; self.along.cells()],
            along: vec![0.0; self.across.cells()],
        }
    }

    /// The content of the whole, per kilogram.
    pub(super) fn mean(&self, values: &[f64]) -> f64 {
        let width = self.along.cells();
        values
            .chunks_exact(width)
            .zip(&self.across.volume)
            .map(|(row, v)| {
                let lanes: f64 = row.iter().zip(&self.along.volume).map(|(s, w)| s * w).sum();
                v * lanes
            })
            .sum()
    }

    /// The content at the thickest place, where the curve is level: a parabola through the last two cells
    /// of each direction.
    pub(super) fn core(&self, values: &[f64]) -> f64 {
        let (rows, width) = (self.across.cells(), self.along.cells());
        let lane = |row: usize| level_end(width, |b| values[row * width + b]);
        level_end(rows, lane).max(0.0)
    }

    /// The content at the middle of a face that lets nothing through any more.
    pub(super) fn closed_face(&self, values: &[f64]) -> f64 {
        let (rows, width) = (self.across.cells(), self.along.cells());
        if self.across.has_face() || width == 1 {
            let lane = |row: usize| level_end(width, |b| values[row * width + b]);
            level_end(rows, |row| lane(rows - 1 - row)).max(0.0)
        } else {
            let row = |b: usize| level_end(rows, |row| values[row * width + b]);
            level_end(width, |b| row(width - 1 - b)).max(0.0)
        }
    }

    /// The cell at the middle of the face.
    pub(super) fn face_cell(&self) -> usize {
        if self.across.has_face() {
            self.along.cells() - 1
        } else {
            (self.across.cells() - 1) * self.along.cells()
        }
    }

    /// Share of each cell that lies in a film of this depth under the open faces.
    pub(super) fn film(&self, depth_m: f64) -> Vec<f64> {
        let kept = |line: &Line| -> Vec<f64> {
            (0..line.cells())
                .map(|i| {
                    if line.has_face() {
                        ((i + 1) as f64 - depth_m / line.cell_m).clamp(0.0, 1.0)
                    } else {
                        1.0
                    }
                })
                .collect()
        };
        let (across, along) = (kept(&self.across), kept(&self.along));
        across
            .iter()
            .flat_map(|a| along.iter().map(move |b| 1.0 - a * b))
            .collect()
    }
}

/// The value at a level end beyond the last of `cells`, exact for a parabola.
fn level_end(cells: usize, at: impl Fn(usize) -> f64) -> f64 {
    if cells < 2 {
        return at(cells - 1);
    }
    (9.0 * at(cells - 1) - at(cells - 2)) / 8.0
}

/// Room for stepping, made once for a piece.
#[derive(Debug)]
pub(super) struct Stepper {
    sweep: Sweep,
    turned: Vec<f64>,
    faces: Faces,
    along_first: bool,
}

impl Stepper {
    pub(super) fn new(section: &Section) -> Self {
        Self {
            sweep: Sweep::new(section.cells()),
            turned: vec![0.0; section.cells()],
            faces: section.faces(),
            along_first: false,
        }
    }

    /// Turns the order of the two directions, so that what one order leaves out the next puts back.
    pub(super) fn turn(&mut self) {
        self.along_first = !self.along_first;
    }

    /// One step of `d_dt_m2` (diffusivity × time), the faces at `level` times `pattern`, or closed.
    ///
    /// Returns what came in through them.
    pub(super) fn step(
        &mut self,
        section: &Section,
        d_dt_m2: f64,
        values: &mut [f64],
        open: Option<(&Faces, f64)>,
    ) -> f64 {
        if let Some((pattern, level)) = open {
            let scaled = |into: &mut [f64], from: &[f64]| {
                for (x, p) in into.iter_mut().zip(from) {
                    *x = level * p;
                }
            };
            scaled(&mut self.faces.across, &pattern.across);
            scaled(&mut self.faces.along, &pattern.along);
        }
        let open = open.is_some();
        if section.along.cells() == 1 {
            return self.across(section, d_dt_m2, values, open);
        }
        if self.along_first {
            let along = self.along(section, d_dt_m2, values, open);
            along + self.across(section, d_dt_m2, values, open)
        } else {
            let across = self.across(section, d_dt_m2, values, open);
            across + self.along(section, d_dt_m2, values, open)
        }
    }

    fn across(&mut self, section: &Section, d_dt_m2: f64, values: &mut [f64], open: bool) -> f64 {
        let face = open.then_some(self.faces.across.as_slice());
        let weights = &section.along.volume;
        self.sweep
            .step(&section.across, d_dt_m2, values, face, weights)
    }

    fn along(&mut self, section: &Section, d_dt_m2: f64, values: &mut [f64], open: bool) -> f64 {
        let face = open.then_some(self.faces.along.as_slice());
        let weights = &section.across.volume;
        let (rows, width) = (section.across.cells(), section.along.cells());
        turn_over(values, &mut self.turned, rows, width);
        let inflow = self
            .sweep
            .step(&section.along, d_dt_m2, &mut self.turned, face, weights);
        turn_over(&self.turned, values, width, rows);
        inflow
    }
}

/// Rows to columns.
fn turn_over(from: &[f64], into: &mut [f64], rows: usize, width: usize) {
    for (b, column) in into.chunks_exact_mut(rows).enumerate().take(width) {
        for (row, x) in column.iter_mut().enumerate() {
            *x = from[row * width + b];
        }
    }
}
