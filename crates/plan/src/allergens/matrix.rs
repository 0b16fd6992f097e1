//! Rows and columns: what of an event holds what of the place's list.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::label::Allergen;
use safety::allergens::{Column, columns};

use super::standing::{self, Cause, State, of_all, of_swap};
use super::sulphite;
use super::walk::{eaten, inside};
use crate::demand::Component;
use crate::scene::Scene;

/// The whole matrix of an event.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Matrix {
    /// What the place asks to be named, in the order of its list.
    pub columns: Vec<&'static Column>,
    /// Dishes, each with its parts.
    pub dishes: Vec<DishRows>,
    /// Words that stand on a label and not on the place's list.
    pub beside: Vec<Beside>,
}

/// A dish and its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct DishRows {
    /// The dish.
    pub dish: Id,
    /// Its name.
    pub name: String,
    /// The plate as a whole: the worst of its parts in each column.
    pub states: Vec<State>,
    /// Its parts, recipes inside them below each.
    pub parts: Vec<Row>,
}

/// A component, or a recipe inside one.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The recipe.
    pub recipe: Id,
    /// Its name.
    pub name: String,
    /// One cell a column.
    pub cells: Vec<Cell>,
    /// Recipes inside it.
    pub inside: Vec<Row>,
}

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// What can be said.
    pub state: State,
    /// Why, worst first; empty when it is free.
    pub causes: Vec<Cause>,
    /// mg/kg by the figures on the labels; `None` where the column has no limit, or where no label gives a figure.
    pub mg_per_kg: Option<f64>,
    /// Swaps of the book whose own labels do not name it.
    pub swaps: Vec<String>,
}

/// A word on a label that the place's list does not have.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// The word.
    pub word: Allergen,
    /// The component.
    pub recipe: Id,
    /// Its name.
    pub name: String,
    /// Contains, or may.
    pub state: State,
    /// The ingredient.
    pub ingredient: String,
}

/// The matrix of an event at its site, with the grams of a plan for what has a limit.
#[must_use]
pub fn matrix(scene: &Scene, components: &[Component]) -> Matrix {
    let columns = columns(scene.site.rules);
    let so2 = sulphite::stated(&scene.book, components);
    let mut dishes = Vec::new();
    let mut beside = Vec::new();
    for dish in scene
        .event
        .dishes
        .iter()
        .filter_map(|d| scene.book.dishes.get(d))
    {
        let parts: Vec<Row> = dish
            .parts
            .iter()
            .map(|p| row(scene, &columns, &so2, &p.recipe, Some(&dish.id)))
            .collect();
        for part in &dish.parts {
            for b in besides(scene, &columns, &part.recipe) {
                if !beside.contains(&b) {
                    beside.push(b);
                }
            }
        }
        let states = (0..columns.len())
            .map(|i| {
                let of = parts.iter().map(|r| r.cells[i].state);
                of.max().unwrap_or(State::Free)
            })
            .collect();
        dishes.push(DishRows {
            dish: dish.id.clone(),
            name: dish.name.clone(),
            states,
            parts,
        });
    }
    Matrix {
        columns,
        dishes,
        beside,
    }
}

fn name(scene: &Scene, recipe: &Id) -> String {
    let r = scene.book.recipes.get(recipe);
    r.map_or_else(|| recipe.to_string(), |r| r.name.clone())
}

fn row(
    scene: &Scene,
    columns: &[&'static Column],
    so2: &BTreeMap<Id, f64>,
    recipe: &Id,
    dish: Option<&Id>,
) -> Row {
    let all = eaten(&scene.book, recipe);
    let figured = all.iter().any(|e| {
        let label = e.ingredient.and_then(|i| i.allergens.as_ref());
        label.is_some_and(|a| a.so2_mg_per_kg.is_some())
    });
    let cells = columns
        .iter()
        .map(|column| {
            let mg = so2.get(recipe).copied();
            let (state, causes) = match column.limit {
                Some(limit) => sulphite::cell(limit, mg.unwrap_or(0.0), &all),
                None => of_all(&column.words, &all),
            };
            let swaps = match dish {
                Some(dish) if state > State::Under => fitting(scene, dish, recipe, column),
                _ => Vec::new(),
            };
            Cell {
                state,
                causes,
                mg_per_kg: mg.filter(|_| column.limit.is_some() && figured),
                swaps,
            }
        })
        .collect();
    let inner = scene.book.recipes.get(recipe).map_or(Vec::new(), inside);
    Row {
        recipe: recipe.clone(),
        name: name(scene, recipe),
        cells,
        inside: inner
            .iter()
            .map(|id| row(scene, columns, so2, id, None))
            .collect(),
    }
}

/// Swaps for a part whose own labels name nothing of the column.
fn fitting(scene: &Scene, dish: &Id, part: &Id, column: &Column) -> Vec<String> {
    standing::swaps(&scene.book, dish, part)
        .into_iter()
        .filter(|s| of_all(&column.words, &of_swap(&scene.book, s)).0 == State::Free)
        .map(|s| s.name.clone())
        .collect()
}

/// Words on the labels of a component that are in no column.
fn besides(scene: &Scene, columns: &[&'static Column], recipe: &Id) -> Vec<Beside> {
    let mut all = Vec::new();
    for e in eaten(&scene.book, recipe) {
        let Some((i, label)) = e
            .ingredient
            .and_then(|i| i.allergens.as_ref().map(|a| (i, a)))
        else {
            continue;
        };
        let of = |words: &[Allergen], state| {
            words
                .iter()
                .filter(|w| !columns.iter().any(|c| c.words.contains(w)))
                .map(|w| Beside {
                    word: *w,
                    recipe: recipe.clone(),
                    name: name(scene, recipe),
                    state,
                    ingredient: i.name.clone(),
                })
                .collect::<Vec<_>>()
        };
        all.extend(of(&label.contains, State::Contains));
        all.extend(of(&label.may, State::May));
    }
    all.dedup();
    all
}
