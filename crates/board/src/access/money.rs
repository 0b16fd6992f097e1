//! A plan for somebody who sees no costs: the same weights, hours and verdicts, and no price, cost or wage in it.
//! What is not in the plan cannot stand on a page.

use std::collections::BTreeSet;

use plan::Plan;
use plan::figures::{Figures, Value};
use units::Money;

/// The plan without money: figures in money and all that were computed from one, the order, the cost, and the
/// decisions, which weigh money. What the book says of prices stays in its scene, which no page of theirs shows.
pub(crate) fn without(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    plan.figures = figures(&plan.figures);
    plan.order.clear();
    plan.choices.clear();
    plan.ways_out = None;
    let cost = &mut plan.cost;
    cost.food_needed = Money::ZERO;
    cost.food_bought = Money::ZERO;
    cost.labour_cost = Money::ZERO;
    cost.labour.clear();
    cost.shares.clear();
    cost.target_price = None;
    cost.budget = None;
    plan
}

fn figures(all: &Figures) -> Figures {
    let mut money: BTreeSet<&str> = all
        .iter()
        // A target of the cost is a share, and tells of it all the same; minutes of work are no money.
        .filter(|f| {
            matches!(f.value, Value::Money(_))
                || (f.id.starts_with("cost.") && f.id != "cost.labour_min")
        })
        .map(|f| f.id.as_str())
        .collect();
    // What rests on money tells of it: a food share is a cost in other words.
    loop {
        let before = money.len();
        for f in all.iter() {
            if f.from.iter().any(|from| money.contains(from.as_str())) {
                money.insert(&f.id);
            }
        }
        if money.len() == before {
            break;
        }
    }
    let mut kept = Figures::default();
    for f in all.iter().filter(|f| !money.contains(f.id.as_str())) {
        kept.put(f.clone());
    }
    kept
}
