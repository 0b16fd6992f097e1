//! Work that has no place together in any order: which work, on which machine and with which people, inside which hours.

use std::collections::BTreeMap;

use kitchen::site::CapacityUnit;
use schedule::{Edge, Fact, Minute, Occupancy, Point};

use crate::clock;
use crate::figures::number;
use crate::scene::Scene;
use crate::tasks::{Tasks, hours};

/// The fact in the kitchen's words; `None` for another fact or one that points at nothing.
pub(super) fn sentence(scene: &Scene, tasks: &Tasks, fact: &Fact) -> Option<String> {
    let Fact::NoOrder {
        tasks: all,
        windows,
        crews,
        occupancies,
        minimal,
        ..
    } = fact
    else {
        return None;
    };
    let windows: BTreeMap<usize, (Minute, Minute)> =
        all.iter().copied().zip(windows.iter().copied()).collect();
    let about = About {
        scene,
        tasks,
        windows,
    };
    let mut parts = about.machines(occupancies);
    parts.extend(about.people(crews));
    if parts.is_empty() {
        return None;
    }
    let needed = if *minimal {
        "without any one of them there is an order"
    } else {
        "perhaps not all of them are needed for that"
    };
    Some(format!(
        "no order works: {}; every order was ruled out, {needed}",
        parts.join("; and ")
    ))
}

struct About<'a> {
    scene: &'a Scene,
    tasks: &'a Tasks,
    windows: BTreeMap<usize, (Minute, Minute)>,
}

impl About<'_> {
    /// Each machine with what has to go through it.
    fn machines(&self, occupancies: &[usize]) -> Vec<String> {
        let problem = &self.tasks.problem;
        let mut by_machine: BTreeMap<usize, Vec<&Occupancy>> = BTreeMap::new();
        for o in occupancies
            .iter()
            .filter_map(|o| problem.occupancies.get(*o))
        {
            by_machine.entry(o.machine).or_default().push(o);
        }
        let mut parts = Vec::new();
        for (machine, holds) in by_machine {
            let Some(machine) = self.scene.site.machines.get(machine) else {
                continue;
            };
            let unit = match machine.unit {
                CapacityUnit::Kilograms => "kg",
                CapacityUnit::Places => "places",
            };
            let room = match machine.one_load {
                Some(between) => format!("takes one load at a time, {between} between two"),
                None => format!("has {} {unit}", number(machine.capacity, 0)),
            };
            let held: Vec<String> = holds
                .iter()
                .map(|o| self.hold(o, machine.one_load.is_none().then_some(unit)))
                .collect();
            parts.push(format!("{} {room}, for {}", machine.name, held.join(", ")));
        }
        parts
    }

    /// "smoke#1 (8.0 kg, 6 h 10 min, in from Wed 10-06 11:00, out by Wed 10-06 21:00)".
    fn hold(&self, o: &Occupancy, unit: Option<&str>) -> String {
        let problem = &self.tasks.problem;
        let mut said = Vec::new();
        if let Some(unit) = unit {
            #[allow(clippy::cast_precision_loss)]
            let amount = o.amount as f64 / 1000.0;
            said.push(format!("{} {unit}", number(amount, 1)));
        }
        let length = |t: usize| problem.tasks.get(t).map_or(0, |t| t.duration);
        let at_once = |l: &&schedule::Link| {
            (l.from, l.to) == (end(o.from.task), start(o.to.task)) && l.max == Some(0)
        };
        let whole = (o.from.edge, o.to.edge) == (Edge::Start, Edge::End);
        if whole && o.from.task == o.to.task {
            said.push(hours(length(o.from.task)));
        } else if whole && problem.links.iter().any(|l| at_once(&l)) {
            said.push(hours(length(o.from.task) + length(o.to.task)));
        }
        let wall = |m: Minute| clock::wall(&self.scene.site.zone, m);
        let edge = |p: Point, start: Minute| match p.edge {
            Edge::Start => start,
            Edge::End => start + length(p.task),
        };
        if let (Some((low, _)), Some((_, high))) =
            (self.windows.get(&o.from.task), self.windows.get(&o.to.task))
        {
            said.push(format!("in from {}", wall(edge(o.from, *low))));
            said.push(format!("out by {}", wall(edge(o.to, *high))));
        }
        format!("{} ({})", o.what, said.join(", "))
    }

    /// Each kind of people with what they have to do.
    fn people(&self, crews: &[usize]) -> Vec<String> {
        let problem = &self.tasks.problem;
        let mut by_skill: BTreeMap<&str, Vec<String>> = BTreeMap::new();
        let wall = |m: Minute| clock::wall(&self.scene.site.zone, m);
        for &index in crews {
            let Some(task) = problem.tasks.get(index) else {
                continue;
            };
            let Some(crew) = &task.crew else { continue };
            let window = self
                .windows
                .get(&index)
                .map_or_else(String::new, |(low, high)| {
                    format!(", start {} to {}", wall(*low), wall(*high))
                });
            by_skill
                .entry(crew.skill.as_deref().unwrap_or("anybody"))
                .or_default()
                .push(format!(
                    "{} ({} for {}{window})",
                    task.id,
                    crew.count,
                    hours(task.duration)
                ));
        }
        by_skill
            .into_iter()
            .map(|(skill, work)| {
                let there = problem
                    .people
                    .iter()
                    .filter(|p| skill == "anybody" || p.skills.iter().any(|s| s == skill))
                    .count();
                let who = match skill.split_once('+') {
                    Some((role, skill)) => format!("{role} who can {skill}"),
                    None => skill.to_owned(),
                };
                format!("there are {there} {who} for {}", work.join(", "))
            })
            .collect()
    }
}

fn start(task: usize) -> Point {
    Point {
        task,
        edge: Edge::Start,
    }
}

fn end(task: usize) -> Point {
    Point {
        task,
        edge: Edge::End,
    }
}
