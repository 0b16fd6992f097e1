//! Less of it: thinner pieces, fewer covers, a part that comes ready.

use super::Sort;
use super::bench::Bench;
use super::wording::set;
use crate::setting::room::user_of;

/// Pieces are halved at the most: two of one, split at the thickest place.
const THINNEST: f64 = 0.5;

/// The thickest cut that gives a clock, for every piece among the facts whose times go by its thickness.
pub(super) fn thinner(bench: &mut Bench<'_>) {
    for id in bench.plan.timeline.concerned.components.clone() {
        let Some(recipe) = bench.scene().book.recipes.get(&id) else {
            continue;
        };
        let scales = recipe
            .steps
            .iter()
            .any(|s| s.wait.by_thickness || s.programme.iter().any(|p| p.by_thickness));
        let step = recipe.steps.iter().find(|s| s.piece.is_some());
        let (true, Some(step)) = (scales, step) else {
            continue;
        };
        let Some(piece) = &step.piece else { continue };
        let mm = piece.measured.unwrap_or(piece.thickness).mm();
        let key = format!("{id}.{}.thickness", step.id);
        let settings = |mm: i64| vec![set(&key, &format!("{mm}mm"))];
        // Whole millimetres; a piece is at most half a metre.
        #[allow(clippy::cast_possible_truncation)]
        let (now, half) = (mm.ceil() as i64, (mm * THINNEST).floor().max(1.0) as i64);
        if half >= now {
            continue;
        }
        let what = |to: i64| {
            let how = if to * 2 <= now { ", two of one" } else { "" };
            format!("{id} cut to {to} mm instead of {now} mm{how}")
        };
        // Between the two, so that a cure that has then to come out in the night is not missed.
        let ladder = [half, half + (now - half) / 2, half + (now - half) / 4];
        match bench.first_of(ladder.iter().map(|mm| settings(*mm))) {
            Ok(i) => {
                let to = bench.nearest(now, ladder[i], settings);
                bench.works(Sort::Thickness, what(to), settings(to));
            }
            Err(tried) => bench.fails(Sort::Thickness, what(half), tried),
        }
    }
}

/// No plate beyond those that are paid for.
pub(super) fn no_spare(bench: &mut Bench<'_>) {
    let spare = bench.scene().event.spare;
    if spare <= 0.0 {
        return;
    }
    let settings = vec![set("spare", "0 %")];
    let what = format!(
        "no spare plates, not {} %",
        crate::figures::number(spare * 100.0, 1)
    );
    match bench.holds(&settings) {
        Ok(()) => bench.works(Sort::Spare, what, settings),
        Err(why) => bench.fails(Sort::Spare, what, (settings, why)),
    }
}

/// The most covers that give a clock.
pub(super) fn fewer_covers(bench: &mut Bench<'_>) {
    let now = i64::from(bench.scene().event.covers);
    let word = bench.scene().event.cover_word.clone();
    let settings = |n: i64| vec![set("covers", &n.to_string())];
    if now < 2 {
        return;
    }
    match bench.holds(&settings(1)) {
        Ok(()) => {
            let n = bench.nearest(now, 1, settings);
            bench.works(
                Sort::Covers,
                format!("{n} {word}s instead of {now}"),
                settings(n),
            );
        }
        Err(why) => bench.fails(
            Sort::Covers,
            format!("fewer {word}s, down to one"),
            (settings(1), why),
        ),
    }
}

/// A part that comes ready.
pub(super) fn ready(bench: &mut Bench<'_>) {
    for id in bench.plan.timeline.concerned.components.clone() {
        let scene = bench.scene();
        let dishes = scene
            .event
            .dishes
            .iter()
            .filter_map(|d| scene.book.dishes.get(d));
        let on_a_plate = dishes.flat_map(|d| &d.parts).any(|p| p.recipe == id);
        if !on_a_plate || user_of(scene, &id).is_some() {
            continue;
        }
        let settings = vec![set(&format!("{id}.make"), "bought")];
        let what = format!("{id} bought ready");
        match bench.holds(&settings) {
            Ok(()) => bench.works(Sort::Ready, what, settings),
            Err(why) => bench.fails(Sort::Ready, what, (settings, why)),
        }
    }
}
