//! The picture of a planned cooling.

use drawing::{Chart, Curve, Mark, Stroke};
use safety::planned::CoolingRule;
use science::heat::{Grid, HeatTransfer, Programme, Segment, heat};
use science::thermal_properties::Food;
use units::{Elapsed, Temperature};

use super::{Cool, Times};
use crate::ask::picture::{axis, said, until};
use crate::ask::refusal::Refusal;
use crate::ask::warmth::curve;

pub(super) fn picture(
    ask: &Cool,
    food: &Food,
    air: Temperature,
    h: HeatTransfer,
    usual: &Times,
    rule: &CoolingRule,
) -> Result<Chart, Refusal> {
    // To the end of the rule, and no further than a core that would freeze its surface.
    let end = usual.last.or(usual.first).map_or(rule.total_min, |t| {
        (t.minutes() + usual.clock.minutes()).max(10.0)
    });
    let time = Elapsed::from_minutes(end)?;
    let programme = Programme::new(vec![Segment::steady(air, time, h)])?;
    let history = heat(
        food,
        &ask.lying.body(ask.thickness)?,
        &programme,
        ask.from,
        Grid::usual()?,
    )?;
    let (_, unit, _) = said(time.hours());
    let (unit, per_hour) = if unit == "min" {
        ("min", 60.0)
    } else {
        ("h", 1.0)
    };
    let one = |name: &str, stroke, of: fn(&science::heat::Reading) -> f64| Curve {
        name: name.to_owned(),
        points: curve(&history, per_hour, of),
        stroke,
    };
    let curves = vec![
        one("core", Stroke::Solid, |r| r.core.c()),
        one("surface", Stroke::Dashed, |r| r.surface.c()),
        one("air", Stroke::Dotted, |r| r.air.c()),
    ];
    let values: Vec<f64> = curves
        .iter()
        .flat_map(|c| c.points.iter().map(|p| p.1))
        .collect();
    let furthest = usual.clock.minutes() + rule.first_min;
    let x = until("time", unit, time.hours() * per_hour);
    let mut marks = Vec::new();
    if furthest / 60.0 * per_hour <= x.to {
        marks.push(Mark {
            x: furthest / 60.0 * per_hour,
            label: format!("limit for {} °C", rule.first_c),
        });
    }
    Ok(Chart {
        title: format!(
            "Cooling of {} in {}: calculated, no reading",
            ask.thickness, ask.called
        ),
        x,
        y: axis("temperature", "°C", values)?,
        curves,
        bands: Vec::new(),
        marks,
        measured: Vec::new(),
    })
}
