//! The order of the steps of a recipe.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::step::{FeedFrom, Step};

use crate::circle::around;
use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::page::Span;
use crate::step::ReadStep;

/// Puts the steps in an order in which each comes after what it needs; reports duplicates and
/// circles. A line of steps is followed to its end before the next one is taken up.
pub(crate) fn order(
    fields: &Fields<'_, '_>,
    label: &str,
    steps: Vec<ReadStep>,
) -> Option<Vec<Step>> {
    let mut at: BTreeMap<&Id, usize> = BTreeMap::new();
    let mut whole = true;
    for (i, s) in steps.iter().enumerate() {
        if at.insert(&s.step.id, i).is_some() {
            whole = false;
            fields.page.report(
                Code::Duplicate,
                s.at.clone(),
                format!("a second step of {label} with the id \"{}\"", s.step.id),
                "a different id for every step",
                "rename one of them",
            );
        }
    }
    // A step nobody has is reported already.
    let named = steps.iter().flat_map(|s| s.after.iter().chain(&s.clock));
    if !whole || named.into_iter().any(|(id, _)| !at.contains_key(id)) {
        return None;
    }
    let before: Vec<Vec<usize>> = steps
        .iter()
        .map(|s| {
            s.after
                .iter()
                .filter_map(|(id, _)| at.get(id).copied())
                .collect()
        })
        .collect();
    let done = sorted(&before);
    if done.len() < steps.len() {
        if let Some(circle) = circle(&before, &done) {
            report_circle(fields, label, &steps, &circle);
        }
        return None;
    }
    let fed: Vec<&Id> = steps
        .iter()
        .flat_map(|s| &s.step.feeds)
        .filter_map(|f| match &f.from {
            FeedFrom::Step(id) => Some(id),
            _ => None,
        })
        .collect();
    let ends: Vec<&ReadStep> = done
        .iter()
        .filter_map(|i| steps.get(*i))
        .filter(|s| !fed.contains(&&s.step.id))
        .collect();
    if let [_, second, ..] = ends.as_slice() {
        let names: Vec<&str> = ends.iter().map(|s| s.step.id.as_str()).collect();
        fields.page.marked(
            Code::Contradiction,
            second.at.clone(),
            "nothing comes after this".to_owned(),
            (
                format!("{label} ends in {} steps: {}", ends.len(), names.join(", ")),
                "one last step: a recipe has one product",
                "join them in a last step, or make two recipes",
            ),
        );
        return None;
    }
    Some(
        done.into_iter()
            .filter_map(|i| steps.get(i).map(|s| s.step.clone()))
            .collect(),
    )
}

/// Indices in an order in which each comes after those `before` it; what waits in a circle is left out.
fn sorted(before: &[Vec<usize>]) -> Vec<usize> {
    let mut waiting: Vec<usize> = before.iter().map(Vec::len).collect();
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); before.len()];
    for (i, list) in before.iter().enumerate() {
        for earlier in list {
            after[*earlier].push(i);
        }
    }
    let mut ready: Vec<usize> = (0..before.len())
        .rev()
        .filter(|i| waiting[*i] == 0)
        .collect();
    let mut done = Vec::new();
    while let Some(i) = ready.pop() {
        done.push(i);
        for next in after[i].iter().rev() {
            waiting[*next] -= 1;
            if waiting[*next] == 0 {
                ready.push(*next);
            }
        }
    }
    done
}

/// The steps of one circle, each coming after the next, the last after the first.
fn circle(before: &[Vec<usize>], done: &[usize]) -> Option<Vec<usize>> {
    // Whoever is stuck comes after somebody stuck: going back from one must come round.
    let stuck = |i: &usize| !done.contains(i);
    let mut path = vec![(0..before.len()).find(stuck)?];
    loop {
        let earlier = *before[*path.last()?].iter().find(|i| stuck(i))?;
        if let Some(start) = path.iter().position(|i| *i == earlier) {
            return Some(path.split_off(start));
        }
        path.push(earlier);
    }
}

fn report_circle(fields: &Fields<'_, '_>, label: &str, steps: &[ReadStep], circle: &[usize]) {
    let of = |i: &usize| steps.get(*i);
    let names: Vec<&str> = circle
        .iter()
        .filter_map(of)
        .map(|s| s.step.id.as_str())
        .collect();
    let (Some(first), Some(name)) = (circle.first().and_then(of), names.first()) else {
        return;
    };
    let waits_for = names.get(1).unwrap_or(name);
    let at: Span = first
        .after
        .iter()
        .find(|(id, _)| id == waits_for)
        .map_or_else(|| first.at.clone(), |(_, span)| span.clone());
    let found = if names.len() == 1 {
        format!("step {name} of {label} comes after itself")
    } else {
        format!(
            "steps of {label} wait for each other: {}",
            around(&names, " after ")
        )
    };
    fields.page.report(
        Code::Cycle,
        at,
        found,
        "a first step that waits for none",
        "correct one `after` of them",
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_step_comes_after_what_it_needs_and_as_written_otherwise() {
        assert_eq!(sorted(&[vec![], vec![0], vec![1]]), [0, 1, 2]);
        assert_eq!(sorted(&[vec![2], vec![], vec![1]]), [1, 2, 0]);
        assert_eq!(sorted(&[vec![], vec![], vec![0, 1]]), [0, 1, 2]);
    }

    #[test]
    fn only_the_circle_is_named_not_what_hangs_on_it() {
        // 0 hangs on 1; 1 and 2 wait for each other; 3 is free.
        let before = [vec![1], vec![2], vec![1], vec![]];
        let done = sorted(&before);
        assert_eq!(done, [3]);
        assert_eq!(circle(&before, &done), Some(vec![1, 2]));
    }

    #[test]
    fn a_step_after_itself_is_a_circle_of_one() {
        assert_eq!(circle(&[vec![0]], &[]), Some(vec![0]));
        assert_eq!(circle(&[vec![]], &[0]), None);
    }
}
