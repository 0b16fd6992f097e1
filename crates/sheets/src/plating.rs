//! The plating guide: the plate as a clock face.
//!
//! The clock face is a rule of ours, so that every plate of a service reads alike; a chef who plates otherwise writes it on.
//! What weighs five grams or more takes a part of the circle by its weight. The heaviest lies around 6 o'clock, nearest to
//! the guest; the next ones go on alternately clockwise and counter-clockwise from it, heavier before lighter. Lighter
//! things (an oil, a gel) are points near the rim, from 1 o'clock on, two hours apart.

use kitchen::event::{Dish, Portion};
use plan::allergens::State;
use safety::allergens::Column;

use crate::model::{Block, Cell, Kind, Part, Plate, Sheet, Size};
use crate::writer::{Writer, file, number, strong, text};

/// Below this a part is a point, grams.
const POINT_BELOW: f64 = 5.0;
/// Hours of a clock face.
const FACE: f64 = 12.0;
/// Where the heaviest lies.
const NEAREST: f64 = 6.0;
/// How far out parts and points lie, of the radius.
const PART_REACH: f64 = 0.55;
const POINT_REACH: f64 = 0.85;

/// A guide for every dish that is plated by weight.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.plan
        .scene
        .event
        .dishes
        .iter()
        .filter_map(|d| w.plan.scene.book.dishes.get(d))
        .filter(|d| d.plating.is_some())
        .map(|d| guide(w, d))
        .collect()
}

fn guide(w: &Writer<'_>, dish: &Dish) -> Sheet {
    let parts: Vec<(String, Option<f64>)> = dish
        .parts
        .iter()
        .map(|p| {
            let g = match p.portion {
                Portion::Served(g) => Some(g.g()),
                Portion::Pieces(_) => None,
            };
            (w.name(&p.recipe), g)
        })
        .collect();
    let weights: Vec<f64> = parts.iter().map(|(_, g)| g.unwrap_or(0.0)).collect();
    let face = clock_face(&weights);
    let plate = Plate {
        parts: parts
            .iter()
            .zip(&face)
            .map(|((name, g), at)| Part {
                name: name.clone(),
                weight: g.map_or_else(|| w.say("by-the-piece"), |g| w.weight(g, false)),
                from_hour: at.0,
                to_hour: at.1,
                reach: at.2,
            })
            .collect(),
    };
    let rows = parts
        .iter()
        .zip(&face)
        .enumerate()
        .map(|(n, ((name, g), at))| {
            vec![
                number((n + 1).to_string()),
                text(name.clone()),
                strong(g.map_or_else(|| w.say("by-the-piece"), |g| w.weight(g, false))),
                text(w.say_with("o-clock", &[("hour", (&clock_hour(w, at)).into())])),
                Cell::Tick,
            ]
        })
        .collect();
    let plates = w.plan.plates;
    let mut facts = vec![
        w.fact("fact-plates", strong(w.words.short(plates, 0))),
        w.fact(
            "fact-plate-weight",
            number(w.weight(weights.iter().sum(), false)),
        ),
        w.fact("fact-plate-temperature", Cell::WriteIn),
    ];
    if let Some(plating) = &dish.plating {
        let most = w.words.span(plating.stands_at_most.whole_minutes());
        facts.push(w.fact("fact-stands-at-most", strong(most)));
    }
    let stops = stops(w, dish);
    let mut blocks = vec![
        Block::Facts(facts),
        Block::Plate(plate),
        w.table(
            &[
                ("column-order", 0.5),
                ("column-what", 3.0),
                ("column-grams", 1.2),
                ("column-where", 1.5),
                ("column-tick", 0.5),
            ],
            rows,
        ),
        w.line("plating-rule"),
    ];
    if stops.is_empty() {
        blocks.push(w.line("allergens-none-on-labels"));
    } else {
        blocks.push(Block::Stops(stops));
    }
    let codes: Vec<String> = dish.parts.iter().map(|p| w.code(&p.recipe)).collect();
    w.sheet(
        &file(&["plating", dish.id.as_str()]),
        (Kind::PlatingGuide, Size::Page),
        (w.say("plating-guide"), vec![dish.name.clone()]),
        blocks,
        &codes,
    )
}

/// The allergens of the plate as a whole, each with how certain it is.
fn stops(w: &Writer<'_>, dish: &Dish) -> Vec<String> {
    let matrix = &w.plan.allergens;
    let Some(of_dish) = matrix.dishes.iter().find(|d| d.dish == dish.id) else {
        return vec![w.say("allergens-not-looked-up")];
    };
    let word = |(column, state): (&&'static Column, &State)| {
        let name = w.allergen(column);
        match state {
            State::Free | State::Under => None,
            State::May => Some(w.say_with("stop-may", &[("name", (&name).into())])),
            State::Unknown => Some(w.say_with("stop-unknown", &[("name", (&name).into())])),
            State::Contains => Some(name),
        }
    };
    matrix
        .columns
        .iter()
        .zip(&of_dish.states)
        .filter_map(word)
        .collect()
}

/// Where each part lies: from hour, to hour (0 up to 12, over 12 o'clock it goes on from 0), reach.
fn clock_face(weights: &[f64]) -> Vec<(f64, f64, f64)> {
    let mut face = vec![(0.0, 0.0, POINT_REACH); weights.len()];
    let mut heavy: Vec<usize> = (0..weights.len())
        .filter(|i| weights[*i] >= POINT_BELOW)
        .collect();
    // Heaviest first; equal ones in the order they are laid.
    heavy.sort_by(|a, b| weights[*b].total_cmp(&weights[*a]).then(a.cmp(b)));
    let all: f64 = heavy.iter().map(|i| weights[*i]).sum();
    let (mut left, mut right) = (NEAREST, NEAREST);
    for (n, i) in heavy.iter().enumerate() {
        let width = FACE * weights[*i] / all;
        let (from, to) = match n {
            0 => {
                (right, left) = (NEAREST - width / 2.0, NEAREST + width / 2.0);
                (right, left)
            }
            n if n % 2 == 1 => {
                let from = left;
                left += width;
                (from, left)
            }
            _ => {
                let to = right;
                right -= width;
                (right, to)
            }
        };
        face[*i] = (on_face(from), on_face(to), PART_REACH);
    }
    let points = (0..weights.len()).filter(|i| weights[*i] < POINT_BELOW);
    for (n, i) in points.enumerate() {
        #[allow(clippy::cast_precision_loss)] // a handful of points
        let hour = on_face(1.0 + 2.0 * n as f64);
        face[i] = (hour, hour, POINT_REACH);
    }
    face
}

fn on_face(hour: f64) -> f64 {
    hour.rem_euclid(FACE)
}

/// The middle of a part, to the half hour a hand can find.
fn clock_hour(w: &Writer<'_>, at: &(f64, f64, f64)) -> String {
    let width = (at.1 - at.0).rem_euclid(FACE);
    let middle = on_face(at.0 + width / 2.0);
    let half = (middle * 2.0).round() / 2.0;
    w.words.short(if half < 0.5 { FACE } else { half }, 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Plate A of the trade's first scenario: 60, 20, 20, 15, 15, 3, 8 g.
    const PLATE: &[f64] = &[60.0, 20.0, 20.0, 15.0, 15.0, 3.0, 8.0];

    #[test]
    fn the_heaviest_lies_around_six() {
        let face = clock_face(PLATE);
        let (from, to, _) = face[0];
        assert!(((from + to) / 2.0 - 6.0).abs() < 1e-9, "{from} to {to}");
        // 60 of 138 g: 5.217 of 12 hours.
        assert!((to - from - 12.0 * 60.0 / 138.0).abs() < 1e-9);
    }

    #[test]
    fn the_circle_is_full_and_nothing_lies_over_anything() {
        let face = clock_face(PLATE);
        let mut arcs: Vec<(f64, f64)> = face
            .iter()
            .filter(|a| a.2 < POINT_REACH)
            .map(|a| (a.0, (a.1 - a.0).rem_euclid(FACE)))
            .collect();
        arcs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let all: f64 = arcs.iter().map(|a| a.1).sum();
        assert!((all - FACE).abs() < 1e-9, "{all}");
        for (i, arc) in arcs.iter().enumerate() {
            let next = arcs[(i + 1) % arcs.len()].0;
            assert!(
                (on_face(arc.0 + arc.1 - next + 6.0) - 6.0).abs() < 1e-9,
                "{arcs:?}"
            );
        }
    }

    #[test]
    fn an_oil_is_a_point() {
        let face = clock_face(PLATE);
        assert_eq!(face[5], (1.0, 1.0, POINT_REACH));
    }
}
