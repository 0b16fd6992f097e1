//! What happened, made into bounds: pins hold, nothing else comes before now, and a rule that is already broken is told
//! and then let go.

use schedule::{Edge, Lean, Link, Minute, Point, Task};

use super::Kind;
use super::pinned::{Day, Pin};
use crate::happened::{BrokenWait, State};

/// Weight that keeps rounds and passings where they were, far below any work.
const STAY_PUT: f64 = 0.01;

impl Day<'_> {
    /// Pins into bounds, rules told and let go, past holds taken out, crews kept only for what is under way.
    pub(super) fn settle(&mut self) {
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
        let best_hour = self.scene.site.clock.best_hour;
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
                (task.lean, task.weight) = (Lean::Toward(at), best_hour);
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
