//! Findings about rules, weights, the order and pay.

use safety::Verdict;

use super::Choice;
use crate::figures::number;
use crate::whole::Plan;
use kitchen::step::{BaseKind, LineAmount};

/// Broken rules first: nobody weighs out what must not be served.
pub(super) fn broken(plan: &Plan, all: &mut Vec<Choice>) {
    for v in plan
        .verdicts
        .iter()
        .filter(|v| v.judgement.verdict == Verdict::Broken)
    {
        let j = &v.judgement;
        let n = |x: f64| number(x, if x.fract() == 0.0 { 0 } else { 1 });
        let against = match (j.value, j.limit) {
            (Some(value), Some(limit)) => format!("{} against {} {}", n(value), n(limit), j.unit),
            _ => j.place.clone(),
        };
        all.push(Choice {
            because: Vec::new(),
            finding: format!("STOP, broken: {}: {against}", v.id),
            ways: vec![j.next.clone()],
        });
    }
}

/// Bought less than is used: after a fact, or by the site's pack tolerance.
pub(super) fn order_short(plan: &Plan, all: &mut Vec<Choice>) {
    /// Below this part of the need nobody notices.
    const NOTICED: f64 = 0.001;
    for line in &plan.order {
        let bought = line.bought_g().unwrap_or(line.packs);
        let missing = line.need.max(line.used) - bought;
        // What goes through whole is short at the plate, and said there.
        let through = (line.used - bought).abs() < 1e-6;
        if through || missing <= line.need * NOTICED {
            continue;
        }
        let unit = if line.counted {
            line.word.as_str()
        } else {
            "g"
        };
        all.push(Choice {
            because: Vec::new(),
            finding: format!(
                "{}: {} {unit} bought, {} {unit} needed: {} short",
                line.item,
                number(bought, 1),
                number(line.need.max(line.used), 1),
                number(missing, 1)
            ),
            ways: vec![
                "buy the rest: --set order=again shows the whole order anew".to_owned(),
                "or make less: smaller portions, fewer plates".to_owned(),
            ],
        });
    }
}

/// A made batch whose lines do not come to the weight it is said to be.
pub(super) fn lines_short(plan: &Plan, all: &mut Vec<Choice>) {
    /// Lines within this part of the batch are the batch.
    const NEAR: f64 = 0.02;
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            if !matches!(step.base.kind, BaseKind::Made) || flow.base_g <= 0.0 {
                continue;
            }
            let weighed =
                |a: &LineAmount| matches!(a, LineAmount::OfBase(_) | LineAmount::PerBatch(_));
            let total: f64 = step
                .lines
                .iter()
                .zip(&flow.lines)
                .filter(|(l, _)| weighed(&l.amount))
                .map(|(_, g)| g.made_g)
                .sum();
            if total <= 0.0 || (total / flow.base_g - 1.0).abs() <= NEAR {
                continue;
            }
            let portions = c.portion_g.map_or_else(String::new, |p| {
                format!(
                    ": {} portions, not {}",
                    number((total * step.yields.mean / p).floor(), 0),
                    number(c.portions, 0)
                )
            });
            let portions = if total < flow.base_g {
                portions
            } else {
                String::new()
            };
            all.push(Choice {
                because: Vec::new(),
                finding: format!(
                    "{}.{}: the lines come to {} g, the batch is said to be {} g{portions}",
                    c.recipe,
                    step.id,
                    number(total, 1),
                    number(flow.base_g, 1)
                ),
                ways: vec!["weigh one batch and write its weight as written-for".to_owned()],
            });
        }
    }
}

/// People paid by presence who work and are paid nothing.
pub(super) fn unpaid(plan: &Plan, all: &mut Vec<Choice>) {
    for role in plan.scene.site.roles.iter().filter(|r| r.by_presence) {
        let minutes: f64 = plan
            .work
            .iter()
            .filter(|w| w.role == role.id)
            .map(|w| w.minutes + w.rounds)
            .sum();
        let there: f64 = plan
            .cost
            .labour
            .iter()
            .filter(|l| l.by_presence && l.role == role.id)
            .map(|l| l.minutes)
            .sum();
        if minutes > 0.0 && there <= 0.0 {
            all.push(Choice {
                because: Vec::new(),
                finding: format!(
                    "{}: {} min of work, and no paid presence: it costs nothing here",
                    role.id,
                    number(minutes, 0)
                ),
                ways: vec![
                    "add a [[presence]] to the event, from before to after the work".to_owned(),
                ],
            });
        }
    }
}
