//! The steps of the components as tasks on a clock: who, on what, after what, not before and not after.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::event::{EventTask, Moment, Plating};
use kitchen::recipe::Recipe;
use kitchen::site::People;
use kitchen::step::{During, FeedFrom, Hands, LineItem, Step};
use schedule::{
    Crew, Edge, Lean, Link, Machine, MachineKind, Minute, Occupancy, Person, Point, Problem, Span, Task,
};

use crate::clock;
use crate::demand::{Component, Flow, plates};
use crate::labour::{self, pace, programme_minutes, thickness_factor};
use crate::loads;
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

/// Weight of a minute away from the wished start: work, and work around the cooking.
const WORK: f64 = 1.0;
const AROUND: f64 = 0.2;
/// Price of a person-minute of overtime, in minutes of deviation.
const OVERTIME: f64 = 0.05;
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
                overtime_weight: OVERTIME,
                ..Problem::default()
            },
            meaning: Vec::new(),
            reliefs: Vec::new(),
            groups,
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
    Ok(b.tasks)
}

fn tag(role: &Id, skill: Option<&str>) -> String {
    skill.map_or_else(|| role.to_string(), |s| format!("{role}+{s}"))
}

/// How many people carry each role-and-skill tag.
fn heads(scene: &Scene) -> BTreeMap<String, usize> {
    let mut head = BTreeMap::new();
    for group in scene.site.people.iter().chain(&scene.event.crew) {
        *head.entry(tag(&group.role, None)).or_insert(0) += group.count as usize;
        for skill in &group.skills {
            *head.entry(tag(&group.role, Some(skill))).or_insert(0) += group.count as usize;
        }
    }
    head
}

fn people(scene: &Scene) -> Result<(Vec<Person>, Vec<Id>), PlanError> {
    let (site, event) = (&scene.site, &scene.event);
    let first = event.from;
    let last = event
        .serve
        .checked_add(jiff::SignedDuration::from_mins(AFTER))
        .map_err(|_| PlanError::Calendar { what: event.serve.to_string() })?;
    let open = clock::open(site, &event.open, first, last)?;
    let mut people = Vec::new();
    let mut groups = Vec::new();
    for group in site.people.iter().chain(&event.crew) {
        let People { id, count, role, skills, shifts } = group;
        let available = clock::meet(&clock::spans(&site.zone, shifts, first, last, false)?, &open);
        let overtime = clock::meet(&clock::spans(&site.zone, shifts, first, last, true)?, &open);
        let mut tags = vec![tag(role, None)];
        tags.extend(skills.iter().map(|s| tag(role, Some(s))));
        for n in 1..=*count {
            people.push(Person {
                id: if *count == 1 { id.to_string() } else { format!("{id} {n}") },
                skills: tags.clone(),
                available: available.clone(),
                overtime: overtime.clone(),
            });
            groups.push(id.clone());
        }
    }
    Ok((people, groups))
}

fn machines(scene: &Scene, from: Minute, to: Minute) -> Vec<Machine> {
    scene
        .site
        .machines
        .iter()
        .map(|m| Machine {
            id: m.name.clone(),
            capacity: loads::capacity(m),
            kind: match m.one_load {
                Some(change) => MachineKind::OneLoad { change_over: change.whole_minutes() },
                None => MachineKind::Shared,
            },
            unavailable: if m.off { vec![Span { start: from - AFTER, end: to + AFTER }] } else { Vec::new() },
        })
        .collect()
}

/// Whole minutes on the clock for so many minutes of work shared by a crew.
#[allow(clippy::cast_possible_truncation)]
fn on_the_clock(minutes: f64, people: usize) -> Minute {
    if minutes <= 0.0 {
        return 0;
    }
    #[allow(clippy::cast_precision_loss)]
    let shared = minutes / people.max(1) as f64;
    ((shared + 0.5).floor() as Minute).max(1)
}

fn start(task: usize) -> Point {
    Point { task, edge: Edge::Start }
}

fn end(task: usize) -> Point {
    Point { task, edge: Edge::End }
}

impl Builder<'_> {
    fn add(&mut self, task: Task, meaning: Meaning) -> usize {
        self.tasks.problem.tasks.push(task);
        self.tasks.meaning.push(meaning);
        self.tasks.problem.tasks.len() - 1
    }

    fn link(&mut self, from: Point, to: Point, min: Minute, max: Option<Minute>, why: String) -> usize {
        self.tasks.problem.links.push(Link { from, to, min, max, why });
        self.tasks.problem.links.len() - 1
    }

    fn task(&self, id: &str, what: &str, duration: Minute, crew: Option<Crew>) -> Task {
        Task {
            id: id.to_owned(),
            what: what.to_owned(),
            duration,
            crew,
            earliest: self.from,
            latest: self.last - duration,
            why_earliest: format!("nothing is done before {}", clock::wall(&self.scene.site.zone, self.from)),
            why_latest: format!("service is {}", clock::wall(&self.scene.site.zone, self.serve)),
            lean: Lean::Indifferent,
            weight: 0.0,
        }
    }

    fn crew(&self, role: &Id, hands: &Hands, wanted: u32) -> (Option<Crew>, usize) {
        let skill = tag(role, hands.skill.as_deref());
        let there = self.head.get(&skill).copied().unwrap_or(0);
        let count = (wanted as usize).min(there.max(1));
        (Some(Crew { count, skill: Some(skill), min_count: count }), count)
    }

    /// Tasks of one component's steps, without the lags between steps.
    fn steps(&mut self, c: usize, component: &Component) -> Result<(), PlanError> {
        let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else { return Ok(()) };
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
        let what = if flow.loads > 1 { format!("{} (load {load} of {})", step.what, flow.loads) } else { step.what.clone() };
        let role = self.scene.site.roles.iter().find(|r| r.id == self.scene.event.role);
        let minutes = labour::minutes(&step.hands, role, component.pieces / n, flow.in_g / 1000.0 / n, 1);
        #[allow(clippy::cast_possible_truncation)]
        let run = programme_minutes(step, factor).round() as Minute;
        let (crew, count) = self.crew(&self.scene.event.role.clone(), &step.hands, step.hands.people);
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
            let mut task = self.task(&name, &name, duration, if minutes > 0.0 { crew } else { None });
            (task.earliest, task.why_earliest) = (earliest, why.clone());
            let kind = if minutes > 0.0 { Kind::Hands } else { Kind::Passing };
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
                self.link(end(first), start(at), 0, Some(0), format!("{name}: the programme starts when it is loaded"));
            }
            last = Some(at);
        }
        let (entry, exit) = match (first.or(last), last) {
            (Some(entry), Some(exit)) => (entry, exit),
            _ => return Err(PlanError::Malformed { why: format!("{name} has no task") }),
        };
        self.hold(step, flow, component.pieces, (entry, exit), first.is_some());
        self.rounds(recipe, step, &name, factor, exit);
        Ok((entry, exit))
    }

    /// Deliveries a step waits for.
    fn not_before(&self, step: &Step) -> Result<(Minute, String), PlanError> {
        let mut latest = (self.from, format!("nothing is done before {}", clock::wall(&self.scene.site.zone, self.from)));
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
            let Some(offer) = self.scene.site.offers.iter().find(|o| o.item == *item) else { continue };
            let deliveries = &self.scene.event.deliveries;
            let delivery = deliveries
                .iter()
                .find(|d| d.what == *item)
                .or_else(|| deliveries.iter().find(|d| d.what == offer.supplier));
            if let Some(d) = delivery {
                let at = clock::minute(&self.scene.site.zone, d.at)?;
                if at > latest.0 {
                    latest = (at, format!("{item} comes {}", clock::wall(&self.scene.site.zone, at)));
                }
            }
        }
        Ok(latest)
    }

    /// Machines held during the hands or the run; those held while waiting come with the next step.
    fn hold(&mut self, step: &Step, flow: &Flow, pieces: f64, (entry, exit): (usize, usize), has_hands: bool) {
        let load = self.next_load;
        self.next_load += 1;
        for used in &step.uses {
            let Some(machine) = self.scene.site.machines.iter().position(|m| m.id == used.machine) else { continue };
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
            self.tasks.meaning[entry].machines.push((used.machine.clone(), amount));
            if to.task != entry {
                self.tasks.meaning[exit].machines.push((used.machine.clone(), amount));
            }
        }
    }

    fn rounds(&mut self, recipe: &Recipe, step: &Step, name: &str, factor: f64, exit: usize) {
        let Some(rounds) = &step.rounds else { return };
        let run = programme_minutes(step, factor);
        // With a programme the rounds count from its start; without one, from the end of the work.
        let (anchor, length) = if run > 0.0 { (start(exit), run) } else { (end(exit), step.wait.min.minutes()) };
        let role = self.scene.site.roles.iter().find(|r| r.id == self.scene.event.role);
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
                self.link(end(at), end(exit), 0, Some(give), why);
            } else {
                self.link(anchor, start(at), (offset - give).max(0), Some(offset + give), why);
            }
        }
    }

    fn serve_milestone(&mut self) -> usize {
        let mut task = self.task("serve", "Service", 0, None);
        (task.earliest, task.latest) = (self.serve, self.serve);
        task.why_earliest = format!("service is {}", clock::wall(&self.scene.site.zone, self.serve));
        self.add(
            task,
            Meaning {
                id: "serve".to_owned(),
                component: None,
                step: None,
                what: "Service".to_owned(),
                kind: Kind::Serve,
                machines: Vec::new(),
            },
        )
    }

    /// A plating task for every plated dish; its recipes end in it.
    fn plating(&mut self, serve: usize) -> Result<Vec<(Id, usize)>, PlanError> {
        let mut made = Vec::new();
        let n = plates(self.scene.event.covers, self.scene.event.spare);
        let dishes: Vec<_> = self.scene.event.dishes.iter().filter_map(|d| self.scene.book.dishes.get(d)).collect();
        for dish in dishes {
            let Some(Plating { hands, stands_at_most, ready_before }) = &dish.plating else { continue };
            let role = self.scene.site.roles.iter().find(|r| r.id == self.scene.event.role);
            let (crew, count) = self.crew(&self.scene.event.role.clone(), hands, hands.people);
            let work = labour::minutes(hands, role, n, 0.0, 1);
            #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
            let duration = match hands.slowest {
                // A shorter line: the work of the missing stations falls to those that are there.
                Some(slowest) => {
                    (n * slowest.minutes() * f64::from(hands.people) / count as f64).ceil().max(1.0) as Minute
                }
                None => on_the_clock(work, count),
            };
            let id = format!("{}.plate", dish.id);
            let task = self.task(&id, &id, duration, crew);
            let at = self.add(
                task,
                Meaning {
                    id,
                    component: None,
                    step: None,
                    what: format!("Plate {}: {}", crate::figures::number(n, 0), dish.name),
                    kind: Kind::Plating,
                    machines: Vec::new(),
                },
            );
            let stands = stands_at_most.whole_minutes();
            self.link(start(at), start(serve), 0, Some(stands), format!("a plate stands at most {stands_at_most} before service"));
            self.link(end(at), start(serve), ready_before.whole_minutes(), None, format!("the last plate is up {ready_before} before service"));
            for part in &dish.parts {
                made.push((part.recipe.clone(), at));
            }
        }
        Ok(made)
    }

    /// Where a component's product goes: the plates, the steps of other recipes, or the service.
    fn goes_to(&self, recipe: &Id, serve: usize, plate: &[(Id, usize)]) -> Vec<usize> {
        let mut to: Vec<usize> = plate.iter().filter(|(r, _)| r == recipe).map(|(_, t)| *t).collect();
        for user in self.components {
            let Some(r) = self.scene.book.recipes.get(&user.recipe) else { continue };
            for (i, step) in r.steps.iter().enumerate() {
                let uses = step.lines.iter().any(|l| matches!(&l.item, LineItem::Recipe(x) if x == recipe))
                    || step.feeds.iter().any(|f| matches!(&f.from, FeedFrom::Recipe(x) if x == recipe));
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
    fn connect(&mut self, component: &Component, serve: usize, plate: &[(Id, usize)]) -> Result<(), PlanError> {
        let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else { return Ok(()) };
        let factor = thickness_factor(&recipe.steps);
        let last = recipe.last();
        for (i, step) in recipe.steps.iter().enumerate() {
            let from = self.ends.get(&(recipe.id.clone(), i)).cloned().unwrap_or_default();
            let mut next: Vec<(Vec<usize>, bool, f64)> = Vec::new();
            for (j, share) in recipe.takers(i) {
                let to = self.ends.get(&(recipe.id.clone(), j)).cloned().unwrap_or_default();
                let pairs = recipe.steps[j].loads_as_before && to.entry.len() == from.exit.len();
                next.push((to.entry, pairs, share));
            }
            if i == last {
                next.push((self.goes_to(&recipe.id, serve, plate), false, 1.0));
            }
            for (entries, pairs, share) in next {
                for (k, (entry, exit)) in from.entry.iter().zip(&from.exit).enumerate() {
                    for (m, to) in entries.iter().enumerate() {
                        if pairs && m != k {
                            continue;
                        }
                        self.wait(recipe, step, factor, *exit, *to);
                        if m == 0 || pairs {
                            let flow = &component.flows[i];
                            self.hold_waiting(step, flow, component.pieces, (*entry, *exit), *to, share);
                        }
                    }
                }
            }
            for rule in &step.clock {
                let Some(at) = recipe.position(&rule.after) else { continue };
                let before = self.ends.get(&(recipe.id.clone(), at)).cloned().unwrap_or_default();
                for exit in &before.exit {
                    for entry in &from.entry {
                        self.link(
                            end(*exit),
                            start(*entry),
                            rule.min.whole_minutes(),
                            Some(rule.max.whole_minutes()),
                            format!("{}.{} comes {} to {} after {}", recipe.id, step.id, rule.min, rule.max, rule.after),
                        );
                    }
                }
            }
        }
        Ok(())
    }

    fn wait(&mut self, recipe: &Recipe, step: &Step, factor: f64, exit: usize, to: usize) {
        let times = if step.wait.by_thickness { factor } else { 1.0 };
        let minutes = |t: units::Elapsed| t.scaled(times).map_or_else(|_| t.whole_minutes(), units::Elapsed::whole_minutes);
        let (min, max) = (minutes(step.wait.min), minutes(step.wait.max));
        let why = if max == 0 {
            format!("{}.{}: the next step follows at once", recipe.id, step.id)
        } else {
            format!("after {}.{} it stands {} to {}", recipe.id, step.id, hours(min), hours(max))
        };
        let link = self.link(end(exit), start(to), min, Some(max), why);
        // Returning work of a wait is done before the next step starts.
        if step.rounds.is_some() && step.programme.is_empty() {
            let rounds: Vec<usize> = self
                .tasks
                .meaning
                .iter()
                .enumerate()
                .filter(|(_, m)| m.kind == Kind::Round && m.component.as_ref() == Some(&recipe.id) && m.step.as_ref() == Some(&step.id))
                .map(|(i, _)| i)
                .collect();
            for round in rounds {
                self.link(end(round), start(to), 0, None, format!("{}.{}: rounds before the next step", recipe.id, step.id));
            }
        }
        if let Some(relief) = &step.wait.relief {
            self.tasks.reliefs.push(ReliefAt {
                link,
                what: relief.what.clone(),
                duration: relief.hands.whole_minutes().max(1),
                then_max: relief.then_max.whole_minutes(),
                component: recipe.id.clone(),
                step: step.id.clone(),
                used: false,
            });
        }
    }

    fn hold_waiting(&mut self, step: &Step, flow: &Flow, pieces: f64, (entry, exit): (usize, usize), to: usize, share: f64) {
        for used in &step.uses {
            let from = match used.during {
                During::Wait => end(exit),
                During::All => start(entry),
                During::Hands | During::Run => continue,
            };
            let Some(machine) = self.scene.site.machines.iter().position(|m| m.id == used.machine) else { continue };
            let amount = loads::amount(used.amount, flow.out_g.min(flow.in_g.max(flow.base_g)) * share, pieces, flow.loads);
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

    fn moment(&self, moment: Moment) -> Result<Minute, PlanError> {
        match moment {
            Moment::FromServe(minutes) => Ok(self.serve + minutes),
            Moment::At(at) => clock::minute(&self.scene.site.zone, at),
        }
    }

    fn around(&mut self, task: &EventTask, serve: usize) -> Result<(), PlanError> {
        let role_id = task.role.clone().unwrap_or_else(|| self.scene.event.role.clone());
        let role = self.scene.site.roles.iter().find(|r| r.id == role_id);
        let n = plates(self.scene.event.covers, self.scene.event.spare);
        let minutes = labour::minutes(&task.hands, role, n, 0.0, 1);
        let (crew, count) = self.crew(&role_id, &task.hands, task.hands.people);
        let duration = on_the_clock(minutes, count);
        let mut t = self.task(task.id.as_str(), task.id.as_str(), duration, crew);
        let zone = &self.scene.site.zone;
        t.earliest = self.moment(task.from)?;
        t.latest = self.moment(task.to)? - duration;
        t.why_earliest = format!("{} from {}", task.what, clock::wall(zone, t.earliest));
        t.why_latest = format!("{} done by {}", task.what, clock::wall(zone, t.latest + duration));
        (t.lean, t.weight) = (Lean::Early, AROUND);
        let _ = serve;
        self.add(
            t,
            Meaning {
                id: task.id.to_string(),
                component: None,
                step: None,
                what: task.what.clone(),
                kind: Kind::Around,
                machines: Vec::new(),
            },
        );
        Ok(())
    }

    /// Tasks a name of the event means: all loads of a step, or one task.
    fn named(&self, name: &str) -> Vec<usize> {
        self.tasks
            .meaning
            .iter()
            .enumerate()
            .filter(|(_, m)| m.kind != Kind::Round && m.kind != Kind::Run)
            .filter(|(_, m)| m.id == name || m.id.strip_prefix(name).is_some_and(|rest| rest.starts_with('#')))
            .map(|(i, _)| i)
            .collect()
    }

    fn within(&mut self) -> Result<(), PlanError> {
        for w in &self.scene.event.within {
            let (from, to) = (
                clock::minute(&self.scene.site.zone, w.from)?,
                clock::minute(&self.scene.site.zone, w.to)?,
            );
            for i in self.named(&w.step) {
                let task = &mut self.tasks.problem.tasks[i];
                if from > task.earliest {
                    task.earliest = from;
                    task.why_earliest = format!("{} belongs into {} to {}", w.step, w.from, w.to);
                }
                if to - task.duration < task.latest {
                    task.latest = to - task.duration;
                    task.why_latest = format!("{} belongs into {} to {}", w.step, w.from, w.to);
                }
            }
        }
        Ok(())
    }

    /// Where each task would best start: as the event says, else counted back from what follows,
    /// else (in a re-plan) where it was.
    fn targets(&mut self, serve: usize, plate: &[(Id, usize)]) -> Result<(), PlanError> {
        let mut target: BTreeMap<usize, Minute> = BTreeMap::new();
        target.insert(serve, self.serve);
        let links = self.tasks.problem.links.clone();
        for (_, at) in plate {
            let stands = links.iter().find(|l| l.from == start(*at) && l.to == start(serve)).and_then(|l| l.max);
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
            let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else { continue };
            let factor = thickness_factor(&recipe.steps);
            for i in (0..recipe.steps.len()).rev() {
                let step = &recipe.steps[i];
                let ends = self.ends.get(&(recipe.id.clone(), i)).cloned().unwrap_or_default();
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
                            let best = step.wait.best.and_then(|b| b.scaled(times).ok()).map_or(min, units::Elapsed::whole_minutes);
                            t - best
                        })
                        .min();
                    if let Some(done) = follows {
                        let tasks = &self.tasks.problem.tasks;
                        let run = if entry == exit { 0 } else { tasks[*exit].duration };
                        let first = done - run - tasks[*entry].duration;
                        target.insert(*entry, first - later_loads * self.turn(*entry));
                    }
                }
            }
        }
        self.follow(&links, &mut target);
        for (i, task) in self.tasks.problem.tasks.iter_mut().enumerate() {
            let meaning = &self.tasks.meaning[i];
            if let (Kind::Hands | Kind::Plating, Some(at)) = (meaning.kind, target.get(&i)) {
                (task.lean, task.weight) = (Lean::Toward(*at), WORK);
            }
            if let (Kind::Around, Some(at)) = (meaning.kind, target.get(&i)) {
                (task.lean, task.weight) = (Lean::Toward(*at), AROUND);
            }
        }
        if let Some(keep) = &self.scene.keep {
            for (i, task) in self.tasks.problem.tasks.iter_mut().enumerate() {
                let meaning = &self.tasks.meaning[i];
                let kept = keep.iter().find(|(id, _)| *id == meaning.id).map(|(_, at)| *at);
                if let (Kind::Hands | Kind::Around, Some(at)) = (meaning.kind, kept) {
                    (task.lean, task.weight) = (Lean::Toward(at), WORK);
                }
            }
        }
        Ok(())
    }
}

impl Builder<'_> {
    /// Minutes from one load to the next on a machine that takes one at a time; 0 where loads do not queue.
    fn turn(&self, entry: usize) -> Minute {
        let problem = &self.tasks.problem;
        problem
            .occupancies
            .iter()
            .filter(|o| o.from == start(entry))
            .filter_map(|o| match problem.machines[o.machine].kind {
                MachineKind::OneLoad { change_over } => {
                    let run = if o.to.task == entry { 0 } else { problem.tasks[o.to.task].duration };
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
        let wished: Vec<usize> = self.scene.event.prefers.iter().flat_map(|p| self.named(&p.step)).collect();
        for component in self.components {
            let Some(recipe) = self.scene.book.recipes.get(&component.recipe) else { continue };
            for (i, step) in recipe.steps.iter().enumerate() {
                let ends = self.ends.get(&(recipe.id.clone(), i)).cloned().unwrap_or_default();
                for (entry, exit) in ends.entry.iter().zip(&ends.exit) {
                    let Some(starts) = target.get(entry).copied() else { continue };
                    let tasks = &self.tasks.problem.tasks;
                    let run = if entry == exit { 0 } else { tasks[*exit].duration };
                    let done = starts + tasks[*entry].duration + run;
                    for link in links.iter().filter(|l| l.from == end(*exit)) {
                        let to = link.to.task;
                        if wished.contains(&to) || self.tasks.meaning[to].component.as_ref() != Some(&recipe.id) {
                            continue;
                        }
                        let Some(at) = target.get(&to).copied() else { continue };
                        let inside = at >= done + link.min && link.max.is_none_or(|max| at <= done + max);
                        if !inside && !(at > done + link.min && step.wait.best.is_none() && link.max.is_none()) {
                            let best = step.wait.best.map_or(link.min, units::Elapsed::whole_minutes).max(link.min);
                            target.insert(to, done + best);
                        }
                    }
                }
            }
        }
    }
}

/// Minutes in hours and minutes.
pub(crate) fn hours(minutes: Minute) -> String {
    units::Elapsed::from_seconds(minutes.max(0) * 60).map_or_else(|_| format!("{minutes} min"), |e| e.to_string())
}
