//! Getting a logger's file and what the user says about it.

use std::fs;
use std::io::Read;

use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use logger::{Ask, Keep, MOST_BYTES, Options, Problem, Remark};
use safety::history::History;

use super::Judge;
use crate::diagnostics::wrapped;
use crate::exit::BadInput;

/// A file that was read.
pub(super) struct Log {
    pub(super) name: String,
    pub(super) history: History,
    pub(super) remarks: Vec<Remark>,
    zone: TimeZone,
    /// No zone was named: stamps without an offset are taken as one clock that nobody changed.
    pub(super) one_clock: bool,
}

impl Log {
    /// The first and the last row, seconds since 1970.
    pub(super) fn span(&self) -> Option<(i64, i64)> {
        let rows = || {
            self.history
                .channels
                .iter()
                .flat_map(|c| c.readings.iter().map(|r| r.at_s))
        };
        Some((rows().min()?, rows().max()?))
    }

    /// A moment as the clock of the zone had it.
    pub(super) fn clock(&self, at_s: i64) -> String {
        jiff::Timestamp::from_second(at_s).map_or_else(
            |_| format!("{at_s} s"),
            |stamp| {
                let zoned = stamp.to_zoned_datetime(self.zone.clone());
                let seconds = if zoned.second() == 0 { "" } else { ":%S" };
                zoned.strftime(&format!("%a %F %H:%M{seconds}")).to_string()
            },
        )
    }

    /// A moment for programs: with offset and zone, or without both where no zone was named.
    pub(super) fn instant(&self, at_s: i64) -> Option<String> {
        let zoned = jiff::Timestamp::from_second(at_s)
            .ok()?
            .to_zoned_datetime(self.zone.clone());
        Some(if self.one_clock {
            zoned.datetime().to_string()
        } else {
            zoned.to_string()
        })
    }

    /// A moment the user wrote, on the clock of the zone.
    pub(super) fn moment(&self, entry: &str, text: &str) -> Result<i64, BadInput> {
        let wrong = |found: String, do_now: &str| {
            BadInput::new(
                &format!("{entry}: {found}"),
                "a moment such as \"2027-10-06 15:40\", on the logger's clock",
                do_now,
            )
        };
        let civil: DateTime = text
            .trim()
            .parse()
            .map_err(|_| wrong(format!("found \"{text}\""), "write date and time"))?;
        let at = self.zone.to_ambiguous_zoned_datetime(civil);
        if at.is_ambiguous() {
            return Err(wrong(
                format!("{text} is a time the clocks had twice or skipped"),
                "name a moment a little before or after, or a fixed offset as --zone",
            ));
        }
        at.unambiguous()
            .map(|zoned| zoned.timestamp().as_second())
            .map_err(|error| wrong(error.to_string(), "write another moment"))
    }
}

/// Reads the file a user named.
pub(super) fn read(judge: &Judge, zone: Option<TimeZone>) -> Result<Log, BadInput> {
    let name = judge.log.as_deref().unwrap_or_default();
    let bytes = bytes(name)?;
    let one_clock = zone.is_none();
    let zone = zone.unwrap_or(TimeZone::UTC);
    let options = Options {
        columns: columns(&judge.columns)?,
        day_first: choice(judge.day_first, judge.month_first),
        fahrenheit: choice(judge.fahrenheit, judge.celsius),
        keep: judge.keep.as_deref().map(|word| {
            if word == "first" {
                Keep::First
            } else {
                Keep::Last
            }
        }),
        ..Options::new(zone.clone())
    };
    let read = logger::read(&bytes, &options).map_err(|wrong| {
        if judge.json {
            BadInput(format!("{:#}\n", super::values::problems(name, &wrong)))
        } else {
            problems(name, &wrong)
        }
    })?;
    Ok(Log {
        name: name.to_owned(),
        history: read.history,
        remarks: read.remarks,
        zone,
        one_clock,
    })
}

/// What of two flags was said: `None` when neither was.
fn choice(yes: bool, no: bool) -> Option<bool> {
    match (yes, no) {
        (true, _) => Some(true),
        (false, true) => Some(false),
        (false, false) => None,
    }
}

fn bytes(name: &str) -> Result<Vec<u8>, BadInput> {
    // One byte past the limit is enough to refuse a file: no more of it is taken into memory.
    let limit = MOST_BYTES as u64 + 1;
    let mut bytes = Vec::new();
    let taken = if name == "-" {
        std::io::stdin().lock().take(limit).read_to_end(&mut bytes)
    } else {
        fs::File::open(name).and_then(|file| file.take(limit).read_to_end(&mut bytes))
    };
    taken.map(|_| bytes).map_err(|error| {
        BadInput::new(
            &format!("{name}: {error}"),
            "a file of a data logger this program may read",
            "check the name and the permissions",
        )
    })
}

fn columns(named: &[String]) -> Result<Vec<(String, String)>, BadInput> {
    named
        .iter()
        .map(|entry| {
            entry
                .split_once('=')
                .map(|(role, name)| (role.trim().to_owned(), name.trim().to_owned()))
                .filter(|(role, name)| !role.is_empty() && !name.is_empty())
                .ok_or_else(|| {
                    BadInput::new(
                        &format!("--column: found \"{entry}\""),
                        "what it is and its name, such as temp=\"Core 1\" or time=\"column 1\"",
                        "write ROLE=NAME; roles are time, date, temp, ph, humidity and weight",
                    )
                })
        })
        .collect()
}

/// The option that answers a question of the reader.
pub(super) fn answered_by(ask: Ask) -> &'static str {
    match ask {
        Ask::Columns => "--column ROLE=NAME, such as --column temp=\"Core 1\"",
        Ask::DayFirst => "--day-first or --month-first",
        Ask::Fahrenheit => "--fahrenheit or --celsius",
        Ask::Keep => "--keep first or --keep last",
        Ask::Zone => "--zone, such as --zone America/Toronto or --zone -05:00",
    }
}

/// Everything that is wrong with a file, in one go.
fn problems(name: &str, wrong: &[Problem]) -> BadInput {
    let mut text = String::new();
    for problem in wrong {
        let place = match (problem.line, problem.column.as_deref()) {
            (Some(line), Some(column)) => format!("{name}:{line}, column \"{column}\": "),
            (Some(line), None) => format!("{name}:{line}: "),
            (None, Some(column)) => format!("{name}, column \"{column}\": "),
            (None, None) => format!("{name}: "),
        };
        text.push_str(&wrapped("  × ", &format!("{place}{}", problem.found)));
        text.push_str(&wrapped("    expected: ", &problem.expected));
        text.push_str(&wrapped("    do now:   ", &problem.do_now));
        if let Some(ask) = problem.asks {
            text.push_str(&wrapped("    answer:   ", answered_by(ask)));
        }
        text.push('\n');
    }
    let plural = if wrong.len() == 1 { "" } else { "s" };
    text.push_str(&format!(
        "{} problem{plural} or question{plural}; nothing was judged.\n",
        wrong.len()
    ));
    BadInput(text)
}
