//! What to tell when the search gave up: who had no place, and what they were all waiting for.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use crate::clash::{elapsed, people};
use crate::model::Model;
use crate::outcome::{Clash, Fact};
use crate::problem::Minute;
use crate::search::Search;

/// Tasks named at most.
const MOST_NAMED: usize = 5;

/// The tasks most often left without a place, then how full their people and machines are.
pub(crate) fn tightest(model: &Model<'_>, search: &Search<'_, '_>) -> Clash {
    let mut blamed: Vec<usize> = (0..model.jobs.len())
        .filter(|&task| search.blame[task] > 0)
        .collect();
    blamed.sort_by_key(|&task| (Reverse(search.blame[task]), task));
    if blamed.is_empty() {
        blamed.extend((0..model.jobs.len()).filter(|&task| !search.board.placed[task]));
    }
    blamed.truncate(MOST_NAMED);
    let windows = search.board.root;
    let mut facts: Vec<Fact> = Vec::new();
    let (mut classes, mut machines) = (BTreeSet::new(), BTreeSet::new());
    for &task in &blamed {
        let spec = &model.problem.tasks[task];
        let sentence = format!(
            "no place was found for \"{}\" ({}) beside the others, in a window of {} for its start",
            spec.what,
            elapsed(spec.duration),
            elapsed(windows.high[task] - windows.low[task])
        );
        facts.push(Fact::NotPlaced { task, sentence });
        classes.extend(model.jobs[task].need.map(|need| need.class));
        machines.extend(
            model.jobs[task]
                .holds
                .iter()
                .map(|&index| model.holds[index].machine),
        );
    }
    facts.extend(
        classes
            .into_iter()
            .filter_map(|class| people_load(model, search, class)),
    );
    facts.extend(
        machines
            .into_iter()
            .filter_map(|machine| machine_load(model, search, machine)),
    );
    Clash { facts }
}

/// Work asked of a class of people, against their hours from its first possible minute to its last.
fn people_load(model: &Model<'_>, search: &Search<'_, '_>, class: usize) -> Option<Fact> {
    let windows = search.board.root;
    let tasks: Vec<usize> = (0..model.jobs.len())
        .filter(|&task| {
            model.jobs[task]
                .need
                .is_some_and(|need| need.class == class)
        })
        .collect();
    let from = tasks.iter().map(|&task| windows.low[task]).min()?;
    let to = tasks
        .iter()
        .map(|&task| windows.high[task] + model.jobs[task].duration)
        .max()?;
    let work = |&task: &usize| {
        model.jobs[task].need.map_or(0, |need| need.count as Minute) * model.jobs[task].duration
    };
    let need: Minute = tasks.iter().map(work).sum();
    let persons = &model.classes[class];
    let have: Minute = persons
        .iter()
        .flat_map(|&person| &model.hours[person].all)
        .map(|span| (span.end.min(to) - span.start.max(from)).max(0))
        .sum();
    let skill = model.class_skill[class].clone();
    let sentence = format!(
        "{} work is wanted from {}, who are there for {} from its first possible minute to its last",
        elapsed(need),
        people(persons.len(), skill.as_deref()),
        elapsed(have)
    );
    Some(Fact::PeopleFull {
        tasks,
        skill,
        need,
        have,
        sentence,
    })
}

/// Least hours asked of a one-load machine, or least room-hours of a shared one, against what it has.
fn machine_load(model: &Model<'_>, search: &Search<'_, '_>, machine: usize) -> Option<Fact> {
    let windows = search.board.root;
    let room = &model.rooms[machine];
    let occupancies: Vec<usize> = (0..model.holds.len())
        .filter(|&index| model.holds[index].machine == machine)
        .collect();
    let holds = || occupancies.iter().map(|&index| model.holds[index]);
    let from = holds()
        .map(|hold| windows.low[hold.from] + hold.from_after)
        .min()?;
    let to = holds()
        .map(|hold| windows.high[hold.to] + hold.to_after)
        .max()?;
    let shut: Minute = room
        .closed
        .iter()
        .map(|span| (span.end.min(to) - span.start.max(from)).max(0))
        .sum();
    let open = (to - from - shut).max(0);
    let id = &model.problem.machines[machine].id;
    let sentence = match room.one_load {
        Some(change_over) => {
            let loads: BTreeSet<u32> = holds().map(|hold| hold.load).collect();
            let longest = |load: u32| {
                holds()
                    .filter(|hold| hold.load == load)
                    .map(|hold| hold.least)
                    .max()
            };
            let sum: Minute = loads.iter().filter_map(|&load| longest(load)).sum();
            let between = change_over * (loads.len() as Minute - 1).max(0);
            format!(
                "\"{id}\" takes {} loads one at a time, {} and {} between them at the least, in {}",
                loads.len(),
                elapsed(sum),
                elapsed(between),
                elapsed(open)
            )
        }
        None => {
            let wanted: f64 = holds()
                .map(|hold| hold.amount as f64 * hold.least as f64)
                .sum();
            let share = 100.0 * wanted / (room.capacity as f64 * open as f64).max(1.0);
            format!(
                "\"{id}\" is asked for at least {share:.0} % of its room over {}",
                elapsed(open)
            )
        }
    };
    Some(Fact::MachineFull {
        machine,
        occupancies,
        sentence,
    })
}
