//! Windows of time computed from what a step is to reach, beside the house's own.
//!
//! A recipe that names a `goal` gets, for its thin, usual and thick piece, the time at which the goal is
//! reached: the earliest hour all pieces are there, the best, and the latest before the thinnest is past it.
//! The house window stays the one the clock keeps, unless the wait says `from-goal`; both are shown, and where
//! they disagree that is said aloud. A computed window plans a day. It never shows that a limit is met: the
//! transport model is not validated on product data, and its diffusivity is a guess until it is fitted.

pub mod curve;
mod heating;
mod salting;

use kitchen::Id;
use kitchen::recipe::Recipe;
use kitchen::step::{FeedFrom, Goal, Piece as Written, Step, Wait};
use science::steeping::{Cut, Faces, Spreading};
use units::{Elapsed, Length};

use heating::{chill_conflict, cold, core, heating_conflict};
use salting::salting;

use crate::demand::{Component, Flow};
use crate::problem::PlanError;
use crate::scene::Scene;
use crate::tasks::Kind;
use crate::timeline::Timeline;

/// A computed window of one step.
#[derive(Debug, Clone, PartialEq)]
pub struct Computed {
    /// Component.
    pub component: Id,
    /// Step.
    pub step: Id,
    /// What is to be reached, in words.
    pub goal: String,
    /// The window, or why there is none.
    pub window: Result<Span, String>,
    /// The house's own wait.
    pub house: Option<(Elapsed, Elapsed)>,
    /// Where the two disagree, in words.
    pub conflict: Option<String>,
    /// How salt lies in the thickest piece when it comes out as planned.
    pub places: Option<Places>,
    /// What the figures rest on.
    pub model: &'static str,
}

/// Water-phase salt of one piece at three places, percent. Mean, surface and core are three figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Places {
    /// After so long.
    pub waited: Elapsed,
    /// The whole piece mixed.
    pub mean_pct: f64,
    /// At the open face.
    pub surface_pct: f64,
    /// Where salt comes last.
    pub core_pct: f64,
}

/// Times from the start of the passive part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// The thinnest piece is there.
    pub thin: Elapsed,
    /// The usual piece is there.
    pub nominal: Elapsed,
    /// The thickest piece is there: from then on all are.
    pub thick: Elapsed,
    /// Best.
    pub best: Elapsed,
    /// The thinnest is past the goal, where the goal has an upper end.
    pub latest: Option<Elapsed>,
    /// The thickest piece if substances move as slowly as they may; `None` when beyond the time considered.
    pub thick_if_slow: Option<Elapsed>,
}

/// What salting figures rest on.
const SALT_MODEL: &str =
    "finite-volume diffusion, not validated on product data; diffusivity a guess until fitted";
/// What steeping figures rest on.
const STEEP_MODEL: &str = "slab diffusion, not validated on product data; slow end of a spread assumed for raw vegetable, from memory";
/// What heat figures rest on.
const HEAT_MODEL: &str = "finite-volume conduction; heat transfer of the cabinet known to its order only; not validated on product data";

/// Computed windows of a scene, component by component.
pub(crate) fn windows(
    scene: &Scene,
    components: &[Component],
    lots: &[crate::lot::Lots],
) -> Vec<Computed> {
    let mut all = Vec::new();
    for (c, l) in components.iter().zip(lots) {
        let Some(recipe) = scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for (i, (step, flow)) in recipe.steps.iter().zip(&c.flows).enumerate() {
            let water_pct = water_before(scene, recipe, i, l);
            if let Some(computed) = one(scene, recipe, c, (step, flow), water_pct) {
                all.push(computed);
            }
        }
    }
    all
}

/// Water of the lot that flows into a step, percent.
fn water_before(
    scene: &Scene,
    recipe: &Recipe,
    step: usize,
    lots: &crate::lot::Lots,
) -> Option<f64> {
    recipe.steps[step].feeds.iter().find_map(|f| match &f.from {
        FeedFrom::Step(id) => recipe
            .position(id)
            .and_then(|at| lots.after.get(at))
            .and_then(crate::lot::Lot::water_pct),
        FeedFrom::Item {
            item, water_pct, ..
        } => water_pct.or_else(|| {
            let row = scene.book.ingredients.get(item)?.composition.as_ref()?;
            row.water
        }),
        FeedFrom::Recipe(_) => None,
    })
}

/// The scene with the waits that come from a goal filled in.
///
/// # Errors
/// [`PlanError::NoWindow`] when a goal is not computed, or is reached only after the wait's maximum.
pub(crate) fn filled_in(scene: &Scene, windows: &[Computed]) -> Result<Scene, PlanError> {
    let mut scene = scene.clone();
    for w in windows {
        let step = scene
            .book
            .recipes
            .get_mut(&w.component)
            .and_then(|r| r.steps.iter_mut().find(|s| s.id == w.step));
        let Some(wait) = step.map(|s| &mut s.wait).filter(|wait| wait.from_goal) else {
            continue;
        };
        let no = |why: String| PlanError::NoWindow {
            what: format!("{}.{}", w.component, w.step),
            why,
        };
        let span = w.window.as_ref().map_err(|why| no(why.clone()))?;
        let min = span.thick.max(wait.min);
        let max = span.latest.map_or(wait.max, |latest| latest.min(wait.max));
        if min > max {
            return Err(no(format!(
                "the thickest piece is there after {}, the wait ends after {max}",
                minutes(span.thick)
            )));
        }
        (wait.min, wait.max) = (min, max);
        wait.best = Some(span.best.max(min).min(max));
        // The pieces at hand are in the computed window already.
        wait.by_thickness = false;
    }
    Ok(scene)
}

fn one(
    scene: &Scene,
    recipe: &Recipe,
    c: &Component,
    (step, flow): (&Step, &Flow),
    water_pct: Option<f64>,
) -> Option<Computed> {
    let piece = step
        .piece
        .as_ref()
        .or_else(|| recipe.steps.iter().find_map(|s| s.piece.as_ref()));
    let computed = |goal: String, window: Result<Span, String>, model| Computed {
        component: recipe.id.clone(),
        step: step.id.clone(),
        goal,
        window,
        house: None,
        conflict: None,
        places: None,
        model,
    };
    if let (Some(until), Some(piece)) = (step.until, piece) {
        let window = core(scene, recipe, c, step, piece).map_err(|e| e.to_string());
        let goal = format!(
            "core {} °C held {}",
            crate::figures::number(until.core.c(), 1),
            until.hold
        );
        let mut computed = computed(goal, window, HEAT_MODEL);
        computed.conflict = heating_conflict(step, piece, &computed.window);
        return Some(computed);
    }
    let goal = step.goal?;
    let Some(piece) = piece else {
        return Some(computed(
            words(goal),
            Err("the recipe names no piece: write its shape and thickness".to_owned()),
            SALT_MODEL,
        ));
    };
    let mut computed = match goal {
        Goal::Cold(to) => computed(
            words(goal),
            cold(scene, recipe, c, step, piece, to).map_err(|e| e.to_string()),
            HEAT_MODEL,
        ),
        Goal::Equilibrium(_) | Goal::WaterPhaseSalt(_) | Goal::Salt { .. } => computed(
            words(goal),
            salting(scene, step, flow, piece, goal, water_pct),
            SALT_MODEL,
        ),
        Goal::Loss(_) => computed(
            words(goal),
            Err("two weighings give the rate: saltern ask dry".to_owned()),
            "exponential drying",
        ),
        Goal::Acid(part) => computed(words(goal), steeping(piece, part), STEEP_MODEL),
    };
    if matches!(goal, Goal::Cold(_)) {
        computed.conflict = chill_conflict(step, piece, &computed.window);
    } else {
        computed.house = (!step.wait.from_goal).then(|| house(&step.wait, piece));
        computed.conflict = wait_conflict(&computed);
    }
    Some(computed)
}

/// When acid has come to the middle of a cut, planned on the slow end of the spread.
fn steeping(piece: &Written, part: f64) -> Result<Span, String> {
    let faces = if piece.open_faces >= 2 {
        Faces::Both
    } else {
        Faces::One
    };
    let spreading = Spreading::assumed_in_vegetable().map_err(text)?;
    let mut there = Vec::new();
    for thickness in three(piece) {
        let wait = Cut { thickness, faces }
            .time_to_middle(part, spreading)
            .map_err(text)?;
        there.push(wait.latest);
    }
    Ok(Span {
        thin: there[0],
        nominal: there[1],
        thick: there[2],
        best: there[2],
        latest: None,
        thick_if_slow: None,
    })
}

/// Fills in how salt lies in the thickest piece when it comes out as the clock plans.
pub(crate) fn fill_places(
    scene: &Scene,
    components: &[Component],
    lots: &[crate::lot::Lots],
    timeline: &Timeline,
    windows: &mut [Computed],
) {
    for w in windows {
        let Some((c, l)) = components
            .iter()
            .zip(lots)
            .find(|(c, _)| c.recipe == w.component)
        else {
            continue;
        };
        let Some(recipe) = scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        let Some(i) = recipe.position(&w.step) else {
            continue;
        };
        let (step, flow) = (&recipe.steps[i], &c.flows[i]);
        let salts = matches!(
            step.goal,
            Some(Goal::Equilibrium(_) | Goal::WaterPhaseSalt(_) | Goal::Salt { .. })
        );
        let (Some(piece), true) = (step.piece.as_ref(), salts) else {
            continue;
        };
        let of = |id: &Id| {
            timeline
                .tasks
                .iter()
                .filter(|t| {
                    t.meaning.component.as_ref() == Some(&c.recipe)
                        && t.meaning.step.as_ref() == Some(id)
                        && t.meaning.kind != Kind::Round
                })
                .collect::<Vec<_>>()
        };
        let done = of(&w.step).iter().map(|t| t.end).max();
        let next = recipe
            .takers(i)
            .first()
            .and_then(|(j, _)| of(&recipe.steps[*j].id).iter().map(|t| t.start).min());
        if let (Some(done), Some(next)) = (done, next)
            && let Ok(waited) = Elapsed::from_seconds((next - done).max(0) * 60)
        {
            w.places = salting::places(
                scene,
                step,
                flow,
                piece,
                water_before(scene, recipe, i, l),
                waited,
            )
            .ok();
        }
    }
}

/// A goal in words.
fn words(goal: Goal) -> String {
    let n = |x: f64| crate::figures::number(x, 1);
    match goal {
        Goal::Equilibrium(part) => format!("mean salt at {} % of where it ends", n(part * 100.0)),
        Goal::WaterPhaseSalt(pct) => format!("{} % water-phase salt where salt comes last", n(pct)),
        Goal::Salt { low, high } => format!("mean salt {} to {} %", n(low), n(high)),
        Goal::Loss(pct) => format!("{} % of the weight gone", n(pct)),
        Goal::Cold(to) => format!("{} °C at the core", n(to.c())),
        Goal::Acid(part) => format!(
            "acid at the centre at {} % of where it ends",
            n(part * 100.0)
        ),
    }
}

/// The house window of a wait, thickness counted.
fn house(wait: &Wait, piece: &Written) -> (Elapsed, Elapsed) {
    let times = if wait.by_thickness {
        piece.time_factor()
    } else {
        1.0
    };
    let scaled = |t: Elapsed| t.scaled(times).unwrap_or(t);
    (scaled(wait.min), scaled(wait.max))
}

/// Thin, usual and thick piece: as stated, or as measured.
fn three(piece: &Written) -> [Length; 3] {
    match (piece.measured, piece.spread) {
        (Some(m), _) => [m, m, m],
        (None, Some((thin, thick))) => [thin, piece.thickness, thick],
        (None, None) => [piece.thickness; 3],
    }
}

fn text(error: impl std::fmt::Display) -> String {
    error.to_string()
}

fn minutes(t: Elapsed) -> String {
    Elapsed::from_minutes((t.minutes() + 0.5).floor())
        .map_or_else(|_| t.to_string(), |m| m.to_string())
}

fn wait_conflict(computed: &Computed) -> Option<String> {
    let (w, (min, max)) = (computed.window.as_ref().ok()?, computed.house?);
    if w.thick > max {
        return Some(format!(
            "the house takes it out after {} to {}; by the model the thickest piece is there after {}",
            min,
            max,
            minutes(w.thick)
        ));
    }
    match w.latest {
        Some(latest) if latest < min => Some(format!(
            "the house takes it out after {} to {}; by the model the thinnest is past it after {}",
            min,
            max,
            minutes(latest)
        )),
        _ => None,
    }
}
