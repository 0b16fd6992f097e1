//! An hour of the wall's clock, and the zone it hangs in.

use book::did_you_mean;
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::{AmbiguousOffset, TimeZone, TimeZoneDatabase};
use plan::ask::Refusal;

/// A zone by its name, from the table built in: the same on every machine.
pub(super) fn zone(entry: &str, name: &str) -> Result<TimeZone, Refusal> {
    let known = TimeZoneDatabase::bundled();
    known.get(name.trim()).map_err(|_| {
        let names: Vec<String> = known.available().map(|n| n.to_string()).collect();
        let hint = did_you_mean(name.trim(), names.iter().map(String::as_str)).map_or_else(
            || "write one of the IANA table".to_owned(),
            |n| format!("did you mean {n}?"),
        );
        Refusal::new(
            format!("{entry}: found no zone \"{name}\""),
            "a zone such as America/Toronto or Europe/Paris",
            hint,
        )
    })
}

/// "2027-10-05 10:10", and of an hour the clock shows twice which: "2027-11-07 01:30 second".
pub(super) fn read(entry: &str, text: &str, zone: &TimeZone) -> Result<Timestamp, Refusal> {
    let text = text.trim();
    let (hour, which) = match text.rsplit_once(' ') {
        Some((hour, "first")) => (hour, Some(false)),
        Some((hour, "second")) => (hour, Some(true)),
        _ => (text, None),
    };
    let wrong = || {
        Refusal::new(
            format!("{entry}: found \"{text}\""),
            "a date and an hour such as 2027-10-05 10:10",
            "write both, the year first",
        )
    };
    // A bare date would be taken for midnight.
    if !hour.contains(':') {
        return Err(wrong());
    }
    let at: DateTime = hour.parse().map_err(|_| wrong())?;
    let ambiguous = zone.to_ambiguous_timestamp(at);
    let found = match (ambiguous.offset(), which) {
        (AmbiguousOffset::Gap { .. }, _) => {
            return Err(Refusal::new(
                format!("{entry}: found {hour}, an hour the clocks skip there"),
                "an hour the clock shows",
                "write the hour after the change",
            ));
        }
        (AmbiguousOffset::Fold { .. }, None) => {
            return Err(Refusal::new(
                format!("{entry}: found {hour}, an hour the clock shows twice there"),
                "which of the two",
                format!("write \"{hour} first\" or \"{hour} second\""),
            ));
        }
        (AmbiguousOffset::Fold { .. }, Some(true)) => ambiguous.later(),
        (AmbiguousOffset::Fold { .. }, Some(false)) => ambiguous.earlier(),
        (AmbiguousOffset::Unambiguous { .. }, _) => ambiguous.unambiguous(),
    };
    found.map_err(|_| wrong())
}
