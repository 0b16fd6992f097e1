//! Heat going in or out: when a core is there.

use kitchen::ingredient::Ingredient;
use kitchen::recipe::{ProductClass, Recipe};
use kitchen::step::{FeedFrom, Piece as Written, Segment, Step};
use science::ScienceError;
use science::heat::{
    Body, Faces, Grid as HeatGrid, Programme, Segment as Heating, Shape as HeatShape, Surroundings,
};
use science::thermal_properties::{Food, Percent, TROUT};
use units::{Elapsed, Length, Temperature};

use super::{Span, minutes, three};
use crate::demand::Component;
use crate::scene::Scene;

/// How warm a lot comes to the chill when the step before names no core, °C (house value).
const HOT_C: f64 = 65.0;
/// How warm a lot comes to the heat, °C (house value).
const FROM_COLD_C: f64 = 4.0;

/// The food of a recipe's starting item, when its row adds up; fish without a row counts as trout.
fn food(scene: &Scene, recipe: &Recipe, c: &Component) -> Result<Food, ScienceError> {
    let item: Option<&Ingredient> = c
        .start
        .as_ref()
        .and_then(|s| scene.book.ingredients.get(&s.item));
    let row = item.and_then(|i| i.composition.as_ref());
    if let Some(r) = row
        && let (Some(water), Some(protein), Some(fat)) = (r.water, r.protein, r.fat)
    {
        let carbohydrate = r.carbohydrate.unwrap_or(0.0);
        let ash = 100.0 - water - protein - fat - carbohydrate;
        return Food::new(Percent {
            water,
            protein,
            fat,
            carbohydrate,
            fibre: 0.0,
            ash: ash.max(0.0),
        });
    }
    let fish = recipe
        .product
        .as_ref()
        .is_some_and(|p| p.class == ProductClass::SmokedFish);
    if fish {
        return Food::new(TROUT);
    }
    Err(ScienceError::None {
        what: "composition (water, protein, fat) of what it starts from",
    })
}

fn body(piece: &Written, thickness: Length) -> Result<Body, ScienceError> {
    match piece.shape.as_str() {
        "cylinder" => Body::cylinder(thickness),
        // On a rack air meets both faces, whatever side the salt went in from.
        _ => Body::new(HeatShape::Slab { faces: Faces::Both }, thickness),
    }
}

/// The step's programme as heating, in surroundings of one kind.
fn programme(
    step: &Step,
    around: Surroundings,
    times: f64,
    longest: Option<Elapsed>,
) -> Result<Programme, ScienceError> {
    let h = around.heat_transfer()?.usual;
    let mut segments: Vec<Heating> = Vec::new();
    for s in &step.programme {
        let Some(air) = s.air else { continue };
        let from = match segments.last() {
            Some(before) if s.what == "ramp" => before.to,
            _ => air,
        };
        let time = if s.by_thickness {
            s.time.scaled(times)?
        } else {
            s.time
        };
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
    let programme = programme(
        step,
        around,
        piece.time_factor(),
        Some(Elapsed::from_hours(BEYOND_H)?),
    )?;
    let mut there = Vec::new();
    for thickness in three(piece) {
        let body = body(piece, thickness)?;
        there.push(science::heat::time_to_core(
            &food,
            &body,
            &programme,
            from,
            to,
            HeatGrid::usual()?,
        )?);
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

pub(super) fn core(
    scene: &Scene,
    recipe: &Recipe,
    c: &Component,
    step: &Step,
    piece: &Written,
) -> Result<Span, ScienceError> {
    let to = step
        .until
        .map_or_else(|| Temperature::celsius(HOT_C), |u| Ok(u.core))?;
    let from = Temperature::celsius(FROM_COLD_C)?;
    timed(
        scene,
        recipe,
        c,
        step,
        piece,
        (Surroundings::ForcedSmokehouse, from, to),
    )
}

/// The core along the step's own programme, hours against °C, for a piece of one thickness.
pub(super) fn along(
    scene: &Scene,
    recipe: &Recipe,
    c: &Component,
    step: &Step,
    piece: &Written,
    thickness: Length,
) -> Result<Vec<(f64, f64)>, ScienceError> {
    let (around, from) = if step.until.is_some() {
        (
            Surroundings::ForcedSmokehouse,
            Temperature::celsius(FROM_COLD_C)?,
        )
    } else {
        (Surroundings::Blast, comes_hot(recipe, step)?)
    };
    let food = food(scene, recipe, c)?;
    let programme = programme(step, around, piece.time_factor(), None)?;
    let run = science::heat::heat(
        &food,
        &body(piece, thickness)?,
        &programme,
        from,
        HeatGrid::usual()?,
    )?;
    // A picture needs no more than a point every couple of minutes.
    let every = (run.readings.len() / POINTS).max(1);
    let last = run.readings.len().saturating_sub(1);
    Ok(run
        .readings
        .iter()
        .enumerate()
        .filter(|(i, _)| i % every == 0 || *i == last)
        .map(|(_, r)| (r.time.hours(), r.core.c()))
        .collect())
}

/// Points of a drawn curve.
const POINTS: usize = 120;

/// How warm a lot comes to the chill: the core the step before aims at.
fn comes_hot(recipe: &Recipe, step: &Step) -> Result<Temperature, ScienceError> {
    let hot = step.feeds.iter().find_map(|f| match &f.from {
        FeedFrom::Step(id) => recipe
            .position(id)
            .and_then(|at| recipe.steps[at].until)
            .map(|u| u.core),
        _ => None,
    });
    Ok(hot.map_or_else(|| Temperature::celsius(HOT_C), Ok)?)
}

pub(super) fn cold(
    scene: &Scene,
    recipe: &Recipe,
    c: &Component,
    step: &Step,
    piece: &Written,
    to: Temperature,
) -> Result<Span, ScienceError> {
    let from = comes_hot(recipe, step)?;
    timed(
        scene,
        recipe,
        c,
        step,
        piece,
        (Surroundings::Blast, from, to),
    )
}

fn planned(step: &Step, times: f64) -> Elapsed {
    let of = |s: &Segment| {
        if s.by_thickness {
            s.time.scaled(times).unwrap_or(s.time)
        } else {
            s.time
        }
    };
    step.programme
        .iter()
        .filter(|s| s.air.is_some())
        .map(of)
        .sum()
}

pub(super) fn heating_conflict(
    step: &Step,
    piece: &Written,
    window: &Result<Span, String>,
) -> Option<String> {
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

pub(super) fn chill_conflict(
    step: &Step,
    piece: &Written,
    window: &Result<Span, String>,
) -> Option<String> {
    let w = window.as_ref().ok()?;
    let planned = planned(step, piece.time_factor());
    (w.thick > planned).then(|| {
        format!(
            "the thickest piece is cold after {} by the model, but the chill is planned for {}",
            minutes(w.thick),
            minutes(planned)
        )
    })
}
