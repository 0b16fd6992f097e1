//! What happened, put on the clock: pinned where it happened, and nothing else before now.
//!
//! Here the real hours are worked out: those seen, those that must have been, and the rounds between. What they do to the
//! clock is in `let_go`: what is over takes nobody's time and no room any more, what is under way keeps its crew from now
//! to its end, a rule between two moments that have both been, or that is already past its most, is told as broken and
//! then lets the plan go on; a rule that can still be kept is kept.

use std::collections::BTreeMap;

use schedule::{Edge, Minute, Point};

use super::{Kind, Tasks, end, hours, start};
use crate::happened::{Record, Seen, State, Told};
use crate::scene::Scene;

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
pub(super) struct Pin {
    pub(super) start: Minute,
    pub(super) end: Minute,
    pub(super) state: State,
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

/// The tasks of a scene with what happened, while it is worked out.
pub(super) struct Day<'s> {
    pub(super) scene: &'s Scene,
    pub(super) record: &'s Record,
    pub(super) keep: BTreeMap<&'s str, Minute>,
    pub(super) tasks: Tasks,
    pub(super) pins: BTreeMap<usize, Pin>,
    pub(super) told: Told,
}

impl Day<'_> {
    pub(super) fn wall(&self, m: Minute) -> String {
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

    pub(super) fn point(&self, p: Point) -> Option<Minute> {
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
}
