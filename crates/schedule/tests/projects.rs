//! Open project scheduling problems whose best makespans are known.
// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod kitchens;
#[path = "projects/mod.rs"]
mod published;

use published::{PSP1, PSP3, PSP25, Project};
use schedule::check::check;
use schedule::{Effort, Fact, Outcome, solve};

fn answer(project: &Project) -> Outcome {
    solve(&project.problem(), &Effort::standard(), &mut |_| true).expect("well formed")
}

#[test]
fn published_makespans_are_reached_and_proved() {
    for project in [&PSP1, &PSP25] {
        let Outcome::Found(found) = answer(project) else {
            panic!("a schedule is published")
        };
        let last = project.activities.len() - 1;
        assert_eq!(Some(found.start[last]), project.best);
        assert!(found.proved, "bound {} of {}", found.bound, found.value);
        assert_eq!(
            check(&project.problem(), &found.start, &found.people),
            vec![]
        );
    }
}

#[test]
fn two_cores_give_the_same_answer_every_time() {
    let crowded = kitchens::tied_chains(6, 8, 3, 1);
    let once = |problem| solve(problem, &Effort::standard(), &mut |_| true);
    assert_eq!(once(&crowded), once(&crowded));
    for project in [&PSP1, &PSP3, &PSP25] {
        assert_eq!(answer(project), answer(project));
    }
}

#[test]
fn a_project_without_a_schedule_names_work_that_clashes() {
    let Outcome::Impossible(clash) = answer(&PSP3) else {
        panic!("none is published")
    };
    assert!(PSP3.best.is_none());
    // What is named must itself clash: with all other claims on resources taken away there is still no schedule.
    let mut less = PSP3.problem();
    let named: Vec<usize> = clash
        .facts
        .iter()
        .flat_map(|fact| match fact {
            Fact::NoOrder { occupancies, .. } | Fact::MachineFull { occupancies, .. } => {
                occupancies.clone()
            }
            _ => vec![],
        })
        .collect();
    let mut index = 0;
    less.occupancies.retain(|_| {
        index += 1;
        named.contains(&(index - 1))
    });
    assert!(matches!(
        solve(&less, &Effort::standard(), &mut |_| true),
        Ok(Outcome::Impossible(_))
    ));
    // And when it says each is needed, each is.
    if let Some(Fact::NoOrder {
        occupancies,
        minimal: true,
        ..
    }) = clash.facts.first()
    {
        for &out in occupancies {
            let mut less = PSP3.problem();
            let mut index = 0;
            less.occupancies.retain(|_| {
                index += 1;
                index - 1 != out && occupancies.contains(&(index - 1))
            });
            assert!(matches!(
                solve(&less, &Effort::standard(), &mut |_| true),
                Ok(Outcome::Found(_))
            ));
        }
    }
    // What only tells where a search gave up is no part of a proof.
    let given_up = |fact: &Fact| matches!(fact, Fact::NotPlaced { .. });
    assert!(!clash.facts.iter().any(given_up));
}
