//! Values of the trade in a table: weights, times, temperatures, percentages, ids, hours, sources.

use jiff::civil::{Date, DateTime, Time, Weekday};
use kitchen::Id;
use sources::Citation;
use units::{Customary, Elapsed, Length, Mass, Money, ReadError, Temperature};

use crate::diagnostic::Code;
use crate::fields::{Fields, Span};
use crate::suggest::did_you_mean;

/// Years a book may speak of; outside them a date is a typing slip.
const YEARS: std::ops::RangeInclusive<i16> = 2000..=2199;

impl Fields<'_, '_> {
    fn read_with<T>(
        &self,
        key: &'static str,
        reader: impl Fn(&str) -> Result<T, ReadError>,
        example: &str,
    ) -> Option<(T, Span)> {
        let value = self.raw(key)?;
        let Some(text) = value.get_ref().as_str() else {
            self.wrong_kind(key, value, example);
            return None;
        };
        match reader(text) {
            Ok(read) => Some((read, value.span())),
            Err(error) => {
                self.page.report(
                    Code::Unreadable,
                    value.span(),
                    format!(
                        "`{key}` of {} reads \"{}\": {}",
                        self.what,
                        short(text),
                        error.found
                    ),
                    &error.expected,
                    &error.do_now,
                );
                None
            }
        }
    }

    pub(crate) fn mass(&self, key: &'static str) -> Option<(Mass, Span)> {
        self.read_with(
            key,
            units::read_mass,
            "a weight in quotes, such as \"1.8 kg\"",
        )
    }

    /// A mass above zero.
    pub(crate) fn some_mass(&self, key: &'static str) -> Option<Mass> {
        let (mass, span) = self.mass(key)?;
        if mass.g() > 0.0 {
            return Some(mass);
        }
        self.page.report(
            Code::OutOfRange,
            span,
            format!("`{key}` of {} is nothing", self.what),
            "a weight above zero",
            "weigh one and write it here",
        );
        None
    }

    pub(crate) fn elapsed(&self, key: &'static str) -> Option<(Elapsed, Span)> {
        self.read_with(
            key,
            units::read_elapsed,
            "a time in quotes, such as \"18 h\" or \"45 min\"",
        )
    }

    pub(crate) fn length(&self, key: &'static str) -> Option<(Length, Span)> {
        let (length, span) = self.read_with(
            key,
            units::read_length,
            "a length in quotes, such as \"25 mm\"",
        )?;
        if length.mm() > 0.0 {
            return Some((length, span));
        }
        self.page.report(
            Code::OutOfRange,
            span,
            format!("`{key}` of {} is nothing", self.what),
            "a length above zero",
            "measure it and write it here",
        );
        None
    }

    pub(crate) fn temperature(&self, key: &'static str) -> Option<(Temperature, Span)> {
        self.read_with(
            key,
            units::read_temperature,
            "a temperature in quotes, such as \"63 °C\"",
        )
    }

    /// A ceiling such as `"<= 5 °C"`.
    pub(crate) fn at_most(&self, key: &'static str) -> Option<Temperature> {
        self.read_with(
            key,
            |text| {
                let bare = text
                    .trim()
                    .strip_prefix("<=")
                    .or_else(|| text.trim().strip_prefix('≤'))
                    .unwrap_or(text);
                units::read_temperature(bare.trim())
            },
            "a ceiling in quotes, such as \"<= 5 °C\"",
        )
        .map(|(t, _)| t)
    }

    /// A percentage as a plain number of percent, within bounds.
    pub(crate) fn percent(
        &self,
        key: &'static str,
        least: f64,
        most: f64,
        do_now: &str,
    ) -> Option<f64> {
        let (pct, span) = self.read_with(
            key,
            units::read_percent,
            "a percentage in quotes, such as \"2.5 %\"",
        )?;
        if (least..=most).contains(&pct) {
            return Some(pct);
        }
        self.page.report(
            Code::OutOfRange,
            span,
            format!("`{key}` of {} is {pct} %", self.what),
            &format!("{least} % to {most} %"),
            do_now,
        );
        None
    }

    /// A factor above zero, as a number or as text like "5/3".
    pub(crate) fn factor(&self, key: &'static str) -> Option<f64> {
        let value = self.raw(key)?;
        let read = match value.get_ref().as_str() {
            Some(text) => units::read_ratio(text).ok(),
            None => crate::fields::bare_number(value.get_ref()),
        };
        match read {
            Some(n) if n.is_finite() && n > 0.0 && n <= 1000.0 => Some(n),
            Some(n) => {
                self.page.report(
                    Code::OutOfRange,
                    value.span(),
                    format!("`{key}` of {} is {n}", self.what),
                    "a factor above 0 and up to 1000",
                    "write how many times",
                );
                None
            }
            None => {
                self.wrong_kind(key, value, "a factor such as 2, 1.5 or \"5/3\"");
                None
            }
        }
    }

    pub(crate) fn money(&self, key: &'static str) -> Option<Money> {
        let (n, span) = self.number_within(
            key,
            0.0,
            1e7,
            "write the price as a number, without the sign",
        )?;
        match Money::from_f64_exact(n) {
            Ok(money) => Some(money),
            Err(error) => {
                self.page.report(
                    Code::Unreadable,
                    span,
                    error.to_string(),
                    "an amount of money",
                    "write the price as a number, without the sign",
                );
                None
            }
        }
    }

    /// An id this table gives itself.
    pub(crate) fn own_id(&self, key: &'static str) -> Option<(Id, Span)> {
        let (text, span) =
            self.need_text(key, "an id such as \"hot-smoked-char\"", "give it one")?;
        self.check_id(&text, &span).map(|id| (id, span))
    }

    /// An id of something else.
    pub(crate) fn other_id(&self, key: &'static str) -> Option<(Id, Span)> {
        let (text, span) = self.text(key)?;
        self.check_id(&text, &span).map(|id| (id, span))
    }

    pub(crate) fn check_id(&self, text: &str, span: &Span) -> Option<Id> {
        let id = Id::new(text);
        if id.is_none() {
            self.page.report(
                Code::Unreadable,
                span.clone(),
                format!("\"{}\" is not an id", short(text)),
                "lower-case letters, digits and hyphens, starting with a letter, at most 64",
                "write it like hot-smoked-char",
            );
        }
        id
    }

    /// A citation; `house` when the table names none.
    pub(crate) fn source(&self, key: &'static str) -> Citation {
        let house = Citation::whole(&sources::list::HOUSE);
        let Some((text, span)) = self.text(key) else {
            return house;
        };
        match Citation::read(&text) {
            Some(citation) => citation,
            None => {
                let keys: Vec<&str> = sources::ALL.iter().map(|s| s.key).collect();
                let found = text.split(':').next().unwrap_or("");
                self.page.suggest(
                    Code::UnknownName,
                    span,
                    format!("no source has the key \"{}\"", short(found)),
                    &format!("one of: {}", keys.join(", ")),
                    "name the source by its key, then a colon and the place in it",
                    did_you_mean(found, keys.iter().copied()),
                );
                house
            }
        }
    }

    /// One word of a list of words.
    pub(crate) fn one_of<T: Copy>(
        &self,
        key: &'static str,
        words: &[(&'static str, T)],
    ) -> Option<T> {
        let (text, span) = self.text(key)?;
        if let Some((_, value)) = words.iter().find(|(w, _)| *w == text) {
            return Some(*value);
        }
        let known: Vec<&str> = words.iter().map(|(w, _)| *w).collect();
        self.page.suggest(
            Code::UnknownName,
            span,
            format!("`{key}` of {} is \"{}\"", self.what, short(&text)),
            &format!("one of: {}", known.join(", ")),
            "choose one of them",
            did_you_mean(&text, known.iter().copied()),
        );
        None
    }

    pub(crate) fn date_time(&self, key: &'static str) -> Option<(DateTime, Span)> {
        let (text, span) = self.text(key)?;
        self.read_date_time(key, &text, &span).map(|t| (t, span))
    }

    pub(crate) fn read_date_time(&self, key: &str, text: &str, span: &Span) -> Option<DateTime> {
        match text.parse::<DateTime>() {
            Ok(t) if YEARS.contains(&t.year()) => Some(t),
            _ => {
                self.page.report(
                    Code::Unreadable,
                    span.clone(),
                    format!("`{key}` of {} reads \"{}\"", self.what, short(text)),
                    "a local date and hour, such as \"2027-10-07T18:30\"",
                    "write year-month-day, a T, and the hour",
                );
                None
            }
        }
    }

    pub(crate) fn date(&self, key: &'static str) -> Option<Date> {
        let (text, span) = self.text(key)?;
        match text.parse::<Date>() {
            Ok(d) if YEARS.contains(&d.year()) => Some(d),
            _ => {
                self.page.report(
                    Code::Unreadable,
                    span,
                    format!("`{key}` of {} reads \"{}\"", self.what, short(&text)),
                    "a date, such as \"2027-10-07\"",
                    "write year-month-day",
                );
                None
            }
        }
    }

    pub(crate) fn hour(&self, key: &'static str) -> Option<Time> {
        let (text, span) = self.text(key)?;
        let padded = if text.len() == 4 {
            format!("0{text}")
        } else {
            text.clone()
        };
        match padded.parse::<Time>() {
            Ok(t) => Some(t),
            Err(_) => {
                self.page.report(
                    Code::Unreadable,
                    span,
                    format!("`{key}` of {} reads \"{}\"", self.what, short(&text)),
                    "an hour of the day, such as \"07:00\"",
                    "write it on the 24-hour clock",
                );
                None
            }
        }
    }

    /// Weekdays as "Mon Tue Fri".
    pub(crate) fn weekdays(&self, key: &'static str) -> Option<Vec<Weekday>> {
        let (text, span) = self.text(key)?;
        let mut days = Vec::new();
        for word in text.split([' ', ',']).filter(|w| !w.is_empty()) {
            match weekday(word) {
                Some(day) => days.push(day),
                None => {
                    self.page.suggest(
                        Code::Unreadable,
                        span.clone(),
                        format!("`{key}` of {} has the day \"{}\"", self.what, short(word)),
                        "days among Mon Tue Wed Thu Fri Sat Sun",
                        "write the days with spaces between",
                        did_you_mean(word, WEEKDAYS.iter().map(|(w, _)| *w)),
                    );
                    return None;
                }
            }
        }
        Some(days)
    }
}

const WEEKDAYS: [(&str, Weekday); 7] = [
    ("Mon", Weekday::Monday),
    ("Tue", Weekday::Tuesday),
    ("Wed", Weekday::Wednesday),
    ("Thu", Weekday::Thursday),
    ("Fri", Weekday::Friday),
    ("Sat", Weekday::Saturday),
    ("Sun", Weekday::Sunday),
];

pub(crate) fn weekday(word: &str) -> Option<Weekday> {
    WEEKDAYS
        .iter()
        .find(|(w, _)| w.eq_ignore_ascii_case(word))
        .map(|(_, d)| *d)
}

/// A text short enough to quote.
pub(crate) fn short(text: &str) -> String {
    const MOST: usize = 60;
    let clean: String = text
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .take(MOST)
        .collect();
    if text.chars().count() > MOST {
        format!("{clean}…")
    } else {
        clean
    }
}

/// The measures a book in kitchen units is written in, unless it says otherwise.
pub(crate) const CUSTOMARY: Customary = Customary::Us;
