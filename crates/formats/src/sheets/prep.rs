//! The prep list: day by day, who does what, on how much, for how long.

use plan::Plan;
use plan::tasks::Kind;
use plan::timeline::Timed;

use super::{moment, title, zoned};
use crate::calendar::latest_start;
use crate::sheet::{Cell, Column, Sheet};

/// Everything that takes hands, by start. Weights are what goes into the step, of the load the task is for; the latest
/// start leaves the rest of the plan where it is.
#[must_use]
pub fn prep(plan: &Plan) -> Sheet {
    let columns = vec![
        Column::text("day", 16),
        Column::text("start", 21),
        Column::text("end", 21),
        Column::text("who", 24),
        Column::text("component", 26),
        Column::text("what", 46),
        Column::number("weight", "kg", 3),
        Column::number("minutes", "min", 0),
        Column::number("people", "", 0),
        Column::text("on", 24),
        Column::text("latest start", 21),
        Column::text("task", 34),
    ];
    let rows = plan
        .timeline
        .tasks
        .iter()
        .filter(|t| !t.people.is_empty())
        .map(|t| row(plan, t))
        .collect();
    Sheet {
        name: "prep",
        title: title(plan, "Prep list"),
        columns,
        rows,
    }
}

#[allow(clippy::cast_precision_loss)]
fn row(plan: &Plan, task: &Timed) -> Vec<Cell> {
    let m = &task.meaning;
    let component = m.component.as_ref().map_or("", |id| {
        plan.component(id.as_str()).map_or(id.as_str(), |c| &c.name)
    });
    let machines: Vec<&str> = m.machines.iter().map(|(id, _)| id.as_str()).collect();
    let day = zoned(plan, task.start).map_or(Cell::Unknown, |z| Cell::Day(z.date()));
    vec![
        day,
        moment(plan, task.start),
        moment(plan, task.end),
        Cell::text(task.people.join(", ")),
        Cell::text(component),
        Cell::text(&m.what),
        Cell::number(kg(plan, task)),
        Cell::Number((task.end - task.start) as f64),
        Cell::Number(task.people.len() as f64),
        Cell::text(machines.join(", ")),
        moment(plan, latest_start(task)),
        Cell::text(&m.id),
    ]
}

/// Kilograms that go into a step's load: what flows in, or what is made from its lines. A round, a relief and
/// plating handle what is there already and have no weight of their own.
fn kg(plan: &Plan, task: &Timed) -> Option<f64> {
    if !matches!(task.meaning.kind, Kind::Hands) {
        return None;
    }
    let recipe = task.meaning.component.as_ref()?;
    let component = plan.component(recipe.as_str())?;
    let at = plan
        .scene
        .book
        .recipes
        .get(recipe)?
        .position(task.meaning.step.as_ref()?)?;
    let flow = component.flows.get(at)?;
    let g = if flow.in_g > 0.0 {
        flow.in_g
    } else {
        flow.base_g
    };
    // The loads of a step are equal parts.
    Some(g / 1000.0 / f64::from(flow.loads.max(1)))
}
