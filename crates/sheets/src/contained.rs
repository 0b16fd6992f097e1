//! Which allergens a component or a dish holds, in words, by the list of the place.

use kitchen::Id;
use plan::allergens::{Cell, Row, State};
use safety::allergens::Column;

use crate::model::Block;
use crate::writer::Writer;

/// One allergen of the place's list in something.
pub(crate) struct Contained {
    pub(crate) state: State,
    /// Its name in the language of the sheet.
    pub(crate) name: String,
    /// The ingredients it comes from, as the book has them.
    pub(crate) from: Vec<String>,
}

impl Contained {
    /// "milk (buttermilk, sour cream)".
    pub(crate) fn words(&self) -> String {
        if self.from.is_empty() {
            return self.name.clone();
        }
        format!("{} ({})", self.name, self.from.join(", "))
    }
}

impl Writer<'_> {
    /// The name of an entry of the place's list: for this place, or in general.
    pub(crate) fn allergen(&self, column: &Column) -> String {
        let place = self.plan.scene.site.rules.word();
        let own = format!("allergen-{}-{place}", column.id);
        let general = format!("allergen-{}", column.id);
        match (self.words.has(&own), self.words.has(&general)) {
            (true, _) => self.say(&own),
            (false, true) => self.say(&general),
            (false, false) => column.name.clone(),
        }
    }

    /// What a component holds, or may hold, or what nobody has looked up; `None` when it is not in the matrix.
    pub(crate) fn contained(&self, recipe: &Id) -> Option<Vec<Contained>> {
        let row = find(
            self.plan.allergens.dishes.iter().flat_map(|d| &d.parts),
            recipe,
        )?;
        Some(self.of_cells(&row.cells))
    }

    fn of_cells(&self, cells: &[Cell]) -> Vec<Contained> {
        self.plan
            .allergens
            .columns
            .iter()
            .zip(cells)
            .filter(|(_, cell)| cell.state > State::Under)
            .map(|(column, cell)| Contained {
                state: cell.state,
                name: self.allergen(column),
                from: sorted(
                    cell.causes
                        .iter()
                        .filter(|c| c.state == cell.state)
                        .map(|c| c.name.clone()),
                ),
            })
            .collect()
    }

    /// The allergen strip as a block: stop signs where there is anything to stop for, a line of text where no label names any.
    pub(crate) fn stops(&self, recipe: &Id) -> Block {
        let strip = self.strip(recipe);
        match self.contained(recipe) {
            Some(none) if none.is_empty() => Block::Text(strip.join(". ")),
            _ => Block::Stops(strip),
        }
    }

    /// The allergen strip of a card: contains, may contain, not known; one line each, where there is any.
    pub(crate) fn strip(&self, recipe: &Id) -> Vec<String> {
        let Some(all) = self.contained(recipe) else {
            return vec![self.say("allergens-not-looked-up")];
        };
        let of = |state: State, key: &str, with_from: bool| {
            let words: Vec<String> = all
                .iter()
                .filter(|c| c.state == state)
                .map(|c| if with_from { c.words() } else { c.name.clone() })
                .collect();
            (!words.is_empty()).then(|| {
                let list = words.join(", ");
                self.say_with(key, &[("list", (&list).into())])
            })
        };
        let lines: Vec<String> = [
            of(State::Contains, "allergens-contains", false),
            of(State::May, "allergens-may", true),
            of(State::Unknown, "allergens-unknown", true),
        ]
        .into_iter()
        .flatten()
        .collect();
        if lines.is_empty() {
            vec![self.say("allergens-none-on-labels")]
        } else {
            lines
        }
    }
}

fn sorted(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut names: Vec<String> = names.collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// A recipe's row among these and inside them.
fn find<'r>(rows: impl IntoIterator<Item = &'r Row>, recipe: &Id) -> Option<&'r Row> {
    rows.into_iter().find_map(|row| {
        if row.recipe == *recipe {
            Some(row)
        } else {
            find(&row.inside, recipe)
        }
    })
}
