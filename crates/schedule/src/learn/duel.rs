//! Two learners on two cores: one looks for better schedules, one for the bound. They meet after fixed numbers of steps,
//! so what comes out does not depend on which core was quicker.

use super::{Ended, Learner, Manner, Starts};
use crate::model::Model;
use crate::network::Windows;

/// What the two found out.
#[derive(Debug)]
pub(crate) struct Taught {
    /// The cheapest starts found that are cheaper than what was to be beaten.
    pub(crate) best: Option<Starts>,
    /// No schedule has a value below this.
    pub(crate) bound: f64,
    /// Nothing cheaper than the best, or than what was to be beaten, exists.
    pub(crate) closed: bool,
    pub(crate) steps: u64,
}

/// Steps each learner makes between two meetings.
const STEPS_PER_ROUND: u64 = 1_000_000;

/// Searches until it is closed, `steps` are spent or `watch`, given steps, bound and whether starts were found, says so.
pub(crate) fn duel(
    model: &Model<'_>,
    windows: &Windows,
    to_beat: Option<f64>,
    steps: u64,
    watch: &mut dyn FnMut(u64, f64, bool) -> bool,
) -> Taught {
    let mut one = Learner::of(model, windows, Manner::Better);
    let mut other = Learner::of(model, windows, Manner::Bound);
    let unit = one.value_of_one;
    if let Some(value) = to_beat {
        // The price must be strictly below; a hair of it is what binary fractions lose.
        let below = (value / unit - 1e-6).ceil() as i64 - 1;
        one.suppose_at_most(below);
        other.suppose_at_most(below);
    }
    let mut taught = Taught {
        best: None,
        bound: 0.0,
        closed: false,
        steps: 0,
    };
    while taught.steps < steps && !taught.closed {
        let round = STEPS_PER_ROUND.min(steps - taught.steps);
        let ends = std::thread::scope(|scope| {
            let beside = scope.spawn(|| stretch(&mut other, round));
            let here = stretch(&mut one, round);
            // A thread that broke off has proved nothing; the other goes on alone.
            [here, beside.join().unwrap_or(Ended::Spent)]
        });
        taught.steps += round;
        let prices = [&one, &other].map(|learner| learner.best.as_ref().map(|best| best.price));
        let cheaper = match prices {
            [Some(a), Some(b)] if b < a => other.best.clone(),
            [None, Some(_)] => other.best.clone(),
            _ => one.best.clone(),
        };
        if let Some(best) = &cheaper {
            for learner in [&mut one, &mut other] {
                learner.suppose_at_most(best.price - 1);
                learner.lean_on(&best.start, &best.crew);
            }
        }
        taught.best = cheaper;
        taught.closed = ends.contains(&Ended::Closed);
        let bound = one.bound().max(other.bound());
        for learner in [&mut one, &mut other] {
            learner.suppose_at_least(bound);
        }
        taught.bound = if taught.closed {
            match (&taught.best, to_beat) {
                (Some(best), _) => best.price as f64 * unit,
                (None, beaten) => beaten.unwrap_or(f64::INFINITY),
            }
        } else {
            bound as f64 * unit
        };
        if !watch(taught.steps, taught.bound, taught.best.is_some()) {
            break;
        }
    }
    taught
}

/// One learner's share of a round.
fn stretch(learner: &mut Learner<'_>, steps: u64) -> Ended {
    let until = learner.steps + steps;
    loop {
        match learner.run(until) {
            Ended::Found => {}
            ended => return ended,
        }
    }
}
