//! A file being read, and the mistakes found in it so far.

use std::cell::{Cell, RefCell};
use std::ops::Range;
use std::sync::Arc;

use units::Customary;

use crate::diagnostic::{Code, Diagnostic};
use crate::source::Lines;

/// Bytes of a file.
pub(crate) type Span = Range<usize>;

/// Mistakes listed for one file; past this the file is not a book with slips in it.
const MOST_FOUND: usize = 200;

/// A file being read, and what is wrong with it so far.
pub(crate) struct Page<'a> {
    pub(crate) name: &'a str,
    pub(crate) text: &'a str,
    shared: Arc<str>,
    lines: Lines,
    found: RefCell<Vec<Diagnostic>>,
    /// Whose cup a bare cup of this file is.
    pub(crate) measures: Cell<Customary>,
}

impl<'a> Page<'a> {
    pub(crate) fn new(name: &'a str, text: &'a str) -> Self {
        Self {
            name,
            text,
            shared: Arc::from(text),
            lines: Lines::of(text),
            found: RefCell::new(Vec::new()),
            measures: Cell::new(Customary::Us),
        }
    }

    pub(crate) fn report(
        &self,
        code: Code,
        span: Span,
        found: String,
        expected: &str,
        do_now: &str,
    ) {
        self.suggest(code, span, found, expected, do_now, None);
    }

    pub(crate) fn suggest(
        &self,
        code: Code,
        span: Span,
        found: String,
        expected: &str,
        do_now: &str,
        did_you_mean: Option<String>,
    ) {
        self.tell(code, span, found, expected, do_now, did_you_mean, None);
    }

    /// A report with its own few words for the place itself.
    pub(crate) fn marked(
        &self,
        code: Code,
        span: Span,
        mark: String,
        (found, expected, do_now): (String, &str, &str),
    ) {
        self.tell(code, span, found, expected, do_now, None, Some(mark));
    }

    /// Whether the list of mistakes is full; nothing more is worth working out then.
    pub(crate) fn is_full(&self) -> bool {
        self.found.borrow().len() > MOST_FOUND
    }

    #[allow(clippy::too_many_arguments)] // the parts of one message
    pub(crate) fn tell(
        &self,
        code: Code,
        span: Span,
        found: String,
        expected: &str,
        do_now: &str,
        did_you_mean: Option<String>,
        mark: Option<String>,
    ) {
        if self.is_full() {
            return;
        }
        let span = whole_characters(self.text, span);
        let (line, column) = self.lines.line_column(self.text, span.start);
        let mistake = Diagnostic {
            code,
            file: self.name.to_owned(),
            text: Arc::clone(&self.shared),
            span,
            line,
            column,
            mark: mark.unwrap_or_else(|| code.mark().to_owned()),
            found,
            expected: expected.to_owned(),
            do_now: do_now.to_owned(),
            did_you_mean,
        };
        let mut all = self.found.borrow_mut();
        if all.len() < MOST_FOUND {
            all.push(mistake);
            return;
        }
        all.push(Diagnostic {
            code: Code::TooLarge,
            mark: "and more".to_owned(),
            found: format!("more than {MOST_FOUND} mistakes in this file; the rest is not listed"),
            expected: "a book file with a slip here and there".to_owned(),
            do_now: "mend these first, or check that it is a book file".to_owned(),
            did_you_mean: None,
            ..mistake
        });
    }

    pub(crate) fn into_found(self) -> Vec<Diagnostic> {
        let mut all = self.found.into_inner();
        // A key misspelled is missing under its right name: one cause, told once.
        let misspelled: Vec<String> = all
            .iter()
            .filter(|d| d.code == Code::UnknownKey)
            .filter_map(|d| {
                let (what, _) = d.found.split_once(" has a key `")?;
                Some(format!("{what} has no `{}`", d.did_you_mean.as_ref()?))
            })
            .collect();
        for found in misspelled {
            let twin = |d: &Diagnostic| d.code == Code::MissingKey && d.found == found;
            if let Some(at) = all.iter().position(twin) {
                all.remove(at);
            }
        }
        all
    }
}

/// The span inside the text, and on character boundaries.
fn whole_characters(text: &str, span: Span) -> Span {
    let mut start = span.start.min(text.len());
    while !text.is_char_boundary(start) {
        start -= 1;
    }
    let mut end = span.end.clamp(start, text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    start..end
}
