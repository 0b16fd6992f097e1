//! A whole plan: what the walk leaves behind, in one value.

use crate::allergens::Matrix;
use crate::choices::Choice;
use crate::cost::Cost;
use crate::demand::Component;
use crate::figures::Figures;
use crate::labour::Work;
use crate::lot::Lots;
use crate::order::OrderLine;
use crate::scene::Scene;
use crate::timeline::{Status, Timeline};
use crate::verdicts::Verdict;
use crate::windows::Computed;

/// One plan.
#[derive(Debug, Clone)]
pub struct Plan {
    /// What it was made from.
    pub scene: Scene,
    /// Plates to make.
    pub plates: f64,
    /// Components with their masses.
    pub components: Vec<Component>,
    /// What the lots are made of.
    pub lots: Vec<Lots>,
    /// Windows computed from what steps are to reach.
    pub windows: Vec<Computed>,
    /// The order.
    pub order: Vec<OrderLine>,
    /// Work.
    pub work: Vec<Work>,
    /// The cost.
    pub cost: Cost,
    /// The clock.
    pub timeline: Timeline,
    /// Verdicts.
    pub verdicts: Vec<Verdict>,
    /// Which allergens are in what.
    pub allergens: Matrix,
    /// What to say aloud, with ways out.
    pub choices: Vec<Choice>,
    /// Every figure.
    pub figures: Figures,
}

impl Plan {
    /// Whether the plan is impossible or a verdict is broken.
    #[must_use]
    pub fn is_broken(&self) -> bool {
        matches!(self.timeline.status, Status::Impossible | Status::NotFound)
            || self
                .verdicts
                .iter()
                .any(|v| v.judgement.verdict == safety::Verdict::Broken)
    }

    /// The component of a recipe.
    #[must_use]
    pub fn component(&self, recipe: &str) -> Option<&Component> {
        self.components.iter().find(|c| c.recipe == recipe)
    }
}
