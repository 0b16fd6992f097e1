//! Reading the fields of a table one by one, so that every mistake is reported and none hides another.

use std::cell::RefCell;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::diagnostic::{Code, Diagnostic};
use crate::source::line_column;
use crate::suggest::did_you_mean;

/// Bytes of a file.
pub(crate) type Span = Range<usize>;

/// A file being read, and what is wrong with it so far.
pub(crate) struct Page<'a> {
    pub(crate) name: &'a str,
    pub(crate) text: &'a str,
    found: RefCell<Vec<Diagnostic>>,
}

impl<'a> Page<'a> {
    pub(crate) fn new(name: &'a str, text: &'a str) -> Self {
        Self {
            name,
            text,
            found: RefCell::new(Vec::new()),
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
        let (line, column) = line_column(self.text, span.start);
        self.found.borrow_mut().push(Diagnostic {
            code,
            file: self.name.to_owned(),
            text: self.text.to_owned(),
            span,
            line,
            column,
            found,
            expected: expected.to_owned(),
            do_now: do_now.to_owned(),
            did_you_mean,
        });
    }

    pub(crate) fn into_found(self) -> Vec<Diagnostic> {
        self.found.into_inner()
    }
}

/// A table of a page whose keys are ticked off as they are read.
pub(crate) struct Fields<'p, 'd> {
    pub(crate) page: &'p Page<'p>,
    /// What the table is, for messages: "step `cure` of recipe `char`".
    pub(crate) what: String,
    pub(crate) span: Span,
    table: &'d DeTable<'d>,
    seen: RefCell<Vec<&'static str>>,
}

impl<'p, 'd> Fields<'p, 'd> {
    pub(crate) fn new(
        page: &'p Page<'p>,
        what: impl Into<String>,
        span: Span,
        table: &'d DeTable<'d>,
    ) -> Self {
        Self {
            page,
            what: what.into(),
            span,
            table,
            seen: RefCell::new(Vec::new()),
        }
    }

    /// The same table under another name, with nothing ticked off.
    pub(crate) fn renamed(&self, what: String) -> Fields<'p, 'd> {
        Fields::new(self.page, what, self.span.clone(), self.table)
    }

    /// The first line of the table, so that a missing key does not underline a whole step.
    pub(crate) fn head(&self) -> Span {
        let text = self.page.text.get(self.span.clone()).unwrap_or("");
        let end = text.find('\n').unwrap_or(text.len());
        self.span.start..self.span.start + end.max(1).min(text.len().max(1))
    }

    pub(crate) fn raw(&self, key: &'static str) -> Option<&'d Spanned<DeValue<'d>>> {
        self.seen.borrow_mut().push(key);
        self.table.get(key)
    }

    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some()
    }

    /// Where the value of a key stands, or the head of the table.
    pub(crate) fn at(&self, key: &str) -> Span {
        self.table
            .get(key)
            .map_or_else(|| self.head(), Spanned::span)
    }

    pub(crate) fn missing(&self, key: &str, expected: &str, do_now: &str) {
        self.page.report(
            Code::MissingKey,
            self.head(),
            format!("{} has no `{key}`", self.what),
            expected,
            do_now,
        );
    }

    pub(crate) fn wrong_kind(&self, key: &str, value: &Spanned<DeValue<'_>>, expected: &str) {
        self.page.report(
            Code::WrongKind,
            value.span(),
            format!("`{key}` of {} is {}", self.what, kind(value.get_ref())),
            expected,
            "write it so",
        );
    }

    pub(crate) fn text(&self, key: &'static str) -> Option<(String, Span)> {
        let value = self.raw(key)?;
        match value.get_ref() {
            DeValue::String(s) => Some((s.to_string(), value.span())),
            _ => {
                self.wrong_kind(key, value, "text in quotes");
                None
            }
        }
    }

    pub(crate) fn need_text(
        &self,
        key: &'static str,
        expected: &str,
        do_now: &str,
    ) -> Option<(String, Span)> {
        if !self.has(key) {
            self.seen.borrow_mut().push(key);
            self.missing(key, expected, do_now);
            return None;
        }
        let (text, span) = self.text(key)?;
        if text.trim().is_empty() {
            self.page.report(
                Code::Unreadable,
                span,
                format!("`{key}` of {} is empty", self.what),
                expected,
                do_now,
            );
            return None;
        }
        Some((text, span))
    }

    pub(crate) fn flag(&self, key: &'static str) -> Option<bool> {
        let value = self.raw(key)?;
        match value.get_ref() {
            DeValue::Boolean(b) => Some(*b),
            _ => {
                self.wrong_kind(key, value, "true or false");
                None
            }
        }
    }

    /// A number written bare, whole or with decimals.
    pub(crate) fn number(&self, key: &'static str) -> Option<(f64, Span)> {
        let value = self.raw(key)?;
        match bare_number(value.get_ref()) {
            Some(n) => Some((n, value.span())),
            None => {
                self.wrong_kind(key, value, "a number without quotes");
                None
            }
        }
    }

    /// A number within bounds; outside is reported, never clamped.
    pub(crate) fn number_within(
        &self,
        key: &'static str,
        least: f64,
        most: f64,
        do_now: &str,
    ) -> Option<(f64, Span)> {
        let (n, span) = self.number(key)?;
        if n.is_finite() && n >= least && n <= most {
            return Some((n, span));
        }
        self.page.report(
            Code::OutOfRange,
            span,
            format!("`{key}` of {} is {n}", self.what),
            &format!("a number from {least} to {most}"),
            do_now,
        );
        None
    }

    /// A whole number within bounds.
    pub(crate) fn whole(
        &self,
        key: &'static str,
        least: u32,
        most: u32,
        do_now: &str,
    ) -> Option<u32> {
        let (n, span) = self.number_within(key, f64::from(least), f64::from(most), do_now)?;
        if n.fract() == 0.0 {
            // The bounds above keep it inside u32.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            return Some(n as u32);
        }
        self.page.report(
            Code::OutOfRange,
            span,
            format!("`{key}` of {} is {n}", self.what),
            "a whole number",
            do_now,
        );
        None
    }

    pub(crate) fn fields(
        &self,
        key: &'static str,
        what: impl Into<String>,
    ) -> Option<Fields<'p, 'd>> {
        let value = self.raw(key)?;
        match value.get_ref() {
            DeValue::Table(t) => Some(Fields::new(self.page, what, value.span(), t)),
            _ => {
                self.wrong_kind(key, value, "a table in braces { … }");
                None
            }
        }
    }

    /// The members of a list of tables.
    pub(crate) fn list(&self, key: &'static str, what: &str) -> Vec<Fields<'p, 'd>> {
        let mut members = Vec::new();
        let Some(value) = self.raw(key) else {
            return members;
        };
        let DeValue::Array(array) = value.get_ref() else {
            self.wrong_kind(key, value, "a list of tables");
            return members;
        };
        for member in array.iter() {
            match member.get_ref() {
                DeValue::Table(t) => members.push(Fields::new(self.page, what, member.span(), t)),
                _ => self.wrong_kind(key, member, "a table in braces { … }"),
            }
        }
        members
    }

    /// The texts of a list (one bare text counts as a list of one).
    pub(crate) fn texts(&self, key: &'static str) -> Vec<(String, Span)> {
        let Some(value) = self.raw(key) else {
            return Vec::new();
        };
        match value.get_ref() {
            DeValue::String(s) => vec![(s.to_string(), value.span())],
            DeValue::Array(array) => {
                let mut texts = Vec::new();
                for member in array.iter() {
                    match member.get_ref() {
                        DeValue::String(s) => texts.push((s.to_string(), member.span())),
                        _ => self.wrong_kind(key, member, "text in quotes"),
                    }
                }
                texts
            }
            _ => {
                self.wrong_kind(key, value, "text in quotes, or a list of them");
                Vec::new()
            }
        }
    }

    /// Reports every key nobody asked for.
    pub(crate) fn close(&self) {
        let seen = self.seen.borrow();
        for (key, _) in self.table.iter() {
            let name: &str = key.get_ref();
            if seen.contains(&name) {
                continue;
            }
            let mut known: Vec<&str> = seen.clone();
            known.sort_unstable();
            known.dedup();
            self.page.suggest(
                Code::UnknownKey,
                key.span(),
                format!("{} has a key `{name}` that nobody reads", self.what),
                &format!("one of: {}", known.join(", ")),
                "correct the spelling or take it out",
                did_you_mean(name, known.iter().copied()),
            );
        }
    }
}

pub(crate) fn bare_number(value: &DeValue<'_>) -> Option<f64> {
    match value {
        DeValue::Integer(i) => i64::from_str_radix(i.as_str(), i.radix())
            .ok()
            .map(|n| n as f64),
        DeValue::Float(f) => f.as_str().replace('_', "").parse().ok(),
        _ => None,
    }
}

fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date without quotes",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
