//! What no schedule can undercut, and how far each task may move.

use std::collections::BTreeMap;

use crate::model::{Model, Need};
use crate::network::Windows;
use crate::problem::Minute;

/// Sum over the tasks of the least price inside its window: minutes away from the wish, and the overtime that the
/// cheapest fitting people would have there. Tasks are looked at one by one, so their sum holds for all together.
pub(crate) fn lower_bound(model: &Model<'_>, windows: &Windows) -> f64 {
    let mut corners = BTreeMap::new();
    (0..model.jobs.len()).fold(0.0, |sum, task| {
        let window = (windows.low[task], windows.high[task]);
        let by_wish = nearest_wish(model, task, window);
        match model.jobs[task].need {
            Some(need) if model.problem.overtime_weight > 0.0 => {
                let duration = model.jobs[task].duration;
                let corners = corners
                    .entry((need.class, duration))
                    .or_insert_with(|| corners_of(model, need.class, duration));
                sum + with_overtime(model, task, need, window, corners).unwrap_or(by_wish)
            }
            _ => sum + by_wish,
        }
    })
}

/// The least price of the wish alone, at a start the calendars allow.
fn nearest_wish(model: &Model<'_>, task: usize, (low, high): (Minute, Minute)) -> f64 {
    let near = model.target[task].unwrap_or(low).clamp(low, high);
    [model.snap_up(task, near), model.snap_down(task, near)]
        .into_iter()
        .flatten()
        .filter(|&at| at >= low && at <= high)
        .map(|at| model.wish_cost(task, at))
        .fold(f64::INFINITY, f64::min)
}

/// Starts at which somebody's overtime for a task of this length changes its slope, ascending.
fn corners_of(model: &Model<'_>, class: usize, duration: Minute) -> Vec<Minute> {
    let mut corners: Vec<Minute> = Vec::new();
    for &person in &model.classes[class] {
        let hours = &model.hours[person];
        for span in hours.regular.iter().chain(&hours.all) {
            corners.extend([
                span.start,
                span.start - duration,
                span.end,
                span.end - duration,
            ]);
        }
    }
    corners.sort_unstable();
    corners.dedup();
    corners
}

/// The least price of wish and overtime together; `None` when no crew is ever there.
///
/// Between two neighbouring corners every person's overtime, and the wish, are straight lines, and the cheapest crew
/// is a minimum of sums of them; so the least price stands at a corner, at the wish, or at an end of the window.
fn with_overtime(
    model: &Model<'_>,
    task: usize,
    need: Need,
    (low, high): (Minute, Minute),
    corners: &[Minute],
) -> Option<f64> {
    let end = |at: Minute| at + model.jobs[task].duration;
    let mut least = f64::INFINITY;
    // False once the wish alone costs as much as the best found, after which further out nothing is cheaper.
    let mut look = |at: Minute| {
        let wish = model.wish_cost(task, at);
        if wish >= least {
            return false;
        }
        let mut overtime: Vec<Minute> = model.classes[need.class]
            .iter()
            .map(|&person| &model.hours[person])
            .filter(|hours| hours.cover(at, end(at)))
            .map(|hours| hours.overtime_in(at, end(at)))
            .collect();
        if overtime.len() >= need.count {
            overtime.sort_unstable();
            let minutes: Minute = overtime[..need.count].iter().sum();
            least = least.min(wish + model.problem.overtime_weight * minutes as f64);
        }
        true
    };
    let near = model.target[task].unwrap_or(low).clamp(low, high);
    for at in [near, low, high] {
        look(at);
    }
    let place = corners.partition_point(|&at| at < near);
    let (before, after) = corners.split_at(place);
    let _ = after
        .iter()
        .take_while(|&&at| at <= high)
        .all(|&at| look(at));
    let _ = before
        .iter()
        .rev()
        .take_while(|&&at| at >= low)
        .all(|&at| look(at));
    least.is_finite().then_some(least)
}

/// How far each task may move earlier and later while all others stay, by lags and its own bounds.
pub(crate) fn free(model: &Model<'_>, start: &[Minute]) -> Vec<(Minute, Minute)> {
    (0..model.jobs.len())
        .map(|task| {
            let job = &model.jobs[task];
            let mut earlier = start[task] - job.earliest;
            let mut later = job.latest - start[task];
            for &index in &model.reaching[task] {
                let arc = model.arcs[index as usize];
                if arc.from != task {
                    earlier = earlier.min(start[task] - start[arc.from] - arc.weight);
                }
            }
            for &index in &model.leaving[task] {
                let arc = model.arcs[index as usize];
                if arc.to != task {
                    later = later.min(start[arc.to] - start[task] - arc.weight);
                }
            }
            (earlier, later)
        })
        .collect()
}
