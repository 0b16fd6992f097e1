//! Cutting a text into numbers, words and signs, each with its place.

use super::refusal::ReadError;
use core::ops::Range;

/// What a piece of text is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Piece {
    /// Digits, perhaps with a point or thousands commas.
    Number(f64),
    /// A one-character fraction such as ½.
    Vulgar(f64),
    /// A slash between numbers.
    Slash,
    /// A hyphen, dash or minus.
    Dash,
    /// A multiplication sign.
    Times,
    /// Letters, a degree sign, a percent sign or an inch mark.
    Word,
    /// Anything else.
    Other,
}

/// A piece and where it stands.
#[derive(Debug, Clone)]
pub(crate) struct Token<'a> {
    pub(crate) piece: Piece,
    pub(crate) text: &'a str,
    pub(crate) range: Range<usize>,
}

/// One-character fractions and their values.
const VULGAR: [(char, f64, f64); 18] = [
    ('½', 1.0, 2.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
    ('¼', 1.0, 4.0),
    ('¾', 3.0, 4.0),
    ('⅕', 1.0, 5.0),
    ('⅖', 2.0, 5.0),
    ('⅗', 3.0, 5.0),
    ('⅘', 4.0, 5.0),
    ('⅙', 1.0, 6.0),
    ('⅚', 5.0, 6.0),
    ('⅐', 1.0, 7.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
    ('⅑', 1.0, 9.0),
    ('⅒', 1.0, 10.0),
];

fn vulgar(c: char) -> Option<f64> {
    VULGAR
        .iter()
        .find(|(sign, _, _)| *sign == c)
        .map(|(_, over, under)| over / under)
}

fn is_dash(c: char) -> bool {
    matches!(c, '-' | '‐' | '‑' | '‒' | '–' | '—' | '−')
}

fn is_degree(c: char) -> bool {
    // The ordinal sign º is commonly typed for the degree sign.
    matches!(c, '°' | 'º' | '℃' | '℉')
}

/// Signs that are a whole word by themselves.
fn is_sign_word(c: char) -> bool {
    matches!(c, '%' | '"' | '″' | '”' | '℃' | '℉')
}

/// Where the run of characters passing `keep` that starts at `from` ends.
fn run_end(text: &str, from: usize, keep: impl Fn(char, Option<char>) -> bool) -> usize {
    let rest = text.get(from..).unwrap_or("");
    let mut chars = rest.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let next = chars.peek().map(|(_, next)| *next);
        if !keep(c, next) {
            return from + at;
        }
    }
    text.len()
}

/// Cuts `text` into tokens.
pub(crate) fn cut(text: &str) -> Result<Vec<Token<'_>>, ReadError> {
    let mut tokens = Vec::new();
    let mut at = 0;
    while let Some(c) = text.get(at..).and_then(|rest| rest.chars().next()) {
        let width = c.len_utf8();
        let next = text.get(at + width..).and_then(|rest| rest.chars().next());
        if c.is_whitespace() {
            at += width;
            continue;
        }
        let point_first = c == '.' && next.is_some_and(|n| n.is_ascii_digit());
        let (piece, end) = if c.is_ascii_digit() || point_first {
            let end = run_end(text, at, |c, next| {
                let digit_follows = next.is_some_and(|n| n.is_ascii_digit());
                c.is_ascii_digit() || (matches!(c, '.' | ',') && digit_follows)
            });
            (Piece::Number(digits(text, at..end)?), end)
        } else if let Some(value) = vulgar(c) {
            (Piece::Vulgar(value), at + width)
        } else if matches!(c, '/' | '⁄') {
            (Piece::Slash, at + width)
        } else if is_dash(c) {
            (Piece::Dash, at + width)
        } else if c == '×' {
            (Piece::Times, at + width)
        } else if is_sign_word(c) {
            (Piece::Word, at + width)
        } else if c.is_alphabetic() || is_degree(c) {
            // A hyphen, slash, point or apostrophe inside a word belongs to it.
            let end = run_end(text, at, |c, next| {
                let letter_follows = next.is_some_and(char::is_alphabetic);
                let joins = is_dash(c) || matches!(c, '/' | '.' | '\'' | '’');
                c.is_alphabetic() || matches!(c, '°' | 'º') || (joins && letter_follows)
            });
            let word = text.get(at..end).unwrap_or("");
            if matches!(word, "x" | "X") {
                (Piece::Times, end)
            } else {
                (Piece::Word, end)
            }
        } else {
            (Piece::Other, at + width)
        };
        // A full stop after a word is an abbreviation's: "oz.", "fl. oz.".
        let stop =
            piece == Piece::Word && text.get(end..).is_some_and(|rest| rest.starts_with('.'));
        tokens.push(Token {
            piece,
            text: text.get(at..end).unwrap_or(""),
            range: at..end,
        });
        at = if stop { end + 1 } else { end };
    }
    Ok(tokens)
}

/// The value of a run of digits, points and commas.
fn digits(text: &str, range: Range<usize>) -> Result<f64, ReadError> {
    let written = text.get(range.clone()).unwrap_or("");
    let after = text.get(range.end..).unwrap_or("");
    if is_exponent(after) {
        return Err(ReadError::new(
            range,
            format!(
                "a number written with an exponent, \"{written}{}\"",
                head(after, 6)
            ),
            "a number written out, such as 1500",
            "write it out in full",
        ));
    }
    let (whole, decimals) = written
        .split_once('.')
        .map_or((written, None), |(w, d)| (w, Some(d)));
    let clean = if whole.contains(',') {
        let mut groups = whole.split(',');
        let first = groups.next().unwrap_or("");
        let good = (1..=3).contains(&first.len())
            && !first.starts_with('0')
            && groups.all(|group| group.len() == 3);
        if !good {
            return Err(ReadError::new(
                range,
                format!("a comma that is not between thousands, \"{written}\""),
                "a point for decimals and commas between thousands, such as 1.25 or 1,250",
                format!(
                    "say which is meant: write {} or the number without a comma",
                    whole.replace(',', ".")
                ),
            ));
        }
        whole.replace(',', "")
    } else {
        whole.to_owned()
    };
    let decimals = decimals.unwrap_or("");
    if decimals.contains(['.', ',']) {
        return Err(ReadError::new(
            range,
            format!("more than one decimal sign in \"{written}\""),
            "one point for decimals, such as 1250.5",
            "write the number with one point",
        ));
    }
    // Digits and one point only: the parse cannot fail, and a run of 200 digits stays finite.
    format!("0{clean}.{decimals}0").parse().map_err(|_| {
        ReadError::new(
            range,
            format!("\"{written}\""),
            "a number such as 500",
            "write the number again",
        )
    })
}

/// An "e" and digits right after a number.
fn is_exponent(after: &str) -> bool {
    let mut chars = after.chars();
    if !matches!(chars.next(), Some('e' | 'E')) {
        return false;
    }
    match chars.next() {
        Some('+' | '-' | '−') => chars.next().is_some_and(|c| c.is_ascii_digit()),
        other => other.is_some_and(|c| c.is_ascii_digit()),
    }
}

/// The first `most` characters.
pub(crate) fn head(text: &str, most: usize) -> String {
    text.chars().take(most).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pieces(text: &str) -> Vec<(Piece, &str)> {
        cut(text)
            .unwrap()
            .into_iter()
            .map(|token| (token.piece, token.text))
            .collect()
    }

    #[test]
    fn words_and_numbers_part_where_they_meet() {
        use Piece::{Dash, Number, Slash, Vulgar, Word};
        assert_eq!(pieces("63C"), [(Number(63.0), "63"), (Word, "C")]);
        assert_eq!(
            pieces("18–24 h"),
            [
                (Number(18.0), "18"),
                (Dash, "–"),
                (Number(24.0), "24"),
                (Word, "h")
            ]
        );
        assert_eq!(pieces("1½"), [(Number(1.0), "1"), (Vulgar(0.5), "½")]);
        assert_eq!(
            pieces("1/2"),
            [(Number(1.0), "1"), (Slash, "/"), (Number(2.0), "2")]
        );
        assert_eq!(pieces("fl. oz."), [(Word, "fl"), (Word, "oz")]);
        assert_eq!(pieces("skin-on"), [(Word, "skin-on")]);
        assert_eq!(pieces("2.5%"), [(Number(2.5), "2.5"), (Word, "%")]);
    }

    #[test]
    fn commas_stand_between_thousands_only() {
        assert_eq!(pieces("1,250.5"), [(Piece::Number(1250.5), "1,250.5")]);
        for bad in ["1,25", "0,500", "1250,000", "1,2,3", "1.250,5", "1.2.3"] {
            assert!(cut(bad).is_err(), "{bad}");
        }
    }
}
