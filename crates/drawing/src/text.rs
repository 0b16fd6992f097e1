//! Words on paper: what may be printed, how wide it is, where it breaks, how a number is written.

use crate::error::DrawingError;

/// Longest text that is looked at at all, characters.
const LONGEST: usize = 240;

/// `raw` on one line with single spaces, when it may be printed and says something.
pub(crate) fn words(what: &'static str, raw: &str) -> Result<String, DrawingError> {
    let text = words_or_none(what, raw)?;
    if text.is_empty() {
        return Err(DrawingError::NoWords { what });
    }
    Ok(text)
}

/// As [`words`], but nothing is allowed too.
pub(crate) fn words_or_none(what: &'static str, raw: &str) -> Result<String, DrawingError> {
    for c in raw.chars() {
        if !printable(c) {
            return Err(DrawingError::Unprintable {
                what,
                code: u32::from(c),
            });
        }
    }
    let text = raw.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() > LONGEST {
        return Err(too_long(what, &text));
    }
    Ok(text)
}

pub(crate) fn too_long(what: &'static str, text: &str) -> DrawingError {
    let mut start: String = text.chars().take(40).collect();
    if start.len() < text.len() {
        start.push('…');
    }
    DrawingError::TooLong { what, text: start }
}

/// Whether XML may hold the character and a page shows it where it stands.
fn printable(c: char) -> bool {
    match c {
        '\t' | '\n' | '\r' => true,
        // Marks that turn the reading direction: a name could make its neighbours read backwards.
        '\u{200E}'
        | '\u{200F}'
        | '\u{061C}'
        | '\u{202A}'..='\u{202E}'
        | '\u{2066}'..='\u{2069}' => false,
        // Not characters of XML 1.0.
        '\u{FFFE}' | '\u{FFFF}' => false,
        _ => !c.is_control(),
    }
}

/// The text with the five characters that mean something to XML written as entities.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}

/// An estimate of the width of a text, in ems, on the wide side.
///
/// The reader's font is not known here. The classes are those of a wide sans (DejaVu Sans, measured
/// from memory); narrower fonts leave a little air.
pub(crate) fn width_em(text: &str) -> f64 {
    text.chars().map(char_em).sum()
}

fn char_em(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '\'' | '|' => 0.29,
        ' ' | '.' | ',' | ':' | ';' | 'I' | '!' | '-' => 0.36,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '/' | '"' | '°' => 0.43,
        'm' | 'M' | 'W' | '%' | '@' | '…' | '—' => 1.0,
        'w' | '−' | '+' | '=' | '×' | '<' | '>' => 0.84,
        'a'..='z' | '0'..='9' => 0.635,
        'A'..='Z' => 0.74,
        '\u{0300}'..='\u{036F}' => 0.0,
        // Scripts with full-width characters.
        '\u{1100}'..='\u{11FF}' | '\u{2E80}'.. => 1.05,
        _ => 0.74,
    }
}

/// The text in lines no wider than `room_em`, broken at spaces; `None` when a word is wider.
pub(crate) fn wrapped(text: &str, room_em: f64) -> Option<Vec<String>> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(' ') {
        if width_em(word) > room_em {
            return None;
        }
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if width_em(&longer) > room_em {
            lines.push(std::mem::replace(&mut line, word.to_owned()));
        } else {
            line = longer;
        }
    }
    lines.push(line);
    Some(lines)
}

/// A length or place in the drawing: two decimals, without trailing zeros and without a minus before
/// nothing.
pub(crate) fn place(value: f64) -> String {
    let mut text = format!("{value:.2}");
    while text.ends_with('0') {
        text.pop();
    }
    if text.ends_with('.') {
        text.pop();
    }
    if text == "-0" {
        text.remove(0);
    }
    text
}

/// A number as read aloud: four significant figures, a real minus sign.
pub(crate) fn spoken(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = value.abs().log10().floor();
    if (-5.0..7.0).contains(&magnitude) {
        // The range above keeps the cast exact and the count of decimals below 9.
        let decimals = (3.0 - magnitude).max(0.0) as usize;
        let mut text = format!("{value:.decimals$}");
        if text.contains('.') {
            text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
        }
        minus(&text)
    } else {
        minus(&format!("{value:.3e}"))
    }
}

/// With the minus sign of print in place of the hyphen.
pub(crate) fn minus(text: &str) -> String {
    text.replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_means_something_to_xml_is_written_as_entities() {
        assert_eq!(
            escaped("<script>alert('a & \"b\"')</script>"),
            "&lt;script&gt;alert(&#39;a &amp; &quot;b&quot;&#39;)&lt;/script&gt;"
        );
    }

    #[test]
    fn text_that_prints_nothing_or_turns_about_is_refused() {
        assert_eq!(
            words("title", "salt\n in \t brine").unwrap(),
            "salt in brine"
        );
        for hostile in [
            "a\0b",
            "a\u{1b}[2J",
            "a\u{202E}b",
            "a\u{2067}b",
            "a\u{FFFE}",
            "\u{9f}",
        ] {
            assert!(
                matches!(
                    words("title", hostile),
                    Err(DrawingError::Unprintable { .. })
                ),
                "{hostile:?}"
            );
        }
        assert!(matches!(
            words("title", " \n "),
            Err(DrawingError::NoWords { .. })
        ));
        assert!(matches!(
            words("title", &"long ".repeat(60)),
            Err(DrawingError::TooLong { .. })
        ));
    }

    #[test]
    fn numbers_are_written_short() {
        for (value, text) in [
            (1.0, "1"),
            (-0.001, "0"),
            (12.345, "12.35"),
            (10.0, "10"),
            (-0.5, "-0.5"),
            (100.1, "100.1"),
        ] {
            assert_eq!(place(value), text);
        }
        for (value, text) in [
            (0.0, "0"),
            (-12.0, "−12"),
            (2.404_9, "2.405"),
            (1500.0, "1500"),
            (0.000_123_46, "0.0001235"),
            (6.02e23, "6.020e23"),
            (99_999.6, "100000"),
        ] {
            assert_eq!(spoken(value), text);
        }
    }

    #[test]
    fn lines_break_between_words() {
        assert_eq!(
            wrapped("salt in the middle", 8.0).unwrap(),
            ["salt in the", "middle"]
        );
        assert_eq!(wrapped("unbreakablelongword", 5.0), None);
    }

    proptest! {
        #[test]
        fn escaped_text_opens_no_tag(text in ".{0,60}") {
            let out = escaped(&text);
            prop_assert!(!out.contains(['<', '>', '"', '\'']));
            let back = out.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"")
                .replace("&#39;", "'").replace("&amp;", "&");
            prop_assert_eq!(back, text);
        }

        #[test]
        fn wrapping_keeps_every_word_and_the_width(text in "[a-z]{1,9}( [a-z]{1,9}){0,12}", room in 6.0..30.0_f64) {
            if let Some(lines) = wrapped(&text, room) {
                prop_assert_eq!(lines.join(" "), text);
                prop_assert!(lines.iter().all(|line| width_em(line) <= room));
            }
        }
    }
}
