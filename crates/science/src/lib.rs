//! The kitchen's physics and chemistry, one phenomenon a file.
//!
//! Pure functions: quantities in, quantities out. Every function names its method, the range it
//! holds for, its source and how far that source was read; outside the range it returns a
//! [`ScienceError`] and never a clamped or extrapolated figure. What a limit allows is judged in
//! `safety`; what a recipe asks for is known in `kitchen`; nothing here knows either.

pub mod brine;
pub mod cure;
pub mod drying;
mod error;
pub mod evaporation;
pub mod nitrite;
pub mod pickle;
pub mod thickness;
pub mod water_phase_salt;
pub mod yields;

pub use error::ScienceError;
