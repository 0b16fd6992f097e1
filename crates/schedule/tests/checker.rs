//! The checker notices: start from a schedule it accepts, break one thing, and it names what was broken.
// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod every;
mod kitchens;

use kitchens::{crew, end_of, hold, link, machine, person, span, start_of, task};
use proptest::prelude::*;
use schedule::check::{Violation, check};
use schedule::{Effort, MachineKind, Minute, Outcome, Problem, solve};

/// One of every rule, and a schedule that keeps them all with nothing to spare.
fn tight() -> (Problem, Vec<Minute>, Vec<Vec<usize>>) {
    let mut problem = Problem {
        people: vec![
            person("a", &["fillet"], vec![span(0, 100)]),
            person("b", &[], vec![span(0, 50), span(50, 100)]),
        ],
        machines: vec![
            machine("smoker", 2, MachineKind::OneLoad { change_over: 10 }),
            machine("shelf", 2, MachineKind::Shared),
        ],
        ..Problem::default()
    };
    problem.people[0].overtime = vec![span(100, 120)];
    problem.machines[1].unavailable = vec![span(90, 95)];
    problem.tasks = vec![
        task("fillet", 20, crew(1, Some("fillet")), 0, 0),
        task("smoke", 20, None, 20, 20),
        task("smoke again", 20, None, 50, 50),
        task("trim", 60, crew(1, None), 20, 60),
        task("pack", 20, crew(1, None), 100, 100),
    ];
    problem.links = vec![link(end_of(0), start_of(1), 0, Some(0), "at once")];
    problem.occupancies = vec![
        hold(0, 1, start_of(1), end_of(1), 1),
        hold(0, 2, start_of(2), end_of(2), 2),
        hold(1, 1, start_of(1), start_of(3), 3),
        hold(1, 2, start_of(3), end_of(3), 4),
    ];
    (
        problem,
        vec![0, 20, 50, 30, 100],
        vec![vec![0], vec![], vec![], vec![1], vec![0]],
    )
}

#[test]
fn a_schedule_with_nothing_to_spare_is_accepted() {
    let (problem, start, people) = tight();
    assert_eq!(check(&problem, &start, &people), vec![]);
}

#[test]
fn every_rule_is_noticed_when_broken() {
    type Break = fn(&mut Problem, &mut Vec<Minute>, &mut Vec<Vec<usize>>);
    type Noticed = fn(&Violation) -> bool;
    let cases: Vec<(&str, Break, Noticed)> = vec![
        (
            "too early",
            |_, s, _| s[4] = 99,
            |v| matches!(v, Violation::TooEarly { task: 4, .. }),
        ),
        (
            "too late",
            |_, s, _| s[4] = 101,
            |v| matches!(v, Violation::TooLate { task: 4, .. }),
        ),
        (
            "past overtime",
            |_, s, _| s[4] = 101,
            |v| matches!(v, Violation::NotAtWork { task: 4, person: 0 }),
        ),
        (
            "lag too long",
            |_, s, _| s[1] = 21,
            |v| matches!(v, Violation::LagTooLong { link: 0, got: 1 }),
        ),
        (
            "lag too short",
            |_, s, _| s[1] = 19,
            |v| matches!(v, Violation::LagTooShort { link: 0, got: -1 }),
        ),
        (
            "nobody",
            |_, _, p| p[0].clear(),
            |v| {
                matches!(
                    v,
                    Violation::WrongCrewSize {
                        task: 0,
                        got: 0,
                        need: 1
                    }
                )
            },
        ),
        (
            "helper at a wait",
            |_, _, p| p[1].push(0),
            |v| matches!(v, Violation::WrongCrewSize { task: 1, .. }),
        ),
        (
            "stranger",
            |_, _, p| p[0] = vec![7],
            |v| matches!(v, Violation::NoSuchPerson { task: 0, person: 7 }),
        ),
        (
            "twice in one crew",
            |_, _, p| p[3] = vec![1, 1],
            |v| matches!(v, Violation::SamePersonTwice { task: 3, .. }),
        ),
        (
            "no skill",
            |_, _, p| p[0] = vec![1],
            |v| matches!(v, Violation::MissingSkill { task: 0, person: 1 }),
        ),
        (
            "gone home",
            |_, _, p| p[4] = vec![1],
            |v| matches!(v, Violation::NotAtWork { task: 4, person: 1 }),
        ),
        (
            "a hole in the day",
            |p, _, _| p.people[1].available[0].end = 49,
            |v| matches!(v, Violation::NotAtWork { task: 3, .. }),
        ),
        (
            "two places",
            |p, s, people| {
                p.tasks[3].earliest = 0;
                s[3] = 19;
                people[3] = vec![0];
            },
            |v| {
                matches!(
                    v,
                    Violation::PersonInTwoPlaces {
                        person: 0,
                        first: 0,
                        second: 3
                    }
                )
            },
        ),
        (
            "change-over",
            |_, s, _| s[2] = 49,
            |v| {
                matches!(
                    v,
                    Violation::LoadsTooClose {
                        machine: 0,
                        first: 0,
                        second: 1
                    }
                )
            },
        ),
        (
            "over capacity",
            |p, _, _| p.machines[1].capacity = 1,
            |v| {
                matches!(
                    v,
                    Violation::OverCapacity {
                        machine: 1,
                        got: 2,
                        ..
                    }
                )
            },
        ),
        (
            "one load too large",
            |p, _, _| {
                p.occupancies[1].load = 1;
                p.tasks[2].earliest = 0;
                p.machines[0].capacity = 1;
            },
            |v| {
                matches!(
                    v,
                    Violation::OverCapacity {
                        machine: 0,
                        at: 50,
                        ..
                    }
                )
            },
        ),
        (
            "closed",
            |_, s, _| s[3] = 31,
            |v| {
                matches!(
                    v,
                    Violation::MachineUnavailable {
                        machine: 1,
                        occupancy: 3
                    }
                )
            },
        ),
        (
            "backward hold",
            |_, s, _| s[3] = 19,
            |v| matches!(v, Violation::BackwardHold { occupancy: 2 }),
        ),
        (
            "missing entry",
            |_, s, _| {
                s.pop();
            },
            |v| {
                matches!(
                    v,
                    Violation::WrongLength {
                        tasks: 5,
                        starts: 4,
                        ..
                    }
                )
            },
        ),
    ];
    for (name, break_it, noticed) in cases {
        let (mut problem, mut start, mut people) = tight();
        break_it(&mut problem, &mut start, &mut people);
        let broken = check(&problem, &start, &people);
        assert!(broken.iter().any(noticed), "{name}: {broken:?}");
    }
}

/// Content of every machine at one minute, and whether a person's minutes add up: the rules once more, by the minute.
fn fine_by_the_minute(problem: &Problem, start: &[Minute], people: &[Vec<usize>]) -> bool {
    let moment = |point: schedule::Point| match point.edge {
        schedule::Edge::Start => start[point.task],
        schedule::Edge::End => start[point.task] + problem.tasks[point.task].duration,
    };
    let inside =
        |hold: &schedule::Occupancy, at: Minute| moment(hold.from) <= at && at < moment(hold.to);
    for at in -5..40 {
        for person in 0..problem.people.len() {
            let busy = (0..start.len()).filter(|&task| {
                people[task].contains(&person)
                    && start[task] <= at
                    && at < start[task] + problem.tasks[task].duration
            });
            if busy.count() > 1 {
                return false;
            }
        }
        for (index, machine) in problem.machines.iter().enumerate() {
            let holds: Vec<_> = problem
                .occupancies
                .iter()
                .filter(|hold| hold.machine == index && inside(hold, at))
                .collect();
            if holds.iter().map(|hold| hold.amount).sum::<i64>() > machine.capacity {
                return false;
            }
            if !holds.is_empty()
                && machine
                    .unavailable
                    .iter()
                    .any(|shut| shut.start <= at && at < shut.end)
            {
                return false;
            }
            if let MachineKind::OneLoad { change_over } = machine.kind {
                for other in problem
                    .occupancies
                    .iter()
                    .filter(|other| other.machine == index)
                {
                    let near = (at..=at + change_over).any(|later| inside(other, later));
                    if near && holds.iter().any(|hold| hold.load != other.load) {
                        return false;
                    }
                }
            }
        }
    }
    true
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, failure_persistence: None, ..ProptestConfig::default() })]

    /// Moving one task of a schedule somewhere else, the checker agrees with a look at every minute.
    #[test]
    fn a_moved_task_is_judged_as_by_the_minute(
        problem in every::problem(), which in 0..4_usize, to in 0..12_i64, who in 0..3_usize
    ) {
        let Ok(Outcome::Found(mut found)) = solve(&problem, &Effort { seed: 1, steps: 100_000 }, &mut |_| true) else {
            return Ok(());
        };
        prop_assert!(fine_by_the_minute(&problem, &found.start, &found.people));
        let task = which % problem.tasks.len();
        found.start[task] = to;
        if let Some(person) = found.people[task].first_mut() {
            *person = who % problem.people.len();
        }
        let broken = check(&problem, &found.start, &found.people);
        let by_rule = broken.iter().any(|broken| matches!(broken,
            Violation::PersonInTwoPlaces { .. } | Violation::OverCapacity { .. } | Violation::LoadsTooClose { .. }
            | Violation::MachineUnavailable { .. }));
        prop_assert_eq!(!by_rule, fine_by_the_minute(&problem, &found.start, &found.people), "{:?}", broken);
    }
}
