//! The kitchen's physics and chemistry, one phenomenon a file.
//!
//! Pure functions: quantities in, quantities out. Every function names its method, the range it
//! holds for, its source and how far that source was read; outside the range it returns a
//! [`ScienceError`] and never a clamped or extrapolated figure. What a limit allows is judged in
//! `safety`; what a recipe asks for is known in `kitchen`; nothing here knows either.

pub mod acid;
pub mod brine;
pub mod brine_properties;
pub mod cooling;
pub mod cure;
pub mod diffusion;
pub mod drying;
pub mod emulsion;
mod error;
pub mod evaporation;
pub mod growth;
pub mod hanging;
pub mod heat;
pub mod inverse;
pub mod lethality;
pub mod nitrite;
pub mod pellicle;
pub mod pickle;
pub mod psychrometrics;
pub mod spread;
pub mod steeping;
pub mod thermal_properties;
pub mod thickness;
pub mod transport;
pub mod water_activity;
pub mod water_phase_salt;
pub mod yields;

pub use error::ScienceError;
