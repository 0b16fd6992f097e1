//! Windows of time computed from what a step is to reach, beside the house's own.
//!
//! A recipe that names a `goal` gets, for its thin, usual and thick piece, the time at which the goal is
//! reached: the earliest hour all pieces are there, the best, and the latest before the thinnest is past it.
//! The house window stays the one the clock keeps, unless the wait says `from-goal`; both are shown, and where
//! they disagree that is said aloud. A computed window plans a day. It never shows that a limit is met: the
//! transport model is not validated on product data, and its diffusivity is a guess until it is fitted.

use kitchen::Id;
use kitchen::ingredient::{Ingredient, Role};
use kitchen::recipe::Recipe;
use kitchen::step::{BaseKind, Goal, Piece as Written, Step, Wait};
use kitchen::verb::Verb;
use science::ScienceError;
use science::brine::Strength;
use science::heat::{Body, Faces, Grid as HeatGrid, Programme, Segment as Heating, Shape as HeatShape, Surroundings};
use science::thermal_properties::{Food, Percent, TROUT};
use science::transport::{
    self, Closed, CoverBrine, Flesh, Goal as Salting, Grid, Juice, Params, Phase, Piece, Pieces, Shape, WaterOut,
};
use units::{Elapsed, Fraction, Length, Temperature};

use crate::demand::{Component, Flow};
use crate::problem::PlanError;
use crate::scene::Scene;

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
    /// What the figures rest on.
    pub model: &'static str,
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

/// The longest salting considered.
const LONGEST_DAYS: f64 = 60.0;
/// How warm the flesh is when a wait names no ceiling, °C (house value).
const COLD_C: f64 = 4.0;
/// Spread of a diffusivity somebody fitted to weighings of the house.
const FITTED_SPREAD: f64 = 1.5;
/// Activation energy used beside a fitted diffusivity, kJ/mol (from memory, middle of 20 to 30).
const ACTIVATION_KJ_MOL: f64 = 25.0;
/// How warm a lot comes to the chill when the step before names no core, °C (house value).
const HOT_C: f64 = 65.0;
/// How warm a lot comes to the heat, °C (house value).
const FROM_COLD_C: f64 = 4.0;

/// What salting figures rest on.
const SALT_MODEL: &str = "finite-volume diffusion, not validated on product data; diffusivity a guess until fitted";
/// What heat figures rest on.
const HEAT_MODEL: &str = "finite-volume conduction; heat transfer of the cabinet known to its order only; not validated on product data";

/// Computed windows of a scene, component by component.
pub(crate) fn windows(scene: &Scene, components: &[Component], lots: &[crate::lot::Lots]) -> Vec<Computed> {
    let mut all = Vec::new();
    for (c, l) in components.iter().zip(lots) {
        let Some(recipe) = scene.book.recipes.get(&c.recipe) else { continue };
        for (i, (step, flow)) in recipe.steps.iter().zip(&c.flows).enumerate() {
            let water_pct = water_before(recipe, i, l);
            if let Some(computed) = one(scene, recipe, c, (step, flow), water_pct) {
                all.push(computed);
            }
        }
    }
    all
}

/// Water of the lot that flows into a step, percent.
fn water_before(recipe: &Recipe, step: usize, lots: &crate::lot::Lots) -> Option<f64> {
    recipe.steps[step].feeds.iter().find_map(|f| match &f.from {
        kitchen::step::FeedFrom::Step(id) => recipe.position(id).and_then(|at| lots.after.get(at)).and_then(crate::lot::Lot::water_pct),
        _ => None,
    })
}

/// The scene with the waits that come from a goal filled in.
///
/// # Errors
/// [`PlanError::NoWindow`] when a goal is not computed, or is reached only after the wait's maximum.
pub(crate) fn filled_in(scene: &Scene, windows: &[Computed]) -> Result<Scene, PlanError> {
    let mut scene = scene.clone();
    for w in windows {
        let step = scene.book.recipes.get_mut(&w.component).and_then(|r| r.steps.iter_mut().find(|s| s.id == w.step));
        let Some(wait) = step.map(|s| &mut s.wait).filter(|wait| wait.from_goal) else { continue };
        let no = |why: String| PlanError::NoWindow { what: format!("{}.{}", w.component, w.step), why };
        let span = w.window.as_ref().map_err(|why| no(why.clone()))?;
        let min = span.thick.max(wait.min);
        let max = span.latest.map_or(wait.max, |latest| latest.min(wait.max));
        if min > max {
            return Err(no(format!("the thickest piece is there after {}, the wait ends after {max}", minutes(span.thick))));
        }
        (wait.min, wait.max) = (min, max);
        wait.best = Some(span.best.max(min).min(max));
        // The pieces at hand are in the computed window already.
        wait.by_thickness = false;
    }
    Ok(scene)
}

fn one(scene: &Scene, recipe: &Recipe, c: &Component, (step, flow): (&Step, &Flow), water_pct: Option<f64>) -> Option<Computed> {
    let piece = recipe.steps.iter().find_map(|s| s.piece.as_ref());
    let computed = |goal: String, window: Result<Span, String>, model| Computed {
        component: recipe.id.clone(),
        step: step.id.clone(),
        goal,
        window,
        house: None,
        conflict: None,
        model,
    };
    if let (Some(until), Some(piece)) = (step.until, piece) {
        let window = core(scene, recipe, c, step, piece).map_err(|e| e.to_string());
        let goal = format!("core {} °C held {}", crate::figures::number(until.core.c(), 1), until.hold);
        let mut computed = computed(goal, window, HEAT_MODEL);
        computed.conflict = heating_conflict(step, piece, &computed.window);
        return Some(computed);
    }
    let goal = step.goal?;
    let Some(piece) = piece else {
        return Some(computed(words(goal), Err("the recipe names no piece: write its shape and thickness".to_owned()), SALT_MODEL));
    };
    let mut computed = match goal {
        Goal::Cold(to) => computed(words(goal), cold(scene, recipe, c, step, piece, to).map_err(|e| e.to_string()), HEAT_MODEL),
        Goal::Equilibrium(_) | Goal::WaterPhaseSalt(_) | Goal::Salt { .. } => {
            computed(words(goal), salting(scene, step, flow, piece, goal, water_pct), SALT_MODEL)
        }
        Goal::Loss(_) => computed(words(goal), Err("two weighings give the rate: saltern ask dry".to_owned()), "exponential drying"),
        Goal::Acid(_) => computed(words(goal), Err("not computed in a plan yet: saltern ask steep".to_owned()), SALT_MODEL),
    };
    if matches!(goal, Goal::Cold(_)) {
        computed.conflict = chill_conflict(step, piece, &computed.window);
    } else {
        computed.house = (!step.wait.from_goal).then(|| house(&step.wait, piece));
        computed.conflict = wait_conflict(&computed);
    }
    Some(computed)
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
        Goal::Acid(part) => format!("acid at the centre at {} % of where it ends", n(part * 100.0)),
    }
}

/// The house window of a wait, thickness counted.
fn house(wait: &Wait, piece: &Written) -> (Elapsed, Elapsed) {
    let times = if wait.by_thickness { piece.time_factor() } else { 1.0 };
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

fn salting(scene: &Scene, step: &Step, flow: &Flow, piece: &Written, goal: Goal, water_pct: Option<f64>) -> Result<Span, String> {
    let water = water_pct.ok_or_else(|| "the water of the flesh is not known: add it to the ingredient".to_owned())?;
    let green = transport::green_weight().map_err(text)?;
    let share = |pct: f64| Fraction::percent(pct, green.clone()).map_err(text);
    let flesh = Flesh::with_water(&share(water)?).map_err(text)?;
    let phase = phase(scene, step, flow, &share)?;
    let goal = match goal {
        Goal::Equilibrium(part) => Salting::Uptake { share: part },
        Goal::WaterPhaseSalt(pct) => Salting::Core { water_phase: Strength::percent(pct).map_err(text)? },
        Goal::Salt { low, high } => {
            let base = transport::finished_piece().map_err(text)?;
            let of = |pct| Fraction::percent(pct, base.clone()).map_err(text);
            Salting::Mean { least: of(low)?, most: of(high)? }
        }
        _ => return Err("not a goal of salting".to_owned()),
    };
    let mut pieces = Vec::new();
    for thickness in three(piece) {
        let (shape, closed) = match piece.shape.as_str() {
            "cylinder" => (Shape::Cylinder { diameter: thickness }, Closed::None),
            "finger" => (Shape::Finger { thickness, width: thickness }, if piece.open_faces >= 4 { Closed::None } else { Closed::One }),
            _ => (Shape::Slab { thickness }, if piece.open_faces >= 2 { Closed::None } else { Closed::One }),
        };
        pieces.push(Piece::new(shape, closed).map_err(text)?);
    }
    let pieces = Pieces { thin: pieces[0], nominal: pieces[1], thick: pieces[2] };
    let params = params(piece).map_err(text)?;
    let w = transport::window(&pieces, &flesh, &params, &phase, &goal, Grid::default()).map_err(text)?;
    Ok(Span {
        thin: w.thin_there,
        nominal: w.nominal_there,
        thick: w.earliest,
        best: w.best,
        latest: w.latest,
        thick_if_slow: w.thick_if_slow,
    })
}

fn text(error: impl std::fmt::Display) -> String {
    error.to_string()
}

fn params(piece: &Written) -> Result<Params, ScienceError> {
    let guess = Params::guess()?;
    match piece.salt_diffusivity_m2_s {
        None => Ok(guess),
        Some(d) => Ok(Params {
            salt: transport::DiffusivityLaw::new(
                science::diffusion::Diffusivity::m2_per_s(d)?,
                Temperature::celsius(COLD_C)?,
                ACTIVATION_KJ_MOL,
                FITTED_SPREAD,
            )?,
            ..guess
        }),
    }
}

/// What the step lays on or pours over, per green weight.
fn phase(scene: &Scene, step: &Step, flow: &Flow, share: &dyn Fn(f64) -> Result<Fraction, String>) -> Result<Phase, String> {
    let (mut salt, mut sugar, mut water) = (0.0, 0.0, 0.0);
    for (line, g) in step.lines.iter().zip(&flow.lines) {
        let Some(item) = scene.book.ingredients.get(line.item.id()) else {
            // Another recipe's liquor counts as its water.
            water += g.made_g;
            continue;
        };
        salt += g.made_g * item.salt_pct() / 100.0;
        match item.role {
            Some(Role::Sugar) => sugar += g.made_g,
            Some(Role::Water) => water += g.made_g,
            _ => {}
        }
    }
    if flow.in_g <= 0.0 || salt <= 0.0 {
        return Err("the step adds no salt".to_owned());
    }
    let time = Elapsed::from_days(LONGEST_DAYS).map_err(text)?;
    let temperature = match step.wait.at_most {
        Some(t) => t,
        None => Temperature::celsius(COLD_C).map_err(text)?,
    };
    let of_green = |g: f64| g / flow.in_g * 100.0;
    match (step.verb, step.base.kind) {
        (Verb::Brine, BaseKind::Inflow) => Ok(Phase::Brine {
            brine: CoverBrine {
                water: share(of_green(water))?,
                salt: Strength::percent(salt / (salt + water) * 100.0).map_err(text)?,
                sugar_g_per_kg_water: sugar / water * 1000.0,
                partition: 1.0,
            },
            water_out: WaterOut::STILL,
            time,
            temperature,
        }),
        _ => Ok(Phase::DryCure {
            salt: share(of_green(salt))?,
            sugar: share(of_green(sugar))?,
            juice: Juice::AllEnters,
            water_out: WaterOut::STILL,
            time,
            temperature,
        }),
    }
}

/// The food of a recipe's starting item, when its row adds up; fish without a row counts as trout.
fn food(scene: &Scene, recipe: &Recipe, c: &Component) -> Result<Food, ScienceError> {
    let item: Option<&Ingredient> = c.start.as_ref().and_then(|s| scene.book.ingredients.get(&s.item));
    let row = item.and_then(|i| i.composition.as_ref());
    if let Some(r) = row
        && let (Some(water), Some(protein), Some(fat)) = (r.water, r.protein, r.fat)
    {
        let carbohydrate = r.carbohydrate.unwrap_or(0.0);
        let ash = 100.0 - water - protein - fat - carbohydrate;
        return Food::new(Percent { water, protein, fat, carbohydrate, fibre: 0.0, ash: ash.max(0.0) });
    }
    let fish = recipe.product.as_ref().is_some_and(|p| p.class == kitchen::recipe::ProductClass::SmokedFish);
    if fish {
        return Food::new(TROUT);
    }
    Err(ScienceError::None { what: "composition (water, protein, fat) of what it starts from" })
}

fn body(piece: &Written, thickness: Length) -> Result<Body, ScienceError> {
    match piece.shape.as_str() {
        "cylinder" => Body::cylinder(thickness),
        // On a rack air meets both faces, whatever side the salt went in from.
        _ => Body::new(HeatShape::Slab { faces: Faces::Both }, thickness),
    }
}

/// The step's programme as heating, in surroundings of one kind.
fn programme(step: &Step, around: Surroundings, times: f64, longest: Option<Elapsed>) -> Result<Programme, ScienceError> {
    let h = around.heat_transfer()?.usual;
    let mut segments: Vec<Heating> = Vec::new();
    for s in &step.programme {
        let Some(air) = s.air else { continue };
        let from = match segments.last() {
            Some(before) if s.what == "ramp" => before.to,
            _ => air,
        };
        let time = if s.by_thickness { s.time.scaled(times)? } else { s.time };
        segments.push(Heating::ramp(from, air, time, h));
    }
    if let (Some(last), Some(more)) = (segments.last().copied(), longest) {
        segments.push(Heating::steady(last.to, more, h));
    }
    Programme::new(segments)
}

/// How long beyond the programme the core is looked for.
const BEYOND_H: f64 = 24.0;

fn timed(
    scene: &Scene,
    recipe: &Recipe,
    c: &Component,
    step: &Step,
    piece: &Written,
    (around, from, to): (Surroundings, Temperature, Temperature),
) -> Result<Span, ScienceError> {
    let food = food(scene, recipe, c)?;
    let programme = programme(step, around, piece.time_factor(), Some(Elapsed::from_hours(BEYOND_H)?))?;
    let mut there = Vec::new();
    for thickness in three(piece) {
        let body = body(piece, thickness)?;
        there.push(science::heat::time_to_core(&food, &body, &programme, from, to, HeatGrid::usual()?)?);
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

fn core(scene: &Scene, recipe: &Recipe, c: &Component, step: &Step, piece: &Written) -> Result<Span, ScienceError> {
    let to = step.until.map_or_else(|| Temperature::celsius(HOT_C), |u| Ok(u.core))?;
    let from = Temperature::celsius(FROM_COLD_C)?;
    timed(scene, recipe, c, step, piece, (Surroundings::ForcedSmokehouse, from, to))
}

fn cold(scene: &Scene, recipe: &Recipe, c: &Component, step: &Step, piece: &Written, to: Temperature) -> Result<Span, ScienceError> {
    let hot = step.feeds.iter().find_map(|f| match &f.from {
        kitchen::step::FeedFrom::Step(id) => recipe.position(id).and_then(|at| recipe.steps[at].until).map(|u| u.core),
        _ => None,
    });
    let from = hot.map_or_else(|| Temperature::celsius(HOT_C), Ok)?;
    timed(scene, recipe, c, step, piece, (Surroundings::Blast, from, to))
}

fn planned(step: &Step, times: f64) -> Elapsed {
    let of = |s: &kitchen::step::Segment| if s.by_thickness { s.time.scaled(times).unwrap_or(s.time) } else { s.time };
    step.programme.iter().filter(|s| s.air.is_some()).map(of).sum()
}

fn minutes(t: Elapsed) -> String {
    Elapsed::from_minutes((t.minutes() + 0.5).floor()).map_or_else(|_| t.to_string(), |m| m.to_string())
}

fn heating_conflict(step: &Step, piece: &Written, window: &Result<Span, String>) -> Option<String> {
    let w = window.as_ref().ok()?;
    let hold = step.until.map_or(Elapsed::ZERO, |u| u.hold);
    let need = w.thick + hold;
    let planned = planned(step, piece.time_factor());
    (need > planned).then(|| {
        format!(
            "the thickest piece is there after {} by the model and holds {}, but the programme ends after {}",
            minutes(w.thick),
            hold,
            minutes(planned)
        )
    })
}

fn chill_conflict(step: &Step, piece: &Written, window: &Result<Span, String>) -> Option<String> {
    let w = window.as_ref().ok()?;
    let planned = planned(step, piece.time_factor());
    (w.thick > planned).then(|| {
        format!("the thickest piece is cold after {} by the model, but the chill is planned for {}", minutes(w.thick), minutes(planned))
    })
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
