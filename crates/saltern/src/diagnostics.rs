//! Diagnostics of a book as text and as JSON.

use book::Diagnostic;
use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteDiagnostic, NamedSource};
use serde_json::{Value, json};

/// Width of everything printed.
const COLUMNS: usize = 100;
/// Longest line quoted; longer ones (a file on one line) are cut down to what matters.
const LONGEST_LINE: usize = 200;

/// All diagnostics, the count last.
pub(crate) fn render(wrong: &[Diagnostic]) -> String {
    let handler = GraphicalReportHandler::new_themed(GraphicalTheme::unicode_nocolor())
        .with_width(COLUMNS)
        .with_links(false);
    let mut text = String::new();
    for d in wrong {
        let mut one = String::new();
        let quoted = !d.text.is_empty() && d.text.lines().all(|l| l.len() <= LONGEST_LINE);
        let help = d.did_you_mean.as_ref().map_or_else(
            || format!("do now: {}", d.do_now),
            |name| format!("do now: {}\ndid you mean `{name}`?", d.do_now),
        );
        let (message, labels) = if quoted {
            let length = first_line(&d.text, d.span.clone());
            let label = LabeledSpan::new(Some("here".to_owned()), d.span.start, length);
            (d.found.clone(), vec![label])
        } else {
            (format!("{}:{}:{}: {}", d.file, d.line, d.column, d.found), Vec::new())
        };
        let diagnostic = MietteDiagnostic::new(message)
            .with_code(d.code.word())
            .with_help(format!("expected: {}\n{help}", d.expected))
            .with_labels(labels);
        let report = miette::Report::new(diagnostic);
        let report = if quoted {
            report.with_source_code(NamedSource::new(&d.file, d.text.clone()))
        } else {
            report
        };
        if handler.render_report(&mut one, report.as_ref()).is_err() {
            one = format!("{d}\n");
        }
        text.push_str(&one);
        text.push('\n');
    }
    let plural = if wrong.len() == 1 { "" } else { "s" };
    text.push_str(&format!("{} mistake{plural}; nothing was loaded.\n", wrong.len()));
    text
}

/// Length of the span, ended at its first line break.
fn first_line(text: &str, span: std::ops::Range<usize>) -> usize {
    let part = text.get(span.clone()).unwrap_or("");
    part.find('\n').unwrap_or(part.len())
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
