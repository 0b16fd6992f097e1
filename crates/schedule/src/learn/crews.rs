//! Who does what: for each task and each person who fits a variable that is 1 if they do it.

use super::pairs::comes_after;
use super::profile::Load;
use super::trail::{Conflict, Lit, Trail, at_least, at_most};
use crate::calendar::{Hours, Starts};
use crate::model::Model;
use crate::network::Windows;
use crate::problem::Minute;

/// One person who could be in a task's crew.
#[derive(Debug)]
pub(super) struct Offer {
    pub(super) person: usize,
    /// 1 if the person is in the crew.
    pub(super) variable: usize,
    /// The starts the person's hours allow.
    allowed: Starts,
    /// Those that need no overtime; the same set again where overtime costs nothing.
    regular: Option<Starts>,
}

/// All crews, by task.
#[derive(Debug)]
pub(super) struct Crews {
    pub(super) offers: Vec<Vec<Offer>>,
    count: Vec<usize>,
    duration: Vec<Minute>,
    /// For each task, others whose windows it shares and a person with; and with which offers of both.
    near: Vec<Vec<(u32, u32, u32)>>,
    /// The task of each crew variable, counted from the first.
    task_of: Vec<usize>,
    first_variable: usize,
    /// Whole-number price of a minute of overtime.
    overtime: i64,
}

fn allowed(hours: &Hours, regular: bool, duration: Minute) -> Starts {
    let spans = if regular { &hours.regular } else { &hours.all };
    Starts(
        spans
            .iter()
            .filter(|span| span.end - span.start >= duration)
            .map(|span| (span.start, span.end - duration))
            .collect(),
    )
}

impl Crews {
    /// Numbers the crew variables from `first_variable` on.
    pub(super) fn of(
        model: &Model<'_>,
        windows: &Windows,
        first_variable: usize,
        overtime: i64,
    ) -> Self {
        let tasks = model.jobs.len();
        let mut crews = Self {
            offers: Vec::with_capacity(tasks),
            count: model
                .jobs
                .iter()
                .map(|job| job.need.map_or(0, |need| need.count))
                .collect(),
            duration: model.jobs.iter().map(|job| job.duration).collect(),
            near: vec![Vec::new(); tasks],
            task_of: Vec::new(),
            first_variable,
            overtime,
        };
        for (task, job) in model.jobs.iter().enumerate() {
            let class: &[usize] = job.need.map_or(&[], |need| &model.classes[need.class]);
            let mut offers = Vec::with_capacity(class.len());
            for &person in class {
                let hours = &model.hours[person];
                offers.push(Offer {
                    person,
                    variable: first_variable + crews.task_of.len(),
                    allowed: allowed(hours, false, job.duration),
                    regular: (overtime > 0).then(|| allowed(hours, true, job.duration)),
                });
                crews.task_of.push(task);
            }
            crews.offers.push(offers);
        }
        for task in 0..tasks {
            for other in 0..task {
                let apart =
                    |a: usize, b: usize| windows.high[a] + crews.duration[a] <= windows.low[b];
                if crews.duration[task] == 0
                    || crews.duration[other] == 0
                    || apart(task, other)
                    || apart(other, task)
                {
                    continue;
                }
                for (place, offer) in crews.offers[task].iter().enumerate() {
                    let with = crews.offers[other]
                        .iter()
                        .position(|other| other.person == offer.person);
                    if let Some(with) = with {
                        crews.near[task].push((other as u32, place as u32, with as u32));
                        crews.near[other].push((task as u32, with as u32, place as u32));
                    }
                }
            }
        }
        crews
    }

    pub(super) fn variables(&self) -> usize {
        self.task_of.len()
    }

    /// The task whose crew a variable belongs to.
    pub(super) fn task_of(&self, variable: usize) -> Option<usize> {
        self.task_of
            .get(variable.checked_sub(self.first_variable)?)
            .copied()
    }

    /// The first open offer of a task, people with few other uses first.
    pub(super) fn open_offer(&self, trail: &Trail, task: usize, breadth: &[u32]) -> Option<usize> {
        self.offers[task]
            .iter()
            .filter(|offer| !trail.fixed(offer.variable))
            .min_by_key(|offer| breadth[offer.person])
            .map(|offer| offer.variable)
    }

    pub(super) fn crew(&self, trail: &Trail, task: usize) -> Vec<usize> {
        self.offers[task]
            .iter()
            .filter(|offer| trail.low(offer.variable) == 1)
            .map(|offer| offer.person)
            .collect()
    }

    fn load(&self, task: usize) -> Load {
        Load {
            amount: 1,
            from: task,
            from_after: 0,
            to: task,
            to_after: self.duration[task],
            least: self.duration[task],
        }
    }

    /// Draws what follows for the crew of one task.
    pub(super) fn propagate(
        &self,
        trail: &mut Trail,
        task: usize,
        steps: &mut u64,
    ) -> Result<(), Conflict> {
        *steps += self.offers[task].len() as u64 + self.near[task].len() as u64 / 4;
        for offer in &self.offers[task] {
            if trail.high(offer.variable) == 1 {
                hours(trail, task, offer)?;
            }
        }
        self.size(trail, task)?;
        for &(other, mine, theirs) in &self.near[task] {
            let other = other as usize;
            let mine = self.offers[task][mine as usize].variable;
            let theirs = self.offers[other][theirs as usize].variable;
            if trail.high(mine) == 0 || trail.high(theirs) == 0 {
                continue;
            }
            let (sure, also_sure) = (trail.low(mine) == 1, trail.low(theirs) == 1);
            if !sure && !also_sure {
                continue;
            }
            let ends = |at: usize| trail.high(at) + self.duration[at];
            if ends(task) <= trail.low(other) || ends(other) <= trail.low(task) {
                continue;
            }
            let (one, two) = (self.load(task), self.load(other));
            if sure && also_sure {
                let both = [at_least(mine, 1), at_least(theirs, 1)];
                comes_after(trail, &one, &two, 0, &both)?;
                comes_after(trail, &two, &one, 0, &both)?;
            } else {
                let (given, open) = if sure { (mine, theirs) } else { (theirs, mine) };
                let first = one.cannot_precede(trail, &two, 0);
                let second = two.cannot_precede(trail, &one, 0);
                if let (Some([a, b]), Some([c, d])) = (first, second) {
                    trail.raise_for(at_most(open, 0), &[at_least(given, 1), a, b, c, d])?;
                }
            }
        }
        Ok(())
    }

    /// A crew has exactly as many people as it needs.
    fn size(&self, trail: &mut Trail, task: usize) -> Result<(), Conflict> {
        let offers = &self.offers[task];
        let count = self.count[task];
        let sure = offers
            .iter()
            .filter(|offer| trail.low(offer.variable) == 1)
            .count();
        let possible = offers
            .iter()
            .filter(|offer| trail.high(offer.variable) == 1)
            .count();
        let inside = |trail: &Trail| -> Vec<Lit> {
            offers
                .iter()
                .filter(|offer| trail.low(offer.variable) == 1)
                .map(|offer| at_least(offer.variable, 1))
                .collect()
        };
        let outside = |trail: &Trail| -> Vec<Lit> {
            offers
                .iter()
                .filter(|offer| trail.high(offer.variable) == 0)
                .map(|offer| at_most(offer.variable, 0))
                .collect()
        };
        if sure > count {
            return Err(inside(trail));
        }
        if possible < count {
            return Err(outside(trail));
        }
        if sure < possible && (sure == count || possible == count) {
            let full = sure == count;
            let why = if full { inside(trail) } else { outside(trail) };
            for offer in offers {
                if !trail.fixed(offer.variable) {
                    let lit = if full {
                        at_most(offer.variable, 0)
                    } else {
                        at_least(offer.variable, 1)
                    };
                    trail.raise_for(lit, &why)?;
                }
            }
        }
        Ok(())
    }

    /// Least overtime of each sure member, in whole-number price; the literals it rests on are added to `why`.
    pub(super) fn overtime(
        &self,
        model: &Model<'_>,
        trail: &Trail,
        task: usize,
        mut why: Option<&mut Vec<Lit>>,
    ) -> i64 {
        if self.overtime == 0 {
            return 0;
        }
        let (low, high) = (trail.low(task), trail.high(task));
        let mut minutes = 0;
        for offer in &self.offers[task] {
            let Some(regular) = &offer.regular else {
                continue;
            };
            if trail.low(offer.variable) == 0 || regular.next(low).is_some_and(|at| at <= high) {
                continue;
            }
            let hours = &model.hours[offer.person];
            let duration = self.duration[task];
            // Inside one stretch of hours with at most one regular part the overtime has no valley between two starts.
            let parts = hours
                .regular
                .iter()
                .filter(|span| span.end > low && span.start < high + duration)
                .count();
            if low != high && parts > 1 {
                continue;
            }
            let least = hours
                .overtime_in(low, low + duration)
                .min(hours.overtime_in(high, high + duration));
            if least > 0 {
                minutes += least;
                if let Some(why) = why.as_deref_mut() {
                    why.extend([
                        at_least(task, low),
                        at_most(task, high),
                        at_least(offer.variable, 1),
                    ]);
                }
            }
        }
        minutes * self.overtime
    }
}

/// A person's hours: out of the crew when there is no start for them, and starts within them when sure.
fn hours(trail: &mut Trail, task: usize, offer: &Offer) -> Result<(), Conflict> {
    let (low, high) = (trail.low(task), trail.high(task));
    let next = offer.allowed.next(low);
    let last = offer.allowed.previous(high);
    if next.is_none_or(|next| next > high) {
        let mut why = Vec::with_capacity(2);
        why.extend(last.map(|last| at_least(task, last + 1)));
        why.extend(next.map(|next| at_most(task, next - 1)));
        trail.raise_for(at_most(offer.variable, 0), &why)?;
    } else if trail.low(offer.variable) == 1
        && let (Some(next), Some(last)) = (next, last)
    {
        if next > low {
            let mut why = vec![at_least(offer.variable, 1)];
            let before = offer.allowed.previous(low);
            why.extend(before.map(|before| at_least(task, before + 1)));
            trail.raise_for(at_least(task, next), &why)?;
        }
        if last < high {
            let mut why = vec![at_least(offer.variable, 1)];
            let after = offer.allowed.next(high);
            why.extend(after.map(|after| at_most(task, after - 1)));
            trail.raise_for(at_most(task, last), &why)?;
        }
    }
    Ok(())
}
