//! Quantities as types, read as cooks write them.
//!
//! Every figure of a plan passes through this room once: a weight, a temperature, a share
//! of a named base. A constructor refuses what cannot be, so the rooms below never check
//! again. Rounding to what a bench scale shows, and the question whether a scale can weigh
//! that little at all, live here too. What this room does not know is food: densities,
//! limits and recipes come from elsewhere.
//!
//! The choice of our own types over a general library is written down in
//! `docs/decisions/0001-quantities.md`.

mod base;
mod count;
mod density;
mod elapsed;
mod error;
pub mod factors;
mod fraction;
mod length;
mod mass;
mod money;
mod numerals;
mod parse;
mod ppm;
mod rounding;
mod scale;
mod temperature;
mod too_fine;
mod volume;

pub use base::Base;
pub use count::Count;
pub use density::Density;
pub use elapsed::Elapsed;
pub use error::QuantityError;
pub use fraction::Fraction;
pub use length::Length;
pub use mass::Mass;
pub use money::Money;
pub use parse::{
    Amount, Customary, LONGEST_TEXT, ReadError, read_amount, read_elapsed, read_length, read_mass,
    read_percent, read_ratio, read_temperature, read_temperature_difference, read_volume,
};
pub use ppm::Ppm;
pub use rounding::{BenchKind, BenchWeight, DECIMALS_KEPT, bench, decimal, exact, half_up};
pub use scale::{Scale, Unweighable, check, needed_resolution};
pub use temperature::{Temperature, TemperatureDifference};
pub use too_fine::{Dilution, TooFine, WayOut};
pub use volume::Volume;

pub use rust_decimal::Decimal;
