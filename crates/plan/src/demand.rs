//! From covers back through every yield: what each step needs, and what it makes of what was bought.
//!
//! Two walks over the same steps. Backward from the plate gives the *need*. Forward from what was
//! bought gives the *made*: when whole pieces go through the process, every weight downstream is
//! larger than the need, and the bench weighs the made amounts.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::event::{Per, Portion};
use kitchen::recipe::{Recipe, Surplus};
use kitchen::step::{BaseKind, BoilOff, FeedFrom, Line, LineAmount, LineItem, Step};

use crate::problem::PlanError;
use crate::scene::Scene;

/// One recipe of an event with its masses.
#[derive(Debug, Clone, PartialEq)]
pub struct Component {
    /// The recipe.
    pub recipe: Id,
    /// Its name.
    pub name: String,
    /// Grams served on one plate; `None` for a part counted in pieces and for a recipe inside another.
    pub portion_g: Option<f64>,
    /// Portions (plates, sets) wanted.
    pub portions: f64,
    /// Grams wanted at the end of the last step.
    pub served_need_g: f64,
    /// Yields from the formula's base to the plate, multiplied.
    pub chain: f64,
    /// The step the chain starts at.
    pub chain_from: usize,
    /// The bought item it starts from.
    pub start: Option<Start>,
    /// Pieces or sets the hands and the per-piece lines count.
    pub pieces: f64,
    /// Masses of the steps, in the recipe's order.
    pub flows: Vec<Flow>,
    /// Made grams at the end of the last step.
    pub made_g: f64,
}

/// The bought item a component starts from.
#[derive(Debug, Clone, PartialEq)]
pub struct Start {
    /// The item.
    pub item: Id,
    /// The step it enters.
    pub step: usize,
    /// Weight of a piece, when it comes in pieces.
    pub piece_g: Option<f64>,
    /// Grams needed.
    pub need_g: f64,
    /// Grams that go in.
    pub used_g: f64,
}

/// The masses of one step, grams.
#[derive(Debug, Clone, PartialEq)]
pub struct Flow {
    /// Flowing in, as needed.
    pub need_in_g: f64,
    /// Flowing out, as needed.
    pub need_out_g: f64,
    /// The base of the percentages, as needed.
    pub need_base_g: f64,
    /// Flowing in, made.
    pub in_g: f64,
    /// Flowing out, made.
    pub out_g: f64,
    /// The base, made.
    pub base_g: f64,
    /// Machine loads.
    pub loads: u32,
    /// Lines.
    pub lines: Vec<LineFlow>,
}

/// The masses of one line.
#[derive(Debug, Clone, PartialEq)]
pub struct LineFlow {
    /// Grams used for the need.
    pub need_g: f64,
    /// Grams used for what is made.
    pub made_g: f64,
    /// Purchased grams (or pieces, see `counted`) for the need.
    pub buy_need: f64,
    /// Purchased grams (or pieces) for what is made, spare mix included.
    pub buy_made: f64,
    /// The two above count pieces.
    pub counted: bool,
    /// Water added on top for what boils off (in `made_g` and `need_g` it is not counted).
    pub boils_off_g: f64,
    /// Held back from a batch much larger than written.
    pub hold_back_g: f64,
}

/// Batches this many times larger than written hold part of a steeped spice back.
pub const HOLD_BACK_FROM: f64 = 4.0;

/// Float noise below which a rounding up is not taken: one part in a million million.
const NOISE: f64 = 1e-12;

/// Rounds up to a multiple, blind to float noise.
pub(crate) fn up_to(g: f64, step: Option<f64>) -> f64 {
    match step {
        Some(step) if step > 0.0 => ((g / step) * (1.0 - NOISE) - NOISE).ceil().max(0.0) * step,
        _ => g,
    }
}

/// Plates: covers with the spare rate, rounded up.
#[must_use]
pub fn plates(covers: u32, spare: f64) -> f64 {
    up_to(f64::from(covers) * (1.0 + spare), Some(1.0))
}

/// How many of a part are wanted.
fn count(scene: &Scene, per: Per, spare: u32) -> f64 {
    let covers = f64::from(scene.event.covers);
    let base = match per {
        Per::Plate => plates(scene.event.covers, scene.event.spare),
        Per::Cover => covers,
        Per::Pair => (covers / 2.0).ceil(),
    };
    base + f64::from(spare)
}

/// What is wanted of each recipe.
#[derive(Debug, Clone, Default)]
struct Wanted {
    served_g: f64,
    portions: f64,
    portion_g: Option<f64>,
    start_pieces: Option<f64>,
}

/// The components of a scene, dishes first, recipes inside recipes after those that use them.
///
/// `bought` gives the grams that go into components whose surplus goes through, by recipe.
///
/// # Errors
/// [`PlanError`] when a figure leaves the range of numbers.
pub fn components(scene: &Scene, bought: &BTreeMap<Id, f64>) -> Result<Vec<Component>, PlanError> {
    let mut wanted: BTreeMap<Id, Wanted> = BTreeMap::new();
    for dish in scene
        .event
        .dishes
        .iter()
        .filter_map(|d| scene.book.dishes.get(d))
    {
        for part in &dish.parts {
            let n = count(scene, part.per, part.spare);
            let w = wanted.entry(part.recipe.clone()).or_default();
            w.portions += n;
            match part.portion {
                Portion::Served(g) => {
                    w.served_g += n * g.g();
                    // On two dishes with two portions it has no one portion.
                    w.portion_g = match w.portion_g {
                        None if w.portions <= n => Some(g.g()),
                        Some(p) if (p - g.g()).abs() < 1e-9 => Some(p),
                        _ => None,
                    };
                }
                Portion::Pieces(p) => *w.start_pieces.get_or_insert(0.0) += n * p,
            }
        }
    }
    for (recipe, g) in crate::specials::on_top(scene) {
        wanted.entry(recipe).or_default().served_g += g;
    }
    let mut done = Vec::new();
    for id in recipes(scene) {
        let Some(recipe) = scene.book.recipes.get(&id) else {
            continue;
        };
        let w = wanted.get(&id).cloned().unwrap_or_default();
        let component = component(scene, recipe, &w, bought)?;
        for (flow, step) in component.flows.iter().zip(&recipe.steps) {
            for (line, l) in flow.lines.iter().zip(&step.lines) {
                if let LineItem::Recipe(used) = &l.item {
                    // Spare mix and trim are made of it too.
                    wanted.entry(used.clone()).or_default().served_g += line.buy_made;
                }
            }
            for feed in &step.feeds {
                if let FeedFrom::Recipe(used) = &feed.from {
                    wanted.entry(used.clone()).or_default().served_g += flow.in_g * feed.share;
                }
            }
        }
        done.push(component);
    }
    // Printed in the order of the dishes.
    let place = |id: &Id| {
        scene
            .event
            .dishes
            .iter()
            .filter_map(|d| scene.book.dishes.get(d))
            .flat_map(|d| &d.parts)
            .position(|p| p.recipe == *id)
            .unwrap_or(usize::MAX)
    };
    done.sort_by_key(|c| place(&c.recipe));
    Ok(done)
}

/// The recipes an event makes: those of its dishes, and those inside them; users come first.
pub(crate) fn recipes(scene: &Scene) -> Vec<Id> {
    let mut order = Vec::new();
    for dish in scene
        .event
        .dishes
        .iter()
        .filter_map(|d| scene.book.dishes.get(d))
    {
        for part in &dish.parts {
            visit(scene, &part.recipe, &mut order);
        }
    }
    order.reverse();
    order
}

/// Depth first, users after what they use; reversed, users come first.
fn visit(scene: &Scene, id: &Id, order: &mut Vec<Id>) {
    if order.contains(id) {
        return;
    }
    if let Some(recipe) = scene.book.recipes.get(id) {
        for step in &recipe.steps {
            for line in &step.lines {
                if let LineItem::Recipe(used) = &line.item {
                    visit(scene, used, order);
                }
            }
            for feed in &step.feeds {
                if let FeedFrom::Recipe(used) = &feed.from {
                    visit(scene, used, order);
                }
            }
        }
    }
    order.push(id.clone());
}

/// Masses flowing in, of the base, and out of every step for `served` grams at the end.
fn backward(recipe: &Recipe, served: f64) -> Vec<(f64, f64, f64)> {
    let last = recipe.last();
    let mut flows = vec![(0.0, 0.0, 0.0); recipe.steps.len()];
    for i in (0..recipe.steps.len()).rev() {
        let step = &recipe.steps[i];
        let mut out: f64 = recipe
            .takers(i)
            .iter()
            .map(|(j, share)| flows[*j].0 * share)
            .sum();
        if i == last {
            out += served;
        }
        let before = out / step.yields.mean;
        let (inflow, base) = match step.base.kind {
            BaseKind::Made => (0.0, made_in(step, before)),
            BaseKind::Inflow => (before, before),
            BaseKind::Cover(ratio) => (before, made_in(step, before * ratio)),
        };
        flows[i] = (inflow, base, out);
    }
    flows
}

fn made_in(step: &Step, g: f64) -> f64 {
    up_to(g, step.base.make_in.map(units::Mass::g))
}

fn start_of(recipe: &Recipe) -> Option<(usize, &Id, Option<f64>)> {
    recipe.steps.iter().enumerate().find_map(|(i, step)| {
        step.feeds.iter().find_map(|f| match &f.from {
            FeedFrom::Item { item, piece, .. } => Some((i, item, piece.map(units::Mass::g))),
            _ => None,
        })
    })
}

/// The step whose percentages are taken of what flows in: the chain to the plate starts there.
fn chain_from(recipe: &Recipe) -> usize {
    let formula = recipe.steps.iter().position(|s| {
        !matches!(s.base.kind, BaseKind::Made)
            && s.lines
                .iter()
                .any(|l| matches!(l.amount, LineAmount::OfBase(_)))
    });
    formula.unwrap_or(0)
}

/// Grams out at the end for one gram into step `from`, along the first taker.
fn chain(recipe: &Recipe, from: usize) -> f64 {
    let mut product = recipe.steps[from].yields.mean;
    let mut at = from;
    while let Some((next, _)) = recipe.takers(at).first() {
        product *= recipe.steps[*next].yields.mean;
        at = *next;
    }
    product
}

fn component(
    scene: &Scene,
    recipe: &Recipe,
    w: &Wanted,
    bought: &BTreeMap<Id, f64>,
) -> Result<Component, PlanError> {
    let start = start_of(recipe);
    let mut served = w.served_g;
    if let (Some(pieces), Some((at, _, Some(piece_g)))) = (w.start_pieces, start) {
        // One gram at the end needs so much at the start; the pieces say how many grams that is.
        let per_gram = backward(recipe, 1.0)[at].0;
        served += pieces * piece_g / per_gram;
    }
    let need = backward(recipe, served);
    let start = start.map(|(step, item, piece_g)| Start {
        item: item.clone(),
        step,
        piece_g,
        need_g: need[step].0,
        used_g: match recipe.surplus {
            Surplus::Through => bought.get(&recipe.id).copied().unwrap_or(need[step].0),
            Surplus::ToStore => need[step].0,
        },
    });
    let made = forward(scene, recipe, &need, start.as_ref());
    let pieces = match (&start, w.portions) {
        (
            Some(Start {
                piece_g: Some(p),
                used_g,
                ..
            }),
            _,
        ) => up_to(used_g / p, Some(1.0)),
        (_, n) if n > 0.0 => n,
        _ => 1.0,
    };
    let made_g = made.get(recipe.last()).map_or(0.0, |f| f.2);
    let flows: Vec<Flow> = recipe
        .steps
        .iter()
        .enumerate()
        .map(|(i, step)| {
            let loads = crate::loads::loads(scene, step, made[i].0, pieces);
            Flow {
                need_in_g: need[i].0,
                need_base_g: need[i].1,
                need_out_g: need[i].2,
                in_g: made[i].0,
                base_g: made[i].1,
                out_g: made[i].2,
                loads,
                lines: step
                    .lines
                    .iter()
                    .map(|l| line(step, l, need[i].1, made[i].1, pieces, loads))
                    .collect(),
            }
        })
        .collect();
    let flows = crate::loads::carried(recipe, flows);
    for (flow, step) in flows.iter().zip(&recipe.steps) {
        if ![flow.in_g, flow.out_g, flow.base_g]
            .iter()
            .all(|g| g.is_finite() && *g < 1e12)
        {
            return Err(PlanError::TooMuch {
                what: format!("{}.{}", recipe.id, step.id),
            });
        }
    }
    let from = chain_from(recipe);
    Ok(Component {
        recipe: recipe.id.clone(),
        name: recipe.name.clone(),
        portion_g: w.portion_g,
        portions: w.portions,
        served_need_g: served,
        chain: chain(recipe, from),
        chain_from: from,
        start,
        pieces,
        flows,
        made_g,
    })
}

/// Masses of what is made from what goes in; a weighed mass replaces the computed one.
fn forward(
    scene: &Scene,
    recipe: &Recipe,
    need: &[(f64, f64, f64)],
    start: Option<&Start>,
) -> Vec<(f64, f64, f64)> {
    let mut made: Vec<(f64, f64, f64)> = Vec::new();
    for (i, step) in recipe.steps.iter().enumerate() {
        let mut inflow = 0.0;
        for feed in &step.feeds {
            inflow += match &feed.from {
                FeedFrom::Item { .. } => start
                    .filter(|s| s.step == i)
                    .map_or(need[i].0 * feed.share, |s| s.used_g * feed.share),
                FeedFrom::Recipe(_) => need[i].0 * feed.share,
                FeedFrom::Step(id) => {
                    let at = recipe.position(id).unwrap_or(0);
                    let takers = recipe.takers(at);
                    let asked: f64 = takers.iter().map(|(j, share)| need[*j].0 * share).sum();
                    let mine = need[i].0 * feed.share;
                    let part = if asked > 0.0 { mine / asked } else { 0.0 };
                    // A made batch rounded up stays in the bowl: the next step takes what it needs.
                    let there = made.get(at).map_or(0.0, |f| f.2);
                    match recipe.surplus {
                        Surplus::Through => there * part,
                        Surplus::ToStore => (there * part).min(mine.max(0.0)),
                    }
                }
            };
        }
        let base = match step.base.kind {
            BaseKind::Made => need[i].1,
            BaseKind::Inflow => inflow,
            BaseKind::Cover(ratio) => made_in(step, inflow * ratio),
        };
        let computed = match step.base.kind {
            BaseKind::Made => base * step.yields.mean,
            _ => inflow * step.yields.mean,
        };
        let weighed = scene
            .weighed
            .iter()
            .find(|(r, s, _)| *r == recipe.id && *s == step.id)
            .map(|(_, _, g)| *g);
        made.push((inflow, base, weighed.unwrap_or(computed)));
    }
    made
}

fn line(
    step: &Step,
    line: &Line,
    need_base: f64,
    made_base: f64,
    pieces: f64,
    loads: u32,
) -> LineFlow {
    let scale = |base: f64| step.base.written_for.map_or(1.0, |w| base / w.g());
    let (need, made, counted) = match &line.amount {
        LineAmount::OfBase(pct) => (need_base * pct / 100.0, made_base * pct / 100.0, false),
        LineAmount::PerBatch(g) => (g.g() * scale(need_base), g.g() * scale(made_base), false),
        LineAmount::PerLoad(g) => (g.g() * f64::from(loads), g.g() * f64::from(loads), false),
        LineAmount::PerPiece(n) => (n * pieces, n * pieces, true),
    };
    let boils_off_g = match line.boils_off {
        Some(BoilOff::Part(part)) => made_base * part / (1.0 - part),
        Some(BoilOff::Pan {
            diameter,
            time,
            rate_g_cm2_h,
        }) => {
            let radius = diameter.cm() / 2.0;
            std::f64::consts::PI * radius * radius * rate_g_cm2_h * time.hours()
        }
        None => 0.0,
    };
    let large = scale(made_base) >= HOLD_BACK_FROM;
    let hold_back_g = match line.start_with {
        Some(part) if large => made * (1.0 - part),
        _ => 0.0,
    };
    let spare = match line.amount {
        LineAmount::OfBase(_) => 1.0 + step.spare_mix,
        _ => 1.0,
    };
    let buys = |g: f64| match line.gives {
        Some(gives) => g / gives.g(),
        None => g / line.trim,
    };
    LineFlow {
        need_g: need,
        made_g: made,
        buy_need: if counted {
            need
        } else {
            buys((need + boils_off_g) * spare)
        },
        buy_made: if counted {
            made
        } else {
            buys((made + boils_off_g) * spare)
        },
        counted: counted || line.gives.is_some(),
        boils_off_g,
        hold_back_g,
    }
}
