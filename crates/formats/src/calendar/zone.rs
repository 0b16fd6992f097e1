//! The site's zone as VTIMEZONE, and moments as the wall of the site shows them.
//!
//! Each change of the clocks that touches the calendar is written as an observance of its own with the moment it
//! happens, read from the zone's own table. No rule is written: a rule says more about coming years than anybody knows.

use jiff::civil::DateTime;
use jiff::tz::{Dst, Offset, TimeZone, TimeZoneDatabase};
use jiff::{Span, Timestamp};

use super::earlier::Earlier;
use super::entry::{Written, utc};

/// Clock changes written at most: two a year over more years than any calendar holds.
const MOST_CHANGES: usize = 500;

/// The name of a zone as a calendar program knows it; a zone without one is written by its offset.
#[must_use]
pub fn zone_name(zone: &TimeZone) -> String {
    zone.iana_name().map_or_else(
        || format!("offset {}", offset(zone.to_offset(Timestamp::UNIX_EPOCH))),
        str::to_owned,
    )
}

/// What stands after the property name for a moment: `;TZID=…:20270309T110000`, or universal time in the hour the
/// wall shows twice, where a local time would mean its first showing only.
pub(super) fn local(zone: &TimeZone, at: Timestamp) -> String {
    let wall = zone.to_datetime(at);
    if zone.to_timestamp(wall).ok() != Some(at) {
        return format!(":{}", utc(at));
    }
    format!(
        ";TZID={}:{}",
        parameter(&zone_name(zone)),
        wall.strftime("%Y%m%dT%H%M%S")
    )
}

/// A parameter value; one with a colon, semicolon or comma stands in quotes (RFC 5545, 3.2).
fn parameter(text: &str) -> String {
    if text.contains([':', ';', ',']) {
        format!("\"{}\"", text.replace('"', "'"))
    } else {
        text.to_owned()
    }
}

/// The VTIMEZONE of the site, and those of earlier entries that were written in another zone.
pub(super) fn components(
    zone: &TimeZone,
    written: &[Written],
    earlier: Option<&Earlier>,
) -> Vec<Vec<String>> {
    let mut all = Vec::new();
    let mut names: Vec<String> = Vec::new();
    let mut moments: Vec<Timestamp> = Vec::new();
    for line in written.iter().flat_map(|w| &w.content) {
        let Some((name, wall)) = zoned(line) else {
            continue;
        };
        if name == zone_name(zone)
            && let Ok(at) = zone.to_timestamp(wall)
        {
            moments.push(at);
        }
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.sort();
    for name in names {
        if name == zone_name(zone) {
            if let (Some(first), Some(last)) = (moments.iter().min(), moments.iter().max()) {
                all.push(observances(zone, *first, *last));
            }
        } else if let Some(lines) = earlier.and_then(|e| e.zone(&name)) {
            all.push(lines.to_vec());
        }
    }
    all
}

/// The zone and wall time of a line such as `DTSTART;TZID=America/Toronto:20270309T110000`.
pub(super) fn zoned(line: &str) -> Option<(String, DateTime)> {
    let rest = line
        .strip_prefix("DTSTART;TZID=")
        .or_else(|| line.strip_prefix("DTEND;TZID="))?;
    let (name, value) = rest.rsplit_once(':')?;
    let wall = DateTime::strptime("%Y%m%dT%H%M%S", value).ok()?;
    Some((name.trim_matches('"').to_owned(), wall))
}

fn observances(zone: &TimeZone, first: Timestamp, last: Timestamp) -> Vec<String> {
    let mut lines = vec![
        "BEGIN:VTIMEZONE".to_owned(),
        format!("TZID:{}", zone_name(zone)),
    ];
    // A day past both ends: an alarm or the end of a task may lie there.
    let day = Span::new().hours(24);
    let (first, last) = (
        first.checked_sub(day).unwrap_or(first),
        last.checked_add(day).unwrap_or(last),
    );
    // The change before the first entry gives the offset the calendar begins with.
    match zone.preceding(first).next() {
        Some(change) => observance(zone, change.timestamp(), &mut lines),
        None => {
            let info = zone.to_offset_info(first);
            let start = jiff::civil::date(1970, 1, 1).at(0, 0, 0, 0);
            write(
                info.dst(),
                start,
                info.offset(),
                info.offset(),
                info.abbreviation(),
                &mut lines,
            );
        }
    }
    for change in zone
        .following(first)
        .take_while(|c| c.timestamp() <= last)
        .take(MOST_CHANGES)
    {
        observance(zone, change.timestamp(), &mut lines);
    }
    lines.push("END:VTIMEZONE".to_owned());
    lines
}

/// One change of the clocks. Its start is told in the time that held before it (RFC 5545, 3.6.5).
fn observance(zone: &TimeZone, at: Timestamp, lines: &mut Vec<String>) {
    let before = at
        .checked_sub(Span::new().seconds(1))
        .map_or_else(|_| zone.to_offset(at), |t| zone.to_offset(t));
    let info = zone.to_offset_info(at);
    write(
        info.dst(),
        before.to_datetime(at),
        before,
        info.offset(),
        info.abbreviation(),
        lines,
    );
}

fn write(
    dst: Dst,
    start: DateTime,
    from: Offset,
    to: Offset,
    abbreviation: &str,
    lines: &mut Vec<String>,
) {
    let kind = match dst {
        Dst::Yes => "DAYLIGHT",
        Dst::No => "STANDARD",
    };
    lines.extend([
        format!("BEGIN:{kind}"),
        format!("DTSTART:{}", start.strftime("%Y%m%dT%H%M%S")),
        format!("TZOFFSETFROM:{}", offset(from)),
        format!("TZOFFSETTO:{}", offset(to)),
        format!("TZNAME:{abbreviation}"),
        format!("END:{kind}"),
    ]);
}

/// `-0400`; with seconds where a zone has some.
fn offset(offset: Offset) -> String {
    let seconds = offset.seconds();
    let sign = if seconds < 0 { '-' } else { '+' };
    let s = seconds.unsigned_abs();
    let (h, m, s) = (s / 3600, s / 60 % 60, s % 60);
    if s == 0 {
        format!("{sign}{h:02}{m:02}")
    } else {
        format!("{sign}{h:02}{m:02}{s:02}")
    }
}

/// Whether a zone of this name is in the table that comes with the program.
pub(super) fn is_known(name: &str) -> bool {
    TimeZoneDatabase::bundled().get(name).is_ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn toronto() -> TimeZone {
        TimeZoneDatabase::bundled().get("America/Toronto").unwrap()
    }

    fn at(text: &str) -> Timestamp {
        text.parse().unwrap()
    }

    #[test]
    fn both_sides_of_a_spring_change_are_written() {
        // Toronto 2027: the clocks go forward on 14 March at 02:00 (second Sunday of March; tz database, as bundled).
        let lines = observances(
            &toronto(),
            at("2027-02-15T13:00:00Z"),
            at("2027-03-23T16:00:00Z"),
        );
        let text = lines.join("\n");
        assert!(text.contains("BEGIN:STANDARD\nDTSTART:20261101T020000\nTZOFFSETFROM:-0400\nTZOFFSETTO:-0500\nTZNAME:EST"), "{text}");
        assert!(text.contains("BEGIN:DAYLIGHT\nDTSTART:20270314T020000\nTZOFFSETFROM:-0500\nTZOFFSETTO:-0400\nTZNAME:EDT"), "{text}");
        assert_eq!(lines.iter().filter(|l| l.starts_with("DTSTART")).count(), 2);
    }

    #[test]
    fn the_hour_shown_twice_is_told_in_universal_time() {
        let zone = toronto();
        // 1 November 2026, 01:30 in Toronto: first at 05:30Z (EDT), again at 06:30Z (EST).
        assert_eq!(
            local(&zone, at("2026-11-01T05:30:00Z")),
            ";TZID=America/Toronto:20261101T013000"
        );
        assert_eq!(
            local(&zone, at("2026-11-01T06:30:00Z")),
            ":20261101T063000Z"
        );
    }

    #[test]
    fn a_zone_that_never_changes_has_one_observance() {
        let lines = observances(
            &TimeZone::UTC,
            at("2027-02-15T13:00:00Z"),
            at("2027-03-23T16:00:00Z"),
        );
        assert_eq!(
            lines
                .iter()
                .filter(|l| l.starts_with("BEGIN:STANDARD"))
                .count(),
            1
        );
    }
}
