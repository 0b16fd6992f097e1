//! Date marks: day 1 is the day made, the freezer stops the count, and the oldest part decides for all.

use crate::judge::figure::{Finding, row, verdict};
use crate::judge::{Refusal, Terms};
use crate::judgement::{Judgement, Side};
use crate::verdict::Verdict;

/// Days in the freezer: the day it went in and the day it came out both count as used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Frozen {
    /// Day it went in, as a day number.
    pub from_day: i64,
    /// Day it came out; `None` while it is in there.
    pub to_day: Option<i64>,
}

/// One part of a food and when it was made or opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DatedPart {
    /// Its name.
    pub part: String,
    /// Day made or opened, as a day number; `None` where the label is lost.
    pub made_day: Option<i64>,
    /// Times in the freezer, in order.
    pub frozen: Vec<Frozen>,
}

/// Days used by the end of a day, day 1 the day made; `None` where the day made is not known.
///
/// # Errors
/// A day before it was made; freezer days that overlap or run back.
pub fn days_used(part: &DatedPart, day: i64) -> Result<Option<i64>, Refusal> {
    let Some(made) = part.made_day else {
        return Ok(None);
    };
    let wrong = |found: String| Refusal::Terms {
        found: format!("{}: {found}", part.part),
        expected: "made, frozen, thawed and eaten in that order",
    };
    if day < made {
        return Err(wrong(format!(
            "day {day} before day {made}, when it was made"
        )));
    }
    let mut paused = 0;
    let mut before = made;
    for frozen in &part.frozen {
        let to = frozen.to_day.unwrap_or(day);
        if frozen.from_day < before || to < frozen.from_day {
            return Err(wrong(format!(
                "in the freezer from day {} to {to}",
                frozen.from_day
            )));
        }
        let end = to.min(day);
        // Neither the day it went in nor the day it came out is saved; still inside, today is.
        let inside = if frozen.to_day.is_some_and(|t| t <= day) {
            end - frozen.from_day - 1
        } else {
            end - frozen.from_day
        };
        paused += inside.max(0);
        before = to;
    }
    Ok(Some(day - made + 1 - paused))
}

/// A food eaten on a day, with the oldest of its parts; `cold` is the verdict on how it was held, where there is one.
///
/// # Source
/// `datemark.days` (US, read): 7 days at 5 °C or below, the day made is day 1; combined food keeps the earliest date; freezing
/// stops the count.
/// # Errors
/// Days that run back; no parts.
pub fn date_marked(
    terms: &Terms,
    parts: &[DatedPart],
    eaten_day: i64,
    use_by_day: Option<i64>,
    cold: Option<Verdict>,
) -> Result<Judgement, Refusal> {
    let row = row("datemark.days", terms)?;
    let limit = row.value()?;
    if parts.is_empty() {
        return Err(Refusal::Terms {
            found: "a food of no parts".to_owned(),
            expected: "one part or more, each with the day it was made",
        });
    }
    let used = parts
        .iter()
        .map(|p| Ok((p, days_used(p, eaten_day)?)))
        .collect::<Result<Vec<_>, Refusal>>()?;
    let oldest = used
        .iter()
        .filter_map(|(p, days)| Some((p, (*days)?)))
        .max_by_key(|(_, days)| *days);
    let lost = used.iter().find(|(_, days)| days.is_none());
    let past = use_by_day.is_some_and(|d| eaten_day > d);
    let lacking = lost
        .map(|(p, _)| {
            format!(
                "{}: the day it was made is not known; if it cannot be found, discard it",
                p.part
            )
        })
        .or_else(|| {
            (cold != Some(Verdict::Shown)).then(|| {
                "show that it was held cold: judge the fridge's log against cold-hold".to_owned()
            })
        });
    let days = oldest.map(|(_, days)| days as f64);
    let warm = cold == Some(Verdict::Broken);
    Ok(Finding {
        rule: "date-mark",
        asks: format!("eaten by the end of day {limit:.0} at 5 °C or below, day 1 the day the oldest part was made; never past a use-by"),
        verdict: verdict(past || warm || days.is_some_and(|d| d > limit), lacking.as_ref()),
        value: days,
        limit,
        side: Side::AtMost,
        unit: "d",
        base: "days out of the freezer, day made counted as day 1".to_owned(),
        place: oldest.map_or_else(
            || "no date".to_owned(),
            |(p, _)| {
                let why = match (past, warm) {
                    (true, _) => "; past its use-by",
                    (_, true) => "; it was not held cold",
                    _ => "",
                };
                format!("{}, the oldest of {} parts{why}", p.part, parts.len())
            },
        ),
        evidence: Vec::new(),
        mend: "discard it",
        lacking,
    }
    .against(&row))
}
