//! Moments as the clock on the wall has them.

use jiff::{Timestamp, ZonedDateTime};
use plan::Plan;

use crate::tongue::moment;

/// A minute of the plan in the zone of its site.
pub(crate) fn zoned(plan: &Plan, minute: i64) -> Option<ZonedDateTime> {
    Some(
        Timestamp::from_second(minute.checked_mul(60)?)
            .ok()?
            .to_zoned_datetime(plan.scene.site.zone.clone()),
    )
}

/// A minute in a form of `strftime`.
pub(crate) fn wall(plan: &Plan, minute: i64, form: &str) -> String {
    zoned(plan, minute).map_or_else(String::new, |z| moment(&z, form))
}

/// "08:30" on `day`, "Wed 08:30" on another.
pub(crate) fn hour(plan: &Plan, minute: i64, day: i64) -> String {
    let same = wall(plan, minute, "%F") == wall(plan, day, "%F");
    wall(plan, minute, if same { "%H:%M" } else { "%a %H:%M" })
}

/// The moment for programs, for `<time datetime>`.
pub(crate) fn machine(plan: &Plan, minute: i64) -> String {
    wall(plan, minute, "%Y-%m-%dT%H:%M:%S%:z")
}

/// Minutes in words: "3 h 20 min".
pub(crate) fn span(minutes: i64) -> String {
    units::Elapsed::from_seconds(minutes.saturating_mul(60))
        .map_or_else(|_| format!("{minutes} min"), |e| e.to_string())
}
