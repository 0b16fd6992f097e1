//! Invented work to put on the clock.
#![allow(dead_code, unreachable_pub)]

use schedule::{
    Crew, Edge, Lean, Link, Machine, MachineKind, Minute, Occupancy, Person, Point, Problem, Span,
    Task,
};

pub const DAY: Minute = 1_440;

pub fn span(start: Minute, end: Minute) -> Span {
    Span { start, end }
}

pub fn start_of(task: usize) -> Point {
    Point {
        task,
        edge: Edge::Start,
    }
}

pub fn end_of(task: usize) -> Point {
    Point {
        task,
        edge: Edge::End,
    }
}

/// Hours from `from` to `to` o'clock on each of `days` days.
pub fn daily(days: Minute, from: Minute, to: Minute) -> Vec<Span> {
    (0..days)
        .map(|day| span(day * DAY + from * 60, day * DAY + to * 60))
        .collect()
}

pub fn person(id: &str, skills: &[&str], available: Vec<Span>) -> Person {
    Person {
        id: id.into(),
        skills: skills.iter().map(|&s| s.into()).collect(),
        available,
        overtime: vec![],
    }
}

pub fn crew(count: usize, skill: Option<&str>) -> Option<Crew> {
    Some(Crew {
        count,
        skill: skill.map(Into::into),
        min_count: count,
    })
}

pub fn task(
    what: &str,
    duration: Minute,
    crew: Option<Crew>,
    earliest: Minute,
    latest: Minute,
) -> Task {
    Task {
        id: what.into(),
        what: what.into(),
        duration,
        crew,
        earliest,
        latest,
        why_earliest: format!("{what} must wait"),
        why_latest: format!("{what} is due"),
        lean: Lean::Early,
        weight: 1.0,
    }
}

pub fn link(from: Point, to: Point, min: Minute, max: Option<Minute>, why: &str) -> Link {
    Link {
        from,
        to,
        min,
        max,
        why: why.into(),
    }
}

pub fn machine(id: &str, capacity: i64, kind: MachineKind) -> Machine {
    Machine {
        id: id.into(),
        capacity,
        kind,
        unavailable: vec![],
    }
}

pub fn hold(machine: usize, amount: i64, from: Point, to: Point, load: u32) -> Occupancy {
    Occupancy {
        machine,
        amount,
        from,
        to,
        load,
        what: format!("load {load}"),
    }
}

/// Two smoker loads of 25 min loading and 320 min running, from 11:25 on, out by `days` days and 21:00.
pub fn two_smoker_loads(days: Minute) -> Problem {
    let mut problem = Problem {
        people: vec![
            person("a", &[], daily(days, 7, 21)),
            person("b", &[], daily(days, 7, 21)),
        ],
        machines: vec![machine(
            "smoker",
            40,
            MachineKind::OneLoad { change_over: 40 },
        )],
        ..Problem::default()
    };
    let due = (days - 1) * DAY + 21 * 60;
    for load in 0..2_u32 {
        let first = problem.tasks.len();
        problem
            .tasks
            .push(task("load", 25, crew(1, None), 11 * 60 + 25, due));
        problem.tasks.push(task("run", 320, None, 0, due));
        problem
            .tasks
            .push(task("unload", 20, crew(1, None), 0, due - 20));
        problem.links.push(link(
            end_of(first),
            start_of(first + 1),
            0,
            Some(0),
            "the run begins when it is loaded",
        ));
        problem.links.push(link(
            end_of(first + 1),
            start_of(first + 2),
            0,
            Some(10 * 60),
            "taken out cold",
        ));
        problem
            .occupancies
            .push(hold(0, 30, start_of(first), start_of(first + 2), load));
    }
    problem
}

/// `chains` chains of eight tasks (thaw to slice) over `days` days: lags with a most, a smoker, a cold room, skills.
pub fn chains(chains: usize, days: Minute, people: usize, spread: u64) -> Problem {
    let mut problem = Problem {
        overtime_weight: 2.0,
        ..Problem::default()
    };
    for index in 0..people {
        let mut skills = vec!["prepare"];
        if index % 2 == 0 {
            skills.push("fillet");
        }
        if index % 3 == 0 {
            skills.push("smoke");
        }
        let (from, to) = if index % 2 == 0 { (7, 15) } else { (10, 18) };
        let mut someone = person(&format!("person {index}"), &skills, daily(days, from, to));
        someone.overtime = daily(days, to, to + 2);
        problem.people.push(someone);
    }
    problem.machines = vec![
        machine("cold room", 40, MachineKind::Shared),
        machine("smoker one", 10, MachineKind::OneLoad { change_over: 40 }),
        machine("smoker two", 10, MachineKind::OneLoad { change_over: 40 }),
        machine("table", 6, MachineKind::Shared),
    ];
    let mut state = spread;
    let mut roll = |most: i64| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((state >> 33) as i64) % most
    };
    let end = days * DAY;
    for chain in 0..chains {
        let t = problem.tasks.len();
        let release = roll((days - 4).max(1)) * DAY;
        let amount = 1 + roll(5);
        let wait = |d: Minute, e: Minute, what: &str| {
            let mut waiting = task(what, d, None, e, end);
            waiting.lean = Lean::Indifferent;
            waiting
        };
        let work = |what: &str, d: Minute, c: usize, skill: &str, lean: Lean| {
            let mut work = task(what, d, crew(c, Some(skill)), release, end);
            work.lean = lean;
            work
        };
        problem
            .tasks
            .push(work("fillet", 30 + roll(60), 1, "fillet", Lean::Early));
        problem
            .tasks
            .push(work("salt", 15 + roll(20), 1, "prepare", Lean::Early));
        problem.tasks.push(wait(600 + roll(600), release, "cure"));
        problem
            .tasks
            .push(work("rinse", 20 + roll(20), 1, "prepare", Lean::Early));
        problem
            .tasks
            .push(work("load", 20, 1, "smoke", Lean::Early));
        problem.tasks.push(wait(120 + roll(120), release, "smoke"));
        problem
            .tasks
            .push(work("unload", 15, 1, "smoke", Lean::Early));
        problem
            .tasks
            .push(work("slice", 45 + roll(60), 2, "prepare", Lean::Early));
        problem.links.extend([
            link(
                end_of(t),
                start_of(t + 1),
                0,
                Some(60),
                "fresh fillets wait at most an hour",
            ),
            link(
                end_of(t + 1),
                start_of(t + 2),
                0,
                Some(0),
                "the cure begins when it is salted",
            ),
            link(
                end_of(t + 2),
                start_of(t + 3),
                0,
                Some(480),
                "longer would be too salt",
            ),
            link(
                end_of(t + 3),
                start_of(t + 4),
                60,
                Some(1_200),
                "dry surface",
            ),
            link(
                end_of(t + 4),
                start_of(t + 5),
                0,
                Some(0),
                "lit when loaded",
            ),
            link(
                end_of(t + 5),
                start_of(t + 6),
                0,
                Some(90),
                "taken out warm",
            ),
            link(
                end_of(t + 6),
                start_of(t + 7),
                120,
                Some(2_000),
                "cold before slicing",
            ),
        ]);
        let load = chain as u32;
        problem.occupancies.extend([
            hold(0, amount, start_of(t + 2), start_of(t + 3), load),
            hold(1 + chain % 2, amount, start_of(t + 4), end_of(t + 6), load),
            hold(0, amount, end_of(t + 6), start_of(t + 7), load),
            hold(3, 1, start_of(t + 7), end_of(t + 7), load),
        ]);
    }
    problem
}

/// `steps` tasks in one long chain through one machine and one person, due after `days` days.
pub fn one_long_chain(steps: usize, days: Minute) -> Problem {
    let mut chain = Problem {
        people: vec![person("a", &[], daily(days, 7, 16))],
        ..Problem::default()
    };
    chain
        .machines
        .push(machine("m", 1, MachineKind::OneLoad { change_over: 5 }));
    for index in 0..steps {
        chain
            .tasks
            .push(task("step", 10, crew(1, None), 0, days * DAY));
        chain
            .occupancies
            .push(hold(0, 1, start_of(index), end_of(index), index as u32));
        if index > 0 {
            chain.links.push(link(
                end_of(index - 1),
                start_of(index),
                0,
                Some(2_000),
                "one after the other",
            ));
        }
    }
    chain
}

/// The same chains, each as late as its own day of serving allows.
pub fn late_chains(count: usize, days: Minute, people: usize, spread: u64) -> Problem {
    let mut problem = chains(count, days, people, spread);
    for chain in 0..count {
        let tasks = &mut problem.tasks[8 * chain..8 * chain + 8];
        // What was the day of release, counted from the end, becomes the day of serving.
        let due = days * DAY - tasks[0].earliest - 6 * 60;
        for task in tasks.iter_mut() {
            task.earliest = 0;
            task.latest = due;
            if task.lean == Lean::Early {
                task.lean = Lean::Late;
            }
        }
    }
    problem
}

/// The same chains, all within three days of one moment of serving that may itself move.
pub fn tied_chains(count: usize, days: Minute, people: usize, spread: u64) -> Problem {
    let mut problem = late_chains(count, days, people, spread);
    let serve = problem.tasks.len();
    for task in &mut problem.tasks {
        task.latest = days * DAY;
    }
    problem.tasks.push(task("serve", 0, None, 0, days * DAY));
    for chain in 0..count {
        let last = 8 * chain + 7;
        problem.links.push(link(
            end_of(last),
            start_of(serve),
            0,
            Some(6 * DAY),
            "served within six days",
        ));
    }
    problem
}
