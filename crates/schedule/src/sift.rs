//! Why there is no schedule when only trying could tell: the work that clashes, with all else taken away.

use std::collections::{BTreeMap, BTreeSet};

use crate::clash::{elapsed, facts, people};
use crate::learn::{Ended, Learner, Manner};
use crate::model::Model;
use crate::network::{least_lengths, windows};
use crate::outcome::{Clash, Effort, Fact};
use crate::problem::{MachineKind, Problem};
use crate::proof::names;
use crate::tighten::{Settled, all_items, settle};

/// Something that takes people or room, and could be left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Claim {
    /// The crew of a task.
    Crew(usize),
    /// An occupancy.
    Hold(usize),
}

/// Steps one attempt may take, and all together; a small effort gets less.
const STEPS_PER_ATTEMPT: u64 = 1_000_000;
const STEPS_IN_ALL: u64 = 12_000_000;
/// Steps of the whole effort for one step here: the standard effort allows all of them.
const STEPS_PER_SIFTED: u64 = 5;

/// Leaves out claims as long as what remains still has no schedule, then tells what remains.
pub(crate) fn sift(model: &Model<'_>, settled: &Settled, effort: Effort) -> Clash {
    let mut sieve = Sieve {
        problem: model.problem,
        steps: 0,
        most: STEPS_IN_ALL.min(effort.steps / STEPS_PER_SIFTED),
    };
    let mut kept: Vec<Claim> = (0..model.jobs.len())
        .filter(|&task| model.jobs[task].need.is_some())
        .map(Claim::Crew)
        .chain((0..model.holds.len()).map(Claim::Hold))
        .collect();
    let mut minimal = true;
    // Whole machines and whole skills first, then by halves down to single ones.
    let mut sorts: BTreeMap<(bool, usize), BTreeSet<Claim>> = BTreeMap::new();
    for &claim in &kept {
        let sort = match claim {
            Claim::Crew(task) => (false, model.jobs[task].need.map_or(0, |need| need.class)),
            Claim::Hold(index) => (true, model.holds[index].machine),
        };
        sorts.entry(sort).or_default().insert(claim);
    }
    for sort in sorts.values() {
        minimal &= sieve.without(&mut kept, sort);
    }
    let mut size = kept.len().div_ceil(2);
    while size > 0 {
        let mut from = 0;
        while from < kept.len() {
            let to = kept.len().min(from + size);
            let chunk: BTreeSet<Claim> = kept[from..to].iter().copied().collect();
            let before = kept.len();
            let known = sieve.without(&mut kept, &chunk);
            if size == 1 {
                minimal &= known;
            }
            if kept.len() == before {
                from = to;
            }
        }
        size /= 2;
    }
    told(model, settled, &kept, minimal)
}

struct Sieve<'p> {
    problem: &'p Problem,
    steps: u64,
    most: u64,
}

impl Sieve<'_> {
    /// Drops claims if the rest still has no schedule. False when it could not be told within the steps.
    fn without(&mut self, kept: &mut Vec<Claim>, drop: &BTreeSet<Claim>) -> bool {
        if self.steps >= self.most {
            return false;
        }
        let rest: Vec<Claim> = kept
            .iter()
            .copied()
            .filter(|claim| !drop.contains(claim))
            .collect();
        let mut problem = self.problem.clone();
        for (task, spec) in problem.tasks.iter_mut().enumerate() {
            spec.weight = 0.0;
            if rest.binary_search(&Claim::Crew(task)).is_err() {
                spec.crew = None;
            }
        }
        problem.overtime_weight = 0.0;
        let mut index = 0;
        problem.occupancies.retain(|_| {
            index += 1;
            rest.binary_search(&Claim::Hold(index - 1)).is_ok()
        });
        let ended = self.attempt(&problem);
        if ended == Ended::Closed {
            *kept = rest;
        }
        ended != Ended::Spent
    }

    fn attempt(&mut self, problem: &Problem) -> Ended {
        let mut model = Model::of(problem);
        if windows(&model).is_err() {
            return Ended::Closed;
        }
        least_lengths(&mut model);
        let settled = settle(&model, &all_items(&model));
        if settled.contradiction().is_some() {
            return Ended::Closed;
        }
        let mut learner = Learner::of(&model, &settled.windows, Manner::Better, 1);
        let ended = learner.run(STEPS_PER_ATTEMPT);
        // An attempt costs something even if it ends at once.
        self.steps += learner.steps + 10 * problem.tasks.len() as u64;
        ended
    }
}

fn told(model: &Model<'_>, settled: &Settled, kept: &[Claim], minimal: bool) -> Clash {
    let problem = model.problem;
    let (mut tasks, mut occupancies) = (BTreeSet::new(), Vec::new());
    let mut crews = Vec::new();
    let (mut classes, mut machines) = (BTreeSet::new(), BTreeSet::new());
    for &claim in kept {
        match claim {
            Claim::Crew(task) => {
                tasks.insert(task);
                crews.push(task);
                classes.extend(model.jobs[task].need.map(|need| need.class));
            }
            Claim::Hold(index) => {
                tasks.extend([model.holds[index].from, model.holds[index].to]);
                machines.insert(model.holds[index].machine);
                occupancies.push(index);
            }
        }
    }
    let mut means: Vec<String> = machines
        .iter()
        .map(|&machine| {
            let spec = &problem.machines[machine];
            match spec.kind {
                MachineKind::OneLoad { change_over } => format!(
                    "\"{}\" (one load at a time, {} between loads)",
                    spec.id,
                    elapsed(change_over)
                ),
                MachineKind::Shared => format!("\"{}\" (holds {})", spec.id, spec.capacity),
            }
        })
        .collect();
    means.extend(classes.iter().map(|&class| {
        people(
            model.classes[class].len(),
            model.class_skill[class].as_deref(),
        )
    }));
    let all: Vec<usize> = tasks.iter().copied().collect();
    let needed = if minimal {
        "leave out any one of them and there is an order"
    } else {
        "perhaps not all of them are needed for that"
    };
    let sentence = format!(
        "in whatever order, {} do not all find a place with {} inside their windows; {needed}",
        names(all.iter().map(|&task| problem.tasks[task].what.as_str())),
        means.join(" and ")
    );
    let mut items = BTreeSet::new();
    for &task in &all {
        items.extend(settled.reasons(task, true));
        items.extend(settled.reasons(task, false));
    }
    let items: Vec<_> = items.into_iter().collect();
    let bounds = &settled.windows;
    let mut told = vec![Fact::NoOrder {
        windows: all
            .iter()
            .map(|&task| (bounds.low[task], bounds.high[task]))
            .collect(),
        tasks: all,
        crews,
        occupancies,
        minimal,
        sentence,
    }];
    told.extend(facts(model, &items));
    Clash { facts: told }
}
