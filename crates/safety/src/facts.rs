//! Rules that ask for facts and not for a log: analyses at places, species and feed, dates, the order of things.
//!
//! The laws are those of [`judge`](crate::judge): a worse fact never betters a verdict, a fact taken away never turns *not
//! shown* into *shown*, and a mean alone is never the thickest place. What somebody only says shows nothing.

mod analyses;
mod curing;
mod dates;
mod kill;
mod order;
mod parasites;

pub use analyses::{AwSample, Pack, SaltSample, Taken, water_activity, water_phase_salt, wps_pct};
pub use curing::{Cured, CuredPiece, cured};
pub use dates::{DatedPart, Frozen, date_marked, days_used};
pub use kill::{Meant, raw_cured};
pub use order::{Batch, Kind, Shelved, allergens_in_order, raw_below_ready};
pub use parasites::{Fish, Freezing, Origin, parasites};

#[cfg(test)]
mod tests;
