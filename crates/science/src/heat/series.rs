//! The textbook series for a piece put into air or water of one temperature.
//!
//! # Method
//! `θ = Σ Aₙ Xₙ exp(−ζₙ² Fo)`, θ the part of the first difference to the surroundings that is left,
//! `Fo = α t ÷ L²`, `Bi = h L ÷ k`, `L` the half thickness or the radius. Roots: `ζ tan ζ = Bi` (slab),
//! `ζ J₁(ζ) = Bi J₀(ζ)` (cylinder), `1 − ζ cot ζ = Bi` (sphere). All terms are summed, not the first alone.
//! # Valid range
//! Properties held at one value, a dry surface, one temperature outside. Biot number 0.001 to 10 000,
//! Fourier number 0 or from [`LEAST_FOURIER`]; for shorter times take [`heat`](super::heat).
//! # Source
//! Carslaw and Jaeger, *Conduction of Heat in Solids*, [CONDUCTION](sources::list::CONDUCTION), from memory.

use std::f64::consts::PI;
use units::{Elapsed, Temperature};

use super::bessel::j0_j1;
use super::{Body, HeatTransfer, Shape};
use crate::ScienceError;
use crate::error::within;
use crate::thermal_properties::Properties;

/// Terms kept: the last one's root is near 200.
const TERMS: usize = 64;
/// The shortest Fourier number after zero: at it the first term left out is below `e⁻⁴⁰`.
pub const LEAST_FOURIER: f64 = 1e-3;
/// The longest: 1 % of the slowest difference is left far earlier.
const MOST_FOURIER: f64 = 1e7;

/// Which of the three solutions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// A plate, heated through both faces or closed on one.
    Slab,
    /// A long round piece.
    Cylinder,
    /// A ball.
    Sphere,
}

/// The part of the first difference that is left, in three places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Left {
    /// At the core.
    pub centre: f64,
    /// On average over the piece.
    pub mean: f64,
    /// At the surface.
    pub surface: f64,
}

/// One term of the sum.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Term {
    root: f64,
    centre: f64,
    mean: f64,
    surface: f64,
}

/// The roots and coefficients of one form at one Biot number.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    terms: [Term; TERMS],
}

impl Series {
    /// The series of a form.
    ///
    /// # Errors
    /// A Biot number outside 0.001 to 10 000.
    /// # Example
    /// ```
    /// use science::heat::series::{Form, Series};
    /// let plate = Series::new(Form::Slab, 1.0)?;
    /// assert_eq!(format!("{:.6} {:.6}", plate.first_root(), plate.first_coefficient()), "0.860334 1.119132");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(form: Form, biot: f64) -> Result<Self, ScienceError> {
        let bi = within(
            "Biot number",
            "",
            biot,
            1e-3,
            1e4,
            "below it the piece is at one temperature: use its time constant; above it raise nothing but 10 000",
        )?;
        let mut terms = [Term::default(); TERMS];
        for (n, term) in terms.iter_mut().enumerate() {
            *term = match form {
                Form::Slab => slab(bi, n as f64),
                Form::Cylinder => cylinder(bi, n as f64),
                Form::Sphere => sphere(bi, n as f64),
            };
        }
        Ok(Self { terms })
    }

    /// The first root, which sets the slowest decay.
    #[must_use]
    pub fn first_root(&self) -> f64 {
        self.terms[0].root
    }

    /// The first coefficient at the centre.
    #[must_use]
    pub fn first_coefficient(&self) -> f64 {
        self.terms[0].centre
    }

    /// What is left at a Fourier number.
    ///
    /// # Errors
    /// Between 0 and [`LEAST_FOURIER`], or negative.
    pub fn left(&self, fourier: f64) -> Result<Left, ScienceError> {
        if fourier == 0.0 {
            return Ok(Left {
                centre: 1.0,
                mean: 1.0,
                surface: 1.0,
            });
        }
        let fo = within(
            "Fourier number",
            "",
            fourier,
            LEAST_FOURIER,
            MOST_FOURIER,
            "so short a time wants the finite volumes",
        )?;
        Ok(self.sum(fo))
    }

    fn sum(&self, fo: f64) -> Left {
        let mut left = Left {
            centre: 0.0,
            mean: 0.0,
            surface: 0.0,
        };
        for term in &self.terms {
            let decay = (-term.root * term.root * fo).exp();
            if decay == 0.0 {
                break;
            }
            left.centre += term.centre * decay;
            left.mean += term.mean * decay;
            left.surface += term.surface * decay;
        }
        left
    }

    /// The Fourier number at which so much is left at the centre.
    ///
    /// # Errors
    /// A part not between 0 and 1; one reached before [`LEAST_FOURIER`].
    pub fn fourier_at_centre(&self, left: f64) -> Result<f64, ScienceError> {
        let first = self.sum(LEAST_FOURIER).centre.min(1.0);
        let left = within(
            "part of the difference left at the centre",
            "",
            left,
            1e-9,
            first,
            "the target lies between the start and the surroundings, and not within a hair of either",
        )?;
        // The first term alone is above the sum late on and is close to it; bracket from there.
        let (mut low, mut high) = (LEAST_FOURIER, LEAST_FOURIER);
        while self.sum(high).centre > left {
            low = high;
            high *= 2.0;
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.sum(middle).centre > left {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(0.5 * (low + high))
    }
}

/// Time for the core of a piece to get from `start` to `target` in surroundings of one temperature.
///
/// # Errors
/// As [`Series`]; a stack, which the series does not know; a target outside `start` to `surroundings`.
/// # Example
/// ```
/// use science::heat::{Body, HeatTransfer, series};
/// use science::thermal_properties::{Food, SALMON};
/// use units::{Length, Temperature};
/// let c = Temperature::celsius;
/// let flesh = Food::new(SALMON)?.at(c(4.0)?)?;
/// let side = Body::slab(Length::millimetres(25.0)?)?;
/// let time = series::time_to_core(
///     &flesh, &side, HeatTransfer::w_per_m2_k(15.0)?, c(2.0)?, c(20.0)?, c(4.0)?)?;
/// assert_eq!(time.whole_minutes(), 130);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn time_to_core(
    food: &Properties,
    body: &Body,
    h: HeatTransfer,
    surroundings: Temperature,
    start: Temperature,
    target: Temperature,
) -> Result<Elapsed, ScienceError> {
    let (form, way_m) = form_of(body)?;
    let series = Series::new(form, h.value() * way_m / food.conductivity.value())?;
    let first = (start - surroundings).k();
    if first == 0.0 {
        return Err(ScienceError::None {
            what: "difference between the food and its surroundings",
        });
    }
    let fo = series.fourier_at_centre((target - surroundings).k() / first)?;
    let seconds = fo * way_m * way_m / food.diffusivity_m2_per_s();
    Ok(Elapsed::from_minutes(seconds / 60.0)?)
}

/// Time for the core of a block to get from `start` to `target`: a finger is the meeting of two slabs,
/// a short round piece that of a cylinder and a slab.
///
/// # Method
/// What is left at the centre is the product of what is left in each body.
/// # Errors
/// As [`time_to_core`]; no side, or more than three.
pub fn time_to_core_of_block(
    food: &Properties,
    sides: &[Body],
    h: HeatTransfer,
    surroundings: Temperature,
    start: Temperature,
    target: Temperature,
) -> Result<Elapsed, ScienceError> {
    within(
        "sides of the block",
        "",
        sides.len() as f64,
        1.0,
        3.0,
        "give thickness, width and length",
    )?;
    let mut parts = Vec::with_capacity(sides.len());
    let mut most_s = f64::INFINITY;
    for side in sides {
        let (form, way_m) = form_of(side)?;
        let series = Series::new(form, h.value() * way_m / food.conductivity.value())?;
        // The block is never slower than its fastest side alone.
        let alone = time_to_core(food, side, h, surroundings, start, target)?;
        most_s = most_s.min(alone.seconds() as f64 + 1.0);
        parts.push((series, food.diffusivity_m2_per_s() / (way_m * way_m)));
    }
    let wanted = (target - surroundings).k() / (start - surroundings).k();
    let left = |seconds: f64| -> f64 {
        (parts.iter())
            .map(|(series, per_s)| {
                // So early the centre knows nothing of the surface, to the last digit.
                let fo = seconds * per_s;
                if fo < LEAST_FOURIER {
                    1.0
                } else {
                    series.sum(fo).centre
                }
            })
            .product()
    };
    let seconds = root(0.0, most_s, |s| wanted - left(s));
    Ok(Elapsed::from_minutes(seconds / 60.0)?)
}

/// The form of a body and the way heat takes to its core, m.
pub(crate) fn form_of(body: &Body) -> Result<(Form, f64), ScienceError> {
    let form = match body.shape() {
        Shape::Slab { .. } => Form::Slab,
        Shape::Cylinder => Form::Cylinder,
        Shape::Sphere => Form::Sphere,
        Shape::Stack { pieces, .. } => {
            return Err(ScienceError::OutOfRange {
                what: "pieces in the stack, for the series",
                found: f64::from(pieces),
                least: 1.0,
                most: 1.0,
                unit: "",
                do_now: "take the finite volumes for a stack",
            });
        }
    };
    Ok((form, body.way_m()))
}

/// The root of a function that changes sign once between two bounds.
fn root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let negative = f(low) < 0.0;
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if (f(middle) < 0.0) == negative {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[allow(non_snake_case)] // notation of the source
fn slab(Bi: f64, n: f64) -> Term {
    let z = root(n * PI, (n + 0.5) * PI, |z| z * z.sin() - Bi * z.cos());
    let A = 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin());
    Term {
        root: z,
        centre: A,
        mean: A * z.sin() / z,
        surface: A * z.cos(),
    }
}

#[allow(non_snake_case)] // notation of the source
fn cylinder(Bi: f64, n: f64) -> Term {
    // Just above zero J₁ vanishes as z/2, so the sign there is that of −Bi.
    let z = root(n * PI, (n + 1.0) * PI, |z| {
        let (J0, J1) = j0_j1(z);
        z * J1 - Bi * J0
    });
    let (J0, J1) = j0_j1(z);
    let A = 2.0 / z * J1 / (J0 * J0 + J1 * J1);
    Term {
        root: z,
        centre: A,
        mean: A * 2.0 * J1 / z,
        surface: A * J0,
    }
}

#[allow(non_snake_case)] // notation of the source
fn sphere(Bi: f64, n: f64) -> Term {
    // Times sin z, so that it has no poles; z = 0 is a root of that and not of the equation.
    let least = if n == 0.0 { 1e-9 } else { n * PI };
    let z = root(least, (n + 1.0) * PI, |z| {
        (1.0 - Bi) * z.sin() - z * z.cos()
    });
    let A = 4.0 * (z.sin() - z * z.cos()) / (2.0 * z - (2.0 * z).sin());
    Term {
        root: z,
        centre: A,
        mean: A * 3.0 * (z.sin() - z * z.cos()) / z.powi(3),
        surface: A * z.sin() / z,
    }
}

#[cfg(test)]
pub(super) mod tests;
