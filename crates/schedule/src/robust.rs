//! How a schedule stands up to work that takes longer or shorter than planned.
//!
//! Durations are drawn between their limits, and the day is lived through once for each draw by *right shift*: nothing
//! starts before its planned start; everything keeps its crew and its order on people and machines; what is late
//! pushes what follows. A draw is *met* when every start still lies within its bounds, no most lag is broken, and
//! nobody works beyond their hours. Nobody re-plans in a draw, so the chance told is that of a kitchen that follows the
//! plan blindly: one that re-plans does no worse. Work done early is not carried on before its planned end: what may
//! follow within a most lag counts it from there, since whoever is early can go on early.

use std::collections::BTreeSet;

use crate::calendar::Hours;
use crate::dice::Dice;
use crate::outcome::Schedule;
use crate::problem::{Edge, MachineKind, Minute, Point, Problem};

/// How long a task may really take: between `least` and `most` minutes, around its usual length (a triangle). A plan may
/// give it longer than usual: that is slack bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spread {
    /// Index into [`Problem::tasks`].
    pub task: usize,
    /// At least this long.
    pub least: Minute,
    /// Most often this long; from `least` to `most`.
    pub usual: Minute,
    /// At most this long.
    pub most: Minute,
}

/// What the draws say.
#[derive(Debug, Clone, PartialEq)]
pub struct Robustness {
    /// Draws made.
    pub draws: usize,
    /// Of them, those in which every rule was still kept.
    pub met: usize,
    /// `met / draws`; for no draws 0.
    pub chance: f64,
    /// One standard error of `chance` (of a binomial count): twice it either way holds the true chance about 19
    /// times in 20. At a chance of 0 or 1 it is 0 and says nothing; then one part in `draws` is the better guide.
    pub error: f64,
    /// Tasks whose length, other than planned, led to a rule being broken; with in how many draws, the worst first.
    pub threats: Vec<(usize, usize)>,
}

/// Why robustness could not be told.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NoRobustness {
    /// A spread out of order, below zero, or for no task.
    #[error(
        "spread of task number {task}: {least} to {most} minutes does not hold its usual length, is below zero or for no \
         task; give a least at or below the usual and a most at or above it, for a task that exists"
    )]
    BadSpread {
        /// The task.
        task: usize,
        /// Its least.
        least: Minute,
        /// Its most.
        most: Minute,
    },
    /// A schedule of another problem.
    #[error(
        "the schedule has {got} starts and crews, the problem {tasks} tasks; give a schedule of this problem"
    )]
    WrongLength {
        /// Starts or crews.
        got: usize,
        /// Tasks.
        tasks: usize,
    },
}

/// `start(to) >= start(from) + fixed + (length of from, if it counts) - (length of to, if it counts)`.
struct Push {
    from: Point,
    to: Point,
    fixed: Minute,
}

/// Lives through `draws` days. The same arguments give the same answer.
///
/// # Errors
/// [`NoRobustness`] when spreads or schedule do not belong to the problem.
pub fn robustness(
    problem: &Problem,
    schedule: &Schedule,
    spreads: &[Spread],
    draws: usize,
    seed: u64,
) -> Result<Robustness, NoRobustness> {
    let tasks = problem.tasks.len();
    for got in [schedule.start.len(), schedule.people.len()] {
        if got != tasks {
            return Err(NoRobustness::WrongLength { got, tasks });
        }
    }
    for &Spread {
        task,
        least,
        usual,
        most,
    } in spreads
    {
        if task >= tasks || least < 0 || least > usual || most < usual {
            return Err(NoRobustness::BadSpread { task, least, most });
        }
    }
    let pushes = pushes(problem, schedule);
    let hours: Vec<Hours> = problem.people.iter().map(Hours::of).collect();
    let mut dice = Dice::seeded(seed);
    let mut met = 0;
    let mut blamed = vec![0_usize; tasks];
    for _ in 0..draws {
        let mut length: Vec<Minute> = problem.tasks.iter().map(|task| task.duration).collect();
        for spread in spreads {
            length[spread.task] = triangle(&mut dice, spread);
        }
        let day = Day::lived(problem, schedule, &pushes, length);
        let broken = day.broken(problem, schedule, &hours);
        if broken.is_empty() {
            met += 1;
        }
        // Each task is blamed once a draw, however much it broke.
        let mut guilty = BTreeSet::new();
        for task in broken {
            guilty.extend(day.behind(problem, &pushes, task));
        }
        for task in guilty {
            blamed[task] += 1;
        }
    }
    let chance = if draws == 0 {
        0.0
    } else {
        met as f64 / draws as f64
    };
    let mut threats: Vec<(usize, usize)> = blamed
        .into_iter()
        .enumerate()
        .filter(|&(_, times)| times > 0)
        .collect();
    threats.sort_by_key(|&(task, times)| (std::cmp::Reverse(times), task));
    Ok(Robustness {
        draws,
        met,
        chance,
        error: (chance * (1.0 - chance) / draws.max(1) as f64).sqrt(),
        threats,
    })
}

/// A whole number of minutes from the triangle with its peak at the usual length.
fn triangle(dice: &mut Dice, spread: &Spread) -> Minute {
    let planned = spread.usual;
    let (least, most) = (spread.least as f64, spread.most as f64);
    let (below, width) = (planned as f64 - least, most - least);
    if width <= 0.0 {
        return planned;
    }
    let u = dice.fraction();
    let drawn = if u * width < below {
        least + (u * width * below).sqrt()
    } else {
        most - ((1.0 - u) * width * (most - planned as f64)).sqrt()
    };
    (drawn.round() as Minute).clamp(spread.least, spread.most)
}

/// Least lags, and the order the schedule has on people and machines.
fn pushes(problem: &Problem, schedule: &Schedule) -> Vec<Push> {
    let at = |point: Point| {
        schedule.start[point.task]
            + match point.edge {
                Edge::Start => 0,
                Edge::End => problem.tasks[point.task].duration,
            }
    };
    let mut pushes: Vec<Push> = problem
        .links
        .iter()
        .map(|link| Push {
            from: link.from,
            to: link.to,
            fixed: link.min,
        })
        .collect();
    let point = |task, edge| Point { task, edge };
    for second in 0..schedule.start.len() {
        for first in 0..schedule.start.len() {
            let together = schedule.people[first]
                .iter()
                .any(|person| schedule.people[second].contains(person));
            let (from, to) = (point(first, Edge::End), point(second, Edge::Start));
            if first != second
                && together
                && at(from) <= at(to)
                && at(point(first, Edge::Start)) < at(point(second, Edge::End))
            {
                pushes.push(Push { from, to, fixed: 0 });
            }
        }
    }
    for (place, second) in problem.occupancies.iter().enumerate() {
        for (other, first) in problem.occupancies.iter().enumerate() {
            if place == other || first.machine != second.machine || first.amount == 0 {
                continue;
            }
            let gap = match problem.machines[first.machine].kind {
                MachineKind::OneLoad { change_over } if first.load != second.load => change_over,
                _ => 0,
            };
            if at(first.to) + gap <= at(second.from) && at(first.from) < at(second.to) {
                pushes.push(Push {
                    from: first.to,
                    to: second.from,
                    fixed: gap,
                });
            }
        }
    }
    pushes
}

/// One day as it went.
struct Day {
    start: Vec<Minute>,
    length: Vec<Minute>,
    /// The push that set each start.
    by: Vec<Option<usize>>,
}

impl Day {
    fn lived(problem: &Problem, schedule: &Schedule, pushes: &[Push], length: Vec<Minute>) -> Self {
        let tasks = problem.tasks.len();
        let mut day = Self {
            start: schedule.start.clone(),
            by: vec![None; tasks],
            length,
        };
        // Each pass settles at least one more task along every chain; a cycle that cannot settle is broken below.
        for _ in 0..=tasks {
            let mut moved = false;
            for (index, push) in pushes.iter().enumerate() {
                let needed = day.at(push.from) + push.fixed;
                if needed > day.at(push.to) {
                    day.start[push.to.task] += needed - day.at(push.to);
                    day.by[push.to.task] = Some(index);
                    moved = true;
                }
            }
            if !moved {
                break;
            }
        }
        day
    }

    fn at(&self, point: Point) -> Minute {
        self.start[point.task]
            + match point.edge {
                Edge::Start => 0,
                Edge::End => self.length[point.task],
            }
    }

    /// Tasks at which a rule is broken.
    fn broken(&self, problem: &Problem, schedule: &Schedule, hours: &[Hours]) -> Vec<usize> {
        let mut broken = Vec::new();
        for (task, spec) in problem.tasks.iter().enumerate() {
            let (from, to) = (self.start[task], self.start[task] + self.length[task]);
            let there =
                |&person: &usize| hours.get(person).is_some_and(|hours| hours.cover(from, to));
            // A longer task may not push its own end past what its latest start allowed for.
            let due = spec.latest + spec.duration;
            if from > spec.latest || to > due || !schedule.people[task].iter().all(there) {
                broken.push(task);
            }
        }
        for link in &problem.links {
            let lag = self.at(link.to) - self.at(link.from);
            // Done early, it is ready and waits: a most lag counts from the planned moment.
            let planned = schedule.start[link.from.task]
                + match link.from.edge {
                    Edge::Start => 0,
                    Edge::End => problem.tasks[link.from.task].duration,
                };
            let since = self.at(link.to) - self.at(link.from).max(planned);
            if lag < link.min || link.max.is_some_and(|max| since > max) {
                broken.push(link.to.task);
            }
        }
        for hold in &problem.occupancies {
            let (from, to) = (self.at(hold.from), self.at(hold.to));
            let shut = problem.machines.get(hold.machine).is_some_and(|machine| {
                machine
                    .unavailable
                    .iter()
                    .any(|span| span.start < to && from < span.end)
            });
            if from < to && shut {
                broken.push(hold.to.task);
            }
        }
        broken
    }

    /// The tasks of another length than planned on the chain that put a task where it is; itself too.
    fn behind(&self, problem: &Problem, pushes: &[Push], task: usize) -> Vec<usize> {
        let mut guilty = Vec::new();
        let mut seen = BTreeSet::new();
        let mut at = task;
        while seen.insert(at) {
            if self.length[at] != problem.tasks[at].duration {
                guilty.push(at);
            }
            let Some(index) = self.by[at] else { break };
            at = pushes[index].from.task;
        }
        guilty
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outcome::{Effort, Outcome};
    use crate::problem::{Lean, Link, Task};
    use crate::solve;

    fn task(duration: Minute, latest: Minute) -> Task {
        Task {
            id: "t".into(),
            what: "work".into(),
            duration,
            crew: None,
            earliest: 0,
            latest,
            why_earliest: String::new(),
            why_latest: String::new(),
            lean: Lean::Early,
            weight: 1.0,
        }
    }

    /// Two tasks in a row; the second has `slack` minutes.
    fn row(slack: Minute) -> (Problem, Schedule) {
        let problem = Problem {
            tasks: vec![task(60, 0), task(10, 60 + slack)],
            links: vec![Link {
                from: Point {
                    task: 0,
                    edge: Edge::End,
                },
                to: Point {
                    task: 1,
                    edge: Edge::Start,
                },
                min: 0,
                max: None,
                why: String::new(),
            }],
            ..Problem::default()
        };
        match solve(&problem, &Effort::standard(), &mut |_| true) {
            Ok(Outcome::Found(found)) => (problem, found),
            other => panic!("it fits: {other:?}"),
        }
    }

    /// The first task takes 40 to 100 minutes around 60: a triangle. Its bound on the end is 60, so without a bound of its
    /// own it would be late whenever it runs over; it is given room.
    fn spread() -> [Spread; 1] {
        [Spread {
            task: 0,
            least: 40,
            usual: 60,
            most: 100,
        }]
    }

    #[test]
    fn the_chance_is_that_of_the_triangle() {
        // P(length <= 80) = 1 - (100 - 80)^2 / ((100 - 40) (100 - 60)) = 1 - 400 / 2400, from the triangle's distribution
        // function (textbook, from memory); rounding to minutes moves the border by half a minute.
        let (mut problem, schedule) = row(20);
        problem.tasks[0].latest = 100;
        let told = robustness(&problem, &schedule, &spread(), 20_000, 1).expect("fits");
        let exact = 1.0 - 19.5 * 19.5 / 2_400.0;
        assert!(
            (told.chance - exact).abs() < 4.0 * told.error,
            "{told:?} against {exact}"
        );
        assert_eq!(told.threats, vec![(0, told.draws - told.met)]);
    }

    #[test]
    fn with_room_for_the_longest_nothing_threatens() {
        let (mut problem, schedule) = row(40);
        problem.tasks[0].latest = 100;
        let told = robustness(&problem, &schedule, &spread(), 500, 1).expect("fits");
        assert_eq!((told.met, told.threats), (500, vec![]));
    }

    #[test]
    fn more_slack_never_lowers_the_chance_for_the_same_seed() {
        let mut before = 0;
        for slack in 0..45 {
            let (mut problem, schedule) = row(slack);
            problem.tasks[0].latest = 100;
            let told = robustness(&problem, &schedule, &spread(), 300, 7).expect("fits");
            assert!(told.met >= before, "slack {slack}");
            before = told.met;
        }
    }

    #[test]
    fn what_follows_at_once_on_work_done_early_keeps_the_rule() {
        let (mut problem, schedule) = row(0);
        problem.links[0].max = Some(0);
        let early = [Spread {
            task: 0,
            least: 40,
            usual: 60,
            most: 60,
        }];
        let told = robustness(&problem, &schedule, &early, 200, 3).expect("fits");
        assert_eq!((told.met, told.threats), (200, vec![]));
    }

    #[test]
    fn time_planned_beyond_the_usual_is_slack() {
        let (mut problem, _) = row(45);
        problem.tasks[0].latest = 0;
        let mut chance = Vec::new();
        for planned in [60, 80, 100] {
            problem.tasks[0].duration = planned;
            let Ok(Outcome::Found(found)) = solve(&problem, &Effort::standard(), &mut |_| true)
            else {
                panic!("it fits")
            };
            chance.push(
                robustness(&problem, &found, &spread(), 2_000, 5)
                    .expect("fits")
                    .met,
            );
        }
        // Its end may be no later than planned: at 100 minutes planned it never is.
        assert!(
            chance[0] < chance[1] && chance[1] < chance[2] && chance[2] == 2_000,
            "{chance:?}"
        );
    }

    #[test]
    fn a_spread_that_misses_its_usual_length_is_refused() {
        let (problem, schedule) = row(20);
        let wrong = [Spread {
            task: 0,
            least: 70,
            usual: 60,
            most: 100,
        }];
        assert!(matches!(
            robustness(&problem, &schedule, &wrong, 10, 1),
            Err(NoRobustness::BadSpread { task: 0, .. })
        ));
    }
}
