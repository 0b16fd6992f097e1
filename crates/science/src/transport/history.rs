//! What a calculation hands back: curves, profiles, and where everything went.

use crate::ScienceError;
use crate::brine::Strength;

/// Salt, sugar and water at a place, per kilogram of green weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Here {
    pub(super) salt: f64,
    pub(super) sugar: f64,
    pub(super) water: f64,
}

impl Here {
    /// Salt, g per kg of green weight.
    #[must_use]
    pub fn salt_g_per_kg(&self) -> f64 {
        self.salt * 1000.0
    }

    /// Sugar, g per kg of green weight.
    #[must_use]
    pub fn sugar_g_per_kg(&self) -> f64 {
        self.sugar * 1000.0
    }

    /// Water, g per kg of green weight.
    #[must_use]
    pub fn water_g_per_kg(&self) -> f64 {
        self.water * 1000.0
    }

    /// Water-phase salt: salt of salt and water, percent.
    #[must_use]
    pub fn water_phase_salt_pct(&self) -> f64 {
        if self.salt + self.water > 0.0 {
            self.salt / (self.salt + self.water) * 100.0
        } else {
            0.0
        }
    }

    /// Water-phase salt as a strength.
    ///
    /// # Errors
    /// A place beyond saturation, as rounding may leave a face that lies under salt.
    pub fn water_phase_salt(&self) -> Result<Strength, ScienceError> {
        Strength::percent(self.water_phase_salt_pct())
    }
}

/// The piece at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Hours since the start of the first phase.
    pub hours: f64,
    /// Which phase, from 0.
    pub phase: usize,
    /// The whole piece mixed.
    pub mean: Here,
    /// The middle of an open face; while something lies on it, at the strength it is held.
    pub surface: Here,
    /// The thickest place: the middle, or the closed face.
    pub core: Here,
    /// Weight, kg per kg of green weight.
    pub weight_kg_per_kg: f64,
}

impl Moment {
    /// Salt of the piece as it is now, percent of its weight.
    #[must_use]
    pub fn salt_pct_of_piece(&self) -> f64 {
        self.mean.salt / self.weight_kg_per_kg * 100.0
    }
}

/// A place under the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// How deep, mm, in the middle of the other direction.
    pub depth_mm: f64,
    /// What is there.
    pub here: Here,
}

/// The piece at the end of a phase.
#[derive(Debug, Clone, PartialEq)]
pub struct PhaseEnd {
    /// The phase in a word.
    pub phase: &'static str,
    /// The piece.
    pub moment: Moment,
    /// From the open face to the thickest place.
    pub profile: Vec<Place>,
}

/// Where one substance came from and went, kg per kg of green weight.
///
/// What passed through the faces is added up from the fluxes, what is in the piece from its cells: that
/// they agree is a check, not a definition.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Balance {
    /// In the green flesh.
    pub green: f64,
    /// Pumped in, and the water a rinse puts in.
    pub put_in: f64,
    /// Through the open faces, in less out.
    pub through_faces: f64,
    /// Washed off by rinses.
    pub rinsed: f64,
    /// Offered outside: laid on, or in a brine of limited volume.
    pub offered: f64,
    /// Of what was offered, left outside at the ends of the phases.
    pub left_outside: f64,
    /// In the piece in the end.
    pub in_piece: f64,
}

impl Balance {
    /// What is in the piece beyond what went in, over all there is: rounding, if nothing is wrong.
    #[must_use]
    pub fn gap(&self) -> f64 {
        let went_in = self.green + self.put_in + self.through_faces - self.rinsed;
        let scale = self.green + self.put_in + self.through_faces.abs() + self.rinsed;
        if scale > 0.0 {
            (self.in_piece - went_in) / scale
        } else {
            self.in_piece
        }
    }
}

/// All that happened to a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct History {
    /// Every step, for drawing; the first is the green piece.
    pub curve: Vec<Moment>,
    /// The end of every phase.
    pub ends: Vec<PhaseEnd>,
    /// The piece in the end.
    pub last: Moment,
    /// Salt.
    pub salt: Balance,
    /// Sugar.
    pub sugar: Balance,
    /// Water.
    pub water: Balance,
}
