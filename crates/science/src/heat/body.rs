//! The piece: its shape, how thick it is, and through which faces heat goes in.

use units::Length;

use super::HeatTransfer;
use crate::ScienceError;
use crate::error::within;

/// Through which faces of a flat piece heat goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Faces {
    /// Both: on a rack, in a bag in water.
    Both,
    /// One: the other stands on something that neither gives nor takes heat. A tub on a shelf.
    One,
}

/// The shape of a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// A fillet, a pan of liquor: much wider than thick.
    Slab {
        /// Faces that are open.
        faces: Faces,
    },
    /// A loin, a sausage: much longer than wide.
    Cylinder,
    /// A ball.
    Sphere,
    /// Flat pieces lying on each other, open above and below.
    Stack {
        /// How many.
        pieces: u32,
        /// Heat transfer where two touch; nothing for perfect contact.
        contact: Option<HeatTransfer>,
    },
}

/// A piece of food: a shape and its thickness (or diameter).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Body {
    shape: Shape,
    thickness_mm: f64,
}

impl Body {
    /// A piece. Thickness is the full thickness of one piece, or the diameter.
    ///
    /// # Valid range
    /// 1 to 500 mm; 1 to 20 pieces in a stack. Fingers and other blocks, open on four sides, are
    /// faster than the slab of their thickness: the slab is then the slow side.
    /// # Errors
    /// Outside it.
    pub fn new(shape: Shape, thickness: Length) -> Result<Self, ScienceError> {
        let thickness_mm = within(
            "thickness",
            "mm",
            thickness.mm(),
            1.0,
            500.0,
            "measure at the thickest place",
        )?;
        if let Shape::Stack { pieces, .. } = shape {
            within(
                "pieces in the stack",
                "",
                f64::from(pieces),
                1.0,
                20.0,
                "count the layers",
            )?;
        }
        Ok(Self {
            shape,
            thickness_mm,
        })
    }

    /// A flat piece open on both faces.
    ///
    /// # Errors
    /// As [`Body::new`].
    pub fn slab(thickness: Length) -> Result<Self, ScienceError> {
        Self::new(Shape::Slab { faces: Faces::Both }, thickness)
    }

    /// A flat piece, or the depth of a tub, open on one face.
    ///
    /// # Errors
    /// As [`Body::new`].
    pub fn one_sided(thickness: Length) -> Result<Self, ScienceError> {
        Self::new(Shape::Slab { faces: Faces::One }, thickness)
    }

    /// A long round piece.
    ///
    /// # Errors
    /// As [`Body::new`].
    pub fn cylinder(diameter: Length) -> Result<Self, ScienceError> {
        Self::new(Shape::Cylinder, diameter)
    }

    /// Its shape.
    #[must_use]
    pub fn shape(&self) -> Shape {
        self.shape
    }

    /// The way from the surface to the core, m.
    #[must_use]
    pub fn way_m(&self) -> f64 {
        let thickness = self.thickness_mm / 1000.0;
        match self.shape {
            Shape::Slab { faces: Faces::One } => thickness,
            Shape::Stack { pieces, .. } => f64::from(pieces) * thickness / 2.0,
            Shape::Slab { faces: Faces::Both } | Shape::Cylinder | Shape::Sphere => thickness / 2.0,
        }
    }

    /// Volume over open surface, m: the lump behind each square metre.
    #[must_use]
    pub fn volume_per_surface_m(&self) -> f64 {
        match self.shape {
            Shape::Slab { .. } | Shape::Stack { .. } => self.way_m(),
            Shape::Cylinder => self.way_m() / 2.0,
            Shape::Sphere => self.way_m() / 3.0,
        }
    }
}
