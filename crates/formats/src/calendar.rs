//! A plan as iCalendar: tasks, deliveries, order cut-offs and discard dates, for the calendar people have.
//!
//! # Method
//! Every entry has a UID made of the site, the event and what the entry stands for, so the same task has the same
//! UID in every plan. Given the calendar of an earlier plan, an entry that is the same to the letter keeps
//! its SEQUENCE and LAST-MODIFIED, one that differs gets the next SEQUENCE, and one that is gone stays in the file as
//! CANCELLED: a calendar program that has the earlier one updates what it has and adds nothing twice.
//!
//! The writer is our own and small. The general crate for iCalendar (0.17) brings a second time library and takes
//! its zones from it; what is hard here, observances read from the zone itself and sequences carried from plan to plan,
//! would be ours to write all the same.
//!
//! # Source
//! RFC 5545, from memory: content lines folded at 75 octets (3.1), TEXT escaped (3.3.11), VTIMEZONE (3.6.5), VALARM
//! (3.6.6), UID, SEQUENCE, LAST-MODIFIED, DTSTAMP (3.8.4.7, 3.8.7). No METHOD is written: RFC 5546 asks an
//! ORGANIZER of it, and a kitchen's plan has no address.

mod earlier;
mod entry;
mod lines;
mod planned;
mod zone;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use plan::Plan;

pub use earlier::{Earlier, MOST_BYTES};
pub use entry::{Alarm, Entry, When};
pub use lines::{escape, fold, unescape, unfold};
pub(crate) use planned::latest_start;
pub use planned::{OutOfCalendar, entries};
pub use zone::zone_name;

use entry::Written;

/// Who wrote the calendar.
const PRODUCT: &str = "-//Saltern//Saltern 0.1//EN";

/// What a calendar brought that the earlier one did not have.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Told {
    /// Entries that are new.
    pub new: usize,
    /// Entries that differ from the earlier ones.
    pub changed: usize,
    /// Entries that are the same.
    pub same: usize,
    /// Entries that are gone, told as cancelled.
    pub cancelled: usize,
}

/// The calendar of a plan, and what moved against the earlier one.
///
/// `printed` is the moment it is dated. The text has CRLF line ends.
///
/// # Errors
/// [`OutOfCalendar`] when an hour of the plan lies outside the years a calendar can hold.
pub fn write(
    plan: &Plan,
    printed: Timestamp,
    earlier: Option<&Earlier>,
) -> Result<(String, Told), OutOfCalendar> {
    let zone = &plan.scene.site.zone;
    let entries = entries(plan)?;
    Ok(calendar(
        &plan.scene.event.name,
        zone,
        &entries,
        printed,
        earlier,
    ))
}

/// What ends every UID of the event of a plan.
#[must_use]
pub fn belongs_to(plan: &Plan) -> String {
    planned::domain(plan)
}

/// A calendar of entries.
#[must_use]
pub fn calendar(
    name: &str,
    zone: &TimeZone,
    entries: &[Entry],
    printed: Timestamp,
    earlier: Option<&Earlier>,
) -> (String, Told) {
    let mut told = Told::default();
    let mut written: Vec<Written> = Vec::new();
    for entry in entries {
        let content = entry.content(zone);
        let before = earlier.and_then(|e| e.entry(&entry.uid));
        written.push(match before {
            None => {
                told.new += 1;
                Written::new(&entry.uid, content, 0, printed)
            }
            Some(before) if before.content == content => {
                told.same += 1;
                before.clone()
            }
            Some(before) => {
                told.changed += 1;
                Written::new(&entry.uid, content, before.sequence + 1, printed)
            }
        });
    }
    if let Some(earlier) = earlier {
        for before in earlier.entries() {
            if entries.iter().any(|e| e.uid == before.uid) {
                continue;
            }
            // What was cancelled before stays told: whoever skipped that calendar learns it from this one.
            if before.is_cancelled() {
                told.same += 1;
                written.push(before.clone());
            } else {
                told.cancelled += 1;
                written.push(before.cancelled(printed));
            }
        }
    }
    let mut out = String::new();
    let mut line = |text: &str| out.push_str(&fold(text));
    line("BEGIN:VCALENDAR");
    line("VERSION:2.0");
    line(&format!("PRODID:{PRODUCT}"));
    line("CALSCALE:GREGORIAN");
    line(&format!("NAME:{}", escape(name)));
    let zones = zone::components(zone, &written, earlier);
    for text in zones.iter().flatten() {
        line(text);
    }
    for entry in &written {
        for text in entry.lines() {
            line(&text);
        }
    }
    line("END:VCALENDAR");
    (out, told)
}
