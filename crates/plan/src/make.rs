//! The walk: from a scene to a whole plan.

use std::collections::BTreeMap;

use kitchen::Id;
use schedule::{Effort, Progress};

use crate::cost::{self};
use crate::demand::{self, Component};
use crate::figures::Figures;
use crate::labour::{self};
use crate::lot::{self};
use crate::order::{self, OrderLine};
use crate::problem::PlanError;
use crate::scene::Scene;
use crate::timeline::{self};
use crate::verdicts;
use crate::whole::Plan;
use crate::windows;
use crate::{allergens, cautions, choices, explain, specials};

/// Weights, order and cost: everything but the clock.
pub(crate) struct Weighed {
    pub(crate) components: Vec<Component>,
    pub(crate) order: Vec<OrderLine>,
}

/// Recipes inside recipes whose surplus goes through, nested at most so deep.
const DEEPEST: usize = 8;

/// Weighs a scene; `kept` are packs already bought, by item.
pub(crate) fn weigh(scene: &Scene, kept: Option<&BTreeMap<Id, f64>>) -> Result<Weighed, PlanError> {
    let mut through = BTreeMap::new();
    let mut components = demand::components(scene, &through)?;
    // A recipe that goes through whole asks more of the recipes inside it; two rounds settle what nests once.
    for _ in 0..DEEPEST {
        let next = order::going_through(scene, &components, kept)?;
        if next == through {
            break;
        }
        components = demand::components(scene, &next)?;
        through = next;
    }
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

/// Everything that is known before the clock is set.
pub(crate) struct SetUp {
    pub(crate) scene: Scene,
    pub(crate) components: Vec<Component>,
    pub(crate) order: Vec<OrderLine>,
    pub(crate) lots: Vec<lot::Lots>,
    pub(crate) windows: Vec<windows::Computed>,
}

/// Weights, order, lots and computed windows of a scene; its waits filled in from their goals.
pub(crate) fn set_up(scene: &Scene, first: &Scene) -> Result<SetUp, PlanError> {
    let kept = kept(scene, first)?;
    let Weighed { components, order } = weigh(scene, kept.as_ref())?;
    let lots = lot::all(scene, &components);
    let windows = windows::windows(scene, &components, &lots);
    let scene = windows::filled_in(scene, &windows)?;
    Ok(SetUp {
        scene,
        components,
        order,
        lots,
        windows,
    })
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
    let SetUp {
        scene,
        components,
        order,
        lots,
        mut windows,
    } = set_up(scene, first)?;
    let scene = &scene;
    let mut work = labour::work(scene, &components);
    let (scene, solved, robust) = crate::allowance::solve(scene, &components, effort, watch)?;
    let scene = &scene;
    work.extend(timeline::extra_work(scene, &solved));
    windows::fill_places(scene, &components, &lots, &solved.timeline, &mut windows);
    let cost = cost::cost(scene, &components, &order, &work)?;
    let mut verdicts = verdicts::judge(scene, &components, &lots, &solved.timeline);
    let happened = solved.tasks.told.clone();
    verdicts.extend(happened.iter().flat_map(verdicts::broken_waits));
    let cautions = cautions::of(scene, &components);
    let allergens = allergens::matrix(scene, &components);
    let specials = specials::laid(scene, &components);
    let mut plan = Plan {
        scene: scene.clone(),
        plates: demand::plates(scene.event.covers, scene.event.spare),
        components,
        lots,
        windows,
        order,
        work,
        cost,
        timeline: solved.timeline,
        robust,
        happened,
        verdicts,
        cautions,
        allergens,
        specials,
        choices: Vec::new(),
        ways_out: None,
        figures: Figures::default(),
    };
    plan.figures = explain::figures(&plan);
    plan.choices = choices::choices(&plan, first);
    let problem = solved.schedule.map(|s| (solved.tasks.problem, s));
    Ok((plan, problem))
}

/// The clock of a scene alone: the same walk, without what the clock does not need.
///
/// # Errors
/// As [`make`].
pub(crate) fn clock_alone(
    scene: &Scene,
    first: &Scene,
    effort: &Effort,
    watch: &mut dyn FnMut(&Progress) -> bool,
) -> Result<timeline::Timeline, PlanError> {
    let kept = kept(scene, first)?;
    let Weighed { components, .. } = weigh(scene, kept.as_ref())?;
    let from_goal = |c: &Component| {
        let recipe = scene.book.recipes.get(&c.recipe);
        recipe.is_some_and(|r| r.steps.iter().any(|s| s.wait.from_goal))
    };
    let filled = if components.iter().any(from_goal) {
        let lots = lot::all(scene, &components);
        let windows = windows::windows(scene, &components, &lots);
        Some(windows::filled_in(scene, &windows)?)
    } else {
        None
    };
    let scene = filled.as_ref().unwrap_or(scene);
    Ok(timeline::solve(scene, &components, effort, watch)?.timeline)
}
