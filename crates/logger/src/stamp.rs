//! One cell as a moment: date, clock, both, or seconds since 1970.

/// A date as written, before day and month are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Day {
    /// The order is plain: year first, or the month in letters.
    Plain { year: i16, month: u8, day: u8 },
    /// Two numbers and a year; which is the day is not yet known.
    Either {
        first: u8,
        second: u8,
        year: i16,
        short_year: bool,
    },
}

/// A time of day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Clock {
    pub(crate) hour: u8,
    pub(crate) minute: u8,
    pub(crate) second: u8,
    /// Whether a fraction of a second other than zero was written.
    pub(crate) fraction: bool,
}

/// What a cell says about time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Stamp {
    /// Seconds since 1970-01-01T00:00Z.
    Epoch { at_s: i64, fraction: bool },
    /// Date and clock, with the offset from UTC where it is written, seconds.
    Full {
        day: Day,
        clock: Clock,
        offset_s: Option<i32>,
    },
    /// A date alone.
    Date(Day),
    /// A clock alone.
    Clock(Clock),
}

/// Reads a cell; `None` where it is no stamp of a form known here.
pub(crate) fn read(cell: &str) -> Option<Stamp> {
    let cell = cell.trim();
    if !cell.is_ascii() || cell.is_empty() || cell.len() > 48 {
        return None;
    }
    if let Some(epoch) = epoch(cell) {
        return Some(epoch);
    }
    if let Some((day, rest)) = date(cell) {
        let rest = rest
            .strip_prefix(['T', 't'])
            .unwrap_or_else(|| rest.trim_start_matches([' ', ',']));
        if rest.is_empty() {
            return Some(Stamp::Date(day));
        }
        let (clock, rest) = clock(rest)?;
        let offset_s = offset(rest.trim())?;
        return Some(Stamp::Full {
            day,
            clock,
            offset_s,
        });
    }
    let (clock, rest) = clock(cell)?;
    let rest = rest.trim_start_matches([' ', ',']);
    if rest.is_empty() {
        return Some(Stamp::Clock(clock));
    }
    match date(rest)? {
        (day, "") => Some(Stamp::Full {
            day,
            clock,
            offset_s: None,
        }),
        _ => None,
    }
}

/// Ten digits are seconds, thirteen are milliseconds: 2001 to 2286 in both.
fn epoch(cell: &str) -> Option<Stamp> {
    let (whole, part) = cell.split_once('.').unwrap_or((cell, ""));
    if !whole
        .bytes()
        .chain(part.bytes())
        .all(|b| b.is_ascii_digit())
    {
        return None;
    }
    let written = part.bytes().any(|b| b != b'0');
    let n: i64 = whole.parse().ok()?;
    match whole.len() {
        10 => Some(Stamp::Epoch {
            at_s: n,
            fraction: written,
        }),
        13 => Some(Stamp::Epoch {
            at_s: n / 1000,
            fraction: written || n % 1000 != 0,
        }),
        _ => None,
    }
}

/// Takes up to `most` digits from the front.
fn digits(text: &str, most: usize) -> Option<(&str, &str)> {
    let n = text
        .bytes()
        .take(most)
        .take_while(u8::is_ascii_digit)
        .count();
    (n > 0).then(|| text.split_at(n))
}

fn date(text: &str) -> Option<(Day, &str)> {
    compact(text)
        .or_else(|| numeric(text))
        .or_else(|| lettered(text))
}

/// `20250301` with a clock behind it.
fn compact(text: &str) -> Option<(Day, &str)> {
    let (run, rest) = digits(text, 9)?;
    if run.len() != 8 || !rest.starts_with('T') {
        return None;
    }
    let day = Day::Plain {
        year: run[..4].parse().ok()?,
        month: run[4..6].parse().ok()?,
        day: run[6..].parse().ok()?,
    };
    Some((day, rest))
}

fn numeric(text: &str) -> Option<(Day, &str)> {
    let (one, rest) = digits(text, 4)?;
    let mark = rest
        .chars()
        .next()
        .filter(|c| matches!(c, '-' | '/' | '.'))?;
    let (two, rest) = digits(&rest[1..], 2)?;
    let (three, rest) = digits(rest.strip_prefix(mark)?, 4)?;
    match (one.len(), three.len()) {
        (4, 1 | 2) => Some((
            Day::Plain {
                year: one.parse().ok()?,
                month: two.parse().ok()?,
                day: three.parse().ok()?,
            },
            rest,
        )),
        (1 | 2, 4 | 2) => {
            let written: i16 = three.parse().ok()?;
            let short_year = three.len() == 2;
            Some((
                Day::Either {
                    first: one.parse().ok()?,
                    second: two.parse().ok()?,
                    year: if short_year { 2000 + written } else { written },
                    short_year,
                },
                rest,
            ))
        }
        _ => None,
    }
}

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

fn month(text: &str) -> Option<(u8, &str)> {
    let n = text.bytes().take_while(u8::is_ascii_alphabetic).count();
    if n < 3 {
        return None;
    }
    let (word, rest) = text.split_at(n);
    let word = word.to_ascii_lowercase();
    let (index, _) = MONTHS
        .iter()
        .enumerate()
        .find(|(_, name)| name.starts_with(&word))?;
    Some((u8::try_from(index + 1).ok()?, rest))
}

/// `1 Mar 2025`, `01-Mar-2025`, `Mar 1, 2025`.
fn lettered(text: &str) -> Option<(Day, &str)> {
    let gap = |s: &'_ str| -> usize {
        s.bytes()
            .take_while(|b| matches!(b, b' ' | b'-' | b',' | b'.' | b'/'))
            .count()
    };
    let (day, month, rest) = match digits(text, 2) {
        Some((day, rest)) => {
            let (month, rest) = month(&rest[gap(rest)..])?;
            (day, month, rest)
        }
        None => {
            let (month, rest) = month(text)?;
            let (day, rest) = digits(&rest[gap(rest)..], 2)?;
            (day, month, rest)
        }
    };
    let (year, rest) = digits(&rest[gap(rest)..], 4)?;
    if year.len() != 4 {
        return None;
    }
    let day = Day::Plain {
        year: year.parse().ok()?,
        month,
        day: day.parse().ok()?,
    };
    Some((day, rest))
}

fn clock(text: &str) -> Option<(Clock, &str)> {
    let (hour, rest) = digits(text, 6)?;
    let (mut hour, minute, second, mut rest): (u8, u8, u8, &str) = match hour.len() {
        6 => (
            hour[..2].parse().ok()?,
            hour[2..4].parse().ok()?,
            hour[4..].parse().ok()?,
            rest,
        ),
        1 | 2 => {
            let (minute, rest) = digits(rest.strip_prefix(':')?, 2)?;
            if minute.len() != 2 {
                return None;
            }
            let (second, rest) = match rest.strip_prefix(':') {
                Some(rest) => {
                    let (second, rest) = digits(rest, 2)?;
                    if second.len() != 2 {
                        return None;
                    }
                    (second.parse().ok()?, rest)
                }
                None => (0, rest),
            };
            (hour.parse().ok()?, minute.parse().ok()?, second, rest)
        }
        _ => return None,
    };
    let mut fraction = false;
    if let Some((part, after)) = rest
        .strip_prefix(['.', ','])
        .and_then(|part| digits(part, 9))
    {
        fraction = part.bytes().any(|b| b != b'0');
        rest = after;
    }
    let lower = rest.trim_start().to_ascii_lowercase();
    for (word, after_noon) in [("am", false), ("a.m.", false), ("pm", true), ("p.m.", true)] {
        if lower.starts_with(word) {
            if !(1..=12).contains(&hour) {
                return None;
            }
            hour = hour % 12 + if after_noon { 12 } else { 0 };
            rest = &rest.trim_start()[word.len()..];
            break;
        }
    }
    if hour > 23 || minute > 59 || second > 59 {
        return None;
    }
    Some((
        Clock {
            hour,
            minute,
            second,
            fraction,
        },
        rest,
    ))
}

/// An offset written behind a stamp, seconds east of UTC; the outer `None` is a fault.
fn offset(text: &str) -> Option<Option<i32>> {
    if text.is_empty() {
        return Some(None);
    }
    named_offset(text).map(Some)
}

/// `Z`, `UTC`, `GMT`, `+01:00`, `+0100`, `+01`, `GMT+01:00`, `UTC+1`: seconds east of UTC.
pub(crate) fn named_offset(text: &str) -> Option<i32> {
    let lower = text.trim().to_ascii_lowercase();
    let named = lower.strip_prefix("utc").or(lower.strip_prefix("gmt"));
    let rest = match named {
        Some(rest) => rest.trim(),
        None if lower == "z" => "",
        None => lower.as_str(),
    };
    if rest.is_empty() {
        return (named.is_some() || lower == "z").then_some(0);
    }
    let sign = match rest.as_bytes().first() {
        Some(b'+') => 1,
        Some(b'-') => -1,
        _ => return None,
    };
    let (hours, after) = digits(&rest[1..], 4)?;
    let (hours, minutes) = match (hours.len(), after) {
        (4, "") => (hours[..2].parse::<i32>().ok()?, hours[2..].parse().ok()?),
        (1 | 2, "") => (hours.parse().ok()?, 0),
        (1 | 2, after) => {
            let (minutes, end) = digits(after.strip_prefix(':')?, 2)?;
            if minutes.len() != 2 || !end.is_empty() {
                return None;
            }
            (hours.parse().ok()?, minutes.parse::<i32>().ok()?)
        }
        _ => return None,
    };
    (hours <= 14 && minutes <= 59).then_some(sign * (hours * 3600 + minutes * 60))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain(cell: &str) -> (i16, u8, u8, u8, u8, u8, Option<i32>) {
        match read(cell) {
            Some(Stamp::Full {
                day: Day::Plain { year, month, day },
                clock,
                offset_s,
            }) => (
                year,
                month,
                day,
                clock.hour,
                clock.minute,
                clock.second,
                offset_s,
            ),
            other => panic!("{cell}: {other:?}"),
        }
    }

    #[test]
    fn plain_stamps_are_read() {
        for (cell, offset_s) in [
            ("2025-03-01 16:05:09", None),
            ("2025-03-01T16:05:09Z", Some(0)),
            ("2025-03-01T16:05:09.250+01:00", Some(3600)),
            ("2025/3/1 16:05:09 -0530", Some(-19_800)),
            ("20250301T160509Z", Some(0)),
            ("1 Mar 2025 4:05:09 PM", None),
            ("Mar 1, 2025 04:05:09 p.m.", None),
            ("01-March-2025, 16:05:09", None),
            ("16:05:09 2025-03-01", None),
        ] {
            assert_eq!(plain(cell), (2025, 3, 1, 16, 5, 9, offset_s), "{cell}");
        }
    }

    #[test]
    fn twelve_in_the_morning_is_midnight() {
        assert_eq!(plain("2025-03-01 12:30 AM").3, 0);
        assert_eq!(plain("2025-03-01 12:30 PM").3, 12);
    }

    #[test]
    fn two_numbers_and_a_year_stay_open() {
        let Some(Stamp::Date(Day::Either { first, second, .. })) = read("12.03.2025") else {
            panic!("not open");
        };
        assert_eq!((first, second), (12, 3));
    }

    #[test]
    fn epochs_are_seconds_or_milliseconds() {
        for cell in ["1740787200", "1740787200000", "1740787200.0"] {
            let told = Stamp::Epoch {
                at_s: 1_740_787_200,
                fraction: false,
            };
            assert_eq!(read(cell), Some(told), "{cell}");
        }
    }

    #[test]
    fn what_is_no_stamp_is_refused() {
        for cell in [
            "4.2",
            "12.03.",
            "2025-03-01 25:00",
            "2025-03-01 24:00",
            "2025-03-01 13:00 PM",
            "2025-03-01 10:00 CET",
            "Average",
            "",
            "10:5",
            "2025-03-01 10:00:5",
            "17407872",
        ] {
            assert_eq!(read(cell), None, "{cell}");
        }
    }
}
