//! Which task each fact is about.

use std::collections::{BTreeMap, BTreeSet};

use schedule::Minute;

use super::{Fact, Happened, What, Wrong, minute};
use crate::problem::PlanError;
use crate::scene::Scene;
use crate::tasks::{Kind, Tasks};

/// What was seen of one task: the minute, and where it is written down.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Seen {
    pub(crate) started: Option<(Minute, String)>,
    pub(crate) done: Option<(Minute, String)>,
    /// Something of it was weighed then, so it was done by then.
    pub(crate) weighed: Option<(Minute, String)>,
}

/// `smoke#2` → `smoke`, 2.
pub(super) fn load_of(step: &str) -> (&str, Option<u32>) {
    match step.split_once('#') {
        Some((step, load)) => (step, load.parse().ok()),
        None => (step, None),
    }
}

/// The tasks a record may name: those of the plan but the service, which is when it is, and the acts the clock may put
/// in; and the whole of a step that has a programme and no hands.
pub(super) fn known(tasks: &Tasks) -> BTreeSet<String> {
    let mut ids: BTreeSet<String> = tasks
        .meaning
        .iter()
        .filter(|m| m.kind != Kind::Serve)
        .map(|m| m.id.clone())
        .collect();
    for m in tasks.meaning.iter().filter(|m| m.kind == Kind::Run) {
        if let Some(whole) = m.id.strip_suffix(".run") {
            ids.insert(whole.to_owned());
        }
    }
    for r in 0..tasks.reliefs.len() {
        ids.insert(tasks.relief_id(r));
    }
    ids
}

/// What was seen of each task; facts about nothing of the plan go to `wrong`.
pub(super) fn seen(
    happened: &Happened,
    scene: &Scene,
    tasks: &Tasks,
    wrong: &mut Vec<Wrong>,
) -> Result<BTreeMap<String, Seen>, PlanError> {
    let known = known(tasks);
    let zone = &scene.site.zone;
    let from = crate::clock::minute(zone, scene.event.from)?;
    let wall = |m: Minute| crate::clock::wall(zone, m);
    let mut all: BTreeMap<String, Seen> = BTreeMap::new();
    for fact in &happened.facts {
        let id = fact.task();
        let at = minute(fact.when);
        let mut refuse = |found: String, expected: &str, do_now: &str| {
            wrong.push(Wrong {
                at: fact.at.clone(),
                found,
                expected: expected.to_owned(),
                do_now: do_now.to_owned(),
                known: Vec::new(),
                asked: String::new(),
            });
        };
        if fact.when > happened.now {
            refuse(
                format!(
                    "{id} {} {}, and it is {} now",
                    fact.what.word(),
                    wall(at),
                    wall(minute(happened.now))
                ),
                "what has happened by now",
                "correct the hour, or leave it out until it is so",
            );
            continue;
        }
        if at < from {
            refuse(
                format!(
                    "{id} {} {}, before anything of this event",
                    fact.what.word(),
                    crate::clock::instant(zone, at)
                ),
                &format!(
                    "an hour from {} on, when the event starts",
                    crate::clock::instant(zone, from)
                ),
                "correct the date, or `from` in the event",
            );
            continue;
        }
        let loads: Vec<&String> = known
            .iter()
            .filter(|k| {
                k.strip_prefix(&id)
                    .is_some_and(|rest| rest.starts_with('#') && !rest.contains('.'))
            })
            .collect();
        if !known.contains(&id) {
            // What comes off all loads together may be weighed at once.
            if matches!(fact.what, What::Weighed { .. }) && !loads.is_empty() {
                continue;
            }
            if loads.is_empty() {
                wrong.push(unknown(fact, &id, &known));
            } else {
                refuse(
                    format!("{id} goes in {} loads", loads.len()),
                    &format!("the load with it, such as {}", loads[0]),
                    "say which load it was",
                );
            }
            continue;
        }
        let entry = all.entry(id.clone()).or_default();
        let place = match fact.what {
            What::Started => &mut entry.started,
            What::Done => &mut entry.done,
            What::Weighed { .. } => &mut entry.weighed,
        };
        match place {
            Some((before, earlier))
                if *before != at && !matches!(fact.what, What::Weighed { .. }) =>
            {
                let found = format!(
                    "{id} {} {} here and {} at {earlier}",
                    fact.what.word(),
                    wall(at),
                    wall(*before)
                );
                refuse(
                    found,
                    "one hour for one thing that happened",
                    "take the wrong one out",
                );
            }
            Some(_) => {}
            None => *place = Some((at, fact.at.clone())),
        }
    }
    Ok(all)
}

fn unknown(fact: &Fact, id: &str, known: &BTreeSet<String>) -> Wrong {
    let of_component: Vec<&str> = known
        .iter()
        .filter_map(|k| k.strip_prefix(&format!("{}.", fact.component)))
        .filter(|rest| !rest.contains('.'))
        .collect();
    let expected = if of_component.is_empty() {
        "a recipe, a dish or a task of this event, by its id".to_owned()
    } else {
        format!(
            "one of the steps of {}: {}",
            fact.component,
            of_component.join(", ")
        )
    };
    Wrong {
        at: fact.at.clone(),
        found: format!("the plan has no \"{}\"", crate::setting::printable(id)),
        expected,
        do_now: "name it by the ids of the plan (saltern plan prints them in its clock)".to_owned(),
        known: known.iter().cloned().collect(),
        asked: id.to_owned(),
    }
}
