//! Words in headings: what they say about a column and its unit.
//!
//! The words are common practice, no source; what they do not settle is asked, never guessed.

use safety::history::Quantity;

/// The unit a heading, a units row or a cell names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unit {
    Celsius,
    Fahrenheit,
    Kelvin,
    Percent,
    Ph,
    Gram,
    Kilogram,
}

impl Unit {
    /// What is measured in this unit, as far as the unit alone says; percent alone says too little.
    pub(crate) fn quantity(self) -> Option<Quantity> {
        match self {
            Self::Celsius | Self::Fahrenheit | Self::Kelvin => Some(Quantity::TemperatureC),
            Self::Ph => Some(Quantity::Ph),
            Self::Gram | Self::Kilogram => Some(Quantity::WeightG),
            Self::Percent => None,
        }
    }
}

/// A unit standing alone: in a cell of a units row, in brackets, behind a value.
pub(crate) fn unit(text: &str) -> Option<Unit> {
    let text = text
        .trim()
        .trim_matches(['(', ')', '[', ']'])
        .trim()
        .to_lowercase();
    match text.as_str() {
        "°c" | "ºc" | "° c" | "℃" | "c" | "degc" | "deg c" | "deg. c" | "celsius"
        | "degrees celsius" | "degrees c" => Some(Unit::Celsius),
        "°f" | "ºf" | "° f" | "℉" | "f" | "degf" | "deg f" | "deg. f" | "fahrenheit"
        | "degrees fahrenheit" | "degrees f" => Some(Unit::Fahrenheit),
        "k" | "kelvin" => Some(Unit::Kelvin),
        "%" | "%rh" | "% rh" | "rh%" | "rh %" | "%rf" | "% rf" | "%hr" | "% hr" | "%r.h."
        | "percent" => Some(Unit::Percent),
        "ph" => Some(Unit::Ph),
        "g" => Some(Unit::Gram),
        "kg" => Some(Unit::Kilogram),
        _ => None,
    }
}

/// The words of a heading in lower case; `TempC` is two words.
pub(crate) fn words(heading: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word = String::new();
    let mut was_lower = false;
    for c in heading.chars() {
        let fits = c.is_alphanumeric() || matches!(c, '°' | 'º' | '%' | '℃' | '℉' | '#');
        let camel = was_lower && c.is_uppercase() && word != "p";
        if (!fits || camel || matches!(c, '°' | 'º' | '%')) && !word.is_empty() {
            words.push(std::mem::take(&mut word));
        }
        if fits {
            word.extend(c.to_lowercase());
        }
        was_lower = c.is_lowercase();
    }
    if !word.is_empty() {
        words.push(word);
    }
    words
}

fn any(words: &[String], listed: &[&str]) -> bool {
    words.iter().any(|word| {
        let bare = word.trim_end_matches(|c: char| c.is_ascii_digit());
        listed.contains(&bare)
    })
}

/// Whether a heading speaks of date or time.
pub(crate) fn says_time(heading: &str) -> bool {
    any(
        &words(heading),
        &[
            "time",
            "timestamp",
            "stamp",
            "date",
            "datetime",
            "clock",
            "epoch",
            "unix",
            "zeit",
            "datum",
            "uhrzeit",
            "zeitstempel",
            "zeitpunkt",
            "fecha",
            "hora",
            "heure",
            "horodatage",
            "data",
            "ora",
            "tijd",
            "tijdstip",
        ],
    )
}

/// Whether a heading speaks of time run rather than time of day.
pub(crate) fn says_elapsed(heading: &str) -> bool {
    any(
        &words(heading),
        &["elapsed", "duration", "runtime", "dauer", "laufzeit"],
    )
}

/// Whether a heading names something near a reading that is not one: a limit, a battery.
fn says_aside(words: &[String]) -> bool {
    any(
        words,
        &[
            "battery",
            "batt",
            "voltage",
            "signal",
            "rssi",
            "dew",
            "dewpoint",
            "setpoint",
            "set",
            "limit",
            "alarm",
            "threshold",
            "status",
            "event",
            "serial",
            "interval",
            "index",
            "batterie",
            "taupunkt",
            "sollwert",
            "grenzwert",
        ],
    )
}

fn says_temperature(words: &[String]) -> bool {
    any(
        words,
        &[
            "temp",
            "temps",
            "temperature",
            "temperatur",
            "temperatura",
            "température",
            "temperatuur",
            "tmp",
            "celsius",
            "fahrenheit",
        ],
    )
}

/// What a heading measures, and its unit; nothing where the words do not say.
///
/// A lone letter is a unit only in brackets, behind a degree sign, or beside a word for temperature.
pub(crate) fn measures(heading: &str) -> (Option<Quantity>, Option<Unit>) {
    let list = words(heading);
    if says_aside(&list) || says_elapsed(heading) {
        return (None, None);
    }
    let unit = unit_in(heading, &list);
    let humid = any(
        &list,
        &[
            "humidity",
            "humid",
            "hum",
            "rh",
            "feuchte",
            "feuchtigkeit",
            "luftfeuchte",
            "luftfeuchtigkeit",
            "humedad",
            "humidité",
            "umidità",
            "hygro",
        ],
    );
    let quantity = if humid {
        Some(Quantity::HumidityPct)
    } else if any(&list, &["ph"]) {
        Some(Quantity::Ph)
    } else if says_temperature(&list) {
        Some(Quantity::TemperatureC)
    } else if any(&list, &["weight", "mass", "gewicht", "peso", "poids"]) {
        Some(Quantity::WeightG)
    } else {
        unit.and_then(Unit::quantity)
    };
    let fits = |unit: &Unit| unit.quantity().is_none_or(|of| Some(of) == quantity);
    (quantity, unit.filter(fits))
}

fn unit_in(heading: &str, list: &[String]) -> Option<Unit> {
    let bracketed = heading.rfind(['(', '[']).and_then(|open| {
        heading[open + 1..]
            .find([')', ']'])
            .map(|n| &heading[open + 1..open + 1 + n])
    });
    if let Some(found) = bracketed.and_then(unit) {
        return Some(found);
    }
    if let Some(found) = unit(heading) {
        return Some(found);
    }
    if list
        .iter()
        .any(|w| matches!(w.as_str(), "°c" | "ºc" | "℃" | "degc" | "celsius"))
    {
        return Some(Unit::Celsius);
    }
    if list
        .iter()
        .any(|w| matches!(w.as_str(), "°f" | "ºf" | "℉" | "degf" | "fahrenheit"))
    {
        return Some(Unit::Fahrenheit);
    }
    let (last, before) = list.split_last()?;
    let behind_degree = before
        .last()
        .is_some_and(|w| matches!(w.as_str(), "°" | "º" | "deg"));
    let behind_slash = heading.trim_end().len() > 2
        && heading
            .trim_end()
            .to_lowercase()
            .ends_with(&format!("/{last}"));
    if (behind_degree || behind_slash || says_temperature(before))
        && let found @ Some(Unit::Celsius | Unit::Fahrenheit | Unit::Kelvin) = unit(last)
    {
        return found;
    }
    let weighed = before
        .iter()
        .any(|w| matches!(w.as_str(), "weight" | "mass" | "gewicht"));
    match last.as_str() {
        "g" if weighed || behind_slash => Some(Unit::Gram),
        "kg" => Some(Unit::Kilogram),
        "%" => Some(Unit::Percent),
        _ => None,
    }
}

/// Whether the last letter of a heading numbers its columns: `Temp C` beside `Temp A` and `Temp B`.
pub(crate) fn letter_numbers(heading: &str, all: &[String]) -> bool {
    if heading.contains(['(', '[', '°', 'º', '/']) {
        return false;
    }
    let own = words(heading);
    let Some((letter, stem)) = own.split_last() else {
        return false;
    };
    letter.len() == 1
        && all.iter().any(|other| {
            let other = words(other);
            other.split_last().is_some_and(|(last, rest)| {
                rest == stem && last.len() == 1 && matches!(last.as_str(), "a" | "b" | "d" | "e")
            })
        })
}

/// The fixed offset a heading names, seconds east of UTC: `Date Time, GMT+01:00`, `Time (UTC)`.
pub(crate) fn offset_in(heading: &str) -> Option<i32> {
    let lower = heading.to_ascii_lowercase();
    let at = lower.find("utc").or_else(|| lower.find("gmt"))?;
    let name = &lower[at..at + 3];
    let digits: String = lower[at + 3..]
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, ' ' | '+' | '-' | ':'))
        .collect();
    crate::stamp::named_offset(&format!("{name}{}", digits.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_name_quantity_and_unit() {
        use Quantity::{HumidityPct, Ph, TemperatureC, WeightG};
        for (heading, quantity, unit) in [
            ("Temp_C", Some(TemperatureC), Some(Unit::Celsius)),
            ("TempF", Some(TemperatureC), Some(Unit::Fahrenheit)),
            (
                "Temperature (°F)",
                Some(TemperatureC),
                Some(Unit::Fahrenheit),
            ),
            ("Core probe [degC]", Some(TemperatureC), Some(Unit::Celsius)),
            ("Ch1 °C", Some(TemperatureC), Some(Unit::Celsius)),
            ("T1/°C", Some(TemperatureC), Some(Unit::Celsius)),
            ("Temp. in C", Some(TemperatureC), Some(Unit::Celsius)),
            ("Temperature", Some(TemperatureC), None),
            ("pH", Some(Ph), Some(Unit::Ph)),
            ("pH1", Some(Ph), None),
            ("RH %", Some(HumidityPct), Some(Unit::Percent)),
            ("Humidity", Some(HumidityPct), None),
            ("Weight (g)", Some(WeightG), Some(Unit::Gram)),
            ("Battery %", None, None),
            ("Dew point (°C)", None, None),
            ("Channel C", None, None),
            ("Probe 1", None, None),
        ] {
            assert_eq!(measures(heading), (quantity, unit), "{heading}");
        }
    }

    #[test]
    fn a_letter_in_a_row_of_letters_is_no_unit() {
        let all = ["Temp A", "Temp B", "Temp C"].map(String::from);
        assert!(letter_numbers("Temp C", &all));
        assert!(!letter_numbers("Temp (C)", &all));
    }

    #[test]
    fn a_heading_may_name_its_offset() {
        assert_eq!(offset_in("Date Time, GMT+01:00"), Some(3600));
        assert_eq!(offset_in("Timestamp (UTC)"), Some(0));
        assert_eq!(offset_in("UTC time"), Some(0));
        assert_eq!(offset_in("Timestamp"), None);
    }
}
