//! How long until the liquor is in the middle of the cut, and how strong is it then?

use drawing::{Band, Chart, Curve, Mark, Stroke};
use science::diffusion::Diffusivity;
use science::steeping::{Cut, Faces, Spreading};
use sources::list;
use units::{Elapsed, Length, Mass};

use super::answer::Answer;
use super::picture::{Pictured, entered_time, lasts, said, until};
use super::refusal::Refusal;
use super::sheet::{Sheet, places_of};

/// The equation, once for all formulas.
const FICK: &str = "Fick's slab, ∂c/∂t = D ∂²c/∂x² (Crank, from memory): t = Fo(share) L² ÷ D";
/// How far a diffusivity fitted to one cut may be off either way; house value.
const FITTED_SPREAD: f64 = 1.5;

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Steep {
    /// Thickness of the cut.
    pub thickness: Length,
    /// Whether the liquor reaches both faces.
    pub both_faces: bool,
    /// Share of the final strength wanted in the middle, percent.
    pub goal_pct: f64,
    /// Diffusivity fitted to one's own cut.
    pub diffusivity: Option<Diffusivity>,
    /// What is poured on what, to tell the final strength.
    pub mix: Option<Mix>,
    /// A planned time.
    pub time: Option<Elapsed>,
    /// Whether the thickest cut that is there by then is what is looked for.
    pub thickest: bool,
}

/// A liquor on a vegetable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mix {
    /// The vegetable.
    pub vegetable: Mass,
    /// Water of the vegetable, percent.
    pub water_pct: f64,
    /// The liquor.
    pub liquor: Mass,
    /// Acid of the liquor, percent of it.
    pub acid_pct: f64,
    /// Salt of the liquor, percent of it.
    pub salt_pct: f64,
}

/// Answers it.
///
/// # Errors
/// A goal outside 1 to 99.9 %; whatever the model refuses.
pub fn steep(ask: &Steep) -> Result<Pictured, Refusal> {
    if !(1.0..=99.9).contains(&ask.goal_pct) {
        return Err(Refusal::new(
            format!("--goal: found {} %", ask.goal_pct),
            "1 to 99.9 % of the final strength",
            "all of it takes for ever: ask for 90 %",
        ));
    }
    let cut = Cut {
        thickness: ask.thickness,
        faces: if ask.both_faces {
            Faces::Both
        } else {
            Faces::One
        },
    };
    let mut sheet = Sheet::default();
    sheet.entered("thickness", ask.thickness.mm(), "mm");
    sheet.entered("faces", if ask.both_faces { 2.0 } else { 1.0 }, "");
    sheet.entered("goal", ask.goal_pct, "%");
    sheet.figures.of("goal", "the strength it ends with");
    let spreading = spreading(ask, &mut sheet)?;
    let wait = cut.time_to_middle(ask.goal_pct / 100.0, spreading)?;
    let from = |d: &'static str| ["thickness", "faces", "goal", d];
    lasts(
        &mut sheet,
        "latest",
        wait.latest,
        &format!("{FICK}, middle, slow"),
        &from("slow"),
    );
    lasts(
        &mut sheet,
        "earliest",
        wait.earliest,
        &format!("{FICK}, middle, quick"),
        &from("quick"),
    );
    let whole = cut.time_to_whole(ask.goal_pct / 100.0, spreading)?;
    lasts(
        &mut sheet,
        "whole.latest",
        whole.latest,
        &format!("{FICK}, mean, slow"),
        &from("slow"),
    );
    lasts(
        &mut sheet,
        "whole.earliest",
        whole.earliest,
        &format!("{FICK}, mean, quick"),
        &from("quick"),
    );
    let goal = sheet.show("goal");
    let pair = |what: &str, slow: &str, quick: &str, sheet: &Sheet| {
        format!(
            "{what:<36}{:>12}{:>12}",
            sheet.show(slow),
            sheet.show(quick)
        )
    };
    let mut details = vec![
        format!(
            "{:<36}{:>12}{:>12}",
            "spreading in the vegetable", "slow", "quick"
        ),
        pair(&format!("middle at {goal}"), "latest", "earliest", &sheet),
        pair(
            &format!("the whole cut at {goal}"),
            "whole.latest",
            "whole.earliest",
            &sheet,
        ),
    ];
    if let Some(time) = ask.time {
        entered_time(&mut sheet, "time", time);
        let reached = cut.middle_after(time, spreading)?;
        for (id, share, d) in [
            ("then.slow", reached.least, "slow"),
            ("then.quick", reached.most, "quick"),
        ] {
            let formula = "share in the middle after that time; Fick's slab (Crank, from memory)";
            sheet.worked(
                id,
                share * 100.0,
                "%",
                0,
                formula,
                &["thickness", "faces", "time", d],
            );
        }
        let what = format!("middle after {}", sheet.show("time"));
        details.push(pair(&what, "then.slow", "then.quick", &sheet));
        for (id, wait, at) in [
            ("cut.slow", wait.latest, "latest"),
            ("cut.quick", wait.earliest, "earliest"),
        ] {
            let mm = ask.thickness.mm() * (time.minutes() / wait.minutes()).sqrt();
            // Rounded down: the figure printed is one that is there.
            let formula =
                "thickness × √(time ÷ time to the middle), rounded down: time goes with its square";
            let mm = (mm * 10.0).floor() / 10.0;
            sheet.worked(id, mm, "mm", 1, formula, &["thickness", "time", at]);
        }
        let what = format!("thickest cut there after {}", sheet.show("time"));
        details.push(pair(&what, "cut.slow", "cut.quick", &sheet));
    }
    if let Some(mix) = ask.mix {
        details.push(String::new());
        details.extend(mixed(&mix, &mut sheet)?);
    }
    let limit = format!(
        "as early as {} if it spreads quickly; four times the time for twice the thickness",
        sheet.show("earliest")
    );
    sheet.known(
        "times.time",
        4.0,
        "",
        &list::CRANK,
        "time goes with the square of the thickness",
    );
    sheet.known("times.thickness", 2.0, "", &list::CRANK, "");
    let picture = picture(ask, cut, spreading, wait.latest)?;
    let (answer, main) = match (ask.thickest, ask.time) {
        (false, _) => (
            format!(
                "{}  until the middle has {goal} of its final strength",
                sheet.show("latest")
            ),
            "latest",
        ),
        (true, Some(_)) => (
            format!(
                "{} is the thickest cut whose middle has {goal} of its final strength in {}",
                sheet.show("cut.slow"),
                sheet.show("time")
            ),
            "cut.slow",
        ),
        (true, None) => {
            return Err(Refusal::new(
                "--find: found no --time to be there in",
                "a time such as 2 h",
                "give it with --time",
            ));
        }
    };
    Ok(Pictured {
        answer: Answer {
            question: "steep",
            answer,
            limit,
            next: format!(
                "keep it under the liquor, covered and cold; cut one at {} and at {}: taste the middle, log \
                 thickness, hours and warmth",
                sheet.show("earliest"),
                sheet.show("latest")
            ),
            details,
            small: small(ask),
            verdict: None,
            main,
            figures: sheet.figures,
        },
        picture,
    })
}

fn spreading(ask: &Steep, sheet: &mut Sheet) -> Result<Spreading, Refusal> {
    let unit = "×10⁻¹⁰ m²/s";
    match ask.diffusivity {
        Some(fitted) => {
            let value = fitted.value_m2_s();
            sheet.entered("diffusivity", value * 1e10, unit);
            sheet.known(
                "diffusivity.spread",
                FITTED_SPREAD,
                "times",
                &list::HOUSE,
                "of a fitted diffusivity",
            );
            let from = ["diffusivity", "diffusivity.spread"];
            sheet.worked(
                "slow",
                value / FITTED_SPREAD * 1e10,
                unit,
                2,
                "D ÷ spread",
                &from,
            );
            sheet.worked(
                "quick",
                value * FITTED_SPREAD * 1e10,
                unit,
                2,
                "D × spread",
                &from,
            );
            Ok(Spreading::between(
                Diffusivity::m2_per_s(value / FITTED_SPREAD)?,
                Diffusivity::m2_per_s(value * FITTED_SPREAD)?,
            )?)
        }
        None => {
            // The same two figures as the model assumes; a test holds them together.
            sheet.known(
                "slow",
                ASSUMED_M2_S.0 * 1e10,
                unit,
                &list::MEMORY,
                "acid or salt in raw vegetable",
            );
            sheet.known(
                "quick",
                ASSUMED_M2_S.1 * 1e10,
                unit,
                &list::MEMORY,
                "acid or salt in raw vegetable",
            );
            Ok(Spreading::assumed_in_vegetable()?)
        }
    }
}

/// What the model assumes in raw vegetable, m²/s; from memory.
const ASSUMED_M2_S: (f64, f64) = (2e-10, 1e-9);

/// What the liquor comes to once it is even with the vegetable.
fn mixed(mix: &Mix, sheet: &mut Sheet) -> Result<Vec<String>, Refusal> {
    if mix.vegetable <= Mass::ZERO || mix.liquor <= Mass::ZERO {
        return Err(Refusal::new(
            format!(
                "found {} of vegetable in {} of liquor",
                mix.vegetable, mix.liquor
            ),
            "some of both",
            "weigh them",
        ));
    }
    sheet.entered("vegetable", mix.vegetable.g(), "g");
    sheet.entered("vegetable.water", mix.water_pct, "%");
    sheet.entered("liquor", mix.liquor.g(), "g");
    let share = mix.liquor.g() / (mix.liquor.g() + mix.vegetable.g() * mix.water_pct / 100.0);
    let from = ["liquor", "vegetable", "vegetable.water"];
    sheet.worked(
        "kept",
        share * 100.0,
        "%",
        0,
        "liquor ÷ (liquor + water of the vegetable), mass balance",
        &from,
    );
    let mut rows = vec![format!(
        "{:<36}{:>12}   of its strength",
        format!(
            "{} in {} of liquor, even",
            sheet.show("vegetable"),
            sheet.show("liquor")
        ),
        sheet.show("kept")
    )];
    for (what, pct) in [("acid", mix.acid_pct), ("salt", mix.salt_pct)] {
        if pct <= 0.0 {
            continue;
        }
        let id = format!("{what}.liquor");
        sheet.entered(&id, pct, "%");
        sheet.worked(
            what,
            pct * share,
            "%",
            2,
            "of the liquor × share kept",
            &[&id, "kept"],
        );
        let middle = format!("{what}.middle");
        let goal = sheet.figures.number("goal").unwrap_or(100.0) / 100.0;
        sheet.worked(
            &middle,
            pct * share * goal,
            "%",
            2,
            "final strength × goal",
            &[what, "goal"],
        );
        rows.push(format!(
            "{:<36}{:>12}   {} in the middle at the goal",
            format!("{what}, from {}", sheet.show(&id)),
            sheet.show(what),
            sheet.show(&middle)
        ));
    }
    Ok(rows)
}

fn small(ask: &Steep) -> Vec<(&'static str, String)> {
    let d = |m2_s: f64| {
        let power = m2_s.log10().floor();
        let figure = m2_s / 10_f64.powf(power);
        format!(
            "{}e{power:.0}",
            crate::figures::number(figure, places_of(figure).min(2))
        )
    };
    let (which, status) = match ask.diffusivity {
        Some(fitted) => (
            format!(
                "{} m²/s entered, half as much again or less",
                d(fitted.value_m2_s())
            ),
            "an entered",
        ),
        None => (
            format!(
                "{} to {} m²/s (from memory)",
                d(ASSUMED_M2_S.0),
                d(ASSUMED_M2_S.1)
            ),
            "a guessed",
        ),
    };
    vec![
        (
            "status",
            format!("not validated on product data: {status} diffusivity. It shows no acidity: a pH meter does, on the middle"),
        ),
        ("base", "wide flat cuts in more liquor than they take up; slices that lie on each other take longer".to_owned()),
        (
            "source",
            format!("diffusivity {which}. Fick's law: {} ({})", list::CRANK.title, list::CRANK.status.words()),
        ),
    ]
}

fn picture(ask: &Steep, cut: Cut, spreading: Spreading, latest: Elapsed) -> Result<Chart, Refusal> {
    let end = latest.max(ask.time.unwrap_or(latest)).scaled(1.2)?;
    let (_, unit, _) = said(end.hours());
    let per_hour = match unit {
        "min" => 60.0,
        "d" => 1.0 / 24.0,
        _ => 1.0,
    };
    let mut slow = vec![(0.0, 0.0)];
    let mut quick = vec![(0.0, 0.0)];
    for i in 1..=80 {
        let time = end.scaled(f64::from(i) / 80.0)?;
        let reached = cut.middle_after(time, spreading)?;
        slow.push((time.hours() * per_hour, reached.least * 100.0));
        quick.push((time.hours() * per_hour, reached.most * 100.0));
    }
    let curve = |name: &str, points, stroke| Curve {
        name: name.to_owned(),
        points,
        stroke,
    };
    Ok(Chart {
        title: format!("{} cut in liquor: the middle, calculated", ask.thickness),
        x: until("time in the liquor", unit, end.hours() * per_hour),
        y: drawing::Axis::new("middle, of its final strength", "%", 0.0, 100.0),
        curves: vec![
            curve("slow", slow, Stroke::Solid),
            curve("quick", quick, Stroke::Dashed),
        ],
        bands: vec![Band {
            name: "goal".to_owned(),
            from_y: ask.goal_pct,
            to_y: 100.0,
        }],
        marks: ask
            .time
            .map(|t| Mark {
                x: t.hours() * per_hour,
                label: "planned".to_owned(),
            })
            .into_iter()
            .collect(),
        measured: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn onion() -> Steep {
        Steep {
            thickness: Length::millimetres(3.0).unwrap(),
            both_faces: true,
            goal_pct: 90.0,
            diffusivity: None,
            mix: Some(Mix {
                vegetable: Mass::grams(500.0).unwrap(),
                water_pct: 89.0,
                liquor: Mass::grams(500.0).unwrap(),
                acid_pct: 2.5,
                salt_pct: 0.0,
            }),
            time: None,
            thickest: false,
        }
    }

    /// Fo for 90 % in the middle of a slab is 1.0311 (first term of the series, Crank, from memory):
    /// ln(40 ÷ π) × 4 ÷ π². With L 1.5 mm and D 2e-10 that is 3.22 h.
    #[test]
    fn a_ring_of_three_millimetres_takes_three_hours_at_the_slow_side() {
        let found = steep(&onion()).unwrap().answer;
        let fo = (40.0 / std::f64::consts::PI).ln() * 4.0 / std::f64::consts::PI.powi(2);
        let hours = fo * 0.0015_f64.powi(2) / 2e-10 / 3600.0;
        assert!(
            (found.figures.number("latest").unwrap() - hours).abs() < 0.01,
            "{}",
            found.text()
        );
    }

    #[test]
    fn the_assumed_figures_are_those_of_the_model() {
        let own = Spreading::between(
            Diffusivity::m2_per_s(ASSUMED_M2_S.0).unwrap(),
            Diffusivity::m2_per_s(ASSUMED_M2_S.1).unwrap(),
        );
        assert_eq!(own.unwrap(), Spreading::assumed_in_vegetable().unwrap());
    }

    /// 500 g in 500 g of liquor of 2.5 %: 500 ÷ (500 + 445) is 52.9 %, so 1.32 %.
    #[test]
    fn one_to_one_halves_the_liquor_and_a_little_less() {
        let found = steep(&onion()).unwrap().answer.figures;
        assert!((found.number("acid").unwrap() - 1.3228).abs() < 1e-4);
        assert!((found.number("acid.middle").unwrap() - 1.1905).abs() < 1e-4);
    }

    /// The thickest cut asked anew is there in the time, within what a tenth of a millimetre makes.
    #[test]
    fn the_thickest_cut_is_there_in_its_time() {
        let mut ask = onion();
        ask.time = Some(Elapsed::from_hours(8.0).unwrap());
        let mm = steep(&ask)
            .unwrap()
            .answer
            .figures
            .number("cut.slow")
            .unwrap();
        ask.thickness = Length::millimetres(mm).unwrap();
        let again = steep(&ask)
            .unwrap()
            .answer
            .figures
            .number("latest")
            .unwrap();
        assert!((7.6..=8.0).contains(&again), "{again} h at {mm} mm");
    }

    #[test]
    fn all_of_it_is_refused() {
        assert!(
            steep(&Steep {
                goal_pct: 100.0,
                ..onion()
            })
            .is_err()
        );
        let none = Mix {
            liquor: Mass::ZERO,
            ..onion().mix.unwrap()
        };
        assert!(
            steep(&Steep {
                mix: Some(none),
                ..onion()
            })
            .is_err()
        );
    }
}
