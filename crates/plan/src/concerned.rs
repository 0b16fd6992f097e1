//! What a clash is about: the components, machines, people and hours its facts name.

use kitchen::Id;
use kitchen::step::{FeedFrom, LineItem, Step};
use schedule::{Fact, Side};

use crate::clock;
use crate::scene::Scene;
use crate::tasks::{Kind, Tasks};

/// Where a way out of a clash may be looked for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Concerned {
    /// Components with a task among the facts.
    pub components: Vec<Id>,
    /// Machines that are full, out of order, or stand in each other's way.
    pub machines: Vec<Id>,
    /// Too few hands, or work whose length depends on how many there are.
    pub people: bool,
    /// Items whose delivery is the earliest hour of a task among the facts.
    pub deliveries: Vec<Id>,
    /// Steps the event keeps within hours of its own.
    pub within: Vec<String>,
    /// The first hour of the event is the earliest of a task among the facts.
    pub from: bool,
}

impl Concerned {
    /// What these facts are about; without any, everything of the event.
    pub(crate) fn of(scene: &Scene, tasks: &Tasks, facts: &[Fact]) -> Self {
        let mut about = Self::default();
        for o in &tasks.problem.occupancies {
            let off = scene.site.machines.get(o.machine).filter(|m| m.off);
            if let Some(machine) = off {
                put(&mut about.machines, &machine.id);
                about.task(scene, tasks, o.from.task);
            }
        }
        for fact in facts {
            about.fact(scene, tasks, fact);
        }
        if about.components.is_empty() && about.machines.is_empty() && !about.people {
            for component in tasks.meaning.iter().filter_map(|m| m.component.as_ref()) {
                put(&mut about.components, component);
            }
            about.people = true;
        }
        about
    }

    fn fact(&mut self, scene: &Scene, tasks: &Tasks, fact: &Fact) {
        let links = &tasks.problem.links;
        match fact {
            Fact::Link { link, .. } => {
                if let Some(link) = links.get(*link) {
                    self.task(scene, tasks, link.from.task);
                    self.task(scene, tasks, link.to.task);
                }
            }
            Fact::TaskWindow { task, side, .. } => {
                self.task(scene, tasks, *task);
                if *side == Side::Least {
                    self.earliest(scene, tasks, *task);
                }
            }
            Fact::HoldOrder { occupancy, .. } => self.hold(scene, tasks, *occupancy),
            Fact::NoPeople { task, .. } => {
                self.people = true;
                self.task(scene, tasks, *task);
            }
            Fact::PeopleFull { tasks: all, .. } => {
                self.people = true;
                for task in all {
                    self.task(scene, tasks, *task);
                }
            }
            Fact::MachineFull { occupancies, .. } => {
                for o in occupancies {
                    self.hold(scene, tasks, *o);
                }
            }
            Fact::NoOrder {
                tasks: all,
                crews,
                occupancies,
                ..
            } => {
                for o in occupancies {
                    self.hold(scene, tasks, *o);
                }
                for task in all {
                    self.task(scene, tasks, *task);
                }
                self.people |= !crews.is_empty();
            }
            Fact::NotPlaced { task, .. } => {
                self.people = true;
                self.task(scene, tasks, *task);
            }
        }
    }

    fn hold(&mut self, scene: &Scene, tasks: &Tasks, occupancy: usize) {
        let Some(o) = tasks.problem.occupancies.get(occupancy) else {
            return;
        };
        if let Some(machine) = scene.site.machines.get(o.machine) {
            put(&mut self.machines, &machine.id);
        }
        self.task(scene, tasks, o.from.task);
    }

    fn task(&mut self, scene: &Scene, tasks: &Tasks, task: usize) {
        let Some(meaning) = tasks.meaning.get(task) else {
            return;
        };
        if let Some(component) = &meaning.component {
            put(&mut self.components, component);
        }
        // A line of plating is as long as the people on it are few.
        self.people |= meaning.kind == Kind::Plating;
        let name = meaning.id.split('#').next().unwrap_or(&meaning.id);
        let mut bound = scene.event.within.iter();
        if let Some(w) = bound.find(|w| w.step == name)
            && !self.within.contains(&w.step)
        {
            self.within.push(w.step.clone());
        }
    }

    /// Whether a delivery or the event's own beginning is what a task waits for.
    fn earliest(&mut self, scene: &Scene, tasks: &Tasks, task: usize) {
        let (Some(meaning), Some(spec)) = (tasks.meaning.get(task), tasks.problem.tasks.get(task))
        else {
            return;
        };
        let zone = &scene.site.zone;
        self.from |= clock::minute(zone, scene.event.from) == Ok(spec.earliest);
        let recipe = meaning
            .component
            .as_ref()
            .and_then(|c| scene.book.recipes.get(c));
        let step = recipe.and_then(|r| {
            r.steps
                .iter()
                .find(|s| Some(&s.id) == meaning.step.as_ref())
        });
        for item in step.map(items).unwrap_or_default() {
            let at = delivery(scene, item).map(|d| clock::minute(zone, d));
            if at == Some(Ok(spec.earliest)) {
                put(&mut self.deliveries, item);
            }
        }
    }
}

/// Items a step is given.
fn items(step: &Step) -> Vec<&Id> {
    let feeds = step.feeds.iter().filter_map(|f| match &f.from {
        FeedFrom::Item { item, .. } => Some(item),
        _ => None,
    });
    let lines = step.lines.iter().filter_map(|l| match &l.item {
        LineItem::Item(item) => Some(item),
        LineItem::Recipe(_) => None,
    });
    feeds.chain(lines).collect()
}

/// When an item comes, as the event says of it or of its supplier.
pub(crate) fn delivery(scene: &Scene, item: &Id) -> Option<jiff::civil::DateTime> {
    let offer = scene.site.offers.iter().find(|o| o.item == *item)?;
    let deliveries = &scene.event.deliveries;
    deliveries
        .iter()
        .find(|d| d.what == *item)
        .or_else(|| deliveries.iter().find(|d| d.what == offer.supplier))
        .map(|d| d.at)
}

fn put(list: &mut Vec<Id>, id: &Id) {
    if !list.contains(id) {
        list.push(id.clone());
    }
}
