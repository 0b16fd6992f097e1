//! Why there is no clock, in the kitchen's words: the scheduler's facts with units and durations put back.

mod no_order;

use schedule::{Edge, Fact, Side};

use crate::figures::number;
use crate::scene::Scene;
use crate::tasks::{Tasks, hours};
use kitchen::site::CapacityUnit;

/// The reasons for a clash, the plainest first.
pub(crate) fn reasons(scene: &Scene, tasks: &Tasks, facts: &[Fact]) -> Vec<String> {
    let broken = out_of_order(scene, tasks);
    if !broken.is_empty() {
        // What a recipe puts into a machine that is out of order has no place to be: nothing else need be said.
        return broken;
    }
    let mut said: Vec<String> = facts.iter().map(|f| sentence(scene, tasks, f)).collect();
    said.extend(durations(tasks, facts));
    said
}

/// Machines out of order that something goes through.
pub(crate) fn out_of_order(scene: &Scene, tasks: &Tasks) -> Vec<String> {
    let mut said = Vec::new();
    for o in &tasks.problem.occupancies {
        let Some(machine) = scene.site.machines.get(o.machine).filter(|m| m.off) else {
            continue;
        };
        let line = format!("{} is out of order, and {} needs it", machine.name, o.what);
        if !said.contains(&line) {
            said.push(line);
        }
    }
    said
}

/// The scheduler counts thousandths and knows no units; what a machine holds is told in its own.
fn sentence(scene: &Scene, tasks: &Tasks, fact: &Fact) -> String {
    let as_told = fact.sentence().to_owned();
    if let Fact::NoOrder { .. } = fact {
        return no_order::sentence(scene, tasks, fact).unwrap_or(as_told);
    }
    let Fact::MachineFull {
        machine,
        occupancies,
        ..
    } = fact
    else {
        return as_told;
    };
    let (Some(site), Some(limit)) = (
        scene.site.machines.get(*machine),
        tasks.problem.machines.get(*machine),
    ) else {
        return as_told;
    };
    let held: Vec<_> = occupancies
        .iter()
        .filter_map(|o| tasks.problem.occupancies.get(*o))
        .collect();
    let sum: i64 = held.iter().map(|o| o.amount).sum();
    let of_room = as_told.ends_with(" in all") || as_told.ends_with(" it holds");
    if !of_room || sum <= limit.capacity {
        return as_told;
    }
    let unit = match site.unit {
        CapacityUnit::Kilograms => "kg",
        CapacityUnit::Places => "places",
    };
    let names: Vec<&str> = held.iter().map(|o| o.what.as_str()).collect();
    #[allow(clippy::cast_precision_loss)]
    let asked = sum as f64 / 1000.0;
    let verb = if names.len() == 1 {
        "asks"
    } else {
        "ask at one moment"
    };
    format!(
        "{} {verb} for {} {unit} of {}, which has {}",
        names.join(" and "),
        number(asked, places(asked)),
        site.name,
        number(site.capacity, places(site.capacity))
    )
}

/// No decimals where there are none, one otherwise.
fn places(n: f64) -> u32 {
    u32::from((n - n.round()).abs() > 1e-9)
}

/// How long the work takes whose start and end both stand in the facts: without it the waits do not add up.
fn durations(tasks: &Tasks, facts: &[Fact]) -> Vec<String> {
    let problem = &tasks.problem;
    let mut seen: Vec<(usize, bool, bool)> = Vec::new();
    let mut see = |task: usize, edge: Edge| {
        let (start, end) = (edge == Edge::Start, edge == Edge::End);
        match seen.iter_mut().find(|(t, _, _)| *t == task) {
            Some((_, s, e)) => (*s, *e) = (*s || start, *e || end),
            None => seen.push((task, start, end)),
        }
    };
    for fact in facts {
        match fact {
            Fact::Link { link, .. } => {
                if let Some(link) = problem.links.get(*link) {
                    see(link.from.task, link.from.edge);
                    see(link.to.task, link.to.edge);
                }
            }
            // A latest start is told as the hour the work must be done by.
            Fact::TaskWindow {
                task,
                side: Side::Least,
                ..
            } => see(*task, Edge::Start),
            Fact::TaskWindow {
                task,
                side: Side::Most,
                ..
            } => see(*task, Edge::End),
            _ => {}
        }
    }
    let mut said = Vec::new();
    for (task, start, end) in seen {
        let Some(t) = problem.tasks.get(task) else {
            continue;
        };
        if !(start && end) || t.duration == 0 {
            continue;
        }
        let with = match &t.crew {
            Some(crew) if crew.count == 1 => " with 1 person".to_owned(),
            Some(crew) => format!(" with {} people", crew.count),
            None => String::new(),
        };
        said.push(format!("\"{}\" takes {}{with}", t.id, hours(t.duration)));
    }
    said
}
