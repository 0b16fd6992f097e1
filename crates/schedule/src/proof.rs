//! Cheap proofs that people or machines cannot carry the work, whatever the order.

use std::collections::{BTreeMap, BTreeSet};

use crate::clash::{elapsed, facts, people};
use crate::model::Model;
use crate::network::Windows;
use crate::outcome::{Clash, Fact};
use crate::problem::{Minute, Span};
use crate::tighten::Settled;

/// Above this many tasks of one skill the stretch-by-stretch sums, which take the square of it, are left out.
const MOST_FOR_STRETCHES: usize = 1_500;

/// The first contradiction found between windows and what people and machines can do.
pub(crate) fn overload(model: &Model<'_>, settled: &Settled) -> Option<Clash> {
    amounts(model, settled)
        .or_else(|| machine_time(model, settled))
        .or_else(|| people_time(model, settled))
        .or_else(|| people_at_once(model, settled))
}

/// The bounds that pin a set of tasks between `from` and `to`, as facts.
fn with_bounds(
    model: &Model<'_>,
    settled: &Settled,
    first: Fact,
    lows: &[usize],
    highs: &[usize],
) -> Clash {
    let mut items = BTreeSet::new();
    for &task in lows {
        items.extend(settled.reasons(task, true));
    }
    for &task in highs {
        items.extend(settled.reasons(task, false));
    }
    let items: Vec<_> = items.into_iter().collect();
    let mut all = vec![first];
    all.extend(facts(model, &items));
    Clash { facts: all }
}

/// One hold larger than its machine, or holds that must lie over each other and are together.
fn amounts(model: &Model<'_>, settled: &Settled) -> Option<Clash> {
    let windows = &settled.windows;
    let mut by_group: BTreeMap<(usize, u32), Vec<usize>> = BTreeMap::new();
    for (index, hold) in model.holds.iter().enumerate() {
        if hold.least > 0 && hold.amount > model.rooms[hold.machine].capacity {
            let spec = &model.problem.occupancies[index];
            let machine = &model.problem.machines[hold.machine];
            let sentence = format!(
                "\"{}\" takes {} of \"{}\", which holds {} in all",
                spec.what, hold.amount, machine.id, machine.capacity
            );
            let full = Fact::MachineFull {
                machine: hold.machine,
                occupancies: vec![index],
                sentence,
            };
            return Some(Clash { facts: vec![full] });
        }
        // Different loads of a one-load machine never add up; a shared machine counts as one group.
        let group = if model.rooms[hold.machine].one_load.is_some() {
            hold.load
        } else {
            0
        };
        by_group
            .entry((hold.machine, group))
            .or_default()
            .push(index);
    }
    for ((machine, _), holds) in by_group {
        let mut turns: Vec<(Minute, bool, usize)> = Vec::new();
        for &index in &holds {
            let (from, to) = surely_inside(model, windows, index);
            if from < to {
                turns.push((from, true, index));
                turns.push((to, false, index));
            }
        }
        turns.sort_unstable();
        let (mut inside, mut sum) = (BTreeSet::new(), 0_i64);
        for (_, goes_in, index) in turns {
            if !goes_in {
                inside.remove(&index);
                sum -= model.holds[index].amount;
                continue;
            }
            inside.insert(index);
            sum += model.holds[index].amount;
            if sum > model.rooms[machine].capacity {
                let spec = &model.problem.machines[machine];
                let sentence = format!(
                    "{} must be in \"{}\" at one moment and take {sum} of the {} it holds",
                    names(
                        inside
                            .iter()
                            .map(|&index| model.problem.occupancies[index].what.as_str())
                    ),
                    spec.id,
                    spec.capacity
                );
                let occupancies: Vec<usize> = inside.into_iter().collect();
                let highs: Vec<usize> = occupancies
                    .iter()
                    .map(|&index| model.holds[index].from)
                    .collect();
                let lows: Vec<usize> = occupancies
                    .iter()
                    .map(|&index| model.holds[index].to)
                    .collect();
                let full = Fact::MachineFull {
                    machine,
                    occupancies,
                    sentence,
                };
                return Some(with_bounds(model, settled, full, &lows, &highs));
            }
        }
    }
    None
}

/// The stretch an occupancy covers in every schedule; empty when its first minute may come after its last.
fn surely_inside(model: &Model<'_>, windows: &Windows, index: usize) -> (Minute, Minute) {
    let hold = model.holds[index];
    (
        windows.high[hold.from] + hold.from_after,
        windows.low[hold.to] + hold.to_after,
    )
}

/// One trip through a one-load machine: window and least length.
#[derive(Clone, Copy)]
struct Trip {
    index: usize,
    from: Minute,
    to: Minute,
    least: Minute,
}

/// Loads of a one-load machine that do not fit one after the other into the stretch they are bound to.
fn machine_time(model: &Model<'_>, settled: &Settled) -> Option<Clash> {
    let windows = &settled.windows;
    for (machine, room) in model.rooms.iter().enumerate() {
        let Some(change_over) = room.one_load else {
            continue;
        };
        // Each load stands for its longest hold; different loads may not touch, so neither may these.
        let mut longest: BTreeMap<u32, Trip> = BTreeMap::new();
        for (index, hold) in model
            .holds
            .iter()
            .enumerate()
            .filter(|(_, hold)| hold.machine == machine)
        {
            let (from, to) = (
                windows.low[hold.from] + hold.from_after,
                windows.high[hold.to] + hold.to_after,
            );
            let (sure_from, sure_to) = surely_inside(model, windows, index);
            let trip = Trip {
                index,
                from,
                to,
                least: hold.least.max(sure_to - sure_from),
            };
            let kept = longest.entry(hold.load).or_insert(trip);
            if trip.least > kept.least {
                *kept = trip;
            }
        }
        let mut trips: Vec<Trip> = longest
            .into_values()
            .filter(|trip| trip.least > 0)
            .collect();
        trips.sort_unstable_by_key(|trip| (trip.to, trip.from));
        if trips.len() > MOST_FOR_STRETCHES {
            continue;
        }
        for (place, second) in trips.iter().enumerate() {
            for first in &trips[..place] {
                let follows = |a: &Trip, b: &Trip| a.from + a.least + change_over + b.least <= b.to;
                if !follows(first, second) && !follows(second, first) {
                    return Some(no_time(model, settled, machine, &[*first, *second]));
                }
            }
        }
        let mut openings: Vec<Minute> = trips.iter().map(|trip| trip.from).collect();
        openings.sort_unstable();
        openings.dedup();
        for opening in openings {
            let mut inside: Vec<Trip> = Vec::new();
            let mut sum = 0;
            for trip in trips.iter().filter(|trip| trip.from >= opening) {
                inside.push(*trip);
                sum += trip.least;
                let gaps = change_over * (inside.len() as Minute - 1);
                let shut = covered(&room.closed, opening, trip.to);
                if opening + sum + gaps > trip.to || opening + sum + shut > trip.to {
                    return Some(no_time(model, settled, machine, &inside));
                }
            }
        }
    }
    None
}

fn no_time(model: &Model<'_>, settled: &Settled, machine: usize, trips: &[Trip]) -> Clash {
    let occupancies: Vec<usize> = trips.iter().map(|trip| trip.index).collect();
    let opening = trips.iter().map(|trip| trip.from).min().unwrap_or_default();
    let closing = trips.iter().map(|trip| trip.to).max().unwrap_or_default();
    let sum: Minute = trips.iter().map(|trip| trip.least).sum();
    let change_over = model.rooms[machine].one_load.unwrap_or_default();
    let sentence = format!(
        "\"{}\" takes one load at a time: {} need {} and {} between loads, and there are {} from the first moment any \
         of them can go in to the last moment any must be out",
        model.problem.machines[machine].id,
        names(
            occupancies
                .iter()
                .map(|&index| model.problem.occupancies[index].what.as_str())
        ),
        elapsed(sum),
        elapsed(change_over),
        elapsed(closing - opening)
    );
    let lows: Vec<usize> = occupancies
        .iter()
        .map(|&index| model.holds[index].from)
        .collect();
    let highs: Vec<usize> = occupancies
        .iter()
        .map(|&index| model.holds[index].to)
        .collect();
    with_bounds(
        model,
        settled,
        Fact::MachineFull {
            machine,
            occupancies,
            sentence,
        },
        &lows,
        &highs,
    )
}

fn covered(spans: &[Span], from: Minute, to: Minute) -> Minute {
    spans
        .iter()
        .map(|span| (span.end.min(to) - span.start.max(from)).max(0))
        .sum()
}

/// Tasks that certainly run at one moment, wherever in their windows they start, against the people who are there then.
fn people_at_once(model: &Model<'_>, settled: &Settled) -> Option<Clash> {
    let windows = &settled.windows;
    for (class, persons) in model.classes.iter().enumerate() {
        let everybody = model.class_skill[class].is_none();
        // From its latest start to its earliest end a task certainly runs.
        let certain: Vec<(Minute, Minute, usize, usize)> = (0..model.jobs.len())
            .filter_map(|task| {
                let job = &model.jobs[task];
                let need = job.need.filter(|need| everybody || need.class == class)?;
                let (from, to) = (windows.high[task], windows.low[task] + job.duration);
                (from < to).then_some((from, to, task, need.count))
            })
            .collect();
        for &(at, _, _, _) in &certain {
            let tasks: Vec<usize> = certain
                .iter()
                .filter(|c| c.0 <= at && at < c.1)
                .map(|c| c.2)
                .collect();
            let need: usize = certain
                .iter()
                .filter(|c| c.0 <= at && at < c.1)
                .map(|c| c.3)
                .sum();
            let have = persons
                .iter()
                .filter(|&&p| model.hours[p].cover(at, at + 1))
                .count();
            if need > have {
                return Some(too_few_at_once(model, settled, class, tasks, need, have));
            }
        }
    }
    None
}

/// Work that must fall into a stretch, against the minutes of the people who can do it.
fn people_time(model: &Model<'_>, settled: &Settled) -> Option<Clash> {
    let windows = &settled.windows;
    for (class, persons) in model.classes.iter().enumerate() {
        // For "everybody" all crews count, whatever skill they ask for.
        let everybody = model.class_skill[class].is_none();
        let mut work: Vec<usize> = (0..model.jobs.len())
            .filter(|&task| {
                let job = &model.jobs[task];
                job.duration > 0
                    && job
                        .need
                        .is_some_and(|need| everybody || need.class == class)
            })
            .collect();
        if work.len() > MOST_FOR_STRETCHES {
            continue;
        }
        let end = |task: usize| windows.high[task] + model.jobs[task].duration;
        work.sort_unstable_by_key(|&task| (end(task), task));
        let supply = Supply::of(persons.iter().flat_map(|&person| &model.hours[person].all));
        let mut openings: Vec<Minute> = work.iter().map(|&task| windows.low[task]).collect();
        openings.sort_unstable();
        openings.dedup();
        for opening in openings {
            let mut need = 0;
            for (place, &task) in work.iter().enumerate() {
                if windows.low[task] < opening {
                    continue;
                }
                let count = model.jobs[task].need.map_or(0, |need| need.count);
                need += count as Minute * model.jobs[task].duration;
                let have = supply.until(end(task)) - supply.until(opening);
                if need > have {
                    let tasks: Vec<usize> = work[..=place]
                        .iter()
                        .copied()
                        .filter(|&task| windows.low[task] >= opening)
                        .collect();
                    return Some(too_little_help(model, settled, class, tasks, need, have));
                }
            }
        }
    }
    None
}

fn too_little_help(
    model: &Model<'_>,
    settled: &Settled,
    class: usize,
    tasks: Vec<usize>,
    need: Minute,
    have: Minute,
) -> Clash {
    let skill = model.class_skill[class].clone();
    let sentence = format!(
        "{} take {} of work in a stretch in which {} can give {}, overtime included",
        names(
            tasks
                .iter()
                .map(|&task| model.problem.tasks[task].what.as_str())
        ),
        elapsed(need),
        people(model.classes[class].len(), skill.as_deref()),
        elapsed(have)
    );
    let full = Fact::PeopleFull {
        tasks: tasks.clone(),
        skill,
        need,
        have,
        sentence,
    };
    with_bounds(model, settled, full, &tasks, &tasks)
}

fn too_few_at_once(
    model: &Model<'_>,
    settled: &Settled,
    class: usize,
    tasks: Vec<usize>,
    need: usize,
    have: usize,
) -> Clash {
    let skill = model.class_skill[class].clone();
    let sentence = format!(
        "{} run together at one moment wherever they start, and take {need} people; {have} can be there then",
        names(
            tasks
                .iter()
                .map(|&task| model.problem.tasks[task].what.as_str())
        ),
    );
    let minutes = |n: usize| Minute::try_from(n).unwrap_or(Minute::MAX);
    let full = Fact::PeopleFull {
        tasks: tasks.clone(),
        skill,
        need: minutes(need),
        have: minutes(have),
        sentence,
    };
    with_bounds(model, settled, full, &tasks, &tasks)
}

/// Person-minutes there are before any moment.
struct Supply {
    /// Moment, person-minutes up to it, people there from it on.
    turns: Vec<(Minute, Minute, Minute)>,
}

impl Supply {
    fn of<'a>(spans: impl Iterator<Item = &'a Span>) -> Self {
        let mut changes: BTreeMap<Minute, Minute> = BTreeMap::new();
        for span in spans {
            *changes.entry(span.start).or_default() += 1;
            *changes.entry(span.end).or_default() -= 1;
        }
        let mut turns: Vec<(Minute, Minute, Minute)> = Vec::with_capacity(changes.len());
        for (at, change) in changes {
            let (before, sum, there) = turns.last().copied().unwrap_or((at, 0, 0));
            turns.push((at, sum + there * (at - before), there + change));
        }
        Self { turns }
    }

    fn until(&self, at: Minute) -> Minute {
        let place = self.turns.partition_point(|turn| turn.0 <= at);
        place.checked_sub(1).map_or(0, |place| {
            let (from, sum, there) = self.turns[place];
            sum + there * (at - from)
        })
    }
}

/// A few names in quotation marks, and how many more.
pub(crate) fn names<'a>(all: impl Iterator<Item = &'a str>) -> String {
    const SHOWN: usize = 4;
    let all: Vec<&str> = all.collect();
    let shown: Vec<String> = all
        .iter()
        .take(SHOWN)
        .map(|name| format!("\"{name}\""))
        .collect();
    match all.len().saturating_sub(SHOWN) {
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}
