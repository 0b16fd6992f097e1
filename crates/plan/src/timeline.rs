//! The clock of a plan: solved, with the acts that buy time where they are worth it.

use kitchen::Id;
use schedule::{
    Crew, Edge, Effort, Fact, Lean, Link, Minute, Outcome, Point, Progress, Schedule, Task,
};

use crate::clock;
use crate::demand::Component;
use crate::problem::PlanError;
use crate::reasons::{out_of_order, reasons};
use crate::scene::Scene;
use crate::tasks::{self, Kind, Meaning, Tasks};

/// How the search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// Nothing better exists.
    Proved,
    /// Valid; better may exist.
    Feasible,
    /// Proved impossible.
    Impossible,
    /// The search found none and proved nothing.
    NotFound,
}

impl Status {
    /// The word of the contract.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Proved => "proved",
            Self::Feasible => "feasible",
            Self::Impossible => "impossible",
            Self::NotFound => "not found",
        }
    }
}

/// One task with its hours.
#[derive(Debug, Clone, PartialEq)]
pub struct Timed {
    /// What it stands for.
    pub meaning: Meaning,
    /// Start, minutes.
    pub start: Minute,
    /// End, minutes.
    pub end: Minute,
    /// Names of the people.
    pub people: Vec<String>,
    /// Earliest start, given what came before it.
    pub earliest: Minute,
    /// Latest start, given what came before it.
    pub latest: Minute,
    /// How much later it may start with everything after it where it is.
    pub slack: Minute,
}

/// The clock of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Timeline {
    /// How the search ended.
    pub status: Status,
    /// Weighted minutes away from the wished hours.
    pub value: f64,
    /// No plan can have less.
    pub bound: f64,
    /// Tasks by start.
    pub tasks: Vec<Timed>,
    /// Why it is impossible, or what was tightest.
    pub clash: Vec<String>,
    /// How long lots stand between steps, where it matters.
    pub waits: Vec<Stood>,
    /// What is in which machine or cold place, by start.
    pub held: Vec<Held>,
    /// What holds each task where it is, by its id.
    pub behind: std::collections::BTreeMap<String, crate::causes::Held>,
    /// Groups that stay beyond their shift: group, shift end, needed until (rounded up to half an hour).
    pub stays: Vec<(Id, Minute, Minute)>,
}

/// Room taken in a machine or a cold place.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// The machine.
    pub machine: Id,
    /// The task it belongs to: that of the step, or the first of it.
    pub task: String,
    /// Thousandths of the machine's unit.
    pub amount: i64,
    /// In.
    pub from: Minute,
    /// Out.
    pub to: Minute,
}

/// How long a lot stood between two steps, in elapsed time.
#[derive(Debug, Clone, PartialEq)]
pub struct Stood {
    /// From the end of this task.
    pub from: String,
    /// To the start of this one.
    pub to: String,
    /// Elapsed minutes.
    pub minutes: Minute,
    /// Not less.
    pub min: Minute,
    /// Not more.
    pub max: Minute,
    /// What the clocks on the wall say more than has elapsed (minutes), when they were changed between.
    pub clock_change: Minute,
}

/// Waits shorter than this are not worth a line.
const LONG_WAIT: Minute = 12 * 60;

/// Half hours are what a shift is lengthened by.
const STAY_STEP: Minute = 30;
/// Price of an extra act beyond its minutes, so that one is not put in to save a minute or two.
const ACT: f64 = 5.0;
/// Acts tried for one plan.
const MOST_ACTS: usize = 12;

/// A problem with its schedule: what the checker checks.
pub(crate) struct Solved {
    pub(crate) tasks: Tasks,
    pub(crate) schedule: Option<Schedule>,
    pub(crate) timeline: Timeline,
}

/// Solves the clock of a scene.
pub(crate) fn solve(
    scene: &Scene,
    components: &[Component],
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Solved, PlanError> {
    let plain = tasks::build(scene, components)?;
    if !out_of_order(scene, &plain).is_empty() {
        // No search can find room in a machine that does not run.
        let timeline = timeline(
            scene,
            &plain,
            &Outcome::Impossible(schedule::Clash::default()),
        );
        return Ok(Solved {
            tasks: plain,
            schedule: None,
            timeline,
        });
    }
    let (tasks, mut outcome) = with_acts(run(plain, effort, watch)?, effort, watch)?;
    if let Outcome::Found(s) = &mut outcome
        && s.value > 1e-9
        && !tasks.reliefs.is_empty()
    {
        // Only some sets of acts were tried: nothing better may exist, but that is not proved.
        s.proved = false;
    }
    let timeline = timeline(scene, &tasks, &outcome);
    Ok(Solved {
        schedule: match outcome {
            Outcome::Found(s) => Some(s),
            _ => None,
        },
        tasks,
        timeline,
    })
}

/// Puts in the acts that buy time, where that disturbs less than doing without.
///
/// All that might help are put in at once; those whose wait then keeps its old maximum were not needed and are
/// taken out again, until the set holds. So the number of searches does not grow with the number of acts.
fn with_acts(
    plain: (Tasks, Outcome),
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<(Tasks, Outcome), PlanError> {
    let bare = plain.0.clone();
    let mut acts: Vec<usize> = (0..bare.reliefs.len())
        .filter(|r| found(&plain.1).is_none() || worth_trying(&plain, *r))
        .take(MOST_ACTS)
        .collect();
    #[allow(clippy::cast_precision_loss)]
    let price = |acts: &[usize]| -> f64 {
        acts.iter()
            .map(|r| ACT + bare.reliefs[*r].duration as f64)
            .sum()
    };
    let mut best = plain;
    let mut paid = 0.0;
    while !acts.is_empty() {
        let with = acts
            .iter()
            .fold(bare.clone(), |tasks, r| with_relief(&tasks, *r));
        let outcome = run(with, effort, watch)?;
        let Some(new) = found(&outcome.1) else {
            // Without the acts it may be proved impossible; with them it is only not found.
            if matches!(
                (&best.1, &outcome.1),
                (Outcome::Impossible(_), Outcome::NotFound(_))
            ) {
                best = outcome;
            }
            break;
        };
        let problem = &outcome.0.problem;
        let at = |p: Point| match p.edge {
            Edge::Start => new.start[p.task],
            Edge::End => new.start[p.task] + problem.tasks[p.task].duration,
        };
        let needed: Vec<usize> = acts
            .iter()
            .copied()
            .filter(|r| {
                let link = bare.reliefs[*r].link;
                let stood = at(problem.links[link].to) - at(problem.links[link].from);
                bare.problem.links[link].max.is_some_and(|max| stood > max)
            })
            .collect();
        let cost = price(&acts);
        if found(&best.1).is_none_or(|old| new.value + cost < old.value + paid) {
            best = outcome;
            paid = cost;
        }
        if needed.len() == acts.len() {
            break;
        }
        acts = needed;
    }
    Ok(best)
}

fn found(outcome: &Outcome) -> Option<&Schedule> {
    match outcome {
        Outcome::Found(s) => Some(s),
        _ => None,
    }
}

/// A relief can only help where the task before the wait is away from its wished start.
fn worth_trying((tasks, outcome): &(Tasks, Outcome), relief: usize) -> bool {
    let Some(schedule) = found(outcome) else {
        return true;
    };
    let link = &tasks.problem.links[tasks.reliefs[relief].link];
    let away = |t: usize| match tasks.problem.tasks[t].lean {
        Lean::Toward(at) => schedule.start[t] != at,
        _ => false,
    };
    away(link.from.task) || away(link.to.task)
}

fn run(
    tasks: Tasks,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<(Tasks, Outcome), PlanError> {
    let outcome = schedule::solve(&tasks.problem, effort, watch)
        .map_err(|m| PlanError::Malformed { why: m.to_string() })?;
    Ok((tasks, outcome))
}

/// The problem with one more act: it is done before the wait ends, and the wait starts anew at it.
pub(crate) fn with_relief(tasks: &Tasks, r: usize) -> Tasks {
    let mut tasks = tasks.clone();
    let relief = tasks.reliefs[r].clone();
    if relief.used {
        return tasks;
    }
    tasks.reliefs[r].used = true;
    let link = tasks.problem.links[relief.link].clone();
    let old_max = link.max.unwrap_or(0);
    let before = &tasks.problem.tasks[link.from.task];
    let crew = Some(Crew {
        count: 1,
        skill: Some(relief.role.to_string()),
        min_count: 1,
    });
    let id = tasks.relief_id(r);
    let task = Task {
        id: id.clone(),
        what: relief.what.clone(),
        duration: relief.duration,
        crew,
        lean: Lean::Late,
        weight: 0.01,
        ..before.clone()
    };
    let mut task = task;
    if let Some(now) = tasks.now {
        task.earliest = task.earliest.max(now);
    }
    task.latest = tasks.problem.tasks[link.to.task].latest;
    tasks.problem.tasks.push(task);
    tasks.meaning.push(Meaning {
        id,
        component: Some(relief.component.clone()),
        step: Some(relief.step.clone()),
        what: relief.what.clone(),
        kind: Kind::Relief,
        machines: Vec::new(),
    });
    let at = tasks.problem.tasks.len() - 1;
    let point = |edge| Point { task: at, edge };
    tasks.problem.links[relief.link].max = Some(old_max + relief.then_max);
    for (from, to, min, max) in [
        (link.from, point(Edge::Start), 0, None),
        (link.from, point(Edge::End), 0, Some(old_max)),
        (point(Edge::Start), link.to, 0, Some(relief.then_max)),
        (point(Edge::End), link.to, 0, None),
    ] {
        tasks.problem.links.push(Link {
            from,
            to,
            min,
            max,
            why: relief.what.clone(),
        });
    }
    tasks
}

fn timeline(scene: &Scene, tasks: &Tasks, outcome: &Outcome) -> Timeline {
    let sentences = |facts: &[Fact]| reasons(scene, tasks, facts);
    let (status, clash) = match outcome {
        Outcome::Found(s) if s.proved => (Status::Proved, Vec::new()),
        Outcome::Found(_) => (Status::Feasible, Vec::new()),
        Outcome::Impossible(c) => (Status::Impossible, sentences(&c.facts)),
        Outcome::NotFound(c) => (Status::NotFound, sentences(&c.facts)),
    };
    let mut timeline = Timeline {
        status,
        value: 0.0,
        bound: 0.0,
        tasks: Vec::new(),
        clash,
        waits: Vec::new(),
        held: Vec::new(),
        behind: std::collections::BTreeMap::new(),
        stays: Vec::new(),
    };
    let Some(s) = found(outcome) else {
        return timeline;
    };
    (timeline.value, timeline.bound) = (s.value, s.bound);
    let problem = &tasks.problem;
    let at = |p: Point| match p.edge {
        Edge::Start => s.start[p.task],
        Edge::End => s.start[p.task] + problem.tasks[p.task].duration,
    };
    for (i, task) in problem.tasks.iter().enumerate() {
        if tasks.rests.iter().any(|(rest, _)| *rest == i) {
            continue;
        }
        // The lags' own window, narrowed by where the tasks before it really are.
        let (mut earliest, mut latest) = (s.earliest[i], s.latest[i]);
        for link in problem
            .links
            .iter()
            .filter(|l| l.to.task == i && l.from.task != i)
        {
            let shift = if link.to.edge == Edge::End {
                task.duration
            } else {
                0
            };
            earliest = earliest.max(at(link.from) + link.min - shift);
            if let Some(max) = link.max {
                latest = latest.min(at(link.from) + max - shift);
            }
        }
        timeline.tasks.push(Timed {
            meaning: tasks.meaning[i].clone(),
            start: s.start[i],
            end: s.start[i] + task.duration,
            people: people(scene, tasks, s, i),
            earliest,
            latest,
            slack: s.free.get(i).map_or(0, |f| f.1),
        });
    }
    timeline.waits = waits(scene, tasks, s);
    timeline.held = problem
        .occupancies
        .iter()
        .chain(&tasks.past_holds)
        .filter_map(|o| {
            Some(Held {
                machine: scene.site.machines.get(o.machine)?.id.clone(),
                task: o.what.clone(),
                amount: o.amount,
                from: at(o.from),
                to: at(o.to),
            })
        })
        .filter(|h| h.from < h.to)
        .collect();
    timeline
        .held
        .sort_by(|a, b| (a.from, a.to, &a.task).cmp(&(b.from, b.to, &b.task)));
    timeline.stays = stays(tasks, s);
    timeline.behind = crate::causes::all(tasks, s);
    timeline
        .tasks
        .sort_by(|a, b| (a.start, a.end, &a.meaning.id).cmp(&(b.start, b.end, &b.meaning.id)));
    timeline
}

/// Who is at a task. For what is over, who was planned for it: a record says when, not who.
fn people(scene: &Scene, tasks: &Tasks, s: &Schedule, i: usize) -> Vec<String> {
    let rest = tasks.rests.iter().find(|(_, of)| *of == i);
    let over = tasks
        .told
        .as_ref()
        .is_some_and(|t| t.states.contains_key(&tasks.meaning[i].id));
    if over && rest.is_none() {
        let kept = scene
            .kept_people
            .iter()
            .find(|(id, _)| *id == tasks.meaning[i].id);
        return kept.map(|(_, people)| people.clone()).unwrap_or_default();
    }
    s.people[rest.map_or(i, |(rest, _)| *rest)]
        .iter()
        .map(|p| tasks.problem.people[*p].id.clone())
        .collect()
}

/// Long waits of a component's lots, and every wait over a clock change.
fn waits(scene: &Scene, tasks: &Tasks, s: &Schedule) -> Vec<Stood> {
    let problem = &tasks.problem;
    let zone = &scene.site.zone;
    let at = |p: Point| match p.edge {
        Edge::Start => s.start[p.task],
        Edge::End => s.start[p.task] + problem.tasks[p.task].duration,
    };
    // What the wall shows, as minutes, less the elapsed minute.
    let offset =
        |m: Minute| clock::zoned(zone, m).map_or(0, |z| i64::from(z.offset().seconds()) / 60);
    let mut list: Vec<Stood> = Vec::new();
    for link in &problem.links {
        let (from, to) = (&tasks.meaning[link.from.task], &tasks.meaning[link.to.task]);
        let Some(max) = link
            .max
            .filter(|_| link.from.edge == Edge::End && link.to.edge == Edge::Start)
        else {
            continue;
        };
        let lot = from.component.is_some()
            && !matches!(to.kind, Kind::Round | Kind::Relief)
            && !matches!(from.kind, Kind::Round | Kind::Relief);
        let (start, end) = (at(link.from), at(link.to));
        let clock_change = offset(end) - offset(start);
        if lot && (end - start >= LONG_WAIT || clock_change != 0) {
            list.push(Stood {
                from: from.id.clone(),
                to: to.id.clone(),
                minutes: end - start,
                min: link.min,
                max,
                clock_change,
            });
        }
    }
    list.sort_by(|a, b| (&a.from, &a.to).cmp(&(&b.from, &b.to)));
    list.dedup();
    list
}

/// Who stays beyond the shift, until when.
fn stays(tasks: &Tasks, s: &Schedule) -> Vec<(Id, Minute, Minute)> {
    let mut stays: Vec<(Id, Minute, Minute)> = Vec::new();
    for (i, people) in s.people.iter().enumerate() {
        let done = s.start[i] + tasks.problem.tasks[i].duration;
        for p in people {
            let person = &tasks.problem.people[*p];
            // Work inside another shift of the day is no staying on.
            if person
                .available
                .iter()
                .any(|a| a.start <= s.start[i] && done <= a.end)
            {
                continue;
            }
            let Some(extra) = person
                .overtime
                .iter()
                .find(|o| o.start < done && done <= o.end)
            else {
                continue;
            };
            let until =
                extra.start + ((done - extra.start + STAY_STEP - 1) / STAY_STEP) * STAY_STEP;
            let group = &tasks.groups[*p];
            match stays
                .iter_mut()
                .find(|(g, from, _)| g == group && *from == extra.start)
            {
                Some((_, _, to)) => *to = (*to).max(until.min(extra.end)),
                None => stays.push((group.clone(), extra.start, until.min(extra.end))),
            }
        }
    }
    stays
}

/// Work the clock put in beyond the recipe's steps.
pub(crate) fn extra_work(scene: &Scene, solved: &Solved) -> Vec<crate::labour::Work> {
    solved
        .timeline
        .tasks
        .iter()
        .filter(|t| t.meaning.kind == Kind::Relief)
        .map(|t| {
            #[allow(clippy::cast_precision_loss)]
            let minutes = (t.end - t.start) as f64;
            crate::labour::Work {
                id: t.meaning.id.clone(),
                what: t.meaning.what.clone(),
                role: scene.event.role.clone(),
                minutes,
                rounds: 0.0,
                formula: format!("{minutes} min, put in by the clock to lengthen a wait"),
            }
        })
        .collect()
}

/// The wall hour of a minute at the scene's site.
pub(crate) fn wall(scene: &Scene, minute: Minute) -> String {
    clock::wall(&scene.site.zone, minute)
}
