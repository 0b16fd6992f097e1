//! An even workload: who of several people that fit takes a task, once the hours stand.
//!
//! Starts, crews' sizes and the value of the clock stay as they are. A task goes from a busier person to a less busy one who
//! has the skill, is there, is free, and needs no more overtime for it, as long as that narrows the gap between the two. The
//! sum of the squares of everybody's minutes falls with every such move, so it ends; it ends where no single task can be
//! handed over, which need not be the evenest of all.

use schedule::{Minute, Problem, Schedule, Span};

/// Hands tasks over until nothing narrows a gap any more.
pub(crate) fn even_out(problem: &Problem, s: &mut Schedule) {
    let length = |t: usize| problem.tasks[t].duration;
    let mut minutes = vec![0; problem.people.len()];
    for (task, crew) in s.people.iter().enumerate() {
        for &person in crew {
            minutes[person] += length(task);
        }
    }
    while let Some((task, from, to)) = narrowest(problem, s, &minutes) {
        let crew = &mut s.people[task];
        crew.retain(|p| *p != from);
        crew.push(to);
        crew.sort_unstable();
        minutes[from] -= length(task);
        minutes[to] += length(task);
    }
}

/// The hand-over that narrows most: task, who had it, who gets it.
fn narrowest(problem: &Problem, s: &Schedule, minutes: &[Minute]) -> Option<(usize, usize, usize)> {
    let mut best: Option<(Minute, usize, usize, usize)> = None;
    for (task, crew) in s.people.iter().enumerate() {
        let spec = &problem.tasks[task];
        let skill = spec.crew.as_ref().and_then(|c| c.skill.as_ref());
        let (start, end) = (s.start[task], s.start[task] + spec.duration);
        for &from in crew {
            for (to, who) in problem.people.iter().enumerate() {
                let gap = minutes[from] - minutes[to];
                // How much the squares fall: 2·d·(gap − d).
                let gain = spec.duration * (gap - spec.duration);
                if gain <= 0 || best.is_some_and(|(least, ..)| gain <= least) {
                    continue;
                }
                let fits = skill.is_none_or(|s| who.skills.contains(s)) && !crew.contains(&to);
                let there = stays(problem, to, start, end)
                    .zip(stays(problem, from, start, end))
                    .is_some_and(|(new, old)| new <= old);
                if fits && there && free(problem, s, to, start, end) {
                    best = Some((gain, task, from, to));
                }
            }
        }
    }
    best.map(|(_, task, from, to)| (task, from, to))
}

fn free(problem: &Problem, s: &Schedule, person: usize, start: Minute, end: Minute) -> bool {
    s.people.iter().enumerate().all(|(t, crew)| {
        let (a, b) = (s.start[t], s.start[t] + problem.tasks[t].duration);
        !crew.contains(&person) || a.max(start) >= b.min(end)
    })
}

/// Minutes of overtime a person needs for a stretch; `None` where the person is not there for all of it.
fn stays(problem: &Problem, person: usize, start: Minute, end: Minute) -> Option<Minute> {
    let who = &problem.people[person];
    let inside = |spans: &[Span]| -> Minute {
        let part = |h: &Span| (h.end.min(end) - h.start.max(start)).max(0);
        spans.iter().map(part).sum()
    };
    let regular = inside(&who.available);
    let mut all: Vec<Span> = who.available.iter().chain(&who.overtime).copied().collect();
    all.sort_by_key(|h| (h.start, h.end));
    let mut reached = start;
    for h in all {
        if h.start <= reached {
            reached = reached.max(h.end);
        }
    }
    (reached >= end).then_some(end - start - regular)
}
