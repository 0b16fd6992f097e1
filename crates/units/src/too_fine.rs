//! A weight too small for the scales at hand: what could go wrong, and the ways out.

use crate::scale::coarsest;
use crate::{Mass, QuantityError, Scale};
use core::fmt;

/// Dilutions tried, weakest first: 10 %, 1 %, 0.1 %.
const DILUTION_FACTORS: [u32; 3] = [10, 100, 1000];

/// A weight too small for the scales at hand.
#[derive(Debug, Clone, PartialEq)]
pub struct TooFine {
    /// The weight asked for.
    pub weight: Mass,
    /// The tolerance it was asked with, as a ratio (0.02 is ±2 %).
    pub tolerance_ratio: f64,
    /// The finest scale at hand that carries the weight.
    pub finest: Scale,
    /// The smallest weight that scale weighs within the tolerance.
    pub smallest: Mass,
    /// The step a scale would need, from those commonly sold; none is fine enough below it.
    pub needed: Option<Mass>,
    /// The least that may be there when that scale is trusted: weight less half a step, never below nothing.
    pub worst_low: Mass,
    /// The most that may be there: weight plus half a step.
    pub worst_high: Mass,
    pub(crate) at_hand: Vec<Scale>,
}

/// A weaker mixture, so that more of it is weighed.
#[derive(Debug, Clone, PartialEq)]
pub struct Dilution {
    /// How many times weaker: 10 for one part in ten.
    pub factor: u32,
    /// The weight of the mixture to dispense.
    pub dispense: Mass,
    /// The carrier (salt, sugar) that comes with it and must be left out of the formula.
    pub leave_out: Mass,
    /// The scale that weighs it.
    pub scale: String,
}

/// A way to get a small weight right with the scales at hand.
#[derive(Debug, Clone, PartialEq)]
pub enum WayOut {
    /// Mix the whole formula once for everybody and dispense the mix.
    MasterMix {
        /// The weight of the mix to dispense.
        dispense: Mass,
        /// The scale that weighs it.
        scale: String,
        /// Half a step of that scale as a share of the dispensed weight.
        error_ratio: f64,
    },
    /// Dilute it in a carrier of the same formula first.
    Dilution(Dilution),
    /// Bring a finer scale.
    FinerScale {
        /// The step it must show, or finer.
        resolution: Mass,
    },
}

impl TooFine {
    /// What the scale would show for the weight: the nearest step, half-up.
    #[must_use]
    pub fn nearest_reading(&self) -> Mass {
        let step = self.finest.resolution.g();
        Mass::unchecked_g((self.weight.g() / step).round() * step)
    }

    /// What may really be there when the scale shows the nearest reading: that reading less
    /// and plus half a step, never below nothing.
    #[must_use]
    pub fn reading_range(&self) -> (Mass, Mass) {
        around(self.nearest_reading(), self.finest.resolution)
    }

    fn scale_for(&self, weight: Mass) -> Option<&Scale> {
        coarsest(
            self.at_hand
                .iter()
                .filter(|scale| scale.serves(weight, self.tolerance_ratio)),
        )
    }

    /// The ways out that these scales allow, best first.
    ///
    /// `share_of_mix` is this item's part of the whole mix by weight, when it is one line of
    /// a mix: 0.25 % of 4.60 % is 0.25 / 4.60. A way out speaks for the scale only: that the
    /// mix is even, and that the formula holds as much carrier as a dilution leaves out, is
    /// for the caller to see to.
    ///
    /// # Errors
    /// A share outside 0 (excluded) to 1.
    pub fn ways_out(&self, share_of_mix: Option<f64>) -> Result<Vec<WayOut>, QuantityError> {
        let mut ways = Vec::new();
        if let Some(share) = share_of_mix {
            let share = crate::error::within("share of the mix", "of the mix", share, 1e-9, 1.0)?;
            let dispense = self.weight.scaled(1.0 / share)?;
            if let Some(scale) = self.scale_for(dispense) {
                let error_ratio = scale.resolution.g() / 2.0 / dispense.g();
                ways.push(WayOut::MasterMix {
                    dispense,
                    scale: scale.name.clone(),
                    error_ratio,
                });
            }
        }
        for factor in DILUTION_FACTORS {
            let dispense = self.weight.scaled(f64::from(factor))?;
            if let Some(scale) = self.scale_for(dispense) {
                let leave_out = self.weight.scaled(f64::from(factor - 1))?;
                let scale = scale.name.clone();
                ways.push(WayOut::Dilution(Dilution {
                    factor,
                    dispense,
                    leave_out,
                    scale,
                }));
                break;
            }
        }
        ways.extend(
            self.needed
                .map(|resolution| WayOut::FinerScale { resolution }),
        );
        Ok(ways)
    }
}

/// `weight` less and plus half of `step`, never below nothing.
pub(crate) fn around(weight: Mass, step: Mass) -> (Mass, Mass) {
    let half = step.g() / 2.0;
    (
        Mass::unchecked_g((weight.g() - half).max(0.0)),
        Mass::unchecked_g(weight.g() + half),
    )
}

impl core::error::Error for TooFine {}

impl fmt::Display for TooFine {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} is too little for the {}, which shows steps of {} and weighs from {} within ±{} %; \
             trusted here it could be {} to {}",
            self.weight,
            self.finest.name,
            self.finest.resolution,
            self.smallest,
            crate::numerals::plain(self.tolerance_ratio * 100.0, 0, 2),
            self.worst_low,
            self.worst_high,
        )?;
        match self.needed {
            Some(step) => write!(f, "; a scale with steps of {step} or finer would do"),
            None => f.write_str("; no scale commonly sold is fine enough"),
        }
    }
}

impl fmt::Display for WayOut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::MasterMix {
                dispense,
                scale,
                error_ratio,
            } => write!(
                f,
                "mix for the whole class once, then dispense {dispense} of mix on the {scale} (within ±{} %)",
                crate::numerals::plain(error_ratio * 100.0, 1, 2)
            ),
            Self::Dilution(d) => write!(
                f,
                "mix 1 part with {} parts of a carrier from the same formula, dispense {} of that on the {} and leave out {} of the carrier",
                d.factor - 1,
                d.dispense,
                d.scale,
                d.leave_out
            ),
            Self::FinerScale { resolution } => {
                write!(f, "bring a scale with steps of {resolution} or finer")
            }
        }
    }
}
