//! Cores over time: what the model predicts for the programme, and what the probes read, in one drawing.

use drawing::{Axis, Chart, Curve, Mark, Measured, Shape, Size, Stroke};
use kitchen::step::Step;
use maud::{Markup, PreEscaped, html};
use plan::figures::number;
use plan::tasks::Kind;
use plan::windows::curve::{Predicted, predicted};

use crate::day::judged::{celsius, is_air, temperatures};
use crate::day::standing::{Standing, standing};
use crate::shown::Shown;
use crate::tongue::{say, say_with};
use crate::wall::wall;

/// Shapes of the probes, in the order they were first read.
const SHAPES: [Shape; 6] = [
    Shape::Circle,
    Shape::Square,
    Shape::Triangle,
    Shape::Diamond,
    Shape::Cross,
    Shape::Dot,
];

/// The drawings of a component: one for every step that heats or chills it.
pub(crate) fn of(plan: &Shown, component: &str) -> Markup {
    let steps: Vec<&Step> = plan
        .component(component)
        .and_then(|c| plan.scene.book.recipes.get(&c.recipe))
        .map(|r| r.steps.iter().collect())
        .unwrap_or_default();
    let entries = standing(&plan.day.log);
    html! {
        @for step in steps {
            @if let Some(found) = predicted(plan, component, step.id.as_str()) {
                h2 { (say("board-core")) " " (step.id) }
                @match found {
                    Ok(p) => { (drawn(plan, component, step, &p, &entries)) }
                    Err(why) => { p { (say("board-not-computed")) " " (why) } }
                }
            }
        }
    }
}

fn drawn(
    plan: &Shown,
    component: &str,
    step: &Step,
    p: &Predicted,
    entries: &[Standing],
) -> Markup {
    let Some(start) = start(plan, component, step) else {
        return html! { p { (say("board-no-clock-to-draw")) } };
    };
    let mut measured: Vec<(String, Vec<(f64, f64)>)> = Vec::new();
    let mut air = 0_usize;
    for s in temperatures(entries, component, step.id.as_str()) {
        let Some(t) = s.reading.and_then(celsius) else {
            continue;
        };
        let probe = s.part().unwrap_or("probe");
        if is_air(probe) {
            air += 1;
            continue;
        }
        let hours = (s.at().as_second() - start * 60) as f64 / 3600.0;
        match measured.iter_mut().find(|(name, _)| name == probe) {
            Some((_, points)) => points.push((hours, t)),
            None => measured.push((probe.to_owned(), vec![(hours, t)])),
        }
    }
    // Readings of another day say nothing about this run, and would press it flat.
    let far = |h: f64| !(-ASIDE_H..=ASIDE_H).contains(&h);
    let aside: usize = measured
        .iter()
        .map(|(_, points)| points.iter().filter(|(h, _)| far(*h)).count())
        .sum();
    for (_, points) in &mut measured {
        points.retain(|(h, _)| !far(*h));
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
    }
    measured.retain(|(_, points)| !points.is_empty());
    let svg = chart(plan, start, step, p, &measured);
    html! {
        @match svg {
            Ok(svg) => { div class="day" tabindex="0" { (PreEscaped(svg)) } }
            Err(why) => { p { (say("board-not-drawn")) " " (why) } }
        }
        p class="small" {
            (p.model) (say("board-prediction"))
            @if measured.is_empty() { " " (say("board-nothing-read")) }
            @if air > 0 { " " (say_with("board-air-not-drawn", &[("n", air.into())])) }
            @if aside > 0 { " " (say_with("board-aside", &[("n", aside.into()), ("hours", (&number(ASIDE_H, 0)).into())])) }
        }
    }
}

/// Readings this many hours from the start of a run do not belong to it.
const ASIDE_H: f64 = 24.0;

/// The minute the programme starts, by the plan as it stands.
fn start(plan: &Shown, component: &str, step: &Step) -> Option<i64> {
    plan.timeline
        .tasks
        .iter()
        .find(|t| {
            t.meaning.kind == Kind::Run
                && t.meaning
                    .component
                    .as_ref()
                    .is_some_and(|c| c.as_str() == component)
                && t.meaning.step.as_ref() == Some(&step.id)
        })
        .map(|t| t.start)
}

fn chart(
    plan: &Shown,
    start: i64,
    step: &Step,
    p: &Predicted,
    measured: &[(String, Vec<(f64, f64)>)],
) -> Result<String, drawing::DrawingError> {
    let read = || measured.iter().flat_map(|(_, points)| points);
    let least = read().map(|r| r.0).fold(0.0, f64::min);
    let most = p
        .usual
        .iter()
        .chain(&p.thick)
        .chain(read())
        .map(|r| r.0)
        .fold(0.0, f64::max);
    let limits = [
        step.until.map(|u| u.core.c()),
        step.wait.at_most.map(units::Temperature::c),
    ];
    let heights = p
        .usual
        .iter()
        .chain(&p.thick)
        .chain(read())
        .map(|r| r.1)
        .chain(limits.into_iter().flatten());
    let name = |i: usize| SHAPES.get(i).copied().unwrap_or(Shape::Dot);
    Chart {
        title: say_with("board-chart-title", &[("step", step.id.as_str().into())]),
        x: Axis::new(
            &say_with(
                "board-chart-since",
                &[("at", (&wall(plan, start, "%a %H:%M")).into())],
            ),
            "h",
            least,
            most,
        ),
        y: Axis::around(&say("board-core-axis"), "°C", heights)?,
        curves: vec![
            Curve {
                name: say("board-usual-piece"),
                points: p.usual.clone(),
                stroke: Stroke::Dashed,
            },
            Curve {
                name: say("board-thickest-piece"),
                points: p.thick.clone(),
                stroke: Stroke::Solid,
            },
        ],
        bands: Vec::new(),
        marks: first_there(p, step)
            .map(|(x, label)| Mark { x, label })
            .into_iter()
            .collect(),
        measured: measured
            .iter()
            .enumerate()
            .map(|(i, (probe, points))| Measured {
                name: probe.clone(),
                points: points.clone(),
                shape: name(i),
            })
            .collect(),
    }
    .svg(Size::Screen)
}

/// Where the thickest piece is predicted to reach what the step asks for.
fn first_there(p: &Predicted, step: &Step) -> Option<(f64, String)> {
    let until = step.until?;
    let core = until.core.c();
    let at = p.thick.iter().find(|(_, t)| *t >= core)?;
    Some((at.0, format!("{} °C", number(core, 0))))
}
