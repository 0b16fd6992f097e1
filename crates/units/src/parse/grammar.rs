//! How an amount is put together: numbers with units, one after another, or a range of two.

use super::amount::{Amount, Customary, Worth};
use super::count_words;
use super::lexer::{Piece, Token, cut, head};
use super::number;
use super::refusal::ReadError;
use super::unit_words::{self, COMMON_UNITS, NoUnit};
use crate::QuantityError;
use core::ops::Range;

/// A number with its unit, if one stands after it.
struct Part {
    n: f64,
    worth: Option<Worth>,
    range: Range<usize>,
}

/// One end of an amount.
struct Side {
    parts: Vec<Part>,
    range: Range<usize>,
}

/// What stands where a range joins its ends.
fn is_joint(token: &Token<'_>) -> bool {
    match token.piece {
        Piece::Dash => true,
        Piece::Word => token.text.eq_ignore_ascii_case("to"),
        _ => false,
    }
}

pub(crate) fn read(text: &str, customary: Customary) -> Result<Amount, ReadError> {
    check_length(text)?;
    let tokens = cut(text)?;
    if tokens.is_empty() {
        return Err(ReadError::new(
            0..text.len(),
            "nothing",
            "an amount such as 500 g, 1½ cups or 18–24 h",
            "write the amount",
        ));
    }
    if let Some(vague) = vague(&tokens) {
        return Ok(vague);
    }
    let (low, taken) = side(&tokens, customary)?;
    let rest = tokens.get(taken..).unwrap_or(&[]);
    match rest.split_first() {
        None => whole(&low),
        Some((joint, after)) if is_joint(joint) && !after.is_empty() => {
            let (high, used) = side(after, customary)?;
            after
                .get(used)
                .map_or(Ok(()), |extra| Err(leftover(extra, text)))?;
            range_of(low, &high)
        }
        Some((extra, _)) => Err(leftover(extra, text)),
    }
}

/// The number and unit of a text that is one number with one unit and nothing else.
pub(crate) fn sole(text: &str) -> Result<Option<(f64, Worth)>, ReadError> {
    let tokens = cut(text)?;
    let (side, taken) = side(&tokens, Customary::Us)?;
    let mut parts = side.parts.into_iter();
    Ok(match (parts.next(), parts.next()) {
        (
            Some(Part {
                n,
                worth: Some(worth),
                ..
            }),
            None,
        ) if taken == tokens.len() => Some((n, worth)),
        _ => None,
    })
}

/// Refuses a text too long to be an amount.
pub(crate) fn check_length(text: &str) -> Result<(), ReadError> {
    let long = text.chars().count();
    if long > super::LONGEST_TEXT {
        return Err(ReadError::new(
            0..text.len(),
            format!("{long} characters, beginning \"{}\"", head(text, 20)),
            format!("an amount of at most {} characters", super::LONGEST_TEXT),
            "write the amount alone and the rest in a note",
        ));
    }
    Ok(())
}

fn vague(tokens: &[Token<'_>]) -> Option<Amount> {
    let counted = matches!(tokens.first()?.piece, Piece::Number(_));
    let words = tokens.get(usize::from(counted)..)?;
    if words.iter().any(|token| token.piece != Piece::Word) {
        return None;
    }
    let texts: Vec<&str> = words.iter().map(|token| token.text).collect();
    count_words::is_vague(&texts).then(|| {
        let all: Vec<&str> = tokens.iter().map(|token| token.text).collect();
        Amount::Vague {
            word: all.join(" "),
        }
    })
}

fn leftover(extra: &Token<'_>, text: &str) -> ReadError {
    let range = extra.range.start..text.trim_end().len();
    let found = format!(
        "\"{}\" after the amount",
        text.get(range.clone()).unwrap_or(extra.text)
    );
    ReadError::new(
        range,
        found,
        "the amount alone",
        "move the rest to its own field or a note",
    )
}

/// Reads one end: a run of numbers with units.
fn side(tokens: &[Token<'_>], customary: Customary) -> Result<(Side, usize), ReadError> {
    let mut parts = Vec::new();
    let mut at = 0;
    let minus = tokens.first().filter(|token| token.piece == Piece::Dash);
    if minus.is_some() {
        at = 1;
    }
    loop {
        let rest = tokens.get(at..).unwrap_or(&[]);
        let Some(figure) = number::leading(rest)? else {
            break;
        };
        at += figure.taken;
        let rest = rest.get(figure.taken..).unwrap_or(&[]);
        let (worth, taken) = unit(rest, &figure, tokens, at, customary)?;
        at += taken;
        let end = tokens
            .get(at.saturating_sub(1))
            .map_or(figure.range.end, |last| last.range.end);
        let sign = if minus.is_some() { -1.0 } else { 1.0 };
        // The sign belongs to the first part.
        let signed = tokens.first().filter(|_| parts.is_empty());
        let range = signed.map_or(figure.range.start, |token| token.range.start)..end;
        let has_unit = worth.is_some();
        parts.push(Part {
            n: sign * figure.value,
            worth,
            range,
        });
        if !has_unit {
            break;
        }
    }
    let start = tokens.first().map_or(0, |token| token.range.start);
    let Some(last) = parts.last() else {
        let found = tokens.get(at).or(tokens.last());
        let range = found.map_or(start..start, |token| token.range.clone());
        let what = found.map_or("nothing", |token| token.text);
        return Err(ReadError::new(
            range,
            format!("\"{what}\" where a number should be"),
            "a number and its unit, such as 500 g",
            "write the number first",
        ));
    };
    let range = start..last.range.end;
    Ok((Side { parts, range }, at))
}

/// The unit after a number: `None` when the text ends there or a range goes on.
fn unit(
    rest: &[Token<'_>],
    figure: &number::Figure,
    tokens: &[Token<'_>],
    at: usize,
    customary: Customary,
) -> Result<(Option<Worth>, usize), ReadError> {
    let is_dozen = tokens
        .get(at.saturating_sub(1))
        .is_some_and(|last| last.piece == Piece::Word && last.text.eq_ignore_ascii_case("dozen"));
    let pieces = Worth::Each("piece".to_owned());
    let Some(first) = rest.first() else {
        return Ok((is_dozen.then_some(pieces), 0));
    };
    if is_joint(first) {
        return Ok((is_dozen.then_some(pieces), 0));
    }
    if first.piece == Piece::Times {
        return by_name(rest);
    }
    if first.piece != Piece::Word {
        return Err(ReadError::new(
            first.range.clone(),
            format!("\"{}\" where a unit should be", first.text),
            format!("a unit such as {COMMON_UNITS}"),
            "write the unit after the number",
        ));
    }
    let words: Vec<&str> = rest
        .iter()
        .take_while(|token| token.piece == Piece::Word)
        .map(|token| token.text)
        .collect();
    // Longest first, so that "bay leaves" is not a leaf of something.
    for taken in (1..=words.len().min(3)).rev() {
        if let Some(one) = words.get(..taken).and_then(count_words::counted) {
            return Ok((Some(Worth::Each(one)), taken));
        }
    }
    match unit_words::leading(&words, customary) {
        Ok((worth, taken)) => Ok((Some(worth), taken)),
        Err(no_unit) => Err(not_a_unit(no_unit, first, figure)),
    }
}

/// "3 × quenelle": whatever is counted, by its name.
fn by_name(rest: &[Token<'_>]) -> Result<(Option<Worth>, usize), ReadError> {
    let names: Vec<&str> = rest
        .iter()
        .skip(1)
        .take_while(|token| token.piece == Piece::Word && !is_joint(token))
        .map(|token| token.text)
        .collect();
    if names.is_empty() {
        let range = rest.first().map_or(0..0, |token| token.range.clone());
        return Err(ReadError::new(
            range,
            "a multiplication sign with no name after it",
            "what is counted, such as 3 × quenelle",
            "write the name of what is counted",
        ));
    }
    let one = count_words::counted(&names).unwrap_or_else(|| names.join(" "));
    Ok((Some(Worth::Each(one)), names.len() + 1))
}

fn not_a_unit(no_unit: NoUnit, word: &Token<'_>, figure: &number::Figure) -> ReadError {
    let range = word.range.clone();
    let text = word.text;
    match no_unit {
        NoUnit::TwoMeanings { of } => ReadError::new(
            range,
            format!("\"{text}\", which can be read two ways"),
            format!("a unit that can be read one way only: {of}"),
            "write which of the two is meant",
        ),
        NoUnit::NoSuchMeasure { measure, whose } => ReadError::new(
            range,
            format!("a {measure} where measures are {whose}, which have none"),
            format!(
                "whose {measure} it is, such as US {measure} or imperial {measure}, or millilitres"
            ),
            format!("write US {measure}, imperial {measure} or the millilitres"),
        ),
        NoUnit::Unknown { near } => {
            let expected = if near.is_empty() {
                format!("a unit such as {COMMON_UNITS}")
            } else {
                format!("a unit; the nearest known: {}", near.join(", "))
            };
            let n = crate::numerals::plain(figure.value, 0, 3);
            ReadError::new(
                range,
                format!("the unknown unit \"{text}\""),
                expected,
                format!("correct the unit, or if it is something counted write {n} × {text}"),
            )
        }
    }
}

/// The amount one end comes to.
fn whole(side: &Side) -> Result<Amount, ReadError> {
    let Some(first) = side.parts.first() else {
        return Err(bare("", side.range.clone()));
    };
    let mut sum = 0.0;
    let mut last: Option<(u8, f64)> = None;
    for part in &side.parts {
        let n = crate::numerals::plain(part.n, 0, 6);
        let Some(worth) = &part.worth else {
            return Err(bare(&n, part.range.clone()));
        };
        if side.parts.len() == 1 {
            return worth
                .amount(part.n)
                .map_err(|refused| out_of_range(&refused, part.range.clone()));
        }
        let step = worth.adds_up();
        let fits = match (last, step) {
            (None, Some(_)) => true,
            (Some((kind, larger)), Some((this, smaller))) => kind == this && smaller < larger,
            (_, None) => false,
        };
        let Some((_, one)) = step.filter(|_| fits) else {
            return Err(ReadError::new(
                part.range.clone(),
                "two amounts that do not add up to one",
                "parts of one kind from the larger unit to the smaller, such as 2 lb 3 oz",
                "write one amount, or put a dash between the ends of a range",
            ));
        };
        sum += part.n * one;
        last = step;
    }
    let unit = match first.worth {
        Some(Worth::Grams(_)) => Worth::Grams(1.0),
        Some(Worth::Millilitres(_)) => Worth::Millilitres(1.0),
        Some(Worth::Millimetres(_)) => Worth::Millimetres(1.0),
        _ => Worth::Seconds(1.0),
    };
    unit.amount(sum)
        .map_err(|refused| out_of_range(&refused, side.range.clone()))
}

fn bare(n: &str, range: Range<usize>) -> ReadError {
    ReadError::new(
        range,
        format!("a bare number \"{n}\""),
        format!("a number and its unit, such as {n} g"),
        "write the unit",
    )
}

pub(crate) fn out_of_range(refused: &QuantityError, range: Range<usize>) -> ReadError {
    let (found, expected, do_now) = match refused {
        QuantityError::BelowLeast {
            quantity,
            found,
            least,
            unit,
        } => (
            format!("a {quantity} of {} {unit}", shown(*found)),
            format!("at least {least} {unit}"),
            "check the sign and the unit",
        ),
        QuantityError::AboveMost {
            quantity,
            found,
            most,
            unit,
        } => (
            format!("a {quantity} of {} {unit}", shown(*found)),
            format!("at most {} {unit}", shown(*most)),
            "check the unit and the decimal point",
        ),
        other => (
            other.to_string(),
            "an amount a kitchen could have".to_owned(),
            "correct it",
        ),
    };
    ReadError::new(range, found, expected, do_now)
}

/// A figure for a message: absurd ones in powers of ten, so that the message stays short.
fn shown(figure: f64) -> String {
    if figure.abs() >= 1e12 {
        format!("{figure:.1e}")
    } else {
        crate::numerals::grouped(&crate::numerals::plain(figure, 0, 6))
    }
}

/// The range from `low` to `high`. A lower end without a unit takes the upper one's.
fn range_of(mut low: Side, high: &Side) -> Result<Amount, ReadError> {
    if let ([only], [first, ..]) = (low.parts.as_mut_slice(), high.parts.as_slice())
        && only.worth.is_none()
    {
        if high.parts.len() > 1 {
            return Err(bare(
                &crate::numerals::plain(only.n, 0, 6),
                only.range.clone(),
            ));
        }
        only.worth.clone_from(&first.worth);
    }
    let (from, to) = (whole(&low)?, whole(high)?);
    let range = low.range.start..high.range.end;
    match from.at_most(&to) {
        Some(true) => Ok(Amount::Range {
            low: Box::new(from),
            high: Box::new(to),
        }),
        Some(false) => Err(ReadError::new(
            range,
            format!("a range from {from} down to {to}"),
            "the smaller amount first",
            "swap the two; for a mixed number write 1 1/2 without a dash",
        )),
        None => Err(ReadError::new(
            range,
            format!(
                "a range from {} ({from}) to {} ({to})",
                from.kind(),
                to.kind()
            ),
            "two amounts of one kind",
            "write both ends in units of one kind",
        )),
    }
}
