//! Content lines of RFC 5545: how a text is escaped, and how a long line is folded.

/// Octets of a line, its end not counted (RFC 5545, 3.1: "SHOULD NOT be longer than 75 octets").
const MOST_OCTETS: usize = 75;

/// A content line folded, with its line end.
///
/// A character is never cut in two. The blank that starts a continued line counts as one of its octets.
#[must_use]
pub fn fold(line: &str) -> String {
    let mut out = String::with_capacity(line.len() + 8);
    let mut octets = 0;
    for c in line.chars() {
        if octets + c.len_utf8() > MOST_OCTETS {
            out.push_str("\r\n ");
            octets = 1;
        }
        out.push(c);
        octets += c.len_utf8();
    }
    out.push_str("\r\n");
    out
}

/// The content lines of a file with the line each starts at, from 1. Bare line feeds are taken for line ends.
///
/// Works on bytes, because a writer may have folded inside a character.
#[must_use]
pub fn unfold(bytes: &[u8]) -> Vec<(usize, Vec<u8>)> {
    let mut lines: Vec<(usize, Vec<u8>)> = Vec::new();
    for (i, raw) in bytes.split(|b| *b == b'\n').enumerate() {
        let raw = raw.strip_suffix(b"\r").unwrap_or(raw);
        match (raw.first(), lines.last_mut()) {
            (Some(b' ' | b'\t'), Some((_, last))) => last.extend_from_slice(&raw[1..]),
            (None, _) => {}
            _ => lines.push((i + 1, raw.to_vec())),
        }
    }
    lines
}

/// A text as a TEXT value (RFC 5545, 3.3.11). Control characters other than line end and tab may not stand in
/// one and become the replacement character.
#[must_use]
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            ';' => out.push_str("\\;"),
            ',' => out.push_str("\\,"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push('\t'),
            c if c.is_control() => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}

/// The text of a TEXT value.
#[must_use]
pub fn unescape(value: &str) -> String {
    let mut out = String::with_capacity(value.len());
    let mut chars = value.chars();
    while let Some(c) = chars.next() {
        match (c, c == '\\') {
            (_, true) => match chars.next() {
                Some('n' | 'N') => out.push('\n'),
                Some(other) => out.push(other),
                None => out.push('\\'),
            },
            (c, false) => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_line_of_75_octets_is_not_folded_and_one_of_76_is() {
        assert_eq!(fold(&"a".repeat(75)), format!("{}\r\n", "a".repeat(75)));
        assert_eq!(
            fold(&"a".repeat(76)),
            format!("{}\r\n a\r\n", "a".repeat(75))
        );
    }

    #[test]
    fn a_character_is_not_cut_in_two() {
        let folded = fold(&format!("{}°", "a".repeat(74)));
        assert_eq!(folded, format!("{}\r\n °\r\n", "a".repeat(74)));
    }

    #[test]
    fn a_fold_inside_a_character_is_mended() {
        let mut bytes = "SUMMARY:5 °C".as_bytes().to_vec();
        let at = bytes.iter().position(|b| *b == 0xc2).unwrap() + 1;
        bytes.splice(at..at, *b"\r\n ");
        let lines = unfold(&bytes);
        assert_eq!(lines[0].1, "SUMMARY:5 °C".as_bytes());
    }

    #[test]
    fn a_text_is_escaped_as_the_standard_shows() {
        // RFC 5545, 3.3.11, the example of TEXT; from memory.
        assert_eq!(
            escape("Project XYZ Final Review\nConference Room - 3B\nCome Prepared."),
            "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared."
        );
        assert_eq!(escape("salt; 2,5 \\"), "salt\\; 2\\,5 \\\\");
        assert_eq!(escape("a\u{1b}[2J\r"), "a\u{fffd}[2J\u{fffd}");
    }

    proptest! {
        #[test]
        fn folding_and_unfolding_give_the_line_back(line in "[^\\r\\n\\x00-\\x1f \t][^\\r\\n\\x00-\\x08]{0,400}") {
            let folded = fold(&line);
            for part in folded.trim_end_matches("\r\n").split("\r\n") {
                prop_assert!(part.len() <= 75);
            }
            let lines = unfold(folded.as_bytes());
            prop_assert_eq!(lines.len(), 1);
            prop_assert_eq!(&lines[0].1, line.as_bytes());
        }

        #[test]
        fn escaping_and_unescaping_give_the_text_back(text in "[^\\x00-\\x08\\x0b-\\x1f\\x7f-\\u{9f}]{0,200}") {
            prop_assert_eq!(unescape(&escape(&text)), text.clone());
            prop_assert!(!escape(&text).contains('\n'));
        }
    }
}
