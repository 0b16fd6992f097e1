//! Reads a kitchen's problem as `benches/schedule/kitchens.py` writes it.

use schedule::{
    Crew, Edge, Lean, Link, Machine, MachineKind, Minute, Occupancy, Person, Point, Problem, Span,
    Task,
};
use serde::Deserialize;

#[derive(Deserialize)]
struct PersonText {
    id: String,
    skills: Vec<String>,
    available: Vec<(Minute, Minute)>,
    overtime: Vec<(Minute, Minute)>,
}

#[derive(Deserialize)]
struct MachineText {
    id: String,
    capacity: i64,
    change_over: Option<Minute>,
    unavailable: Vec<(Minute, Minute)>,
}

#[derive(Deserialize)]
struct CrewText {
    count: usize,
    skill: Option<String>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum LeanText {
    Toward(Minute),
    Side(Side),
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum Side {
    Early,
    Late,
}

#[derive(Deserialize)]
struct TaskText {
    id: String,
    duration: Minute,
    crew: Option<CrewText>,
    earliest: Minute,
    latest: Minute,
    lean: Option<LeanText>,
    weight: f64,
}

#[derive(Deserialize, Clone, Copy)]
#[serde(rename_all = "lowercase")]
enum EdgeText {
    Start,
    End,
}

type PointText = (usize, EdgeText);

#[derive(Deserialize)]
struct LinkText {
    from: PointText,
    to: PointText,
    min: Minute,
    max: Option<Minute>,
}

#[derive(Deserialize)]
struct OccupancyText {
    machine: usize,
    amount: i64,
    from: PointText,
    to: PointText,
    load: u32,
}

#[derive(Deserialize)]
struct ProblemText {
    people: Vec<PersonText>,
    machines: Vec<MachineText>,
    tasks: Vec<TaskText>,
    links: Vec<LinkText>,
    occupancies: Vec<OccupancyText>,
    overtime_weight: f64,
}

fn spans(pairs: Vec<(Minute, Minute)>) -> Vec<Span> {
    pairs
        .into_iter()
        .map(|(start, end)| Span { start, end })
        .collect()
}

fn point((task, edge): PointText) -> Point {
    let edge = match edge {
        EdgeText::Start => Edge::Start,
        EdgeText::End => Edge::End,
    };
    Point { task, edge }
}

/// The problem in a file's text.
///
/// # Errors
/// What serde says of the line and column where the text is not of the format.
pub fn read(text: &str) -> Result<Problem, serde_json::Error> {
    let text: ProblemText = serde_json::from_str(text)?;
    let people = text.people.into_iter().map(|person| Person {
        id: person.id,
        skills: person.skills,
        available: spans(person.available),
        overtime: spans(person.overtime),
    });
    let machines = text.machines.into_iter().map(|machine| Machine {
        id: machine.id,
        capacity: machine.capacity,
        kind: match machine.change_over {
            Some(change_over) => MachineKind::OneLoad { change_over },
            None => MachineKind::Shared,
        },
        unavailable: spans(machine.unavailable),
    });
    let tasks = text.tasks.into_iter().map(|task| Task {
        what: task.id.clone(),
        id: task.id,
        duration: task.duration,
        crew: task.crew.map(|crew| Crew {
            count: crew.count,
            skill: crew.skill,
            min_count: crew.count,
        }),
        earliest: task.earliest,
        latest: task.latest,
        why_earliest: String::new(),
        why_latest: String::new(),
        lean: match task.lean {
            None => Lean::Indifferent,
            Some(LeanText::Side(Side::Early)) => Lean::Early,
            Some(LeanText::Side(Side::Late)) => Lean::Late,
            Some(LeanText::Toward(at)) => Lean::Toward(at),
        },
        weight: task.weight,
    });
    let links = text.links.into_iter().map(|link| Link {
        from: point(link.from),
        to: point(link.to),
        min: link.min,
        max: link.max,
        why: String::new(),
    });
    let occupancies = text.occupancies.into_iter().map(|hold| Occupancy {
        machine: hold.machine,
        amount: hold.amount,
        from: point(hold.from),
        to: point(hold.to),
        load: hold.load,
        what: format!("load {}", hold.load),
    });
    Ok(Problem {
        people: people.collect(),
        machines: machines.collect(),
        tasks: tasks.collect(),
        links: links.collect(),
        occupancies: occupancies.collect(),
        overtime_weight: text.overtime_weight,
    })
}
