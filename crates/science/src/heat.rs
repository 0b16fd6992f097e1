//! Heat into and out of a piece: how warm its core is, and when.
//!
//! Two ways, each the other's check: the [`series`] of the textbook, for one air temperature and
//! properties held at one value, and finite volumes ([`heat`]) for a machine programme with ramps,
//! properties that change with temperature, and a wet surface that cools itself.

mod bessel;
mod body;
mod cells;
mod conduction;
mod history;
mod programme;
pub(crate) mod quantities;
pub mod series;
mod surface;
mod surroundings;

pub use body::{Body, Faces, Shape};
pub use conduction::{Grid, heat, time_to_core};
pub use history::{History, Hold, Reading, hold_time_above};
pub use programme::{Humidity, Programme, Segment, Wet};
pub use quantities::{Conductivity, Diffusivity, HeatTransfer, SpecificHeat};
pub use surroundings::{Spread, Surroundings};
