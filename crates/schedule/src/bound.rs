//! What no schedule can undercut, and how far each task may move.

use crate::model::Model;
use crate::network::Windows;
use crate::problem::Minute;

/// Sum over the tasks of the least price inside its window: minutes away from the wish, and the overtime that the
/// cheapest fitting people would have there. Tasks are looked at one by one, so their sum holds for all together.
pub(crate) fn lower_bound(model: &Model<'_>, windows: &Windows) -> f64 {
    (0..model.jobs.len()).map(|task| least_price(model, windows, task)).sum()
}

fn least_price(model: &Model<'_>, windows: &Windows, task: usize) -> f64 {
    let (low, high) = (windows.low[task], windows.high[task]);
    let nearest_wish = |from: Minute, to: Minute| {
        let target = model.target[task].unwrap_or(from);
        [model.snap_up(task, target.clamp(from, to)), model.snap_down(task, target.clamp(from, to))]
            .into_iter()
            .flatten()
            .filter(|&at| at >= from && at <= to)
            .map(|at| model.wish_cost(task, at))
            .fold(f64::INFINITY, f64::min)
    };
    let by_wish = nearest_wish(low, high);
    let Some(need) = model.jobs[task].need else { return by_wish };
    if model.problem.overtime_weight == 0.0 {
        return by_wish;
    }
    // Between two neighbouring corners every person's overtime, and the wish, are straight lines, and the cheapest
    // crew is a minimum of sums of them; so the least price stands at a corner.
    let duration = model.jobs[task].duration;
    let persons = &model.classes[need.class];
    let mut corners: Vec<Minute> = vec![low, high];
    corners.extend(model.target[task]);
    for &person in persons {
        let hours = &model.hours[person];
        for span in hours.regular.iter().chain(&hours.all) {
            corners.extend([span.start, span.start - duration, span.end, span.end - duration]);
        }
    }
    corners.sort_unstable();
    corners.dedup();
    let first = corners.partition_point(|&at| at < low);
    let mut least = f64::INFINITY;
    for &at in corners.get(first..).unwrap_or_default().iter().take_while(|&&at| at <= high) {
        if model.wish_cost(task, at) >= least {
            continue;
        }
        let mut overtime: Vec<Minute> = persons
            .iter()
            .map(|&person| &model.hours[person])
            .filter(|hours| hours.cover(at, at + duration))
            .map(|hours| hours.overtime_in(at, at + duration))
            .collect();
        if overtime.len() < need.count {
            continue;
        }
        overtime.sort_unstable();
        let minutes: Minute = overtime[..need.count].iter().sum();
        least = least.min(model.wish_cost(task, at) + model.problem.overtime_weight * minutes as f64);
    }
    if least.is_finite() { least } else { by_wish }
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
