//! Laws every answer keeps, on small random problems, against trying everything.
// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod every;
mod kitchens;

use proptest::prelude::*;
use schedule::check::check;
use schedule::{Effort, Outcome, Problem, solve};

fn answer(problem: &Problem, seed: u64) -> Outcome {
    solve(
        problem,
        &Effort {
            seed,
            steps: 400_000,
        },
        &mut |_| true,
    )
    .expect("generated problems are well formed")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn answers_agree_with_trying_everything(problem in every::problem()) {
        let truth = every::truth(&problem);
        match answer(&problem, 1) {
            Outcome::Found(found) => {
                prop_assert_eq!(check(&problem, &found.start, &found.people), vec![]);
                let windows: Vec<_> = found.earliest.iter().copied().zip(found.latest.iter().copied()).collect();
                prop_assert_eq!(&windows, &truth.windows);
                let value = every::value(&problem, &windows, &found.start, &found.people);
                prop_assert!((value - found.value).abs() < 1e-6, "told {} is {value}", found.value);
                let best = truth.best.expect("the checker found no fault");
                prop_assert!(found.bound <= best + 1e-6, "bound {} above the best {best}", found.bound);
                prop_assert!(!found.proved || found.value <= best + 1e-6);
                for (task, &(earlier, later)) in found.free.iter().enumerate() {
                    prop_assert!(earlier >= 0 && later >= 0);
                    for shift in [-earlier, later] {
                        let mut moved = found.start.clone();
                        moved[task] += shift;
                        let broken = check(&problem, &moved, &found.people);
                        let late = broken.iter().any(|broken| matches!(broken,
                            schedule::check::Violation::TooEarly { .. } | schedule::check::Violation::TooLate { .. }
                            | schedule::check::Violation::LagTooShort { .. } | schedule::check::Violation::LagTooLong { .. }));
                        prop_assert!(!late, "free to move by {shift}, but {broken:?}");
                    }
                }
            }
            Outcome::Impossible(clash) => {
                prop_assert!(truth.best.is_none(), "called impossible by {clash:?}");
                prop_assert!(!clash.facts.is_empty());
            }
            Outcome::NotFound(clash) => prop_assert!(!clash.facts.is_empty()),
        }
    }

    #[test]
    fn the_same_seed_gives_the_same_answer(problem in every::problem(), seed in 0..5_u64) {
        prop_assert_eq!(answer(&problem, seed), answer(&problem, seed));
    }

    #[test]
    fn one_more_person_never_makes_it_impossible(problem in every::problem(), more in every::person()) {
        if let Outcome::Found(_) = answer(&problem, 1) {
            let mut larger = problem.clone();
            larger.people.push(more);
            prop_assert!(!matches!(answer(&larger, 1), Outcome::Impossible(_)));
        }
    }
}

/// The value, where nothing better exists.
fn proved_value(problem: &Problem) -> Option<f64> {
    match answer(problem, 1) {
        Outcome::Found(found) if found.proved => Some(found.value),
        _ => None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn one_more_person_never_makes_the_best_dearer(problem in every::problem(), more in every::person()) {
        let mut larger = problem.clone();
        larger.people.push(more);
        if let (Some(before), Some(after)) = (proved_value(&problem), proved_value(&larger)) {
            prop_assert!(after <= before + 1e-6, "{before} became {after}");
        }
    }

    #[test]
    fn more_room_in_a_machine_never_makes_the_best_dearer(problem in every::problem(), more in 1..3_i64) {
        let mut larger = problem.clone();
        for machine in &mut larger.machines {
            machine.capacity += more;
            machine.unavailable.clear();
        }
        if let (Some(before), Some(after)) = (proved_value(&problem), proved_value(&larger)) {
            prop_assert!(after <= before + 1e-6, "{before} became {after}");
        }
    }

    #[test]
    fn pinning_the_schedule_returns_it(problem in every::problem()) {
        if let Outcome::Found(found) = answer(&problem, 1) {
            let mut pinned = problem.clone();
            for (task, &at) in pinned.tasks.iter_mut().zip(&found.start) {
                (task.earliest, task.latest) = (at, at);
            }
            let Outcome::Found(again) = answer(&pinned, 2) else {
                return Err(TestCaseError::fail("the schedule pinned was not found again"));
            };
            prop_assert_eq!(again.start, found.start);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn larger_work_passes_the_checker(
        chains in 1..12_usize, days in 6..12_i64, people in 2..8_usize, spread in 0..1_000_u64, kind in 0..3_usize
    ) {
        let make = [kitchens::chains, kitchens::late_chains, kitchens::tied_chains][kind];
        let problem = make(chains, days, people, spread);
        match answer(&problem, spread) {
            Outcome::Found(found) => {
                prop_assert_eq!(check(&problem, &found.start, &found.people), vec![]);
                prop_assert!(found.bound <= found.value + 1e-6);
                for task in 0..problem.tasks.len() {
                    prop_assert!((found.earliest[task]..=found.latest[task]).contains(&found.start[task]));
                }
            }
            Outcome::Impossible(clash) | Outcome::NotFound(clash) => prop_assert!(!clash.facts.is_empty()),
        }
    }
}

/// How often the search misses: on a fixed sample, how many problems that have a schedule were not solved, and how
/// many solved ones were not solved at the least value. Measured here: none missed, 2 of 582 dearer; the limits
/// are none and one in a hundred.
#[test]
fn most_small_problems_are_solved_at_their_best() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut solvable, mut missed, mut dearer, mut proved_none, mut none) = (0, 0, 0, 0, 0);
    for _ in 0..2_000 {
        let problem = every::problem()
            .new_tree(&mut runner)
            .expect("a tree")
            .current();
        let truth = every::truth(&problem);
        match (truth.best, answer(&problem, 1)) {
            (Some(best), Outcome::Found(found)) => {
                solvable += 1;
                dearer += usize::from(found.value > best + 1e-6);
            }
            (Some(_), _) => {
                solvable += 1;
                missed += 1;
            }
            (None, Outcome::Impossible(_)) => {
                none += 1;
                proved_none += 1;
            }
            (None, _) => none += 1,
        }
    }
    println!(
        "{solvable} solvable, {missed} missed, {dearer} dearer than best; {none} unsolvable, {proved_none} proved"
    );
    assert!(solvable > 500, "the sample says something");
    assert_eq!(missed, 0);
    assert!(
        100 * dearer <= solvable,
        "{dearer} of {solvable} are dearer than need be"
    );
}
