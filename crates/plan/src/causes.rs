//! What holds each task where it is: why it is not earlier, and why not later.
//!
//! One reason each, the first that holds exactly: a wait of the recipe, a bound, a person who is busy until (from) that
//! very minute, a machine that is. Followed from task to task it leads to the fact a whole chain was moved by.

use std::collections::BTreeMap;

use schedule::{Edge, MachineKind, Minute, Point, Schedule};

use crate::tasks::{Kind, Tasks, hours};

/// What holds a task on one side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cause {
    /// It happened then: where it is written down, if it is.
    Happened(Option<String>),
    /// Another task, and what ties the two.
    By {
        /// The other task's id.
        task: String,
        /// What ties them, in words.
        why: String,
    },
    /// A bound, in words.
    Bound(String),
}

/// Why a task is not earlier, and why not later; `None` where nothing holds it exactly there.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Held {
    /// Why not earlier.
    pub not_earlier: Option<Cause>,
    /// Why not later.
    pub not_later: Option<Cause>,
}

/// What holds every task of a schedule, by id.
pub(crate) fn all(tasks: &Tasks, s: &Schedule) -> BTreeMap<String, Held> {
    let look = Look { tasks, s };
    (0..tasks.meaning.len())
        .filter(|i| !tasks.rests.iter().any(|(rest, _)| rest == i))
        .map(|i| {
            let held = match look.happened(i) {
                Some(cause) => Held {
                    not_earlier: Some(cause.clone()),
                    not_later: Some(cause),
                },
                None => Held {
                    not_earlier: look.side(i, true),
                    not_later: look.side(i, false),
                },
            };
            (tasks.meaning[i].id.clone(), held)
        })
        .collect()
}

struct Look<'a> {
    tasks: &'a Tasks,
    s: &'a Schedule,
}

impl Look<'_> {
    fn at(&self, p: Point) -> Minute {
        self.s.start[p.task]
            + match p.edge {
                Edge::Start => 0,
                Edge::End => self.tasks.problem.tasks[p.task].duration,
            }
    }

    fn ends(&self, i: usize) -> (Minute, Minute) {
        (
            self.s.start[i],
            self.s.start[i] + self.tasks.problem.tasks[i].duration,
        )
    }

    fn happened(&self, i: usize) -> Option<Cause> {
        let told = self.tasks.told.as_ref()?;
        let id = &self.tasks.meaning[i].id;
        told.states
            .contains_key(id)
            .then(|| Cause::Happened(told.from.get(id).cloned()))
    }

    fn by(&self, task: usize, why: String) -> Cause {
        Cause::By {
            task: self.tasks.meaning[task].id.clone(),
            why,
        }
    }

    fn side(&self, i: usize, earlier: bool) -> Option<Cause> {
        // What comes before holds it from being earlier, what comes after from being later; the other way round (a most
        // wait that ends in something fixed) only where nothing plainer does.
        self.by_link(i, earlier, earlier)
            .or_else(|| self.by_bound(i, earlier))
            .or_else(|| self.by_people(i, earlier))
            .or_else(|| self.by_machine(i, earlier))
            .or_else(|| self.by_link(i, earlier, !earlier))
    }

    fn by_link(&self, i: usize, earlier: bool, before: bool) -> Option<Cause> {
        self.tasks.problem.links.iter().find_map(|l| {
            let (own, other) = if l.to.task == i {
                (l.to, l.from)
            } else {
                (l.from, l.to)
            };
            if own.task != i
                || (l.to.task == i) != before
                || other.task == i
                || self.tasks.meaning[other.task].kind == Kind::Round
            {
                return None;
            }
            let lag = self.at(l.to) - self.at(l.from);
            // Later than its least if it comes after; within its most if it comes before.
            let (bound, least) = if (l.to.task == i) == earlier {
                (Some(l.min), true)
            } else {
                (l.max, false)
            };
            (bound == Some(lag)).then(|| {
                let why = if lag == 0 || l.max == Some(l.min) {
                    l.why.clone()
                } else {
                    format!(
                        "{}, {} {}",
                        l.why,
                        if least { "at least" } else { "at most" },
                        hours(lag)
                    )
                };
                self.by(other.task, why)
            })
        })
    }

    fn by_bound(&self, i: usize, earlier: bool) -> Option<Cause> {
        let task = &self.tasks.problem.tasks[i];
        let (bound, why) = if earlier {
            (task.earliest, &task.why_earliest)
        } else {
            (task.latest, &task.why_latest)
        };
        if self.s.start[i] == bound {
            return Some(Cause::Bound(why.clone()));
        }
        let (start, end) = self.ends(i);
        self.s.people[i].iter().find_map(|p| {
            let person = &self.tasks.problem.people[*p];
            let mut hours = person.available.iter().chain(&person.overtime);
            let (edge, word) = if earlier {
                (start, "there from")
            } else {
                (end, "there until")
            };
            hours
                .any(|h| edge == if earlier { h.start } else { h.end })
                .then(|| Cause::Bound(format!("{} is {word} {}", person.id, self.tasks.wall(edge))))
        })
    }

    fn by_people(&self, i: usize, earlier: bool) -> Option<Cause> {
        let (start, end) = self.ends(i);
        (0..self.s.start.len()).find_map(|j| {
            let (other_start, other_end) = self.ends(j);
            let meets = if earlier {
                other_end == start
            } else {
                other_start == end
            };
            let shared = self.s.people[j]
                .iter()
                .find(|p| self.s.people[i].contains(p))?;
            (j != i && meets && other_start < other_end).then(|| {
                let who = &self.tasks.problem.people[*shared].id;
                let when = if earlier {
                    "until then"
                } else {
                    "from then on"
                };
                self.by(
                    j,
                    format!("{who} is at {} {when}", self.tasks.meaning[j].id),
                )
            })
        })
    }

    fn by_machine(&self, i: usize, earlier: bool) -> Option<Cause> {
        let all = &self.tasks.problem.occupancies;
        all.iter().find_map(|own| {
            let edge = if earlier { own.from } else { own.to };
            if edge.task != i {
                return None;
            }
            let machine = &self.tasks.problem.machines[own.machine];
            all.iter().chain(&self.tasks.past_holds).find_map(|other| {
                let gap = match machine.kind {
                    MachineKind::OneLoad { change_over } if other.load != own.load => change_over,
                    _ => 0,
                };
                let meets = if earlier {
                    self.at(other.to) + gap == self.at(edge)
                } else {
                    self.at(edge) + gap == self.at(other.from)
                };
                let task = if earlier {
                    other.to.task
                } else {
                    other.from.task
                };
                (other.machine == own.machine && task != i && meets && other.amount > 0)
                    .then(|| self.by(task, format!("{} holds {} then", machine.id, other.what)))
            })
        })
    }
}
