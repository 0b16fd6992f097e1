//! Whether a scale can weigh an amount finely enough, and what to do when none can.
//!
//! A scale that shows steps of `resolution` is off by up to half a step. The weight is
//! weighable when that half step is within the tolerance, that is when
//! `resolution <= tolerance × weight × 2`.

use crate::rounding::decimal;
use crate::too_fine::{TooFine, around};
use crate::{Mass, QuantityError};
use rust_decimal::Decimal;
use thiserror::Error;

/// Steps scales are commonly sold with, in grams, finest first. Common practice, no source.
const COMMON_STEPS_G: [f64; 7] = [0.001, 0.01, 0.1, 0.5, 1.0, 2.0, 5.0];

/// A scale in the room.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// What it is called on the bench.
    pub name: String,
    /// The smallest step it shows, above zero.
    pub resolution: Mass,
    /// The most it carries.
    pub capacity: Mass,
}

impl Scale {
    /// A scale that shows steps of `resolution` up to `capacity`.
    ///
    /// # Errors
    /// Refuses an empty name, a step of nothing, and a capacity below one step.
    pub fn new(name: &str, resolution: Mass, capacity: Mass) -> Result<Self, QuantityError> {
        if name.trim().is_empty() {
            return Err(QuantityError::NoName {
                what: "scale",
                example: "bench scale 6 kg",
            });
        }
        let least = COMMON_STEPS_G[0] / 1000.0;
        if resolution.g() < least {
            let found = resolution.g();
            return Err(QuantityError::BelowLeast {
                quantity: "scale step",
                found,
                least,
                unit: "g",
            });
        }
        if capacity < resolution {
            return Err(QuantityError::BelowLeast {
                quantity: "scale capacity",
                found: capacity.g(),
                least: resolution.g(),
                unit: "g",
            });
        }
        Ok(Self {
            name: name.trim().to_owned(),
            resolution,
            capacity,
        })
    }

    /// The smallest weight this scale weighs within `tolerance_ratio`.
    fn smallest(&self, tolerance_ratio: f64) -> Mass {
        Mass::unchecked_g(self.resolution.g() / (2.0 * tolerance_ratio))
    }

    /// Fine enough for `weight`. Compared as decimals, so that 0.02 × 12.5 × 2 is 0.5 exactly.
    fn is_fine_enough(&self, weight: Mass, tolerance_ratio: f64) -> bool {
        as_decimal(self.resolution.g()) <= as_decimal(tolerance_ratio * weight.g() * 2.0)
    }

    pub(crate) fn serves(&self, weight: Mass, tolerance_ratio: f64) -> bool {
        weight <= self.capacity && self.is_fine_enough(weight, tolerance_ratio)
    }
}

/// Weights are far below the largest decimal; a sum past it compares as the largest.
fn as_decimal(figure: f64) -> Decimal {
    decimal(figure).unwrap_or(Decimal::MAX)
}

/// Why no scale at hand weighs the amount.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Unweighable {
    /// Every scale that carries it shows steps too coarse for it.
    #[error(transparent)]
    TooFine(Box<TooFine>),
    /// No scale carries it.
    #[error(
        "{weight} is more than any scale here carries; the largest, {largest}, takes {capacity}; weigh it in parts of at most {capacity}"
    )]
    OverCapacity {
        /// The weight asked for.
        weight: Mass,
        /// Name of the scale that carries most.
        largest: String,
        /// What that scale carries.
        capacity: Mass,
    },
    /// There is no scale to choose from.
    #[error(
        "no scale is listed; expected at least one with its step and capacity; list the scales in the room"
    )]
    NoScale,
    /// The tolerance is not a share between nothing and one.
    #[error(
        "tolerance: found {found}; expected a share above 0 and at most 1, such as 0.02 for ±2 %; correct it"
    )]
    BadTolerance {
        /// The tolerance offered, as a ratio.
        found: f64,
    },
    /// There is nothing to weigh.
    #[error("weight: found 0 g; expected more than nothing; drop the line or correct the amount")]
    NothingToWeigh,
}

/// The coarsest of these scales; the larger one where two are alike. The fine scale is the
/// one with a queue before it, so it is kept for what needs it.
pub(crate) fn coarsest<'a>(scales: impl Iterator<Item = &'a Scale>) -> Option<&'a Scale> {
    scales.reduce(|best, next| {
        let coarser = next.resolution > best.resolution;
        let larger = next.resolution == best.resolution && next.capacity > best.capacity;
        if coarser || larger { next } else { best }
    })
}

/// The coarsest step commonly sold that weighs `weight` within `tolerance_ratio`:
/// 0.5 g for 24.1 g at ±2 %. `None` when even a milligram is too coarse.
#[must_use]
pub fn needed_resolution(weight: Mass, tolerance_ratio: f64) -> Option<Mass> {
    let most = as_decimal(tolerance_ratio * weight.g() * 2.0);
    let step = COMMON_STEPS_G
        .into_iter()
        .rev()
        .find(|step| as_decimal(*step) <= most);
    step.map(Mass::unchecked_g)
}

/// The scale to weigh `weight` on within `tolerance_ratio` (0.02 is ±2 %): the coarsest
/// that serves.
///
/// # Errors
/// [`Unweighable`], with the figures and, for a weight too small, the ways out.
///
/// # Example
/// ```
/// use units::{Mass, Scale, Unweighable, check};
/// let bench = [Scale::new("bench scale", Mass::grams(0.1)?, Mass::grams(6000.0)?)?];
/// let cure = Mass::grams(0.925)?;
/// let Err(Unweighable::TooFine(too_fine)) = check(cure, 0.02, &bench) else { unreachable!() };
/// assert_eq!(too_fine.smallest.to_string(), "2.5 g");
/// let ways = too_fine.ways_out(Some(0.25 / 4.60))?;
/// assert_eq!(
///     ways[0].to_string(),
///     "mix for the whole class once, then dispense 17.02 g of mix on the bench scale (within ±0.29 %)"
/// );
/// # Ok::<(), units::QuantityError>(())
/// ```
pub fn check(weight: Mass, tolerance_ratio: f64, scales: &[Scale]) -> Result<&Scale, Unweighable> {
    if !(tolerance_ratio > 0.0 && tolerance_ratio <= 1.0) {
        return Err(Unweighable::BadTolerance {
            found: tolerance_ratio,
        });
    }
    if weight <= Mass::ZERO {
        return Err(Unweighable::NothingToWeigh);
    }
    let serving = scales
        .iter()
        .filter(|scale| scale.serves(weight, tolerance_ratio));
    if let Some(scale) = coarsest(serving) {
        return Ok(scale);
    }
    let carrying = scales.iter().filter(|scale| weight <= scale.capacity);
    let finest = carrying.reduce(|a, b| if b.resolution < a.resolution { b } else { a });
    let Some(finest) = finest else {
        let largest = scales
            .iter()
            .reduce(|a, b| if b.capacity > a.capacity { b } else { a });
        return Err(
            largest.map_or(Unweighable::NoScale, |scale| Unweighable::OverCapacity {
                weight,
                largest: scale.name.clone(),
                capacity: scale.capacity,
            }),
        );
    };
    let (worst_low, worst_high) = around(weight, finest.resolution);
    Err(Unweighable::TooFine(Box::new(TooFine {
        weight,
        tolerance_ratio,
        smallest: finest.smallest(tolerance_ratio),
        needed: needed_resolution(weight, tolerance_ratio),
        worst_low,
        worst_high,
        finest: finest.clone(),
        at_hand: scales.to_vec(),
    })))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::WayOut;

    /// Tolerance of a cure, ±2 %. Common practice, no source.
    const CURE: f64 = 0.02;

    fn g(grams: f64) -> Mass {
        Mass::grams(grams).unwrap()
    }

    fn scale(name: &str, step: f64, capacity: f64) -> Scale {
        Scale::new(name, g(step), g(capacity)).unwrap()
    }

    fn too_fine(weight: f64, scales: &[Scale]) -> TooFine {
        match check(g(weight), CURE, scales) {
            Err(Unweighable::TooFine(too_fine)) => *too_fine,
            other => panic!("expected too fine, found {other:?}"),
        }
    }

    #[test]
    fn each_weight_names_the_step_it_needs() {
        assert_eq!(needed_resolution(g(0.93), CURE), Some(g(0.01)));
        assert_eq!(needed_resolution(g(24.1), CURE), Some(g(0.5)));
        assert_eq!(needed_resolution(g(42.0), CURE), Some(g(1.0)));
        assert_eq!(needed_resolution(g(12.5), CURE), Some(g(0.5)));
        assert_eq!(needed_resolution(g(0.001), CURE), None);
    }

    #[test]
    fn the_coarsest_scale_that_serves_is_chosen() {
        let scales = [
            scale("jewel", 0.01, 200.0),
            scale("bench", 0.1, 6000.0),
            scale("floor", 1.0, 15_000.0),
        ];
        assert_eq!(check(g(0.93), CURE, &scales).unwrap().name, "jewel");
        assert_eq!(check(g(24.1), CURE, &scales).unwrap().name, "bench");
        assert_eq!(check(g(42.0), CURE, &scales).unwrap().name, "floor");
    }

    #[test]
    fn a_weight_no_scale_carries_is_refused() {
        let scales = [scale("jewel", 0.01, 200.0), scale("bench", 0.1, 6000.0)];
        let error = check(g(6001.0), CURE, &scales).unwrap_err();
        assert_eq!(
            error.to_string(),
            "6,001 g is more than any scale here carries; the largest, bench, takes 6,000 g; weigh it in parts of at most 6,000 g"
        );
        assert_eq!(check(g(1.0), CURE, &[]), Err(Unweighable::NoScale));
        assert_eq!(
            check(Mass::ZERO, CURE, &scales),
            Err(Unweighable::NothingToWeigh)
        );
        assert!(matches!(
            check(g(1.0), f64::NAN, &scales),
            Err(Unweighable::BadTolerance { .. })
        ));
        assert!(matches!(
            check(g(1.0), 0.0, &scales),
            Err(Unweighable::BadTolerance { .. })
        ));
    }

    #[test]
    fn a_cure_on_a_gram_scale_is_refused_with_what_could_be_there() {
        let refused = too_fine(0.925, &[scale("kitchen scale", 1.0, 5000.0)]);
        assert!((refused.smallest.g() - 25.0).abs() < 1e-9);
        assert!((refused.worst_low.g() - 0.425).abs() < 1e-12);
        assert!((refused.worst_high.g() - 1.425).abs() < 1e-12);
        assert_eq!(
            refused.to_string(),
            "0.93 g is too little for the kitchen scale, which shows steps of 1 g and weighs from 25 g within ±2 %; \
             trusted here it could be 0.43 g to 1.43 g; a scale with steps of 0.01 g or finer would do"
        );
    }

    /// 370 g of meat, salt of 6.25 % nitrite, worked by hand from the reading the scale
    /// shows: 0.95 g × 0.0625 / 370 g is 160.47 ppm.
    #[test]
    fn the_reading_tells_the_nitrite_that_could_be_there() {
        let ppm = |mass: Mass| (mass.g() * 0.0625 / 370.0 * 1e6).round();
        let (low, high) = too_fine(0.925, &[scale("gram", 1.0, 5000.0)]).reading_range();
        assert_eq!((ppm(low), ppm(high)), (84.0, 253.0));
        let (low, high) = too_fine(0.925, &[scale("tenth", 0.1, 5000.0)]).reading_range();
        assert_eq!((ppm(low), ppm(high)), (144.0, 160.0));
    }

    #[test]
    fn the_dilution_is_the_weakest_that_can_be_weighed() {
        let ways = too_fine(0.925, &[scale("gram", 1.0, 5000.0)])
            .ways_out(None)
            .unwrap();
        let WayOut::Dilution(dilution) = &ways[0] else {
            panic!("{ways:?}")
        };
        assert_eq!(
            dilution.factor, 100,
            "9.25 g on a 1 g scale is still too little"
        );
        assert!((dilution.leave_out.g() - 91.575).abs() < 1e-9);
        let ways = too_fine(0.925, &[scale("tenth", 0.1, 5000.0)])
            .ways_out(None)
            .unwrap();
        assert_eq!(
            ways[0].to_string(),
            "mix 1 part with 9 parts of a carrier from the same formula, dispense 9.25 g of that on the tenth and leave out 8.33 g of the carrier"
        );
        assert_eq!(
            ways[1],
            WayOut::FinerScale {
                resolution: g(0.01)
            }
        );
    }

    #[test]
    fn a_mix_that_cannot_be_weighed_either_is_not_offered() {
        let refused = too_fine(0.925, &[scale("gram", 1.0, 5000.0)]);
        let ways = refused.ways_out(Some(0.25 / 4.60)).unwrap();
        assert!(
            !ways
                .iter()
                .any(|way| matches!(way, WayOut::MasterMix { .. })),
            "17.02 g needs 0.5 g"
        );
        assert!(refused.ways_out(Some(0.0)).is_err());
        assert!(refused.ways_out(Some(1.5)).is_err());
    }
}
