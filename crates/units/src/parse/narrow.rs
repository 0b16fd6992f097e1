//! Readers for a field that takes one kind of amount only.

use super::amount::{Amount, Customary, Worth};
use super::grammar;
use super::lexer::{Piece, cut};
use super::number;
use super::refusal::ReadError;
use crate::{Elapsed, Length, Mass, Temperature, TemperatureDifference, Volume};

/// Says that another kind of amount was found.
fn other_kind(text: &str, amount: &Amount, expected: &str) -> ReadError {
    let start = text.len() - text.trim_start().len();
    let end = text.trim_end().len().max(start);
    ReadError::new(
        start..end,
        format!("{}, \"{}\"", amount.kind(), text.trim()),
        expected,
        "write that, or move this to the field it belongs in",
    )
}

/// Reads `text` and keeps what `take` takes.
fn narrowed<T>(
    text: &str,
    customary: Customary,
    expected: &str,
    take: impl Fn(&Amount) -> Option<T>,
) -> Result<T, ReadError> {
    match grammar::read(text, customary) {
        Ok(amount) => take(&amount).ok_or_else(|| other_kind(text, &amount, expected)),
        Err(error) => Err(ReadError {
            expected: for_field(error.expected, expected),
            ..error
        }),
    }
}

/// The general example in a message gives way to the field's own.
fn for_field(said: String, expected: &str) -> String {
    let general =
        said.starts_with("a number and its unit") || said.starts_with("an amount such as");
    if general { expected.to_owned() } else { said }
}

/// Reads a weight such as "500 g" or "2 lb 3 oz".
///
/// # Errors
/// [`ReadError`] for anything else.
///
/// # Example
/// ```
/// let error = units::read_mass("90 min").unwrap_err();
/// assert_eq!(
///     error.to_string(),
///     "found a time, \"90 min\"; expected a weight such as 500 g; write that, or move this to the field it belongs in"
/// );
/// ```
pub fn read_mass(text: &str) -> Result<Mass, ReadError> {
    narrowed(
        text,
        Customary::Us,
        "a weight such as 500 g",
        |amount| match amount {
            Amount::Mass(mass) => Some(*mass),
            _ => None,
        },
    )
}

/// Reads a volume such as "1.5 L" or "2 cups".
///
/// # Errors
/// [`ReadError`] for anything else.
pub fn read_volume(text: &str, customary: Customary) -> Result<Volume, ReadError> {
    narrowed(
        text,
        customary,
        "a volume such as 1.5 L",
        |amount| match amount {
            Amount::Volume(volume) => Some(*volume),
            _ => None,
        },
    )
}

/// Reads a length such as "25 mm" or "1 in".
///
/// # Errors
/// [`ReadError`] for anything else.
pub fn read_length(text: &str) -> Result<Length, ReadError> {
    narrowed(
        text,
        Customary::Us,
        "a length such as 25 mm",
        |amount| match amount {
            Amount::Length(length) => Some(*length),
            _ => None,
        },
    )
}

/// Reads a point on a thermometer such as "63 °C" or "145 °F".
///
/// # Errors
/// [`ReadError`] for anything else.
pub fn read_temperature(text: &str) -> Result<Temperature, ReadError> {
    narrowed(
        text,
        Customary::Us,
        "a temperature such as 3 °C",
        |amount| match amount {
            Amount::Temperature(point) => Some(*point),
            _ => None,
        },
    )
}

/// Reads a percentage such as "2.5 %", in percent: 2.5. Its base is the field's business.
///
/// # Errors
/// [`ReadError`] for anything else.
pub fn read_percent(text: &str) -> Result<f64, ReadError> {
    narrowed(
        text,
        Customary::Us,
        "a percentage such as 2.5 %",
        |amount| match amount {
            Amount::Percent(pct) => Some(*pct),
            _ => None,
        },
    )
}

/// Reads a length of time such as "90 min" or "6 d 22 h 30 min".
///
/// # Errors
/// [`ReadError`] for anything else.
pub fn read_elapsed(text: &str) -> Result<Elapsed, ReadError> {
    narrowed(
        text,
        Customary::Us,
        "a time such as 1 h 30 min",
        |amount| match amount {
            Amount::Elapsed(time) => Some(*time),
            _ => None,
        },
    )
}

/// Reads a plain ratio such as "5/3", "1 1/2" or "1.5"; zero or more.
///
/// # Errors
/// [`ReadError`] for anything else, a unit after the number included.
pub fn read_ratio(text: &str) -> Result<f64, ReadError> {
    let expected = "a plain number such as 1.5, 5/3 or 1 1/2";
    let refused =
        |range, found: String| ReadError::new(range, found, expected, "write the number alone");
    grammar::check_length(text)?;
    let tokens = cut(text)?;
    let digits_only = tokens
        .first()
        .is_some_and(|token| token.piece != Piece::Word);
    let figure = number::leading(&tokens)?.filter(|_| digits_only);
    let Some(figure) = figure else {
        let found = if tokens.is_empty() {
            "nothing".to_owned()
        } else {
            format!("\"{}\"", text.trim())
        };
        return Err(refused(0..text.len(), found));
    };
    if let Some(extra) = tokens.get(figure.taken) {
        let range = extra.range.start..text.trim_end().len();
        let found = format!(
            "\"{}\" after the number",
            text.get(range.clone()).unwrap_or(extra.text)
        );
        return Err(refused(range, found));
    }
    crate::error::within("ratio", "", figure.value, 0.0, super::amount::MOST_G)
        .map_err(|error| grammar::out_of_range(&error, figure.range))
}

/// Reads a temperature difference such as "2 °C" or "9 °F", for tolerances and rises. It has
/// no sign: whether it is up or down is the field's business.
///
/// # Errors
/// [`ReadError`] for anything else.
pub fn read_temperature_difference(text: &str) -> Result<TemperatureDifference, ReadError> {
    let expected = "a temperature difference such as 2 °C";
    grammar::check_length(text)?;
    let sole = grammar::sole(text).map_err(|error| ReadError {
        expected: for_field(error.expected, expected),
        ..error
    })?;
    let difference = match sole {
        Some((n, Worth::Celsius)) if n >= 0.0 => TemperatureDifference::kelvins(n),
        Some((n, Worth::Fahrenheit)) if n >= 0.0 => TemperatureDifference::from_f_degrees(n),
        _ => {
            return Err(ReadError::new(
                0..text.len(),
                format!("\"{}\"", text.trim()),
                expected,
                "write the difference in °C or °F, without a sign",
            ));
        }
    };
    difference.map_err(|error| grammar::out_of_range(&error, 0..text.len()))
}
