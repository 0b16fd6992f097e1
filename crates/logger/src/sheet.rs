//! Where the table is in the file: the separator, the heading, the units row, the first row.

use std::borrow::Cow;
use std::collections::HashMap;

use crate::stamp::{self, Stamp};
use crate::text::{cells, is_comment, is_idle};
use crate::told::{Ask, Kind, Problem, Remark, counted, shown};
use crate::words;

/// Separators tried.
const SEPARATORS: [char; 4] = ['\t', ';', ',', '|'];
/// Lines looked at to find the table.
const SAMPLE: usize = 400;
/// Lines above the first row searched for a heading that speaks of time.
const HEADING_ABOVE: usize = 10;
/// Most columns; from our own judgement, far above any logger met.
const MOST_COLUMNS: usize = 500;

/// The table found in a file. Lines are indices from 0.
#[derive(Debug)]
pub(crate) struct Sheet {
    pub(crate) separator: char,
    /// Line and names of the heading; no line where the file has none.
    pub(crate) heading: Option<usize>,
    pub(crate) names: Vec<String>,
    /// The units row, empty where there is none.
    pub(crate) units: Vec<String>,
    /// The first line of rows.
    pub(crate) first: usize,
    /// The preamble, as written.
    pub(crate) preamble: Vec<String>,
}

/// Columns holding stamps in one line, where the line looks like a row.
fn stamp_columns(cells: &[Cow<'_, str>]) -> Option<Vec<usize>> {
    if cells.len() < 2 {
        return None;
    }
    let (mut full, mut date, mut clock) = (Vec::new(), None, None);
    for (index, cell) in cells.iter().enumerate() {
        match stamp::read(cell) {
            Some(Stamp::Full { .. } | Stamp::Epoch { .. }) => full.push(index),
            Some(Stamp::Date(_)) => date = date.or(Some(index)),
            Some(Stamp::Clock(_)) => clock = clock.or(Some(index)),
            None => {}
        }
    }
    if !full.is_empty() {
        return Some(full);
    }
    Some(vec![date?, clock?])
}

pub(crate) fn find(
    lines: &[&str],
    wanted: &[(String, String)],
    remarks: &mut Vec<Remark>,
) -> Result<Sheet, Problem> {
    let sample: Vec<(usize, &str)> = lines
        .iter()
        .enumerate()
        .filter(|(_, line)| !is_idle(line))
        .map(|(index, line)| (index, *line))
        .take(SAMPLE)
        .collect();
    let count = |separator: char| {
        sample
            .iter()
            .filter(|(_, line)| cells(line, separator).is_some_and(|c| stamp_columns(&c).is_some()))
            .count()
    };
    let mut separator = SEPARATORS[0];
    let mut most = 0;
    for tried in SEPARATORS {
        let rows = count(tried);
        if rows > most {
            (separator, most) = (tried, rows);
        }
    }
    if most == 0 {
        return Err(no_row(&sample));
    }
    let rows: Vec<(usize, Vec<Cow<'_, str>>)> = sample
        .iter()
        .map(|(index, line)| (*index, cells(line, separator).unwrap_or_default()))
        .collect();
    let first_row = first_row(&rows);
    let heading = named_heading(&rows, wanted).or_else(|| heading_above(&rows, first_row));

    let (names, after) = match heading {
        Some(at) => (rows[at].1.iter().map(|c| c.to_string()).collect(), at + 1),
        None => {
            let widest = rows[first_row].1.len();
            (vec![String::new(); widest], first_row)
        }
    };
    if names.len() > MOST_COLUMNS {
        return Err(Problem {
            line: heading.map(|at| rows[at].0 + 1),
            column: None,
            found: format!("{} columns", names.len()),
            expected: format!("at most {MOST_COLUMNS}"),
            do_now: "export fewer channels at a time".to_owned(),
            asks: None,
        });
    }
    let names = distinct(names);
    let units_row = heading
        .and_then(|_| rows.get(after))
        .filter(|(_, row)| is_units(row));
    let first = match (units_row, rows.get(after)) {
        (Some((index, _)), _) => index + 1,
        (None, Some((index, _))) => *index,
        (None, None) => lines.len(),
    };
    let top = heading.map_or(first, |at| rows[at].0);
    let preamble: Vec<String> = lines[..top]
        .iter()
        .filter(|line| !is_idle(line) || is_comment(line))
        .map(|line| (*line).trim().to_owned())
        .collect();
    if !preamble.is_empty() {
        remarks.push(Remark::new(
            Kind::Skipped,
            Some(1),
            None,
            format!("{} above the table", counted(preamble.len(), "line")),
            "read for unit and zone only",
        ));
    }
    Ok(Sheet {
        separator,
        heading: heading.map(|at| rows[at].0),
        names,
        units: units_row
            .map(|(_, row)| row.iter().map(|c| c.to_string()).collect())
            .unwrap_or_default(),
        first,
        preamble,
    })
}

fn no_row(sample: &[(usize, &str)]) -> Problem {
    let found = match sample.first() {
        None => "no line with anything in it".to_owned(),
        Some((_, line)) => format!(
            "no line with a date and time and a second cell; the first line is \"{}\"",
            shown(line)
        ),
    };
    Problem {
        line: sample.first().map(|(index, _)| index + 1),
        column: None,
        found,
        expected: "rows such as 2025-03-01 06:00,4.2, parted by comma, semicolon, tab or |, the \
                   year with two or four digits"
            .to_owned(),
        do_now: "export as text (CSV) with date and time in every row".to_owned(),
        asks: None,
    }
}

/// The first line of the table: the first with the usual stamp columns, and those joined above it.
fn first_row(rows: &[(usize, Vec<Cow<'_, str>>)]) -> usize {
    let stamps: Vec<Option<Vec<usize>>> = rows.iter().map(|(_, c)| stamp_columns(c)).collect();
    let mut seen: HashMap<(&[usize], usize), (usize, usize)> = HashMap::new();
    for (at, columns) in stamps.iter().enumerate() {
        if let Some(columns) = columns {
            seen.entry((columns, rows[at].1.len())).or_insert((0, at)).0 += 1;
        }
    }
    // Most often met; then the wider; then the later, as a preamble stands above its table.
    let usual = seen
        .iter()
        .max_by_key(|((_, width), (count, at))| (*count, *width, *at));
    let Some(((columns, _), (_, at))) = usual else {
        return 0;
    };
    let mut first = *at;
    while first > 0 {
        let same = stamps[first - 1]
            .as_ref()
            .is_some_and(|above| above.first() == columns.first());
        if !same {
            break;
        }
        first -= 1;
    }
    first
}

/// The heading that holds every name the user gave.
fn named_heading(
    rows: &[(usize, Vec<Cow<'_, str>>)],
    wanted: &[(String, String)],
) -> Option<usize> {
    let named: Vec<&str> = wanted
        .iter()
        .map(|(_, name)| name.as_str())
        .filter(|name| numbered(name).is_none())
        .collect();
    if named.is_empty() {
        return None;
    }
    rows.iter().position(|(_, cells)| {
        cells.len() >= 2
            && named
                .iter()
                .all(|name| cells.iter().any(|cell| same_name(cell, name)))
    })
}

/// `column 3`, `#3`: the index from 0.
pub(crate) fn numbered(name: &str) -> Option<usize> {
    let lower = name.trim().to_ascii_lowercase();
    let digits = lower
        .strip_prefix("column ")
        .or_else(|| lower.strip_prefix('#'))?;
    digits.trim().parse::<usize>().ok()?.checked_sub(1)
}

pub(crate) fn same_name(cell: &str, name: &str) -> bool {
    cell.trim().to_lowercase() == name.trim().to_lowercase()
}

fn heading_above(rows: &[(usize, Vec<Cow<'_, str>>)], first_row: usize) -> Option<usize> {
    let could = |at: &usize| {
        let cells = &rows[*at].1;
        cells.len() >= 2
            && stamp_columns(cells).is_none()
            && cells.iter().filter(|c| !c.is_empty()).count() >= 2
            && !is_units(cells)
    };
    let least = first_row.saturating_sub(HEADING_ABOVE);
    let spoken = (least..first_row)
        .rev()
        .filter(could)
        .find(|at| rows[*at].1.iter().any(|c| words::says_time(c)));
    // Numbers are not names: a broken row above the table is not its heading.
    let wordy = |at: &usize| {
        !rows[*at]
            .1
            .iter()
            .any(|c| c.starts_with(|d: char| d.is_ascii_digit()))
    };
    spoken.or_else(|| (least..first_row).rev().filter(could).find(wordy))
}

/// A row of units under the heading: only units, date patterns such as `yyyy-mm-dd`, and blanks.
fn is_units(cells: &[Cow<'_, str>]) -> bool {
    let pattern = |cell: &str| {
        !cell.is_empty()
            && cell.chars().all(|c| {
                matches!(c.to_ascii_lowercase(), 'y' | 'm' | 'd' | 'h' | 's')
                    || !c.is_alphanumeric()
            })
    };
    cells.iter().any(|c| words::unit(c).is_some())
        && cells.iter().all(|c| {
            c.is_empty()
                || words::unit(c).is_some()
                || pattern(c)
                || matches!(c.as_ref(), "UTC" | "local" | "V")
        })
}

/// Names made distinct: a blank or repeated one carries its column number.
fn distinct(names: Vec<String>) -> Vec<String> {
    let mut seen: Vec<String> = Vec::with_capacity(names.len());
    for (index, name) in names.iter().enumerate() {
        let repeated = names.iter().filter(|other| *other == name).count() > 1;
        seen.push(match (name.is_empty(), repeated) {
            (true, _) => format!("column {}", index + 1),
            (false, true) => format!("{name} (column {})", index + 1),
            (false, false) => name.clone(),
        });
    }
    seen
}

/// A question about columns, with the names there are.
pub(crate) fn ask_columns(sheet: &Sheet, found: String, expected: &str, do_now: &str) -> Problem {
    let names: Vec<String> = sheet
        .names
        .iter()
        .take(20)
        .map(|n| format!("\"{}\"", shown(n)))
        .collect();
    Problem {
        line: sheet.heading.map(|index| index + 1),
        column: None,
        found: format!("{found}; the columns are {}", names.join(", ")),
        expected: expected.to_owned(),
        do_now: do_now.to_owned(),
        asks: Some(Ask::Columns),
    }
}
