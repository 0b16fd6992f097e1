//! What a quantity refuses, with the figures a person needs to put it right.

use crate::base::Base;
use thiserror::Error;

/// A value that cannot be the quantity it was offered as.
///
/// Each message says what was found, what was expected, and what to do now.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum QuantityError {
    /// The value is NaN or infinite.
    #[error(
        "{quantity}: found a value that is not a number; expected a finite figure; check the division or the cell it came from"
    )]
    NotFinite {
        /// The quantity asked for, in the trade's word.
        quantity: &'static str,
    },
    /// The value lies below the domain.
    #[error(
        "{quantity}: found {found} {unit}; expected at least {least} {unit}; check the sign and the unit"
    )]
    BelowLeast {
        /// The quantity asked for.
        quantity: &'static str,
        /// The value offered, in `unit`.
        found: f64,
        /// The least value allowed, in `unit`.
        least: f64,
        /// Unit of the two figures.
        unit: &'static str,
    },
    /// The value lies above the domain.
    #[error(
        "{quantity}: found {found} {unit}; expected at most {most} {unit}; check the unit and the decimal point"
    )]
    AboveMost {
        /// The quantity asked for.
        quantity: &'static str,
        /// The value offered, in `unit`.
        found: f64,
        /// The largest value allowed, in `unit`.
        most: f64,
        /// Unit of the two figures.
        unit: &'static str,
    },
    /// More was taken away than there was.
    #[error(
        "{quantity}: taking {taken} {unit} from {from} {unit} would leave less than nothing; check which of the two was weighed"
    )]
    WouldBeNegative {
        /// The quantity asked for.
        quantity: &'static str,
        /// What there was, in `unit`.
        from: f64,
        /// What was to be taken away, in `unit`.
        taken: f64,
        /// Unit of the two figures.
        unit: &'static str,
    },
    /// A percentage of one thing was applied to another.
    #[error(
        "percentage: it is a percentage of \"{expected}\", found a weight of \"{found}\"; weigh the {expected}, or restate the percentage of the {found}"
    )]
    OtherBase {
        /// The base of the weight offered.
        found: Base,
        /// The base the percentage was stated on.
        expected: Base,
    },
    /// A name is empty or holds control characters.
    #[error(
        "{what}: found no readable name; expected a word of the trade such as \"{example}\"; write one"
    )]
    NoName {
        /// What was to be named.
        what: &'static str,
        /// An example of a good name.
        example: &'static str,
    },
    /// A division by nothing.
    #[error(
        "{quantity}: cannot be shared among none; expected a number above zero; enter how many there are"
    )]
    DividedByNothing {
        /// The quantity to be divided.
        quantity: &'static str,
    },
    /// A sum of money, or a decimal, too large or too long to hold exactly.
    #[error(
        "{quantity}: found a figure that cannot be held exactly as a decimal; expected fewer than 28 digits; check the unit and the decimal point"
    )]
    NotDecimal {
        /// The quantity asked for.
        quantity: &'static str,
    },
}

/// `found` when it is finite and inside `least..=most`; the one gate every constructor uses.
pub(crate) fn within(
    quantity: &'static str,
    unit: &'static str,
    found: f64,
    least: f64,
    most: f64,
) -> Result<f64, QuantityError> {
    if !found.is_finite() {
        return Err(QuantityError::NotFinite { quantity });
    }
    if found < least {
        return Err(QuantityError::BelowLeast {
            quantity,
            found,
            least,
            unit,
        });
    }
    if found > most {
        return Err(QuantityError::AboveMost {
            quantity,
            found,
            most,
            unit,
        });
    }
    // Adding zero turns -0.0 into 0.0, so that no sheet ever prints "-0 g".
    Ok(found + 0.0)
}
