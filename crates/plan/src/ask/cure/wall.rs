//! The window of a cure by the wall's clock: OUT at an hour, whatever the clocks do in between.

use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp, ZonedDateTime};
use science::transport::Window;
use sources::list;
use units::Elapsed;

use crate::ask::picture::lasts;
use crate::ask::refusal::Refusal;
use crate::ask::sheet::Sheet;
use crate::figures::{Figure, Value};

/// When it went in, where, and what hour it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// The zone of the kitchen.
    pub zone: TimeZone,
    /// Its name: "America/Toronto".
    pub zone_name: String,
    /// When it went in.
    pub into: Timestamp,
    /// The hour it is, where somebody said.
    pub now: Option<Timestamp>,
}

/// What the clock adds to the answer.
pub(super) struct Told {
    pub(super) answer: String,
    pub(super) limit: String,
    pub(super) rows: Vec<String>,
    /// Whether it is past its latest now.
    pub(super) late: bool,
}

const ELAPSED: &str =
    "counted in elapsed time: a change of the clocks moves the hour, not the wait";

impl Wall {
    /// The hour so long after it went in, on a whole minute: `up` for one not to come before, down for one
    /// not to come after.
    fn after(&self, time: Elapsed, up: bool) -> Result<ZonedDateTime, Refusal> {
        let seconds = time.seconds();
        let minutes = if up {
            seconds.div_euclid(60) + i64::from(seconds.rem_euclid(60) > 0)
        } else {
            seconds.div_euclid(60)
        };
        let at = self
            .into
            .checked_add(SignedDuration::from_mins(minutes))
            .map_err(|_| {
                Refusal::new(
                    "--in: found an hour too far ahead",
                    "one of this century",
                    "check the year",
                )
            })?;
        Ok(at.to_zoned_datetime(self.zone.clone()))
    }
}

/// OUT, earliest, latest and slack as hours, and where now lies between them.
pub(super) fn told(wall: &Wall, found: &Window, sheet: &mut Sheet) -> Result<Told, Refusal> {
    let into = wall.into.to_zoned_datetime(wall.zone.clone());
    sheet.figures.put(Figure {
        id: "zone".to_owned(),
        value: Value::Word(wall.zone_name.clone()),
        unit: String::new(),
        base: None,
        from: Vec::new(),
        formula: String::new(),
        source: sources::Citation::whole(&list::ENTERED).to_string(),
        places: 0,
    });
    sheet.hour("in", &into, "", &[]);
    let earliest = wall.after(found.earliest, true)?;
    let latest = found
        .latest
        .map(|latest| wall.after(latest, false))
        .transpose()?;
    let mut out = wall.after(found.best, true)?;
    if let Some(latest) = &latest {
        out = out.min(latest.clone());
    }
    let by = |what: &str| format!("in + {what}, {ELAPSED}");
    sheet.hour("out", &out, &by("best"), &["in", "best", "zone"]);
    let from = ["in", "earliest", "zone"];
    let formula = by("earliest, up to the whole minute");
    sheet.hour("earliest.at", &earliest, &formula, &from);
    let mut limit = vec![format!("earliest {}", sheet.show("earliest.at"))];
    match &latest {
        Some(latest) => {
            let formula = by("latest, down to the whole minute");
            sheet.hour("latest.at", latest, &formula, &["in", "latest", "zone"]);
            let slack = elapsed(out.timestamp(), latest.timestamp())?;
            lasts(
                sheet,
                "out.slack",
                slack,
                "latest − OUT, elapsed",
                &["out", "latest.at"],
            );
            limit.push(format!(
                "latest {}, slack {}",
                sheet.show("latest.at"),
                sheet.show("out.slack")
            ));
        }
        None => limit.push("no latest".to_owned()),
    }
    let mut late = false;
    if let Some(now) = wall.now {
        late = latest.as_ref().is_some_and(|l| now > l.timestamp());
        if now < wall.into {
            return Err(Refusal::new(
                format!(
                    "--now: found {}, before it went in",
                    now.to_zoned_datetime(wall.zone.clone())
                        .strftime("%Y-%m-%d %H:%M")
                ),
                "an hour after --in",
                "check both",
            ));
        }
        let at = now.to_zoned_datetime(wall.zone.clone());
        sheet.hour("now", &at, "", &[]);
        let since = elapsed(wall.into, now)?;
        lasts(sheet, "now.in", since, "now − in, elapsed", &["now", "in"]);
        let how = if now < earliest.timestamp() {
            "not yet"
        } else if late {
            "TOO LATE"
        } else {
            "it may come out"
        };
        limit.push(format!(
            "now {}, in for {}: {how}",
            sheet.show("now"),
            sheet.show("now.in")
        ));
    }
    let mut rows = vec![format!("in since {}, {}", sheet.show("in"), wall.zone_name)];
    let moved = f64::from(out.offset().seconds() - into.offset().seconds()) / 3600.0;
    if moved != 0.0 {
        let formula = "offset from UTC at OUT − at in";
        sheet.worked(
            "clocks",
            moved.abs(),
            "h",
            super::places_of(moved.abs()),
            formula,
            &["out", "in"],
        );
        let way = if moved > 0.0 { "forward" } else { "back" };
        rows.push(format!(
            "the clocks go {way} {} in between: the wait is elapsed time and stays as it is",
            sheet.show("clocks")
        ));
    }
    rows.push(String::new());
    Ok(Told {
        answer: format!("OUT {}", sheet.show("out")),
        limit: limit.join(", "),
        rows,
        late,
    })
}

fn elapsed(from: Timestamp, to: Timestamp) -> Result<Elapsed, Refusal> {
    Ok(Elapsed::from_seconds(to.as_second() - from.as_second())?)
}
