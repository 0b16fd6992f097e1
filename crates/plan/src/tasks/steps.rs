//! The steps of a recipe as tasks: hands, machine run, rounds, and the machines held meanwhile.

use kitchen::Id;
use kitchen::recipe::Recipe;
use kitchen::step::{During, FeedFrom, LineItem, Step};
use schedule::{Minute, Occupancy};

use super::hands::on_the_clock;
use super::{Builder, Ends, Kind, Meaning, end, start};
use crate::clock;
use crate::demand::{Component, Flow};
use crate::labour::{self, pace, programme_minutes, thickness_factor};
use crate::loads;
use crate::problem::PlanError;

impl Builder<'_> {
    /// Tasks of one component's steps, without the lags between steps.
    pub(super) fn steps(&mut self, c: usize, component: &Component) -> Result<(), PlanError> {
        let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else {
            return Ok(());
        };
        let factor = thickness_factor(&recipe.steps);
        for (i, (step, flow)) in recipe.steps.iter().zip(&component.flows).enumerate() {
            let mut ends = Ends::default();
            for load in 1..=flow.loads {
                let (entry, exit) = self.one_load(component, recipe, step, flow, factor, load)?;
                ends.entry.push(entry);
                ends.exit.push(exit);
            }
            self.ends.insert((component.recipe.clone(), i), ends);
        }
        let _ = c;
        Ok(())
    }

    fn one_load(
        &mut self,
        component: &Component,
        recipe: &Recipe,
        step: &Step,
        flow: &Flow,
        factor: f64,
        load: u32,
    ) -> Result<(usize, usize), PlanError> {
        let n = f64::from(flow.loads);
        let name = if flow.loads > 1 {
            format!("{}.{}#{load}", recipe.id, step.id)
        } else {
            format!("{}.{}", recipe.id, step.id)
        };
        let what = if flow.loads > 1 {
            format!("{} (load {load} of {})", step.what, flow.loads)
        } else {
            step.what.clone()
        };
        let role = self
            .scene
            .site
            .roles
            .iter()
            .find(|r| r.id == self.scene.event.role);
        let minutes = labour::minutes(
            &step.hands,
            role,
            component.pieces / n,
            flow.in_g / 1000.0 / n,
            1,
        );
        #[allow(clippy::cast_possible_truncation)]
        let run = programme_minutes(step, factor).round() as Minute;
        let (crew, count) = self.crew(
            &self.scene.event.role.clone(),
            &step.hands,
            step.hands.people,
        );
        let (earliest, why) = self.not_before(step)?;
        let meaning = |id: String, kind, what: &str| Meaning {
            id,
            component: Some(recipe.id.clone()),
            step: Some(step.id.clone()),
            what: what.to_owned(),
            kind,
            machines: Vec::new(),
        };
        let mut first = None;
        if minutes > 0.0 || run == 0 {
            let duration = on_the_clock(minutes, count);
            let mut task = self.task(
                &name,
                &name,
                duration,
                if minutes > 0.0 { crew } else { None },
            );
            (task.earliest, task.why_earliest) = (earliest, why.clone());
            let kind = if minutes > 0.0 {
                Kind::Hands
            } else {
                Kind::Passing
            };
            first = Some(self.add(task, meaning(name.clone(), kind, &what)));
        }
        let mut last = first;
        if run > 0 {
            let id = format!("{name}.run");
            let parts: Vec<String> = step.programme.iter().map(|s| s.what.clone()).collect();
            let mut task = self.task(&id, &id, run, None);
            (task.earliest, task.why_earliest) = (earliest, why);
            let at = self.add(task, meaning(id, Kind::Run, &parts.join(", ")));
            if let Some(first) = first {
                self.link(
                    end(first),
                    start(at),
                    0,
                    Some(0),
                    format!("{name}: the programme starts when it is loaded"),
                );
            }
            last = Some(at);
        }
        let (entry, exit) = match (first.or(last), last) {
            (Some(entry), Some(exit)) => (entry, exit),
            _ => {
                return Err(PlanError::Malformed {
                    why: format!("{name} has no task"),
                });
            }
        };
        self.hold(step, flow, component.pieces, (entry, exit), first.is_some());
        self.rounds(recipe, step, &name, factor, exit);
        Ok((entry, exit))
    }

    /// Deliveries a step waits for.
    fn not_before(&self, step: &Step) -> Result<(Minute, String), PlanError> {
        let mut latest = (
            self.from,
            format!(
                "nothing is done before {}",
                clock::wall(&self.scene.site.zone, self.from)
            ),
        );
        let mut items: Vec<&Id> = Vec::new();
        for feed in &step.feeds {
            if let FeedFrom::Item { item, .. } = &feed.from {
                items.push(item);
            }
        }
        for line in &step.lines {
            if let LineItem::Item(item) = &line.item {
                items.push(item);
            }
        }
        for item in items {
            let Some(offer) = self.scene.site.offers.iter().find(|o| o.item == *item) else {
                continue;
            };
            let deliveries = &self.scene.event.deliveries;
            let delivery = deliveries
                .iter()
                .find(|d| d.what == *item)
                .or_else(|| deliveries.iter().find(|d| d.what == offer.supplier));
            if let Some(d) = delivery {
                let at = clock::minute(&self.scene.site.zone, d.at)?;
                if at > latest.0 {
                    latest = (
                        at,
                        format!("{item} comes {}", clock::wall(&self.scene.site.zone, at)),
                    );
                }
            }
        }
        Ok(latest)
    }

    /// Machines held during the hands or the run; those held while waiting come with the next step.
    fn hold(
        &mut self,
        step: &Step,
        flow: &Flow,
        pieces: f64,
        (entry, exit): (usize, usize),
        has_hands: bool,
    ) {
        let load = self.next_load;
        self.next_load += 1;
        for used in &step.uses {
            let Some(machine) = self
                .scene
                .site
                .machines
                .iter()
                .position(|m| m.id == used.machine)
            else {
                continue;
            };
            let amount = loads::amount(used.amount, flow.in_g, pieces, flow.loads);
            let to = match used.during {
                During::Hands if has_hands => end(entry),
                During::Hands | During::Run => end(exit),
                During::Wait | During::All => continue,
            };
            self.tasks.problem.occupancies.push(Occupancy {
                machine,
                amount,
                from: start(entry),
                to,
                load,
                what: self.tasks.problem.tasks[entry].id.clone(),
            });
            self.tasks.meaning[entry]
                .machines
                .push((used.machine.clone(), amount));
            if to.task != entry {
                self.tasks.meaning[exit]
                    .machines
                    .push((used.machine.clone(), amount));
            }
        }
    }

    fn rounds(&mut self, recipe: &Recipe, step: &Step, name: &str, factor: f64, exit: usize) {
        let Some(rounds) = &step.rounds else { return };
        let run = programme_minutes(step, factor);
        // With a programme the rounds count from its start; without one, from the end of the work.
        let (anchor, length) = if run > 0.0 {
            (start(exit), run)
        } else {
            (end(exit), step.wait.min.minutes())
        };
        let role = self
            .scene
            .site
            .roles
            .iter()
            .find(|r| r.id == self.scene.event.role);
        let (crew, count) = self.crew(&self.scene.event.role.clone(), &step.hands, rounds.people);
        let duration = on_the_clock(rounds.hands.minutes() * pace(role, &step.hands), count);
        let give = rounds.give.whole_minutes();
        for (k, offset) in labour::rounds(step, length).iter().enumerate() {
            let id = format!("{name}.round-{}", k + 1);
            let task = self.task(&id, &id, duration, crew.clone());
            let at = self.add(
                task,
                Meaning {
                    id,
                    component: Some(recipe.id.clone()),
                    step: Some(step.id.clone()),
                    what: rounds.what.clone(),
                    kind: Kind::Round,
                    machines: Vec::new(),
                },
            );
            #[allow(clippy::cast_possible_truncation)]
            let offset = offset.round() as Minute;
            let why = format!("{name}: {} every {}", rounds.what, rounds.every);
            if run > 0.0 && offset >= run.round() as Minute {
                // Counted from the start, as the others are, so that its window reads as theirs do.
                let last = self.tasks.problem.tasks[exit].duration;
                self.link(anchor, end(at), (last - give).max(0), Some(last), why);
            } else {
                self.link(
                    anchor,
                    start(at),
                    (offset - give).max(0),
                    Some(offset + give),
                    why,
                );
            }
        }
    }
}
