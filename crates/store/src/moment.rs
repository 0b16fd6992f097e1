//! When something happened: an instant and the zone its clock was in.

use jiff::Timestamp;
use jiff::ZonedDateTime;
use jiff::fmt::temporal::DateTimePrinter;
use jiff::tz::TimeZone;

use crate::error::{Error, Refusal};

/// Fixed width, so that the order of the texts is the order of the instants.
const PRINTER: DateTimePrinter = DateTimePrinter::new().precision(Some(9));

/// First year taken, as in a book.
pub const FIRST_YEAR: i16 = 2000;
/// Last year taken, as in a book.
pub const LAST_YEAR: i16 = 2199;

/// A moment: the instant, and the zone of the kitchen's clock by its IANA name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moment {
    at: Timestamp,
    zone: String,
}

impl Moment {
    /// A moment from an instant and a zone such as `America/Toronto` or `UTC`.
    ///
    /// # Errors
    /// When nobody knows the zone, or the year is not between 2000 and 2199.
    pub fn new(at: Timestamp, zone: &str) -> Result<Self, Refusal> {
        if TimeZone::get(zone).is_err() {
            return Err(Refusal {
                what: "the time zone",
                found: format!("{zone:?}"),
                expected: "a name of the IANA list, such as \"America/Toronto\"".to_owned(),
                do_now: "use the zone of the site",
            });
        }
        let year = at.to_zoned_datetime(TimeZone::UTC).year();
        if !(FIRST_YEAR..=LAST_YEAR).contains(&year) {
            return Err(Refusal {
                what: "the moment",
                found: at.to_string(),
                expected: format!("a year from {FIRST_YEAR} to {LAST_YEAR}"),
                do_now: "set the clock of the device",
            });
        }
        Ok(Self {
            at,
            zone: zone.to_owned(),
        })
    }

    /// The instant.
    #[must_use]
    pub fn instant(&self) -> Timestamp {
        self.at
    }

    /// The zone's name.
    #[must_use]
    pub fn zone(&self) -> &str {
        &self.zone
    }

    /// The moment on the clock of its zone; `None` where this machine does not know the zone.
    #[must_use]
    pub fn on_the_clock(&self) -> Option<ZonedDateTime> {
        TimeZone::get(&self.zone)
            .ok()
            .map(|zone| self.at.to_zoned_datetime(zone))
    }

    /// The instant as it is stored and hashed: UTC, nine decimals.
    pub(crate) fn text(&self) -> String {
        instant_text(self.at)
    }

    pub(crate) fn stored(at: &str, zone: String) -> Result<Self, Error> {
        let at = at
            .parse()
            .map_err(|_| Error::damaged(format!("{at:?} where a moment should stand")))?;
        Ok(Self { at, zone })
    }
}

/// An instant in fixed width.
pub(crate) fn instant_text(at: Timestamp) -> String {
    PRINTER.timestamp_to_string(&at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_order_is_time_order_and_nothing_is_lost() {
        let base: Timestamp = "2027-10-07T16:30:00Z".parse().unwrap();
        let texts: Vec<String> = [0_i64, 1, 999, 1_000_000, 500_000_000, 1_000_000_000]
            .iter()
            .map(|ns| base + jiff::SignedDuration::from_nanos(*ns))
            .map(|at| Moment::new(at, "America/Toronto").unwrap())
            .map(|m| {
                assert_eq!(Moment::stored(&m.text(), m.zone.clone()).unwrap(), m);
                m.text()
            })
            .collect();
        assert_eq!(texts[0], "2027-10-07T16:30:00.000000000Z");
        assert!(texts.is_sorted());
    }

    #[test]
    fn no_such_zone_and_no_such_year() {
        let at: Timestamp = "2027-10-07T16:30:00Z".parse().unwrap();
        assert!(Moment::new(at, "Mars/Olympus").is_err());
        assert!(Moment::new(Timestamp::UNIX_EPOCH, "UTC").is_err());
    }
}
