//! The walk: from a scene to a whole plan.

use std::collections::BTreeMap;

use kitchen::Id;
use schedule::{Effort, Progress};

use crate::cost::{self, Cost};
use crate::demand::{self, Component};
use crate::figures::Figures;
use crate::labour::{self, Work};
use crate::lot::{self, Lots};
use crate::order::{self, OrderLine};
use crate::problem::PlanError;
use crate::scene::Scene;
use crate::timeline::{self, Status, Timeline};
use crate::verdicts::{self, Verdict};
use crate::{choices, explain};

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
    /// What to say aloud, with ways out.
    pub choices: Vec<choices::Choice>,
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

/// Weights, order and cost: everything but the clock.
pub(crate) struct Weighed {
    pub(crate) components: Vec<Component>,
    pub(crate) order: Vec<OrderLine>,
}

/// Weighs a scene; `kept` are packs already bought, by item.
pub(crate) fn weigh(scene: &Scene, kept: Option<&BTreeMap<Id, f64>>) -> Result<Weighed, PlanError> {
    let needed = demand::components(scene, &BTreeMap::new())?;
    let bought = order::going_through(scene, &needed, kept)?;
    let components = demand::components(scene, &bought)?;
    let order = order::lines(scene, &components, kept)?;
    Ok(Weighed { components, order })
}

/// Packs bought before anything was measured, when something was.
fn kept(scene: &Scene, first: &Scene) -> Result<Option<BTreeMap<Id, f64>>, PlanError> {
    if scene.facts.is_empty() || scene.order_again {
        return Ok(None);
    }
    let before = weigh(&scene.before_facts(first), None)?;
    Ok(Some(
        before
            .order
            .into_iter()
            .map(|l| (l.item, l.packs))
            .collect(),
    ))
}

/// Makes a plan.
///
/// `first` is the scene before any change; facts measured since do not change what it bought.
///
/// # Errors
/// [`PlanError`] when there can be no plan at all. A plan that cannot be met in time comes back with
/// the status *impossible* and the reasons.
pub fn make(
    scene: &Scene,
    first: &Scene,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Plan, PlanError> {
    make_with_problem(scene, first, effort, watch).map(|(plan, _)| plan)
}

/// A plan with the scheduling problem behind it, for an independent check of the clock.
///
/// # Errors
/// As [`make`].
pub fn make_with_problem(
    scene: &Scene,
    first: &Scene,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<(Plan, Option<(schedule::Problem, schedule::Schedule)>), PlanError> {
    let kept = kept(scene, first)?;
    let Weighed { components, order } = weigh(scene, kept.as_ref())?;
    let lots = lot::all(scene, &components);
    let mut work = labour::work(scene, &components);
    let solved = timeline::solve(scene, &components, effort, watch)?;
    work.extend(timeline::extra_work(scene, &solved));
    let cost = cost::cost(scene, &components, &order, &work)?;
    let verdicts = verdicts::judge(scene, &components, &lots, &solved.timeline);
    let mut plan = Plan {
        scene: scene.clone(),
        plates: demand::plates(scene.event.covers, scene.event.spare),
        components,
        lots,
        order,
        work,
        cost,
        timeline: solved.timeline,
        verdicts,
        choices: Vec::new(),
        figures: Figures::default(),
    };
    plan.figures = explain::figures(&plan);
    plan.choices = choices::choices(&plan, first);
    let problem = solved.schedule.map(|s| (solved.tasks.problem, s));
    Ok((plan, problem))
}
