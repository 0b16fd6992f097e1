//! From readings: when will it be there, does one curve carry them, and what must the next reading be?

use drawing::{Chart, Curve, Mark, Measured, Shape, Stroke};
use kitchen::site::RuleSet;
use safety::Verdict;
use safety::planned::{CoolingRule, cooling_rule};
use science::cooling::{CoolingFit, LEAST_READINGS, TimeConstant};
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

/// How far a reading may lie off the one curve before the law is said not to hold, K; house value: two
/// steps of a kitchen probe.
const HOLDS_WITHIN_K: f64 = 1.0;

/// The readings with their minutes in rising order, and the curve they are forecast by.
struct Series {
    all: Vec<Seen>,
    tau: TimeConstant,
    /// The time constant at the beginning, by which the rule's clock is worked back.
    tau_first: TimeConstant,
    fit: Option<CoolingFit>,
}

impl Series {
    fn of(ask: &Followed) -> Result<Self, Refusal> {
        let mut all: Vec<Seen> = Vec::new();
        for seen in &ask.readings {
            let mut seen = *seen;
            while all.last().is_some_and(|before| seen.minute < before.minute) {
                seen.minute += DAY_MIN;
            }
            all.push(seen);
        }
        let ([first, second, ..], [.., last_but_one, last]) = (all.as_slice(), all.as_slice())
        else {
            return Err(Refusal::new(
                format!("readings: found {}", all.len()),
                "two at least",
                "read it once more, later",
            ));
        };
        if let Some(pair) = all.windows(2).find(|p| p[1].core >= p[0].core) {
            return Err(Refusal::new(
                format!("readings: found {} and then {}", pair[0].core, pair[1].core),
                "every reading below the one before",
                "it is not cooling: check the probe, then move it to ice or blast",
            ));
        }
        let between = |a: &Seen, b: &Seen| {
            let time = Elapsed::from_minutes(b.minute - a.minute)?;
            Ok::<_, Refusal>(TimeConstant::measured(a.core, b.core, ask.air, time)?)
        };
        let (tau_first, tau_last) = (between(first, second)?, between(last_but_one, last)?);
        let fit = if all.len() >= LEAST_READINGS {
            let points = all
                .iter()
                .map(|s| Ok((Elapsed::from_minutes(s.minute - first.minute)?, s.core)))
                .collect::<Result<Vec<_>, Refusal>>()?;
            Some(CoolingFit::through(&points, ask.air)?)
        } else {
            None
        };
        Ok(match fit {
            Some(found) if found.furthest_k.abs() <= HOLDS_WITHIN_K => Self {
                all,
                tau: found.constant,
                tau_first: found.constant,
                fit,
            },
            // Where one curve does not carry them all, what comes is told by the last two alone.
            _ => Self {
                all,
                tau: tau_last,
                tau_first,
                fit,
            },
        })
    }

    fn holds(&self) -> Option<bool> {
        self.fit.map(|f| f.furthest_k.abs() <= HOLDS_WITHIN_K)
    }

    /// Puts readings, time constant and residual on the sheet; the rows that tell of them.
    fn enter(&self, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
        let count = self.all.len();
        let id = |i: usize| match i {
            0 => "before".to_owned(),
            i if i + 1 == count => "now".to_owned(),
            i => format!("between.{i}"),
        };
        let mut ids = Vec::new();
        for (i, seen) in self.all.iter().enumerate() {
            let time = format!("{}.time", id(i));
            sheet.entered(&id(i), seen.core.c(), "°C");
            moment(sheet, &time, seen.minute, "", &[]);
            ids.extend([id(i), time]);
        }
        ids.push("air".to_owned());
        let all: Vec<&str> = ids.iter().map(String::as_str).collect();
        let pair = |a: usize, b: usize| {
            let of = |i: usize| [id(i), format!("{}.time", id(i))];
            let mut ids = [of(a), of(b)].concat();
            ids.push("air".to_owned());
            ids
        };
        let newton = "time between ÷ ln((before − air) ÷ (now − air)), Newton's law of cooling";
        let fitted =
            "T = air + A e^(−t ÷ τ), Newton's law of cooling, least squares through all readings";
        if self.holds() == Some(true) {
            lasts(sheet, "tau", self.tau.time()?, fitted, &all);
        } else {
            let last = pair(count - 2, count - 1);
            let from: Vec<&str> = last.iter().map(String::as_str).collect();
            lasts(sheet, "tau", self.tau.time()?, newton, &from);
        }
        let in_what = match self.holds() {
            Some(true) => format!("in {count} readings"),
            Some(false) => "in the last two readings".to_owned(),
            None => "in two readings".to_owned(),
        };
        let mut rows = vec![format!(
            "time constant              {:<10} of the difference to {} {in_what}",
            sheet.show("tau"),
            sheet.show("air")
        )];
        if self.holds() == Some(true) {
            sheet.entered("readings", count as f64, "");
        }
        let Some(fit) = self.fit else {
            return Ok(rows);
        };
        let formula =
            "√(Σ (read − curve)² ÷ (readings − 2)), one curve by least squares through all";
        sheet.worked("scatter", fit.scatter_k, "K", 2, formula, &all);
        let formula = "furthest of read − curve, one curve by least squares through all";
        sheet.worked("furthest", fit.furthest_k.abs(), "K", 1, formula, &all);
        sheet.known(
            "holds.within",
            HOLDS_WITHIN_K,
            "K",
            &list::HOUSE,
            "two steps of a kitchen probe",
        );
        let verdict = if self.holds() == Some(true) {
            "the law of cooling holds so far"
        } else {
            "the law of cooling does NOT hold"
        };
        rows.push(format!(
            "one curve through all      off by {} at most, scatter {}: {verdict}",
            sheet.show("furthest"),
            sheet.show("scatter")
        ));
        if self.holds() == Some(false) {
            let first = pair(0, 1);
            let from: Vec<&str> = first.iter().map(String::as_str).collect();
            lasts(sheet, "tau.first", self.tau_first.time()?, newton, &from);
            let how = if self.tau > self.tau_first {
                "it cools more slowly now than at first: air that warms, a full fridge, a lid"
            } else {
                "it cools faster now than at first: a core that lagged behind, or was moved"
            };
            rows.push(format!(
                "in the first two           {}",
                sheet.show("tau.first")
            ));
            rows.push(how.to_owned());
        }
        Ok(rows)
    }

    fn small(&self) -> [(&'static str, String); 2] {
        let (status, base) = match self.holds() {
            None => (
                "Two readings give no spread, and always lie on the curve".to_owned(),
                "A thick core read soon after heat off falls slowly at first, which forecasts too late",
            ),
            Some(true) => (
                "What lies beyond the last reading is extrapolation, no evidence".to_owned(),
                "readings off by no more than a probe is read to say nothing against it",
            ),
            Some(false) => (
                "One curve does not carry the readings: the forecast stands on the last two alone"
                    .to_owned(),
                "the rule's clock is worked back by the first two, what comes by the last two",
            ),
        };
        [
            (
                "status",
                format!("a forecast, not shown: the next reading shows it. {status}"),
            ),
            (
                "base",
                format!("one time constant: air and coldest surface stay as they are. {base}"),
            ),
        ]
    }
}

/// Answers it.
///
/// # Errors
/// Readings that do not fall, or at one time; food already cold.
pub fn followed(ask: &Followed) -> Result<Pictured, Refusal> {
    let rule = cooling_rule(ask.place);
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
    let answer = format!("{word}  {} at {}", sheet.show("now"), clocked(t1));
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
            readings: vec![before, now],
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

    /// Readings of the curve of the two above, and one in between that lies off it.
    #[test]
    fn more_readings_give_the_same_curve_or_say_that_one_does_not_hold() {
        let on = |minute: f64| seen(3.0 + 54.0 * (-minute / 99.1).exp(), minute);
        let mut ask = asked(on(0.0), on(55.0), 3.0);
        ask.readings = vec![on(0.0), on(20.0), on(40.0), on(55.0)];
        let found = followed(&ask).unwrap().answer;
        assert_eq!(
            found.limit,
            "21 °C by 2:00, forecast 1:49; 5 °C by 6:00, forecast 5:27"
        );
        assert!(
            found.text().contains("the law of cooling holds so far"),
            "{}",
            found.text()
        );
        ask.readings[1].core = Temperature::celsius(56.0).unwrap();
        let found = followed(&ask).unwrap().answer;
        assert!(found.text().contains("does NOT hold"), "{}", found.text());
        assert_eq!(found.verdict, Some(Verdict::NotShown));
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
