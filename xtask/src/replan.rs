//! Re-plans of a kitchen in the middle of its week, timed: what is over is pinned, one thing goes wrong, everything else
//! wishes to stay where it was.

use std::time::{Duration, Instant};

use schedule::{Effort, Lean, Minute, Outcome, Problem, Schedule, solve};

/// Time the plan before the mishap is looked for.
const BEFORE: Duration = Duration::from_secs(5);
/// Minutes the mishap takes.
const MISHAP: Minute = 40;
/// Marks at which the best value so far is told, seconds.
pub const MARKS: [f64; 3] = [0.3, 1.0, 2.0];

/// What one re-plan measured.
pub struct Replanned {
    /// Tasks, and how many of them were over or under way.
    pub tasks: usize,
    /// Pinned of them.
    pub pinned: usize,
    /// Seconds to the first valid plan; `None` when there was none.
    pub first: Option<f64>,
    /// Best value at each mark.
    pub at: [Option<f64>; 3],
    /// Best value of the whole time, and whether it is proved.
    pub best: Option<(f64, bool)>,
    /// Seconds until it stopped.
    pub seconds: f64,
}

/// Pins what starts before `now`, lets one task under way (or the last that ended) take 40 minutes longer, and wishes
/// everything else to stay.
fn mishap(problem: &Problem, plan: &Schedule, now: Minute) -> (Problem, usize) {
    let mut new = problem.clone();
    let mut pinned = 0;
    let mut last: Option<usize> = None;
    for (i, task) in new.tasks.iter_mut().enumerate() {
        let start = plan.start[i];
        if start < now {
            pinned += 1;
            let end = start + task.duration;
            // The one with the latest end among those begun runs over.
            if task.crew.is_some() && last.is_none_or(|l| plan.start[l] < start) {
                last = Some(i);
            }
            (task.earliest, task.latest) = (start, start);
            (task.lean, task.weight) = (Lean::Indifferent, 0.0);
            if end <= now {
                task.crew = None;
            }
        } else {
            task.earliest = task.earliest.max(now);
            (task.lean, task.weight) = (Lean::Toward(start), 1.0);
        }
    }
    if let Some(last) = last {
        new.tasks[last].duration += MISHAP;
        // It happened: nobody is asked whether it fitted their hours.
        new.tasks[last].crew = None;
    }
    let fixed = |task: usize| plan.start[task] < now;
    for link in &mut new.links {
        if fixed(link.from.task) && fixed(link.to.task) {
            (link.min, link.max) = (-1_000_000, None);
        }
    }
    new.occupancies
        .retain(|o| !(fixed(o.from.task) && fixed(o.to.task)));
    (new, pinned)
}

/// Plans a kitchen, lets something go wrong at `now`, and times the re-plan for at most `limit`.
pub fn replanned(problem: &Problem, now: Minute, limit: Duration) -> Result<Replanned, String> {
    let effort = Effort {
        steps: u64::MAX / 4,
        ..Effort::standard()
    };
    let begun = Instant::now();
    let plan = match solve(problem, &effort, &mut |_| begun.elapsed() < BEFORE) {
        Ok(Outcome::Found(plan)) => plan,
        Ok(_) => return Err("no plan to begin with".to_owned()),
        Err(malformed) => return Err(malformed.to_string()),
    };
    let (problem, pinned) = mishap(problem, &plan, now);
    let begun = Instant::now();
    let mut first = None;
    let mut at = [None; 3];
    let outcome = solve(&problem, &effort, &mut |progress| {
        let elapsed = begun.elapsed().as_secs_f64();
        if progress.best.is_some() && first.is_none() {
            first = Some(elapsed);
        }
        for (mark, value) in MARKS.iter().zip(&mut at) {
            if elapsed <= *mark {
                *value = progress.best.or(*value);
            }
        }
        begun.elapsed() < limit
    })
    .map_err(|malformed| malformed.to_string())?;
    let seconds = begun.elapsed().as_secs_f64();
    let best = match &outcome {
        Outcome::Found(found) => {
            let broken = schedule::check::check(&problem, &found.start, &found.people);
            if !broken.is_empty() {
                return Err(format!("the schedule breaks rules: {broken:?}"));
            }
            first = first.or(Some(seconds));
            // Ended before a mark: the end is its value.
            for (mark, value) in MARKS.iter().zip(&mut at) {
                if seconds <= *mark {
                    *value = Some(found.value);
                }
            }
            Some((found.value, found.proved))
        }
        _ => None,
    };
    Ok(Replanned {
        tasks: problem.tasks.len(),
        pinned,
        first,
        at,
        best,
        seconds,
    })
}
