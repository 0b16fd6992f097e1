//! Day first or month first: decided by a number above 12, or by the user, else asked.

use jiff::civil::Date;

use crate::stamp::Day;
use crate::table::{Table, Written, problem};
use crate::told::{Ask, Kind, Problem, Remark};

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A year below this, written with two digits, is more likely a day: 25-03-01.
const LEAST_SHORT_YEAR: i16 = 2010;

/// A day as a date, once the order is known; `None` where the calendar has no such day.
pub(crate) fn date(day: Day, day_first: bool) -> Option<Date> {
    let (year, month, day) = match day {
        Day::Plain { year, month, day } => (year, month, day),
        Day::Either {
            first,
            second,
            year,
            ..
        } => match day_first {
            true => (year, second, first),
            false => (year, first, second),
        },
    };
    let (month, day) = (i8::try_from(month).ok()?, i8::try_from(day).ok()?);
    Date::new(year, month, day).ok()
}

/// Whether the day stands first. Where nothing hangs on it, day first.
pub(crate) fn order(
    table: &Table,
    option: Option<bool>,
    remarks: &mut Vec<Remark>,
) -> Result<bool, Problem> {
    let (mut first_over, mut second_over, mut open) = (None, None, None);
    let mut short_years: Vec<i16> = Vec::new();
    for (line, written) in &table.rows {
        let Written::Civil {
            day:
                Day::Either {
                    first,
                    second,
                    year,
                    short_year,
                },
            ..
        } = written
        else {
            continue;
        };
        if *first > 12 {
            first_over = first_over.or(Some(*line));
        }
        if *second > 12 {
            second_over = second_over.or(Some(*line));
        }
        if first != second {
            open = open.or(Some((*line, *first, *second, *year)));
        }
        if *short_year {
            if !short_years.contains(year) {
                short_years.push(*year);
            }
            // A log runs over a new year at most; three years mean that the last number is the day.
            if short_years.len() > 2 || *year < LEAST_SHORT_YEAR {
                return Err(problem(
                    *line,
                    None,
                    format!(
                        "a date of three short numbers; its last would be the year {year}, and may be the day"
                    ),
                    "a year of four digits",
                    "export with four digits for the year",
                ));
            }
        }
    }
    let decided = match (first_over, second_over) {
        (Some(one), Some(two)) => {
            return Err(problem(
                one.max(two),
                None,
                format!("a day first in line {}, a month first in line {two}", one),
                "one order of day and month throughout",
                "export again with the year first, or split the file",
            ));
        }
        (Some(line), None) => Some((true, line)),
        (None, Some(line)) => Some((false, line)),
        (None, None) => None,
    };
    let told = |first: bool| if first { "day first" } else { "month first" };
    match (decided, option, open) {
        (Some((first, line)), Some(asked), _) if first != asked => Err(Problem {
            asks: Some(Ask::DayFirst),
            ..problem(
                line,
                None,
                format!("a date that can only be read {}", told(first)),
                &format!("dates {} as the option says", told(asked)),
                "leave the option out, or turn it round",
            )
        }),
        (Some((first, line)), _, _) => {
            remarks.push(Remark::new(
                Kind::DayOrder,
                Some(line),
                None,
                "a number above 12 in the date".to_owned(),
                &format!("all dates read {}", told(first)),
            ));
            Ok(first)
        }
        (None, Some(first), _) => Ok(first),
        (None, None, None) => Ok(true),
        (None, None, Some((line, first, second, year))) => Err(Problem {
            asks: Some(Ask::DayFirst),
            ..problem(
                line,
                None,
                format!(
                    "a date that reads as {first} {} {year} or as {second} {} {year}, and no number above 12 in any row",
                    month(second),
                    month(first)
                ),
                "an order of day and month that shows",
                "say whether the day stands first",
            )
        }),
    }
}

fn month(number: u8) -> &'static str {
    usize::from(number)
        .checked_sub(1)
        .and_then(|index| MONTHS.get(index))
        .copied()
        .unwrap_or("of no month")
}
