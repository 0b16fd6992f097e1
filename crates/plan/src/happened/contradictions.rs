//! Facts that cannot both be so.

use std::collections::BTreeMap;

use schedule::{Edge, Minute};

use super::{Seen, Wrong};
use crate::tasks::{Kind, Tasks};

/// Everything at odds among the facts.
pub(super) fn find(tasks: &Tasks, seen: &BTreeMap<String, Seen>, wrong: &mut Vec<Wrong>) {
    let wall = |m: Minute| tasks.wall(m);
    let mut refuse = |at: &str, found: String, expected: &str, do_now: &str| {
        wrong.push(Wrong {
            at: at.to_owned(),
            found,
            expected: expected.to_owned(),
            do_now: do_now.to_owned(),
            known: Vec::new(),
            asked: String::new(),
        });
    };
    for (id, s) in seen {
        if let (Some((start, at_start)), Some((done, at))) = (&s.started, &s.done)
            && done < start
        {
            refuse(
                at,
                format!(
                    "{id} done {}, started {} ({at_start})",
                    wall(*done),
                    wall(*start)
                ),
                "an end after the start",
                "correct one of the two",
            );
        }
        let Some(run) = seen.get(&format!("{id}.run")) else {
            continue;
        };
        // The programme lies inside its step, and both end together.
        let pairs = [
            (
                &run.started,
                &s.started,
                "the programme starts after loading does",
            ),
            (
                &s.done,
                &run.started,
                "the step ends after its programme starts",
            ),
        ];
        for (later, earlier, expected) in pairs {
            if let (Some((later, at)), Some((earlier, other))) = (later, earlier)
                && later < earlier
            {
                refuse(
                    at,
                    format!("{id}: {} here, {} at {other}", wall(*later), wall(*earlier)),
                    expected,
                    "correct one of the two",
                );
            }
        }
        if let (Some((one, at)), Some((two, other))) = (&s.done, &run.done)
            && one != two
        {
            refuse(
                at,
                format!(
                    "{id} done {} here and {} at {other}",
                    wall(*one),
                    wall(*two)
                ),
                "one end: a step is done when its programme is",
                "take the wrong one out",
            );
        }
    }
    let done = |task: usize| -> Option<&(Minute, String)> {
        let id = &tasks.meaning[task].id;
        let whole = id.strip_suffix(".run").unwrap_or(id);
        seen.get(id)
            .and_then(|s| s.done.as_ref())
            .or_else(|| seen.get(whole).and_then(|s| s.done.as_ref()))
    };
    let started = |task: usize| -> Option<&(Minute, String)> {
        let id = &tasks.meaning[task].id;
        let whole = id.strip_suffix(".run").unwrap_or(id);
        let own = seen.get(id).and_then(|s| s.started.as_ref());
        // A step without hands begins with its programme.
        let handless = !tasks.meaning.iter().any(|m| m.id == whole);
        own.or_else(|| {
            seen.get(whole)
                .filter(|_| handless)
                .and_then(|s| s.started.as_ref())
        })
    };
    for link in &tasks.problem.links {
        let (from, to) = (&tasks.meaning[link.from.task], &tasks.meaning[link.to.task]);
        let follows = link.from.edge == Edge::End
            && link.to.edge == Edge::Start
            && link.min >= 0
            && from.kind != Kind::Round
            && to.kind != Kind::Round
            && from.step != to.step;
        if !follows {
            continue;
        }
        if let (Some((end, at_end)), Some((start, at))) =
            (done(link.from.task), started(link.to.task))
            && start < end
        {
            refuse(
                at,
                format!(
                    "{} started {}, and {} before it was done only {} ({at_end})",
                    to.id,
                    wall(*start),
                    from.id,
                    wall(*end)
                ),
                "a step starts when the one before it is done",
                "correct one of the two; where the lot went on in parts, the last part counts",
            );
        }
        if let (Some((earlier, at_start)), Some((start, at))) =
            (started(link.from.task), started(link.to.task))
            && start < earlier
        {
            refuse(
                at,
                format!(
                    "{} started {}, and {} before it was started only {} ({at_start})",
                    to.id,
                    wall(*start),
                    from.id,
                    wall(*earlier)
                ),
                "a step starts when the one before it is done",
                "correct one of the two",
            );
        }
    }
}
