//! What a piece stands in, and how readily that gives or takes heat.

use super::HeatTransfer;
use crate::ScienceError;

/// Surroundings with a house value of heat transfer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surroundings {
    /// A fridge without a fan.
    StillFridge,
    /// A fridge or walk-in with a fan.
    FanFridge,
    /// A blast chiller.
    Blast,
    /// A smokehouse with natural draught.
    NaturalSmokehouse,
    /// A smoker or oven with a fan.
    ForcedSmokehouse,
    /// Ice water left standing.
    StillIceWater,
    /// Ice water stirred or pumped.
    StirredIceWater,
    /// The outside of a closed tub of liquor on a rack in a fridge.
    TubOfLiquor,
}

/// Three values of heat transfer: the order of magnitude is known, not the figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The low end.
    pub low: HeatTransfer,
    /// The house's value until a probe says otherwise.
    pub usual: HeatTransfer,
    /// The high end.
    pub high: HeatTransfer,
}

impl Surroundings {
    /// The house values, W/(m² K).
    ///
    /// # Valid range
    /// Order of magnitude only. Measured coefficients scatter by 30 % about their own fits. Plan with
    /// the low end where slow is unsafe, and fit the figure to a logged core.
    /// # Source
    /// [HEAT_TRANSFER](sources::list::HEAT_TRANSFER), from memory; the middle is this house's choice,
    /// and so are blast and tub.
    /// # Errors
    /// None in practice: the values are constants.
    pub fn heat_transfer(self) -> Result<Spread, ScienceError> {
        let [low, usual, high] = match self {
            Self::StillFridge => [5.0, 7.0, 10.0],
            Self::FanFridge => [10.0, 15.0, 25.0],
            Self::Blast => [15.0, 25.0, 50.0],
            Self::NaturalSmokehouse => [8.0, 11.0, 15.0],
            Self::ForcedSmokehouse => [15.0, 20.0, 30.0],
            Self::StillIceWater => [100.0, 150.0, 200.0],
            Self::StirredIceWater => [300.0, 450.0, 700.0],
            Self::TubOfLiquor => [4.0, 6.0, 10.0],
        };
        Ok(Spread {
            low: HeatTransfer::w_per_m2_k(low)?,
            usual: HeatTransfer::w_per_m2_k(usual)?,
            high: HeatTransfer::w_per_m2_k(high)?,
        })
    }
}
