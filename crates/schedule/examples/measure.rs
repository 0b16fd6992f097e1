//! Measures how long the engine takes on invented work. Not a test: times differ between computers.
#![allow(clippy::disallowed_methods, clippy::print_stdout, clippy::expect_used)]

#[path = "../tests/kitchens/mod.rs"]
mod kitchens;

use schedule::{Effort, Outcome, Problem, check::check, solve};
use std::time::Instant;

fn measure(name: &str, problem: &Problem, effort: &Effort) {
    let begun = Instant::now();
    let (mut steps, mut first) = (0, None);
    let outcome = solve(problem, effort, &mut |progress| {
        steps = progress.steps;
        if first.is_none() && progress.best.is_some() {
            first = progress
                .best
                .map(|best| (best, begun.elapsed().as_millis()));
        }
        true
    })
    .expect("well formed");
    let took = begun.elapsed();
    match outcome {
        Outcome::Found(s) => println!(
            "{name}: {} tasks, found {:.0} (bound {:.0}, first seen {first:?}) in {took:?}, {steps} steps, {} broken",
            problem.tasks.len(),
            s.value,
            s.bound,
            check(problem, &s.start, &s.people).len()
        ),
        Outcome::Impossible(clash) => {
            println!("{name}: impossible in {took:?}: {:?}", clash.facts.first())
        }
        Outcome::NotFound(clash) => println!(
            "{name}: not found in {took:?}, {steps} steps: {:?}",
            clash.facts.first()
        ),
    }
}

fn main() {
    let effort = Effort::standard();
    measure("smoker, one day", &kitchens::two_smoker_loads(1), &effort);
    measure("smoker, two days", &kitchens::two_smoker_loads(2), &effort);
    measure("5 chains", &kitchens::chains(5, 5, 4, 1), &effort);
    for spread in 1..=3 {
        measure(
            "40 chains, 14 days",
            &kitchens::chains(40, 14, 10, spread),
            &effort,
        );
    }
    for days in [11, 9] {
        measure(
            &format!("40 chains, {days} days"),
            &kitchens::chains(40, days, 10, 1),
            &effort,
        );
    }
    measure(
        "40 chains, 3 people, 20 days",
        &kitchens::chains(40, 20, 3, 1),
        &effort,
    );
    for spread in 1..=3 {
        measure(
            "40 chains, 14 days, late",
            &kitchens::late_chains(40, 14, 10, spread),
            &effort,
        );
    }
    for spread in 1..=2 {
        measure(
            "40 chains, 20 days, tied",
            &kitchens::tied_chains(20, 14, 10, spread),
            &effort,
        );
    }
    let long_effort = Effort {
        seed: 1,
        steps: 10 * effort.steps,
    };
    measure(
        "40 chains, late, long",
        &kitchens::late_chains(40, 14, 10, 1),
        &long_effort,
    );
    measure(
        "20 chains, tied, long",
        &kitchens::tied_chains(20, 14, 10, 1),
        &long_effort,
    );
    let long = Effort {
        seed: 1,
        steps: 10 * effort.steps,
    };
    measure(
        "40 chains, 14 days, long",
        &kitchens::chains(40, 14, 10, 1),
        &long,
    );
    measure(
        "40 chains, 11 days, long",
        &kitchens::chains(40, 11, 10, 1),
        &long,
    );
    measure("625 chains", &kitchens::chains(625, 260, 12, 1), &effort);
    measure(
        "one chain of 5000 in 200 days",
        &kitchens::one_long_chain(5_000, 200),
        &effort,
    );
    measure(
        "one chain of 5000 in 100 days",
        &kitchens::one_long_chain(5_000, 100),
        &effort,
    );
    measure(
        "625 chains crowded",
        &kitchens::chains(625, 60, 12, 1),
        &effort,
    );
}
