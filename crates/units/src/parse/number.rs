//! Numbers as cooks write them: 1 1/2, 1½, ¾, half, a dozen.

use super::lexer::{Piece, Token};
use super::refusal::ReadError;
use core::ops::Range;

/// A number and where it stands.
pub(crate) struct Figure {
    pub(crate) value: f64,
    pub(crate) range: Range<usize>,
    /// How many tokens it took.
    pub(crate) taken: usize,
}

/// Numbers written as words.
const NUMBER_WORDS: [(&str, f64); 15] = [
    ("a", 1.0),
    ("an", 1.0),
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("twelve", 12.0),
    ("half", 0.5),
    ("quarter", 0.25),
];

fn word_value(word: &str) -> Option<f64> {
    NUMBER_WORDS
        .iter()
        .find(|(name, _)| name.eq_ignore_ascii_case(word))
        .map(|(_, value)| *value)
}

/// The number at the head of `tokens`, if one stands there.
pub(crate) fn leading(tokens: &[Token<'_>]) -> Result<Option<Figure>, ReadError> {
    let Some(first) = tokens.first() else {
        return Ok(None);
    };
    let figure = match first.piece {
        Piece::Number(n) => Some(in_digits(n, tokens)?),
        Piece::Vulgar(value) => Some((value, 1)),
        Piece::Word => in_words(first.text, tokens),
        _ => None,
    };
    let Some((mut value, mut taken)) = figure else {
        return Ok(None);
    };
    if let Some(next) = tokens.get(taken)
        && next.piece == Piece::Word
        && next.text.eq_ignore_ascii_case("dozen")
    {
        value *= 12.0;
        taken += 1;
    }
    let end = tokens
        .get(taken.saturating_sub(1))
        .map_or(first.range.end, |last| last.range.end);
    Ok(Some(Figure {
        value,
        range: first.range.start..end,
        taken,
    }))
}

/// "half a", "a quarter", "two", "dozen".
fn in_words(first: &str, tokens: &[Token<'_>]) -> Option<(f64, usize)> {
    if first.eq_ignore_ascii_case("dozen") {
        return Some((12.0, 1));
    }
    let value = word_value(first)?;
    let next = tokens
        .get(1)
        .filter(|next| next.piece == Piece::Word)
        .map(|next| next.text);
    let is_part =
        |word: &str| word.eq_ignore_ascii_case("half") || word.eq_ignore_ascii_case("quarter");
    let is_one = |word: &str| word.eq_ignore_ascii_case("a") || word.eq_ignore_ascii_case("an");
    match next {
        Some(next) if is_part(first) && is_one(next) => Some((value, 2)),
        Some(next) if is_one(first) && is_part(next) => word_value(next).map(|part| (part, 2)),
        _ => Some((value, 1)),
    }
}

/// "3", "1/2", "1 1/2", "1½".
fn in_digits(n: f64, tokens: &[Token<'_>]) -> Result<(f64, usize), ReadError> {
    let piece = |at: usize| tokens.get(at).map(|token| token.piece);
    let span = |to: usize| match (tokens.first(), tokens.get(to)) {
        (Some(first), Some(last)) => first.range.start..last.range.end,
        _ => 0..0,
    };
    match (piece(1), piece(2), piece(3)) {
        (Some(Piece::Slash), Some(Piece::Number(under)), _) => Ok((over(n, under, span(2))?, 3)),
        (Some(Piece::Slash), _, _) => Err(ReadError::new(
            span(1),
            "a fraction with nothing below the line",
            "a fraction such as 1/2",
            "write the number below the line",
        )),
        (Some(Piece::Vulgar(part)), _, _) => Ok((whole_and(n, part, span(1))?, 2)),
        (Some(Piece::Number(top)), Some(Piece::Slash), Some(Piece::Number(under))) => {
            let part = over(top, under, span(3))?;
            Ok((whole_and(n, part, span(3))?, 4))
        }
        (Some(Piece::Number(_)), _, _) => Err(ReadError::new(
            span(1),
            "two numbers side by side",
            "one number before each unit",
            "join them as 1,250 or put the unit between, as 2 lb 3 oz",
        )),
        _ => Ok((n, 1)),
    }
}

fn over(top: f64, under: f64, range: Range<usize>) -> Result<f64, ReadError> {
    if under == 0.0 {
        return Err(ReadError::new(
            range,
            "a fraction with 0 below the line",
            "a number above 0 there, such as 1/2",
            "correct the fraction",
        ));
    }
    Ok(top / under)
}

/// A whole number and a part below one.
fn whole_and(whole: f64, part: f64, range: Range<usize>) -> Result<f64, ReadError> {
    if whole.fract() != 0.0 || part >= 1.0 {
        return Err(ReadError::new(
            range,
            "a number and a fraction that do not go together",
            "a whole number and a fraction below one, such as 1 1/2",
            "write it as one number",
        ));
    }
    Ok(whole + part)
}
