//! Sulphite in what is served, mg per kg, from what the labels state and the grams of the plan.
//!
//! All that goes in is counted as staying: what heat drives off, what a rinse takes away and what stays in a drained brine
//! is not taken off. The figure is therefore too high rather than too low.

use std::collections::BTreeMap;

use kitchen::recipe::Recipe;
use kitchen::step::{BaseKind, FeedFrom, LineAmount, LineItem};
use kitchen::verb::Loses;
use kitchen::{Book, Id};
use safety::allergens::Limit;

use super::standing::{Cause, State, judged, standing};
use super::walk::Eaten;
use crate::demand::{Component, Flow};
use kitchen::label::Allergen;

/// mg in a gram for one mg in a kilogram.
const PER_G: f64 = 1e-3;

/// mg/kg of SO₂ stated, by recipe: what is served of it. Ingredients that state no figure count as nothing here; whether
/// there are any is for [`cell`] to say.
#[must_use]
pub fn stated(book: &Book, components: &[Component]) -> BTreeMap<Id, f64> {
    let mut known: BTreeMap<Id, f64> = BTreeMap::new();
    // Inner recipes first: each round settles those whose own are settled.
    for _ in 0..=components.len() {
        for c in components {
            let Some(recipe) = book.recipes.get(&c.recipe) else {
                continue;
            };
            let ready = super::walk::inside(recipe)
                .iter()
                .all(|id| known.contains_key(id));
            if ready && !known.contains_key(&c.recipe) {
                let mg = served(book, recipe, c, &known);
                known.insert(c.recipe.clone(), mg);
            }
        }
    }
    known
}

fn served(book: &Book, recipe: &Recipe, c: &Component, known: &BTreeMap<Id, f64>) -> f64 {
    let of_item = |id: &Id| {
        let label = book.ingredients.get(id).and_then(|i| i.allergens.as_ref());
        label.and_then(|a| a.so2_mg_per_kg).unwrap_or(0.0)
    };
    let of_recipe = |id: &Id| known.get(id).copied().unwrap_or(0.0);
    // After each step, mg/kg.
    let mut after: Vec<f64> = Vec::new();
    for (step, flow) in recipe.steps.iter().zip(&c.flows) {
        let mut mg = 0.0;
        for feed in &step.feeds {
            let per_kg = match &feed.from {
                FeedFrom::Item { item, .. } => of_item(item),
                FeedFrom::Recipe(id) => of_recipe(id),
                FeedFrom::Step(id) => recipe
                    .position(id)
                    .and_then(|at| after.get(at).copied())
                    .unwrap_or(0.0),
            };
            mg += per_kg * flow.in_g * feed.share * PER_G;
        }
        for (line, g) in step.lines.iter().zip(&flow.lines) {
            if matches!(line.amount, LineAmount::PerPiece(_)) {
                continue;
            }
            let per_kg = match &line.item {
                LineItem::Item(id) => of_item(id),
                LineItem::Recipe(id) => of_recipe(id),
            };
            mg += per_kg * g.made_g * PER_G;
        }
        let g = mass_it_is_in(step.base.kind, step.loses, flow);
        after.push(if g > 0.0 { mg / g / PER_G } else { 0.0 });
    }
    after.get(recipe.last()).copied().unwrap_or(0.0)
}

/// The grams the step's sulphite ends up in: with what is trimmed off it goes too, with water it does not.
fn mass_it_is_in(kind: BaseKind, loses: Loses, flow: &Flow) -> f64 {
    match (kind, loses) {
        (BaseKind::Made, Loses::Substance) => flow.base_g,
        (BaseKind::Cover(_), _) => flow.in_g + flow.base_g,
        (BaseKind::Inflow, Loses::Substance) => flow.in_g,
        (BaseKind::Made | BaseKind::Inflow, Loses::Water) => flow.out_g,
    }
}

/// The cell of a column with a limit.
///
/// *Contains* once what is stated reaches the limit by itself. A label that names sulphites without a figure leaves it
/// *unknown*, one that may hold them *may*; only where every label gives a figure can it be *under the limit*.
#[must_use]
pub fn cell(limit: Limit, stated_mg_per_kg: f64, all: &[Eaten<'_>]) -> (State, Vec<Cause>) {
    let (_, mut causes) = judged(all, |e| {
        let label = e.ingredient.and_then(|i| i.allergens.as_ref());
        match label.and_then(|a| a.so2_mg_per_kg) {
            Some(mg) if mg > 0.0 => (State::Under, format!("{mg} mg/kg")),
            Some(_) => (State::Free, String::new()),
            None => match standing(&[Allergen::Sulphites], e.ingredient) {
                (State::Contains, _) => (
                    State::Unknown,
                    "sulphites, how much is not stated".to_owned(),
                ),
                other => other,
            },
        }
    });
    if limit.names(stated_mg_per_kg) {
        for c in causes.iter_mut().filter(|c| c.state == State::Under) {
            c.state = State::Contains;
        }
        causes.sort_by_key(|c| std::cmp::Reverse(c.state));
    }
    let worst = causes.first().map_or(State::Free, |c| c.state);
    (worst, causes)
}
