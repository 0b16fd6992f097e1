//! Robust mode: a clock that keeps its rules on more of the drawn days, with allowances where they are cheapest.
//!
//! The tasks behind most broken days are planned longer, step by step, and the clock is set anew; what made it no better is
//! taken back. Once the chance is reached, allowances that are not needed for it are given back, the dearest first. Effort is
//! counted in clocks. The plan without any is where it begins, so that what comes out never does worse on these days.

use std::collections::BTreeMap;

use schedule::{Effort, Minute, Progress, Robustness};

use crate::demand::Component;
use crate::problem::PlanError;
use crate::robust::{Bought, DRAWS, Robust, robust, spreads};
use crate::scene::Scene;
use crate::timeline::{self, Solved};

/// Clocks looked for at most: buying, then giving back.
const BUYING: usize = 24;
const GIVING_BACK: usize = 6;
/// Tasks lengthened at once.
const AT_ONCE: usize = 3;

/// A clock with allowances, and what the days say of it.
struct Tried {
    scene: Scene,
    solved: Solved,
    robust: Robust,
    told: Robustness,
}

impl Tried {
    fn value(&self) -> f64 {
        self.solved.timeline.value
    }
}

/// Solves the clock of a scene, with allowances where a chance is asked for.
pub(crate) fn solve(
    scene: &Scene,
    components: &[Component],
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<(Scene, Solved, Option<Robust>), PlanError> {
    let solved = timeline::solve(scene, components, effort, watch)?;
    let Some((found, told)) = robust(scene, &solved) else {
        return Ok((scene.clone(), solved, None));
    };
    let Some(target) = scene.robust else {
        return Ok((scene.clone(), solved, Some(found)));
    };
    let (met_before, value_before) = (found.met, solved.timeline.value);
    let mut best = Tried {
        scene: scene.clone(),
        solved,
        robust: found,
        told,
    };
    let mut clocks = 1;
    let mut no_help: Vec<usize> = Vec::new();
    let mut at_once = AT_ONCE;
    while best.robust.chance() < target && clocks <= BUYING {
        let more = lengthened(&best, &no_help, at_once);
        if more.is_empty() {
            if at_once == 1 {
                break;
            }
            // Together they were of no use; one by one some may be.
            at_once = 1;
            no_help.clear();
            continue;
        }
        clocks += 1;
        let allowance = added(&best.scene.allowance, &more);
        match tried(scene, components, allowance, effort, watch)? {
            Some(new) if new.robust.met > best.robust.met => best = new,
            // Of no use: the worst of them is left alone from now on.
            _ => no_help.extend(more.first().map(|(task, _, _)| *task)),
        }
    }
    let mut kept: Vec<String> = Vec::new();
    while best.robust.chance() >= target && clocks <= BUYING + GIVING_BACK {
        let dearest = best
            .scene
            .allowance
            .iter()
            .filter(|(id, _)| !kept.contains(id))
            .max_by_key(|(id, extra)| people(&best, id) * **extra)
            .map(|(id, _)| id.clone());
        let Some(id) = dearest else { break };
        clocks += 1;
        let mut allowance = best.scene.allowance.clone();
        allowance.remove(&id);
        match tried(scene, components, allowance, effort, watch)? {
            Some(new) if new.robust.chance() >= target && new.value() <= best.value() => best = new,
            _ => kept.push(id),
        }
    }
    let person_minutes = best
        .scene
        .allowance
        .iter()
        .map(|(id, extra)| people(&best, id) * extra)
        .sum();
    best.robust.bought = Some(Bought {
        target,
        met_before,
        allowance: best.scene.allowance.clone(),
        person_minutes,
        value: (value_before, best.solved.timeline.value),
        clocks,
    });
    debug_assert!(best.robust.draws == DRAWS);
    Ok((best.scene, best.solved, Some(best.robust)))
}

fn people(tried: &Tried, id: &str) -> Minute {
    let tasks = &tried.solved.tasks;
    tasks
        .meaning
        .iter()
        .position(|m| m.id == id)
        .and_then(|i| tasks.problem.tasks[i].crew.as_ref())
        .and_then(|c| Minute::try_from(c.count).ok())
        .unwrap_or(0)
}

/// The worst threats with half of what they may still run over by.
fn lengthened(best: &Tried, no_help: &[usize], at_once: usize) -> Vec<(usize, String, Minute)> {
    let tasks = &best.solved.tasks;
    let (spreads, _) = spreads(&best.scene, tasks);
    best.told
        .threats
        .iter()
        .filter(|(task, _)| !no_help.contains(task))
        .filter_map(|(task, _)| {
            let spread = spreads.iter().find(|s| s.task == *task)?;
            let left = spread.most - tasks.problem.tasks[*task].duration;
            (left > 0).then(|| (*task, tasks.meaning[*task].id.clone(), (left + 1) / 2))
        })
        .take(at_once)
        .collect()
}

fn added(
    allowance: &BTreeMap<String, Minute>,
    more: &[(usize, String, Minute)],
) -> BTreeMap<String, Minute> {
    let mut allowance = allowance.clone();
    for (_, id, extra) in more {
        *allowance.entry(id.clone()).or_insert(0) += extra;
    }
    allowance
}

fn tried(
    scene: &Scene,
    components: &[Component],
    allowance: BTreeMap<String, Minute>,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Option<Tried>, PlanError> {
    let scene = Scene {
        allowance,
        ..scene.clone()
    };
    let solved = timeline::solve(&scene, components, effort, watch)?;
    let found = robust(&scene, &solved);
    Ok(found.map(|(robust, told)| Tried {
        scene,
        solved,
        robust,
        told,
    }))
}
