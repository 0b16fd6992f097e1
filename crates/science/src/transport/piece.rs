//! The piece: its shape, its closed sides, what the flesh is made of, and how finely it is cut up.

use units::{Fraction, Length};

use super::line::Line;
use crate::ScienceError;
use crate::error::within;

/// Largest piece answered for, mm: beyond it a cure takes longer than the meat keeps.
const THICKEST_MM: f64 = 500.0;

/// The shape of a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Much wider than thick: a fillet, a belly.
    Slab {
        /// From face to face.
        thickness: Length,
    },
    /// Long and round: a tied loin.
    Cylinder {
        /// Across.
        diameter: Length,
    },
    /// Long, of rectangular section: a finger cut across a fillet.
    Finger {
        /// Between the faces one of which may be skin.
        thickness: Length,
        /// Between the other two.
        width: Length,
    },
}

/// How many of the two faces across the thickness let nothing through: skin, fat, the tray.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closed {
    /// Both faces open.
    None,
    /// One closed: a fillet on its skin.
    One,
    /// Both closed. A slab then has no open face; a finger still has its two cut sides.
    Both,
}

/// A piece of flesh.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    shape: Shape,
    closed: Closed,
}

impl Piece {
    /// A piece.
    ///
    /// # Valid range
    /// Every size above 0.5 to 500 mm; a cylinder has no face to close.
    /// # Errors
    /// Outside it.
    pub fn new(shape: Shape, closed: Closed) -> Result<Self, ScienceError> {
        let sizes = match shape {
            Shape::Slab { thickness } => [thickness, thickness],
            Shape::Cylinder { diameter } => [diameter, diameter],
            Shape::Finger { thickness, width } => [thickness, width],
        };
        for size in sizes {
            within(
                "size of the piece",
                "mm",
                size.mm(),
                0.5,
                THICKEST_MM,
                "measure again, in mm",
            )?;
        }
        if matches!(shape, Shape::Cylinder { .. }) && closed != Closed::None {
            return Err(ScienceError::NoFaceToClose);
        }
        Ok(Self { shape, closed })
    }

    /// The shape.
    #[must_use]
    pub fn shape(&self) -> Shape {
        self.shape
    }

    /// The faces closed across the thickness.
    #[must_use]
    pub fn closed(&self) -> Closed {
        self.closed
    }

    /// The way to the thickest place, along the shortest open direction, in m: the `L` of the Fourier number.
    pub(super) fn way_m(&self) -> f64 {
        let across = |size: Length| match self.closed {
            Closed::None => size.metres() / 2.0,
            Closed::One | Closed::Both => size.metres(),
        };
        match self.shape {
            Shape::Slab { thickness } => across(thickness),
            Shape::Cylinder { diameter } => diameter.metres() / 2.0,
            Shape::Finger { width, .. } if self.closed == Closed::Both => width.metres() / 2.0,
            Shape::Finger { thickness, width } => across(thickness).min(width.metres() / 2.0),
        }
    }

    /// Cells across the thickness and across the width.
    pub(super) fn lines(&self, grid: Grid) -> (Line, Line) {
        let across = |size: Length, cells: usize| match self.closed {
            Closed::None => Line::slab(size.metres() / 2.0, cells, true),
            Closed::One => Line::slab(size.metres(), cells, true),
            Closed::Both => Line::slab(size.metres(), cells, false),
        };
        match self.shape {
            Shape::Slab { thickness } => (across(thickness, grid.cells), Line::single()),
            Shape::Cylinder { diameter } => (
                Line::cylinder(diameter.metres() / 2.0, grid.cells),
                Line::single(),
            ),
            Shape::Finger { width, .. } if self.closed == Closed::Both => (
                Line::slab(width.metres() / 2.0, grid.cells, true),
                Line::single(),
            ),
            Shape::Finger { thickness, width } => (
                across(thickness, grid.cells_of_finger),
                Line::slab(width.metres() / 2.0, grid.cells_of_finger, true),
            ),
        }
    }
}

/// What the flesh is made of when green.
#[derive(Debug, Clone, PartialEq)]
pub struct Flesh {
    water: f64,
}

impl Flesh {
    /// Flesh with this share of water, without salt or sugar.
    ///
    /// # Valid range
    /// 20 to 95 % of the green weight.
    /// # Errors
    /// Outside it.
    pub fn with_water(water: &Fraction) -> Result<Self, ScienceError> {
        let pct = within(
            "water of the flesh",
            "%",
            water.pct(),
            20.0,
            95.0,
            "lean fish is near 80, fat fish 65, lean meat 75",
        )?;
        Ok(Self { water: pct / 100.0 })
    }

    /// Kilograms of water per kilogram of green weight.
    #[must_use]
    pub fn water_kg_per_kg(&self) -> f64 {
        self.water
    }
}

/// How finely place and time are cut up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Grid {
    pub(super) cells: usize,
    pub(super) cells_of_finger: usize,
    pub(super) steps: Option<usize>,
}

impl Default for Grid {
    /// Eighty cells from the open face inward, thirty-two each way in a finger, steps by the piece.
    fn default() -> Self {
        Self {
            cells: 80,
            cells_of_finger: 32,
            steps: None,
        }
    }
}

impl Grid {
    /// So many cells in every direction.
    ///
    /// # Valid range
    /// 4 to 1000.
    /// # Errors
    /// Outside it.
    pub fn of_cells(cells: usize) -> Result<Self, ScienceError> {
        within("cells", "", cells as f64, 4.0, 1000.0, "80 is plenty")?;
        Ok(Self {
            cells,
            cells_of_finger: cells,
            steps: None,
        })
    }

    /// So many steps for every phase, growing as the square of their number.
    ///
    /// # Valid range
    /// 4 to 100 000.
    /// # Errors
    /// Outside it.
    pub fn with_steps(self, steps: usize) -> Result<Self, ScienceError> {
        within("steps", "", steps as f64, 4.0, 1e5, "100 is plenty")?;
        Ok(Self {
            steps: Some(steps),
            ..self
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Base;

    fn mm(mm: f64) -> Length {
        Length::millimetres(mm).unwrap()
    }

    #[test]
    fn what_is_no_piece_is_refused() {
        let slab = |t| Shape::Slab { thickness: mm(t) };
        assert!(Piece::new(slab(0.0), Closed::None).is_err());
        assert!(Piece::new(slab(501.0), Closed::None).is_err());
        let round = Shape::Cylinder { diameter: mm(60.0) };
        assert!(Piece::new(round, Closed::One).is_err());
        let dry = Fraction::percent(10.0, Base::new("green weight").unwrap()).unwrap();
        assert!(Flesh::with_water(&dry).is_err());
        assert!(Grid::of_cells(2).is_err());
        assert!(Grid::default().with_steps(0).is_err());
    }

    #[test]
    fn the_way_is_half_when_both_faces_are_open() {
        let way = |shape, closed| Piece::new(shape, closed).unwrap().way_m();
        let slab = Shape::Slab {
            thickness: mm(25.0),
        };
        assert_eq!(way(slab, Closed::None), 0.0125);
        assert_eq!(way(slab, Closed::One), 0.025);
        let finger = Shape::Finger {
            thickness: mm(25.0),
            width: mm(30.0),
        };
        assert_eq!(way(finger, Closed::None), 0.0125);
        assert_eq!(way(finger, Closed::One), 0.015);
        assert_eq!(way(finger, Closed::Both), 0.015);
    }
}
