//! From two readings: when will it be there, and what must the next reading be?

use drawing::{Chart, Curve, Mark, Measured, Shape, Stroke};
use kitchen::site::RuleSet;
use safety::Verdict;
use safety::planned::{CoolingRule, cooling_rule};
use science::cooling::TimeConstant;
use sources::list;
use units::{Elapsed, Temperature};

use super::ruled;
use crate::ask::answer::Answer;
use crate::ask::picture::{Pictured, axis, lasts, said, until};
use crate::ask::refusal::Refusal;
use crate::ask::sheet::{Sheet, reading_of};
use crate::figures::{Figure, Value};

/// Minutes of a day.
const DAY_MIN: f64 = 1440.0;

/// A reading and when: minutes after midnight, or after heat off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// The core.
    pub core: Temperature,
    /// Minutes.
    pub minute: f64,
}

/// The question once there are two readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Followed {
    /// The first.
    pub before: Seen,
    /// The second; a smaller minute is taken as after midnight.
    pub now: Seen,
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
    let (t0, mut t1) = (ask.before.minute, ask.now.minute);
    if t1 < t0 {
        t1 += DAY_MIN;
    }
    if ask.now.core >= ask.before.core {
        return Err(Refusal::new(
            format!(
                "readings: found {} and then {}",
                ask.before.core, ask.now.core
            ),
            "a second reading below the first",
            "it is not cooling: check the probe, then move it to ice or blast",
        ));
    }
    if ask.now.core.c() <= rule.last_c {
        return Err(Refusal::new(
            format!("readings: found {} already", ask.now.core),
            format!("above {} °C", rule.last_c),
            "write the time down: the cooling is over",
        ));
    }
    let air = ask.air;
    let between = Elapsed::from_minutes(t1 - t0)?;
    let tau = TimeConstant::measured(ask.before.core, ask.now.core, air, between)?;
    let mut sheet = Sheet::default();
    sheet.entered("before", ask.before.core.c(), "°C");
    sheet.entered("now", ask.now.core.c(), "°C");
    sheet.entered("air", air.c(), "°C");
    moment(&mut sheet, "before.time", t0, "", &[]);
    moment(&mut sheet, "now.time", t1, "", &[]);
    ruled(&rule, &mut sheet)?;
    let newton = "time between ÷ ln((before − air) ÷ (now − air)), Newton's law of cooling";
    let readings = ["before", "now", "before.time", "now.time", "air"];
    lasts(&mut sheet, "tau", tau.time()?, newton, &readings);

    // The clock starts where the core passed the rule's point: backwards along the same curve when the
    // first reading was above it, at the first reading when it was below.
    let tau_min = tau.time()?.minutes();
    let fell = |from: f64, to: f64| -> Option<f64> {
        let (a, b) = (from - air.c(), to - air.c());
        (b > 0.0).then(|| tau_min * (a / b).ln())
    };
    let clock = t0
        + fell(ask.before.core.c(), rule.from_c)
            .filter(|m| *m > 0.0)
            .unwrap_or(0.0);
    moment(
        &mut sheet,
        "clock",
        clock,
        "when the core passed the rule's first point; the first reading when it was below it",
        &["before", "before.time", "tau", "air", "rule.from"],
    );
    let first = point(
        "first",
        rule.first_c,
        rule.first_min,
        t1,
        clock,
        &fell,
        ask,
        &mut sheet,
    );
    let last = point(
        "last",
        rule.last_c,
        rule.total_min,
        t1,
        clock,
        &fell,
        ask,
        &mut sheet,
    );
    let two = rule.first_c > rule.last_c;
    let passed_first = ask.now.core.c() <= rule.first_c;
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
    let next = next(ask, &rule, (t1, clock), passed_first, late, air, &mut sheet);
    let answer = format!("{word}  {} at {}", sheet.show("now"), clocked(t1));
    let picture = picture(ask, &rule, (t0, t1), tau_min, clock)?;
    Ok(Pictured {
        answer: Answer {
            question: "cool",
            answer,
            limit: parts.join("; "),
            next,
            details: vec![
                format!("clock of the rule since {:<10} core at {}", clocked(clock), sheet.show("rule.from")),
                format!("time constant              {:<10} of the difference to {} in two readings", sheet.show("tau"), sheet.show("air")),
            ],
            small: vec![
                ("status", "a forecast, not shown: the next reading shows it. Two readings give no spread".to_owned()),
                ("rule", reading_of(rule.source)),
                ("base", "one time constant: air and coldest surface stay as they are. A thick core read soon after heat off falls slowly at first, which forecasts too late".to_owned()),
                ("source", "Newton's law of cooling (from memory); the rule's clock is worked back along the same curve".to_owned()),
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
    ask: &Followed,
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
    let there = fell(ask.now.core.c(), to_c).map(|minutes| now + minutes);
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
    ask: &Followed,
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
    let (limit, start) = (clock + allowed, ask.now.core.c());
    let act = "spread it to a second tray, stir, or stand it in ice";
    if now >= limit {
        return "past its time: it is for the person in charge to discard it or show why not; write both readings down".to_owned();
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

fn moment(sheet: &mut Sheet, id: &str, minute: f64, formula: &str, from: &[&str]) {
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
    ask: &Followed,
    rule: &CoolingRule,
    (t0, t1): (f64, f64),
    tau_min: f64,
    clock: f64,
) -> Result<Chart, Refusal> {
    let end = (clock + rule.total_min).max(t1);
    let (unit, per_min) = match said((end - t0) / 60.0).1 {
        "min" => ("min", 1.0),
        _ => ("h", 1.0 / 60.0),
    };
    let air = ask.air.c();
    let points: Vec<(f64, f64)> = (0..=120)
        .map(|i| {
            let minutes = (end - t0) * f64::from(i) / 120.0;
            (
                minutes * per_min,
                air + (ask.before.core.c() - air) * (-minutes / tau_min).exp(),
            )
        })
        .collect();
    let x = until("time since the first reading", unit, (end - t0) * per_min);
    let y = axis(
        "core",
        "°C",
        points.iter().map(|p| p.1).chain([rule.last_c]),
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
        title: "Cooling forecast from two readings".to_owned(),
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
            points: vec![
                (0.0, ask.before.core.c()),
                ((t1 - t0) * per_min, ask.now.core.c()),
            ],
            shape: Shape::Circle,
        }],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(c: f64, minute: f64) -> Seen {
        Seen {
            core: Temperature::celsius(c).unwrap(),
            minute,
        }
    }

    fn asked(before: Seen, now: Seen, air: f64) -> Followed {
        Followed {
            before,
            now,
            air: Temperature::celsius(air).unwrap(),
            place: RuleSet::Us,
        }
    }

    /// By hand: 57 to 34 °C in 55 min in air of 3 °C is τ = 55 ÷ ln(54 ÷ 31) = 99.1 min; 21 °C is
    /// 99.1 × ln(31 ÷ 18) = 53.9 min on, at 1:49, eleven minutes before 2:00; 5 °C is 99.1 × ln(31 ÷ 2) =
    /// 271.6 min on, at 5:27.
    #[test]
    fn two_readings_forecast_both_limits() {
        let found = followed(&asked(seen(57.0, 0.0), seen(34.0, 55.0), 3.0))
            .unwrap()
            .answer;
        assert!(
            found.answer.starts_with("ON TRACK  34 °C at 0:55"),
            "{}",
            found.answer
        );
        assert_eq!(
            found.limit,
            "21 °C by 2:00, forecast 1:49; 5 °C by 6:00, forecast 5:27"
        );
        assert_eq!(found.verdict, Some(Verdict::NotShown));
    }

    #[test]
    fn a_slow_one_is_told_so_before_it_is_late_and_broken_after() {
        let slow = followed(&asked(seen(57.0, 0.0), seen(45.0, 55.0), 3.0))
            .unwrap()
            .answer;
        assert!(slow.answer.starts_with("TOO SLOW"), "{}", slow.answer);
        assert_eq!(slow.verdict, Some(Verdict::NotShown));
        let late = followed(&asked(seen(57.0, 0.0), seen(30.0, 130.0), 3.0))
            .unwrap()
            .answer;
        assert!(late.answer.starts_with("TOO LATE"), "{}", late.answer);
        assert_eq!(late.verdict, Some(Verdict::Broken));
    }

    #[test]
    fn a_reading_that_rises_is_no_cooling() {
        assert!(followed(&asked(seen(34.0, 0.0), seen(40.0, 55.0), 3.0)).is_err());
        assert!(followed(&asked(seen(57.0, 0.0), seen(4.0, 55.0), 3.0)).is_err());
    }

    #[test]
    fn midnight_is_passed() {
        let found = followed(&asked(seen(57.0, 1400.0), seen(34.0, 15.0), 3.0))
            .unwrap()
            .answer;
        assert!(found.answer.ends_with("at 0:15"), "{}", found.answer);
        assert!(found.limit.contains("by 1:20"), "{}", found.limit);
    }
}
