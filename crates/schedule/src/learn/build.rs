//! The learner's constraints, read from the model.

use std::collections::{BTreeMap, BTreeSet};

use super::analyse::Analysis;
use super::clauses::Clauses;
use super::crews::Crews;
use super::pairs::Pair;
use super::price::{Price, Term};
use super::profile::{Load, Profile};
use super::taste::Taste;
use super::trail::Trail;
use super::{DEAD_ENDS_PER_RESTART, FIRST_CLAUSES, Learner, Manner};
use crate::dice::Dice;
use crate::model::Model;
use crate::network::Windows;
use crate::problem::Minute;
use crate::search::breadth;

/// Above this many loads of one machine no pairs are made: on a shared machine the time-table does it alone.
const MOST_PAIRED: usize = 250;

/// Whether a learner of this model would know every rule; a one-load machine with too many loads is beyond it, and what it
/// found would mostly not be a schedule.
pub(crate) fn knows_all(model: &Model<'_>) -> bool {
    (0..model.rooms.len()).all(|machine| {
        let holds = model.holds.iter().filter(|hold| hold.machine == machine);
        model.rooms[machine].one_load.is_none() || holds.count() <= MOST_PAIRED
    })
}

/// Prices are counted in this share of the unit of the value, or in a multiple of it that all weights share.
const SHARE: f64 = 1_000.0;

/// No sum of prices may come near what an `i64` holds; where it would, prices are counted more coarsely.
const LARGEST_SUM: f64 = 1e15;

/// A weight as a whole number of shares, never more than it is.
fn whole(weight: f64, share: f64) -> i64 {
    // A weight meant to be whole may miss it by what binary fractions cannot write.
    const BLIND: f64 = 1e-7;
    (weight * share + BLIND).floor() as i64
}

/// The most any schedule could cost.
fn dearest(model: &Model<'_>, windows: &Windows) -> f64 {
    (0..model.jobs.len())
        .map(|task| {
            let job = &model.jobs[task];
            let away = model.target[task].map_or(0, |wish| {
                (windows.high[task] - wish).max(wish - windows.low[task])
            });
            let people = job.need.map_or(0, |need| need.count);
            job.weight * away as f64
                + model.problem.overtime_weight * (people as f64) * job.duration as f64
        })
        .sum()
}

fn common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { common_divisor(b, a % b) }
}

impl<'m> Learner<'m> {
    /// A learner of a model whose windows and targets are known.
    pub(crate) fn of(model: &'m Model<'m>, windows: &Windows, manner: Manner, seed: u64) -> Self {
        let tasks = model.jobs.len();
        let total = tasks;
        let share = SHARE.min(LARGEST_SUM / dearest(model, windows).max(1.0));
        let mut terms = Vec::new();
        for task in 0..tasks {
            let weight = whole(model.jobs[task].weight, share);
            if let Some(wish) = model.target[task].filter(|_| weight > 0) {
                terms.push(Term {
                    variable: task,
                    weight,
                    wish,
                });
            }
        }
        let overtime = whole(model.problem.overtime_weight, share);
        let divisor = terms
            .iter()
            .fold(overtime, |known, term| common_divisor(known, term.weight))
            .max(1);
        for term in &mut terms {
            term.weight /= divisor;
        }
        let overtime = overtime / divisor;
        let crews = Crews::of(model, windows, total + 1, overtime);
        let late: Vec<usize> = (0..tasks)
            .filter(|&task| overtime > 0 && !crews.offers[task].is_empty())
            .collect();
        let most = (dearest(model, windows) * share / divisor as f64).ceil() as i64 + 1;
        let bounds = (0..tasks)
            .map(|task| (windows.low[task], windows.high[task]))
            .chain([(0, most)])
            .chain(std::iter::repeat_n((0, 1), crews.variables()));
        let trail = Trail::of(bounds);
        let sides = trail.bound.len();
        let mut lags = vec![Vec::new(); sides];
        for arc in &model.arcs {
            if arc.from != arc.to {
                lags[2 * arc.from].push((2 * arc.to as u32, arc.weight));
                lags[2 * arc.to + 1].push((2 * arc.from as u32 + 1, arc.weight));
            }
        }
        let variables = sides / 2;
        let mut in_price = vec![false; variables];
        for &task in &late {
            in_price[task] = true;
            for offer in &crews.offers[task] {
                in_price[offer.variable] = true;
            }
        }
        for term in &terms {
            in_price[term.variable] = true;
        }
        in_price[total] = true;
        let mut learner = Self {
            model,
            clauses: Clauses::none(sides),
            analysis: Analysis::default(),
            taste: Taste::new(),
            lags,
            profiles: Vec::new(),
            profiles_of: vec![Vec::new(); variables],
            pairs: Vec::new(),
            pairs_of: vec![Vec::new(); variables],
            price: Price::of(total, terms, late),
            crew_waits: vec![false; tasks],
            waiting_crews: Vec::new(),
            crews,
            breadth: breadth(model),
            leaning: None,
            short: Vec::new(),
            neighbourhood: Vec::new(),
            dice: Dice::seeded(seed),
            horizon: windows.high.iter().max().unwrap_or(&0)
                - windows.low.iter().min().unwrap_or(&0),
            in_price,
            drawn: 0,
            waiting_profiles: Vec::new(),
            profile_waits: Vec::new(),
            waiting_pairs: Vec::new(),
            pair_waits: Vec::new(),
            price_waits: false,
            manner,
            supposed: None,
            stride: 0,
            value_of_one: divisor as f64 / share,
            best: None,
            steps: 0,
            conflicts: 0,
            restarts: 0,
            improved_at: 0,
            restart_at: DEAD_ENDS_PER_RESTART,
            most_clauses: FIRST_CLAUSES,
            closed: false,
            trail,
        };
        learner.add_people();
        let apart = learner.add_machines();
        learner.add_pairs(apart);
        learner.wake_all();
        learner
    }

    fn add_profile(&mut self, profile: Profile) {
        if profile.loads.is_empty() {
            return;
        }
        let index = self.profiles.len() as u32;
        let variables: BTreeSet<usize> = profile
            .loads
            .iter()
            .flat_map(|load| [load.from, load.to])
            .collect();
        for variable in variables {
            self.profiles_of[variable].push(index);
        }
        self.profiles.push(profile);
        self.profile_waits.push(false);
    }

    /// For each set of fitting people: the tasks only they can do, against how many of them are there.
    fn add_people(&mut self) {
        let model = self.model;
        for persons in &model.classes {
            let inside: BTreeSet<usize> = persons.iter().copied().collect();
            let mut loads = Vec::new();
            for (task, job) in model.jobs.iter().enumerate() {
                let Some(need) = job.need else { continue };
                if job.duration > 0 && model.classes[need.class].iter().all(|p| inside.contains(p))
                {
                    loads.push(Load {
                        amount: need.count as i64,
                        from: task,
                        from_after: 0,
                        to: task,
                        to_after: job.duration,
                        least: job.duration,
                    });
                }
            }
            let everybody = persons.len() as i64;
            // Away: everybody less those there.
            let mut turns: BTreeMap<Minute, i64> = BTreeMap::new();
            turns.insert(-crate::model::FAR, everybody);
            for &person in persons {
                for span in &model.hours[person].all {
                    *turns.entry(span.start).or_default() -= 1;
                    *turns.entry(span.end).or_default() += 1;
                }
            }
            let always = turns.into_iter().collect();
            self.add_profile(Profile::of(everybody, always, loads));
        }
    }

    /// Time-tables of machines; the pairs of loads that cannot be inside together, with the gap between them.
    fn add_machines(&mut self) -> BTreeMap<(usize, usize), Minute> {
        let model = self.model;
        let mut apart: BTreeMap<(usize, usize), Minute> = BTreeMap::new();
        for (machine, room) in model.rooms.iter().enumerate() {
            let holds: Vec<usize> = (0..model.holds.len())
                .filter(|&index| {
                    let hold = model.holds[index];
                    hold.machine == machine && (hold.from != hold.to || hold.least > 0)
                })
                .collect();
            let mut always: Vec<(Minute, i64)> = Vec::new();
            for span in &room.closed {
                always.push((span.start, room.capacity));
                always.push((span.end, -room.capacity));
            }
            match room.one_load {
                None => {
                    let loads = holds.iter().map(|&index| self.load(index)).collect();
                    self.add_profile(Profile::of(room.capacity, always, loads));
                }
                Some(_) => {
                    // Loads keep apart in pairs; amounts add up only within one.
                    let mut of_load: BTreeMap<u32, Vec<Load>> = BTreeMap::new();
                    for &index in &holds {
                        of_load
                            .entry(model.holds[index].load)
                            .or_default()
                            .push(self.load(index));
                    }
                    for loads in of_load.into_values() {
                        self.add_profile(Profile::of(room.capacity, always.clone(), loads));
                    }
                }
            }
            if holds.len() > MOST_PAIRED {
                continue;
            }
            for (place, &second) in holds.iter().enumerate() {
                for &first in &holds[..place] {
                    let (a, b) = (model.holds[first], model.holds[second]);
                    if a.least == 0 || b.least == 0 {
                        continue;
                    }
                    let gap = match room.one_load {
                        Some(gap) if a.load != b.load => gap,
                        _ if a.amount + b.amount > room.capacity => 0,
                        _ => continue,
                    };
                    let kept = apart.entry(self.key(first, second)).or_insert(gap);
                    *kept = gap.max(*kept);
                }
            }
        }
        apart
    }

    /// Two holds by number; those of the same two tasks from start to end count as one pair.
    fn key(&self, first: usize, second: usize) -> (usize, usize) {
        let like = |index: usize| {
            let hold = self.model.holds[index];
            (0..index)
                .find(|&other| {
                    let other = self.model.holds[other];
                    (other.from, other.from_after, other.to, other.to_after)
                        == (hold.from, hold.from_after, hold.to, hold.to_after)
                })
                .unwrap_or(index)
        };
        let (a, b) = (like(first), like(second));
        (a.min(b), a.max(b))
    }

    fn add_pairs(&mut self, apart: BTreeMap<(usize, usize), Minute>) {
        for ((first, second), gap) in apart {
            let pair = Pair {
                one: self.load(first),
                other: self.load(second),
                gap,
            };
            let index = self.pairs.len() as u32;
            let variables: BTreeSet<usize> =
                [pair.one.from, pair.one.to, pair.other.from, pair.other.to].into();
            if variables.len() == 1 {
                continue;
            }
            for variable in variables {
                self.pairs_of[variable].push(index);
            }
            self.pairs.push(pair);
            self.pair_waits.push(false);
        }
    }

    fn load(&self, index: usize) -> Load {
        let hold = self.model.holds[index];
        Load {
            amount: hold.amount,
            from: hold.from,
            from_after: hold.from_after,
            to: hold.to,
            to_after: hold.to_after,
            least: hold.least,
        }
    }
}
