//! What a book knows by name, collected before the files that use the names are read.

use std::collections::{BTreeMap, BTreeSet};

use kitchen::Id;
use kitchen::ingredient::Ingredient;

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::page::Span;
use crate::suggest::{did_you_mean, nearest};
use crate::values::short;

/// Names that exist.
#[derive(Default)]
pub(crate) struct Known {
    pub(crate) ingredients: BTreeMap<Id, Ingredient>,
    /// Lower-case names and other words to ids.
    pub(crate) words: BTreeMap<String, Id>,
    /// Ids of ingredients of the book that stand in a file, readable or not.
    pub(crate) items: BTreeSet<Id>,
    pub(crate) recipes: BTreeSet<Id>,
    pub(crate) dishes: BTreeSet<Id>,
    pub(crate) sites: BTreeSet<Id>,
    pub(crate) machines: BTreeSet<Id>,
    /// Whether every file was read. When one was not, a name nobody knows may stand in it, and
    /// complaining about the name would hide the cause.
    pub(crate) whole: bool,
}

impl Known {
    pub(crate) fn add_ingredient(&mut self, ingredient: Ingredient) {
        for word in ingredient.also.iter().chain([&ingredient.name]) {
            self.words
                .insert(word.to_lowercase(), ingredient.id.clone());
        }
        self.ingredients.insert(ingredient.id.clone(), ingredient);
    }

    pub(crate) fn ingredient(&self, id: &Id) -> Option<&Ingredient> {
        self.ingredients.get(id)
    }

    /// The ingredient a book calls so, by id or by name; a bare family word is refused with its kinds.
    pub(crate) fn item(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        let word = name.trim().to_lowercase();
        if let Some((id, _)) = self.ingredients.get_key_value(word.as_str()) {
            return Some(id.clone());
        }
        let kinds: Vec<&str> = self
            .ingredients
            .values()
            .filter(|i| i.family.as_deref() == Some(word.as_str()))
            .map(|i| i.id.as_str())
            .collect();
        if !kinds.is_empty() {
            f.page.marked(
                Code::NeedsKind,
                span.clone(),
                "which kind?".to_owned(),
                (
                    format!("\"{}\" is a family of ingredients, not one", short(name)),
                    &format!("one of: {}", kinds.join(", ")),
                    "name the kind in the bin: a cup of one weighs up to twice a cup of another",
                ),
            );
            return None;
        }
        if let Some(id) = self.words.get(&word) {
            return Some(id.clone());
        }
        if let Some(id) = self.items.get(word.as_str()) {
            // It stands in the book and is wrong itself; that is reported where it stands.
            return Some(id.clone());
        }
        if !self.whole || f.page.is_full() {
            return None;
        }
        let ids = self.ingredients.keys().map(Id::as_str);
        let words = self.words.keys().map(String::as_str);
        // An id as near as a name goes first: it is what the rest of the book writes.
        let near = match (nearest(&word, ids), nearest(&word, words)) {
            (Some(id), Some(name)) if name.0 < id.0 => Some(name.1),
            (Some(id), _) => Some(id.1),
            (None, name) => name.map(|n| n.1),
        };
        f.page.suggest(
            Code::UnknownName,
            span.clone(),
            format!("no ingredient is called \"{}\"", short(name)),
            "an id or a name of the ingredient table or of this book",
            "correct the spelling, or add an [[ingredient]] to the book",
            near,
        );
        None
    }

    pub(crate) fn recipe(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        self.named(f, name, span, "recipe", &self.recipes)
    }

    pub(crate) fn machine(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        self.named(f, name, span, "machine", &self.machines)
    }

    pub(crate) fn site(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        self.named(f, name, span, "site", &self.sites)
    }

    pub(crate) fn dish(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        self.named(f, name, span, "dish", &self.dishes)
    }

    fn named(
        &self,
        f: &Fields<'_, '_>,
        name: &str,
        span: &Span,
        what: &str,
        known: &BTreeSet<Id>,
    ) -> Option<Id> {
        let found = known.get(name.trim());
        if found.is_none() && self.whole && !f.page.is_full() {
            let list: Vec<&str> = known.iter().map(Id::as_str).collect();
            let expected = if list.is_empty() {
                format!("the id of a {what}; this book has none")
            } else if list.len() <= 12 {
                format!("one of: {}", list.join(", "))
            } else {
                format!("the id of one of the {} {what}s of this book", list.len())
            };
            f.page.suggest(
                Code::UnknownName,
                span.clone(),
                format!("no {what} has the id \"{}\"", short(name)),
                &expected,
                &format!("correct the spelling, or add the {what}"),
                did_you_mean(name, list.iter().copied()),
            );
        }
        found.cloned()
    }
}

#[cfg(test)]
mod tests {
    use toml::de::DeTable;

    use super::*;
    use crate::Diagnostic;
    use crate::page::Page;

    fn item(known: &Known, name: &str) -> Result<Id, Vec<Diagnostic>> {
        let text = format!("x = \"{name}\"");
        let page = Page::new("a.toml", &text);
        let table = DeTable::default();
        let id = known.item(
            &Fields::new(&page, "it", 0..1, &table),
            name,
            &(4..text.len()),
        );
        id.ok_or_else(|| page.into_found())
    }

    fn shipped() -> Known {
        let mut known = Known {
            whole: true,
            ..Known::default()
        };
        for ingredient in crate::shipped_ingredients() {
            known.add_ingredient(ingredient);
        }
        known
    }

    #[test]
    fn an_id_is_offered_before_a_name() {
        let wrong = item(&shipped(), "fennl-bulb").unwrap_err();
        assert_eq!(wrong[0].did_you_mean.as_deref(), Some("fennel-bulb"));
        let wrong = item(&shipped(), "scalion").unwrap_err();
        assert_eq!(wrong[0].did_you_mean.as_deref(), Some("scallion"));
    }

    #[test]
    fn a_family_word_is_refused_whatever_its_case() {
        for word in ["salt", "Salt", " sugar "] {
            let wrong = item(&shipped(), word).unwrap_err();
            assert_eq!(wrong[0].code, Code::NeedsKind, "{word}");
            assert!(wrong[0].expected.contains(", "), "{word}");
        }
    }

    #[test]
    fn a_name_is_not_called_unknown_while_a_file_is_unread() {
        let known = Known {
            whole: false,
            ..shipped()
        };
        assert!(item(&known, "moonfish").unwrap_err().is_empty());
        assert_eq!(item(&shipped(), "moonfish").unwrap_err().len(), 1);
    }
}
