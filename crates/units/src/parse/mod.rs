//! Reading amounts the way cooks write them: "1½ cups", "2 lb 3 oz", "18–24 h", "a pinch".
//!
//! Nothing is guessed. A bare number asks for its unit, a comma that could mean two things
//! is refused, and a bare cup is only a size once the book says whose cup it is.

mod amount;
mod count_words;
mod grammar;
mod lexer;
mod narrow;
mod nearest;
mod number;
mod refusal;
mod unit_words;

pub use amount::{Amount, Customary};
pub use narrow::{
    read_elapsed, read_length, read_mass, read_percent, read_ratio, read_temperature,
    read_temperature_difference, read_volume,
};
pub use refusal::ReadError;

/// The longest text read, in characters. An amount is a few words.
pub const LONGEST_TEXT: usize = 200;

/// Reads one amount, the whole of `text`. `customary` decides whose cup, pint or spoon a
/// bare one is.
///
/// # Errors
/// [`ReadError`], with the bytes of `text` it speaks of. It never panics.
///
/// # Example
/// ```
/// use units::{Amount, Customary, read_amount};
/// assert_eq!(read_amount("1½ cups", Customary::Us).unwrap().to_string(), "354.88 mL");
/// assert_eq!(read_amount("2 lb 3 oz", Customary::Us).unwrap().to_string(), "992.23 g");
/// let error = read_amount("500", Customary::Metric).unwrap_err();
/// assert_eq!(
///     error.to_string(),
///     "found a bare number \"500\"; expected a number and its unit, such as 500 g; write the unit"
/// );
/// ```
pub fn read_amount(text: &str, customary: Customary) -> Result<Amount, ReadError> {
    grammar::read(text, customary)
}
