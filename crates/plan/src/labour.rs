//! Minutes of work: (set-up + per piece + per kg) × learner factor, and what they cost.

use kitchen::Id;
use kitchen::site::Role;
use kitchen::step::{Hands, Step};

use crate::demand::Component;
use crate::scene::Scene;

/// The minutes of one step or task.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// `recipe.step`, `dish.plate`, or the id of an event task.
    pub id: String,
    /// What is done.
    pub what: String,
    /// Who does it.
    pub role: Id,
    /// Minutes of work, all loads, without rounds.
    pub minutes: f64,
    /// Minutes of rounds.
    pub rounds: f64,
    /// How it was reached.
    pub formula: String,
}

/// The factor by which this role takes longer than a professional.
pub(crate) fn pace(role: Option<&Role>, hands: &Hands) -> f64 {
    if role.is_some_and(|r| r.learner) {
        hands.learner
    } else {
        1.0
    }
}

/// Minutes of hands for so many pieces, kilograms and loads.
pub(crate) fn minutes(hands: &Hands, role: Option<&Role>, pieces: f64, kg: f64, loads: u32) -> f64 {
    (hands.setup.minutes() * f64::from(loads)
        + hands.each.minutes() * pieces
        + hands.per_kg.minutes() * kg)
        * pace(role, hands)
}

fn formula(hands: &Hands, role: Option<&Role>, pieces: f64, kg: f64, loads: u32) -> String {
    let mut parts = Vec::new();
    let setup = hands.setup.minutes();
    if setup > 0.0 {
        let times = if loads > 1 {
            format!(" × {loads} loads")
        } else {
            String::new()
        };
        parts.push(format!(
            "set-up {} min{times}",
            crate::figures::number(setup, 2)
        ));
    }
    if hands.each.minutes() > 0.0 {
        parts.push(format!(
            "{} min × {} pieces",
            crate::figures::number(hands.each.minutes(), 2),
            crate::figures::number(pieces, 0)
        ));
    }
    if hands.per_kg.minutes() > 0.0 {
        parts.push(format!(
            "{} min × {} kg",
            crate::figures::number(hands.per_kg.minutes(), 2),
            crate::figures::number(kg, 3)
        ));
    }
    let sum = if parts.is_empty() {
        "none".to_owned()
    } else {
        parts.join(" + ")
    };
    let pace = pace(role, hands);
    if (pace - 1.0).abs() > 1e-9 {
        format!(
            "({sum}) × learner factor {}",
            crate::figures::number(pace, 3)
        )
    } else {
        sum
    }
}

/// Rounds of a step: offsets in minutes from the start of the passive part, one load.
pub(crate) fn rounds(step: &Step, passive_min: f64) -> Vec<f64> {
    let Some(rounds) = &step.rounds else {
        return Vec::new();
    };
    let mut at = Vec::new();
    let mut t = rounds.first.minutes();
    while t < passive_min - 1e-9 && at.len() < 10_000 {
        at.push(t);
        t += rounds.every.minutes();
    }
    if rounds.at_end {
        at.push(passive_min);
    }
    at
}

/// Minutes of a step's programme, thickness counted.
pub(crate) fn programme_minutes(step: &Step, factor: f64) -> f64 {
    step.programme
        .iter()
        .map(|s| s.time.minutes() * if s.by_thickness { factor } else { 1.0 })
        .sum()
}

/// How much longer than written diffusion takes in a recipe: the thickest measured piece decides.
pub(crate) fn thickness_factor(steps: &[Step]) -> f64 {
    steps
        .iter()
        .filter_map(|s| s.piece.as_ref())
        .map(kitchen::step::Piece::time_factor)
        .fold(1.0, |a, b| {
            if (b - 1.0).abs() > (a - 1.0_f64).abs() {
                b
            } else {
                a
            }
        })
}

/// All work of a scene.
pub(crate) fn work(scene: &Scene, components: &[Component]) -> Vec<Work> {
    let role_of = |id: &Id| scene.site.roles.iter().find(|r| r.id == *id);
    let role = role_of(&scene.event.role);
    let mut all = Vec::new();
    for c in components {
        let Some(recipe) = scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        let factor = thickness_factor(&recipe.steps);
        for (step, flow) in recipe.steps.iter().zip(&c.flows) {
            let kg = flow.in_g / 1000.0;
            let passive = match programme_minutes(step, factor) {
                run if run > 0.0 => run,
                _ => step.wait.min.minutes(),
            };
            let per_round =
                step.rounds.as_ref().map_or(0.0, |r| r.hands.minutes()) * pace(role, &step.hands);
            #[allow(clippy::cast_precision_loss)]
            let rounds = rounds(step, passive).len() as f64 * per_round * f64::from(flow.loads);
            let minutes = minutes(&step.hands, role, c.pieces, kg, flow.loads);
            if minutes > 0.0 || rounds > 0.0 {
                all.push(Work {
                    id: format!("{}.{}", c.recipe, step.id),
                    what: step.what.clone(),
                    role: scene.event.role.clone(),
                    minutes,
                    rounds,
                    formula: formula(&step.hands, role, c.pieces, kg, flow.loads),
                });
            }
        }
    }
    let plates = crate::demand::plates(scene.event.covers, scene.event.spare);
    for dish in scene
        .event
        .dishes
        .iter()
        .filter_map(|d| scene.book.dishes.get(d))
    {
        if let Some(plating) = &dish.plating {
            all.push(Work {
                id: format!("{}.plate", dish.id),
                what: format!("Plate {}", dish.name),
                role: scene.event.role.clone(),
                minutes: minutes(&plating.hands, role, plates, 0.0, 1),
                rounds: 0.0,
                formula: formula(&plating.hands, role, plates, 0.0, 1),
            });
        }
    }
    for task in &scene.event.tasks {
        let id = task.role.as_ref().unwrap_or(&scene.event.role);
        let role = role_of(id);
        all.push(Work {
            id: task.id.to_string(),
            what: task.what.clone(),
            role: id.clone(),
            minutes: minutes(&task.hands, role, plates, 0.0, 1),
            rounds: 0.0,
            formula: formula(&task.hands, role, plates, 0.0, 1),
        });
    }
    all
}
