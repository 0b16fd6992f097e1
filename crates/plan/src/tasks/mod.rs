//! The steps of the components as tasks on a clock: who, on what, after what, not before and not after.

mod around;
mod hands;
mod lags;
mod let_go;
mod pinned;
mod steps;
mod wishes;

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::step::Hands;
use schedule::{Crew, Edge, Lean, Link, Minute, Point, Problem, Task};

use hands::{heads, machines, people, tag};

use crate::clock;
use crate::demand::Component;
use crate::problem::PlanError;
use crate::scene::Scene;

/// What a task of the clock stands for.
#[derive(Debug, Clone, PartialEq)]
pub struct Meaning {
    /// `recipe.step`, with `#2` for a second load, `.run` for machine time, `.round-3` for a round.
    pub id: String,
    /// The recipe.
    pub component: Option<Id>,
    /// The step.
    pub step: Option<Id>,
    /// What is done.
    pub what: String,
    /// Kind.
    pub kind: Kind,
    /// Machines held while it lasts: machine and thousandths of its unit.
    pub machines: Vec<(Id, i64)>,
}

/// Kinds of task.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Hands on it.
    Hands,
    /// A machine runs by itself.
    Run,
    /// A round inside a passive part.
    Round,
    /// Nothing is done: the lot passes to the next step.
    Passing,
    /// An extra act that buys time.
    Relief,
    /// Plating.
    Plating,
    /// Service.
    Serve,
    /// Work around the cooking.
    Around,
}

/// A maximum wait that an extra act can lengthen.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ReliefAt {
    /// The link whose maximum it lengthens.
    pub(crate) link: usize,
    /// What is done.
    pub(crate) what: String,
    /// Minutes of work.
    pub(crate) duration: Minute,
    /// Most from its start to the next step.
    pub(crate) then_max: Minute,
    /// Who does it.
    pub(crate) role: Id,
    /// Component and step it belongs to.
    pub(crate) component: Id,
    pub(crate) step: Id,
    /// Whether it is in use.
    pub(crate) used: bool,
}

/// A scheduling problem with the meaning of its tasks.
#[derive(Debug, Clone)]
pub(crate) struct Tasks {
    pub(crate) problem: Problem,
    pub(crate) meaning: Vec<Meaning>,
    pub(crate) reliefs: Vec<ReliefAt>,
    /// The group each person belongs to.
    pub(crate) groups: Vec<Id>,
    /// The last minute the clock runs for.
    pub(crate) last: Minute,
    /// The zone its hours are told in.
    pub(crate) zone: jiff::tz::TimeZone,
    /// Now, where a record was put on it.
    pub(crate) now: Option<Minute>,
    /// What the record says, where one was put on it.
    pub(crate) told: Option<crate::happened::Told>,
    /// What is left of a task under way, with its crew, and the task it is left of.
    pub(crate) rests: Vec<(usize, usize)>,
    /// Holds that are over: they take no room any more.
    pub(crate) past_holds: Vec<schedule::Occupancy>,
}

impl Tasks {
    /// "Wed 10-06 08:30".
    pub(crate) fn wall(&self, minute: Minute) -> String {
        clock::wall(&self.zone, minute)
    }

    /// The id of the task a relief becomes when it is used.
    pub(crate) fn relief_id(&self, r: usize) -> String {
        let relief = &self.reliefs[r];
        let from = self.problem.links[relief.link].from.task;
        let load = self.meaning[from]
            .id
            .split('#')
            .nth(1)
            .and_then(|n| n.split('.').next());
        match load {
            Some(load) => format!("{}.{}#{load}.relief", relief.component, relief.step),
            None => format!("{}.{}.relief", relief.component, relief.step),
        }
    }
}

/// Entry and exit task of every load of a step.
#[derive(Debug, Clone, Default)]
struct Ends {
    entry: Vec<usize>,
    exit: Vec<usize>,
}

struct Builder<'s> {
    scene: &'s Scene,
    components: &'s [Component],
    tasks: Tasks,
    ends: BTreeMap<(Id, usize), Ends>,
    from: Minute,
    serve: Minute,
    last: Minute,
    next_load: u32,
    head: BTreeMap<String, usize>,
}

/// Minutes after service for which the clock still runs.
const AFTER: Minute = 24 * 60;

/// Builds the problem of a scene.
pub(crate) fn build(scene: &Scene, components: &[Component]) -> Result<Tasks, PlanError> {
    let zone = &scene.site.zone;
    let from = clock::minute(zone, scene.event.from)?;
    let serve = clock::minute(zone, scene.event.serve)?;
    let (people, groups) = people(scene)?;
    let head = heads(scene);
    let mut b = Builder {
        scene,
        components,
        tasks: Tasks {
            problem: Problem {
                machines: machines(scene, from, serve + AFTER),
                people,
                overtime_weight: scene.site.clock.overtime,
                ..Problem::default()
            },
            meaning: Vec::new(),
            reliefs: Vec::new(),
            groups,
            last: serve + AFTER,
            zone: zone.clone(),
            now: None,
            told: None,
            rests: Vec::new(),
            past_holds: Vec::new(),
        },
        ends: BTreeMap::new(),
        from,
        serve,
        last: serve + AFTER,
        next_load: 0,
        head,
    };
    for (c, component) in components.iter().enumerate() {
        b.steps(c, component)?;
    }
    let serve = b.serve_milestone();
    let plate = b.plating(serve)?;
    for component in components {
        b.connect(component, serve, &plate)?;
    }
    for task in &scene.event.tasks {
        b.around(task, serve)?;
    }
    b.within()?;
    b.targets(serve, &plate)?;
    b.allow();
    Ok(match &scene.happened {
        Some(record) => pinned::apply(b.tasks, scene, record),
        None => b.tasks,
    })
}

fn start(task: usize) -> Point {
    Point {
        task,
        edge: Edge::Start,
    }
}

fn end(task: usize) -> Point {
    Point {
        task,
        edge: Edge::End,
    }
}

impl Builder<'_> {
    fn add(&mut self, task: Task, meaning: Meaning) -> usize {
        self.tasks.problem.tasks.push(task);
        self.tasks.meaning.push(meaning);
        self.tasks.problem.tasks.len() - 1
    }

    fn link(
        &mut self,
        from: Point,
        to: Point,
        min: Minute,
        max: Option<Minute>,
        why: String,
    ) -> usize {
        self.tasks.problem.links.push(Link {
            from,
            to,
            min,
            max,
            why,
        });
        self.tasks.problem.links.len() - 1
    }

    /// Time planned beyond the usual; it ends no later for that than it may.
    fn allow(&mut self) {
        for (task, meaning) in self.tasks.problem.tasks.iter_mut().zip(&self.tasks.meaning) {
            if let Some(extra) = self.scene.allowance.get(&meaning.id) {
                task.duration += extra;
                task.latest -= extra;
            }
        }
    }

    fn task(&self, id: &str, what: &str, duration: Minute, crew: Option<Crew>) -> Task {
        Task {
            id: id.to_owned(),
            what: what.to_owned(),
            duration,
            crew,
            earliest: self.from,
            latest: self.last - duration,
            why_earliest: format!(
                "nothing is done before {}",
                clock::wall(&self.scene.site.zone, self.from)
            ),
            why_latest: format!(
                "service is {}",
                clock::wall(&self.scene.site.zone, self.serve)
            ),
            lean: Lean::Indifferent,
            weight: 0.0,
        }
    }

    fn crew(&self, role: &Id, hands: &Hands, wanted: u32) -> (Option<Crew>, usize) {
        let skill = tag(role, hands.skill.as_deref());
        let there = self.head.get(&skill).copied().unwrap_or(0);
        let count = (wanted as usize).min(there.max(1));
        (
            Some(Crew {
                count,
                skill: Some(skill),
                min_count: count,
            }),
            count,
        )
    }
}

/// Minutes in hours and minutes.
pub(crate) fn hours(minutes: Minute) -> String {
    units::Elapsed::from_seconds(minutes.max(0) * 60)
        .map_or_else(|_| format!("{minutes} min"), |e| e.to_string())
}
