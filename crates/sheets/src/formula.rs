//! The formula card: what is weighed, in which order, on which scale, with a running total to check by.

use kitchen::step::{BaseKind, LineAmount};
use plan::demand::LineFlow;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Place, TOLERANCE_PCT, Writer, file, number, strong, text};

/// A card for every step that weighs something together.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.places()
        .into_iter()
        .filter(|p| is_formula(p))
        .map(|p| card(w, p))
        .collect()
}

/// Whether a line is part of the one weight.
fn in_sum(amount: &LineAmount) -> bool {
    matches!(amount, LineAmount::OfBase(_) | LineAmount::PerBatch(_))
}

/// Two lines or more that are part of one weight. One line alone has nothing to add up and stands on the station card.
pub(crate) fn is_formula(p: &Place<'_>) -> bool {
    p.step
        .lines
        .iter()
        .filter(|l| matches!(l.amount, LineAmount::OfBase(_) | LineAmount::PerBatch(_)))
        .count()
        > 1
}

/// What of a line goes in at first: with what will boil off, without what is held back.
pub(crate) fn put_in(line: &LineFlow) -> f64 {
    line.made_g + line.boils_off_g - line.hold_back_g
}

/// The sum of a formula's lines in what is made, grams.
pub(crate) fn total(p: &Place<'_>) -> f64 {
    p.step
        .lines
        .iter()
        .zip(&p.flow.lines)
        .filter(|(l, _)| matches!(l.amount, LineAmount::OfBase(_) | LineAmount::PerBatch(_)))
        .map(|(_, g)| g.made_g)
        .sum()
}

fn card(w: &Writer<'_>, p: Place<'_>) -> Sheet {
    let mut blocks = base(w, &p);
    blocks.push(lines(w, p));
    let sum: f64 = p
        .step
        .lines
        .iter()
        .zip(&p.flow.lines)
        .filter(|(l, _)| in_sum(&l.amount))
        .map(|(_, g)| put_in(g))
        .sum();
    blocks.push(Block::Big {
        word: w.say("total-check"),
        number: w.weight(sum, false),
    });
    if p.step.spare_mix > 0.0 {
        let spare = w.words.percent(p.step.spare_mix * 100.0, 0);
        let make = w.weight(sum * (1.0 + p.step.spare_mix), false);
        blocks.push(Block::Text(w.say_with(
            "formula-spare",
            &[("spare", (&spare).into()), ("make", (&make).into())],
        )));
    }
    if let Some((piece, mix)) = per_piece(w, &p) {
        let (piece, mix) = (w.weight(piece, false), w.weight(mix, true));
        blocks.push(Block::Text(w.say_with(
            "formula-per-piece",
            &[("piece", (&piece).into()), ("mix", (&mix).into())],
        )));
    }
    if p.flow.loads > 1 {
        blocks.push(Block::Text(
            w.say_with("formula-loads", &[("n", p.flow.loads.into())]),
        ));
    }
    blocks.extend(w.cautions(&p));
    blocks.push(Block::Facts(vec![
        w.fact("fact-weighed-by", Cell::WriteIn),
        w.fact("fact-checked-by", Cell::WriteIn),
    ]));
    blocks.push(Block::Stops(w.strip(&p.recipe.id)));
    let tolerance = w.words.percent(TOLERANCE_PCT, 0);
    let code = w.code(&p.recipe.id);
    w.sheet(
        &file(&["formula-card", p.recipe.id.as_str(), p.step.id.as_str()]),
        (Kind::FormulaCard, Size::Card),
        (
            w.say_with("formula-card", &[("name", (&p.component.name).into())]),
            vec![
                p.step.what.clone(),
                w.say_with(
                    "formula-under",
                    &[("code", (&code).into()), ("tolerance", (&tolerance).into())],
                ),
            ],
        ),
        blocks,
        &[code],
    )
}

/// What the percentages are taken of: weighed first, or a liquor over what was weighed, or made by the lines themselves.
fn base(w: &Writer<'_>, p: &Place<'_>) -> Vec<Block> {
    let base = p.step.base.name.to_string();
    let planned = (
        w.say_with("fact-base-planned", &[("base", (&base).into())]),
        number(w.weight(p.flow.base_g, false)),
    );
    match p.step.base.kind {
        BaseKind::Inflow => vec![
            Block::Facts(vec![
                planned,
                (
                    w.say_with("fact-base-weighed", &[("base", (&base).into())]),
                    Cell::WriteIn,
                ),
            ]),
            w.line("formula-reweigh"),
        ],
        BaseKind::Cover(ratio) => {
            let ratio = w.words.short(ratio, 3);
            vec![
                Block::Facts(vec![
                    planned,
                    w.fact("fact-covered-planned", number(w.weight(p.flow.in_g, false))),
                    w.fact("fact-covered-weighed", Cell::WriteIn),
                ]),
                Block::Text(w.say_with("formula-cover", &[("ratio", (&ratio).into())])),
            ]
        }
        BaseKind::Made => vec![Block::Facts(vec![planned]), w.line("formula-made")],
    }
}

/// Grams of a piece and of the mix that goes on it, where the pieces are dispensed one by one.
pub(crate) fn per_piece(w: &Writer<'_>, p: &Place<'_>) -> Option<(f64, f64)> {
    let figure = |key: &str| {
        w.plan
            .figures
            .number(&format!("{}.{}.{key}", p.recipe.id, p.step.id))
    };
    // A component served by weight is cured as one lot.
    if p.component.portion_g.is_some() {
        return None;
    }
    Some((figure("in_per_piece_g")?, figure("mix_per_piece_g")?))
}

fn lines(w: &Writer<'_>, p: Place<'_>) -> Block {
    let mut rows = Vec::new();
    let mut so_far = 0.0;
    for (n, (line, g)) in p.step.lines.iter().zip(&p.flow.lines).enumerate() {
        let (name, curing) = w.item(&line.item, line.form.as_deref());
        let n = number((n + 1).to_string());
        if let LineAmount::PerPiece(_) = line.amount {
            let count = w.say_with("pieces", &[("n", count(g.made_g).into())]);
            rows.push(vec![
                n,
                text(name),
                Cell::Nothing,
                strong(count),
                Cell::Nothing,
                Cell::Nothing,
                Cell::Tick,
            ]);
            continue;
        }
        let share = match line.amount {
            LineAmount::OfBase(pct) => number(w.words.percent(pct, 2)),
            LineAmount::PerLoad(_) => text(w.say("each-load")),
            LineAmount::PerBatch(_) | LineAmount::PerPiece(_) => Cell::Nothing,
        };
        let in_sum = in_sum(&line.amount);
        if in_sum {
            so_far += put_in(g);
        }
        rows.push(vec![
            n,
            text(name.clone()),
            share,
            strong(w.weight(put_in(g), curing)),
            text(w.scale(put_in(g), curing)),
            if in_sum {
                number(w.weight(so_far, false))
            } else {
                Cell::Nothing
            },
            Cell::Tick,
        ]);
        if g.boils_off_g > 0.0 {
            let off = w.weight(g.boils_off_g, false);
            rows.push(note_row(
                w.say_with("formula-boils-off", &[("off", (&off).into())]),
            ));
        }
        if g.hold_back_g > 0.0 {
            let hold = w.weight(g.hold_back_g, curing);
            rows.push(note_row(
                w.say_with("formula-hold-back", &[("hold", (&hold).into())]),
            ));
        }
    }
    w.table(
        &[
            ("column-order", 0.5),
            ("column-what", 3.0),
            ("column-of-base", 1.2),
            ("column-weigh", 1.8),
            ("column-scale", 2.2),
            ("column-running-total", 1.6),
            ("column-tick", 0.5),
        ],
        rows,
    )
}

/// A remark under a line.
fn note_row(note: String) -> Vec<Cell> {
    let mut row = vec![Cell::Nothing; 7];
    row[1] = text(note);
    row
}

/// Whole pieces of a count that was computed.
pub(crate) fn count(n: f64) -> u64 {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    // a count of pieces in a kitchen
    let whole = n.round().clamp(0.0, 1e9) as u64;
    whole
}
