//! Reads project scheduling problems with minimum and maximum lags (RCPSP/max) as the generator ProGen/max writes them.
//!
//! # Format
//! Second-hand: learned from the files themselves and their use in the literature. White space separates numbers.
//! 1. `n r 0 0`: activities between the dummy first (0) and last (n + 1), and renewable resources.
//! 2. n + 2 lines `i 1 k j1 .. jk [w1] .. [wk]`: start of j at least w after the start of i; below zero, a maximum lag.
//! 3. n + 2 lines `i 1 p u1 .. ur`: duration and use of each resource.
//! 4. `c1 .. cr`: capacities.
//!
//! The makespan is the start of the dummy last activity.

use schedule::{Edge, Lean, Link, Machine, MachineKind, Minute, Occupancy, Point, Problem, Task};
use thiserror::Error;

/// Why a file could not be read.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Unreadable {
    /// The file ends early.
    #[error("line {line}: the file ends where {expected} should stand")]
    Ends {
        /// Line reached.
        line: usize,
        /// What should come.
        expected: &'static str,
    },
    /// Something that is no number, or one that cannot be.
    #[error("line {line}: found \"{found}\" where {expected} should stand")]
    Found {
        /// Line of the mistake.
        line: usize,
        /// What stands there.
        found: String,
        /// What should.
        expected: &'static str,
    },
}

struct Words<'t> {
    words: Vec<(usize, &'t str)>,
    next: usize,
}

impl<'t> Words<'t> {
    fn of(text: &'t str) -> Self {
        let words = text
            .lines()
            .enumerate()
            .flat_map(|(line, text)| text.split_whitespace().map(move |word| (line + 1, word)))
            .collect();
        Self { words, next: 0 }
    }

    fn number(&mut self, expected: &'static str) -> Result<i64, Unreadable> {
        let Some(&(line, word)) = self.words.get(self.next) else {
            let line = self.words.last().map_or(1, |word| word.0);
            return Err(Unreadable::Ends { line, expected });
        };
        self.next += 1;
        let bare = word.strip_prefix('[').and_then(|w| w.strip_suffix(']'));
        bare.unwrap_or(word).parse().map_err(|_| Unreadable::Found {
            line,
            found: word.to_owned(),
            expected,
        })
    }

    /// A number from `least` to `most`.
    fn within(&mut self, least: i64, most: i64, expected: &'static str) -> Result<i64, Unreadable> {
        let number = self.number(expected)?;
        if (least..=most).contains(&number) {
            return Ok(number);
        }
        let (line, word) = self.words[self.next - 1];
        Err(Unreadable::Found {
            line,
            found: word.to_owned(),
            expected,
        })
    }
}

/// Largest number of activities, resources, lags or minutes a file may name.
const MOST: i64 = 1_000_000;

/// A file's problem for the product's engine: activities are tasks, resources are shared machines, the makespan is how
/// late the last one starts.
///
/// # Errors
/// [`Unreadable`], with the line, when the text is not of the format.
pub fn read(text: &str) -> Result<Problem, Unreadable> {
    let mut words = Words::of(text);
    let count = words.within(0, MOST, "the number of activities")? + 2;
    let resources = words.within(0, MOST, "the number of renewable resources")?;
    words.number("the number of other resources")?;
    words.number("the number of other resources")?;
    let mut links = Vec::new();
    let mut horizon = 0;
    let mut longest = vec![0; count as usize];
    for activity in 0..count {
        words.within(activity, activity, "the number of the activity")?;
        words.within(1, 1, "1, the only mode")?;
        let followers = words.within(0, MOST, "the number of lags")?;
        let mut to = Vec::new();
        for _ in 0..followers {
            to.push(words.within(0, count - 1, "the number of an activity")? as usize);
        }
        for to in to {
            let lag = words.within(-MOST, MOST, "a lag")?;
            longest[activity as usize] = lag.max(longest[activity as usize]);
            links.push(lag_between(activity as usize, to, lag));
        }
    }
    let mut tasks = Vec::new();
    let mut occupancies = Vec::new();
    for activity in 0..count {
        words.within(activity, activity, "the number of the activity")?;
        words.within(1, 1, "1, the only mode")?;
        let duration = words.within(0, MOST, "a duration")?;
        horizon += duration.max(longest[activity as usize]);
        for machine in 0..resources {
            let amount = words.within(0, MOST, "the use of a resource")?;
            if amount > 0 && duration > 0 {
                let point = |edge| Point {
                    task: activity as usize,
                    edge,
                };
                occupancies.push(Occupancy {
                    machine: machine as usize,
                    amount,
                    from: point(Edge::Start),
                    to: point(Edge::End),
                    load: 0,
                    what: format!("activity {activity}"),
                });
            }
        }
        tasks.push(task(activity, duration, activity == count - 1));
    }
    let mut machines = Vec::new();
    for machine in 0..resources {
        machines.push(Machine {
            id: format!("resource {machine}"),
            capacity: words.within(0, MOST, "a capacity")?,
            kind: MachineKind::Shared,
            unavailable: Vec::new(),
        });
    }
    // No schedule that leaves no gap without need is longer: each activity adds its length or its longest lag.
    for task in tasks.iter_mut().skip(1) {
        task.latest = horizon;
    }
    Ok(Problem {
        machines,
        tasks,
        links,
        occupancies,
        ..Problem::default()
    })
}

fn lag_between(from: usize, to: usize, lag: Minute) -> Link {
    let start = |task| Point {
        task,
        edge: Edge::Start,
    };
    Link {
        from: start(from),
        to: start(to),
        min: lag,
        max: None,
        why: format!("activity {to} starts at least {lag} after activity {from}"),
    }
}

fn task(activity: i64, duration: Minute, is_last: bool) -> Task {
    Task {
        id: activity.to_string(),
        what: format!("activity {activity}"),
        duration,
        crew: None,
        earliest: 0,
        latest: 0,
        why_earliest: "nothing starts before the project".into(),
        why_latest: "no schedule needs longer than all lengths and lags together".into(),
        lean: if is_last {
            Lean::Early
        } else {
            Lean::Indifferent
        },
        weight: if is_last { 1.0 } else { 0.0 },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use schedule::{Effort, Outcome, check::check, solve};

    /// Two activities of three minutes on one resource of one, the second at most one minute after the first began, or
    /// not so tied: invented here.
    fn text(lag: &str) -> String {
        format!(
            "2 1 0 0\n0 1 2 1 2 [0] [0]\n1 1 2 2 3 [{lag}] [3]\n2 1 1 3 [3]\n3 1 0\n0 1 0 0\n1 1 3 1\n2 1 3 1\n3 1 0 0\n1\n"
        )
    }

    fn answer(text: &str) -> Outcome {
        let problem = read(text).unwrap();
        let outcome = solve(&problem, &Effort::standard(), &mut |_| true).unwrap();
        if let Outcome::Found(found) = &outcome {
            assert_eq!(check(&problem, &found.start, &found.people), vec![]);
        }
        outcome
    }

    #[test]
    fn a_small_project_is_solved_at_its_best() {
        let Outcome::Found(found) = answer(&text("-9")) else {
            panic!("one after the other they fit")
        };
        assert!(found.proved);
        assert_eq!(found.start[3], 6);
    }

    #[test]
    fn lags_that_force_both_at_once_are_impossible() {
        let tied = text("0").replace("2 1 1 3 [3]", "2 1 2 3 1 [3] [-1]");
        assert!(matches!(answer(&tied), Outcome::Impossible(_)));
    }

    #[test]
    fn a_mistake_is_told_with_its_line() {
        let wrong = text("x");
        assert_eq!(
            read(&wrong),
            Err(Unreadable::Found {
                line: 3,
                found: "[x]".into(),
                expected: "a lag"
            })
        );
        assert!(matches!(
            read("2 1 0"),
            Err(Unreadable::Ends { line: 1, .. })
        ));
    }

    /// Where the open data is at hand: UBO20 as published (ProGen/max; read), every fourth line of the list.
    #[test]
    fn published_values_are_met_where_the_files_are_at_hand() {
        let folder = std::path::Path::new("/work/shared/data/rcpsp-max");
        let Ok(list) = std::fs::read_to_string(folder.join("ubo20-optimum.csv")) else {
            println!("no open data here: nothing compared");
            return;
        };
        let mut compared = 0;
        for line in list.lines().skip(1).step_by(4) {
            let (file, best) = line.split_once(',').unwrap();
            let text = std::fs::read_to_string(folder.join("ubo20").join(file)).unwrap();
            match (answer(&text), best.parse::<Minute>()) {
                (Outcome::Found(found), Ok(best)) => {
                    assert_eq!(found.start[found.start.len() - 1], best, "{file}");
                    assert!(found.proved, "{file}");
                }
                (Outcome::Impossible(_), Err(_)) => assert_eq!(best, "unsat", "{file}"),
                (outcome, _) => panic!("{file}: {best} is published, found {outcome:?}"),
            }
            compared += 1;
        }
        assert!(compared >= 11);
    }
}
