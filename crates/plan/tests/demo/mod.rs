//! The demo book as the tests of this room set it up: plans, re-plans, and what they are asked.
#![allow(dead_code)] // each test file asks only some of it

use plan::{Plan, Scene, Setting};
use schedule::Effort;
use serde_json::Value;

/// The demo book.
pub(crate) fn book() -> kitchen::Book {
    match book::read(&book::demo::files(), book::Limits::default()) {
        Ok(book) => book,
        Err(wrong) => panic!(
            "{}",
            wrong.iter().map(ToString::to_string).collect::<String>()
        ),
    }
}

/// An event of it, as written.
pub(crate) fn first(event: &str) -> Scene {
    Scene::new(&book(), event).expect("the demo has it")
}

/// Changes, read as the command line reads them.
pub(crate) fn settings(changes: &[&str]) -> Vec<Setting> {
    changes
        .iter()
        .map(|c| Setting::read(c).expect("well written"))
        .collect()
}

/// The plan of a scene, looked for as hard as the program does.
pub(crate) fn make(scene: &Scene, first: &Scene) -> Plan {
    plan::make(scene, first, &Effort::standard(), &mut |_| true).expect("there is a plan")
}

/// The plan of an event as written.
pub(crate) fn planned(event: &str) -> Plan {
    let first = first(event);
    make(&first, &first)
}

/// The plan before and after changes: a re-plan keeps the hours of the first where it can.
pub(crate) fn replanned(event: &str, changes: &[&str]) -> (Plan, Plan) {
    let first = first(event);
    let before = make(&first, &first);
    let scene = first
        .with_all(&settings(changes))
        .expect("these changes can be made");
    let after = make(&plan::compare::keeping(&scene, &before), &first);
    (before, after)
}

/// The number of a figure.
pub(crate) fn number(plan: &Plan, id: &str) -> f64 {
    plan.figures
        .number(id)
        .unwrap_or_else(|| panic!("no number {id}"))
}

/// A figure as it is printed.
pub(crate) fn shown(plan: &Plan, id: &str) -> String {
    plan.figures
        .get(id)
        .unwrap_or_else(|| panic!("no figure {id}"))
        .show()
}

/// Within half a step of the last place a figure was worked out to.
#[track_caller]
pub(crate) fn near(found: f64, worked: f64, within: f64) {
    assert!(
        (found - worked).abs() <= within,
        "{found}, worked out by hand {worked} ± {within}"
    );
}

/// A line of the order: (packs needed or grams needed, packs or grams bought, needed $, bought $).
#[track_caller]
pub(crate) fn ordered(
    plan: &Plan,
    item: &str,
    need: f64,
    bought: f64,
    cost_needed: f64,
    cost_bought: f64,
) {
    let line = plan
        .order
        .iter()
        .find(|l| l.item == item)
        .unwrap_or_else(|| panic!("no {item} in the order"));
    let (n, b) = if line.by_weight {
        (line.need, line.bought_g().expect("by weight"))
    } else {
        (line.need_packs, line.packs)
    };
    let within = if line.by_weight { 0.05 } else { 0.0005 };
    assert!(
        (n - need).abs() <= within,
        "{item}: needs {n}, worked out {need}"
    );
    assert!(
        (b - bought).abs() <= within,
        "{item}: buys {b}, worked out {bought}"
    );
    let cents = |m: units::Money| plan::figures::decimal_to_f64(m.amount());
    for (found, worked) in [
        (cents(line.cost_needed), cost_needed),
        (cents(line.cost_bought), cost_bought),
    ] {
        assert!(
            (found - worked).abs() <= HALF_CENT,
            "{item}: ${found}, worked out ${worked}"
        );
    }
}

/// Half a cent, and the noise of a binary fraction.
pub(crate) const HALF_CENT: f64 = 0.005_000_1;

/// Dollars of a money value.
pub(crate) fn dollars(money: units::Money) -> f64 {
    plan::figures::decimal_to_f64(money.amount())
}

/// The local hours of a task: "2027-10-06T08:30" for start, end, earliest and latest.
#[derive(Debug, PartialEq)]
pub(crate) struct Hours {
    pub(crate) start: String,
    pub(crate) end: String,
    pub(crate) earliest: String,
    pub(crate) latest: String,
    pub(crate) people: usize,
}

fn local(v: &Value) -> String {
    v.as_str().expect("an instant").chars().take(16).collect()
}

/// The hours of a task as contract 1 gives them.
#[track_caller]
pub(crate) fn hours(plan: &Plan, id: &str) -> Hours {
    let json = plan::json::plan(plan);
    let tasks = json["schedule"]["tasks"].as_array().expect("tasks");
    let task = tasks
        .iter()
        .find(|t| t["id"] == id)
        .unwrap_or_else(|| panic!("no task {id}"));
    Hours {
        start: local(&task["start"]),
        end: local(&task["end"]),
        earliest: local(&task["earliest"]),
        latest: local(&task["latest"]),
        people: task["people"].as_array().expect("people").len(),
    }
}

/// A task stands exactly there.
#[track_caller]
pub(crate) fn stands(plan: &Plan, id: &str, start: &str, end: &str) {
    let h = hours(plan, id);
    assert_eq!((h.start.as_str(), h.end.as_str()), (start, end), "{id}");
}

/// Tasks with people outside these local hours of the day (hours and minutes as "07:00").
pub(crate) fn at_work_outside(plan: &Plan, open: &str, closed: &str) -> Vec<String> {
    let json = plan::json::plan(plan);
    let tasks = json["schedule"]["tasks"].as_array().expect("tasks").clone();
    tasks
        .iter()
        .filter(|t| !t["people"].as_array().expect("people").is_empty())
        .filter(|t| {
            let (start, end) = (local(&t["start"]), local(&t["end"]));
            start[..10] != end[..10] || &start[11..] < open || &end[11..] > closed
        })
        .map(|t| format!("{} {} {}", t["id"], t["start"], t["end"]))
        .collect()
}

/// Every way out and every finding of a plan in one text.
pub(crate) fn said(plan: &Plan) -> String {
    let mut text = String::new();
    for c in &plan.choices {
        text.push_str(&c.finding);
        text.push('\n');
        for way in &c.ways {
            text.push_str("  ");
            text.push_str(way);
            text.push('\n');
        }
    }
    text
}

/// The minutes of work of a step, rounds counted.
#[track_caller]
pub(crate) fn work(plan: &Plan, id: &str) -> f64 {
    let all: Vec<_> = plan.work.iter().filter(|w| w.id == id).collect();
    assert!(!all.is_empty(), "no work {id}");
    all.iter().map(|w| w.minutes + w.rounds).sum()
}
