//! What the engine answers to problems whose answer is known by hand.
// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod kitchens;

use kitchens::{
    DAY, crew, daily, end_of, hold, link, machine, person, span, start_of, task, two_smoker_loads,
};
use schedule::check::check;
use schedule::{Clash, Effort, Fact, Lean, MachineKind, Outcome, Problem, Schedule, Side, solve};

fn answer(problem: &Problem) -> Outcome {
    solve(problem, &Effort::standard(), &mut |_| true).expect("well formed")
}

fn found(problem: &Problem) -> Schedule {
    match answer(problem) {
        Outcome::Found(found) => {
            assert_eq!(check(problem, &found.start, &found.people), vec![]);
            found
        }
        other => panic!("expected a schedule, got {other:?}"),
    }
}

fn impossible(problem: &Problem) -> Clash {
    match answer(problem) {
        Outcome::Impossible(clash) => clash,
        other => panic!("expected a proof, got {other:?}"),
    }
}

#[test]
fn nothing_to_do_is_done_for_nothing() {
    let found = found(&Problem::default());
    assert_eq!((found.value, found.proved), (0.0, true));
}

#[test]
fn two_smoker_loads_do_not_fit_one_day() {
    let clash = impossible(&two_smoker_loads(1));
    assert!(
        matches!(&clash.facts[0], Fact::MachineFull { machine: 0, occupancies, .. } if occupancies == &[0, 1])
    );
    // 2 x 345 min of loads and 40 min between them, against 11:25 to 20:40.
    let sentence = clash.facts[0].sentence();
    assert!(
        sentence.contains("11 h 30 min")
            && sentence.contains("40 min")
            && sentence.contains("9 h 15 min"),
        "{sentence}"
    );
}

#[test]
fn two_smoker_loads_fit_two_days() {
    let found = found(&two_smoker_loads(2));
    let first = found.start[0].min(found.start[3]);
    let second = found.start[0].max(found.start[3]);
    assert_eq!(first, 11 * 60 + 25);
    assert!(second >= first + 345 + 40);
}

#[test]
fn a_lag_cycle_is_named_and_nothing_else() {
    let mut problem = Problem::default();
    for what in ["a", "b", "c", "bystander"] {
        problem.tasks.push(task(what, 10, None, 0, 1_000));
    }
    problem.links = vec![
        link(start_of(3), start_of(0), 0, None, "not part of it"),
        link(start_of(0), start_of(1), 100, None, "b follows a"),
        link(end_of(1), start_of(2), 50, None, "c follows b"),
        link(
            start_of(0),
            start_of(2),
            0,
            Some(159),
            "c within 159 min of a",
        ),
    ];
    let clash = impossible(&problem);
    let mut links: Vec<_> = clash
        .facts
        .iter()
        .map(|fact| match fact {
            Fact::Link { link, side, .. } => (*link, *side == Side::Most),
            other => panic!("only lags are at fault, got {other:?}"),
        })
        .collect();
    links.sort_unstable();
    assert_eq!(links, vec![(1, false), (2, false), (3, true)]);
    problem.links[3].max = Some(160);
    assert!(matches!(answer(&problem), Outcome::Found(_)));
}

#[test]
fn a_window_against_a_lag_names_both_ends() {
    let mut problem = Problem {
        tasks: vec![
            task("thaw", 60, None, 100, 900),
            task("salt", 10, None, 0, 150),
        ],
        ..Problem::default()
    };
    problem.links = vec![link(end_of(0), start_of(1), 0, None, "thawed first")];
    let clash = impossible(&problem);
    assert_eq!(clash.facts.len(), 3, "{clash:?}");
    assert!(matches!(
        clash.facts[0],
        Fact::TaskWindow {
            task: 0,
            side: Side::Least,
            ..
        }
    ));
    assert!(matches!(
        clash.facts[1],
        Fact::Link {
            link: 0,
            side: Side::Least,
            ..
        }
    ));
    assert!(matches!(
        clash.facts[2],
        Fact::TaskWindow {
            task: 1,
            side: Side::Most,
            ..
        }
    ));
    assert!(clash.facts[2].sentence().contains("salt is due"));
}

#[test]
fn a_wait_that_always_ends_at_night_is_impossible_with_its_reasons() {
    // Salted 07:00 to 15:00 at the latest, rinsed exactly 12 h after: 19:00 to 03:00, and people go home at 16:00.
    let mut problem = Problem {
        people: vec![person("a", &[], daily(5, 7, 16))],
        ..Problem::default()
    };
    problem.tasks = vec![
        task("salt", 60, crew(1, None), 0, 4 * DAY),
        task("rinse", 30, crew(1, None), 0, 5 * DAY),
        task("bystander", 30, crew(1, None), 0, 5 * DAY),
    ];
    problem.links = vec![link(
        end_of(0),
        start_of(1),
        720,
        Some(720),
        "twelve hours in salt",
    )];
    let clash = impossible(&problem);
    assert!(
        clash.facts.iter().any(|fact| matches!(
            fact,
            Fact::NoPeople {
                task: 0,
                need: 1,
                have: 1,
                ..
            }
        )),
        "{clash:?}"
    );
    assert!(
        clash
            .facts
            .iter()
            .any(|fact| matches!(fact, Fact::NoPeople { task: 1, .. }))
    );
    assert!(
        !clash
            .facts
            .iter()
            .any(|fact| matches!(fact, Fact::NoPeople { task: 2, .. }))
    );
    problem.links[0].max = Some(1_000);
    found(&problem);
}

#[test]
fn a_crew_larger_than_the_people_who_can_is_impossible() {
    let mut problem = Problem {
        people: vec![
            person("a", &["fillet"], daily(2, 7, 16)),
            person("b", &[], daily(2, 7, 16)),
        ],
        ..Problem::default()
    };
    problem.tasks = vec![task("fillet", 60, crew(2, Some("fillet")), 0, DAY)];
    let clash = impossible(&problem);
    assert!(
        matches!(
            clash.facts[..],
            [Fact::NoPeople {
                task: 0,
                need: 2,
                have: 1,
                ..
            }]
        ),
        "{clash:?}"
    );
    assert_eq!(
        clash.facts[0].sentence(),
        "\"fillet\" needs 2 people who can do \"fillet\" for 1 h, and there are never more than 1 together"
    );
}

#[test]
fn more_work_than_hours_is_impossible() {
    let mut problem = Problem {
        people: vec![person("a", &[], daily(1, 7, 9))],
        ..Problem::default()
    };
    problem.tasks = vec![
        task("one", 70, crew(1, None), 0, DAY),
        task("two", 70, crew(1, None), 0, DAY),
    ];
    let clash = impossible(&problem);
    assert!(
        matches!(
            &clash.facts[0],
            Fact::PeopleFull {
                need: 140,
                have: 120,
                ..
            }
        ),
        "{clash:?}"
    );
}

#[test]
fn a_hold_larger_than_its_machine_is_impossible_only_if_it_lasts() {
    let mut problem = Problem {
        machines: vec![machine("shelf", 3, MachineKind::Shared)],
        ..Problem::default()
    };
    problem.tasks = vec![
        task("chill", 60, None, 0, DAY),
        task("serve", 0, None, 0, DAY),
    ];
    problem.occupancies = vec![hold(0, 4, end_of(0), start_of(1), 0)];
    assert_eq!(
        found(&problem).start[1],
        60,
        "nothing is held when it is served at once"
    );
    problem.links = vec![link(end_of(0), start_of(1), 1, None, "rests")];
    assert!(matches!(
        impossible(&problem).facts[..],
        [Fact::MachineFull { machine: 0, .. }]
    ));
}

#[test]
fn a_passive_task_runs_through_the_night_and_a_crew_does_not() {
    let mut problem = Problem {
        people: vec![person("a", &[], daily(3, 7, 16))],
        ..Problem::default()
    };
    problem.tasks = vec![
        task("salt", 60, crew(1, None), 15 * 60, DAY),
        task("cure", 14 * 60, None, 0, 2 * DAY),
        task("rinse", 30, crew(1, None), 0, 3 * DAY),
    ];
    problem.links = vec![
        link(end_of(0), start_of(1), 0, Some(0), "cures once salted"),
        link(end_of(1), start_of(2), 0, Some(120), "not too salt"),
    ];
    let found = found(&problem);
    assert_eq!(found.start, vec![15 * 60, 16 * 60, DAY + 7 * 60]);
    assert!(!found.proved || (found.value - found.bound).abs() < 1e-9);
}

#[test]
fn overtime_is_used_only_where_it_is_worth_it() {
    let mut late = person("a", &[], daily(2, 7, 16));
    late.overtime = daily(2, 16, 20);
    let mut problem = Problem {
        people: vec![late],
        overtime_weight: 0.1,
        ..Problem::default()
    };
    problem.tasks = vec![task("pack", 60, crew(1, None), 16 * 60, 2 * DAY)];
    assert_eq!(
        found(&problem).start,
        vec![16 * 60],
        "60 min of overtime at 0.1 is cheaper than 15 h of waiting"
    );
    problem.overtime_weight = 100.0;
    let patient = found(&problem);
    assert_eq!(patient.start, vec![DAY + 7 * 60]);
    assert_eq!((patient.value, patient.proved), (900.0, true));
}

#[test]
fn learners_work_in_their_sessions_and_the_technician_all_day() {
    let mut problem = Problem {
        people: vec![person("technician", &["smoke"], daily(5, 7, 17))],
        ..Problem::default()
    };
    let sessions = vec![
        span(DAY + 540, DAY + 720),
        span(3 * DAY + 540, 3 * DAY + 720),
    ];
    for learner in 0..24 {
        problem.people.push(person(
            &format!("learner {learner}"),
            &["learn"],
            sessions.clone(),
        ));
    }
    for group in 0..12 {
        let t = problem.tasks.len();
        problem.tasks.push(task(
            &format!("fillet {group}"),
            90,
            crew(2, Some("learn")),
            0,
            2 * DAY,
        ));
        problem
            .tasks
            .push(task(&format!("cure {group}"), 1_200, None, 0, 5 * DAY));
        problem.tasks.push(task(
            &format!("slice {group}"),
            80,
            crew(2, Some("learn")),
            0,
            5 * DAY,
        ));
        problem.links.push(link(
            end_of(t),
            start_of(t + 1),
            0,
            Some(60),
            "salted in the session",
        ));
        problem.links.push(link(
            end_of(t + 1),
            start_of(t + 2),
            0,
            Some(2 * DAY),
            "within two days",
        ));
    }
    let found = found(&problem);
    for group in 0..12 {
        assert!(found.start[3 * group] < DAY + 720 && found.start[3 * group + 2] >= 3 * DAY + 540);
    }
}

#[test]
fn one_load_is_shared_and_two_keep_their_distance() {
    let mut problem = Problem {
        machines: vec![machine("oven", 4, MachineKind::OneLoad { change_over: 15 })],
        ..Problem::default()
    };
    for (what, load) in [("bread", 1), ("rolls", 1), ("custard", 2)] {
        let t = problem.tasks.len();
        problem.tasks.push(task(what, 50, None, 0, 300));
        problem
            .occupancies
            .push(hold(0, 2, start_of(t), end_of(t), load));
    }
    let both = found(&problem);
    assert_eq!(both.start[0], both.start[1], "one load goes in together");
    let apart = (both.start[2] - both.start[0]).abs();
    assert_eq!(apart, 65);
    problem.occupancies[0].amount = 3;
    let now = found(&problem);
    assert_ne!(now.start[0], now.start[1], "3 + 2 is more than 4 at once");
}

#[test]
fn a_closed_machine_is_left_alone() {
    let mut problem = Problem {
        machines: vec![machine("oven", 1, MachineKind::Shared)],
        ..Problem::default()
    };
    problem.machines[0].unavailable = vec![span(50, 200), span(10, 60)];
    problem.tasks = vec![task("bake", 30, None, 0, 1_000)];
    problem.occupancies = vec![hold(0, 1, start_of(0), end_of(0), 0)];
    let after = found(&problem);
    assert_eq!(after.start, vec![200]);
    assert!(after.proved, "the bound knows the closed hours");
    problem.tasks[0].latest = 199;
    assert!(matches!(
        impossible(&problem).facts[0],
        Fact::TaskWindow { .. } | Fact::MachineFull { .. }
    ));
}

#[test]
fn each_lean_goes_its_way() {
    let mut problem = Problem::default();
    for lean in [Lean::Early, Lean::Late, Lean::Toward(40), Lean::Toward(400)] {
        let mut one = task("rest", 10, None, 20, 100);
        one.lean = lean;
        problem.tasks.push(one);
    }
    let found = found(&problem);
    assert_eq!(found.start, vec![20, 100, 40, 100]);
    assert_eq!((found.value, found.proved), (300.0, true));
    assert_eq!(found.free[2], (20, 60));
}

#[test]
fn a_watch_that_says_stop_is_obeyed() {
    let problem = kitchens::chains(40, 14, 10, 1);
    let mut looks = 0;
    let outcome = solve(&problem, &Effort::standard(), &mut |progress| {
        looks += 1;
        progress.best.is_none()
    });
    assert!(matches!(outcome, Ok(Outcome::Found(_))));
    assert!(looks < 200);
    let at_once = solve(&problem, &Effort::standard(), &mut |_| false);
    assert!(matches!(at_once, Ok(Outcome::NotFound(clash)) if !clash.facts.is_empty()));
}
