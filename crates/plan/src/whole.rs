//! A whole plan: what the walk leaves behind, in one value.

use crate::allergens::Matrix;
use crate::cautions::Placed;
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
    /// What happened so far, where that was said.
    pub happened: Option<crate::happened::Told>,
    /// Verdicts.
    pub verdicts: Vec<Verdict>,
    /// Cautions, each at its place of use.
    pub cautions: Vec<Placed>,
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

    /// Hours the building is open on a day, as minutes since 1970; none where the calendar has no such day.
    #[must_use]
    pub fn open_hours(&self, date: jiff::civil::Date) -> Vec<(i64, i64)> {
        let noon = date.at(12, 0, 0, 0);
        crate::clock::open(&self.scene.site, &self.scene.event.open, noon, noon)
            .map(|spans| spans.into_iter().map(|s| (s.start, s.end)).collect())
            .unwrap_or_default()
    }

    /// The component of a recipe.
    #[must_use]
    pub fn component(&self, recipe: &str) -> Option<&Component> {
        self.components.iter().find(|c| c.recipe == recipe)
    }
}
