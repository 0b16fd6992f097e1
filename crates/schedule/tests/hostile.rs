//! Problems nobody should send, and large ones.
// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod kitchens;

use kitchens::{DAY, crew, daily, end_of, hold, link, machine, person, start_of, task};
use schedule::check::check;
use schedule::{Effort, Lean, MINUTE_LIMIT, MachineKind, Malformed, Outcome, Problem, Span, solve};

fn answer(problem: &Problem, steps: u64) -> Result<Outcome, Malformed> {
    solve(problem, &Effort { seed: 1, steps }, &mut |_| true)
}

/// Only as far as the first schedule.
fn first_answer(problem: &Problem, steps: u64) -> Result<Outcome, Malformed> {
    solve(problem, &Effort { seed: 1, steps }, &mut |progress| {
        progress.best.is_none()
    })
}

fn refused(change: impl Fn(&mut Problem)) -> Malformed {
    let mut problem = kitchens::chains(2, 8, 3, 1);
    change(&mut problem);
    answer(&problem, 1_000_000).expect_err("must be refused")
}

#[test]
fn numbers_out_of_range_are_refused_with_their_place() {
    let told = refused(|problem| problem.tasks[3].weight = f64::NAN);
    assert!(
        told.to_string().contains("weight of task \"rinse\""),
        "{told}"
    );
    assert!(matches!(
        refused(|problem| problem.tasks[0].weight = f64::INFINITY),
        Malformed::BadWeight { .. }
    ));
    assert!(matches!(
        refused(|problem| problem.overtime_weight = -1.0),
        Malformed::BadWeight { .. }
    ));
    assert!(matches!(
        refused(|p| p.tasks[0].latest = MINUTE_LIMIT + 1),
        Malformed::MinuteOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.tasks[0].earliest = i64::MIN),
        Malformed::MinuteOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.tasks[0].duration = -1),
        Malformed::AmountOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.tasks[0].lean = Lean::Toward(i64::MAX)),
        Malformed::MinuteOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.links[0].min = i64::MIN),
        Malformed::MinuteOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.links[0].max = Some(i64::MAX)),
        Malformed::MinuteOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.links[0].to.task = 99),
        Malformed::NoSuchIndex {
            kind: "task",
            got: 99,
            count: 16,
            ..
        }
    ));
    assert!(matches!(
        refused(|p| p.occupancies[0].machine = 4),
        Malformed::NoSuchIndex {
            kind: "machine",
            ..
        }
    ));
    assert!(matches!(
        refused(|p| p.occupancies[0].amount = -1),
        Malformed::AmountOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.machines[0].capacity = i64::MAX),
        Malformed::AmountOutOfRange { .. }
    ));
    assert!(matches!(
        refused(|p| p.people[0].available.reverse()),
        Malformed::UnsortedSpans { .. }
    ));
    let backward = Span { start: 5, end: 5 };
    assert!(matches!(
        refused(|p| p.people[0].overtime = vec![backward]),
        Malformed::BackwardSpan { .. }
    ));
    assert!(matches!(
        refused(|p| p.machines[0].unavailable = vec![backward]),
        Malformed::BackwardSpan { .. }
    ));
    assert!(matches!(
        refused(|p| p.tasks[0].crew = crew(0, None)),
        Malformed::BadCrew { .. }
    ));
    assert!(matches!(
        refused(|p| p.tasks[0].crew.as_mut().unwrap().min_count = 7),
        Malformed::BadCrew { .. }
    ));
}

#[test]
fn the_furthest_minutes_do_not_overflow() {
    let mut problem = Problem {
        people: vec![person(
            "a",
            &[],
            vec![Span {
                start: -MINUTE_LIMIT,
                end: MINUTE_LIMIT,
            }],
        )],
        ..Problem::default()
    };
    problem.machines.push(machine(
        "m",
        1,
        MachineKind::OneLoad {
            change_over: MINUTE_LIMIT,
        },
    ));
    for index in 0..40 {
        problem.tasks.push(task(
            "long",
            if index < 2 { MINUTE_LIMIT } else { 1 },
            crew(1, None),
            -MINUTE_LIMIT,
            MINUTE_LIMIT,
        ));
        problem
            .occupancies
            .push(hold(0, 1, start_of(index), end_of(index), index as u32));
        if index > 0 {
            problem.links.push(link(
                end_of(index - 1),
                start_of(index),
                -MINUTE_LIMIT,
                Some(MINUTE_LIMIT),
                "far",
            ));
        }
    }
    assert!(!matches!(answer(&problem, 200_000), Ok(Outcome::Found(_))));
    problem.occupancies.clear();
    problem.links = vec![
        link(end_of(0), start_of(1), MINUTE_LIMIT, None, "a"),
        link(end_of(1), start_of(0), MINUTE_LIMIT, None, "b"),
    ];
    assert!(matches!(
        answer(&problem, 200_000),
        Ok(Outcome::Impossible(_))
    ));
}

#[test]
fn without_people_only_waiting_can_be_done() {
    let mut problem = kitchens::chains(3, 8, 0, 1);
    assert!(matches!(
        answer(&problem, 1_000_000),
        Ok(Outcome::Impossible(_))
    ));
    for task in &mut problem.tasks {
        task.crew = None;
    }
    assert!(matches!(answer(&problem, 5_000_000), Ok(Outcome::Found(_))));
}

#[test]
fn a_window_before_anybody_is_there_is_impossible() {
    let mut problem = Problem {
        people: vec![person("a", &[], daily(3, 7, 16))],
        ..Problem::default()
    };
    problem.tasks = vec![task("late fish", 30, crew(1, None), -5 * DAY, -4 * DAY)];
    assert!(
        matches!(answer(&problem, 1_000_000), Ok(Outcome::Impossible(clash)) if clash.facts.len() == 2)
    );
}

#[test]
fn a_task_tied_to_itself_is_judged_by_the_lag() {
    let mut problem = Problem {
        tasks: vec![task("x", 10, None, 0, 100)],
        ..Problem::default()
    };
    problem.links = vec![link(start_of(0), end_of(0), 5, Some(15), "fits")];
    assert!(matches!(answer(&problem, 1_000), Ok(Outcome::Found(_))));
    problem.links[0].min = 11;
    assert!(
        matches!(answer(&problem, 1_000), Ok(Outcome::Impossible(clash)) if clash.facts.len() == 1)
    );
    problem.links.clear();
    problem.machines = vec![machine("m", 1, MachineKind::Shared)];
    problem.occupancies = vec![hold(0, 1, end_of(0), start_of(0), 0)];
    assert!(
        matches!(answer(&problem, 1_000), Ok(Outcome::Impossible(clash)) if clash.facts.len() == 1)
    );
}

#[test]
fn no_effort_answers_all_the_same() {
    let problem = kitchens::chains(5, 8, 4, 1);
    assert!(matches!(answer(&problem, 0), Ok(Outcome::NotFound(clash)) if !clash.facts.is_empty()));
}

#[test]
fn all_tasks_on_one_machine_queue_up() {
    let mut problem = Problem {
        machines: vec![machine("press", 1, MachineKind::OneLoad { change_over: 5 })],
        ..Problem::default()
    };
    for index in 0..300 {
        problem
            .tasks
            .push(task("press", 10, None, 0, 300 * 15 - 15));
        problem
            .occupancies
            .push(hold(0, 1, start_of(index), end_of(index), index as u32));
    }
    // Exactly enough time: any gap wasted would leave the last one out.
    let Ok(Outcome::Found(found)) = first_answer(&problem, 10_000_000) else {
        panic!("it fits")
    };
    assert_eq!(check(&problem, &found.start, &found.people), vec![]);
    for task in &mut problem.tasks {
        task.latest -= 1;
    }
    assert!(matches!(
        answer(&problem, 1_000_000),
        Ok(Outcome::Impossible(_))
    ));
}

#[test]
fn five_thousand_tasks_are_answered() {
    let problem = kitchens::chains(625, 260, 12, 1);
    assert_eq!(problem.tasks.len(), 5_000);
    let Ok(Outcome::Found(found)) = first_answer(&problem, 20_000_000) else {
        panic!("there is room for them")
    };
    assert_eq!(check(&problem, &found.start, &found.people), vec![]);
    // All of them tied into one chain, on one machine, in too little time.
    let chain = kitchens::one_long_chain(5_000, 60);
    assert!(!matches!(
        first_answer(&chain, 500_000),
        Ok(Outcome::Found(_))
    ));
}
