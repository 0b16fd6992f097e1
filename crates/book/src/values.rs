//! Values of the trade in a table: weights, times, temperatures, percentages, ids, hours, sources.

use kitchen::Id;
use sources::Citation;
use units::{Elapsed, Length, Mass, Money, ReadError, Temperature};

use crate::diagnostic::Code;
use crate::fields::{Fields, figure};
use crate::page::Span;
use crate::suggest::did_you_mean;

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
            Err(mut error) => {
                // What a field takes is known here: no need to list every unit, or to offer a count.
                if error.expected.starts_with("a unit such as") {
                    error.expected = example.replacen(" in quotes,", "", 1);
                }
                if let Some((unit, _)) = error.do_now.split_once(", or if it is something counted")
                {
                    error.do_now = unit.to_owned();
                }
                let wanted = example
                    .split(" in quotes")
                    .next()
                    .unwrap_or("what it should be");
                self.unreadable(key, text, &value.span(), &error, &format!("not {wanted}"));
                None
            }
        }
    }

    /// A text that is no amount: the words that are wrong, where they stand in it.
    pub(crate) fn unreadable(
        &self,
        key: &str,
        text: &str,
        span: &Span,
        error: &ReadError,
        mark: &str,
    ) {
        // Only a plain value has its characters where the file has them: no escapes, one quote.
        let plain = self
            .page
            .text
            .get(span.start + 1..span.end.saturating_sub(1))
            == Some(text);
        let part = !error.range.is_empty() && error.range != (0..text.len());
        let at = if plain && part {
            span.start + 1 + error.range.start..span.start + 1 + error.range.end
        } else {
            span.clone()
        };
        let whole = short(text);
        let found = if error.found.contains(&whole) || whole.trim().is_empty() {
            format!("`{key}` of {}: found {}", self.what, error.found)
        } else {
            format!(
                "`{key}` of {}: found {} in \"{whole}\"",
                self.what, error.found
            )
        };
        self.page.marked(
            Code::Unreadable,
            at,
            mark.to_owned(),
            (found, &error.expected, &error.do_now),
        );
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
            format!("`{key}` of {} is {} %", self.what, figure(pct)),
            &format!("{least} % to {most} %"),
            do_now,
        );
        None
    }

    /// A factor above zero, as a number or as text like "5/3".
    pub(crate) fn factor(&self, key: &'static str) -> Option<f64> {
        let value = self.raw(key)?;
        let read = match value.get_ref().as_str() {
            Some(text) => match units::read_ratio(text) {
                Ok(n) => Some(n),
                Err(error) => {
                    self.unreadable(key, text, &value.span(), &error, "not a factor");
                    return None;
                }
            },
            None => crate::fields::bare_number(value.get_ref()),
        };
        match read {
            Some(n) if n.is_finite() && n > 0.0 && n <= 1000.0 => Some(n),
            Some(n) => {
                self.page.report(
                    Code::OutOfRange,
                    value.span(),
                    format!("`{key}` of {} is {}", self.what, figure(n)),
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
        let write = "write it as a number, without quotes and without the sign";
        if let Some(value) = self.table_value(key)
            && crate::fields::bare_number(value.get_ref()).is_none()
        {
            self.raw(key);
            self.wrong_kind_now(key, value, "an amount of money, such as 23.50", write);
            return None;
        }
        let (n, span) = self.number_within(key, 0.0, 1e7, "write the price, nothing below 0")?;
        match Money::from_f64_exact(n) {
            Ok(money) => Some(money),
            Err(error) => {
                self.page.report(
                    Code::Unreadable,
                    span,
                    format!("`{key}` of {}: {error}", self.what),
                    "an amount of money, such as 23.50",
                    write,
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
            let as_id = meant_as_id(text).map(|id| id.to_string());
            let do_now = if as_id.is_some() {
                "write it so"
            } else {
                "write it like hot-smoked-char"
            };
            self.page.suggest(
                Code::Unreadable,
                span.clone(),
                format!("\"{}\" is not an id", short(text)),
                "lower-case letters, digits and hyphens, starting with a letter, at most 64",
                do_now,
                as_id,
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
}

/// The id a text was probably meant to be: "Fennel Bulb" as fennel-bulb.
pub(crate) fn meant_as_id(text: &str) -> Option<Id> {
    let words: Vec<String> = text
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_ascii_lowercase)
        .collect();
    Id::new(text).or_else(|| Id::new(&words.join("-")))
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

#[cfg(test)]
mod tests {
    use toml::de::DeTable;

    use super::*;
    use crate::Diagnostic;
    use crate::page::Page;

    /// Reads the one value of `text` with `reader`; what is wrong comes back beside it.
    fn read<T>(
        text: &str,
        reader: impl Fn(&Fields<'_, '_>) -> Option<T>,
    ) -> (Option<T>, Vec<Diagnostic>) {
        let page = Page::new("a.toml", text);
        let (table, errors) = DeTable::parse_recoverable(text);
        assert!(errors.is_empty(), "{text}");
        let value = reader(&Fields::new(&page, "it", 0..text.len(), table.get_ref()));
        (value, page.into_found())
    }

    fn refused<T>(text: &str, reader: impl Fn(&Fields<'_, '_>) -> Option<T>) -> Diagnostic {
        let (value, mut wrong) = read(text, reader);
        assert!(value.is_none(), "{text} was taken");
        assert_eq!(wrong.len(), 1, "{text}: {wrong:?}");
        wrong.remove(0)
    }

    #[test]
    fn the_words_that_are_wrong_are_pointed_at_inside_the_value() {
        let d = refused("x = \"3 lumps\"", |f| f.mass("x"));
        assert_eq!(&d.text[d.span.clone()], "lumps");
        assert_eq!((d.line, d.column), (1, 8));
        // With an escape the characters stand elsewhere: the whole value is pointed at.
        let d = refused("x = \"3 \\u006cumps\"", |f| f.mass("x"));
        assert_eq!(&d.text[d.span.clone()], "\"3 \\u006cumps\"");
    }

    #[test]
    fn a_text_is_not_quoted_twice_in_one_message() {
        let d = refused("x = \"90 min\"", |f| f.mass("x"));
        assert_eq!(d.found, "`x` of it: found a time, \"90 min\"");
        assert_eq!(d.mark, "not a weight");
    }

    #[test]
    fn a_weight_of_nothing_and_a_length_of_nothing_are_refused() {
        assert_eq!(
            refused("x = \"0 g\"", |f| f.some_mass("x")).code,
            Code::OutOfRange
        );
        assert_eq!(
            refused("x = \"0 mm\"", |f| f.length("x")).code,
            Code::OutOfRange
        );
        assert!(read("x = \"1 mm\"", |f| f.length("x")).0.is_some());
    }

    #[test]
    fn a_factor_may_be_a_number_or_a_fraction_and_is_never_zero() {
        let factor = |f: &Fields<'_, '_>| f.factor("x");
        assert_eq!(read("x = \"5/2\"", factor).0, Some(2.5));
        assert_eq!(read("x = 2", factor).0, Some(2.0));
        for bad in [
            "x = 0",
            "x = nan",
            "x = inf",
            "x = -1",
            "x = 1001",
            "x = \"0\"",
        ] {
            assert_eq!(refused(bad, factor).code, Code::OutOfRange, "{bad}");
        }
        assert_eq!(refused("x = \"two\"", factor).code, Code::Unreadable);
        assert_eq!(refused("x = true", factor).code, Code::WrongKind);
    }

    #[test]
    fn money_is_a_bare_number_and_never_below_nothing() {
        let money = |f: &Fields<'_, '_>| f.money("x");
        assert!(read("x = 23.50", money).0.is_some());
        assert!(read("x = 23", money).0.is_some());
        assert_eq!(refused("x = \"$23.50\"", money).code, Code::WrongKind);
        assert_eq!(refused("x = -1", money).code, Code::OutOfRange);
        assert_eq!(refused("x = 1e8", money).code, Code::OutOfRange);
    }

    #[test]
    fn a_percentage_outside_its_bounds_is_refused_not_cut() {
        let pct = |f: &Fields<'_, '_>| f.percent("x", 0.0, 20.0, "write it");
        assert_eq!(read("x = \"20 %\"", pct).0, Some(20.0));
        assert_eq!(refused("x = \"20.1 %\"", pct).code, Code::OutOfRange);
        assert_eq!(refused("x = \"20\"", pct).code, Code::Unreadable);
        assert_eq!(refused("x = 20", pct).code, Code::WrongKind);
    }

    #[test]
    fn a_ceiling_reads_with_and_without_its_sign() {
        let at_most = |f: &Fields<'_, '_>| f.at_most("x");
        for good in ["x = \"<= 5 °C\"", "x = \"≤ 5 °C\"", "x = \"5 °C\""] {
            assert!(read(good, at_most).0.is_some(), "{good}");
        }
        assert_eq!(refused("x = \">= 5 °C\"", at_most).code, Code::Unreadable);
    }

    #[test]
    fn an_id_with_capitals_is_offered_as_it_should_be() {
        let d = refused("x = \"Fennel Bulb\"", |f| f.own_id("x"));
        assert_eq!(d.did_you_mean.as_deref(), Some("fennel-bulb"));
        assert_eq!(
            refused("x = \"茴香\"", |f| f.own_id("x")).did_you_mean,
            None
        );
    }

    #[test]
    fn a_quoted_text_stays_short_and_on_one_line() {
        assert_eq!(short("a\nb\u{7}"), "a b ");
        assert_eq!(short(&"ä".repeat(61)).chars().count(), 61);
    }
}
