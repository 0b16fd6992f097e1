//! What the science refuses, with the figures a person needs to put it right.

use thiserror::Error;
use units::QuantityError;

/// A question outside what a formula answers.
///
/// Each message says what was found, what was expected, and what to do now.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ScienceError {
    /// A value that cannot be the quantity it was offered as.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// A spread that cannot be drawn from.
    #[error(transparent)]
    Spread(#[from] crate::spread::SpreadError),
    /// A search that cannot find what it is asked for.
    #[error(transparent)]
    Search(#[from] crate::inverse::SearchError),
    /// A value outside the range the formula holds for.
    #[error("{what}: found {found} {unit}; expected {least} to {most} {unit}; {do_now}")]
    OutOfRange {
        /// What the value is, in the trade's word.
        what: &'static str,
        /// The value offered, in `unit`.
        found: f64,
        /// The least value the formula holds for, in `unit`.
        least: f64,
        /// The largest value the formula holds for, in `unit`.
        most: f64,
        /// Unit of the three figures.
        unit: &'static str,
        /// What to do about it.
        do_now: &'static str,
    },
    /// More salt than the water holds.
    #[error(
        "brine: found {found_pct:.2} % salt; expected at most {most_pct} %, all that water holds at 60 °F; \
         check which salt was measured, or add water: the rest would lie undissolved"
    )]
    Saturated {
        /// Percent of salt and water that is salt.
        found_pct: f64,
        /// Percent at saturation.
        most_pct: f64,
    },
    /// A brine was to be thinned to a strength it does not reach by adding water.
    #[error(
        "dilution: found a brine of {from_pct:.2} % to be brought to {to_pct:.2} %; expected a weaker target; \
         water only thins a brine: add salt instead"
    )]
    NotWeaker {
        /// Strength there is, percent.
        from_pct: f64,
        /// Strength wanted, percent.
        to_pct: f64,
    },
    /// A brine was to be strengthened to a strength below its own.
    #[error(
        "strengthening: found a brine of {from_pct:.2} % to be brought to {to_pct:.2} %; expected a stronger target; \
         salt only strengthens a brine: add water instead"
    )]
    NotStronger {
        /// Strength there is, percent.
        from_pct: f64,
        /// Strength wanted, percent.
        to_pct: f64,
    },
    /// A percent was typed where the formula takes a proportion.
    #[error(
        "{what}: found {found}; expected a proportion above 0 and below 1; did you mean {meant} ({found} %)?"
    )]
    PercentForProportion {
        /// What the proportion is of.
        what: &'static str,
        /// The number offered.
        found: f64,
        /// The number as a proportion.
        meant: f64,
    },
    /// A part weighs more than what it is a part of.
    #[error(
        "{part}: found {part_g} g in {whole_g} g of {whole}; expected a part no heavier than the whole; \
         weigh both again: the {whole} is weighed with the {part} in it"
    )]
    PartAboveWhole {
        /// The part.
        part: &'static str,
        /// Its weight, g.
        part_g: f64,
        /// What it is in.
        whole: &'static str,
        /// The weight of that, g.
        whole_g: f64,
    },
    /// A piece that should have dried has not.
    #[error(
        "drying: found {before_g} g, then {after_g} g; expected the second weight to be lower and above nothing; \
         weigh again on the same scale and check the tag"
    )]
    NotDrying {
        /// First weight, g.
        before_g: f64,
        /// Second weight, g.
        after_g: f64,
    },
    /// Fewer observations than a fit needs.
    #[error("{what}: found {found}; expected at least {least}; weigh or measure again later")]
    TooFew {
        /// What was to be counted.
        what: &'static str,
        /// How many there are.
        found: usize,
        /// How many are needed.
        least: usize,
    },
    /// A calculation that circled without coming to rest.
    #[error("{what}: found no figure it settles on; expected one; {do_now}")]
    NotSettled {
        /// What was calculated.
        what: &'static str,
        /// What to do about it.
        do_now: &'static str,
    },
    /// Nothing of something the formula divides by.
    #[error("{what}: found none; expected more than nothing; enter it")]
    None {
        /// What is missing.
        what: &'static str,
    },
    /// A cylinder was to have a closed face.
    #[error(
        "piece: found a cylinder with a closed side; expected it open all round; \
         give it as a finger with a closed side, or leave the side open"
    )]
    NoFaceToClose,
    /// Salt was to enter a piece that is closed all round.
    #[error(
        "{phase}: found a piece with no open face; expected at least one; open a side, or rest it"
    )]
    NoOpenFace {
        /// The phase that needs a face.
        phase: &'static str,
    },
    /// A goal is not reached within the time considered.
    #[error(
        "{goal}: found {reached:.4} {unit} after {hours:.1} h; expected {wanted:.4} {unit}; \
         give it longer, cut it thinner, or lay on more salt"
    )]
    GoalNotReached {
        /// What was to be reached.
        goal: &'static str,
        /// The figure wanted, in `unit`.
        wanted: f64,
        /// The largest figure there was, in `unit`.
        reached: f64,
        /// Unit of the two figures.
        unit: &'static str,
        /// The longest time considered, h.
        hours: f64,
    },
    /// A programme ends before the core is where it should be.
    #[error(
        "core temperature: found {nearest_c:.1} °C at the nearest in {after_min:.0} min; expected {target_c:.1} °C; \
         run longer, change the air, or take thinner pieces"
    )]
    CoreNotReached {
        /// Wanted, °C.
        target_c: f64,
        /// The nearest the core came, °C.
        nearest_c: f64,
        /// How long the programme was, min.
        after_min: f64,
    },
    /// The temperatures of a step could not be solved for.
    #[error(
        "heat: found no temperatures that balance the step after {at_min:.1} min; expected a few corrections to do; \
         take a shorter time step"
    )]
    Unsettled {
        /// Since the start, min.
        at_min: f64,
    },
    /// The thin piece is past the goal before the thick one is there.
    #[error(
        "window: found the thick piece there after {thick_h:.1} h and the thin one past it after {thin_h:.1} h; \
         expected the thick one first; sort the pieces by thickness, or widen the goal"
    )]
    WindowShut {
        /// When the thick piece has reached the least, h.
        thick_h: f64,
        /// When the thin piece passes the most, h.
        thin_h: f64,
    },
}

/// `found` when it lies in `least..=most`.
pub(crate) fn within(
    what: &'static str,
    unit: &'static str,
    found: f64,
    least: f64,
    most: f64,
    do_now: &'static str,
) -> Result<f64, ScienceError> {
    if !found.is_finite() {
        return Err(QuantityError::NotFinite { quantity: what }.into());
    }
    if found < least || found > most {
        return Err(ScienceError::OutOfRange {
            what,
            found,
            least,
            most,
            unit,
            do_now,
        });
    }
    Ok(found)
}
