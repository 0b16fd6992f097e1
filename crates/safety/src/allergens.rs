//! What each place asks to be named on a label, and which words of ours fall under it.
//!
//! The lists themselves are rows of `data/rules` with their source and status; `data/allergens/places.toml` says which
//! words of a label stand under which entry of a row, and which of them only from memory.

mod read;
#[cfg(test)]
mod tests;

use std::sync::LazyLock;

use kitchen::label::Allergen;
use kitchen::site::RuleSet;
use sources::Status;

use crate::rules::{Detail, Rule};

pub use read::{PlacesError, read};

/// Part of a limit that is no difference: one in a thousand million.
const NOISE: f64 = 1e-9;

/// From how much sulphite on it has to be named.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// mg of SO₂ in a kg of what is served.
    pub mg_per_kg: f64,
    /// Named at the limit itself too (≥); else only above it (>).
    pub at_the_limit_too: bool,
}

impl Limit {
    /// Whether so much has to be named. Float noise at the limit counts as the limit itself.
    #[must_use]
    pub fn names(self, mg_per_kg: f64) -> bool {
        let over = mg_per_kg - self.mg_per_kg;
        let at_it = over.abs() <= self.mg_per_kg * NOISE;
        (at_it && self.at_the_limit_too) || (!at_it && over > 0.0)
    }

    /// As printed: "≥ 10 mg/kg".
    #[must_use]
    pub fn words(self) -> String {
        let sign = if self.at_the_limit_too { "≥" } else { ">" };
        format!("{sign} {} mg/kg", self.mg_per_kg)
    }
}

/// One entry of a place's list: a column of the matrix.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Where it holds.
    pub places: Vec<RuleSet>,
    /// Id, unique in a place: `tree-nut`.
    pub id: String,
    /// Name as printed.
    pub name: String,
    /// Three letters for the head of the matrix.
    pub short: String,
    /// Words of a label that fall under it.
    pub words: Vec<Allergen>,
    /// Those of them that the row's own text does not say.
    pub remembered: Vec<Allergen>,
    /// From how much on, where the place says so.
    pub limit: Option<Limit>,
    /// The row of the rules it is an entry of.
    pub row: &'static Rule,
    /// The entry, word for word; `None` where the row names it beside its list.
    pub item: Option<String>,
    /// The text for this place, where the row's title names another's.
    pub own_text: Option<String>,
    /// How far it was read: the row's own status, or a lower one.
    pub status: Status,
}

impl Column {
    /// Title and section of the text it stands in.
    #[must_use]
    pub fn cited(&self) -> String {
        let row = || {
            let Rule { title, section, .. } = self.row;
            if section == "whole" || title.ends_with(section) {
                title.clone()
            } else {
                format!("{title}, {section}")
            }
        };
        self.own_text.clone().unwrap_or_else(row)
    }

    /// Printed beside what was not read itself.
    #[must_use]
    pub fn caution(&self) -> Option<&'static str> {
        (!self.status.may_show()).then_some("verify with your authority")
    }
}

/// The file that comes with the program.
pub const PLACES: &str = include_str!("../../../data/allergens/places.toml");

static SHIPPED: LazyLock<Result<Vec<Column>, PlacesError>> = LazyLock::new(|| {
    let rules = crate::rules::shipped().map_err(|e| PlacesError {
        column: "rules".to_owned(),
        found: e.to_string(),
        expected: "rules that hold together".to_owned(),
    })?;
    read(PLACES, rules)
});

/// Every column of every place.
///
/// # Errors
/// A file that does not hold together; a test keeps that from being shipped.
pub fn shipped() -> Result<&'static [Column], &'static PlacesError> {
    SHIPPED.as_deref()
}

/// The columns of a place, in the order of its list; empty when the file does not hold together.
#[must_use]
pub fn columns(place: RuleSet) -> Vec<&'static Column> {
    shipped()
        .unwrap_or_default()
        .iter()
        .filter(|c| c.places.contains(&place))
        .collect()
}

/// Words of a list under `key` beside a row's own list.
pub(crate) fn beside(rule: &Rule, key: &str) -> Option<Vec<String>> {
    match rule.also.get(key)? {
        Detail::List(list) => Some(
            list.iter()
                .filter_map(|d| match d {
                    Detail::Words(w) => Some(w.clone()),
                    _ => None,
                })
                .collect(),
        ),
        _ => None,
    }
}
