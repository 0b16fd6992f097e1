//! The cure sheet: piece by piece, what it weighed green, what went on it, when it goes in and comes out.

use kitchen::step::LineItem;
use kitchen::verb::Verb;

use crate::formula::{count, total};
use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Place, Writer, file, number, strong, text};

/// Rows of the table for other weights, each way from the planned one.
const OTHER_WEIGHTS: i32 = 6;
/// From one of them to the next, as a part of the planned weight rounded to ten grams.
const STEP_OF_PLANNED: f64 = 0.03;

/// A sheet for every step that cures or brines whole pieces.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.places()
        .into_iter()
        .filter(|p| matches!(p.step.verb, Verb::DryCure | Verb::Brine | Verb::Pump))
        .filter(|p| {
            p.component.pieces >= 1.0
                && p.component
                    .start
                    .as_ref()
                    .is_some_and(|s| s.piece_g.is_some())
        })
        .map(|p| sheet(w, &p))
        .collect()
}

/// Percent of the green weight that goes on a piece as mix; `None` for a brine, which lies around all of them.
fn mix_pct(p: &Place<'_>) -> Option<f64> {
    (p.step.verb == Verb::DryCure && p.flow.base_g > 0.0).then(|| total(p) / p.flow.base_g * 100.0)
}

fn sheet(w: &Writer<'_>, p: &Place<'_>) -> Sheet {
    let pieces = count(p.component.pieces);
    let green = p.flow.in_g / p.component.pieces;
    let pct = mix_pct(p);
    let mut blocks = vec![facts(w, p, pct)];
    blocks.extend(w.cautions(p));
    let on_piece = |green: f64| pct.map(|pct| green * pct / 100.0);
    let hang = p
        .recipe
        .steps
        .iter()
        .zip(&p.component.flows)
        .find(|(s, _)| s.verb == Verb::Hang);
    let target = hang.map(|(_, flow)| flow.out_g / p.component.pieces);
    let mut heads = vec![
        ("column-piece", 0.6),
        ("column-thickness", 1.0),
        ("column-green-planned", 1.3),
        ("column-green-weighed", 1.3),
    ];
    if pct.is_some() {
        heads.extend([("column-mix-planned", 1.3), ("column-mix-weighed", 1.3)]);
    }
    heads.extend([
        ("column-in", 1.1),
        ("column-out", 1.1),
        ("column-out-weight", 1.2),
    ]);
    if hang.is_some() {
        heads.extend([("column-hang-weight", 1.2), ("column-target-weight", 1.3)]);
    }
    // In a brine no piece has nitrite of its own.
    if pct.is_some() && w.nitrite(p).is_some() {
        heads.push(("column-ppm", 1.0));
    }
    heads.push(("column-initials", 1.0));
    let rows = (1..=pieces)
        .map(|n| {
            let mut row = vec![
                number(n.to_string()),
                Cell::WriteIn,
                number(w.weight(green, false)),
                Cell::WriteIn,
            ];
            if let Some(mix) = on_piece(green) {
                row.extend([strong(w.weight(mix, true)), Cell::WriteIn]);
            }
            row.extend([Cell::WriteIn, Cell::WriteIn, Cell::WriteIn]);
            if let Some(target) = target {
                row.extend([Cell::WriteIn, number(w.weight(target, false))]);
            }
            // A piece nobody has weighed yet has no ppm.
            row.resize(heads.len(), Cell::WriteIn);
            row
        })
        .collect();
    blocks.push(w.table(&heads, rows));
    if let Some(pct) = pct {
        blocks.push(w.heading("heading-other-weights"));
        blocks.push(other_weights(w, green, pct));
    }
    let code = w.code(&p.recipe.id);
    w.sheet(
        &file(&["cure-sheet", p.recipe.id.as_str(), p.step.id.as_str()]),
        (Kind::CureSheet, Size::PageWide),
        (
            w.say_with(
                if pct.is_some() {
                    "cure-sheet"
                } else {
                    "brine-sheet"
                },
                &[("name", (&p.component.name).into())],
            ),
            vec![
                p.step.what.clone(),
                w.say_with("pieces", &[("n", pieces.into())]),
            ],
        ),
        blocks,
        &[code],
    )
}

fn facts(w: &Writer<'_>, p: &Place<'_>, pct: Option<f64>) -> Block {
    let mut facts = Vec::new();
    if let Some(pct) = pct {
        let (pct, base) = (w.words.percent(pct, 2), p.step.base.name.to_string());
        facts.push(w.fact(
            "fact-mix-of-green",
            strong(w.say_with(
                "percent-of",
                &[("pct", (&pct).into()), ("base", (&base).into())],
            )),
        ));
    }
    if let Some(at) = w.ends(&p.recipe.id, &p.step.id) {
        facts.push(w.fact("fact-cure-in", strong(w.moment(at))));
    }
    if let Some(next) = w.taken(&p.recipe.id, p.at) {
        facts.push(w.fact("fact-out-earliest", text(w.moment(next.earliest))));
        facts.push(w.fact("fact-out-planned", strong(w.moment(next.start))));
        facts.push(w.fact("fact-out-latest", text(w.moment(next.latest))));
    }
    if let Some(most) = p.step.wait.at_most {
        facts.push(w.fact("fact-at-most", text(w.temperature(most.c()))));
    }
    if let Some(piece) = &p.step.piece {
        facts.push(w.fact(
            "fact-written-for",
            text(w.thickness(piece.measured.unwrap_or(piece.thickness))),
        ));
    }
    if let Some((ppm, formula)) = w.nitrite(p) {
        facts.push(w.fact("fact-nitrite", strong(ppm)));
        facts.push(w.fact("fact-nitrite-formula", text(formula)));
    }
    Block::Facts(facts)
}

/// What goes on a piece that weighs something else.
fn other_weights(w: &Writer<'_>, green: f64, pct: f64) -> Block {
    let step = ((green * STEP_OF_PLANNED / 10.0).round() * 10.0).max(1.0);
    let middle = (green / step).round() * step;
    let rows = (-OTHER_WEIGHTS..=OTHER_WEIGHTS)
        .map(|n| middle + f64::from(n) * step)
        .filter(|g| *g > 0.0)
        .map(|g| {
            vec![
                number(w.weight(g, false)),
                strong(w.weight(g * pct / 100.0, true)),
            ]
        })
        .collect();
    w.table(
        &[("column-green-weighed", 1.0), ("column-mix-planned", 1.0)],
        rows,
    )
}

impl Writer<'_> {
    /// Nitrite a step puts in by the plan: the figure and how it was reached. What cannot be computed says why.
    pub(crate) fn nitrite(&self, p: &Place<'_>) -> Option<(String, String)> {
        let at = self
            .plan
            .components
            .iter()
            .position(|c| c.recipe == p.recipe.id)?;
        let nitrite = self
            .plan
            .lots
            .get(at)?
            .nitrite
            .iter()
            .find(|n| n.step == p.at)?;
        let shown = match &nitrite.ppm {
            Ok(ppm) => self
                .words
                .with_unit(&self.words.number(*ppm, 2), "ppm NaNO2"),
            Err(why) => self.say_with("not-computed", &[("why", why.into())]),
        };
        let formula = self
            .dry_nitrite(p)
            .unwrap_or_else(|| nitrite.formula.clone());
        Some((shown, formula))
    }

    /// The arithmetic of a dry cure in the language of the sheet; what goes in otherwise stands as the plan words it.
    fn dry_nitrite(&self, p: &Place<'_>) -> Option<String> {
        if p.step.verb != Verb::DryCure || p.flow.in_g <= 0.0 {
            return None;
        }
        let mut nitrite_g = 0.0;
        for (line, g) in p.step.lines.iter().zip(&p.flow.lines) {
            let LineItem::Item(item) = &line.item else {
                return None;
            };
            let item = self.plan.scene.book.ingredients.get(item)?;
            nitrite_g += g.made_g * item.nitrite_pct() / 100.0;
        }
        let (n, green) = (
            self.words.number(nitrite_g, 4),
            self.words.number(p.flow.in_g, 1),
        );
        Some(self.say_with(
            "nitrite-arithmetic",
            &[("nitrite", (&n).into()), ("green", (&green).into())],
        ))
    }
}
