//! Rows of the table: stamps as written, values as written.

use std::borrow::Cow;

use safety::history::Quantity;

use crate::columns::{Columns, Taken, When};
use crate::number::{self, Cell, Mark};
use crate::sheet::Sheet;
use crate::stamp::{self, Clock, Day, Stamp};
use crate::text::{cells, is_comment, is_idle};
use crate::told::{Kind, Problem, Problems, Remark, counted, shown};
use crate::words::{self, Unit};

/// When a row was written, before zone and order of day and month are settled.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Written {
    Epoch(i64),
    Civil {
        day: Day,
        clock: Clock,
        offset_s: Option<i32>,
    },
}

/// The rows as written, in the order of the file.
#[derive(Debug, Default)]
pub(crate) struct Table {
    /// Line (from 1) and stamp of each row.
    pub(crate) rows: Vec<(usize, Written)>,
    /// Values row by row, one for each column taken; not a number where nothing was read.
    pub(crate) values: Vec<f64>,
    /// The unit written behind values, for each column taken.
    pub(crate) cell_units: Vec<Option<Unit>>,
}

pub(crate) fn problem(
    line: usize,
    column: Option<&str>,
    found: String,
    expected: &str,
    do_now: &str,
) -> Problem {
    Problem {
        line: Some(line),
        column: column.map(shown),
        found,
        expected: expected.to_owned(),
        do_now: do_now.to_owned(),
        asks: None,
    }
}

/// The stamp of a row, from one column or two.
fn written(row: &[Cow<'_, str>], when: When) -> Option<(Written, bool)> {
    let cell = |index: usize| row.get(index).and_then(|cell| stamp::read(cell));
    let civil = |day, clock: Clock, offset_s| {
        let written = Written::Civil {
            day,
            clock,
            offset_s,
        };
        Some((written, clock.fraction))
    };
    match when {
        When::One(index) => match cell(index)? {
            Stamp::Epoch { at_s, fraction } => Some((Written::Epoch(at_s), fraction)),
            Stamp::Full {
                day,
                clock,
                offset_s,
            } => civil(day, clock, offset_s),
            _ => None,
        },
        When::Two { date, clock } => match (cell(date)?, cell(clock)?) {
            (Stamp::Date(day), Stamp::Clock(clock)) => civil(day, clock, None),
            _ => None,
        },
    }
}

/// The last line of rows: behind it stand only lines of words, such as `Average;4,2`.
fn end_of_rows(sheet: &Sheet, columns: &Columns, lines: &[&str]) -> usize {
    let stamp_at = match columns.when {
        When::One(index) => index,
        When::Two { date, .. } => date,
    };
    let mut end = lines.len();
    for (index, line) in lines.iter().enumerate().skip(sheet.first).rev() {
        if is_idle(line) {
            continue;
        }
        let row = cells(line, sheet.separator).unwrap_or_default();
        if row.is_empty() || written(&row, columns.when).is_some() {
            break;
        }
        let digit_first = |c: &Cow<'_, str>| c.starts_with(|d: char| d.is_ascii_digit());
        let wordy = |c: &Cow<'_, str>| {
            c.chars().any(char::is_alphabetic) && number::read(c) == Cell::Bad && !digit_first(c)
        };
        if row.get(stamp_at).is_some_and(digit_first) || !row.iter().any(wordy) {
            break;
        }
        end = index;
    }
    end
}

pub(crate) fn read(
    sheet: &Sheet,
    columns: &Columns,
    lines: &[&str],
    remarks: &mut Vec<Remark>,
    problems: &mut Problems,
) -> Table {
    let width = columns.taken.len();
    let mut table = Table {
        cell_units: vec![None; width],
        ..Table::default()
    };
    let end = end_of_rows(sheet, columns, lines);
    let heading = sheet.heading.and_then(|at| lines.get(at)).copied();
    let mut marks = Marks::default();
    let (mut fraction_at, mut comments, mut headings) = (None, 0_usize, 0_usize);
    for (index, line) in lines.iter().enumerate().take(end).skip(sheet.first) {
        let number = index + 1;
        if is_idle(line) {
            comments += usize::from(is_comment(line));
            continue;
        }
        if heading == Some(*line) {
            headings += 1;
            continue;
        }
        let Some(row) = cells(line, sheet.separator) else {
            problems.push(problem(
                number,
                None,
                "a quote that is not closed, or text behind it".to_owned(),
                "each quoted cell closed on its own line",
                "mend the line, or export again",
            ));
            continue;
        };
        if let Some(extra) = row.iter().skip(sheet.names.len()).find(|c| !c.is_empty()) {
            problems.push(problem(
                number,
                None,
                format!("{} cells, the last one \"{}\"", row.len(), shown(extra)),
                &format!("{} cells, as above", sheet.names.len()),
                "if the values have decimal commas, export with semicolons or tabs between cells",
            ));
            continue;
        }
        let Some((stamp, fraction)) = written(&row, columns.when) else {
            problems.push(no_stamp(number, &row, sheet, columns.when));
            continue;
        };
        if fraction {
            fraction_at = fraction_at.or(Some(number));
        }
        table.rows.push((number, stamp));
        for (at, column) in columns.taken.iter().enumerate() {
            let cell = row.get(column.index).map_or("", |cell| cell.as_ref());
            let value = match value(cell, column, number, &mut table.cell_units[at], &mut marks) {
                Ok(value) => value,
                Err(problem) => {
                    problems.push(problem);
                    None
                }
            };
            table.values.push(value.unwrap_or(f64::NAN));
        }
    }
    if let (Some((line, column, cell)), false) = (marks.thousands, marks.proven_comma) {
        problems.push(problem(
            line,
            Some(&column),
            format!("\"{cell}\", a decimal comma or thousands"),
            "numbers without separators of thousands",
            "export without them, or with more or fewer than three decimals",
        ));
    }
    if let Some(line) = fraction_at {
        remarks.push(Remark::new(
            Kind::Rounded,
            Some(line),
            None,
            "stamps with fractions of a second".to_owned(),
            "read to the whole second below",
        ));
    }
    for (count, what) in [(comments, "comment line"), (headings, "repeated heading")] {
        if count > 0 {
            remarks.push(Remark::new(
                Kind::Skipped,
                None,
                None,
                format!("{} among the rows", counted(count, what)),
                "not read",
            ));
        }
    }
    let trailing = lines[end..].iter().filter(|line| !is_idle(line)).count();
    if trailing > 0 {
        remarks.push(Remark::new(
            Kind::Skipped,
            Some(end + 1),
            None,
            format!(
                "{} without a stamp below the rows",
                counted(trailing, "line")
            ),
            "not read",
        ));
    }
    table
}

fn no_stamp(line: usize, row: &[Cow<'_, str>], sheet: &Sheet, when: When) -> Problem {
    let (index, expected) = match when {
        When::One(index) => (index, "a date and a time such as 2025-03-01 06:00"),
        When::Two { date, clock } => {
            let date_reads = row
                .get(date)
                .is_some_and(|c| matches!(stamp::read(c), Some(Stamp::Date(_))));
            if date_reads {
                (clock, "a time such as 06:00 or 6:00 AM")
            } else {
                (date, "a date such as 2025-03-01")
            }
        }
    };
    let found = match row.get(index) {
        Some(cell) if !cell.is_empty() => format!("\"{}\"", shown(cell)),
        _ => "no stamp".to_owned(),
    };
    problem(
        line,
        sheet.names.get(index).map(String::as_str),
        found,
        expected,
        "mend the line, or mark it as a comment with #",
    )
}

/// Decimal marks met so far: a file has one.
#[derive(Default)]
struct Marks {
    first: Option<(Mark, usize)>,
    proven_comma: bool,
    thousands: Option<(usize, String, String)>,
}

fn value(
    cell: &str,
    column: &Taken,
    line: usize,
    cell_unit: &mut Option<Unit>,
    marks: &mut Marks,
) -> Result<Option<f64>, Problem> {
    let bad = |expected: &str, do_now: &str| {
        problem(
            line,
            Some(&column.name),
            format!("\"{}\"", shown(cell)),
            expected,
            do_now,
        )
    };
    match number::read(cell) {
        Cell::Empty | Cell::Lost => Ok(None),
        Cell::Thousands => Err(bad(
            "a number without separators of thousands",
            "export without them",
        )),
        Cell::Bad => Err(bad(
            "a number, an empty cell, or a word for a lost probe such as -- or OL",
            "mend the cell, or empty it if nothing was read",
        )),
        Cell::Number {
            value,
            mark,
            may_be_thousands,
            unit,
        } => {
            if !unit.is_empty() {
                let known = words::unit(unit);
                let clash = column.unit.or(*cell_unit).is_some_and(|u| Some(u) != known);
                let fits = known.is_some_and(|u| match u.quantity() {
                    Some(of) => of == column.quantity,
                    None => column.quantity == Quantity::HumidityPct,
                });
                if clash || !fits {
                    return Err(bad(
                        "the unit of its column, or none",
                        "mend the unit in the cell or in the heading",
                    ));
                }
                *cell_unit = known;
            }
            if let Some(mark) = mark {
                let (first, at) = *marks.first.get_or_insert((mark, line));
                if first != mark {
                    return Err(bad(
                        &format!("the decimal mark of line {at}"),
                        "export with one decimal mark throughout",
                    ));
                }
                marks.proven_comma |= mark == Mark::Comma && !may_be_thousands;
                // No temperature, pH or humidity read here reaches a thousand; a weight does.
                if may_be_thousands && column.quantity == Quantity::WeightG {
                    let told = || (line, column.name.clone(), shown(cell));
                    marks.thousands.get_or_insert_with(told);
                }
            }
            Ok(Some(value))
        }
    }
}
