//! Rows into histories: sorted, doubles dropped or asked about, gaps and lost readings told.

use safety::history::{Channel, History, Reading};

use crate::Keep;
use crate::columns::Taken;
use crate::moments::{Moments, usual_step};
use crate::table::{Table, problem};
use crate::told::{Ask, Kind, Problem, Problems, Remark, length};

/// Gaps, doubles and lost spans told one by one; the rest is counted.
const MOST_TOLD: usize = 20;

pub(crate) fn gather(
    table: &Table,
    taken: &[Taken],
    moments: &Moments,
    keep: Option<Keep>,
    remarks: &mut Vec<Remark>,
    problems: &mut Problems,
) -> History {
    let at_s = moments.at_s.as_slice();
    let mut order: Vec<usize> = (0..at_s.len()).collect();
    sort(&mut order, table, at_s, remarks);
    let order = drop_doubles(&order, table, taken, moments, keep, remarks, problems);
    gaps(&order, table, moments, remarks);
    let width = taken.len();
    let channels = taken
        .iter()
        .enumerate()
        .map(|(at, column)| {
            let readings: Vec<Reading> = order
                .iter()
                .map(|row| Reading {
                    at_s: at_s[*row],
                    value: Some(table.values[row * width + at]).filter(|v| !v.is_nan()),
                })
                .collect();
            lost(&readings, &order, table, moments, &column.name, remarks);
            Channel {
                name: column.name.clone(),
                quantity: column.quantity,
                readings,
            }
        })
        .collect();
    History { channels }
}

fn sort(order: &mut [usize], table: &Table, moments: &[i64], remarks: &mut Vec<Remark>) {
    let back = moments.windows(2).filter(|w| w[1] < w[0]).count();
    if back == 0 {
        return;
    }
    let found = if moments.windows(2).all(|w| w[1] <= w[0]) {
        "rows newest first".to_owned()
    } else if back == 1 {
        "a row earlier than the one above it".to_owned()
    } else {
        format!("{back} rows earlier than the one above them, the first here")
    };
    let first = moments.windows(2).position(|w| w[1] < w[0]);
    remarks.push(Remark::new(
        Kind::Sorted,
        first.map(|at| table.rows[at + 1].0),
        None,
        found,
        "put in order of time",
    ));
    // Stable: rows at one moment stay in the order of the file.
    order.sort_by_key(|row| moments[*row]);
}

/// Whether two cells hold the same reading; nothing equals nothing.
fn same(a: f64, b: f64) -> bool {
    a == b || (a.is_nan() && b.is_nan())
}

fn drop_doubles(
    order: &[usize],
    table: &Table,
    taken: &[Taken],
    moments: &Moments,
    keep: Option<Keep>,
    remarks: &mut Vec<Remark>,
    problems: &mut Problems,
) -> Vec<usize> {
    let width = taken.len();
    let at_s = moments.at_s.as_slice();
    let set_back = moments.set_back.map_or_else(String::new, |line| {
        format!(", and the clock goes back by an hour in line {line}")
    });
    let values = |row: usize| &table.values[row * width..(row + 1) * width];
    let mut kept: Vec<usize> = Vec::with_capacity(order.len());
    let (mut equal, mut told) = (Vec::new(), 0_usize);
    for row in order.iter().copied() {
        let Some(before) = kept.last_mut().filter(|last| at_s[**last] == at_s[row]) else {
            kept.push(row);
            continue;
        };
        let (line, line_before) = (table.rows[row].0, table.rows[*before].0);
        let Some(at) = (0..width).find(|at| !same(values(row)[*at], values(*before)[*at])) else {
            equal.push(line);
            continue;
        };
        let shown = |value: f64| match value.is_nan() {
            true => "nothing".to_owned(),
            false => format!("{value}"),
        };
        let found = format!(
            "{} here and {} in line {line_before}, both at {}",
            shown(values(row)[at]),
            shown(values(*before)[at]),
            moments.clock(at_s[row])
        );
        let Some(keep) = keep else {
            problems.push(Problem {
                asks: Some(Ask::Keep),
                ..problem(
                    line,
                    Some(&taken[at].name),
                    found + &set_back,
                    "one reading at a moment",
                    "say whether the first or the last counts; if the stamps lack seconds or the \
                     clock was changed, export with seconds or offsets",
                )
            });
            continue;
        };
        told += 1;
        if told <= MOST_TOLD {
            let done = match keep {
                Keep::First => "the first in the file kept, as asked",
                Keep::Last => "the last in the file kept, as asked",
            };
            let name = Some(taken[at].name.as_str());
            remarks.push(Remark::new(Kind::Dropped, Some(line), name, found, done));
        }
        if keep == Keep::Last {
            *before = row;
        }
    }
    if let Some(line) = equal.iter().min() {
        let found = match equal.len() {
            1 => "a row that repeats another at the same moment".to_owned(),
            n => format!("{n} rows that repeat others at the same moment, the first here"),
        };
        remarks.push(Remark::new(
            Kind::Dropped,
            Some(*line),
            None,
            found,
            "dropped, the values being the same",
        ));
    }
    if told > MOST_TOLD {
        remarks.push(Remark::new(
            Kind::Dropped,
            None,
            None,
            format!("{} more moments with two readings", told - MOST_TOLD),
            "settled in the same way",
        ));
    }
    kept
}

fn gaps(order: &[usize], table: &Table, moments: &Moments, remarks: &mut Vec<Remark>) {
    let steps = || {
        order
            .windows(2)
            .map(|w| moments.at_s[w[1]] - moments.at_s[w[0]])
    };
    let Some(usual_s) = usual_step(steps()) else {
        return;
    };
    // More than one and a half steps: at least one reading is missing, give or take a slow clock.
    let is_gap = |step_s: i64| 2 * step_s > 3 * usual_s;
    let all: Vec<(usize, i64)> = steps().enumerate().filter(|(_, s)| is_gap(*s)).collect();
    for (at, step_s) in all.iter().take(MOST_TOLD) {
        let (from, to) = (order[*at], order[*at + 1]);
        remarks.push(Remark::new(
            Kind::Gap { seconds: *step_s },
            Some(table.rows[to].0),
            None,
            format!(
                "no row for {} from {} to {}, the usual step being {}",
                length(*step_s),
                moments.clock(moments.at_s[from]),
                moments.clock(moments.at_s[to]),
                length(usual_s)
            ),
            "left open",
        ));
    }
    if let Some(longest) = all.iter().skip(MOST_TOLD).map(|(_, s)| *s).max() {
        remarks.push(Remark::new(
            Kind::Gap { seconds: longest },
            None,
            None,
            format!(
                "{} more gaps, the longest of them {}",
                all.len() - MOST_TOLD,
                length(longest)
            ),
            "left open",
        ));
    }
}

fn lost(
    readings: &[Reading],
    order: &[usize],
    table: &Table,
    moments: &Moments,
    name: &str,
    remarks: &mut Vec<Remark>,
) {
    let mut start = 0;
    let (mut told, mut more) = (0_usize, 0_usize);
    while start < readings.len() {
        if readings[start].value.is_some() {
            start += 1;
            continue;
        }
        let run = readings[start..]
            .iter()
            .take_while(|r| r.value.is_none())
            .count();
        let (from, to) = (readings[start].at_s, readings[start + run - 1].at_s);
        if told < MOST_TOLD {
            let found = match run {
                1 => format!("no reading at {}", moments.clock(from)),
                n => format!(
                    "no reading {n} times from {} to {}",
                    moments.clock(from),
                    moments.clock(to)
                ),
            };
            let line = Some(table.rows[order[start]].0);
            remarks.push(Remark::new(
                Kind::Lost,
                line,
                Some(name),
                found,
                "kept as readings of nothing",
            ));
            told += 1;
        } else {
            more += run;
        }
        start += run;
    }
    if more > 0 {
        remarks.push(Remark::new(
            Kind::Lost,
            None,
            Some(name),
            format!("no reading {more} more times"),
            "kept as readings of nothing",
        ));
    }
}
