//! Which column is what, and in which unit; what is not plain is asked.

use safety::history::Quantity;

use crate::Options;
use crate::sheet::{Sheet, ask_columns, numbered, same_name};
use crate::stamp::{self, Stamp};
use crate::text::{cells, is_idle};
use crate::told::{Kind, Problem, Remark, shown};
use crate::words::{self, Unit};

/// Where a row says when it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum When {
    /// One column.
    One(usize),
    /// A column of dates, a column of clocks.
    Two { date: usize, clock: usize },
}

/// A column that is read.
#[derive(Debug, Clone)]
pub(crate) struct Taken {
    pub(crate) index: usize,
    pub(crate) name: String,
    pub(crate) quantity: Quantity,
    /// The unit the file names; for temperature `None` until asked or given.
    pub(crate) unit: Option<Unit>,
}

#[derive(Debug)]
pub(crate) struct Columns {
    pub(crate) when: When,
    pub(crate) taken: Vec<Taken>,
    /// Fixed offset from the heading of the time column, seconds east of UTC.
    pub(crate) offset_s: Option<i32>,
}

/// Rows looked at to see which columns hold stamps.
const LOOKED_AT: usize = 50;

/// What the first rows of each column hold.
struct Content {
    full: usize,
    epoch: usize,
    date: usize,
    clock: usize,
}

fn contents(sheet: &Sheet, lines: &[&str]) -> Vec<Content> {
    let mut seen: Vec<Content> = sheet
        .names
        .iter()
        .map(|_| Content {
            full: 0,
            epoch: 0,
            date: 0,
            clock: 0,
        })
        .collect();
    let rows = lines[sheet.first.min(lines.len())..]
        .iter()
        .filter(|line| !is_idle(line))
        .take(LOOKED_AT);
    for line in rows {
        for (cell, content) in cells(line, sheet.separator)
            .unwrap_or_default()
            .iter()
            .zip(&mut seen)
        {
            match stamp::read(cell) {
                Some(Stamp::Full { .. }) => content.full += 1,
                Some(Stamp::Epoch { .. }) => content.epoch += 1,
                Some(Stamp::Date(_)) => content.date += 1,
                Some(Stamp::Clock(_)) => content.clock += 1,
                None => {}
            }
        }
    }
    seen
}

fn role(word: &str) -> Option<Option<Quantity>> {
    match word {
        "time" | "date" => Some(None),
        "temp" => Some(Some(Quantity::TemperatureC)),
        "ph" => Some(Some(Quantity::Ph)),
        "humidity" => Some(Some(Quantity::HumidityPct)),
        "weight" => Some(Some(Quantity::WeightG)),
        _ => None,
    }
}

/// The columns the user named, as (role, index).
fn named(sheet: &Sheet, options: &Options) -> Result<Vec<(String, usize)>, Problem> {
    let mut out = Vec::new();
    for (word, name) in &options.columns {
        let word = word.trim().to_ascii_lowercase();
        if role(&word).is_none() {
            return Err(ask_columns(
                sheet,
                format!("the column option \"{}\"", shown(&word)),
                "one of time, date, temp, ph, humidity, weight",
                "correct the option",
            ));
        }
        let by_name = sheet.names.iter().position(|n| same_name(n, name));
        let index = by_name.or_else(|| numbered(name).filter(|n| *n < sheet.names.len()));
        let Some(index) = index else {
            return Err(ask_columns(
                sheet,
                format!("{word}=\"{}\", and no such column", shown(name)),
                "the name of a column as in its heading, or its number as \"column 2\"",
                "correct the option",
            ));
        };
        if out.iter().any(|(_, taken)| *taken == index) {
            return Err(ask_columns(
                sheet,
                format!("column \"{}\" named twice in the options", shown(name)),
                "each column named once",
                "correct the option",
            ));
        }
        out.push((word, index));
    }
    Ok(out)
}

pub(crate) fn find(
    sheet: &Sheet,
    lines: &[&str],
    options: &Options,
    remarks: &mut Vec<Remark>,
) -> Result<Columns, Problem> {
    let named = named(sheet, options)?;
    let when = when(sheet, &contents(sheet, lines), &named)?;
    let is_when = |index: usize| match when {
        When::One(one) => one == index,
        When::Two { date, clock } => date == index || clock == index,
    };
    let chosen = named
        .iter()
        .any(|(word, _)| !matches!(word.as_str(), "time" | "date"));
    let mut taken = Vec::new();
    for (index, name) in sheet.names.iter().enumerate().filter(|(i, _)| !is_when(*i)) {
        let (mut quantity, mut unit) = if sheet.heading.is_some() {
            words::measures(name)
        } else {
            (None, None)
        };
        if unit.is_some() && words::letter_numbers(name, &sheet.names) {
            unit = None;
        }
        // The units row speaks where the heading does not.
        let below = sheet.units.get(index).and_then(|cell| words::unit(cell));
        let aside = quantity.is_none() && words::measures(&format!("{name} (°C)")).0.is_none();
        unit = unit.or(below);
        if quantity.is_none() && !aside {
            quantity = below.and_then(Unit::quantity);
        }
        if chosen {
            quantity = named
                .iter()
                .find(|(_, at)| *at == index)
                .and_then(|(word, _)| role(word).flatten());
        }
        match quantity {
            Some(quantity) => taken.push(Taken {
                index,
                name: name.clone(),
                quantity,
                unit: unit.filter(|unit| {
                    unit.quantity()
                        .map_or(quantity == Quantity::HumidityPct, |of| of == quantity)
                }),
            }),
            None => remarks.push(Remark::new(
                Kind::Skipped,
                None,
                Some(name),
                if chosen {
                    "a column that was not named"
                } else {
                    "a column not known to hold temperature, pH, humidity or weight"
                }
                .to_owned(),
                "not read",
            )),
        }
    }
    if taken.is_empty() {
        return Err(ask_columns(
            sheet,
            "no column known to hold temperature, pH, humidity or weight".to_owned(),
            "a heading or units row that says what is measured",
            "name the column: temp=, ph=, humidity= or weight= with its name",
        ));
    }
    let heading = match when {
        When::One(index) | When::Two { clock: index, .. } => &sheet.names[index],
    };
    Ok(Columns {
        when,
        taken,
        offset_s: words::offset_in(heading),
    })
}

fn when(sheet: &Sheet, contents: &[Content], named: &[(String, usize)]) -> Result<When, Problem> {
    let time = named.iter().find(|(w, _)| w == "time").map(|(_, at)| *at);
    let date = named.iter().find(|(w, _)| w == "date").map(|(_, at)| *at);
    let only = |pick: &dyn Fn(&Content) -> bool| -> Vec<usize> {
        (0..contents.len())
            .filter(|at| !named.iter().any(|(_, n)| n == at) && pick(&contents[*at]))
            .filter(|at| !words::says_elapsed(&sheet.names[*at]))
            .collect()
    };
    match (time, date) {
        (Some(clock), Some(date)) => return Ok(When::Two { date, clock }),
        (Some(time), None) if contents[time].clock == 0 => return Ok(When::One(time)),
        _ => {}
    }
    if time.is_none() && date.is_none() {
        let mut full = only(&|c| c.full > 0);
        if full.is_empty() {
            // Ten digits may be a serial number: the heading has to speak of time.
            full = only(&|c| c.epoch > 0);
            full.retain(|at| sheet.heading.is_some() && words::says_time(&sheet.names[*at]));
        }
        if full.len() > 1 {
            let spoken: Vec<usize> = full
                .iter()
                .copied()
                .filter(|at| sheet.heading.is_some() && words::says_time(&sheet.names[*at]))
                .collect();
            if spoken.len() == 1 {
                full = spoken;
            }
        }
        match full.as_slice() {
            [one] => return Ok(When::One(*one)),
            [] => {}
            several => {
                return Err(ask_columns(
                    sheet,
                    format!("{} columns that hold date and time", several.len()),
                    "one",
                    "name the one to go by: time= with its name",
                ));
            }
        }
    }
    let dates = date.map_or_else(|| only(&|c| c.date > 0), |at| vec![at]);
    let clocks = time.map_or_else(|| only(&|c| c.clock > 0), |at| vec![at]);
    match (dates.as_slice(), clocks.as_slice()) {
        ([date], [clock]) => Ok(When::Two {
            date: *date,
            clock: *clock,
        }),
        _ => Err(ask_columns(
            sheet,
            format!(
                "{} columns of dates and {} of clock times, none sure to hold both",
                dates.len(),
                clocks.len()
            ),
            "one column of stamps, or one of dates and one of clock times",
            "name them: time= with the name of the column, and date= where the date stands apart",
        )),
    }
}
