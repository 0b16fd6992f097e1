//! Curves into SVG text: one chart, for a sheet of A5 or a screen.
//!
//! Drawn for a poor copier and for a screen reader: black on white, nothing told by colour, every
//! curve, band and mark named in words beside it, and the whole chart told again in `<desc>`. The
//! text holds no scripts, no identifiers (so several charts fit one page) and no font but the
//! reader's own sans. The same chart always gives the same bytes.
//!
//! This room knows nothing of kitchens: it is handed numbers and words and returns text. What does
//! not fit is an error, never cut off or moved.

mod chart;
mod error;
mod labels;
mod layout;
mod render;
mod shapes;
mod spots;
mod text;
mod ticks;

pub use chart::{Axis, Band, Chart, Curve, Mark, Measured, Shape, Size, Stroke};
pub use error::DrawingError;
