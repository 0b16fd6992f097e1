//! The cells of the allergen matrix, each down to the labels it rests on.

use crate::allergens::standing::label_words;
use crate::allergens::walk::eaten;
use crate::allergens::{Cause, Row, State, figure_id, label_id};
use crate::figures::{Figure, Figures, Value};
use crate::scene::Scene;
use crate::whole::Plan;
use kitchen::Id;

pub(super) fn put(plan: &Plan, f: &mut Figures) {
    let m = &plan.allergens;
    for d in &m.dishes {
        for r in &d.parts {
            row(plan, r, f);
        }
        for (column, state) in m.columns.iter().zip(&d.states) {
            let from: Vec<String> = d
                .parts
                .iter()
                .map(|r| figure_id(&r.recipe, &column.id))
                .collect();
            word(
                f,
                &format!("allergen.dish.{}.{}", d.dish, column.id),
                state.word(),
                "the worst of its parts",
                from,
            );
        }
    }
}

fn row(plan: &Plan, r: &Row, f: &mut Figures) {
    labels(&plan.scene, &r.recipe, f);
    for (column, cell) in plan.allergens.columns.iter().zip(&r.cells) {
        let id = figure_id(&r.recipe, &column.id);
        let how = match (cell.mg_per_kg, column.limit) {
            (Some(mg), Some(limit)) => format!(
                "{}; {} mg/kg by the figures on the labels, all counted as staying; named {}",
                told(cell.state, &cell.causes),
                crate::figures::number(mg, 1),
                limit.words()
            ),
            _ => told(cell.state, &cell.causes),
        };
        word(
            f,
            &id,
            cell.state.word(),
            &how,
            from(&plan.scene, &r.recipe),
        );
    }
    for inner in &r.inside {
        row(plan, inner, f);
    }
}

/// The label leaves of everything eaten of a recipe.
pub(crate) fn labels(scene: &Scene, recipe: &Id, f: &mut Figures) {
    for e in eaten(&scene.book, recipe) {
        label(&e, f);
    }
}

/// The label leaf of one ingredient.
pub(crate) fn label(e: &crate::allergens::walk::Eaten<'_>, f: &mut Figures) {
    let label = e.ingredient.and_then(|i| i.allergens.as_ref());
    let source = label.map_or_else(
        || super::book(&format!("ingredient {}", e.item)).to_string(),
        |a| a.source.to_string(),
    );
    f.put(Figure {
        id: label_id(&e.item),
        value: Value::Word(label_words(label)),
        unit: String::new(),
        base: None,
        from: Vec::new(),
        formula: String::new(),
        source,
        places: 0,
    });
}

/// The labels a cell of a recipe rests on.
pub(crate) fn from(scene: &Scene, recipe: &Id) -> Vec<String> {
    let mut ids = Vec::new();
    for e in eaten(&scene.book, recipe) {
        let id = label_id(&e.item);
        if !ids.contains(&id) {
            ids.push(id);
        }
    }
    ids
}

/// Puts a word that follows from others.
pub(crate) fn word(f: &mut Figures, id: &str, value: &str, formula: &str, from: Vec<String>) {
    f.put(Figure {
        id: id.to_owned(),
        value: Value::Word(value.to_owned()),
        unit: String::new(),
        base: None,
        from,
        formula: formula.to_owned(),
        source: "computed".to_owned(),
        places: 0,
    });
}

/// Why, in words: which ingredient through which steps.
pub(crate) fn told(state: State, causes: &[Cause]) -> String {
    if state == State::Free {
        return "every label below was read, and none names it".to_owned();
    }
    let each: Vec<String> = causes
        .iter()
        .map(|c| {
            let path: Vec<String> = c
                .path
                .iter()
                .rev()
                .map(crate::allergens::walk::Through::id)
                .collect();
            let through = if path.is_empty() {
                String::new()
            } else {
                format!(" through {}", path.join(", then "))
            };
            format!("{} {} ({}){through}", c.item, c.state.word(), c.said)
        })
        .collect();
    each.join("; ")
}
