//! Dates, hours and weekdays in a table.

use jiff::civil::{Date, DateTime, Time, Weekday};

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::page::Span;
use crate::suggest::did_you_mean;
use crate::values::short;

/// Years a book may speak of; outside them a date is a typing slip.
const YEARS: std::ops::RangeInclusive<i16> = 2000..=2199;

impl Fields<'_, '_> {
    pub(crate) fn date_time(&self, key: &'static str) -> Option<(DateTime, Span)> {
        let (text, span) = self.text(key)?;
        self.read_date_time(key, &text, &span).map(|t| (t, span))
    }

    pub(crate) fn read_date_time(&self, key: &str, text: &str, span: &Span) -> Option<DateTime> {
        let shaped = has_shape(text, "0000-00-00T00:00") || has_shape(text, "0000-00-00T00:00:00");
        match text.parse::<DateTime>() {
            Ok(t) if shaped && YEARS.contains(&t.year()) => Some(t),
            _ => {
                let as_day = shaped.then(|| text.get(..10).unwrap_or(""));
                self.not_a_date(key, text, span, as_day, "a local date and hour");
                None
            }
        }
    }

    pub(crate) fn date(&self, key: &'static str) -> Option<Date> {
        let (text, span) = self.text(key)?;
        let shaped = has_shape(&text, "0000-00-00");
        match text.parse::<Date>() {
            Ok(d) if shaped && YEARS.contains(&d.year()) => Some(d),
            _ => {
                let as_day = shaped.then_some(text.as_str());
                self.not_a_date(key, &text, &span, as_day, "a date");
                None
            }
        }
    }

    fn not_a_date(&self, key: &str, text: &str, span: &Span, as_day: Option<&str>, what: &str) {
        let year = as_day
            .and_then(|d| d.get(..4))
            .and_then(|y| y.parse::<i16>().ok());
        let (mark, why) = match (as_day, year) {
            (Some(_), Some(year)) if !YEARS.contains(&year) => (
                "a year far off",
                format!(", and {year} is no year to plan for"),
            ),
            (Some(day), _) if day.parse::<Date>().is_err() => {
                ("no such day", format!(", and the calendar has no {day}"))
            }
            (Some(_), _) => (
                "no such hour",
                ", and the clock has no such hour".to_owned(),
            ),
            (None, _) => (
                if what == "a date" {
                    "not a date"
                } else {
                    "not a date and hour"
                },
                String::new(),
            ),
        };
        let (expected, do_now) = if what == "a date" {
            ("a date, such as \"2027-10-07\"", "write year-month-day")
        } else {
            (
                "a local date and hour, such as \"2027-10-07T18:30\"",
                "write year-month-day, a T, and the hour",
            )
        };
        let do_now = if as_day.is_some() {
            "correct it"
        } else {
            do_now
        };
        self.page.marked(
            Code::Unreadable,
            span.clone(),
            mark.to_owned(),
            (
                format!("`{key}` of {} reads \"{}\"{why}", self.what, short(text)),
                expected,
                do_now,
            ),
        );
    }

    pub(crate) fn hour(&self, key: &'static str) -> Option<Time> {
        let (text, span) = self.text(key)?;
        let padded = if text.len() == 4 {
            format!("0{text}")
        } else {
            text.clone()
        };
        match padded.parse::<Time>() {
            Ok(t) if has_shape(&padded, "00:00") => Some(t),
            _ => {
                self.page.marked(
                    Code::Unreadable,
                    span,
                    "not an hour".to_owned(),
                    (
                        format!("`{key}` of {} reads \"{}\"", self.what, short(&text)),
                        "an hour of the day from \"00:00\" to \"23:59\"",
                        "write it on the 24-hour clock",
                    ),
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
                    // The word itself is pointed at where the file has it as it stands.
                    let written = self.page.text.get(span.clone()).unwrap_or("");
                    let at = written.find(word).map_or(span.clone(), |i| {
                        span.start + i..span.start + i + word.len()
                    });
                    self.page.suggest(
                        Code::UnknownName,
                        at,
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

/// Whether `text` is written like `shape`, any digit for a 0. The calendar's own reader takes much
/// more (offsets, zones, bare days), and would leave out what it does not need without a word.
fn has_shape(text: &str, shape: &str) -> bool {
    text.len() == shape.len()
        && text.bytes().zip(shape.bytes()).all(|(c, s)| match s {
            b'0' => c.is_ascii_digit(),
            b'T' => matches!(c, b'T' | b' '),
            _ => c == s,
        })
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

#[cfg(test)]
mod tests {
    use toml::de::DeTable;

    use super::*;
    use crate::page::Page;

    fn read<T>(value: &str, reader: impl Fn(&Fields<'_, '_>) -> Option<T>) -> Result<T, String> {
        let text = format!("x = \"{value}\"");
        let page = Page::new("a.toml", &text);
        let (table, _) = DeTable::parse_recoverable(&text);
        let value = reader(&Fields::new(&page, "it", 0..text.len(), table.get_ref()));
        let wrong = page.into_found();
        value.ok_or_else(|| wrong.into_iter().map(|d| d.mark).collect())
    }

    #[test]
    fn a_date_and_hour_is_written_one_way() {
        let at = |v| read(v, |f| f.date_time("x").map(|(t, _)| t.to_string()));
        assert_eq!(at("2027-10-07T18:30").unwrap(), "2027-10-07T18:30:00");
        assert_eq!(at("2027-10-07 18:30").unwrap(), "2027-10-07T18:30:00");
        assert_eq!(at("2027-10-07").unwrap_err(), "not a date and hour");
        assert_eq!(
            at("2027-10-07T18:30-04:00").unwrap_err(),
            "not a date and hour"
        );
        assert_eq!(at("2027-02-30T18:30").unwrap_err(), "no such day");
        assert_eq!(at("2027-02-28T24:30").unwrap_err(), "no such hour");
        assert_eq!(at("1027-02-28T12:30").unwrap_err(), "a year far off");
    }

    #[test]
    fn a_leap_day_exists_in_leap_years_only() {
        let date = |v| read(v, |f| f.date("x").map(|d| d.to_string()));
        assert_eq!(date("2028-02-29").unwrap(), "2028-02-29");
        assert_eq!(date("2027-02-29").unwrap_err(), "no such day");
        assert_eq!(date("07.10.2027").unwrap_err(), "not a date");
    }

    #[test]
    fn an_hour_is_written_on_the_24_hour_clock() {
        let hour = |v| read(v, |f| f.hour("x").map(|t| t.to_string()));
        assert_eq!(hour("7:05").unwrap(), "07:05:00");
        assert_eq!(hour("23:59").unwrap(), "23:59:00");
        for bad in ["24:00", "7", "7 pm", "0700", "07:60", "2027-10-07T18:30"] {
            assert_eq!(hour(bad).unwrap_err(), "not an hour", "{bad}");
        }
    }

    #[test]
    fn days_are_read_whatever_their_case() {
        let days = |v| read(v, |f| f.weekdays("x").map(|d| d.len()));
        assert_eq!(days("mon, TUE Wed").unwrap(), 3);
        assert_eq!(days("Mon Moon").unwrap_err(), "no such name");
    }
}
