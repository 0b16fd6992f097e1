//! Where each task would best start.

use std::collections::BTreeMap;

use kitchen::Id;
use schedule::{Lean, Link, MachineKind, Minute};

use super::{Builder, Kind, end, start};
use crate::clock;
use crate::labour::thickness_factor;
use crate::problem::PlanError;

impl Builder<'_> {
    /// Where each task would best start: as the event says, else counted back from what follows,
    /// else (in a re-plan) where it was.
    pub(super) fn targets(&mut self, serve: usize, plate: &[(Id, usize)]) -> Result<(), PlanError> {
        let mut target: BTreeMap<usize, Minute> = BTreeMap::new();
        target.insert(serve, self.serve);
        let links = self.tasks.problem.links.clone();
        for (_, at) in plate {
            let stands = links
                .iter()
                .find(|l| l.from == start(*at) && l.to == start(serve))
                .and_then(|l| l.max);
            target.insert(*at, self.serve - stands.unwrap_or(0));
        }
        for p in &self.scene.event.prefers {
            let mut at = clock::minute(&self.scene.site.zone, p.at)?;
            for i in self.named(&p.step) {
                target.insert(i, at);
                // A second load is wished for when the first is out and the machine is ready again.
                at += self.turn(i);
            }
        }
        // Users of a recipe come before it in the order of components; walk so that what follows is known.
        for component in self.components {
            let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else {
                continue;
            };
            let factor = thickness_factor(&recipe.steps);
            for i in (0..recipe.steps.len()).rev() {
                let step = &recipe.steps[i];
                let ends = self
                    .ends
                    .get(&(recipe.id.clone(), i))
                    .cloned()
                    .unwrap_or_default();
                let loads = ends.entry.len();
                for (k, (entry, exit)) in ends.entry.iter().zip(&ends.exit).enumerate() {
                    if target.contains_key(entry) {
                        continue;
                    }
                    let later_loads = Minute::try_from(loads - 1 - k).unwrap_or(0);
                    let follows = links
                        .iter()
                        .filter(|l| l.from == end(*exit) && l.max.is_some())
                        .filter_map(|l| target.get(&l.to.task).map(|t| (*t, l.min)))
                        .map(|(t, min)| {
                            let times = if step.wait.by_thickness { factor } else { 1.0 };
                            let best = step
                                .wait
                                .best
                                .and_then(|b| b.scaled(times).ok())
                                .map_or(min, units::Elapsed::whole_minutes);
                            t - best
                        })
                        .min();
                    if let Some(done) = follows {
                        let tasks = &self.tasks.problem.tasks;
                        let run = if entry == exit {
                            0
                        } else {
                            tasks[*exit].duration
                        };
                        let first = done - run - tasks[*entry].duration;
                        target.insert(*entry, first - later_loads * self.turn(*entry));
                    }
                }
            }
        }
        self.follow(&links, &mut target);
        let weights = self.scene.site.clock;
        for (i, task) in self.tasks.problem.tasks.iter_mut().enumerate() {
            let meaning = &self.tasks.meaning[i];
            if let (Kind::Hands | Kind::Plating, Some(at)) = (meaning.kind, target.get(&i)) {
                (task.lean, task.weight) = (Lean::Toward(*at), weights.best_hour);
            }
            if let (Kind::Around, Some(at)) = (meaning.kind, target.get(&i)) {
                (task.lean, task.weight) = (Lean::Toward(*at), weights.around);
            }
        }
        if let Some(keep) = &self.scene.keep {
            for (i, task) in self.tasks.problem.tasks.iter_mut().enumerate() {
                let meaning = &self.tasks.meaning[i];
                let kept = keep
                    .iter()
                    .find(|(id, _)| *id == meaning.id)
                    .map(|(_, at)| *at);
                if let (Kind::Hands | Kind::Around, Some(at)) = (meaning.kind, kept) {
                    (task.lean, task.weight) = (Lean::Toward(at), weights.best_hour);
                }
            }
        }
        Ok(())
    }

    /// Minutes from one load to the next on a machine that takes one at a time; 0 where loads do not queue.
    fn turn(&self, entry: usize) -> Minute {
        let problem = &self.tasks.problem;
        problem
            .occupancies
            .iter()
            .filter(|o| o.from == start(entry))
            .filter_map(|o| match problem.machines[o.machine].kind {
                MachineKind::OneLoad { change_over } => {
                    let run = if o.to.task == entry {
                        0
                    } else {
                        problem.tasks[o.to.task].duration
                    };
                    Some(problem.tasks[entry].duration + run + change_over)
                }
                MachineKind::Shared => None,
            })
            .max()
            .unwrap_or(0)
    }

    /// A step that follows one with a wished hour, and could not keep its own beside it, follows at its
    /// best wait instead.
    fn follow(&self, links: &[Link], target: &mut BTreeMap<usize, Minute>) {
        let wished: Vec<usize> = self
            .scene
            .event
            .prefers
            .iter()
            .flat_map(|p| self.named(&p.step))
            .collect();
        for component in self.components {
            let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else {
                continue;
            };
            let factor = thickness_factor(&recipe.steps);
            for (i, step) in recipe.steps.iter().enumerate() {
                let ends = self
                    .ends
                    .get(&(recipe.id.clone(), i))
                    .cloned()
                    .unwrap_or_default();
                for (entry, exit) in ends.entry.iter().zip(&ends.exit) {
                    let Some(starts) = target.get(entry).copied() else {
                        continue;
                    };
                    let tasks = &self.tasks.problem.tasks;
                    let run = if entry == exit {
                        0
                    } else {
                        tasks[*exit].duration
                    };
                    let done = starts + tasks[*entry].duration + run;
                    for link in links.iter().filter(|l| l.from == end(*exit)) {
                        let to = link.to.task;
                        if wished.contains(&to)
                            || self.tasks.meaning[to].component.as_ref() != Some(&recipe.id)
                        {
                            continue;
                        }
                        let Some(at) = target.get(&to).copied() else {
                            continue;
                        };
                        let inside =
                            at >= done + link.min && link.max.is_none_or(|max| at <= done + max);
                        if !inside {
                            let times = if step.wait.by_thickness { factor } else { 1.0 };
                            let best = step
                                .wait
                                .best
                                .and_then(|b| b.scaled(times).ok())
                                .map_or(link.min, units::Elapsed::whole_minutes)
                                .max(link.min);
                            target.insert(to, done + best);
                        }
                    }
                }
            }
        }
    }
}
