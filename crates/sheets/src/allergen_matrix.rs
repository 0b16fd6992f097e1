//! The allergen matrix: dishes and their parts against the list of the place.

use plan::allergens::{Row, State};

use crate::model::{Block, Cell, Column, Kind, Sheet, Size, Table};
use crate::writer::{Writer, strong, text};

/// One matrix for the event.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    if w.plan.allergens.dishes.is_empty() {
        return Vec::new();
    }
    vec![matrix(w)]
}

fn matrix(w: &Writer<'_>) -> Sheet {
    let m = &w.plan.allergens;
    let mut columns = vec![Column {
        head: w.say("column-dish-part"),
        share: 3.0,
    }];
    columns.extend(m.columns.iter().map(|c| Column {
        head: w.allergen(c),
        share: 1.0,
    }));
    let mut rows = Vec::new();
    for dish in &m.dishes {
        let mut row = vec![strong(dish.name.clone())];
        row.extend(dish.states.iter().map(|s| cell(w, *s)));
        rows.push(row);
        for part in &dish.parts {
            part_rows(w, part, 1, &mut rows);
        }
    }
    let mut blocks = vec![
        Block::Table(Table { columns, rows }),
        w.line("matrix-legend"),
        w.line("matrix-labels-only"),
    ];
    blocks.extend(swaps(w));
    if !m.beside.is_empty() {
        blocks.push(w.heading("heading-beside-list"));
        for b in &m.beside {
            let word = w.say(&format!("label-word-{}", b.word.word()));
            let key = if b.state == State::Contains {
                "beside-contains"
            } else {
                "beside-may"
            };
            blocks.push(Block::Text(w.say_with(
                key,
                &[
                    ("name", (&b.name).into()),
                    ("word", (&word).into()),
                    ("ingredient", (&b.ingredient).into()),
                ],
            )));
        }
    }
    let mut cited: Vec<String> = m.columns.iter().map(|c| c.cited()).collect();
    cited.sort_unstable();
    cited.dedup();
    let list = cited.join("; ");
    blocks.push(Block::Text(
        w.say_with("matrix-source", &[("list", (&list).into())]),
    ));
    if m.columns.iter().any(|c| c.caution().is_some()) {
        blocks.push(w.line("verify-with-authority"));
    }
    w.sheet(
        "allergen-matrix",
        (Kind::AllergenMatrix, Size::PageWide),
        (
            w.say("allergen-matrix"),
            vec![
                w.plan.scene.event.name.clone(),
                w.plan.scene.site.name.clone(),
            ],
        ),
        blocks,
        &w.codes(),
    )
}

fn cell(w: &Writer<'_>, state: State) -> Cell {
    match state {
        State::Free => text(State::Free.sign()),
        State::Under => text(w.say("matrix-under")),
        State::May => strong(w.say("matrix-may")),
        State::Unknown => strong(w.say("matrix-unknown")),
        State::Contains => strong(w.say("matrix-contains")),
    }
}

fn part_rows(w: &Writer<'_>, part: &Row, deep: usize, rows: &mut Vec<Vec<Cell>>) {
    let mut row = vec![text(format!("{}{}", "– ".repeat(deep), part.name))];
    row.extend(part.cells.iter().map(|c| cell(w, c.state)));
    rows.push(row);
    for inner in &part.inside {
        part_rows(w, inner, deep + 1, rows);
    }
}

/// Swaps of the book whose own labels do not name the allergen.
fn swaps(w: &Writer<'_>) -> Vec<Block> {
    let mut rows = Vec::new();
    for part in w.plan.allergens.dishes.iter().flat_map(|d| &d.parts) {
        for (column, cell) in w.plan.allergens.columns.iter().zip(&part.cells) {
            for swap in &cell.swaps {
                rows.push(vec![
                    text(part.name.clone()),
                    text(w.allergen(column)),
                    text(swap.clone()),
                ]);
            }
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    vec![
        w.heading("heading-swaps"),
        w.table(
            &[
                ("column-part-of-plate", 2.0),
                ("column-without", 1.5),
                ("column-swap", 3.0),
            ],
            rows,
        ),
    ]
}
