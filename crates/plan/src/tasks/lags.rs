//! Lags between steps, from a recipe's last step onward, and the machines held while a lot stands.

use kitchen::Id;
use kitchen::recipe::Recipe;
use kitchen::step::{During, FeedFrom, LineItem, Step};
use schedule::Occupancy;

use super::{Builder, Kind, ReliefAt, end, hours, start};
use crate::demand::{Component, Flow};
use crate::labour::thickness_factor;
use crate::loads;
use crate::problem::PlanError;

impl Builder<'_> {
    /// Where a component's product goes: the plates, the steps of other recipes, or the service.
    fn goes_to(&self, recipe: &Id, serve: usize, plate: &[(Id, usize)]) -> Vec<usize> {
        let mut to: Vec<usize> = plate
            .iter()
            .filter(|(r, _)| r == recipe)
            .map(|(_, t)| *t)
            .collect();
        for user in self.components {
            let Some(r) = self.scene.book.recipes.get(&user.recipe) else {
                continue;
            };
            for (i, step) in r.steps.iter().enumerate() {
                let uses = step
                    .lines
                    .iter()
                    .any(|l| matches!(&l.item, LineItem::Recipe(x) if x == recipe))
                    || step
                        .feeds
                        .iter()
                        .any(|f| matches!(&f.from, FeedFrom::Recipe(x) if x == recipe));
                if let (true, Some(ends)) = (uses, self.ends.get(&(user.recipe.clone(), i))) {
                    to.extend(&ends.entry);
                }
            }
        }
        if to.is_empty() {
            to.push(serve);
        }
        to
    }

    /// Lags and waiting machines between the steps of a component, and from its last step onward.
    pub(super) fn connect(
        &mut self,
        component: &Component,
        serve: usize,
        plate: &[(Id, usize)],
    ) -> Result<(), PlanError> {
        let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else {
            return Ok(());
        };
        let factor = thickness_factor(&recipe.steps);
        let last = recipe.last();
        for (i, step) in recipe.steps.iter().enumerate() {
            let from = self
                .ends
                .get(&(recipe.id.clone(), i))
                .cloned()
                .unwrap_or_default();
            let mut next: Vec<(Vec<usize>, bool, f64)> = Vec::new();
            for (j, share) in recipe.takers(i) {
                let to = self
                    .ends
                    .get(&(recipe.id.clone(), j))
                    .cloned()
                    .unwrap_or_default();
                let pairs = recipe.steps[j].loads_as_before && to.entry.len() == from.exit.len();
                // The part of this lot that goes there: a taker's share is of its own inflow.
                let out = component.flows[i].need_out_g;
                let part = if out > 0.0 {
                    component.flows[j].need_in_g * share / out
                } else {
                    1.0
                };
                next.push((to.entry, pairs, part));
            }
            if i == last {
                next.push((self.goes_to(&recipe.id, serve, plate), false, 1.0));
            }
            for (entries, pairs, part) in next {
                for (k, (entry, exit)) in from.entry.iter().zip(&from.exit).enumerate() {
                    for (m, to) in entries.iter().enumerate() {
                        if pairs && m != k {
                            continue;
                        }
                        self.wait(recipe, step, factor, *exit, *to);
                        // Each next load takes its part out when it starts; the rest stays where it is.
                        #[allow(clippy::cast_precision_loss)]
                        let part = if pairs {
                            part
                        } else {
                            part / entries.len() as f64
                        };
                        let flow = &component.flows[i];
                        self.hold_waiting(step, flow, component.pieces, (*entry, *exit), *to, part);
                    }
                }
            }
            for rule in &step.clock {
                let Some(at) = recipe.position(&rule.after) else {
                    continue;
                };
                let before = self
                    .ends
                    .get(&(recipe.id.clone(), at))
                    .cloned()
                    .unwrap_or_default();
                for exit in &before.exit {
                    for entry in &from.entry {
                        self.link(
                            end(*exit),
                            start(*entry),
                            rule.min.whole_minutes(),
                            Some(rule.max.whole_minutes()),
                            format!(
                                "{}.{} comes {} to {} after {}",
                                recipe.id, step.id, rule.min, rule.max, rule.after
                            ),
                        );
                    }
                }
            }
        }
        Ok(())
    }

    fn wait(&mut self, recipe: &Recipe, step: &Step, factor: f64, exit: usize, to: usize) {
        let times = if step.wait.by_thickness { factor } else { 1.0 };
        let minutes = |t: units::Elapsed| {
            t.scaled(times)
                .map_or_else(|_| t.whole_minutes(), units::Elapsed::whole_minutes)
        };
        let (min, max) = (minutes(step.wait.min), minutes(step.wait.max));
        let why = if max == 0 {
            format!("{}.{}: the next step follows at once", recipe.id, step.id)
        } else {
            format!(
                "after {}.{} it stands {} to {}",
                recipe.id,
                step.id,
                hours(min),
                hours(max)
            )
        };
        let link = self.link(end(exit), start(to), min, Some(max), why);
        // Returning work of a wait is done before the next step starts.
        if step.rounds.is_some() && step.programme.is_empty() {
            let rounds: Vec<usize> = self
                .tasks
                .meaning
                .iter()
                .enumerate()
                .filter(|(_, m)| {
                    m.kind == Kind::Round
                        && m.component.as_ref() == Some(&recipe.id)
                        && m.step.as_ref() == Some(&step.id)
                })
                .map(|(i, _)| i)
                .collect();
            for round in rounds {
                self.link(
                    end(round),
                    start(to),
                    0,
                    None,
                    format!("{}.{}: rounds before the next step", recipe.id, step.id),
                );
            }
        }
        if let Some(relief) = &step.wait.relief {
            self.tasks.reliefs.push(ReliefAt {
                link,
                what: relief.what.clone(),
                duration: relief.hands.whole_minutes().max(1),
                then_max: relief.then_max.whole_minutes(),
                role: self.scene.event.role.clone(),
                component: recipe.id.clone(),
                step: step.id.clone(),
                used: false,
            });
        }
    }

    fn hold_waiting(
        &mut self,
        step: &Step,
        flow: &Flow,
        pieces: f64,
        (entry, exit): (usize, usize),
        to: usize,
        part: f64,
    ) {
        for used in &step.uses {
            let from = match used.during {
                During::Wait => end(exit),
                During::All => start(entry),
                During::Hands | During::Run => continue,
            };
            let Some(machine) = self
                .scene
                .site
                .machines
                .iter()
                .position(|m| m.id == used.machine)
            else {
                continue;
            };
            let lot_g = flow.out_g.min(flow.in_g.max(flow.base_g));
            let amount = loads::part_of(used.amount, lot_g, pieces, flow.loads, part);
            let load = self.next_load;
            self.next_load += 1;
            self.tasks.problem.occupancies.push(Occupancy {
                machine,
                amount,
                from,
                to: start(to),
                load,
                what: self.tasks.problem.tasks[entry].id.clone(),
            });
        }
    }
}
