//! Small random problems, and every schedule they have, by trying all starts and all crews.
#![allow(dead_code, unreachable_pub)]

use proptest::prelude::*;
use schedule::check::{Violation, check};
use schedule::{
    Crew, Edge, Lean, Link, Machine, MachineKind, Minute, Occupancy, Person, Point, Problem, Span,
    Task,
};

const HORIZON: Minute = 12;

fn spans() -> impl Strategy<Value = Vec<Span>> {
    // Cut points in ascending order, taken in pairs, are sorted and disjoint.
    proptest::collection::btree_set(0..=HORIZON + 4, 0..=4).prop_map(|cuts| {
        let cuts: Vec<Minute> = cuts.into_iter().collect();
        cuts.chunks_exact(2)
            .map(|pair| Span {
                start: pair[0],
                end: pair[1],
            })
            .collect()
    })
}

pub fn person() -> impl Strategy<Value = Person> {
    (
        spans(),
        spans(),
        proptest::sample::subsequence(vec!["a", "b"], 0..=2),
        0..4,
    )
        .prop_map(|(mut available, overtime, skills, all_day)| {
            if all_day > 0 {
                available = vec![Span {
                    start: 0,
                    end: HORIZON + 4,
                }];
            }
            let skills = skills.into_iter().map(Into::into).collect();
            Person {
                id: "p".into(),
                skills,
                available,
                overtime,
            }
        })
}

fn machine() -> impl Strategy<Value = Machine> {
    (1..=3_i64, any::<bool>(), 0..=2_i64, spans(), 0..4).prop_map(
        |(capacity, shared, change_over, mut closed, open)| {
            if open > 0 {
                closed.clear();
            }
            let kind = if shared {
                MachineKind::Shared
            } else {
                MachineKind::OneLoad { change_over }
            };
            Machine {
                id: "m".into(),
                capacity,
                kind,
                unavailable: closed,
            }
        },
    )
}

fn task() -> impl Strategy<Value = Task> {
    let crew = prop_oneof![
        2 => Just(None),
        4 => (prop_oneof![4 => Just(1_usize), 1 => Just(2)], prop_oneof![5 => Just(None), 1 => Just(Some("a".to_owned())), 1 => Just(Some("b".to_owned()))])
            .prop_map(|(count, skill)| Some(Crew { count, skill, min_count: count })),
    ];
    let lean = prop_oneof![
        Just(Lean::Early),
        Just(Lean::Late),
        (-2..=HORIZON + 2).prop_map(Lean::Toward),
        Just(Lean::Indifferent)
    ];
    (0..=5_i64, crew, 0..=4_i64, 3..=9_i64, lean, 0..=3_u8).prop_map(
        |(duration, crew, earliest, latest, lean, weight)| Task {
            id: "t".into(),
            what: "work".into(),
            duration,
            crew,
            earliest,
            latest,
            why_earliest: String::new(),
            why_latest: String::new(),
            lean,
            weight: f64::from(weight),
        },
    )
}

fn point(tasks: usize) -> impl Strategy<Value = Point> {
    (0..tasks, any::<bool>()).prop_map(|(task, end)| Point {
        task,
        edge: if end { Edge::End } else { Edge::Start },
    })
}

fn link(tasks: usize) -> impl Strategy<Value = Link> {
    (
        point(tasks),
        point(tasks),
        -4..=3_i64,
        proptest::option::of(-1..=9_i64),
    )
        .prop_map(|(from, to, min, max)| Link {
            from,
            to,
            min,
            max: max.map(|extra| min + extra),
            why: String::new(),
        })
}

fn occupancy(tasks: usize, machines: usize) -> impl Strategy<Value = Occupancy> {
    (
        0..machines,
        0..=2_i64,
        point(tasks),
        point(tasks),
        0..=2_u32,
        any::<bool>(),
    )
        .prop_map(|(machine, amount, from, to, load, whole)| {
            let (from, to) = if whole {
                (
                    Point {
                        task: from.task,
                        edge: Edge::Start,
                    },
                    Point {
                        task: from.task,
                        edge: Edge::End,
                    },
                )
            } else {
                (from, to)
            };
            Occupancy {
                machine,
                amount,
                from,
                to,
                load,
                what: String::new(),
            }
        })
}

/// Up to four tasks in about a dozen minutes.
pub fn problem() -> impl Strategy<Value = Problem> {
    (
        proptest::collection::vec(task(), 1..=4),
        proptest::collection::vec(person(), 1..=3),
        proptest::collection::vec(machine(), 0..=2),
    )
        .prop_flat_map(|(tasks, people, machines)| {
            let links = proptest::collection::vec(link(tasks.len()), 0..=3);
            let occupancies = if machines.is_empty() {
                Just(Vec::new()).boxed()
            } else {
                proptest::collection::vec(occupancy(tasks.len(), machines.len()), 0..=3).boxed()
            };
            (
                Just(tasks),
                Just(people),
                Just(machines),
                links,
                occupancies,
                prop_oneof![Just(0.0), Just(1.5)],
            )
        })
        .prop_map(
            |(tasks, people, machines, links, occupancies, overtime_weight)| Problem {
                people,
                machines,
                tasks,
                links,
                occupancies,
                overtime_weight,
            },
        )
}

/// What trying everything found.
#[derive(Debug, Clone, Default)]
pub struct Truth {
    /// Earliest and latest starts among all starts that keep lags, bounds and hold order; empty when none do.
    pub windows: Vec<(Minute, Minute)>,
    /// The least value of any schedule; `None` when there is none.
    pub best: Option<f64>,
}

fn of_people(violation: &Violation) -> bool {
    matches!(
        violation,
        Violation::WrongCrewSize { .. }
            | Violation::NoSuchPerson { .. }
            | Violation::SamePersonTwice { .. }
            | Violation::MissingSkill { .. }
            | Violation::NotAtWork { .. }
            | Violation::PersonInTwoPlaces { .. }
    )
}

fn of_machines(violation: &Violation) -> bool {
    matches!(
        violation,
        Violation::OverCapacity { .. }
            | Violation::LoadsTooClose { .. }
            | Violation::MachineUnavailable { .. }
    )
}

fn crews(people: usize, count: usize) -> Vec<Vec<usize>> {
    (0..1_u32 << people)
        .filter(|set| set.count_ones() as usize == count)
        .map(|set| {
            (0..people)
                .filter(|&person| set >> person & 1 == 1)
                .collect()
        })
        .collect()
}

/// Tries all starts and all crews.
pub fn truth(problem: &Problem) -> Truth {
    let count = problem.tasks.len();
    let nobody = vec![Vec::new(); count];
    let mut start: Vec<Minute> = problem.tasks.iter().map(|task| task.earliest).collect();
    let mut on_time: Vec<Vec<Minute>> = Vec::new();
    if problem
        .tasks
        .iter()
        .all(|task| task.earliest <= task.latest)
    {
        'all: loop {
            if check(problem, &start, &nobody)
                .iter()
                .all(|broken| of_people(broken) || of_machines(broken))
            {
                on_time.push(start.clone());
            }
            let mut place = 0;
            loop {
                if place == count {
                    break 'all;
                }
                start[place] += 1;
                if start[place] <= problem.tasks[place].latest {
                    break;
                }
                start[place] = problem.tasks[place].earliest;
                place += 1;
            }
        }
    }
    let mut truth = Truth::default();
    if on_time.is_empty() {
        return truth;
    }
    for task in 0..count {
        let starts = on_time.iter().map(|start| start[task]);
        truth
            .windows
            .push((starts.clone().min().unwrap(), starts.max().unwrap()));
    }
    for start in &on_time {
        if !check(problem, start, &nobody).iter().all(of_people) {
            continue;
        }
        // The crews each task could have by itself, then all combinations of them.
        let options: Vec<Vec<Vec<usize>>> = (0..count)
            .map(|task| match &problem.tasks[task].crew {
                None => vec![Vec::new()],
                Some(crew) => crews(problem.people.len(), crew.count)
                    .into_iter()
                    .filter(|set| {
                        let mut people = nobody.clone();
                        people[task] = set.clone();
                        !check(problem, start, &people).iter().any(|broken| {
                            matches!(broken, Violation::MissingSkill { task: t, .. } | Violation::NotAtWork { task: t, .. } if *t == task)
                        })
                    })
                    .collect(),
            })
            .collect();
        combine(
            problem,
            &truth.windows.clone(),
            start,
            &options,
            &mut Vec::new(),
            &mut truth.best,
        );
    }
    truth
}

fn combine(
    problem: &Problem,
    windows: &[(Minute, Minute)],
    start: &[Minute],
    options: &[Vec<Vec<usize>>],
    people: &mut Vec<Vec<usize>>,
    best: &mut Option<f64>,
) {
    if people.len() == options.len() {
        if check(problem, start, people).is_empty() {
            let value = value(problem, windows, start, people);
            if best.is_none_or(|known| value < known) {
                *best = Some(value);
            }
        }
        return;
    }
    for option in &options[people.len()] {
        people.push(option.clone());
        combine(problem, windows, start, options, people, best);
        people.pop();
    }
}

/// What a schedule costs, minute by minute.
pub fn value(
    problem: &Problem,
    windows: &[(Minute, Minute)],
    start: &[Minute],
    people: &[Vec<usize>],
) -> f64 {
    let mut value = 0.0;
    for (task, spec) in problem.tasks.iter().enumerate() {
        let target = match spec.lean {
            Lean::Early => windows[task].0,
            Lean::Late => windows[task].1,
            Lean::Toward(at) => at,
            Lean::Indifferent => start[task],
        };
        value += spec.weight * (start[task] - target).abs() as f64;
        for &person in &people[task] {
            let regular = |at: Minute| {
                problem.people[person]
                    .available
                    .iter()
                    .any(|s| s.start <= at && at < s.end)
            };
            let overtime = (start[task]..start[task] + spec.duration)
                .filter(|&at| !regular(at))
                .count();
            value += problem.overtime_weight * overtime as f64;
        }
    }
    value
}
