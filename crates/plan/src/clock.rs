//! Local hours of a site as elapsed minutes, and back: a clock change neither adds nor removes an hour.

use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use kitchen::site::{Hours, Site};
use schedule::{Minute, Span};

use crate::problem::PlanError;

/// Minutes since 1970-01-01T00:00Z of a local hour. An hour shown twice is its first showing.
pub(crate) fn minute(zone: &TimeZone, at: DateTime) -> Result<Minute, PlanError> {
    zone.to_timestamp(at)
        .map(|t| t.as_second().div_euclid(60))
        .map_err(|_| PlanError::Calendar {
            what: at.to_string(),
        })
}

/// The zoned moment of a minute.
pub(crate) fn zoned(zone: &TimeZone, minute: Minute) -> Result<ZonedDateTime, PlanError> {
    Timestamp::from_second(minute * 60)
        .map(|t| t.to_zoned_datetime(zone.clone()))
        .map_err(|_| PlanError::Calendar {
            what: format!("minute {minute}"),
        })
}

/// "Wed 10-06 08:30".
pub(crate) fn wall(zone: &TimeZone, minute: Minute) -> String {
    zoned(zone, minute).map_or_else(
        |_| format!("minute {minute}"),
        |z| z.strftime("%a %m-%d %H:%M").to_string(),
    )
}

/// RFC 3339 with offset and zone name.
pub(crate) fn instant(zone: &TimeZone, minute: Minute) -> String {
    zoned(zone, minute).map_or_else(|_| String::new(), |z| z.to_string())
}

/// The spans of `hours` between two local days, as minutes; `stay` takes the hours one may stay on instead.
pub(crate) fn spans(
    zone: &TimeZone,
    hours: &[Hours],
    first: DateTime,
    last: DateTime,
    stay: bool,
) -> Result<Vec<Span>, PlanError> {
    let mut spans = Vec::new();
    let mut day = first.date();
    while day <= last.date() {
        for h in hours {
            let today = match h.date {
                Some(date) => date == day,
                None => h.days.contains(&day.weekday()),
            };
            let (from, to) = match (stay, h.may_stay_to) {
                (false, _) => (h.from, h.to),
                (true, Some(until)) => (h.to, until),
                (true, None) => continue,
            };
            if today && from < to {
                spans.push(Span {
                    start: minute(zone, day.to_datetime(from))?,
                    end: minute(zone, day.to_datetime(to))?,
                });
            }
        }
        day = day.tomorrow().map_err(|_| PlanError::Calendar {
            what: day.to_string(),
        })?;
    }
    Ok(merged(spans))
}

/// Sorted, disjoint, touching spans joined.
pub(crate) fn merged(mut spans: Vec<Span>) -> Vec<Span> {
    spans.retain(|s| s.start < s.end);
    spans.sort_by_key(|s| (s.start, s.end));
    let mut out: Vec<Span> = Vec::new();
    for s in spans {
        match out.last_mut() {
            Some(last) if s.start <= last.end => last.end = last.end.max(s.end),
            _ => out.push(s),
        }
    }
    out
}

/// Where two sets of spans meet.
pub(crate) fn meet(a: &[Span], b: &[Span]) -> Vec<Span> {
    let mut out = Vec::new();
    for x in a {
        for y in b {
            let (start, end) = (x.start.max(y.start), x.end.min(y.end));
            if start < end {
                out.push(Span { start, end });
            }
        }
    }
    merged(out)
}

/// Opening hours of a site between two local days, extra hours of the event counted.
pub(crate) fn open(
    site: &Site,
    extra: &[Hours],
    first: DateTime,
    last: DateTime,
) -> Result<Vec<Span>, PlanError> {
    let mut all = spans(&site.zone, &site.open, first, last, false)?;
    all.extend(spans(&site.zone, extra, first, last, false)?);
    Ok(merged(all))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn fourteen_days_over_the_spring_change_are_335_hours() {
        let zone = jiff::tz::TimeZoneDatabase::bundled()
            .get("America/Toronto")
            .unwrap();
        let hang = minute(&zone, date(2027, 3, 9).at(11, 0, 0, 0)).unwrap();
        let taste = minute(&zone, date(2027, 3, 23).at(11, 0, 0, 0)).unwrap();
        assert_eq!(taste - hang, 335 * 60);
        let by_days = hang + 14 * 24 * 60;
        assert_eq!(wall(&zone, by_days), "Tue 03-23 12:00");
    }
}
