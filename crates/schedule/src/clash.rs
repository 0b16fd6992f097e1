//! Turns premises into facts with sentences.

use crate::model::{Cause, Model};
use crate::outcome::{Clash, Fact, Side};
use crate::problem::{Edge, Minute, Point};
use crate::tighten::Item;

/// Hours and minutes in words: "2 h 5 min".
pub(crate) fn elapsed(minutes: Minute) -> String {
    let sign = if minutes < 0 { "-" } else { "" };
    let (hours, rest) = (minutes.abs() / 60, minutes.abs() % 60);
    match (hours, rest) {
        (0, rest) => format!("{sign}{rest} min"),
        (hours, 0) => format!("{sign}{hours} h"),
        (hours, rest) => format!("{sign}{hours} h {rest} min"),
    }
}

/// "2 people", or "2 people who can do "fillet"".
pub(crate) fn people(count: usize, skill: Option<&str>) -> String {
    let noun = if count == 1 { "person" } else { "people" };
    match skill {
        Some(skill) => format!("{count} {noun} who can do \"{skill}\""),
        None => format!("{count} {noun}"),
    }
}

fn because(why: &str) -> String {
    if why.is_empty() {
        String::new()
    } else {
        format!(": {why}")
    }
}

fn moment(model: &Model<'_>, point: Point) -> String {
    let edge = match point.edge {
        Edge::Start => "start",
        Edge::End => "end",
    };
    format!("the {edge} of \"{}\"", model.problem.tasks[point.task].what)
}

/// The facts behind premises, each once, in the order given.
pub(crate) fn facts(model: &Model<'_>, items: &[Item]) -> Vec<Fact> {
    let mut facts: Vec<Fact> = Vec::new();
    for &item in items {
        for fact in of_item(model, item) {
            if !facts.contains(&fact) {
                facts.push(fact);
            }
        }
    }
    facts
}

/// A clash of premises.
pub(crate) fn clash(model: &Model<'_>, items: &[Item]) -> Clash {
    Clash {
        facts: facts(model, items),
    }
}

fn of_item(model: &Model<'_>, item: Item) -> Vec<Fact> {
    match item {
        Item::Earliest(task) => {
            let spec = &model.problem.tasks[task];
            let sentence = format!(
                "\"{}\" cannot start before its earliest start{}",
                spec.what,
                because(&spec.why_earliest)
            );
            vec![Fact::TaskWindow {
                task,
                side: Side::Least,
                sentence,
            }]
        }
        Item::Latest(task) => {
            let spec = &model.problem.tasks[task];
            let sentence = format!(
                "\"{}\" cannot start after its latest start{}",
                spec.what,
                because(&spec.why_latest)
            );
            vec![Fact::TaskWindow {
                task,
                side: Side::Most,
                sentence,
            }]
        }
        Item::Arc(index) => vec![of_arc(model, index)],
        Item::Calendar(task) => of_calendar(model, task),
    }
}

fn of_arc(model: &Model<'_>, index: usize) -> Fact {
    let cause = model.arcs[index].cause;
    match cause {
        Cause::Least(link) | Cause::Most(link) => {
            let spec = &model.problem.links[link];
            let side = cause.side();
            let (from, to) = (moment(model, spec.from), moment(model, spec.to));
            let lag = match side {
                Side::Least if spec.min < 0 => format!("at most {} before", elapsed(-spec.min)),
                Side::Least => format!("at least {} after", elapsed(spec.min)),
                Side::Most => match spec.max.unwrap_or_default() {
                    max if max < 0 => format!("at least {} before", elapsed(-max)),
                    max => format!("at most {} after", elapsed(max)),
                },
            };
            Fact::Link {
                link,
                side,
                sentence: format!("{to} comes {lag} {from}{}", because(&spec.why)),
            }
        }
        Cause::Hold(occupancy) => {
            let spec = &model.problem.occupancies[occupancy];
            let sentence = format!(
                "\"{}\" goes into \"{}\" before it comes out: from {} to {}",
                spec.what,
                model.problem.machines[spec.machine].id,
                moment(model, spec.from),
                moment(model, spec.to)
            );
            Fact::HoldOrder {
                occupancy,
                sentence,
            }
        }
    }
}

fn of_calendar(model: &Model<'_>, task: usize) -> Vec<Fact> {
    let spec = &model.problem.tasks[task];
    let job = &model.jobs[task];
    let mut facts = Vec::new();
    if let (Some(need), Some(crew)) = (job.need, &spec.crew) {
        let have = job.most_people;
        let wanted = people(need.count, crew.skill.as_deref());
        let length = elapsed(spec.duration);
        let sentence = if have < need.count {
            format!(
                "\"{}\" needs {wanted} for {length}, and there are never more than {have} together",
                spec.what
            )
        } else {
            format!(
                "\"{}\" needs {wanted} for {length}, which limits it to the hours they share",
                spec.what
            )
        };
        facts.push(Fact::NoPeople {
            task,
            need: need.count,
            have,
            sentence,
        });
    }
    for &index in &job.holds {
        let hold = model.holds[index];
        if hold.from == hold.to && !model.rooms[hold.machine].closed.is_empty() {
            let sentence = format!(
                "\"{}\" needs \"{}\", which is not available at all hours",
                model.problem.occupancies[index].what, model.problem.machines[hold.machine].id
            );
            facts.push(Fact::MachineFull {
                machine: hold.machine,
                occupancies: vec![index],
                sentence,
            });
        }
    }
    facts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minutes_read_as_hours_and_minutes() {
        assert_eq!(elapsed(125), "2 h 5 min");
        assert_eq!(elapsed(-60), "-1 h");
        assert_eq!(elapsed(0), "0 min");
    }
}
