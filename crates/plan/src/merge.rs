//! Several events on one order: needs are added before packs are rounded.

use jiff::civil::DateTime;
use kitchen::Id;
use units::Money;

use crate::order::{OrderLine, rounded_together};
use crate::problem::PlanError;
use crate::whole::Plan;

/// One line of a merged order.
#[derive(Debug, Clone, PartialEq)]
pub struct Merged {
    /// The line, for all events together.
    pub line: OrderLine,
    /// Packs each event would have bought by itself.
    pub apart: Vec<(Id, f64)>,
    /// Saved against buying apart.
    pub saves: Money,
}

/// Deliveries at most this many days apart can be one delivery (house value).
pub const WINDOW_DAYS: i32 = 2;

fn near(a: Option<DateTime>, b: Option<DateTime>) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => a
            .date()
            .until(b.date())
            .is_ok_and(|span| span.get_days().abs() <= WINDOW_DAYS),
        _ => true,
    }
}

/// Merges the orders of plans of the same site.
///
/// Lines for the same item and supplier, delivered at most [`WINDOW_DAYS`] apart, are added up; packs are
/// rounded once. The earlier delivery serves both.
///
/// # Errors
/// [`PlanError`] when a sum leaves the range of numbers.
pub fn merge(plans: &[Plan]) -> Result<Vec<Merged>, PlanError> {
    let mut merged: Vec<Merged> = Vec::new();
    for plan in plans {
        for line in &plan.order {
            let same = merged.iter_mut().find(|m| {
                m.line.item == line.item
                    && m.line.supplier == line.supplier
                    && near(m.line.delivery, line.delivery)
            });
            match same {
                Some(m) => {
                    m.line.need += line.need;
                    m.line.used += line.used;
                    m.line.cost_needed = m.line.cost_needed + line.cost_needed;
                    // The earlier cut-off and the earlier delivery hold for both.
                    m.line.order_by = m
                        .line
                        .order_by
                        .min(line.order_by)
                        .or(m.line.order_by)
                        .or(line.order_by);
                    m.line.delivery = m
                        .line
                        .delivery
                        .min(line.delivery)
                        .or(m.line.delivery)
                        .or(line.delivery);
                    m.saves = m.saves + line.cost_bought;
                    m.apart.push((plan.scene.event.id.clone(), line.packs));
                }
                None => merged.push(Merged {
                    line: line.clone(),
                    apart: vec![(plan.scene.event.id.clone(), line.packs)],
                    saves: line.cost_bought,
                }),
            }
        }
    }
    let Some(first) = plans.first() else {
        return Ok(merged);
    };
    for m in &mut merged {
        if m.apart.len() > 1 {
            rounded_together(&first.scene, &first.components, &mut m.line)?;
        }
        // So far `saves` holds what buying apart costs.
        m.saves = m.saves - m.line.cost_bought;
    }
    Ok(merged)
}
