//! What hangs on the wall: papers and labels as plain values, before anybody draws them.
//!
//! A sheet says what is on a paper, in which order and for whom; it knows no font and no page. `press` draws it.

pub mod model;
