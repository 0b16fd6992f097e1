//! Salt, sugar and water moving in a piece through cures, brines, rinses and rests.
//!
//! # Method
//! Cell-centred finite volumes on the undeformed piece, fluxes shared by neighbouring cells, half a cell
//! between the outermost cell and its face: second order in the cell size, nothing created or lost. In
//! time a two-stage, second-order, diagonally implicit step (γ = 1 − 1/√2): like BDF2 it damps the
//! roughest modes to nothing, which Crank–Nicolson does not after the jump at the start of a phase, and
//! unlike BDF2 it takes steps of changing length, which here grow as the square of their number because
//! uptake goes with the square root of time. A bar of rectangular section is split by direction; for a
//! surface held steady over the step, and alike all along it, the two directions commute, so the splitting
//! adds no error. A brine that weakens is taken at the middle of the step, where its own loss and the
//! piece's gain agree; a film so thin that this would swing is taken at the end, which is first order.
//!
//! Contents are per kilogram of green weight and the driving difference is in them; a surface is set by
//! its strength in the water phase. Water moves against the salt, `water_out` kilograms for each
//! kilogram of salt.
//!
//! # Valid range
//! One diffusivity for the whole piece, no shrinking, no bone, no skin but a closed one. The diffusivity
//! is a fitted, logged quantity with a spread of a decade or two between publications: no result of this
//! module shows that a limit is met. It is not validated on published time series; none with readable
//! numbers was found.

mod field;
mod history;
mod line;
mod outside;
mod phase;
mod piece;
mod published;
mod run;
mod substance;
mod uptake;
mod window;

#[cfg(test)]
mod checks;

pub use history::{Balance, Here, History, Moment, PhaseEnd, Place};
pub use phase::{CoverBrine, Juice, Phase};
pub use piece::{Closed, Flesh, Grid, Piece, Shape};
pub use published::{PUBLISHED, Published};
pub use run::run;
pub use substance::{BrineEffect, DiffusivityLaw, Params, WaterOut, brine_effect};
pub use uptake::{EquilibriumCure, TwoExponentials, equilibrium_cure};
pub use window::{Goal, Pieces, Window, finished_piece, green_weight, time_to, window};
