//! The independent checker: takes a problem, starts and crews, and says which rules they break.
//!
//! It shares no code with the engine and no cleverness either: every rule is read straight from the definition of
//! the types, pair by pair, so that a mistake in the engine cannot hide here as well.

use crate::problem::{Edge, MachineKind, Minute, Occupancy, Point, Problem, Span};

/// One broken rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Violation {
    /// The lists do not have one entry for each task.
    WrongLength {
        /// Tasks in the problem.
        tasks: usize,
        /// Starts given.
        starts: usize,
        /// Crews given.
        crews: usize,
    },
    /// A task starts before its earliest start.
    TooEarly {
        /// The task.
        task: usize,
        /// Its start.
        start: Minute,
        /// Its bound.
        earliest: Minute,
    },
    /// A task starts after its latest start.
    TooLate {
        /// The task.
        task: usize,
        /// Its start.
        start: Minute,
        /// Its bound.
        latest: Minute,
    },
    /// Less time between two moments than a link asks for.
    LagTooShort {
        /// The link.
        link: usize,
        /// Minutes between them.
        got: Minute,
    },
    /// More time between two moments than a link allows.
    LagTooLong {
        /// The link.
        link: usize,
        /// Minutes between them.
        got: Minute,
    },
    /// A crew of the wrong size.
    WrongCrewSize {
        /// The task.
        task: usize,
        /// People given.
        got: usize,
        /// People needed.
        need: usize,
    },
    /// A person number that points at nobody.
    NoSuchPerson {
        /// The task.
        task: usize,
        /// The number.
        person: usize,
    },
    /// The same person twice in one crew.
    SamePersonTwice {
        /// The task.
        task: usize,
        /// The person.
        person: usize,
    },
    /// A person without the skill the crew needs.
    MissingSkill {
        /// The task.
        task: usize,
        /// The person.
        person: usize,
    },
    /// A person who is not there for the whole task.
    NotAtWork {
        /// The task.
        task: usize,
        /// The person.
        person: usize,
    },
    /// One person in two tasks at once.
    PersonInTwoPlaces {
        /// The person.
        person: usize,
        /// One task.
        first: usize,
        /// The other.
        second: usize,
    },
    /// A hold on a machine that ends before it begins.
    BackwardHold {
        /// The occupancy.
        occupancy: usize,
    },
    /// More in a machine than it holds.
    OverCapacity {
        /// The machine.
        machine: usize,
        /// A minute at which it is so.
        at: Minute,
        /// What is inside then.
        got: i64,
        /// What it holds.
        capacity: i64,
    },
    /// Two different loads in a one-load machine at once, or closer than its change-over.
    LoadsTooClose {
        /// The machine.
        machine: usize,
        /// One occupancy.
        first: usize,
        /// The other.
        second: usize,
    },
    /// Something in a machine while it is not available.
    MachineUnavailable {
        /// The machine.
        machine: usize,
        /// The occupancy.
        occupancy: usize,
    },
    /// An occupancy or link that names a task or machine that does not exist.
    NoSuchIndex {
        /// "link" or "occupancy".
        of: &'static str,
        /// Its index.
        index: usize,
    },
}

/// Every rule that `start` and `people` break; empty when they keep all of them.
///
/// Takes time in the square of the number of tasks and occupancies.
#[must_use]
pub fn check(problem: &Problem, start: &[Minute], people: &[Vec<usize>]) -> Vec<Violation> {
    let tasks = problem.tasks.len();
    if start.len() != tasks || people.len() != tasks {
        return vec![Violation::WrongLength {
            tasks,
            starts: start.len(),
            crews: people.len(),
        }];
    }
    let mut broken = Vec::new();
    windows(problem, start, &mut broken);
    lags(problem, start, &mut broken);
    crews(problem, start, people, &mut broken);
    double_bookings(problem, start, people, &mut broken);
    machines(problem, start, &mut broken);
    broken
}

fn windows(problem: &Problem, start: &[Minute], broken: &mut Vec<Violation>) {
    for (task, spec) in problem.tasks.iter().enumerate() {
        if start[task] < spec.earliest {
            broken.push(Violation::TooEarly {
                task,
                start: start[task],
                earliest: spec.earliest,
            });
        }
        if start[task] > spec.latest {
            broken.push(Violation::TooLate {
                task,
                start: start[task],
                latest: spec.latest,
            });
        }
    }
}

fn moment(problem: &Problem, start: &[Minute], point: Point) -> Option<Minute> {
    let begin = *start.get(point.task)?;
    match point.edge {
        Edge::Start => Some(begin),
        Edge::End => Some(begin + problem.tasks[point.task].duration),
    }
}

fn lags(problem: &Problem, start: &[Minute], broken: &mut Vec<Violation>) {
    for (index, link) in problem.links.iter().enumerate() {
        let (Some(from), Some(to)) = (
            moment(problem, start, link.from),
            moment(problem, start, link.to),
        ) else {
            broken.push(Violation::NoSuchIndex { of: "link", index });
            continue;
        };
        let got = to - from;
        if got < link.min {
            broken.push(Violation::LagTooShort { link: index, got });
        }
        if link.max.is_some_and(|max| got > max) {
            broken.push(Violation::LagTooLong { link: index, got });
        }
    }
}

fn crews(problem: &Problem, start: &[Minute], people: &[Vec<usize>], broken: &mut Vec<Violation>) {
    for (task, spec) in problem.tasks.iter().enumerate() {
        let need = spec.crew.as_ref().map_or(0, |crew| crew.count);
        let got = people[task].len();
        if got != need {
            broken.push(Violation::WrongCrewSize { task, got, need });
        }
        for (place, &person) in people[task].iter().enumerate() {
            let Some(who) = problem.people.get(person) else {
                broken.push(Violation::NoSuchPerson { task, person });
                continue;
            };
            if people[task][..place].contains(&person) {
                broken.push(Violation::SamePersonTwice { task, person });
            }
            if let Some(skill) = spec.crew.as_ref().and_then(|crew| crew.skill.as_ref())
                && !who.skills.iter().any(|has| has == skill)
            {
                broken.push(Violation::MissingSkill { task, person });
            }
            if !at_work(
                &who.available,
                &who.overtime,
                start[task],
                start[task] + spec.duration,
            ) {
                broken.push(Violation::NotAtWork { task, person });
            }
        }
    }
}

/// Walks from `from` to `to`, each time to the furthest end of a span that holds the moment reached.
fn at_work(available: &[Span], overtime: &[Span], from: Minute, to: Minute) -> bool {
    let mut reached = from;
    let mut ever_inside = false;
    loop {
        let furthest = available
            .iter()
            .chain(overtime)
            .filter(|span| span.start <= reached && reached <= span.end)
            .map(|span| span.end)
            .max();
        let Some(furthest) = furthest else {
            return false;
        };
        ever_inside |= furthest >= reached;
        if furthest >= to {
            return ever_inside;
        }
        if furthest == reached {
            return false;
        }
        reached = furthest;
    }
}

fn share_a_minute(a: (Minute, Minute), b: (Minute, Minute)) -> bool {
    a.0.max(b.0) < a.1.min(b.1)
}

fn double_bookings(
    problem: &Problem,
    start: &[Minute],
    people: &[Vec<usize>],
    broken: &mut Vec<Violation>,
) {
    let stretch = |task: usize| (start[task], start[task] + problem.tasks[task].duration);
    for second in 0..people.len() {
        for first in 0..second {
            if !share_a_minute(stretch(first), stretch(second)) {
                continue;
            }
            for &person in &people[first] {
                if people[second].contains(&person) {
                    broken.push(Violation::PersonInTwoPlaces {
                        person,
                        first,
                        second,
                    });
                }
            }
        }
    }
}

fn machines(problem: &Problem, start: &[Minute], broken: &mut Vec<Violation>) {
    // Every hold with some length, as (index, from, to).
    let mut holds: Vec<(usize, Minute, Minute)> = Vec::new();
    for (index, hold) in problem.occupancies.iter().enumerate() {
        let ends = (
            moment(problem, start, hold.from),
            moment(problem, start, hold.to),
        );
        let (Some(from), Some(to)) = ends else {
            broken.push(Violation::NoSuchIndex {
                of: "occupancy",
                index,
            });
            continue;
        };
        if problem.machines.get(hold.machine).is_none() {
            broken.push(Violation::NoSuchIndex {
                of: "occupancy",
                index,
            });
        } else if from > to {
            broken.push(Violation::BackwardHold { occupancy: index });
        } else if from < to {
            holds.push((index, from, to));
        }
    }
    let hold_of = |index: usize| -> &Occupancy { &problem.occupancies[index] };
    for (machine, spec) in problem.machines.iter().enumerate() {
        let inside: Vec<_> = holds
            .iter()
            .copied()
            .filter(|&(index, _, _)| hold_of(index).machine == machine)
            .collect();
        for &(occupancy, from, to) in &inside {
            if spec
                .unavailable
                .iter()
                .any(|shut| share_a_minute((shut.start, shut.end), (from, to)))
            {
                broken.push(Violation::MachineUnavailable { machine, occupancy });
            }
        }
        if let MachineKind::OneLoad { change_over } = spec.kind {
            for (place, &(second, from2, to2)) in inside.iter().enumerate() {
                for &(first, from1, to1) in &inside[..place] {
                    let apart = to1 + change_over <= from2 || to2 + change_over <= from1;
                    if hold_of(first).load != hold_of(second).load && !apart {
                        broken.push(Violation::LoadsTooClose {
                            machine,
                            first,
                            second,
                        });
                    }
                }
            }
        }
        // The content only grows where something goes in, so those are the moments to weigh it.
        let mut moments: Vec<Minute> = inside.iter().map(|&(_, from, _)| from).collect();
        moments.sort_unstable();
        moments.dedup();
        for at in moments {
            let got: i64 = inside
                .iter()
                .filter(|&&(_, from, to)| from <= at && at < to)
                .map(|&(index, _, _)| hold_of(index).amount)
                .sum();
            if got > spec.capacity {
                broken.push(Violation::OverCapacity {
                    machine,
                    at,
                    got,
                    capacity: spec.capacity,
                });
            }
        }
    }
}
