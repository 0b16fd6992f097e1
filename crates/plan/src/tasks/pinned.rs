//! What happened, put on the clock: pinned where it happened, and nothing else before now.
//!
//! What is over takes nobody's time and no room any more. What is under way keeps its crew from now to its end. A rule
//! between two moments that have both been, or that is already past its most, is told as broken and then lets the plan
//! go on; a rule that can still be kept is kept.

use std::collections::BTreeMap;

use schedule::{Edge, Lean, Link, Minute, Point, Task};

use super::{Kind, Tasks, WORK, end, hours, start};
use crate::happened::{BrokenWait, Record, Seen, State, Told};
use crate::scene::Scene;

/// Weight that keeps rounds and passings where they were, far below any work.
const STAY_PUT: f64 = 0.01;
/// Work written down as longer than this many times its plan, and longer than [`LONG_WORK`], is looked at twice: it may
/// be a wait.
const MANY_TIMES: Minute = 4;
const LONG_WORK: Minute = 3 * 60;

/// One load of a step, or one task without a programme: its hands, its programme.
#[derive(Debug, Clone)]
struct Unit {
    id: String,
    hands: Option<usize>,
    run: Option<usize>,
}

impl Unit {
    fn entry(&self) -> usize {
        self.hands.or(self.run).unwrap_or(0)
    }
    fn exit(&self) -> usize {
        self.run.or(self.hands).unwrap_or(0)
    }
}

/// A task's real hours.
#[derive(Debug, Clone, Copy)]
struct Pin {
    start: Minute,
    end: Minute,
    state: State,
}

/// Puts a record on the tasks of its scene.
pub(crate) fn apply(tasks: Tasks, scene: &Scene, record: &Record) -> Tasks {
    let mut tasks = tasks;
    for r in 0..tasks.reliefs.len() {
        if record.seen.contains_key(&tasks.relief_id(r)) {
            tasks = crate::timeline::with_relief(&tasks, r);
        }
    }
    let mut day = Day {
        keep: scene
            .keep
            .iter()
            .flatten()
            .map(|(id, at)| (id.as_str(), *at))
            .collect(),
        scene,
        record,
        pins: BTreeMap::new(),
        told: Told {
            now: record.now,
            ..Told::default()
        },
        tasks,
    };
    let units = day.units();
    for unit in &units {
        day.seen(unit);
    }
    // What must have been before what was seen; each pass may reveal more.
    while day.taken(&units) | day.passed() {}
    day.rounds(&units);
    day.settle();
    day.tasks
}

struct Day<'s> {
    scene: &'s Scene,
    record: &'s Record,
    keep: BTreeMap<&'s str, Minute>,
    tasks: Tasks,
    pins: BTreeMap<usize, Pin>,
    told: Told,
}

impl Day<'_> {
    fn wall(&self, m: Minute) -> String {
        crate::clock::wall(&self.scene.site.zone, m)
    }

    fn length(&self, task: Option<usize>) -> Minute {
        task.map_or(0, |t| self.tasks.problem.tasks[t].duration)
    }

    fn units(&self) -> Vec<Unit> {
        let meaning = &self.tasks.meaning;
        let by_id: BTreeMap<&str, usize> = meaning
            .iter()
            .enumerate()
            .map(|(i, m)| (m.id.as_str(), i))
            .collect();
        let mut units = Vec::new();
        for (i, m) in meaning.iter().enumerate() {
            match m.kind {
                Kind::Serve | Kind::Round => {}
                Kind::Run => {
                    let whole = m.id.strip_suffix(".run").unwrap_or(&m.id);
                    if !by_id.contains_key(whole) {
                        units.push(Unit {
                            id: whole.to_owned(),
                            hands: None,
                            run: Some(i),
                        });
                    }
                }
                _ => units.push(Unit {
                    id: m.id.clone(),
                    hands: Some(i),
                    run: by_id.get(format!("{}.run", m.id).as_str()).copied(),
                }),
            }
        }
        units
    }

    fn pin(&mut self, task: Option<usize>, start: Minute, end: Minute, state: State, from: &str) {
        let Some(task) = task else { return };
        self.pins.insert(
            task,
            Pin {
                start,
                end: end.max(start),
                state,
            },
        );
        let id = self.tasks.meaning[task].id.clone();
        self.told.states.insert(id.clone(), state);
        if !from.is_empty() {
            self.told.from.insert(id, from.to_owned());
        }
    }

    /// Pins what was seen of a unit; its planned lengths where one end was not.
    fn seen(&mut self, unit: &Unit) {
        let nothing = Seen::default();
        let own = self.record.seen.get(&unit.id).unwrap_or(&nothing).clone();
        let run = self
            .record
            .seen
            .get(&format!("{}.run", unit.id))
            .unwrap_or(&nothing)
            .clone();
        let now = self.record.now;
        let (h, r) = (self.length(unit.hands), self.length(unit.run));
        let begun = own
            .started
            .clone()
            .or_else(|| run.started.clone().filter(|_| unit.hands.is_none()));
        let running = run.started.clone().filter(|_| unit.hands.is_some());
        let over = own.done.clone().or_else(|| run.done.clone());
        let (start, at) = match (&begun, &running, &over) {
            (Some((start, at)), _, _) => (*start, at.clone()),
            (None, Some((run_start, at)), _) => {
                self.told.notes.push(format!(
                    "{}: when it was begun was not written down ({at} has the programme); taken as {} before it",
                    unit.id,
                    hours(h)
                ));
                (run_start - h, at.clone())
            }
            (None, None, Some((done, at))) => {
                // Not before what it follows was over, where that is known.
                let floor = self.floor(unit.entry(), false);
                let start = floor
                    .map_or(done - h - r, |f| (done - h - r).max(f))
                    .min(*done);
                if h + r > 0 {
                    self.told.notes.push(format!(
                        "{}: when it was started was not written down; taken as {}, {} before it was done ({at})",
                        unit.id,
                        self.wall(start),
                        hours(done - start)
                    ));
                }
                (start, at.clone())
            }
            (None, None, None) => return,
        };
        let Some(run_task) = unit.run else {
            if h == 0 {
                // Nothing to do there: it passes when it is started, and its wait ends at the next step.
                if begun.is_some() {
                    self.pin(unit.hands, start, start, State::Done, &at);
                }
                return;
            }
            let (end, state) = match over {
                Some((done, _)) => (done, State::Done),
                None => ((start + h).max(now), State::UnderWay),
            };
            self.pin(unit.hands, start, end, state, &at);
            self.odd_length(&unit.id, end - start, h, state);
            return;
        };
        let loaded = match (&running, &over) {
            _ if unit.hands.is_none() => start,
            (Some((run_start, _)), _) => *run_start,
            (None, Some((done, _))) => (start + h).min(*done),
            (None, None) => start + h,
        };
        if loaded > now || (loaded == now && running.is_none() && over.is_none()) {
            self.pin(unit.hands, start, loaded, State::UnderWay, &at);
            return;
        }
        if running.is_none() && unit.hands.is_some() && over.is_none() {
            self.told.notes.push(format!(
                "{}: when its programme started was not written down; taken as {}, {} after loading began",
                unit.id,
                self.wall(loaded),
                hours(loaded - start)
            ));
        }
        let (end, state) = match over {
            Some((done, _)) => (done, State::Done),
            None => ((loaded + r).max(now), State::UnderWay),
        };
        self.pin(unit.hands, start, loaded, State::Done, &at);
        let run_at = running.map_or(at, |(_, at)| at);
        self.pin(Some(run_task), loaded, end, state, &run_at);
        self.odd_length(&unit.id, end - start, h + r, state);
    }

    fn odd_length(&mut self, id: &str, real: Minute, planned: Minute, state: State) {
        if state == State::UnderWay && real > planned {
            let over = hours(real - planned);
            self.told.notes.push(format!(
                "{id} is still going on, {over} longer than planned; taken as done now"
            ));
        }
        if real > LONG_WORK && real > planned * MANY_TIMES {
            self.told.notes.push(format!(
                "{id}: {} of work is written down, {} was planned; if the lot only stood, write `done` where the work \
                 ended and `started` at the next step",
                hours(real),
                hours(planned)
            ));
        }
    }

    fn point(&self, p: Point) -> Option<Minute> {
        self.pins.get(&p.task).map(|pin| match p.edge {
            Edge::Start => pin.start,
            Edge::End => pin.end,
        })
    }

    /// The latest end of pinned tasks this one follows; with their least waits if asked.
    fn floor(&self, task: usize, with_waits: bool) -> Option<Minute> {
        self.tasks
            .problem
            .links
            .iter()
            .filter(|l| l.to == start(task) && l.from.edge == Edge::End && l.min >= 0)
            .filter_map(|l| {
                self.point(l.from)
                    .map(|at| at + if with_waits { l.min } else { 0 })
            })
            .max()
    }

    /// Units nothing was written of, though what follows them was started or something of them was weighed.
    fn taken(&mut self, units: &[Unit]) -> bool {
        let mut more = false;
        for unit in units.iter().rev() {
            if self.pins.contains_key(&unit.entry()) {
                continue;
            }
            let mut by: Option<(Minute, String)> = self
                .record
                .seen
                .get(&unit.id)
                .and_then(|s| {
                    s.weighed
                        .clone()
                        .map(|w| (w, "weighed"))
                        .or(s.done.clone().map(|d| (d, "done")))
                })
                .map(|((at, place), word)| (at, format!("it was {word} ({place})")));
            for l in &self.tasks.problem.links {
                if l.from == end(unit.exit())
                    && l.to.edge == Edge::Start
                    && l.min >= 0
                    && self.tasks.meaning[l.to.task].kind != Kind::Round
                    && let Some(pin) = self.pins.get(&l.to.task)
                    && by.as_ref().is_none_or(|(at, _)| pin.start - l.min < *at)
                {
                    let follows = &self.tasks.meaning[l.to.task].id;
                    by = Some((pin.start - l.min, format!("{follows} was started")));
                }
            }
            let Some((by, why)) = by else { continue };
            let (h, r) = (self.length(unit.hands), self.length(unit.run));
            let planned = self
                .keep
                .get(self.tasks.meaning[unit.entry()].id.as_str())
                .copied();
            let from = planned.filter(|p| p + h + r <= by).unwrap_or(by - h - r);
            let from = self
                .floor(unit.entry(), true)
                .map_or(from, |f| from.max(f))
                .min(by);
            let loaded = (from + h).min(by);
            if h + r > 0 {
                let wall = self.wall(from);
                self.told.notes.push(format!(
                    "{}: nothing was written down, and {why}; taken as started {wall}",
                    unit.id
                ));
            }
            self.pin(unit.hands, from, loaded, State::Taken, "");
            self.pin(
                unit.run,
                loaded,
                (loaded + r).min(by.max(loaded)),
                State::Taken,
                "",
            );
            more = true;
        }
        more
    }

    /// Passings that follow at once on what is over: nobody does anything there, nobody writes it down.
    fn passed(&mut self) -> bool {
        let mut more = false;
        for l in self.tasks.problem.links.clone() {
            let to = l.to.task;
            let passing = self.tasks.meaning[to].kind == Kind::Passing && l.to.edge == Edge::Start;
            if !passing || l.max != Some(0) || self.pins.contains_key(&to) {
                continue;
            }
            if let Some(at) = self.point(l.from).filter(|at| *at <= self.record.now) {
                self.pin(Some(to), at, at, State::Taken, "");
                more = true;
            }
        }
        more
    }

    /// Rounds that were written down, and those whose time is past without it.
    fn rounds(&mut self, units: &[Unit]) {
        let now = self.record.now;
        let mut missing: BTreeMap<String, usize> = BTreeMap::new();
        for (i, m) in self.tasks.meaning.clone().iter().enumerate() {
            if m.kind != Kind::Round {
                continue;
            }
            let length = self.length(Some(i));
            if let Some(s) = self.record.seen.get(&m.id) {
                let (from, to, at) = match (&s.started, &s.done) {
                    (Some((a, at)), Some((b, _))) => (*a, *b, at),
                    (Some((a, at)), None) => (*a, a + length, at),
                    (None, Some((b, at))) => (b - length, *b, at),
                    (None, None) => continue,
                };
                let state = if to > now {
                    State::UnderWay
                } else {
                    State::Done
                };
                self.pin(Some(i), from, to, state, &at.clone());
                continue;
            }
            let whole = m.id.split(".round-").next().unwrap_or(&m.id).to_owned();
            // With a programme it is past when the step is done, without one when the next step was started.
            let over = units.iter().find(|u| u.id == whole).is_some_and(|u| {
                let done = self
                    .pins
                    .get(&u.exit())
                    .filter(|p| p.state != State::UnderWay);
                done.is_some()
                    && (u.run.is_some()
                        || self
                            .tasks
                            .problem
                            .links
                            .iter()
                            .any(|l| l.from == end(i) && self.pins.contains_key(&l.to.task)))
            });
            let window = self.tasks.problem.links.iter().find_map(|l| {
                let before_end = if l.to.edge == Edge::End { length } else { 0 };
                (l.to.task == i && l.from.task != i)
                    .then(|| self.point(l.from))
                    .flatten()
                    .map(|a| {
                        (
                            a + l.min - before_end,
                            l.max.map_or(Minute::MAX, |max| a + max - before_end),
                        )
                    })
            });
            let Some((low, high)) = window else { continue };
            if !over && (high >= now || high == Minute::MAX) {
                continue;
            }
            let kept = self.keep.get(m.id.as_str()).copied().unwrap_or(low);
            let at = kept
                .clamp(low, high.max(low))
                .min(now - length)
                .max(low.min(now - length));
            self.pin(Some(i), at, at + length, State::NotWrittenDown, "");
            *missing.entry(whole).or_default() += 1;
        }
        for (step, n) in missing {
            let rounds = if n == 1 {
                "1 round was"
            } else {
                &format!("{n} rounds were")
            };
            self.told.notes.push(format!(
                "{step}: {rounds} not written down; what nobody read shows nothing"
            ));
        }
    }

    /// Pins into bounds, rules told and let go, past holds taken out, crews kept only for what is under way.
    fn settle(&mut self) {
        let now = self.record.now;
        for i in 0..self.tasks.problem.tasks.len() {
            match self.pins.get(&i).copied() {
                Some(pin) => self.hold_at(i, pin),
                None => self.not_before_now(i),
            }
        }
        for l in 0..self.tasks.problem.links.len() {
            self.let_go(l);
        }
        let links = &self.tasks.problem.links;
        let pins = &self.pins;
        self.tasks.reliefs.retain(|r| {
            let link = &links[r.link];
            r.used || (link.max.is_some() && !pins.contains_key(&link.to.task))
        });
        let (past, still): (Vec<_>, Vec<_>) = std::mem::take(&mut self.tasks.problem.occupancies)
            .into_iter()
            .partition(|o| {
                self.point(o.from).is_some() && self.point(o.to).is_some_and(|to| to <= now)
            });
        self.tasks.problem.occupancies = still;
        self.tasks.past_holds = past;
        self.tasks.now = Some(now);
        self.tasks.told = Some(std::mem::take(&mut self.told));
    }

    fn hold_at(&mut self, i: usize, pin: Pin) {
        let now = self.record.now;
        let id = self.tasks.meaning[i].id.clone();
        let written = self
            .told
            .from
            .get(&id)
            .map_or_else(String::new, |at| format!(" ({at})"));
        let why = format!("{id} was started {}{written}", self.wall(pin.start));
        let task = &mut self.tasks.problem.tasks[i];
        let booked = (task.earliest, task.latest);
        let (before, after) = (task.why_earliest.clone(), task.why_latest.clone());
        (task.earliest, task.latest, task.duration) = (pin.start, pin.start, pin.end - pin.start);
        (task.why_earliest, task.why_latest) = (why.clone(), why);
        (task.lean, task.weight) = (Lean::Indifferent, 0.0);
        let crew = task.crew.take();
        let crew =
            crew.filter(|crew| pin.state != State::UnderWay || self.there(crew, pin.end, &id));
        if pin.state == State::UnderWay && pin.end > now && crew.is_some() {
            // Whoever is at it stays at it: the crew is bound from now on, and nobody asks about the past.
            let rest = Task {
                duration: pin.end - now,
                crew,
                earliest: now,
                latest: now,
                ..self.tasks.problem.tasks[i].clone()
            };
            let meaning = self.tasks.meaning[i].clone();
            self.tasks.problem.tasks.push(rest);
            self.tasks.meaning.push(meaning);
            self.tasks
                .rests
                .push((self.tasks.problem.tasks.len() - 1, i));
        }
        if pin.state == State::Done || pin.state == State::UnderWay {
            let odd = [
                (pin.start < booked.0, before),
                (pin.start > booked.1, after),
            ];
            for (_, rule) in odd.into_iter().filter(|(so, _)| *so) {
                let wall = self.wall(pin.start);
                self.told
                    .notes
                    .push(format!("{id} was started {wall}{written}; {rule}"));
            }
        }
    }

    /// Whether those at it can be told from the hours: who works outside them is there all the same, and bound by none.
    fn there(&mut self, crew: &schedule::Crew, to: Minute, id: &str) -> bool {
        let from = self.record.now;
        let problem = &self.tasks.problem;
        let fit = problem
            .people
            .iter()
            .filter(|p| crew.skill.as_ref().is_none_or(|s| p.skills.contains(s)));
        let hours = |p: &schedule::Person| {
            let all = p.available.iter().chain(&p.overtime).copied().collect();
            crate::clock::merged(all)
                .iter()
                .any(|h| h.start <= from && to <= h.end)
        };
        let bound: usize = self
            .tasks
            .rests
            .iter()
            .filter_map(|(rest, _)| problem.tasks[*rest].crew.as_ref())
            .map(|c| c.count)
            .sum();
        let enough = fit.filter(|p| hours(p)).count() >= crew.count + bound;
        if !enough && to > from {
            self.told.notes.push(format!(
                "{id} is under way, and by their hours too few are there for it until {}; nobody is counted as bound by it",
                self.wall(to)
            ));
        }
        enough
    }

    fn not_before_now(&mut self, i: usize) {
        let now = self.record.now;
        let meaning = &self.tasks.meaning[i];
        if meaning.kind == Kind::Serve || self.tasks.rests.iter().any(|(rest, _)| *rest == i) {
            return;
        }
        let (id, kind) = (meaning.id.clone(), meaning.kind);
        let kept = self.keep.get(id.as_str()).copied();
        let served_when_first = self.scene.event.serve == self.scene.served_first;
        let why = format!("it is {} now, and {id} was not started", self.wall(now));
        let task = &mut self.tasks.problem.tasks[i];
        if now > task.earliest {
            (task.earliest, task.why_earliest) = (now, why);
        }
        let late = (task.latest < task.earliest).then(|| (task.latest, task.why_latest.clone()));
        if late.is_some() {
            task.latest = self.tasks.last - task.duration;
        }
        match (kind, kept) {
            (Kind::Plating, Some(at)) if served_when_first => {
                (task.lean, task.weight) = (Lean::Toward(at), WORK);
            }
            (Kind::Round | Kind::Passing, Some(at)) => {
                (task.lean, task.weight) = (Lean::Toward(at), STAY_PUT);
            }
            _ => {}
        }
        if let (Some((latest, why)), Some(component)) = (late, self.told_at(i)) {
            self.told.broken.push(BrokenWait {
                component,
                from: id.clone(),
                to: id,
                why,
                got: now - latest,
                limit: 0,
                least: false,
                still_standing: true,
                written_down: true,
            });
        }
    }

    /// Where a broken rule about a task is told: at its component, its dish, or itself.
    fn told_at(&self, task: usize) -> Option<kitchen::Id> {
        let m = &self.tasks.meaning[task];
        m.component
            .clone()
            .or_else(|| kitchen::Id::new(m.id.split('.').next().unwrap_or(&m.id)))
    }

    /// A rule that what happened has broken is told, and then no longer asked for.
    fn let_go(&mut self, l: usize) {
        let Link {
            from,
            to,
            min,
            max,
            why,
        } = self.tasks.problem.links[l].clone();
        let spec = |p: Point| &self.tasks.problem.tasks[p.task];
        let span = |p: Point| {
            let add = if p.edge == Edge::End {
                spec(p).duration
            } else {
                0
            };
            (spec(p).earliest + add, spec(p).latest + add)
        };
        let (from_low, from_high) = span(from);
        let (to_low, to_high) = span(to);
        let pinned = |p: Point| self.pins.contains_key(&p.task);
        let (short, long) = (
            to_high - from_low < min,
            max.is_some_and(|max| to_low - from_high > max),
        );
        if !(short || long) || !(pinned(from) || pinned(to) || short) {
            return;
        }
        let both = pinned(from) && pinned(to);
        let link = &mut self.tasks.problem.links[l];
        if short {
            link.min = to_high - from_high;
            if both {
                link.min = to_low - from_high;
            }
        }
        if long {
            link.max = both.then_some(to_low - from_high);
        }
        let (a, b) = (&self.tasks.meaning[from.task], &self.tasks.meaning[to.task]);
        if a.kind == Kind::Round || b.kind == Kind::Round || a.id == b.id {
            return;
        }
        let at = if a.component.is_some() {
            from.task
        } else {
            to.task
        };
        let written = |p: Point| {
            !pinned(p)
                || self
                    .pins
                    .get(&p.task)
                    .is_some_and(|pin| matches!(pin.state, State::Done | State::UnderWay))
        };
        let Some(component) = self.told_at(at) else {
            return;
        };
        self.told.broken.push(BrokenWait {
            component,
            from: a.id.clone(),
            to: b.id.clone(),
            why,
            got: to_low - from_high,
            limit: if short { min } else { max.unwrap_or(0) },
            least: short,
            still_standing: !pinned(to),
            written_down: written(from) && written(to),
        });
    }
}
