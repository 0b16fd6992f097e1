//! The demo book compiled into the program. Everything in it is invented, and says so.

use crate::source::SourceFile;

macro_rules! files {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../../../book/", $name)))),*]
    };
}

const FILES: &[(&str, &str)] = files![
    "book.toml",
    "site.toml",
    "ingredients.toml",
    "dishes.toml",
    "events/duck-class.toml",
    "events/harvest-supper.toml",
    "events/orchard-lunch.toml",
    "recipes/buttermilk-dressing.toml",
    "recipes/cauliflower-pickle.toml",
    "recipes/clove-tea.toml",
    "recipes/cucumber-pickle.toml",
    "recipes/daikon-pickle.toml",
    "recipes/dill-oil.toml",
    "recipes/dry-cured-duck-breast.toml",
    "recipes/fennel-pickle.toml",
    "recipes/hot-smoked-char.toml",
    "recipes/kohlrabi-ribbons.toml",
    "recipes/lambs-lettuce-leaves.toml",
    "recipes/mustard-dressing.toml",
    "recipes/red-onion-pickle.toml",
    "recipes/rye-crisp.toml",
    "recipes/smoked-pork-collar.toml",
];

/// The files of the demo book.
#[must_use]
pub fn files() -> Vec<SourceFile> {
    FILES
        .iter()
        .map(|(name, text)| SourceFile::text(&format!("demo/{name}"), text))
        .collect()
}
