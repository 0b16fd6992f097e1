//! An ingredient: what it is made of, what a cup of it weighs, what is cut away, what it contains.

use sources::Citation;
use units::{Density, Mass};

use crate::Id;
use crate::label::{Allergens, Origins};

/// One ingredient of the shipped table or of a book.
#[derive(Debug, Clone, PartialEq)]
pub struct Ingredient {
    /// Id, unique over the book.
    pub id: Id,
    /// Name, head noun first: `salt, table`.
    pub name: String,
    /// Other words cooks use for it.
    pub also: Vec<String>,
    /// The bare word that is ambiguous by volume (`salt`, `sugar`), when it belongs to such a family.
    pub family: Option<String>,
    /// What it does in a formula.
    pub role: Option<Role>,
    /// Grams per 100 g edible, where known.
    pub composition: Option<Composition>,
    /// Bulk density by form; the first is used when no form is named.
    pub density: Vec<FormDensity>,
    /// Edible over purchased, by cut.
    pub trim: Vec<TrimYield>,
    /// Weight of one piece for count words.
    pub each: Vec<PieceWeight>,
    /// Which allergens it contains; `None` is unknown, not "nothing".
    pub allergens: Option<Allergens>,
    /// What it was made from, as far as a diet asks; `None` is unknown.
    pub origin: Option<Origins>,
}

/// What an ingredient does in a formula, where the arithmetic needs to know.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Role {
    /// Sodium chloride.
    Salt,
    /// Salt carrying nitrite (and perhaps nitrate), percent by mass.
    CuringSalt {
        /// Percent sodium nitrite.
        nitrite_pct: f64,
        /// Percent sodium nitrate.
        nitrate_pct: f64,
    },
    /// Sugars.
    Sugar,
    /// A vinegar or other acid.
    Acid,
    /// An oil or fat.
    Oil,
    /// Water from the tap: never ordered, never priced.
    Water,
    /// Smoking wood.
    Wood,
    /// Jars, bags, nets: counted, not eaten.
    Ware,
}

/// Grams per 100 g edible portion; `None` where not reported, never zero for unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct Composition {
    /// Water, g per 100 g.
    pub water: Option<f64>,
    /// Protein, g per 100 g.
    pub protein: Option<f64>,
    /// Fat, g per 100 g.
    pub fat: Option<f64>,
    /// Carbohydrate by difference (includes fibre), g per 100 g.
    pub carbohydrate: Option<f64>,
    /// Sugars, g per 100 g.
    pub sugars: Option<f64>,
    /// Sodium chloride where it is really salt, g per 100 g.
    pub salt: Option<f64>,
    /// Acetic acid, g per 100 g.
    pub acetic: Option<f64>,
    /// Where the row comes from.
    pub source: Citation,
}

/// A bulk density and the form it holds for.
#[derive(Debug, Clone, PartialEq)]
pub struct FormDensity {
    /// "loose", "sliced", "packed" …
    pub form: String,
    /// Grams per millilitre.
    pub density: Density,
    /// Where it comes from.
    pub source: Citation,
    /// How it was reached, in words.
    pub note: Option<String>,
}

/// Edible over purchased mass for one cut.
#[derive(Debug, Clone, PartialEq)]
pub struct TrimYield {
    /// "peel and root", "stalks off" …
    pub cut: String,
    /// Edible over purchased, 0–1.
    pub mean: f64,
    /// Where it comes from.
    pub source: Citation,
}

/// The weight of one clove, bulb, egg.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceWeight {
    /// The count word.
    pub word: String,
    /// Weight of one.
    pub mass: Mass,
    /// Where it comes from.
    pub source: Citation,
}

/// Percent NaCl from which a salt counts as pure (house value).
const PURE_FROM: f64 = 99.5;

impl Ingredient {
    /// The density of a named form, or the first one.
    #[must_use]
    pub fn density_of(&self, form: Option<&str>) -> Option<&FormDensity> {
        match form {
            None => self.density.first(),
            Some(f) => self.density.iter().find(|d| d.form == f),
        }
    }

    /// Salt (NaCl) in 100 g, counting the carrier of a curing salt.
    ///
    /// Cooking salt counts as pure from 99.5 % up: what is missing is moisture below the step of
    /// every bench scale, and the bench weighs salt as salt.
    #[must_use]
    pub fn salt_pct(&self) -> f64 {
        match (&self.role, &self.composition) {
            (
                Some(Role::CuringSalt {
                    nitrite_pct,
                    nitrate_pct,
                }),
                _,
            ) => 100.0 - nitrite_pct - nitrate_pct,
            (Some(Role::Salt), composition) => composition
                .as_ref()
                .and_then(|c| c.salt)
                .filter(|salt| *salt < PURE_FROM)
                .unwrap_or(100.0),
            (_, Some(c)) => c.salt.unwrap_or(0.0),
            _ => 0.0,
        }
    }

    /// Sodium nitrite in 100 g.
    #[must_use]
    pub fn nitrite_pct(&self) -> f64 {
        match self.role {
            Some(Role::CuringSalt { nitrite_pct, .. }) => nitrite_pct,
            _ => 0.0,
        }
    }

    /// Acetic acid in 100 g.
    #[must_use]
    pub fn acetic_pct(&self) -> f64 {
        self.composition
            .as_ref()
            .and_then(|c| c.acetic)
            .unwrap_or(0.0)
    }

    /// Whether it is used as sugar in a formula.
    #[must_use]
    pub const fn is_sugar(&self) -> bool {
        matches!(self.role, Some(Role::Sugar))
    }

    /// Whether it comes from the tap and is neither ordered nor priced.
    #[must_use]
    pub const fn is_water(&self) -> bool {
        matches!(self.role, Some(Role::Water))
    }
}
