//! Three projects with least and most lags, as figures.
//!
//! # Source
//! Set UBO20 of the generator ProGen/max (C. Schwindt), instances 1, 3 and 25, with the values published with the set: *read*
//! as data files; lags run from start to start, those below zero are most lags, the makespan is the start of the last.
#![allow(dead_code, unreachable_pub)]

use schedule::{Lean, Machine, MachineKind, Problem};

use crate::kitchens::{end_of, hold, link, start_of, task};

pub struct Project {
    pub capacities: [i64; 5],
    /// Duration and use of each resource.
    pub activities: &'static [(i64, [i64; 5])],
    pub lags: &'static [(usize, usize, i64)],
    /// The least makespan; `None` when no schedule exists.
    pub best: Option<i64>,
}

impl Project {
    pub fn problem(&self) -> Problem {
        let last = self.activities.len() - 1;
        let mut problem = Problem::default();
        for (number, capacity) in self.capacities.into_iter().enumerate() {
            problem.machines.push(Machine {
                id: format!("resource {number}"),
                capacity,
                kind: MachineKind::Shared,
                unavailable: vec![],
            });
        }
        let horizon: i64 = (0..=last)
            .map(|at| {
                let longest = self.lags.iter().filter(|lag| lag.0 == at).map(|lag| lag.2);
                longest.chain([self.activities[at].0]).max().unwrap_or(0)
            })
            .sum();
        for (at, &(duration, uses)) in self.activities.iter().enumerate() {
            let latest = if at == 0 { 0 } else { horizon };
            let mut task = task(&format!("activity {at}"), duration, None, 0, latest);
            if at != last {
                task.lean = Lean::Indifferent;
            }
            problem.tasks.push(task);
            for (machine, amount) in uses.into_iter().enumerate() {
                if amount > 0 {
                    let taken = hold(machine, amount, start_of(at), end_of(at), 0);
                    problem.occupancies.push(taken);
                }
            }
        }
        for &(from, to, lag) in self.lags {
            let lag = link(start_of(from), start_of(to), lag, None, "as published");
            problem.links.push(lag);
        }
        problem
    }
}

/// UBO20 psp1: best makespan 103.
pub const PSP1: Project = Project {
    capacities: [10, 10, 10, 10, 10],
    activities: &[
        (0, [0, 0, 0, 0, 0]),
        (4, [0, 10, 8, 6, 0]),
        (7, [4, 6, 4, 3, 4]),
        (5, [2, 2, 1, 2, 8]),
        (3, [4, 10, 7, 0, 0]),
        (2, [9, 0, 0, 0, 1]),
        (9, [0, 3, 0, 10, 10]),
        (2, [2, 0, 0, 1, 0]),
        (6, [2, 0, 3, 0, 3]),
        (8, [0, 4, 2, 0, 8]),
        (4, [0, 4, 10, 0, 0]),
        (6, [10, 10, 10, 5, 3]),
        (4, [1, 3, 6, 1, 2]),
        (4, [7, 3, 3, 9, 6]),
        (1, [10, 4, 6, 7, 5]),
        (9, [5, 8, 1, 0, 3]),
        (8, [2, 4, 2, 4, 7]),
        (8, [6, 4, 0, 8, 4]),
        (2, [0, 0, 3, 1, 10]),
        (8, [6, 1, 9, 5, 3]),
        (4, [1, 0, 1, 3, 0]),
        (0, [0, 0, 0, 0, 0]),
    ],
    lags: &[
        (0, 3, 0),
        (0, 1, 0),
        (0, 2, 0),
        (1, 10, 12),
        (1, 16, 3),
        (2, 17, 17),
        (2, 20, 1),
        (3, 15, 12),
        (4, 12, 3),
        (5, 8, 4),
        (5, 7, 4),
        (6, 10, 4),
        (6, 17, -24),
        (6, 20, 17),
        (7, 18, 1),
        (8, 7, 10),
        (9, 15, -27),
        (9, 19, 19),
        (10, 6, -55),
        (10, 20, 8),
        (11, 3, -52),
        (11, 15, -48),
        (11, 18, 9),
        (11, 5, 1),
        (12, 2, -47),
        (12, 6, 4),
        (12, 18, -35),
        (13, 17, 5),
        (14, 20, 2),
        (14, 16, -11),
        (14, 10, 2),
        (14, 1, -14),
        (15, 9, 9),
        (16, 1, -5),
        (16, 10, 2),
        (16, 20, 21),
        (16, 14, 9),
        (17, 4, -4),
        (18, 6, -1),
        (18, 12, 4),
        (18, 13, 2),
        (19, 15, -42),
        (19, 10, 23),
        (19, 11, -7),
        (20, 18, -49),
        (20, 12, -62),
        (20, 21, 4),
    ],
    best: Some(103),
};

/// UBO20 psp3: no schedule.
pub const PSP3: Project = Project {
    capacities: [9, 10, 10, 10, 10],
    activities: &[
        (0, [0, 0, 0, 0, 0]),
        (9, [7, 0, 8, 0, 1]),
        (1, [3, 6, 0, 10, 9]),
        (3, [1, 4, 4, 3, 3]),
        (6, [8, 0, 2, 2, 2]),
        (8, [8, 4, 10, 10, 2]),
        (10, [2, 1, 3, 6, 9]),
        (2, [2, 0, 2, 0, 6]),
        (5, [5, 2, 10, 10, 8]),
        (9, [9, 10, 5, 4, 5]),
        (6, [6, 10, 4, 10, 2]),
        (3, [3, 2, 10, 6, 10]),
        (4, [7, 4, 8, 0, 0]),
        (6, [8, 7, 6, 7, 10]),
        (4, [6, 0, 9, 2, 0]),
        (10, [4, 4, 3, 5, 8]),
        (9, [0, 0, 4, 0, 1]),
        (8, [7, 9, 0, 0, 0]),
        (10, [0, 0, 0, 8, 0]),
        (2, [9, 0, 0, 0, 6]),
        (7, [5, 0, 2, 3, 0]),
        (0, [0, 0, 0, 0, 0]),
    ],
    lags: &[
        (0, 18, 0),
        (0, 13, 0),
        (0, 1, 0),
        (0, 2, 0),
        (0, 10, 0),
        (0, 9, 0),
        (1, 9, -8),
        (2, 1, -23),
        (2, 16, 2),
        (2, 9, -50),
        (2, 13, -46),
        (3, 10, -72),
        (3, 5, -71),
        (3, 15, 7),
        (3, 6, 4),
        (3, 19, 0),
        (4, 3, 17),
        (4, 7, 0),
        (5, 4, 4),
        (6, 15, 6),
        (6, 17, 0),
        (6, 10, -65),
        (7, 10, -84),
        (7, 11, 0),
        (7, 3, 0),
        (7, 6, 4),
        (7, 20, 0),
        (8, 12, 4),
        (9, 13, -8),
        (9, 11, 23),
        (10, 5, -2),
        (11, 17, 2),
        (11, 6, -93),
        (12, 6, -54),
        (12, 17, 6),
        (12, 11, -1),
        (13, 20, 7),
        (13, 2, 15),
        (14, 6, -64),
        (14, 8, 9),
        (15, 20, -9),
        (15, 14, 0),
        (15, 8, -4),
        (15, 11, 1),
        (15, 17, 0),
        (16, 18, -6),
        (16, 11, 19),
        (16, 10, -5),
        (16, 9, -46),
        (16, 5, 12),
        (17, 3, -81),
        (17, 21, 8),
        (18, 16, -18),
        (18, 13, -29),
        (18, 21, 10),
        (19, 21, 2),
        (20, 21, 7),
    ],
    best: None,
};

/// UBO20 psp25: best makespan 39.
pub const PSP25: Project = Project {
    capacities: [15, 19, 24, 19, 19],
    activities: &[
        (0, [0, 0, 0, 0, 0]),
        (1, [0, 7, 10, 2, 0]),
        (1, [3, 8, 8, 1, 5]),
        (3, [4, 10, 0, 7, 0]),
        (3, [9, 3, 0, 3, 0]),
        (4, [3, 0, 6, 2, 9]),
        (9, [0, 2, 10, 0, 2]),
        (1, [1, 7, 9, 1, 6]),
        (1, [1, 0, 7, 5, 5]),
        (1, [0, 2, 0, 0, 5]),
        (5, [6, 5, 6, 2, 10]),
        (7, [8, 2, 7, 2, 9]),
        (7, [5, 0, 5, 6, 1]),
        (8, [4, 3, 0, 9, 1]),
        (5, [0, 10, 0, 1, 0]),
        (6, [4, 0, 2, 2, 2]),
        (10, [1, 8, 9, 1, 5]),
        (1, [7, 5, 1, 1, 0]),
        (4, [1, 0, 4, 0, 3]),
        (2, [0, 0, 0, 7, 5]),
        (8, [2, 3, 7, 10, 9]),
        (0, [0, 0, 0, 0, 0]),
    ],
    lags: &[
        (0, 3, 0),
        (0, 2, 0),
        (0, 6, 0),
        (0, 4, 0),
        (0, 1, 0),
        (1, 13, 3),
        (2, 18, 0),
        (2, 20, 0),
        (2, 16, 0),
        (3, 5, 8),
        (3, 17, 0),
        (4, 14, -1),
        (4, 13, 9),
        (4, 10, 4),
        (5, 7, 2),
        (5, 21, 4),
        (6, 20, 3),
        (7, 12, 3),
        (7, 21, 1),
        (8, 11, 2),
        (9, 4, -17),
        (9, 13, -11),
        (9, 19, 0),
        (10, 15, 4),
        (11, 18, 7),
        (12, 17, -5),
        (12, 5, -11),
        (12, 21, 7),
        (13, 9, 1),
        (13, 17, 21),
        (13, 4, -11),
        (14, 8, 10),
        (15, 14, 4),
        (16, 6, -5),
        (16, 21, 10),
        (17, 12, -20),
        (17, 21, 1),
        (17, 3, -16),
        (18, 21, 4),
        (19, 21, 2),
        (20, 21, 8),
    ],
    best: Some(39),
};
