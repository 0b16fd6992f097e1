//! The matrix as contract 1.

use serde_json::{Value, json as value};

use super::matrix::{Cell, Matrix, Row};
use super::standing::Cause;
use crate::scene::Scene;

/// The matrix for programs.
#[must_use]
pub fn json(scene: &Scene, matrix: &Matrix) -> Value {
    value!({
        "place": scene.site.rules.word(),
        "says": "as far as the labels in the book say",
        "columns": matrix.columns.iter().map(|c| value!({
            "id": c.id,
            "name": c.name,
            "words": c.words.iter().map(|w| w.word()).collect::<Vec<_>>(),
            "remembered": c.remembered.iter().map(|w| w.word()).collect::<Vec<_>>(),
            "limit_mg_per_kg": c.limit.map(|l| l.mg_per_kg),
            "named_at_the_limit": c.limit.map(|l| l.at_the_limit_too),
            "rule": c.row.id,
            "source": c.cited(),
            "status": c.status.words(),
            "caution": c.caution(),
        })).collect::<Vec<_>>(),
        "dishes": matrix.dishes.iter().map(|d| value!({
            "id": d.dish.as_str(),
            "name": d.name,
            "states": matrix.columns.iter().zip(&d.states).map(|(c, s)| (c.id.clone(), value!(s.word()))).collect::<serde_json::Map<_, _>>(),
            "parts": d.parts.iter().map(|r| row(matrix, r)).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "beside": matrix.beside.iter().map(|b| value!({
            "word": b.word.word(),
            "component": b.recipe.as_str(),
            "state": b.state.word(),
            "ingredient": b.ingredient,
        })).collect::<Vec<_>>(),
    })
}

fn row(matrix: &Matrix, r: &Row) -> Value {
    value!({
        "component": r.recipe.as_str(),
        "name": r.name,
        "cells": matrix.columns.iter().zip(&r.cells).map(|(c, x)| (c.id.clone(), cell(&r.recipe, &c.id, x))).collect::<serde_json::Map<_, _>>(),
        "inside": r.inside.iter().map(|i| row(matrix, i)).collect::<Vec<_>>(),
    })
}

fn cell(recipe: &kitchen::Id, column: &str, c: &Cell) -> Value {
    value!({
        "state": c.state.word(),
        "figure": super::figure_id(recipe, column),
        "causes": causes(&c.causes),
        "mg_per_kg": c.mg_per_kg,
        "swaps": c.swaps,
    })
}

/// Causes for programs.
pub(crate) fn causes(all: &[Cause]) -> Vec<Value> {
    all.iter()
        .map(|c| {
            value!({
                "item": c.item.as_str(),
                "state": c.state.word(),
                "said": c.said,
                "through": c.path.iter().map(super::walk::Through::id).collect::<Vec<_>>(),
            })
        })
        .collect()
}
