//! Bytes to lines, and lines to cells; whatever does not fit is refused before memory is filled.

use std::borrow::Cow;

use crate::told::{Kind, Problem, Remark};

/// Largest file read, bytes.
pub const MOST_BYTES: usize = 200_000_000;
/// Most lines read.
pub const MOST_LINES: usize = 2_000_000;
/// Longest line read, bytes. From our own judgement: 500 columns of 100 bytes and some.
pub const MOST_LINE_BYTES: usize = 65_536;

fn refused(line: Option<usize>, found: String, expected: &str, do_now: &str) -> Problem {
    Problem {
        line,
        column: None,
        found,
        expected: expected.to_owned(),
        do_now: do_now.to_owned(),
        asks: None,
    }
}

/// The text of a file: UTF-8, UTF-16 with its mark, else one byte per character.
pub(crate) fn decode<'a>(
    bytes: &'a [u8],
    remarks: &mut Vec<Remark>,
) -> Result<Cow<'a, str>, Problem> {
    if bytes.len() > MOST_BYTES {
        return Err(refused(
            None,
            format!("a file of {} bytes", bytes.len()),
            "at most 200 000 000 bytes",
            "export a shorter span of time",
        ));
    }
    let text = match bytes {
        [0xEF, 0xBB, 0xBF, rest @ ..] => narrow(rest, remarks)?,
        [0xFF, 0xFE, rest @ ..] => Cow::Owned(wide(rest, u16::from_le_bytes, remarks)?),
        [0xFE, 0xFF, rest @ ..] => Cow::Owned(wide(rest, u16::from_be_bytes, remarks)?),
        rest => narrow(rest, remarks)?,
    };
    let control = |c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t');
    if let Some(at) = text.find(control) {
        let line = text[..at].matches('\n').count() + 1;
        let code = text[at..].chars().next().map_or(0, u32::from);
        return Err(refused(
            Some(line),
            format!("the control character U+{code:04X}"),
            "plain text with one reading a line",
            "export as text (CSV), encoded as UTF-8, or as UTF-16 with its mark",
        ));
    }
    Ok(text)
}

fn narrow<'a>(bytes: &'a [u8], remarks: &mut Vec<Remark>) -> Result<Cow<'a, str>, Problem> {
    let Err(fault) = std::str::from_utf8(bytes) else {
        return Ok(String::from_utf8_lossy(bytes));
    };
    let line = bytes[..fault.valid_up_to()]
        .iter()
        .filter(|b| **b == b'\n')
        .count()
        + 1;
    // ISO 8859-1 has no printable character at 0x80–0x9F; such bytes mean another encoding, or none.
    if bytes.iter().any(|b| (0x80..0xA0).contains(b)) {
        return Err(refused(
            Some(line),
            "bytes that are neither UTF-8 nor ISO 8859-1".to_owned(),
            "plain text",
            "export as text (CSV), encoded as UTF-8",
        ));
    }
    remarks.push(Remark::new(
        Kind::Encoding,
        Some(line),
        None,
        "bytes that are not UTF-8".to_owned(),
        "read as ISO 8859-1",
    ));
    Ok(Cow::Owned(bytes.iter().map(|b| char::from(*b)).collect()))
}

fn wide(
    bytes: &[u8],
    unit: fn([u8; 2]) -> u16,
    remarks: &mut Vec<Remark>,
) -> Result<String, Problem> {
    let cut = || {
        refused(
            None,
            "broken UTF-16".to_owned(),
            "whole characters to the end of the file",
            "export again; the file may be cut off",
        )
    };
    let pairs = bytes.chunks_exact(2);
    if !pairs.remainder().is_empty() {
        return Err(cut());
    }
    let units = pairs.map(|pair| unit([pair[0], pair[1]]));
    let text: Result<String, _> = char::decode_utf16(units).collect();
    remarks.push(Remark::new(
        Kind::Encoding,
        None,
        None,
        "a UTF-16 mark".to_owned(),
        "read as UTF-16",
    ));
    text.map_err(|_| cut())
}

/// Lines without their ends; LF, CRLF, or CR alone where there is no LF.
pub(crate) fn lines(text: &str) -> Result<Vec<&str>, Problem> {
    let end = if text.contains('\n') || !text.contains('\r') {
        '\n'
    } else {
        '\r'
    };
    let ends = text.matches(end).count();
    if ends > MOST_LINES {
        return Err(refused(
            None,
            format!("{ends} lines"),
            "at most 2 000 000 lines",
            "export a shorter span of time, or a longer step",
        ));
    }
    let mut lines = Vec::with_capacity(ends + 1);
    for (index, line) in text.split(end).enumerate() {
        if line.len() > MOST_LINE_BYTES {
            return Err(refused(
                Some(index + 1),
                format!("a line of {} bytes", line.len()),
                "at most 65 536 bytes a line",
                "check that this is a logger export with one reading a line",
            ));
        }
        lines.push(line.strip_suffix('\r').unwrap_or(line));
    }
    Ok(lines)
}

/// Whether a line says nothing about readings: empty, only separators, or a comment.
pub(crate) fn is_idle(line: &str) -> bool {
    let line = line.trim();
    line.starts_with("//")
        // A lone `#` is the heading of an index column, not a comment.
        || line.strip_prefix('#').is_some_and(|rest| !rest.starts_with(['"', ',', ';', '\t', '|']))
        || line.chars().all(|c| matches!(c, ',' | ';' | '\t' | '|') || c.is_whitespace())
}

/// Whether a line that [`is_idle`] is a comment rather than empty.
pub(crate) fn is_comment(line: &str) -> bool {
    let line = line.trim();
    is_idle(line) && (line.starts_with('#') || line.starts_with("//"))
}

/// The cells of one line, trimmed; `None` where a quote is not closed or text follows it.
pub(crate) fn cells(line: &str, separator: char) -> Option<Vec<Cow<'_, str>>> {
    let mut cells = Vec::new();
    let mut rest = line;
    loop {
        // Not `trim_start`: a tab may be the separator.
        let lead = rest.trim_start_matches([' ', '\u{A0}']);
        if let Some(quoted) = lead.strip_prefix('"') {
            let mut cell = String::new();
            let mut tail = quoted;
            loop {
                let at = tail.find('"')?;
                cell.push_str(&tail[..at]);
                tail = &tail[at + 1..];
                let Some(doubled) = tail.strip_prefix('"') else {
                    break;
                };
                cell.push('"');
                tail = doubled;
            }
            cells.push(Cow::Owned(cell.trim().to_owned()));
            let (after, next) = match tail.split_once(separator) {
                Some((after, next)) => (after, Some(next)),
                None => (tail, None),
            };
            if !after.trim().is_empty() {
                return None;
            }
            match next {
                Some(next) => rest = next,
                None => return Some(cells),
            }
        } else {
            match rest.split_once(separator) {
                Some((cell, next)) => {
                    cells.push(Cow::Borrowed(cell.trim()));
                    rest = next;
                }
                None => {
                    cells.push(Cow::Borrowed(rest.trim()));
                    return Some(cells);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quoted_cells_may_hold_the_separator_and_quotes() {
        let read = cells(r#" "Mar 1, 2025" ,4.2, "a ""b""" "#, ',').unwrap();
        assert_eq!(read, ["Mar 1, 2025", "4.2", "a \"b\""]);
    }

    #[test]
    fn an_open_quote_is_no_row() {
        assert!(cells("\"4,2;5", ';').is_none());
        assert!(cells("\"4\"2;5", ';').is_none());
    }

    #[test]
    fn tabs_part_empty_cells() {
        assert_eq!(cells("a\t\tb\t", '\t').unwrap(), ["a", "", "b", ""]);
    }

    #[test]
    fn a_lone_hash_heads_an_index_column() {
        assert!(!is_idle("#,Time,Temp"));
        assert!(is_comment("# made by hand"));
        assert!(is_idle(";;;"));
    }

    #[test]
    fn a_carriage_return_alone_ends_lines_where_there_is_no_other() {
        assert_eq!(lines("a\rb").unwrap(), ["a", "b"]);
        assert_eq!(lines("a\r\nb").unwrap(), ["a", "b"]);
    }

    #[test]
    fn a_byte_order_mark_is_not_part_of_the_text() {
        let mut remarks = Vec::new();
        assert_eq!(decode(b"\xEF\xBB\xBFa", &mut remarks).unwrap(), "a");
        assert_eq!(decode(b"\xFF\xFEa\0", &mut remarks).unwrap(), "a");
        assert_eq!(decode(b"\xFE\xFF\0a", &mut remarks).unwrap(), "a");
        assert!(decode(b"\xFF\xFEa", &mut remarks).is_err());
        assert!(decode(b"a\0", &mut remarks).is_err());
    }
}
