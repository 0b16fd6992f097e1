//! Hours, days and spans of time as a language writes them.

use jiff::civil::{Date, Time, Weekday};

use crate::{Language, Words};

const NO_BREAK: char = '\u{a0}';
/// Minutes of an hour.
const HOUR: u64 = 60;
/// Minutes of a day.
const DAY: u64 = 24 * HOUR;

impl Words {
    /// An hour of the wall clock: "18:30", "18 h 30".
    #[must_use]
    pub fn hour(&self, at: Time) -> String {
        match self.language() {
            Language::English => format!("{:02}:{:02}", at.hour(), at.minute()),
            Language::French if at.minute() == 0 => format!("{}{NO_BREAK}h", at.hour()),
            Language::French => format!("{}{NO_BREAK}h{NO_BREAK}{:02}", at.hour(), at.minute()),
        }
    }

    /// A day in full: "Thursday 7 October", "jeudi 7 octobre".
    #[must_use]
    pub fn day(&self, date: Date) -> String {
        self.of_date(
            "day-in-full",
            date,
            weekday(date.weekday()),
            month(date.month()),
        )
    }

    /// A day, short: "Thu 7 Oct", "jeu. 7 oct.". The month is a word: 10-07 is read two ways.
    #[must_use]
    pub fn short_day(&self, date: Date) -> String {
        self.of_date(
            "day-in-short",
            date,
            short_weekday(date.weekday()),
            short_month(date.month()),
        )
    }

    /// A day with its year: "Thu 7 Oct 2027".
    #[must_use]
    pub fn dated(&self, date: Date) -> String {
        format!("{} {}", self.short_day(date), date.year())
    }

    /// The letters a tub of that day carries: "THU", "JEU".
    #[must_use]
    pub fn day_letters(&self, date: Date) -> String {
        self.say(letters(date.weekday()))
    }

    /// A span of whole minutes: "45 min", "22 h 20 min", "6 d 22 h".
    #[must_use]
    pub fn span(&self, minutes: i64) -> String {
        let m = minutes.unsigned_abs();
        let mut parts = Vec::new();
        let (days, hours, rest) = if m >= 2 * DAY {
            (m / DAY, m % DAY / HOUR, m % HOUR)
        } else {
            (0, m / HOUR, m % HOUR)
        };
        for (n, unit) in [
            (days, "unit-day"),
            (hours, "unit-hour"),
            (rest, "unit-minute"),
        ] {
            if n > 0 {
                parts.push(self.with_unit(&n.to_string(), &self.say(unit)));
            }
        }
        if parts.is_empty() {
            parts.push(self.with_unit("0", &self.say("unit-minute")));
        }
        let sign = if minutes < 0 { "−" } else { "" };
        format!("{sign}{}", parts.join(" "))
    }

    fn of_date(&self, key: &str, date: Date, weekday: &str, month: &str) -> String {
        let (weekday, month) = (self.say(weekday), self.say(month));
        // The first of the month has its own form in French.
        let number = match (self.language(), date.day()) {
            (Language::French, 1) => "1er".to_owned(),
            (_, day) => day.to_string(),
        };
        self.say_with(
            key,
            &[
                ("weekday", (&weekday).into()),
                ("day", (&number).into()),
                ("month", (&month).into()),
            ],
        )
    }
}

const fn weekday(day: Weekday) -> &'static str {
    match day {
        Weekday::Monday => "monday",
        Weekday::Tuesday => "tuesday",
        Weekday::Wednesday => "wednesday",
        Weekday::Thursday => "thursday",
        Weekday::Friday => "friday",
        Weekday::Saturday => "saturday",
        Weekday::Sunday => "sunday",
    }
}

const fn short_weekday(day: Weekday) -> &'static str {
    match day {
        Weekday::Monday => "monday-short",
        Weekday::Tuesday => "tuesday-short",
        Weekday::Wednesday => "wednesday-short",
        Weekday::Thursday => "thursday-short",
        Weekday::Friday => "friday-short",
        Weekday::Saturday => "saturday-short",
        Weekday::Sunday => "sunday-short",
    }
}

const fn letters(day: Weekday) -> &'static str {
    match day {
        Weekday::Monday => "monday-letters",
        Weekday::Tuesday => "tuesday-letters",
        Weekday::Wednesday => "wednesday-letters",
        Weekday::Thursday => "thursday-letters",
        Weekday::Friday => "friday-letters",
        Weekday::Saturday => "saturday-letters",
        Weekday::Sunday => "sunday-letters",
    }
}

const fn month(month: i8) -> &'static str {
    match month {
        1 => "january",
        2 => "february",
        3 => "march",
        4 => "april",
        5 => "may",
        6 => "june",
        7 => "july",
        8 => "august",
        9 => "september",
        10 => "october",
        11 => "november",
        _ => "december",
    }
}

const fn short_month(month: i8) -> &'static str {
    match month {
        1 => "january-short",
        2 => "february-short",
        3 => "march-short",
        4 => "april-short",
        5 => "may-short",
        6 => "june-short",
        7 => "july-short",
        8 => "august-short",
        9 => "september-short",
        10 => "october-short",
        11 => "november-short",
        _ => "december-short",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::{date, time};

    #[test]
    fn hours_and_days_are_of_the_language() {
        let (en, fr) = (Words::of(Language::English), Words::of(Language::French));
        assert_eq!(en.hour(time(18, 30, 0, 0)), "18:30");
        assert_eq!(fr.hour(time(18, 30, 0, 0)), "18\u{a0}h\u{a0}30");
        assert_eq!(fr.hour(time(8, 0, 0, 0)), "8\u{a0}h");
        let day = date(2027, 10, 7);
        assert_eq!(en.day(day), "Thursday 7 October");
        assert_eq!(fr.day(day), "jeudi 7 octobre");
        assert_eq!(fr.short_day(date(2027, 3, 1)), "lun. 1er mars");
        assert_eq!(en.short_day(day), "Thu 7 Oct");
        assert_eq!(en.day_letters(day), "THU");
        assert_eq!(fr.day_letters(day), "JEU");
    }

    #[test]
    fn two_days_of_the_week_never_share_their_letters() {
        for (_, language) in Language::ALL {
            let words = Words::of(*language);
            let mut seen = std::collections::BTreeSet::new();
            for day in 1..=7 {
                assert!(
                    seen.insert(words.day_letters(date(2027, 3, day))),
                    "{language:?} {day}"
                );
            }
        }
    }

    #[test]
    fn a_span_is_written_in_days_from_two_on() {
        let en = Words::of(Language::English);
        assert_eq!(en.span(45), "45\u{a0}min");
        assert_eq!(en.span(22 * 60 + 20), "22\u{a0}h 20\u{a0}min");
        assert_eq!(
            en.span(6 * 24 * 60 + 22 * 60 + 30),
            "6\u{a0}d 22\u{a0}h 30\u{a0}min"
        );
        assert_eq!(en.span(0), "0\u{a0}min");
        assert_eq!(Words::of(Language::French).span(3 * 24 * 60), "3\u{a0}j");
    }
}
