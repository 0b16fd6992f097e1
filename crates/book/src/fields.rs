//! Reading the fields of a table one by one, so that every mistake is reported and none hides another.

use std::cell::RefCell;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::diagnostic::Code;
use crate::page::{Page, Span};
use crate::suggest::did_you_mean;
use crate::values::{meant_as_id, short};

/// Longest text a value may hold, in characters: more does not fit a sheet.
const LONGEST_TEXT: usize = 500;

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

    /// Whether every member of the list of tables under `key` was taken.
    pub(crate) fn all_read(&self, key: &str, taken: usize) -> bool {
        self.table
            .get(key)
            .is_none_or(|v| v.get_ref().as_array().is_some_and(|a| a.len() == taken))
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

    /// Those of the keys that are there, in the order they are written.
    pub(crate) fn given(&self, keys: &[&'static str]) -> Vec<&'static str> {
        let mut given: Vec<&'static str> = keys.iter().copied().filter(|k| self.has(k)).collect();
        given.sort_by_key(|k| self.at(k).start);
        given
    }

    /// The value of a key, without ticking it off.
    pub(crate) fn table_value(&self, key: &str) -> Option<&'d Spanned<DeValue<'d>>> {
        self.table.get(key)
    }

    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.get(key).is_some()
    }

    /// The same table called by what stands under `key`: "machine smoker".
    pub(crate) fn called_by(&self, key: &str) -> Fields<'p, 'd> {
        let name = self.table.get(key).and_then(|v| v.get_ref().as_str());
        self.renamed(match name {
            Some(name) if !name.trim().is_empty() => format!("{} {}", self.what, short(name)),
            _ => self.what.clone(),
        })
    }

    /// Where the value of a key stands, or the head of the table.
    pub(crate) fn at(&self, key: &str) -> Span {
        self.table
            .get(key)
            .map_or_else(|| self.head(), Spanned::span)
    }

    /// The id under a key, or the one it was meant to be, and where it stands; nothing is ticked off or reported.
    pub(crate) fn place_of_id(&self, key: &str) -> Option<(kitchen::Id, Span)> {
        let value = self.table.get(key)?;
        let id = meant_as_id(value.get_ref().as_str()?)?;
        Some((id, value.span()))
    }

    pub(crate) fn missing(&self, key: &str, expected: &str, do_now: &str) {
        self.page.marked(
            Code::MissingKey,
            self.head(),
            format!("`{key}` is missing"),
            (format!("{} has no `{key}`", self.what), expected, do_now),
        );
    }

    pub(crate) fn wrong_kind(&self, key: &str, value: &Spanned<DeValue<'_>>, expected: &str) {
        let quoted = matches!(value.get_ref(), DeValue::String(_));
        let do_now = if quoted && expected.contains("number") {
            "take the quotes off"
        } else if !quoted && expected.contains("quotes, such as") {
            "put it in quotes, with its unit"
        } else if !quoted && expected.contains("quotes") {
            "put it in quotes"
        } else {
            "write it so"
        };
        self.wrong_kind_now(key, value, expected, do_now);
    }

    /// The same with advice of its own.
    pub(crate) fn wrong_kind_now(
        &self,
        key: &str,
        value: &Spanned<DeValue<'_>>,
        expected: &str,
        do_now: &str,
    ) {
        let is = kind(value.get_ref());
        let written = self.page.text.get(value.span()).unwrap_or("");
        let written = match value.get_ref() {
            DeValue::Table(_) | DeValue::Array(_) => String::new(),
            _ => format!(": {}", short(written)),
        };
        self.page.marked(
            Code::WrongKind,
            value.span(),
            format!("this is {is}"),
            (
                format!("`{key}` of {} is {is}{written}", self.what),
                expected,
                do_now,
            ),
        );
    }

    pub(crate) fn text(&self, key: &'static str) -> Option<(String, Span)> {
        let value = self.raw(key)?;
        self.one_text(key, value, "text in quotes")
    }

    /// A text a sheet can print: not too long, and nothing in it that moves the pen.
    fn one_text(
        &self,
        key: &str,
        value: &Spanned<DeValue<'_>>,
        expected: &str,
    ) -> Option<(String, Span)> {
        let DeValue::String(s) = value.get_ref() else {
            self.wrong_kind(key, value, expected);
            return None;
        };
        let long = s.chars().count();
        if long > LONGEST_TEXT {
            self.page.marked(
                Code::OutOfRange,
                value.span(),
                "too long for a sheet".to_owned(),
                (
                    format!("`{key}` of {} is a text of {long} characters", self.what),
                    &format!("at most {LONGEST_TEXT} characters"),
                    "shorten it; what is left over may stand in a # comment",
                ),
            );
            return None;
        }
        // A note may run over several lines; nothing else may.
        let fine = |c: char| !unprintable(c) || (c == '\n' && key == "note");
        if let Some(c) = s.chars().find(|c| !fine(*c)) {
            let name = format!("U+{:04X}", u32::from(c));
            self.page.marked(
                Code::Unreadable,
                value.span(),
                format!("holds {name}"),
                (
                    format!(
                        "`{key}` of {} holds the control character {name}",
                        self.what
                    ),
                    "text on one line that prints as it stands",
                    "take the character out",
                ),
            );
            return None;
        }
        Some((s.to_string(), value.span()))
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
            self.page.marked(
                Code::Unreadable,
                span,
                "empty".to_owned(),
                (
                    format!("`{key}` of {} is empty", self.what),
                    expected,
                    do_now,
                ),
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
            format!("`{key}` of {} is {}", self.what, figure(n)),
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
        let (n, span) = self.number(key)?;
        if n.fract() == 0.0 && n >= f64::from(least) && n <= f64::from(most) {
            // The bounds keep it inside u32.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            return Some(n as u32);
        }
        self.page.report(
            Code::OutOfRange,
            span,
            format!("`{key}` of {} is {}", self.what, figure(n)),
            &format!("a whole number from {least} to {most}"),
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
            DeValue::String(_) => self.one_text(key, value, "").into_iter().collect(),
            DeValue::Array(array) => array
                .iter()
                .filter_map(|member| self.one_text(key, member, "text in quotes"))
                .collect(),
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
            if self.page.is_full() {
                return;
            }
            let mut known: Vec<&str> = seen.clone();
            known.sort_unstable();
            known.dedup();
            self.page.suggest(
                Code::UnknownKey,
                key.span(),
                format!(
                    "{} has a key `{}` that nobody reads",
                    self.what,
                    short(name)
                ),
                &format!("one of: {}", known.join(", ")),
                "correct the spelling or take it out",
                did_you_mean(name, known.iter().copied()),
            );
        }
    }
}

pub(crate) fn bare_number(value: &DeValue<'_>) -> Option<f64> {
    match value {
        // A whole number too long for 64 bits is still a number, and out of range as one.
        DeValue::Integer(i) => match i64::from_str_radix(i.as_str(), i.radix()) {
            Ok(n) => Some(n as f64),
            Err(_) => i.as_str().parse().ok(),
        },
        DeValue::Float(f) => f.as_str().replace('_', "").parse().ok(),
        _ => None,
    }
}

/// A number for a message: absurd ones as powers of ten, so that the message stays short.
pub(crate) fn figure(n: f64) -> String {
    if n.is_nan() {
        "not a number (nan)".to_owned()
    } else if n.is_infinite() {
        format!("without end ({n})")
    } else if n != 0.0 && !(1e-6..1e9).contains(&n.abs()) {
        format!("{n:e}")
    } else {
        format!("{n}")
    }
}

/// Control characters, and the marks that turn the direction of writing.
fn unprintable(c: char) -> bool {
    c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Reports every table of a list whose id another has before it.
pub(crate) fn twice(tables: &[Fields<'_, '_>]) {
    let mut seen = std::collections::BTreeSet::new();
    for f in tables {
        let Some((id, span)) = f.place_of_id("id") else {
            continue;
        };
        if seen.contains(&id) {
            f.page.report(
                Code::Duplicate,
                span,
                format!("a second {} with the id \"{id}\"", f.what),
                &format!("a different id for every {}", f.what),
                "rename one of them",
            );
        }
        seen.insert(id);
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
