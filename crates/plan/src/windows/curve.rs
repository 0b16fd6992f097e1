//! The core of a piece over the programme of its step, as the model has it: to lay beside what a probe read.

use kitchen::step::Goal;

use super::heating::along;
use super::{HEAT_MODEL, three};
use crate::whole::Plan;

/// Two computed cores, hours since the programme starts against °C.
///
/// A prediction plans a day; it shows nothing, for the model is not validated on product data.
#[derive(Debug, Clone, PartialEq)]
pub struct Predicted {
    /// A piece of the usual thickness.
    pub usual: Vec<(f64, f64)>,
    /// The thickest.
    pub thick: Vec<(f64, f64)>,
    /// What was computed, and how far to trust it.
    pub model: &'static str,
}

/// The cores of a step that heats or chills by a programme; `None` where it does neither, or names no piece.
///
/// # Errors
/// What the model lacks, in words.
#[must_use]
pub fn predicted(plan: &Plan, component: &str, step: &str) -> Option<Result<Predicted, String>> {
    let c = plan.component(component)?;
    let recipe = plan.scene.book.recipes.get(&c.recipe)?;
    let step = recipe.steps.iter().find(|s| s.id == *step)?;
    let chills = matches!(step.goal, Some(Goal::Cold(_)));
    if step.until.is_none() && !chills {
        return None;
    }
    let piece = step
        .piece
        .as_ref()
        .or_else(|| recipe.steps.iter().find_map(|s| s.piece.as_ref()))?;
    let [_, usual, thick] = three(piece);
    let of = |thickness| along(&plan.scene, recipe, c, step, piece, thickness);
    Some(
        of(usual)
            .and_then(|usual| {
                Ok(Predicted {
                    usual,
                    thick: of(thick)?,
                    model: HEAT_MODEL,
                })
            })
            .map_err(|e| e.to_string()),
    )
}
