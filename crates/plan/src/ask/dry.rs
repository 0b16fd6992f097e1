//! When has it dried enough, going by its own weighings?

use drawing::{Chart, Curve, Mark, Measured, Shape, Stroke};
use science::ScienceError;
use science::drying::Rate;
use sources::list;
use units::{Elapsed, Mass};

use super::answer::Answer;
use super::picture::{Pictured, axis, until};
use super::refusal::Refusal;
use super::sheet::{Sheet, weight_places};

/// Quantiles of Student's t that leave 2.5 % above, by degrees of freedom; between two rows the lower
/// one counts, which is the wider. Source: printed tables, from memory.
const STUDENT: &[(usize, f64)] = &[
    (1, 12.706),
    (2, 4.303),
    (3, 3.182),
    (4, 2.776),
    (5, 2.571),
    (6, 2.447),
    (7, 2.365),
    (8, 2.306),
    (9, 2.262),
    (10, 2.228),
    (15, 2.131),
    (20, 2.086),
    (30, 2.042),
];
/// First-order loss, and its source, once for all formulas.
const FIRST_ORDER: &str = "w = w₀ e^(−k t), first-order loss (common practice, no source)";

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Dry {
    /// Weight when it was hung.
    pub from: Mass,
    /// Weighings since, with the time after hanging.
    pub weighed: Vec<(Mass, Elapsed)>,
    /// Loss wanted, percent of the weight when hung.
    pub target_pct: f64,
    /// A day to tell the weight of.
    pub on: Option<Elapsed>,
}

/// The line through ln(weight) against days.
struct Fit {
    k: f64,
    /// Half of the interval of `k`, where there are weighings enough.
    half: Option<f64>,
    middle_d: f64,
    middle_ln: f64,
}

impl Fit {
    /// Days to a weight at a rate, the line turned about the middle of the weighings.
    fn days(&self, weight_g: f64, k: f64) -> f64 {
        self.middle_d + (self.middle_ln - weight_g.ln()) / k
    }

    fn weight_g(&self, days: f64, k: f64) -> f64 {
        (self.middle_ln - k * (days - self.middle_d)).exp()
    }
}

/// Answers it.
///
/// # Errors
/// No weighing; one heavier than the one before; two at one time; a target of nothing or all.
pub fn dry(ask: &Dry) -> Result<Pictured, Refusal> {
    let mut points = vec![(0.0, ask.from)];
    points.extend(ask.weighed.iter().map(|(mass, time)| (time.days(), *mass)));
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    if points.len() < 2 {
        return Err(Refusal::new(
            "found one weight",
            "a second weighing",
            "weigh it and give --now and --after",
        ));
    }
    for pair in points.windows(2) {
        let days = Elapsed::from_days(pair[1].0 - pair[0].0)?;
        Rate::weighed(pair[0].1, pair[1].1, days)?;
    }
    if !(0.0 < ask.target_pct && ask.target_pct < 90.0) {
        return Err(Refusal::new(
            format!("--target: found {} %", ask.target_pct),
            "above 0 and below 90 % of the weight when hung",
            "30 to 40 % is usual for a whole muscle (common practice, no source)",
        ));
    }
    let fit = fit(&points)?;
    let mut sheet = Sheet::default();
    enter(ask, &points, &mut sheet);
    let ids: Vec<String> = (1..points.len())
        .flat_map(|i| [format!("weight.{i}"), format!("day.{i}")])
        .collect();
    let all: Vec<&str> = ["hung"]
        .into_iter()
        .chain(ids.iter().map(String::as_str))
        .collect();
    let how = if points.len() == 2 {
        "ln(w₁ ÷ w₂) ÷ days"
    } else {
        "least squares through ln(weight) against days"
    };
    sheet.worked(
        "k",
        fit.k,
        "per day",
        4,
        &format!("{how}; {FIRST_ORDER}"),
        &all,
    );
    let goal_g = ask.from.g() * (1.0 - ask.target_pct / 100.0);
    sheet.worked(
        "goal",
        goal_g,
        "g",
        weight_places(goal_g),
        "hung × (1 − target)",
        &["hung", "target"],
    );
    let done = fit.days(goal_g, fit.k);
    let line: Vec<&str> = all.iter().copied().chain(["k", "goal"]).collect();
    sheet.worked(
        "done",
        done,
        "d",
        1,
        &format!("day the line comes to the goal; {FIRST_ORDER}"),
        &line,
    );
    let (last_d, last) = points.last().copied().unwrap_or((0.0, ask.from));
    let lost = (1.0 - last.g() / ask.from.g()) * 100.0;
    let last_id = format!("weight.{}", points.len() - 1);
    let last_day = format!("day.{}", points.len() - 1);
    sheet.worked("lost", lost, "%", 1, "1 − now ÷ hung", &["hung", &last_id]);
    sheet.worked(
        "left",
        done - last_d,
        "d",
        1,
        "day of the goal − now",
        &["done", &last_day],
    );

    let mut details = vec![row("rate", &sheet.show("k"), "of what is left, each day")];
    let interval = interval(&fit, goal_g, &line, &mut sheet);
    details.extend(interval.iter().cloned());
    let on = ask
        .on
        .map(|time| at_a_day(ask, &fit, time.days(), &line, &mut sheet));
    details.extend(on);
    let answer = format!(
        "{}  until {} of the hang weight is lost",
        day(&sheet, "done"),
        sheet.show("target")
    );
    let limit = if done <= last_d {
        format!(
            "{} is reached: {} lost, {} is {} or less",
            sheet.show("target"),
            sheet.show("lost"),
            "the goal",
            sheet.show("goal")
        )
    } else {
        format!(
            "goal {} of {}; now {} on day {}, {} lost, {} to go",
            sheet.show("goal"),
            sheet.show("hung"),
            sheet.show(&last_id),
            sheet.bare(&last_day),
            sheet.show("lost"),
            sheet.show("left")
        )
    };
    let next = if done <= last_d {
        "take it down, weigh it once more, wrap and date it".to_owned()
    } else {
        "weigh it again in a few days and ask with --weighed: a piece slows as its outside hardens, so this day is \
         the early side"
            .to_owned()
    };
    let picture = picture(ask, &points, &fit, goal_g, done)?;
    Ok(Pictured {
        answer: Answer {
            question: "dry",
            answer,
            limit,
            next,
            details,
            small: small(points.len()),
            verdict: None,
            main: "done",
            figures: sheet.figures,
        },
        picture,
    })
}

fn day(sheet: &Sheet, id: &str) -> String {
    format!("day {}", sheet.bare(id))
}

fn row(what: &str, figure: &str, note: &str) -> String {
    format!("{what:<26}{figure:>16}   {note}")
}

fn enter(ask: &Dry, points: &[(f64, Mass)], sheet: &mut Sheet) {
    sheet.entered("hung", ask.from.g(), "g");
    sheet.entered("target", ask.target_pct, "%");
    sheet.figures.of("target", "weight when hung");
    for (i, (days, mass)) in points.iter().enumerate().skip(1) {
        sheet.entered(&format!("weight.{i}"), mass.g(), "g");
        sheet.entered(&format!("day.{i}"), *days, "d");
    }
    for id in ["hung", "weight.1", "weight.2"] {
        // Weighed to a tenth, shown to a tenth: 310.0 g says what the scale said.
        if let Some(figure) = sheet.figures.get(id).cloned() {
            let places = figure.places.max(1);
            sheet.figures.put(crate::Figure { places, ..figure });
        }
    }
}

/// The line of least squares; with two points it goes through both.
fn fit(points: &[(f64, Mass)]) -> Result<Fit, ScienceError> {
    let n = points.len() as f64;
    let logs: Vec<(f64, f64)> = points.iter().map(|(d, m)| (*d, m.g().ln())).collect();
    let middle_d = logs.iter().map(|p| p.0).sum::<f64>() / n;
    let middle_ln = logs.iter().map(|p| p.1).sum::<f64>() / n;
    let sxx: f64 = logs.iter().map(|p| (p.0 - middle_d).powi(2)).sum();
    let sxy: f64 = logs
        .iter()
        .map(|p| (p.0 - middle_d) * (p.1 - middle_ln))
        .sum();
    let k = Rate::per_day(-sxy / sxx)?.k_per_day();
    let half = logs
        .len()
        .checked_sub(2)
        .filter(|free| *free > 0)
        .map(|free| {
            let left: f64 = logs
                .iter()
                .map(|p| (p.1 - (middle_ln - k * (p.0 - middle_d))).powi(2))
                .sum();
            student(free) * (left / free as f64 / sxx).sqrt()
        });
    Ok(Fit {
        k,
        half,
        middle_d,
        middle_ln,
    })
}

fn student(free: usize) -> f64 {
    STUDENT
        .iter()
        .take_while(|(f, _)| *f <= free)
        .last()
        .map_or(f64::INFINITY, |(_, t)| *t)
}

/// The interval of the rate and of the day, as a row; nothing from two weighings.
fn interval(fit: &Fit, goal_g: f64, from: &[&str], sheet: &mut Sheet) -> Option<String> {
    let half = fit.half?;
    let (slow, fast) = (fit.k - half, fit.k + half);
    let formula = "k ± t × √(residual ÷ Σ(day − middle)²), 95 % (Student 1908, from memory)";
    let ids: Vec<&str> = from.iter().copied().filter(|id| *id != "goal").collect();
    sheet.worked("k.low", slow, "per day", 4, formula, &ids);
    sheet.worked("k.high", fast, "per day", 4, formula, &ids);
    let formula = format!("the line turned about the middle of the weighings; {FIRST_ORDER}");
    sheet.worked(
        "done.early",
        fit.days(goal_g, fast),
        "d",
        1,
        &formula,
        &["k.high", "goal"],
    );
    let day = if slow > 0.0 {
        sheet.worked(
            "done.late",
            fit.days(goal_g, slow),
            "d",
            1,
            &formula,
            &["k.low", "goal"],
        );
        format!(
            "day {} to {}",
            sheet.bare("done.early"),
            sheet.bare("done.late")
        )
    } else {
        format!(
            "from day {} on, with no end to it: weigh more often",
            sheet.bare("done.early")
        )
    };
    let rates = format!("{} to {}", sheet.bare("k.low"), sheet.bare("k.high"));
    Some(row("as the weighings scatter", &rates, &day))
}

fn at_a_day(ask: &Dry, fit: &Fit, days: f64, from: &[&str], sheet: &mut Sheet) -> String {
    sheet.entered("on", days, "d");
    let grams = fit.weight_g(days, fit.k);
    let from: Vec<&str> = from
        .iter()
        .copied()
        .filter(|id| *id != "goal")
        .chain(["on"])
        .collect();
    sheet.worked(
        "on.weight",
        grams,
        "g",
        weight_places(grams),
        &format!("the line on that day; {FIRST_ORDER}"),
        &from,
    );
    sheet.worked(
        "on.lost",
        (1.0 - grams / ask.from.g()) * 100.0,
        "%",
        1,
        "1 − weight ÷ hung",
        &["on.weight", "hung"],
    );
    row(
        &format!("on day {}", sheet.bare("on")),
        &sheet.show("on.weight"),
        &format!("{} lost", sheet.show("on.lost")),
    )
}

fn small(count: usize) -> Vec<(&'static str, String)> {
    let scatter = if count == 2 {
        "two weighings give a rate and no interval"
    } else {
        "the interval is the scatter of the weighings alone, not the slowing"
    };
    vec![
        (
            "status",
            format!(
                "a forecast from its own weighings; {scatter}. A loss of weight shows no limit to be met"
            ),
        ),
        (
            "base",
            "percent of the weight when hung; days of 24 hours".to_owned(),
        ),
        (
            "source",
            format!(
                "first-order loss: {} ({})",
                list::PRACTICE.title,
                list::PRACTICE.status.words()
            ),
        ),
    ]
}

fn picture(
    ask: &Dry,
    points: &[(f64, Mass)],
    fit: &Fit,
    goal_g: f64,
    done: f64,
) -> Result<Chart, Refusal> {
    let last = points.last().map_or(0.0, |p| p.0);
    let on = ask.on.map_or(0.0, Elapsed::days);
    let end = done.max(last).max(on) * 1.1;
    let share = |grams: f64| grams / ask.from.g() * 100.0;
    let line: Vec<(f64, f64)> = (0..=80)
        .map(|i| {
            let days = end * f64::from(i) / 80.0;
            (days, share(fit.weight_g(days, fit.k)))
        })
        .collect();
    let x = until("days hung", "d", end);
    let y = axis(
        "weight left",
        "%",
        line.iter().map(|p| p.1).chain([100.0, share(goal_g)]),
    )?;
    Ok(Chart {
        title: format!("Drying to {} % loss", ask.target_pct),
        x,
        y,
        curves: vec![Curve {
            name: "forecast".to_owned(),
            points: line,
            stroke: Stroke::Dashed,
        }],
        bands: Vec::new(),
        marks: vec![Mark {
            x: done,
            label: format!("{} % lost", ask.target_pct),
        }],
        measured: vec![Measured {
            name: "weighed".to_owned(),
            points: points.iter().map(|(d, m)| (*d, share(m.g()))).collect(),
            shape: Shape::Circle,
        }],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn g(g: f64) -> Mass {
        Mass::grams(g).unwrap()
    }

    fn asked(weighed: &[(f64, f64)]) -> Dry {
        Dry {
            from: g(358.9),
            weighed: weighed
                .iter()
                .map(|(w, d)| (g(*w), Elapsed::from_days(*d).unwrap()))
                .collect(),
            target_pct: 30.0,
            on: Some(Elapsed::from_days(14.0).unwrap()),
        }
    }

    /// A duck breast worked by hand: 358.9 to 310.0 g in 7 d is k 0.0209, 30 % on day 17.0, 25.4 % on day 14.
    #[test]
    fn two_weighings_forecast_the_third() {
        let found = dry(&asked(&[(310.0, 7.0)])).unwrap().answer;
        assert_eq!(
            found.answer,
            "day 17.0  until 30 % of the hang weight is lost"
        );
        assert!((found.figures.number("k").unwrap() - 0.0209).abs() < 5e-5);
        assert!((found.figures.number("on.lost").unwrap() - 25.4).abs() < 0.05);
        assert!(found.figures.get("k.low").is_none());
    }

    /// Least squares by hand on days 0, 1, 2, 3 with ln w of 0, −0.1, −0.2, −0.36: slope −0.118, residual
    /// sum 0.0018 − …; the standard error is √(SSE ÷ 2 ÷ 5).
    #[test]
    fn least_squares_is_that_of_the_textbook() {
        let y = [0.0_f64, -0.1, -0.2, -0.36];
        let points: Vec<(f64, Mass)> = y
            .iter()
            .enumerate()
            .map(|(i, y)| (i as f64, g(1000.0 * y.exp())))
            .collect();
        let found = fit(&points).unwrap();
        assert!((found.k - 0.118).abs() < 1e-9, "{}", found.k);
        // Mean −0.165; line −0.165 − 0.118 (d − 1.5): residuals −0.012, 0.006, 0.024, −0.018.
        let sse: f64 = [-0.012_f64, 0.006, 0.024, -0.018]
            .iter()
            .map(|r| r * r)
            .sum();
        assert!((found.half.unwrap() - 4.303 * (sse / 2.0 / 5.0).sqrt()).abs() < 1e-9);
    }

    #[test]
    fn weighings_that_scatter_give_an_interval_around_the_day() {
        let found = dry(&asked(&[(333.0, 3.0), (310.0, 7.0), (293.0, 10.0)]))
            .unwrap()
            .answer
            .figures;
        let n = |id| found.number(id).unwrap();
        assert!(n("done.early") < n("done") && n("done") < n("done.late"));
    }

    #[test]
    fn a_piece_that_gained_is_refused() {
        assert!(dry(&asked(&[(360.0, 7.0)])).is_err());
        assert!(dry(&asked(&[])).is_err());
        assert!(
            dry(&Dry {
                target_pct: 0.0,
                ..asked(&[(310.0, 7.0)])
            })
            .is_err()
        );
    }
}
