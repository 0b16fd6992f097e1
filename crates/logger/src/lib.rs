//! Logger exports into histories of readings: bytes and options in, a [`History`] or the problems out.
//!
//! A logger writes a table its own way: date and clock in one column or two, day or month first,
//! decimal commas, lines above and below. This room finds the table, reads it, and tells what it did:
//! rows sorted, doubles dropped, gaps, lost probes, changed clocks. What the file does not say is
//! asked, never guessed: the unit of a temperature, the order of day and month, which of two readings
//! at one moment counts. It opens no file and judges no reading; limits are held elsewhere.
//!
//! A lost probe or an empty cell is a reading of nothing. Stamps are kept to the whole second.
//!
//! ```
//! use logger::{Options, read};
//! let file = b"Timestamp,Temp_C\n2025-03-01 06:00,3.9\n2025-03-01 06:10,4.1\n";
//! let read = read(file, &Options::new(jiff::tz::TimeZone::UTC)).unwrap();
//! assert_eq!(read.history.channels[0].readings[1].value, Some(4.1));
//!
//! let unmarked = b"Timestamp,Temp\n2025-03-01 06:00,139\n";
//! let problems = logger::read(unmarked, &Options::new(jiff::tz::TimeZone::UTC)).unwrap_err();
//! assert_eq!(problems[0].asks, Some(logger::Ask::Fahrenheit));
//! ```

use jiff::tz::{Offset, TimeZone};
use safety::history::History;

mod columns;
mod days;
mod gather;
mod moments;
mod number;
mod sheet;
mod stamp;
mod table;
mod text;
mod told;
mod units_of;
mod words;

pub use text::{MOST_BYTES, MOST_LINE_BYTES, MOST_LINES};
pub use told::{Ask, Kind, Problem, Remark};
pub use units_of::{MOST_C, MOST_HUMIDITY_PCT};

/// Most readings kept, rows by channels; they take 24 bytes each.
pub const MOST_READINGS: usize = 16_000_000;

/// Which of two different readings at one moment counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Keep {
    /// The one that stands first in the file.
    First,
    /// The one that stands last in the file.
    Last,
}

/// What the user says about a file.
#[derive(Debug, Clone)]
pub struct Options {
    /// The zone of stamps that carry no offset; a fixed offset for a logger without summer time.
    pub zone: TimeZone,
    /// Columns by (role, name): the role one of `time`, `date`, `temp`, `ph`, `humidity`, `weight`,
    /// the name as in the heading or `column 2`. Where any measured column is named, only those
    /// named are read.
    pub columns: Vec<(String, String)>,
    /// Whether the day stands before the month, where no number above 12 shows it.
    pub day_first: Option<bool>,
    /// Whether temperatures are in °F, where the file does not say.
    pub fahrenheit: Option<bool>,
    /// Which of two different readings at one moment counts.
    pub keep: Option<Keep>,
}

impl Options {
    /// Nothing said but the zone.
    pub fn new(zone: TimeZone) -> Self {
        Self {
            zone,
            columns: Vec::new(),
            day_first: None,
            fahrenheit: None,
            keep: None,
        }
    }
}

/// A file that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Read {
    /// The readings, in °C, pH, percent and grams.
    pub history: History,
    /// What was noticed and what was done about it, in the order of the work.
    pub remarks: Vec<Remark>,
}

/// Reads a logger export.
///
/// # Valid range
/// Up to [`MOST_BYTES`], [`MOST_LINES`], [`MOST_LINE_BYTES`] and [`MOST_READINGS`]. Temperatures from
/// −273.15 °C to [`MOST_C`], pH 0 to 14, humidity 0 to [`MOST_HUMIDITY_PCT`].
///
/// # Errors
/// Every problem found, up to twenty and a count of the rest; those with [`Problem::asks`] set are
/// questions that an option answers.
pub fn read(bytes: &[u8], options: &Options) -> Result<Read, Vec<Problem>> {
    let one = |problem| vec![problem];
    let mut remarks = Vec::new();
    let text = text::decode(bytes, &mut remarks).map_err(one)?;
    let lines = text::lines(&text).map_err(one)?;
    let sheet = sheet::find(&lines, &options.columns, &mut remarks).map_err(one)?;
    let columns = columns::find(&sheet, &lines, options, &mut remarks).map_err(one)?;
    let most = lines.len().saturating_mul(columns.taken.len());
    if most > MOST_READINGS {
        return Err(one(Problem {
            line: None,
            column: None,
            found: format!("{} lines of {} channels", lines.len(), columns.taken.len()),
            expected: "at most 16 000 000 readings".to_owned(),
            do_now: "name fewer columns, or export a shorter span of time".to_owned(),
            asks: None,
        }));
    }
    let mut problems = told::Problems::default();
    let mut table = table::read(&sheet, &columns, &lines, &mut remarks, &mut problems);
    let units = units_of::settle(
        &columns.taken,
        &table,
        &sheet.preamble,
        options,
        &mut problems,
    );
    units_of::convert(
        &columns.taken,
        &units,
        &mut table,
        &mut remarks,
        &mut problems,
    );
    let zone = zone(&sheet, &columns, options, &mut remarks);
    let day_first = match days::order(&table, options.day_first, &mut remarks) {
        Ok(day_first) => day_first,
        Err(problem) => {
            problems.push(problem);
            // Without the order of day and month there are no moments to go on with.
            return problems
                .into_result(History::default())
                .map(|history| Read { history, remarks });
        }
    };
    let moments = moments::find(&table, &zone, day_first, &mut remarks, &mut problems);
    // With rows missing or misplaced, doubles and gaps would be told of a history that is not there.
    problems.into_result(())?;
    let mut problems = told::Problems::default();
    let history = gather::gather(
        &table,
        &columns.taken,
        &moments,
        options.keep,
        &mut remarks,
        &mut problems,
    );
    problems
        .into_result(history)
        .map(|history| Read { history, remarks })
}

/// The zone of stamps without an offset: the offset in the heading, else the one given.
fn zone(
    sheet: &sheet::Sheet,
    columns: &columns::Columns,
    options: &Options,
    remarks: &mut Vec<Remark>,
) -> TimeZone {
    if let Some(seconds) = columns.offset_s
        && let Ok(offset) = Offset::from_seconds(seconds)
    {
        let fixed = TimeZone::fixed(offset);
        let found = format!("the heading names {}", moments::zone_name(&fixed));
        let line = sheet.heading.map(|at| at + 1);
        let done = "stamps without their own offset taken so, not in the zone given";
        remarks.push(Remark::new(Kind::Zone, line, None, found, done));
        return fixed;
    }
    let about_zone = sheet.preamble.iter().find(|line| {
        let lower = line.to_lowercase();
        lower.contains("time zone") || lower.contains("timezone") || lower.contains("utc offset")
    });
    if let Some(line) = about_zone {
        let found = format!("\"{}\" above the table", told::shown(line));
        let done = format!(
            "not gone by: stamps without an offset are taken in {}; check that it agrees",
            moments::zone_name(&options.zone)
        );
        remarks.push(Remark::new(Kind::Zone, None, None, found, &done));
    }
    options.zone.clone()
}
