//! From clocks on the wall to elapsed seconds: the zone, its ambiguous hour, a changed clock.

use jiff::civil::{DateTime, Time};
use jiff::tz::{AmbiguousOffset, Offset, TimeZone};

use crate::days;
use crate::stamp::{Clock, Day};
use crate::table::{Table, Written, problem};
use crate::told::{Ask, Kind, Problem, Problems, Remark};

const HOUR_S: i64 = 3600;

/// A local stamp and what it may mean.
#[derive(Debug, Clone, Copy)]
struct Local {
    /// Index of its row.
    row: usize,
    /// Seconds on the wall clock, as if it were UTC.
    wall_s: i64,
    /// The moment, or the earlier of two.
    at_s: i64,
    /// The later moment, in the hour a zone has twice.
    later_s: Option<i64>,
}

/// When each row was, in the order of the file.
pub(crate) struct Moments {
    /// Seconds since 1970-01-01T00:00Z.
    pub(crate) at_s: Vec<i64>,
    /// The line where the logger's own clock first goes back by an hour.
    pub(crate) set_back: Option<usize>,
    /// The zone of stamps without an offset.
    zone: TimeZone,
}

impl Moments {
    /// A moment as the clock on the wall had it.
    pub(crate) fn clock(&self, at_s: i64) -> String {
        clock(at_s, &self.zone, "")
    }
}

/// Moments of all rows.
pub(crate) fn find(
    table: &Table,
    zone: &TimeZone,
    day_first: bool,
    remarks: &mut Vec<Remark>,
    problems: &mut Problems,
) -> Moments {
    let mut moments = vec![0; table.rows.len()];
    let mut locals = Vec::new();
    for (row, (line, written)) in table.rows.iter().enumerate() {
        let (day, clock, offset_s) = match written {
            Written::Epoch(at_s) => {
                moments[row] = *at_s;
                continue;
            }
            Written::Civil {
                day,
                clock,
                offset_s,
            } => (*day, *clock, *offset_s),
        };
        let placed = match civil(day, clock, day_first) {
            Some(civil) => place(row, civil, offset_s, zone),
            None => None,
        };
        match placed {
            Some(Placed::At(at_s)) => moments[row] = at_s,
            Some(Placed::Local(local)) => {
                moments[row] = local.at_s;
                locals.push(local);
            }
            Some(Placed::Never) => problems.push(Problem {
                asks: Some(Ask::Zone),
                ..problem(
                    *line,
                    None,
                    format!("a time the clocks of {} skipped that day", zone_name(zone)),
                    "times that were on the clock",
                    "if the logger does not follow summer time, give its fixed offset as the zone",
                )
            }),
            None => problems.push(problem(
                *line,
                None,
                "a date that is not in the calendar".to_owned(),
                if day_first {
                    "a day of the calendar, read day first where the year stands last"
                } else {
                    "a day of the calendar, read month first"
                },
                "mend the line, or say which of day and month stands first",
            )),
        }
    }
    let set_back = settle(&mut locals, &mut moments, table, zone, remarks, problems);
    Moments {
        at_s: moments,
        set_back,
        zone: zone.clone(),
    }
}

fn civil(day: Day, clock: Clock, day_first: bool) -> Option<DateTime> {
    let part = |n: u8| i8::try_from(n).ok();
    let time = Time::new(
        part(clock.hour)?,
        part(clock.minute)?,
        part(clock.second)?,
        0,
    )
    .ok()?;
    Some(days::date(day, day_first)?.to_datetime(time))
}

enum Placed {
    At(i64),
    Local(Local),
    Never,
}

fn place(row: usize, civil: DateTime, offset_s: Option<i32>, zone: &TimeZone) -> Option<Placed> {
    let at = |offset: Offset| offset.to_timestamp(civil).ok().map(|t| t.as_second());
    if let Some(seconds) = offset_s {
        return at(Offset::from_seconds(seconds).ok()?).map(Placed::At);
    }
    let wall_s = at(Offset::UTC)?;
    let local = |at_s, later_s| {
        Placed::Local(Local {
            row,
            wall_s,
            at_s,
            later_s,
        })
    };
    match zone.to_ambiguous_timestamp(civil).offset() {
        AmbiguousOffset::Unambiguous { offset } => Some(local(at(offset)?, None)),
        AmbiguousOffset::Gap { .. } => Some(Placed::Never),
        AmbiguousOffset::Fold { before, after } => Some(local(at(before)?, Some(at(after)?))),
    }
}

pub(crate) fn zone_name(zone: &TimeZone) -> String {
    match zone.iana_name() {
        Some(name) => name.to_owned(),
        None => match zone.to_fixed_offset() {
            Ok(offset) => format!("the fixed offset {offset}"),
            Err(_) => "the zone given".to_owned(),
        },
    }
}

/// Settles the hour a zone has twice by the order of the rows; where that does not tell, asks.
///
/// Going by order needs a file in order: within the hour the wall clock goes back once, elsewhere never.
fn settle(
    locals: &mut [Local],
    moments: &mut [i64],
    table: &Table,
    zone: &TimeZone,
    remarks: &mut Vec<Remark>,
    problems: &mut Problems,
) -> Option<usize> {
    let down = locals
        .windows(2)
        .filter(|w| w[1].wall_s < w[0].wall_s)
        .count();
    let up = locals
        .windows(2)
        .filter(|w| w[1].wall_s > w[0].wall_s)
        .count();
    if down > up {
        // Newest first.
        locals.reverse();
    }
    let step_s = usual_step(locals.windows(2).map(|w| w[1].wall_s - w[0].wall_s));
    let line = |local: &Local| table.rows[local.row].0;
    let together = |w: &[Local]| {
        w[0].later_s.is_some()
            && w[1].later_s.is_some()
            && (w[1].wall_s - w[0].wall_s).abs() < 2 * HOUR_S
    };
    // An hourly log shows the hour it has twice as one stamp twice.
    let back = |w: &[Local]| {
        let by_s = w[1].wall_s - w[0].wall_s;
        by_s < 0 || (by_s == 0 && together(w) && step_s.is_some_and(|step| step >= HOUR_S))
    };
    let (mut stray, mut set_back) = (false, None);
    for pair in locals.windows(2).filter(|w| back(w) && !together(w)) {
        stray = true;
        let by_s = pair[1].wall_s - pair[0].wall_s;
        if by_s == -HOUR_S || step_s.is_some_and(|step| by_s == step - HOUR_S) {
            set_back = set_back.or(Some(line(&pair[1])));
            remarks.push(Remark::new(
                Kind::ClockChange,
                Some(line(&pair[1])),
                None,
                format!(
                    "the clock goes back by an hour, and that of {} does not",
                    zone_name(zone)
                ),
                "stamps taken as written; check the zone and the rows around",
            ));
        }
    }
    if !stray {
        forward(locals, table, remarks);
    }
    let mut start = 0;
    while start < locals.len() {
        if locals[start].later_s.is_none() {
            start += 1;
            continue;
        }
        let mut end = start + 1;
        while end < locals.len() && together(&locals[end - 1..=end]) {
            end += 1;
        }
        let block = &locals[start..end];
        let turns: Vec<usize> = (1..block.len())
            .filter(|at| back(&block[at - 1..=*at]))
            .collect();
        match turns.as_slice() {
            [turn] if !stray => {
                for local in &block[*turn..] {
                    moments[local.row] = local.later_s.unwrap_or(local.at_s);
                }
                remarks.push(Remark::new(
                    Kind::ClockChange,
                    Some(line(&block[*turn])),
                    None,
                    "the clocks went back, and the hour before stands twice".to_owned(),
                    "told apart by the order of the rows: this row is the first of the second hour",
                ));
            }
            _ => problems.push(ambiguous(&block[0], line(&block[0]), zone)),
        }
        start = end;
    }
    set_back
}

/// Tells where the clocks of the zone went forward between two rows.
fn forward(locals: &[Local], table: &Table, remarks: &mut Vec<Remark>) {
    let ahead = |local: &Local| local.wall_s - local.at_s;
    for pair in locals.windows(2) {
        if ahead(&pair[1]) > ahead(&pair[0]) {
            remarks.push(Remark::new(
                Kind::ClockChange,
                Some(table.rows[pair[1].row].0),
                None,
                "the clocks went forward before this row".to_owned(),
                "the skipped hour is not counted as time",
            ));
        }
    }
}

fn ambiguous(local: &Local, line: usize, zone: &TimeZone) -> Problem {
    let later_s = local.later_s.unwrap_or(local.at_s);
    Problem {
        asks: Some(Ask::Zone),
        ..problem(
            line,
            None,
            format!(
                "a time that {} had twice: {} or {}",
                zone_name(zone),
                clock(local.at_s, zone, " (%:z)"),
                clock(later_s, zone, " (%:z)")
            ),
            "rows in order that pass through the hour twice, or stamps with their offset",
            "give the fixed offset of the logger's clock as the zone, or export with offsets",
        )
    }
}

/// A moment on the clock of a zone, to the minute where it is a whole one.
fn clock(at_s: i64, zone: &TimeZone, end: &str) -> String {
    jiff::Timestamp::from_second(at_s).map_or_else(
        |_| format!("{at_s} s"),
        |stamp| {
            let zoned = stamp.to_zoned_datetime(zone.clone());
            let seconds = if zoned.second() == 0 { "" } else { ":%S" };
            zoned
                .strftime(&format!("%F %H:%M{seconds}{end}"))
                .to_string()
        },
    )
}

/// The usual step: the lower median of all steps forward, seconds.
pub(crate) fn usual_step(steps: impl Iterator<Item = i64>) -> Option<i64> {
    let mut steps: Vec<i64> = steps.filter(|step| *step > 0).collect();
    if steps.is_empty() {
        return None;
    }
    let middle = (steps.len() - 1) / 2;
    let (_, median, _) = steps.select_nth_unstable(middle);
    Some(*median)
}
