//! Diagnostics of a book as text and as JSON.

use std::ops::Range;

use book::Diagnostic;
use miette::{
    GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteDiagnostic, MietteError,
    MietteSpanContents, SourceCode, SourceSpan, SpanContents,
};
use serde_json::{Value, json};

/// Width of everything printed, in characters.
const COLUMNS: usize = 100;
/// Width of a quoted line: what is left beside line numbers and frame.
const QUOTED: usize = 88;
/// Widest words at the place itself, and the longest underlining: together they stay in the width.
const MARK: usize = 34;
const UNDERLINED: usize = 40;
/// Mistakes printed; past these nobody reads on.
const MOST: usize = 100;

/// All diagnostics, the count last.
pub(crate) fn render(wrong: &[Diagnostic]) -> String {
    let mut text = String::new();
    for d in wrong.iter().take(MOST) {
        text.push_str(&one(d));
        text.push('\n');
    }
    if wrong.len() > MOST {
        text.push_str(&format!("The first {MOST} are shown. "));
    }
    let plural = if wrong.len() == 1 { "" } else { "s" };
    text.push_str(&format!(
        "{} mistake{plural}; nothing was loaded.\n",
        wrong.len()
    ));
    text
}

/// One message in its four parts: what was found, where, what was expected, what to do now.
fn one(d: &Diagnostic) -> String {
    let mut text = match Excerpt::of(d) {
        Some(excerpt) => framed(d, excerpt),
        None => unframed(d),
    };
    text.push_str(&wrapped("    expected: ", &d.expected));
    text.push_str(&wrapped("    do now:   ", &d.do_now));
    if let Some(name) = &d.did_you_mean {
        text.push_str(&wrapped(
            "              ",
            &format!("did you mean `{name}`?"),
        ));
    }
    text
}

fn framed(d: &Diagnostic, excerpt: Excerpt) -> String {
    let mark = d.mark.chars().take(MARK).collect();
    let label = LabeledSpan::new(Some(mark), excerpt.start, excerpt.length);
    let message = MietteDiagnostic::new(wrapped("    ", &what(d)).trim()).with_labels([label]);
    // The text comes wrapped: the handler would break words at their hyphens.
    let handler = GraphicalReportHandler::new_themed(GraphicalTheme::unicode_nocolor())
        .with_wrap_lines(false)
        .with_links(false);
    let report = miette::Report::new(message).with_source_code(excerpt);
    let mut text = String::new();
    if handler.render_report(&mut text, report.as_ref()).is_err() {
        return unframed(d);
    }
    let lines: Vec<&str> = text.trim_start_matches('\n').lines().collect();
    // The bar before the second line of a message would run into the frame below it.
    let mut text = String::new();
    for line in lines {
        text.push_str(&line.strip_prefix("  │ ").map_or_else(
            || line.trim_end().to_owned(),
            |rest| format!("    {}", rest.trim()),
        ));
        text.push('\n');
    }
    text
}

/// A message about a file that cannot be quoted.
fn unframed(d: &Diagnostic) -> String {
    let place = format!("{}:{}:{}", d.file, d.line, d.column);
    wrapped("  × ", &what(d)) + &wrapped("    in ", &place)
}

fn what(d: &Diagnostic) -> String {
    format!("{} ({})", d.found, d.code.word())
}

/// The text within the width, words whole, later lines under the first.
pub(crate) fn wrapped(lead: &str, text: &str) -> String {
    let indent = " ".repeat(lead.chars().count());
    let mut out = lead.to_owned();
    let mut column = lead.chars().count();
    let mut fresh = true;
    for word in text.split_whitespace() {
        let mut rest: Vec<char> = word.chars().collect();
        if !fresh && column + 1 + rest.len() > COLUMNS {
            out = format!("{}\n{indent}", out.trim_end());
            column = indent.len();
            fresh = true;
        }
        if !fresh {
            out.push(' ');
            column += 1;
        }
        // A single word wider than a line is cut where the line ends.
        while column + rest.len() > COLUMNS {
            let head: String = rest.drain(..COLUMNS - column).collect();
            out.push_str(&format!("{head}\n{indent}"));
            column = indent.len();
        }
        column += rest.len();
        out.extend(rest);
        fresh = false;
    }
    out.push('\n');
    out
}

/// The line a mistake stands in and its neighbours, cut to the width and made printable.
#[derive(Debug)]
struct Excerpt {
    name: String,
    text: String,
    /// Bytes of `text` to underline.
    start: usize,
    length: usize,
    /// Line of the first line, from 0.
    first: usize,
    /// Where the mistake stands in the file, from 0: a cut line counts from its cut otherwise.
    line: usize,
    column: usize,
}

impl Excerpt {
    /// `None` when there is no text to quote.
    fn of(d: &Diagnostic) -> Option<Self> {
        let lines: Vec<&str> = d.text.split('\n').collect();
        let line = d.line.checked_sub(1)?;
        let own = *lines.get(line)?;
        if d.text.trim().is_empty() {
            return None;
        }
        let column = d.column.checked_sub(1)?;
        let marked = d.text.get(d.span.clone()).unwrap_or("");
        let marked = marked.lines().next().unwrap_or("").chars().count();
        let (own, within) = cut(own, column..column + marked);
        let first = line.saturating_sub(1);
        let mut text = String::new();
        if first < line {
            text = cut(lines.get(first).unwrap_or(&""), 0..0).0 + "\n";
        }
        let at = |n: usize| own.chars().take(n).map(char::len_utf8).sum::<usize>();
        let start = text.len() + at(within.start);
        let length = at(within.end) - at(within.start);
        text.push_str(&own);
        if let Some(next) = lines.get(line + 1).filter(|l| !l.trim().is_empty()) {
            text.push('\n');
            text.push_str(&cut(next, 0..0).0);
        }
        Some(Self {
            name: d.file.clone(),
            text,
            start,
            length,
            first,
            line,
            column,
        })
    }
}

/// The part of a line around `marked` (in characters) that fits, and where `marked` is in it.
fn cut(line: &str, marked: Range<usize>) -> (String, Range<usize>) {
    /// Characters kept before the mark when a line is cut on its left.
    const BEFORE: usize = 30;
    let plain: Vec<char> = line
        .trim_end()
        .chars()
        .map(|c| match c {
            '\t' => ' ',
            c if c.is_control() => '\u{fffd}',
            c => c,
        })
        .collect();
    let end = marked.end.min(plain.len());
    let start = marked.start.min(end);
    let end = end.min(start + UNDERLINED);
    // The words hang from the middle of the underlining, on an arm of four.
    let words_end = if marked.is_empty() && start == 0 {
        0
    } else {
        usize::midpoint(start, end) + 4 + MARK
    };
    let from = if end.max(words_end) <= QUOTED {
        0
    } else {
        start.saturating_sub(BEFORE)
    };
    let to = plain.len().min(from + QUOTED);
    let mut shown: String = plain.get(from..to).unwrap_or(&[]).iter().collect();
    let mut lead = 0;
    if from > 0 {
        shown.insert(0, '…');
        lead = 1;
    }
    if to < plain.len() {
        shown.push('…');
    }
    (shown, start - from + lead..end.min(to) - from + lead)
}

impl SourceCode for Excerpt {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        _after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        // Asked without context, it is the place that is wanted; else all there is.
        let (range, line, column) = if before == 0 {
            let range = span.offset()..span.offset() + span.len();
            (range, self.line, self.column)
        } else {
            (0..self.text.len(), self.first, 0)
        };
        let data = self
            .text
            .as_bytes()
            .get(range.clone())
            .ok_or(MietteError::OutOfBounds)?;
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            data,
            (range.start, range.len()).into(),
            line,
            column,
            self.text.matches('\n').count() + 1,
        )))
    }
}

/// The same as values for programs.
pub(crate) fn to_json(wrong: &[Diagnostic]) -> Value {
    let list: Vec<Value> = wrong
        .iter()
        .map(|d| {
            json!({
                "code": d.code.word(), "file": d.file, "line": d.line, "column": d.column,
                "found": d.found, "expected": d.expected, "do_now": d.do_now,
                "did_you_mean": d.did_you_mean,
            })
        })
        .collect();
    json!({ "contract": 1, "mistakes": list })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_not_broken_at_their_hyphens() {
        let text = wrapped("  × ", &"hot-smoked-char ".repeat(12));
        assert!(text.lines().all(|l| l.chars().count() <= COLUMNS), "{text}");
        assert!(
            text.split_whitespace()
                .all(|w| w == "×" || w == "hot-smoked-char")
        );
    }

    #[test]
    fn a_word_wider_than_a_line_is_cut_and_kept_whole() {
        let text = wrapped("    expected: ", &"ä".repeat(250));
        assert!(text.lines().all(|l| l.chars().count() <= COLUMNS));
        assert_eq!(text.matches('ä').count(), 250);
    }

    #[test]
    fn a_long_line_is_cut_around_its_mistake() {
        let line = format!("{}WRONG{}", "a".repeat(300), "b".repeat(300));
        let (shown, marked) = cut(&line, 300..305);
        let marked: String = shown
            .chars()
            .skip(marked.start)
            .take(marked.len())
            .collect();
        assert_eq!(marked, "WRONG");
        assert!(shown.chars().count() <= QUOTED + 2);
        assert!(shown.starts_with('…') && shown.ends_with('…'));
    }

    #[test]
    fn nothing_quoted_moves_the_pen() {
        assert_eq!(cut("a\u{1b}[2Jb\r", 0..1).0, "a\u{fffd}[2Jb");
    }
}
