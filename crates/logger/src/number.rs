//! One cell as a number, a reading of nothing, or neither.

/// The mark between whole and part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mark {
    Point,
    Comma,
}

/// What a cell of a channel holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Cell<'a> {
    /// Nothing was written.
    Empty,
    /// A word for a lost probe was written.
    Lost,
    /// A number, its decimal mark, and the unit written behind it.
    Number {
        value: f64,
        mark: Option<Mark>,
        /// One comma with three digits behind and up to three in front.
        may_be_thousands: bool,
        unit: &'a str,
    },
    /// Digits with separators of thousands.
    Thousands,
    /// Anything else.
    Bad,
}

/// Words written for a lost probe, in lower case (common practice, no source).
const LOST: [&str; 29] = [
    "-", "--", "---", "----", "-----", "–", "—", "*", "**", "***", "****", "ol", "o.l", "o.l.",
    "ofl", "err", "error", "fault", "n/a", "#n/a", "na", "nan", "null", "none", "open", "lost",
    "no probe", "no data", "missing",
];

pub(crate) fn read(cell: &str) -> Cell<'_> {
    let cell = cell.trim();
    if cell.is_empty() {
        return Cell::Empty;
    }
    if cell.len() <= 12 && LOST.contains(&cell.to_lowercase().as_str()) {
        return Cell::Lost;
    }
    let Some(last) = cell.rfind(|c: char| c.is_ascii_digit()) else {
        return Cell::Bad;
    };
    let (body, unit) = cell.split_at(last + 1);
    let unit = unit.trim();
    if unit.starts_with(['.', ',']) {
        return Cell::Bad;
    }
    let (negative, body) = match body.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest),
        None => (false, body.strip_prefix('+').unwrap_or(body)),
    };
    let points = body.matches('.').count();
    let commas = body.matches(',').count();
    let inner = |c: char| matches!(c, ' ' | '\u{A0}' | '\u{202F}' | '\'' | '’' | '_');
    if points + commas > 1 || body.contains(inner) {
        let plain = body
            .chars()
            .all(|c| c.is_ascii_digit() || inner(c) || matches!(c, '.' | ','));
        return if plain { Cell::Thousands } else { Cell::Bad };
    }
    let mark = match (points, commas) {
        (1, _) => Some(Mark::Point),
        (_, 1) => Some(Mark::Comma),
        _ => None,
    };
    let may_be_thousands = mark == Some(Mark::Comma)
        && body.split_once(',').is_some_and(|(whole, part)| {
            part.len() == 3
                && part.bytes().all(|b| b.is_ascii_digit())
                && (1..=3).contains(&whole.len())
                && !whole.starts_with('0')
        });
    let shape_fits = body.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','))
        && body
            .bytes()
            .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b',' | b'e' | b'E' | b'+' | b'-'));
    if !shape_fits {
        return Cell::Bad;
    }
    match body.replace(',', ".").parse::<f64>() {
        Ok(value) if value.is_finite() => Cell::Number {
            value: if negative { -value } else { value },
            mark,
            may_be_thousands,
            unit,
        },
        _ => Cell::Bad,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(cell: &str) -> f64 {
        match read(cell) {
            Cell::Number { value, .. } => value,
            other => panic!("{cell}: {other:?}"),
        }
    }

    #[test]
    fn comma_and_point_are_the_same_number() {
        for (cell, expected) in [
            ("4.25", 4.25),
            ("4,25", 4.25),
            ("-18", -18.0),
            ("\u{2212}18,5", -18.5),
            ("+3.0 °C", 3.0),
            (".5", 0.5),
            ("4.2E+01", 42.0),
        ] {
            assert!((value(cell) - expected).abs() < 1e-12, "{cell}");
        }
    }

    #[test]
    fn thousands_are_told_apart() {
        for cell in [
            "1,234.5",
            "1.234,5",
            "1 234,5",
            "1'234.5",
            "1,234,567",
            "1\u{A0}000",
        ] {
            assert_eq!(read(cell), Cell::Thousands, "{cell}");
        }
    }

    #[test]
    fn lost_and_empty_are_not_zero() {
        for cell in ["--", "OL", "NaN", "Error", "n/a", "—"] {
            assert_eq!(read(cell), Cell::Lost, "{cell}");
        }
        assert_eq!(read("  "), Cell::Empty);
    }

    #[test]
    fn broken_numbers_are_not_mended() {
        for cell in [
            "4.", "4,", "abc", "12:30", "4-2", "0x1F", "inf", "1e999", "e5", "--4",
        ] {
            assert_eq!(read(cell), Cell::Bad, "{cell}");
        }
    }
}
