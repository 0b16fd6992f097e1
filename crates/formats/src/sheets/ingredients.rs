//! The ingredients of a book, in the columns the import takes.

use kitchen::Book;
use kitchen::ingredient::{Composition, Ingredient, Role};
use kitchen::label::Allergen;

use crate::sheet::{Cell, Column, Sheet};

/// Every ingredient of a book by its id. A figure nobody knows is an empty cell.
///
/// One density and one weight of a piece go into a row: the first, as the import takes one of each. `none` under the
/// labels is for reading: an import wants that cell empty, and names its own source.
#[must_use]
pub fn ingredients(book: &Book) -> Sheet {
    let per_100 = |name| Column::number(name, "g/100 g", 2);
    Sheet {
        name: "ingredients",
        title: format!("Ingredients: {}", book.name),
        columns: vec![
            Column::text("id", 24),
            Column::text("name", 30),
            Column::text("also", 24),
            Column::text("family", 14),
            Column::text("role", 12),
            Column::number("nitrite", "%", 2),
            Column::number("nitrate", "%", 2),
            Column::text("form", 12),
            Column::number("density", "g/mL", 3),
            Column::text("piece word", 12),
            Column::number("piece", "g", 1),
            Column::text("contains", 20),
            Column::text("may contain", 20),
            per_100("water"),
            per_100("protein"),
            per_100("fat"),
            per_100("carbohydrate"),
            per_100("sugars"),
            per_100("salt"),
            per_100("acetic"),
        ],
        rows: book.ingredients.values().map(row).collect(),
    }
}

fn row(i: &Ingredient) -> Vec<Cell> {
    let (role, nitrite, nitrate) = match i.role {
        None => ("", None, None),
        Some(Role::Salt) => ("salt", None, None),
        Some(Role::CuringSalt {
            nitrite_pct,
            nitrate_pct,
        }) => ("curing-salt", Some(nitrite_pct), Some(nitrate_pct)),
        Some(Role::Sugar) => ("sugar", None, None),
        Some(Role::Acid) => ("acid", None, None),
        Some(Role::Oil) => ("oil", None, None),
        Some(Role::Water) => ("water", None, None),
        Some(Role::Wood) => ("wood", None, None),
        Some(Role::Ware) => ("ware", None, None),
    };
    let density = i.density.first();
    let piece = i.each.first();
    let label = i.allergens.as_ref();
    let mut cells = vec![
        Cell::text(i.id.as_str()),
        Cell::text(&i.name),
        Cell::text(i.also.join("; ")),
        Cell::text(i.family.clone().unwrap_or_default()),
        Cell::text(role),
        Cell::number(nitrite),
        Cell::number(nitrate),
        Cell::text(density.map(|d| d.form.clone()).unwrap_or_default()),
        Cell::number(density.map(|d| d.density.g_per_ml())),
        Cell::text(piece.map(|p| p.word.clone()).unwrap_or_default()),
        Cell::number(piece.map(|p| p.mass.g())),
        words(label.map(|l| l.contains.as_slice())),
        words(label.map(|l| l.may.as_slice())),
    ];
    let figures: [fn(&Composition) -> Option<f64>; 7] = [
        |c| c.water,
        |c| c.protein,
        |c| c.fat,
        |c| c.carbohydrate,
        |c| c.sugars,
        |c| c.salt,
        |c| c.acetic,
    ];
    cells.extend(
        figures
            .iter()
            .map(|of| Cell::number(i.composition.as_ref().and_then(of))),
    );
    cells
}

/// Words of a label; `none` where it was read and names nothing, empty where nobody has looked.
fn words(list: Option<&[Allergen]>) -> Cell {
    match list {
        None => Cell::Unknown,
        Some([]) => Cell::text("none"),
        Some(words) => Cell::text(
            words
                .iter()
                .map(|w| w.word())
                .collect::<Vec<_>>()
                .join("; "),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Book {
        book::read(&book::demo::files(), book::Limits::default()).unwrap()
    }

    #[test]
    fn every_ingredient_of_the_book_is_there_once() {
        let book = demo();
        let sheet = ingredients(&book);
        assert_eq!(sheet.rows.len(), book.ingredients.len());
        assert!(sheet.rows.iter().all(|r| r.len() == sheet.columns.len()));
    }

    #[test]
    fn what_nobody_knows_is_empty_and_no_zero() {
        let book = demo();
        let sheet = ingredients(&book);
        let at = |name: &str| sheet.columns.iter().position(|c| c.name == name).unwrap();
        let row = |id: &str| sheet.rows.iter().find(|r| r[0] == Cell::text(id)).unwrap();
        let curing = row("curing-salt-1");
        assert_eq!(curing[at("nitrite")], Cell::Number(6.25));
        assert_eq!(row("salt-table")[at("nitrite")], Cell::Unknown);
        assert_eq!(row("pickle-jar")[at("water")], Cell::Unknown);
    }
}
