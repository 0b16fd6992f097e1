//! The problem as the engine reads it: arcs between starts, fitting people, sets of starts, holds by task.

use std::collections::BTreeMap;

use crate::calendar::{Hours, Starts, crew_starts, joined, open_starts};
use crate::outcome::Side;
use crate::problem::{Edge, MachineKind, Minute, Point, Problem, Span};

/// Further than any start can be; bounds that are not there stand here.
pub(crate) const FAR: Minute = 1_000_000_000_000_000;

/// What an arc comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Cause {
    /// The least lag of a link.
    Least(usize),
    /// The most lag of a link.
    Most(usize),
    /// An occupancy may not end before it begins.
    Hold(usize),
}

impl Cause {
    pub(crate) fn side(self) -> Side {
        if matches!(self, Self::Most(_)) {
            Side::Most
        } else {
            Side::Least
        }
    }
}

/// `start[to] >= start[from] + weight`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Arc {
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) weight: Minute,
    pub(crate) cause: Cause,
}

/// A crew: how many out of which class of people.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Need {
    pub(crate) count: usize,
    pub(crate) class: usize,
}

/// One task, with everything looked up.
#[derive(Debug, Clone)]
pub(crate) struct Job {
    pub(crate) duration: Minute,
    pub(crate) earliest: Minute,
    pub(crate) latest: Minute,
    pub(crate) need: Option<Need>,
    /// Index into [`Model::starts`]; `None` when calendars say nothing about it.
    pub(crate) starts: Option<usize>,
    /// Most fitting people ever there together.
    pub(crate) most_people: usize,
    /// Occupancies that begin or end with this task.
    pub(crate) holds: Vec<usize>,
    pub(crate) weight: f64,
}

/// One occupancy, with its ends as offsets from starts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hold {
    pub(crate) machine: usize,
    pub(crate) amount: i64,
    pub(crate) load: u32,
    pub(crate) from: usize,
    pub(crate) from_after: Minute,
    pub(crate) to: usize,
    pub(crate) to_after: Minute,
    /// No legal schedule has it shorter than this.
    pub(crate) least: Minute,
}

/// One machine.
#[derive(Debug, Clone)]
pub(crate) struct Room {
    pub(crate) capacity: i64,
    /// `Some(change_over)` for one load at a time.
    pub(crate) one_load: Option<Minute>,
    pub(crate) closed: Vec<Span>,
}

/// The whole problem, compiled.
#[derive(Debug)]
pub(crate) struct Model<'p> {
    pub(crate) problem: &'p Problem,
    pub(crate) jobs: Vec<Job>,
    pub(crate) arcs: Vec<Arc>,
    /// Arcs leaving each task.
    pub(crate) leaving: Vec<Vec<u32>>,
    /// Arcs reaching each task.
    pub(crate) reaching: Vec<Vec<u32>>,
    /// Place of each task in an order in which, as far as there is one, lags run forward.
    pub(crate) rank: Vec<usize>,
    pub(crate) holds: Vec<Hold>,
    pub(crate) rooms: Vec<Room>,
    pub(crate) hours: Vec<Hours>,
    /// People who fit each skill asked for.
    pub(crate) classes: Vec<Vec<usize>>,
    /// Name of each class; `None` is everybody.
    pub(crate) class_skill: Vec<Option<String>>,
    pub(crate) starts: Vec<Starts>,
    /// Where each task would like to start; set once the windows of the temporal network are known.
    pub(crate) target: Vec<Option<Minute>>,
}

fn after(problem: &Problem, point: Point) -> Minute {
    match point.edge {
        Edge::Start => 0,
        Edge::End => problem.tasks[point.task].duration,
    }
}

/// Numbers the tasks so that arcs of no negative weight run from lower to higher, except where they form cycles: the
/// reverse of the order in which a search in depth leaves them.
fn ranks(arcs: &[Arc], leaving: &[Vec<u32>]) -> Vec<usize> {
    let count = leaving.len();
    let mut rank = vec![0; count];
    let mut met = vec![false; count];
    let mut left = count;
    let mut path: Vec<(usize, usize)> = Vec::new();
    for root in (0..count).rev() {
        if met[root] {
            continue;
        }
        met[root] = true;
        path.push((root, 0));
        while let Some((task, place)) = path.pop() {
            let Some(&index) = leaving[task].get(place) else {
                left -= 1;
                rank[task] = left;
                continue;
            };
            path.push((task, place + 1));
            let arc = arcs[index as usize];
            if arc.weight >= 0 && !met[arc.to] {
                met[arc.to] = true;
                path.push((arc.to, 0));
            }
        }
    }
    rank
}

impl<'p> Model<'p> {
    /// Compiles a problem that has passed [`crate::malformed::refuse_malformed`].
    pub(crate) fn of(problem: &'p Problem) -> Self {
        let count = problem.tasks.len();
        let mut arcs = Vec::new();
        for (index, link) in problem.links.iter().enumerate() {
            let shift = after(problem, link.from) - after(problem, link.to);
            let (from, to) = (link.from.task, link.to.task);
            arcs.push(Arc {
                from,
                to,
                weight: link.min + shift,
                cause: Cause::Least(index),
            });
            if let Some(max) = link.max {
                arcs.push(Arc {
                    from: to,
                    to: from,
                    weight: -(max + shift),
                    cause: Cause::Most(index),
                });
            }
        }
        let mut holds = Vec::new();
        for (index, hold) in problem.occupancies.iter().enumerate() {
            let (from_after, to_after) = (after(problem, hold.from), after(problem, hold.to));
            let (from, to) = (hold.from.task, hold.to.task);
            arcs.push(Arc {
                from,
                to,
                weight: from_after - to_after,
                cause: Cause::Hold(index),
            });
            holds.push(Hold {
                machine: hold.machine,
                amount: hold.amount,
                load: hold.load,
                from,
                from_after,
                to,
                to_after,
                least: 0,
            });
        }
        let mut leaving = vec![Vec::new(); count];
        let mut reaching = vec![Vec::new(); count];
        for (index, arc) in arcs.iter().enumerate() {
            leaving[arc.from].push(index as u32);
            reaching[arc.to].push(index as u32);
        }
        let rooms = problem
            .machines
            .iter()
            .map(|machine| Room {
                capacity: machine.capacity,
                one_load: match machine.kind {
                    MachineKind::Shared => None,
                    MachineKind::OneLoad { change_over } => Some(change_over),
                },
                closed: joined(machine.unavailable.iter().copied()),
            })
            .collect();
        let mut model = Self {
            problem,
            jobs: Vec::with_capacity(count),
            rank: ranks(&arcs, &leaving),
            arcs,
            leaving,
            reaching,
            holds,
            rooms,
            hours: problem.people.iter().map(Hours::of).collect(),
            classes: Vec::new(),
            class_skill: Vec::new(),
            starts: Vec::new(),
            target: vec![None; count],
        };
        model.add_jobs();
        model
    }

    fn add_jobs(&mut self) {
        let problem = self.problem;
        let mut class_of: BTreeMap<Option<&str>, usize> = BTreeMap::new();
        let mut starts_of: BTreeMap<(usize, usize, Minute), (usize, usize)> = BTreeMap::new();
        let mut holds_of = vec![Vec::new(); problem.tasks.len()];
        for (index, hold) in self.holds.iter().enumerate() {
            holds_of[hold.from].push(index);
            if hold.to != hold.from {
                holds_of[hold.to].push(index);
            }
        }
        for (task, holds) in problem.tasks.iter().zip(holds_of) {
            let mut job = Job {
                duration: task.duration,
                earliest: task.earliest,
                latest: task.latest,
                need: None,
                starts: None,
                most_people: 0,
                holds,
                weight: task.weight,
            };
            if let Some(crew) = &task.crew {
                let class = *class_of.entry(crew.skill.as_deref()).or_insert_with(|| {
                    let fits = |index: &usize| match &crew.skill {
                        Some(skill) => problem.people[*index].skills.contains(skill),
                        None => true,
                    };
                    self.classes
                        .push((0..problem.people.len()).filter(fits).collect());
                    self.class_skill.push(crew.skill.clone());
                    self.classes.len() - 1
                });
                job.need = Some(Need {
                    count: crew.count,
                    class,
                });
                let (starts, most) = *starts_of
                    .entry((class, crew.count, task.duration))
                    .or_insert_with(|| {
                        let people = self.classes[class]
                            .iter()
                            .map(|&person| &self.hours[person]);
                        let (starts, most) = crew_starts(people, crew.count, task.duration);
                        self.starts.push(starts);
                        (self.starts.len() - 1, most)
                    });
                job.starts = Some(starts);
                job.most_people = most;
            }
            let mut open: Option<Starts> = None;
            for &index in &job.holds {
                let hold = self.holds[index];
                let closed = &self.rooms[hold.machine].closed;
                if hold.from == hold.to && hold.to_after > hold.from_after && !closed.is_empty() {
                    let clear = open_starts(closed, hold.from_after, hold.to_after, FAR);
                    open = Some(open.map_or_else(|| clear.clone(), |open| open.meet(&clear)));
                }
            }
            if let Some(open) = open {
                let both = job
                    .starts
                    .map_or_else(|| open.clone(), |starts| self.starts[starts].meet(&open));
                self.starts.push(both);
                job.starts = Some(self.starts.len() - 1);
            }
            self.jobs.push(job);
        }
    }

    /// First start at or after `at` that the calendars allow.
    pub(crate) fn snap_up(&self, task: usize, at: Minute) -> Option<Minute> {
        self.jobs[task]
            .starts
            .map_or(Some(at), |starts| self.starts[starts].next(at))
    }

    /// Last start at or before `at` that the calendars allow.
    pub(crate) fn snap_down(&self, task: usize, at: Minute) -> Option<Minute> {
        self.jobs[task]
            .starts
            .map_or(Some(at), |starts| self.starts[starts].previous(at))
    }

    /// Weighted minutes away from the wished start.
    pub(crate) fn wish_cost(&self, task: usize, start: Minute) -> f64 {
        self.target[task].map_or(0.0, |target| {
            self.jobs[task].weight * (start - target).abs() as f64
        })
    }
}
