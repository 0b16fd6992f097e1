//! How many loads a step needs on its machines.

use kitchen::recipe::Recipe;
use kitchen::site::{CapacityUnit, Machine};
use kitchen::step::{Step, UseAmount};

use crate::demand::{Flow, up_to};
use crate::scene::Scene;

/// Loads a step needs for `in_g` grams flowing in: one, or as many as its fullest machine asks for.
///
/// Only machines that take a load by its mass or by the piece split it; a fridge with too few slots
/// is a clash, not a second load.
pub(crate) fn loads(scene: &Scene, step: &Step, in_g: f64, pieces: f64) -> u32 {
    let mut most = 1.0_f64;
    for used in &step.uses {
        let Some(machine) = scene.site.machines.iter().find(|m| m.id == used.machine) else {
            continue;
        };
        let n = match (used.amount, machine.unit) {
            (UseAmount::Mass, CapacityUnit::Kilograms) => in_g / 1000.0 / machine.capacity,
            (UseAmount::PerPiece(each), _) if machine.one_load.is_some() => {
                pieces * each / machine.capacity
            }
            _ => 1.0,
        };
        most = most.max(up_to(n, Some(1.0)));
    }
    // A thousand loads is already beyond any kitchen; the scheduler will say so.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let loads = most.clamp(1.0, 1000.0) as u32;
    loads
}

/// Steps that run in the loads of the step before them take over its number.
pub(crate) fn carried(recipe: &Recipe, mut flows: Vec<Flow>) -> Vec<Flow> {
    for i in 0..flows.len() {
        if !recipe.steps[i].loads_as_before {
            continue;
        }
        for feed in &recipe.steps[i].feeds {
            if let kitchen::step::FeedFrom::Step(id) = &feed.from
                && let Some(at) = recipe.position(id)
            {
                flows[i].loads = flows[i].loads.max(flows[at].loads);
            }
        }
    }
    flows
}

/// How much of a machine one load takes, in thousandths of its unit (grams or millislots).
#[allow(clippy::cast_possible_truncation)]
pub(crate) fn amount(used: UseAmount, in_g: f64, pieces: f64, loads: u32) -> i64 {
    let n = f64::from(loads.max(1));
    let thousandths = match used {
        UseAmount::Mass => in_g / n,
        UseAmount::SlotsPer(per) => up_to(in_g / n / per.g(), Some(1.0)) * 1000.0,
        UseAmount::PerPiece(each) => up_to(pieces / n * each, Some(1.0)) * 1000.0,
        UseAmount::Fixed(fixed) => fixed * 1000.0,
    };
    thousandths.min(1e15).round() as i64
}

/// How much of a machine a part of one load takes.
#[allow(clippy::cast_possible_truncation)]
pub(crate) fn part_of(used: UseAmount, lot_g: f64, pieces: f64, loads: u32, part: f64) -> i64 {
    match used {
        UseAmount::Fixed(fixed) => (fixed * 1000.0 * part).ceil().min(1e15) as i64,
        _ => amount(used, lot_g * part, pieces * part, loads),
    }
}

/// Capacity of a machine in the same thousandths.
#[allow(clippy::cast_possible_truncation)]
pub(crate) fn capacity(machine: &Machine) -> i64 {
    (machine.capacity * 1000.0).round() as i64
}
