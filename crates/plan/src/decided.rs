//! What decided a wait: why a lot did not come out at its best hour.
//!
//! The found clock is tried with the next step a minute nearer to its best. What must move along moves along: a step that
//! follows at once, a next step whose least wait would be cut short. The independent checker then says which rule stops it:
//! a window, opening hours, people, a machine. Where nothing does, only wishes are left, and the dearest is named. So the
//! answer is about one step from this clock; a clock that is altogether different is not looked at.

use schedule::check::{Violation, check};
use schedule::{Edge, Lean, Minute, Point, Problem, Schedule};

use crate::clock;
use crate::scene::Scene;
use crate::tasks::Tasks;

/// Why the task `to` does not start `towards` (a minute later, or −1: earlier), in a few words.
pub(crate) fn decided(
    scene: &Scene,
    tasks: &Tasks,
    s: &Schedule,
    to: usize,
    towards: Minute,
) -> Option<String> {
    let problem = &tasks.problem;
    let mut moved = vec![false; problem.tasks.len()];
    *moved.get_mut(to)? = true;
    let mut start = s.start.clone();
    start[to] += towards;
    // What a lag drags along; the task moved away from is held, it is what the wait counts from.
    loop {
        let mut dragged = None;
        for link in &problem.links {
            let between = moment(problem, &start, link.to) - moment(problem, &start, link.from);
            if between >= link.min && link.max.is_none_or(|max| between <= max) {
                continue;
            }
            let other = match (moved[link.from.task], moved[link.to.task]) {
                (true, false) => link.to.task,
                (false, true) => link.from.task,
                _ => continue,
            };
            // Only what follows is dragged: a step before that would have to move is a window that ends.
            let after = s.start[other] >= s.start[to] || link.max == Some(link.min);
            if after {
                dragged = Some(other);
                break;
            }
            return Some(link.why.clone());
        }
        let Some(task) = dragged else { break };
        moved[task] = true;
        start[task] += towards;
    }
    if let Some(stop) = stopped(scene, tasks, s, &start, &moved) {
        return Some(stop);
    }
    wish(scene, tasks, s, to, (&start, &moved))
}

fn moment(problem: &Problem, start: &[Minute], p: Point) -> Minute {
    match p.edge {
        Edge::Start => start[p.task],
        Edge::End => start[p.task] + problem.tasks[p.task].duration,
    }
}

/// The first rule the moved clock breaks, in words.
fn stopped(
    scene: &Scene,
    tasks: &Tasks,
    s: &Schedule,
    start: &[Minute],
    moved: &[bool],
) -> Option<String> {
    let problem = &tasks.problem;
    let people = seated(problem, s, start, moved);
    let id = |task: usize| tasks.meaning[task].id.clone();
    let wall = |m: Minute| clock::wall(&scene.site.zone, m);
    for broken in check(problem, start, &people) {
        return Some(match broken {
            Violation::TooEarly { task, .. } => problem.tasks[task].why_earliest.clone(),
            Violation::TooLate { task, .. } => problem.tasks[task].why_latest.clone(),
            Violation::LagTooShort { link, .. } | Violation::LagTooLong { link, .. } => {
                problem.links[link].why.clone()
            }
            Violation::NotAtWork { task, .. } => format!(
                "nobody fitting is at work for {} at {}",
                id(task),
                wall(start[task])
            ),
            Violation::PersonInTwoPlaces { first, second, .. } => {
                let (mover, other) = if moved[first] {
                    (first, second)
                } else {
                    (second, first)
                };
                format!("the people for {} are busy with {}", id(mover), id(other))
            }
            Violation::OverCapacity { machine, at, .. } => {
                format!("{} is full at {}", problem.machines[machine].id, wall(at))
            }
            Violation::LoadsTooClose {
                machine,
                first,
                second,
            } => {
                let what = |o: usize| problem.occupancies[o].what.clone();
                let other = if moved[problem.occupancies[first].from.task] {
                    second
                } else {
                    first
                };
                format!(
                    "{} is busy with {}",
                    problem.machines[machine].id,
                    what(other)
                )
            }
            Violation::MachineUnavailable { machine, .. } => {
                format!("{} is not available then", problem.machines[machine].id)
            }
            // The others cannot come of moving a start.
            _ => continue,
        });
    }
    None
}

/// Crews for the moved tasks: those they had, or others who fit and are free; the old ones where nobody is.
fn seated(problem: &Problem, s: &Schedule, start: &[Minute], moved: &[bool]) -> Vec<Vec<usize>> {
    let mut people = s.people.clone();
    let span = |t: usize| (start[t], start[t] + problem.tasks[t].duration);
    for task in (0..problem.tasks.len()).filter(|t| moved[*t]) {
        let Some(crew) = &problem.tasks[task].crew else {
            continue;
        };
        let (from, to) = span(task);
        let free = |person: usize| {
            let who = &problem.people[person];
            let fits = crew.skill.as_ref().is_none_or(|s| who.skills.contains(s));
            let mut hours: Vec<_> = who.available.iter().chain(&who.overtime).copied().collect();
            hours.sort_by_key(|h| (h.start, h.end));
            let mut reached = from;
            for h in hours {
                if h.start <= reached {
                    reached = reached.max(h.end);
                }
            }
            let busy = (0..people.len()).any(|other| {
                let (a, b) = span(other);
                other != task && people[other].contains(&person) && a.max(from) < b.min(to)
            });
            fits && reached >= to
                && who
                    .available
                    .iter()
                    .chain(&who.overtime)
                    .any(|h| h.start <= from && from < h.end)
                && !busy
        };
        let kept: Vec<usize> = people[task].iter().copied().filter(|p| free(*p)).collect();
        let others = (0..problem.people.len()).filter(|p| !kept.contains(p) && free(*p));
        let mut all: Vec<usize> = kept
            .iter()
            .copied()
            .chain(others)
            .take(crew.count)
            .collect();
        all.sort_unstable();
        if all.len() == crew.count {
            people[task] = all;
        }
    }
    people
}

/// The wish that would be left further behind: the dearest, the step's own before others, the event's before others.
fn wish(
    scene: &Scene,
    tasks: &Tasks,
    s: &Schedule,
    to: usize,
    (start, moved): (&[Minute], &[bool]),
) -> Option<String> {
    let problem = &tasks.problem;
    let name = |t: usize| {
        let id = tasks.meaning[t].id.as_str();
        id.split('#').next().unwrap_or(id)
    };
    let of_event = |t: usize| scene.event.prefers.iter().any(|p| p.step == name(t));
    let dearer = |t: usize| match problem.tasks[t].lean {
        Lean::Toward(at) => {
            let (was, is) = ((s.start[t] - at).abs(), (start[t] - at).abs());
            (is > was).then_some((t, at))
        }
        _ => None,
    };
    let (task, at) = (0..problem.tasks.len())
        .filter(|t| moved[*t])
        .filter_map(dearer)
        .max_by(|(a, _), (b, _)| {
            let weight = |t: usize| problem.tasks[t].weight;
            let order = weight(*a).total_cmp(&weight(*b));
            let order = order.then((*a == to).cmp(&(*b == to)));
            let order = order.then(of_event(*a).cmp(&of_event(*b)));
            order.then(s.start[*b].cmp(&s.start[*a]))
        })?;
    let id = &tasks.meaning[task].id;
    let wall = clock::wall(&scene.site.zone, at);
    let kept = scene.keep.as_ref();
    Some(
        if kept.is_some_and(|k| k.iter().any(|(i, m)| i == id && *m == at)) {
            format!("{id} was at {wall} before the change")
        } else if of_event(task) {
            format!("the event wishes {id} at {wall}")
        } else {
            format!("{id} is best at {wall}, counted back from what follows")
        },
    )
}
