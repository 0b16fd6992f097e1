//! From readings: when will it be there, does one curve carry them, and what must the next reading be?

use drawing::{Chart, Curve, Mark, Measured, Shape, Stroke};
use kitchen::site::RuleSet;
use safety::Verdict;
use safety::planned::{CoolingRule, cooling_rule};
use sources::list;
use units::Temperature;

use super::ruled;
use super::series::Series;
use crate::ask::answer::Answer;
use crate::ask::picture::{Pictured, axis, said, until};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::{Sheet, reading_of};
use crate::figures::{Figure, Value};

/// Minutes of a day.
pub(super) const DAY_MIN: f64 = 1440.0;

/// A reading and when: minutes after midnight, or after heat off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// The core.
    pub core: Temperature,
    /// Minutes.
    pub minute: f64,
}

/// The question once there are readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Followed {
    /// Two or more, in the order they were taken; a smaller minute than the one before is taken as after
    /// midnight.
    pub readings: Vec<Seen>,
    /// Air or water around it.
    pub air: Temperature,
    /// Whose rule.
    pub place: RuleSet,
}

/// Answers it.
///
/// # Errors
/// Readings that do not fall, or at one time; food already cold.
pub fn followed(ask: &Followed) -> Result<Pictured, Refusal> {
    let rule = cooling_rule(ask.place).map_err(Refusal::rules)?;
    let series = Series::of(ask)?;
    let (Some(before), Some(now)) = (series.all.first().copied(), series.all.last().copied())
    else {
        return Err(Refusal::new(
            "readings: found none",
            "two at least",
            "read it",
        ));
    };
    let (t0, t1) = (before.minute, now.minute);
    if now.core.c() <= rule.last_c {
        return Err(Refusal::new(
            format!("readings: found {} already", now.core),
            format!("above {} °C", rule.last_c),
            "write the time down: the cooling is over",
        ));
    }
    let air = ask.air;
    let mut sheet = Sheet::default();
    sheet.entered("air", air.c(), "°C");
    let mut rows = series.enter(&mut sheet)?;
    ruled(&rule, &mut sheet)?;

    // The clock starts where the core passed the rule's point: backwards along the same curve when the
    // first reading was above it, at the first reading when it was below.
    let tau_min = series.tau.time()?.minutes();
    let first_min = series.tau_first.time()?.minutes();
    let falls = |tau: f64, from: f64, to: f64| -> Option<f64> {
        let (a, b) = (from - air.c(), to - air.c());
        (b > 0.0).then(|| tau * (a / b).ln())
    };
    let fell = |from: f64, to: f64| falls(tau_min, from, to);
    let clock = t0
        + falls(first_min, before.core.c(), rule.from_c)
            .filter(|m| *m > 0.0)
            .unwrap_or(0.0);
    let by = if series.holds() == Some(false) {
        "tau.first"
    } else {
        "tau"
    };
    moment(
        &mut sheet,
        "clock",
        clock,
        "when the core passed the rule's first point; the first reading when it was below it",
        &["before", "before.time", by, "air", "rule.from"],
    );
    let first = point(
        "first",
        rule.first_c,
        rule.first_min,
        t1,
        clock,
        &fell,
        now.core,
        &mut sheet,
    );
    let last = point(
        "last",
        rule.last_c,
        rule.total_min,
        t1,
        clock,
        &fell,
        now.core,
        &mut sheet,
    );
    let two = rule.first_c > rule.last_c;
    let passed_first = now.core.c() <= rule.first_c;
    let late = (!passed_first && !first.keeps) || !last.keeps;
    let over = t1 > first.limit && !passed_first || t1 > last.limit;
    let word = if over {
        "TOO LATE"
    } else if late {
        "TOO SLOW"
    } else {
        "ON TRACK"
    };
    let told = |id: &str, point: &Point| {
        let to = sheet.show(&format!("rule.{id}"));
        let by = clocked(point.limit);
        match point.there {
            Some(at) => format!("{to} by {by}, forecast {}", clocked(at)),
            None => format!("{to} by {by}, never in air of {}", sheet.show("air")),
        }
    };
    let mut parts = Vec::new();
    if two && !passed_first {
        parts.push(told("first", &first));
    }
    parts.push(told("last", &last));
    let next = next(
        now.core,
        &rule,
        (t1, clock),
        passed_first,
        late,
        air,
        &mut sheet,
    );
    let by_two = if series.holds() == Some(false) {
        ", by the last two readings"
    } else {
        ""
    };
    let answer = format!("{word}{by_two}  {} at {}", sheet.show("now"), clocked(t1));
    let picture = picture(&series, &rule, air, clock)?;
    rows.insert(
        0,
        format!(
            "clock of the rule since    {:<10} core at {}",
            clocked(clock),
            sheet.show("rule.from")
        ),
    );
    let [status, base] = series.small();
    Ok(Pictured {
        answer: Answer {
            question: "cool",
            answer,
            limit: parts.join("; "),
            next,
            details: rows,
            small: vec![
                status,
                ("rule", reading_of(rule.source)),
                base,
                ("source", "Newton's law of cooling (from memory); the rule's clock is worked back along it".to_owned()),
            ],
            verdict: Some(if over { Verdict::Broken } else { Verdict::NotShown }),
            main: "now",
            figures: sheet.figures,
        },
        picture,
    })
}

/// A point of the rule: when it must be reached, when it will be.
struct Point {
    limit: f64,
    there: Option<f64>,
    keeps: bool,
}

#[expect(
    clippy::too_many_arguments,
    reason = "the two points differ in all of them"
)]
fn point(
    id: &str,
    to_c: f64,
    allowed_min: f64,
    now: f64,
    clock: f64,
    fell: &impl Fn(f64, f64) -> Option<f64>,
    core: Temperature,
    sheet: &mut Sheet,
) -> Point {
    let limit = clock + allowed_min;
    let limit_id = format!("{id}.by");
    let allowed = if id == "first" {
        "rule.first_time"
    } else {
        "rule.total_time"
    };
    moment(
        sheet,
        &limit_id,
        limit,
        "clock + time allowed",
        &["clock", allowed],
    );
    let there = fell(core.c(), to_c).map(|minutes| now + minutes);
    if let Some(at) = there {
        let to = format!("rule.{id}");
        let formula = "now + τ ln((now − air) ÷ (to − air))";
        moment(
            sheet,
            &format!("{id}.forecast"),
            at,
            formula,
            &["now", "now.time", "tau", "air", &to],
        );
    }
    Point {
        limit,
        keeps: there.is_some_and(|at| at <= limit),
        there,
    }
}

/// What the next reading must be, or what to do.
fn next(
    core: Temperature,
    rule: &CoolingRule,
    (now, clock): (f64, f64),
    passed_first: bool,
    late: bool,
    air: Temperature,
    sheet: &mut Sheet,
) -> String {
    let (to_c, allowed, to) = if passed_first {
        (rule.last_c, rule.total_min, "rule.last")
    } else {
        (rule.first_c, rule.first_min, "rule.first")
    };
    let (limit, start) = (clock + allowed, core.c());
    let act = "spread it to a second tray, stir, or stand it in ice";
    if now >= limit {
        return "past its time: it is for the person in charge to discard it or show why not; write all readings down".to_owned();
    }
    if late {
        return format!("now: {act}; read it again in a few minutes");
    }
    // Halfway to the limit, on the slowest curve from here that still keeps to it.
    let check = f64::midpoint(now, limit).round();
    let part = (check - now) / (limit - now);
    let (a, b) = (start - air.c(), to_c - air.c());
    let most = air.c() + a * (b / a).powf(part);
    moment(
        sheet,
        "check",
        check,
        "halfway from now to the limit",
        &["now.time", "clock"],
    );
    let formula =
        "air + (now − air) × ((limit − air) ÷ (now − air))^½: slowest curve that keeps to it";
    sheet.worked(
        "check.most",
        most,
        "°C",
        0,
        formula,
        &["now", "air", to, "check"],
    );
    format!(
        "read it at {}: if it is above {}, {act}",
        clocked(check),
        sheet.show("check.most")
    )
}

/// "17:20"; a full day begins anew.
fn clocked(minute: f64) -> String {
    let whole = minute.round().rem_euclid(DAY_MIN);
    format!("{}:{:02}", (whole / 60.0).floor(), whole % 60.0)
}

pub(super) fn moment(sheet: &mut Sheet, id: &str, minute: f64, formula: &str, from: &[&str]) {
    sheet.figures.put(Figure {
        id: id.to_owned(),
        value: Value::Word(clocked(minute)),
        unit: String::new(),
        base: None,
        from: from.iter().map(|s| (*s).to_owned()).collect(),
        formula: formula.to_owned(),
        source: if from.is_empty() {
            sources::Citation::whole(&list::ENTERED).to_string()
        } else {
            "computed".to_owned()
        },
        places: 0,
    });
}

fn picture(
    series: &Series,
    rule: &CoolingRule,
    air: Temperature,
    clock: f64,
) -> Result<Chart, Refusal> {
    let minutes = || series.all.iter().map(|s| s.minute);
    let t0 = minutes().fold(f64::INFINITY, f64::min);
    let t1 = minutes().fold(f64::NEG_INFINITY, f64::max);
    let now = series.all.last().map_or(air, |s| s.core);
    let end = (clock + rule.total_min).max(t1);
    let (unit, per_min) = match said((end - t0) / 60.0).1 {
        "min" => ("min", 1.0),
        _ => ("h", 1.0 / 60.0),
    };
    let tau_min = series.tau.time()?.minutes();
    // Forwards from the last reading it is a forecast; backwards it shows how the readings lie to it.
    let points: Vec<(f64, f64)> = (0..=120)
        .map(|i| {
            let minutes = (end - t0) * f64::from(i) / 120.0;
            let since = t0 + minutes - t1;
            (
                minutes * per_min,
                air.c() + (now - air).k() * (-since / tau_min).exp(),
            )
        })
        .filter(|(_, c)| series.holds() != Some(false) || *c <= now.c() + 0.5)
        .collect();
    let x = until("time since the first reading", unit, (end - t0) * per_min);
    let y = axis(
        "core",
        "°C",
        points
            .iter()
            .map(|p| p.1)
            .chain(series.all.iter().map(|s| s.core.c()))
            .chain([rule.last_c]),
    )?;
    let mark = |minutes: f64, c: f64| Mark {
        x: (minutes - t0) * per_min,
        label: format!("{c} °C by"),
    };
    let mut marks = vec![mark(clock + rule.first_min, rule.first_c)];
    if rule.first_c > rule.last_c {
        marks.push(mark(clock + rule.total_min, rule.last_c));
    }
    marks.retain(|m| m.x >= 0.0 && m.x <= x.to);
    Ok(Chart {
        title: "Cooling: read, and forecast from the readings".to_owned(),
        x,
        y,
        curves: vec![Curve {
            name: "forecast".to_owned(),
            points,
            stroke: Stroke::Dashed,
        }],
        bands: Vec::new(),
        marks,
        measured: vec![Measured {
            name: "read".to_owned(),
            points: series
                .all
                .iter()
                .map(|s| ((s.minute - t0) * per_min, s.core.c()))
                .collect(),
            shape: Shape::Circle,
        }],
    })
}

#[cfg(test)]
mod tests;
