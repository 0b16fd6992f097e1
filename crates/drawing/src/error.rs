//! What the drawing refuses.

use thiserror::Error;

/// A chart that cannot be drawn as asked.
///
/// Each message says what was found, where, what was expected and what to do now.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DrawingError {
    /// Neither curves nor measured points.
    #[error(
        "chart \"{title}\": found no curve and no measured point; expected at least one; compute the curve first, \
         and where nothing is known say so in words instead of an empty chart"
    )]
    Empty {
        /// Title of the chart.
        title: String,
    },
    /// A curve or a set of measured points that holds too little.
    #[error("\"{name}\": found {found} points; expected at least {least}; {do_now}")]
    TooFewPoints {
        /// Name of the curve or set.
        name: String,
        /// Points found.
        found: usize,
        /// Least number that can be drawn.
        least: usize,
        /// What to do about it.
        do_now: &'static str,
    },
    /// Not a number, or an infinite one.
    #[error(
        "{what}: found {found} at point {index}; expected finite numbers; leave unknown stretches out and draw the \
         known ones as separate curves"
    )]
    NotFinite {
        /// Whose value it is.
        what: String,
        /// The value.
        found: f64,
        /// Its place in the list, from 1.
        index: usize,
    },
    /// A value that lies outside its axis.
    #[error(
        "{what}: found {found} on the axis \"{axis}\"; expected {from} to {to}; widen the axis, or leave the point out"
    )]
    OutsideAxis {
        /// Whose value it is.
        what: String,
        /// The value, in the axis's unit.
        found: f64,
        /// Label of the axis.
        axis: String,
        /// Start of the axis.
        from: f64,
        /// End of the axis.
        to: f64,
    },
    /// An axis that does not run upwards, or over a stretch too short to tell its ends apart.
    #[error(
        "axis \"{axis}\": found {from} to {to}; expected two finite numbers, the second larger by more than one part \
         in a thousand million; give the axis two ends that differ"
    )]
    NoStretch {
        /// Label of the axis.
        axis: String,
        /// Start offered.
        from: f64,
        /// End offered.
        to: f64,
    },
    /// A band whose upper edge is not above its lower.
    #[error(
        "band \"{name}\": found {from_y} to {to_y}; expected the second above the first; swap them"
    )]
    NoBand {
        /// Name of the band.
        name: String,
        /// Lower edge offered.
        from_y: f64,
        /// Upper edge offered.
        to_y: f64,
    },
    /// Words left out where a reader needs them.
    #[error(
        "{what}: found no words; expected a name; a chart is read aloud as well as seen: name it"
    )]
    NoWords {
        /// What has no name.
        what: &'static str,
    },
    /// A character that is not for print.
    #[error(
        "{what}: found the character U+{code:04X}; expected printable text; take it out (control characters and \
         characters that turn the reading direction are refused)"
    )]
    Unprintable {
        /// What the text is.
        what: &'static str,
        /// The character's number.
        code: u32,
    },
    /// Words that do not fit where they belong.
    #[error("{what}: found \"{text}\"; expected it to fit the width of the chart; shorten it")]
    TooLong {
        /// What the text is.
        what: &'static str,
        /// The start of the text.
        text: String,
    },
    /// More words than the chart has room for.
    #[error(
        "chart \"{title}\": found {found} to place in the {room}; expected fewer or shorter; draw two charts, or a \
         larger size"
    )]
    Crowded {
        /// Title of the chart.
        title: String,
        /// What was to be placed.
        found: String,
        /// Where it was to go.
        room: &'static str,
    },
}
