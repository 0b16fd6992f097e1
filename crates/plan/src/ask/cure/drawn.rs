//! The picture of a cure.

use drawing::{Band, Chart, Curve, Mark, Stroke};
use science::transport::{Grid, Window};
use units::{Elapsed, Length};

use super::Wanted;
use super::model::Model;
use crate::ask::picture::{axis, said, thinned, until};
use crate::ask::refusal::Refusal;

/// The goal's figure against time for every size, the goal as a band, the window as marks.
pub(super) fn picture(
    model: &Model,
    sizes: &[(&str, Length)],
    found: &Window,
    planned: Option<Elapsed>,
) -> Result<Chart, Refusal> {
    let ends = [
        Some(found.earliest),
        Some(found.best),
        found.latest,
        planned,
    ];
    let furthest = ends.into_iter().flatten().max().unwrap_or(found.best);
    let end = furthest.scaled(1.25)?;
    let (_, unit, _) = said(end.hours());
    let per_hour = match unit {
        "min" => 60.0,
        "d" => 1.0 / 24.0,
        _ => 1.0,
    };
    let (what, title) = match model.wanted {
        Wanted::Uptake { .. } => (
            "salt taken up, of what it ends with",
            "Salt taken up in the cure",
        ),
        Wanted::Core { .. } => (
            "salt in the water of the thickest place",
            "Salt of the thickest place",
        ),
        Wanted::Mean { .. } => ("mean salt of the piece", "Mean salt in the cure"),
    };
    let mut curves = Vec::new();
    for (i, (name, size)) in sizes.iter().enumerate() {
        let history = model.run(*size, end, Grid::default())?;
        let points = history
            .curve
            .iter()
            .map(|m| (m.hours * per_hour, model.figure(m)))
            .collect();
        curves.push(Curve {
            name: format!("{name} {size}"),
            points: thinned(points, 160),
            stroke: [Stroke::Dashed, Stroke::Solid, Stroke::Dotted]
                [(i + usize::from(sizes.len() == 1)) % 3],
        });
    }
    let values = curves.iter().flat_map(|c| c.points.iter().map(|p| p.1));
    let goals = [model.least(), model.most().unwrap_or(model.least() * 1.05)];
    let y = axis(what, "%", values.chain([0.0]).chain(goals))?;
    let top = model.most().unwrap_or(y.to);
    let x = until("time in the cure", unit, end.hours() * per_hour);
    let mut marks = vec![Mark {
        x: found.earliest.hours() * per_hour,
        label: "earliest".to_owned(),
    }];
    if found.best != found.earliest {
        marks.push(Mark {
            x: found.best.hours() * per_hour,
            label: "best".to_owned(),
        });
    }
    for (time, label) in [(found.latest, "latest"), (planned, "planned")] {
        marks.extend(time.map(|t| Mark {
            x: t.hours() * per_hour,
            label: label.to_owned(),
        }));
    }
    Ok(Chart {
        title: format!("{title}: calculated, not validated on product data"),
        x,
        y,
        curves,
        bands: vec![Band {
            name: "goal".to_owned(),
            from_y: model.least(),
            to_y: top,
        }],
        marks,
        measured: Vec::new(),
    })
}
