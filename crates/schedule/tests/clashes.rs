//! A clash of lags and bounds holds together, and falls apart when any one of its facts is left out.
// Shared setting-up code of tests, where a failed assumption should stop the test.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod every;

use proptest::prelude::*;
use schedule::{Edge, Effort, Fact, Minute, Outcome, Point, Problem, Side, solve};

const FAR: Minute = 100_000;

/// Whether facts about lags, bounds and hold order contradict each other: all shortest paths, Floyd and Warshall's way.
fn contradict(problem: &Problem, facts: &[Fact]) -> bool {
    let count = problem.tasks.len() + 1;
    // distance[i][j]: start j is at most this much after start i; the last row and column are minute 0.
    let mut distance = vec![vec![FAR; count]; count];
    for (index, row) in distance.iter_mut().enumerate() {
        row[index] = 0;
    }
    let after = |point: Point| {
        if point.edge == Edge::End {
            problem.tasks[point.task].duration
        } else {
            0
        }
    };
    let mut at_most =
        |from: usize, to: usize, most: Minute| distance[from][to] = distance[from][to].min(most);
    for fact in facts {
        match fact {
            Fact::Link { link, side, .. } => {
                let link = &problem.links[*link];
                let shift = after(link.from) - after(link.to);
                match side {
                    Side::Least => at_most(link.to.task, link.from.task, -(link.min + shift)),
                    Side::Most => at_most(link.from.task, link.to.task, link.max.unwrap() + shift),
                }
            }
            Fact::TaskWindow {
                task,
                side: Side::Least,
                ..
            } => at_most(*task, count - 1, -problem.tasks[*task].earliest),
            Fact::TaskWindow {
                task,
                side: Side::Most,
                ..
            } => at_most(count - 1, *task, problem.tasks[*task].latest),
            Fact::HoldOrder { occupancy, .. } => {
                let hold = &problem.occupancies[*occupancy];
                at_most(
                    hold.to.task,
                    hold.from.task,
                    after(hold.to) - after(hold.from),
                );
            }
            other => panic!("not a fact about lags: {other:?}"),
        }
    }
    for via in 0..count {
        for from in 0..count {
            for to in 0..count {
                let around = distance[from][via] + distance[via][to];
                distance[from][to] = distance[from][to].min(around);
            }
        }
    }
    (0..count).any(|index| distance[index][index] < 0)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_clash_of_lags_needs_every_one_of_its_facts(mut problem in every::problem()) {
        // Calendars and machines out of the way, only lags and bounds are left to clash.
        for task in &mut problem.tasks {
            task.crew = None;
        }
        for machine in &mut problem.machines {
            (machine.capacity, machine.kind) = (1_000, schedule::MachineKind::Shared);
            machine.unavailable.clear();
        }
        let outcome = solve(&problem, &Effort { seed: 1, steps: 100_000 }, &mut |_| true).unwrap();
        let Outcome::Impossible(clash) = outcome else {
            prop_assert!(matches!(outcome, Outcome::Found(_)), "without people and machines nothing is left to fail");
            return Ok(());
        };
        prop_assert!(contradict(&problem, &clash.facts), "{:?}", clash.facts);
        for left_out in 0..clash.facts.len() {
            let mut fewer = clash.facts.clone();
            fewer.remove(left_out);
            prop_assert!(!contradict(&problem, &fewer), "{:?} is not needed in {:?}", clash.facts[left_out], clash.facts);
        }
    }
}
