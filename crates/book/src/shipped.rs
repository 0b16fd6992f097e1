//! The ingredient table compiled into the program.

use kitchen::ingredient::Ingredient;
use toml::de::DeTable;

use crate::fields::Fields;
use crate::ingredient;
use crate::page::Page;

/// The files of the table, by subject.
const FILES: &[(&str, &str)] = &[
    (
        "condiment.toml",
        include_str!("../../../data/ingredients/condiment.toml"),
    ),
    (
        "dairy-egg.toml",
        include_str!("../../../data/ingredients/dairy-egg.toml"),
    ),
    (
        "fish.toml",
        include_str!("../../../data/ingredients/fish.toml"),
    ),
    (
        "fruit.toml",
        include_str!("../../../data/ingredients/fruit.toml"),
    ),
    (
        "herb-spice.toml",
        include_str!("../../../data/ingredients/herb-spice.toml"),
    ),
    (
        "meat.toml",
        include_str!("../../../data/ingredients/meat.toml"),
    ),
    (
        "nut-grain.toml",
        include_str!("../../../data/ingredients/nut-grain.toml"),
    ),
    (
        "other.toml",
        include_str!("../../../data/ingredients/other.toml"),
    ),
    (
        "salt-sugar.toml",
        include_str!("../../../data/ingredients/salt-sugar.toml"),
    ),
    (
        "vegetable.toml",
        include_str!("../../../data/ingredients/vegetable.toml"),
    ),
    (
        "vinegar-oil.toml",
        include_str!("../../../data/ingredients/vinegar-oil.toml"),
    ),
];

/// Every ingredient of the shipped table.
///
/// The table is part of the program; a test holds it to reading without a single complaint.
#[must_use]
pub fn ingredients() -> Vec<Ingredient> {
    read_all().0
}

fn read_all() -> (Vec<Ingredient>, Vec<crate::Diagnostic>) {
    let mut all = Vec::new();
    let mut wrong = Vec::new();
    for (name, text) in FILES {
        let page = Page::new(name, text);
        let (table, errors) = DeTable::parse_recoverable(text);
        for error in errors {
            page.report(
                crate::Code::NotToml,
                error.span().unwrap_or(0..0),
                error.message().to_owned(),
                "TOML",
                "mend the table",
            );
        }
        {
            let fields = Fields::new(&page, "the table", 0..text.len(), table.get_ref());
            for f in fields.list("ingredient", "an ingredient") {
                all.extend(ingredient::read(&f).map(|(i, _)| i));
            }
            fields.close();
        }
        wrong.extend(page.into_found());
    }
    (all, wrong)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_table_reads_without_a_complaint() {
        let (all, wrong) = read_all();
        let text: Vec<String> = wrong.iter().map(ToString::to_string).collect();
        assert!(text.is_empty(), "{}", text.join("\n"));
        assert!(all.len() >= 150, "{} ingredients", all.len());
    }
}
