//! A record somebody kept by hand: what was started, done and weighed, one row each.

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use plan::happened::{Fact, What};

use super::columns::{Columns, may, must};
use crate::refusal::{Refusal, quoted};
use crate::table::{Row, Table};

/// Words of the column `what`.
const WORDS: &str = "started, done or weighed";

/// The facts of a record. `when` is an hour of the site's wall, or one with its offset; `reading` and `unit` are for what
/// was weighed. What the facts are about is held against the plan later ([`plan::happened::Happened::on`]).
///
/// # Errors
/// Headings that are missing or unknown, and every row with a cell that is not what its column holds.
pub fn record(table: &Table, zone: &TimeZone) -> Result<Vec<Fact>, Vec<Refusal>> {
    let columns = Columns::of(
        table,
        &[
            must("when"),
            must("component"),
            may("step"),
            must("what"),
            may("reading"),
            may("unit"),
            may("note"),
        ],
    )?;
    let mut facts = Vec::new();
    let mut wrong = Vec::new();
    for row in &table.rows {
        match fact(&columns, row, zone) {
            Ok(fact) => facts.push(fact),
            Err(refusal) => wrong.push(refusal),
        }
    }
    if wrong.is_empty() {
        Ok(facts)
    } else {
        Err(wrong)
    }
}

fn fact(columns: &Columns, row: &Row, zone: &TimeZone) -> Result<Fact, Refusal> {
    let when = moment(&columns.need(row, "when")?, zone).map_err(|(found, expected, do_now)| {
        Refusal::at(row.at, "when", found, expected, do_now)
    })?;
    let component = columns.need(row, "component")?;
    let step = columns.words(row, "step")?.unwrap_or_default();
    let word = columns.need(row, "what")?;
    let (reading, unit) = (
        columns.decimal(row, "reading")?,
        columns.words(row, "unit")?,
    );
    let what = match word.as_str() {
        "started" => What::Started,
        "done" => What::Done,
        "weighed" => weight(row, reading, unit.as_deref())?,
        _ => {
            return Err(Refusal::at(
                row.at,
                "what",
                format!("\"{}\"", quoted(&word)),
                WORDS,
                "write one of them; temperatures and pH belong to the record of readings, not to the clock",
            ));
        }
    };
    if !matches!(what, What::Weighed { .. }) && (reading.is_some() || unit.is_some()) {
        return Err(Refusal::at(
            row.at,
            "reading",
            format!("a reading beside \"{word}\""),
            "a reading only where something was weighed",
            "give the weight a row of its own with `weighed`, or take it out",
        ));
    }
    Ok(Fact {
        at: format!("row {}", row.at),
        when,
        component,
        step,
        what,
    })
}

fn weight(row: &Row, reading: Option<units::Decimal>, unit: Option<&str>) -> Result<What, Refusal> {
    let Some(reading) = reading else {
        return Err(Refusal::at(
            row.at,
            "reading",
            "weighed, and no weight",
            "the number the scale showed",
            "write it, or take the row out",
        ));
    };
    let Some(unit) = unit else {
        return Err(Refusal::at(
            row.at,
            "unit",
            format!("{reading} without a unit"),
            "g, kg, oz or lb",
            "write what the scale was set to",
        ));
    };
    units::read_mass(&format!("{reading} {unit}"))
        .map(units::Mass::g)
        .ok()
        .filter(|g| *g > 0.0)
        .map(|g| What::Weighed { g })
        .ok_or_else(|| {
            Refusal::at(
                row.at,
                "reading",
                format!("{reading} {}", quoted(unit)),
                "a weight above zero in g, kg, oz or lb",
                "weigh again",
            )
        })
}

/// An hour as a wall shows it, or with its offset; what the wall shows twice or never is refused.
///
/// # Errors
/// What was found, what was expected, what to do now.
pub fn moment(
    text: &str,
    zone: &TimeZone,
) -> Result<Timestamp, (String, &'static str, &'static str)> {
    const EXPECTED: &str = "a local date and hour, such as 2027-10-05T13:30";
    let text = text.trim();
    let bare = !text.contains(['Z', 'z', '+', '[']) && text.matches('-').count() <= 2;
    if !bare {
        return text.parse::<Timestamp>().map_err(|_| {
            (
                format!("\"{}\"", quoted(text)),
                EXPECTED,
                "write year-month-day, a T, and the hour; an offset such as -04:00 may follow",
            )
        });
    }
    let has_hour = text.contains([':']);
    let at = text
        .parse::<DateTime>()
        .ok()
        .filter(|_| has_hour)
        .ok_or_else(|| {
            (
                format!("\"{}\"", quoted(text)),
                EXPECTED,
                "write year-month-day, a T, and the hour",
            )
        })?;
    zone.to_ambiguous_timestamp(at).unambiguous().map_err(|_| {
        (
            format!(
                "{}, which the wall shows twice or not at all: the clocks change then",
                quoted(text)
            ),
            "an hour that is there once, or one with its offset, such as 2027-11-07T01:30-04:00",
            "write the offset",
        )
    })
}
