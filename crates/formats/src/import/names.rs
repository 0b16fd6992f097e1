//! What a name in a file means: an ingredient or a supplier of the book, by its id or by its words.

use book::did_you_mean;
use kitchen::site::Site;
use kitchen::{Book, Id};

use crate::refusal::{Refusal, quoted};

/// Why a name means nothing, or too much.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Unclear {
    pub(crate) found: String,
    pub(crate) expected: String,
    pub(crate) do_now: String,
}

impl Unclear {
    pub(super) fn at(self, row: usize, place: &str) -> Refusal {
        Refusal::at(row, place, self.found, self.expected, self.do_now)
    }
}

/// Most names listed in a message.
const LISTED: usize = 8;

/// The ingredient a book calls so. As in a page of the book: an id, a name or another word for it; a bare family word
/// (`salt`) is refused with its kinds.
pub(crate) fn item(book: &Book, name: &str) -> Result<Id, Unclear> {
    let word = plain(name);
    if let Some((id, _)) = book.ingredients.get_key_value(word.as_str()) {
        return Ok(id.clone());
    }
    let kinds: Vec<&str> = book
        .ingredients
        .values()
        .filter(|i| i.family.as_deref() == Some(word.as_str()))
        .map(|i| i.name.as_str())
        .collect();
    if !kinds.is_empty() {
        return Err(Unclear {
            found: format!("\"{}\" is a family of ingredients, not one", quoted(name)),
            expected: format!("one of: {}", listed(&kinds)),
            do_now: "name the kind in the bin: a cup of one weighs up to twice a cup of another"
                .to_owned(),
        });
    }
    let called = |i: &&kitchen::ingredient::Ingredient| {
        plain(&i.name) == word || i.also.iter().any(|a| plain(a) == word)
    };
    if let Some(one) = book.ingredients.values().find(called) {
        return Ok(one.id.clone());
    }
    let holding: Vec<&str> = book
        .ingredients
        .values()
        .filter(|i| !word.is_empty() && plain(&i.name).split([' ', ',']).any(|w| w == word))
        .map(|i| i.name.as_str())
        .collect();
    let names = book.ingredients.values().flat_map(|i| {
        [i.id.as_str(), i.name.as_str()]
            .into_iter()
            .chain(i.also.iter().map(String::as_str))
    });
    let do_now = match (did_you_mean(&word, names), holding.is_empty()) {
        (Some(near), _) => format!("did you mean \"{near}\"?"),
        (None, false) => format!("perhaps {}", listed(&holding)),
        (None, true) => "correct the name, or add the ingredient to the book first".to_owned(),
    };
    Err(Unclear {
        found: format!("no ingredient is called \"{}\"", quoted(name)),
        expected: "an id or a name of the ingredient table or of this book".to_owned(),
        do_now,
    })
}

/// The supplier of a site with this id or name.
pub(super) fn supplier(site: &Site, name: &str) -> Result<Id, Unclear> {
    let word = plain(name);
    let found = site
        .suppliers
        .iter()
        .find(|s| s.id == word.as_str() || plain(&s.name) == word);
    found.map(|s| s.id.clone()).ok_or_else(|| {
        let ids: Vec<&str> = site.suppliers.iter().map(|s| s.id.as_str()).collect();
        Unclear {
            found: format!("{} has no supplier \"{}\"", site.id, quoted(name)),
            expected: format!("one of: {}", listed(&ids)),
            do_now: did_you_mean(&word, ids.iter().copied()).map_or_else(
                || {
                    "add the supplier to the site first: it needs a cut-off and a delivery hour"
                        .to_owned()
                },
                |n| format!("did you mean \"{n}\"?"),
            ),
        }
    })
}

/// The site meant: the one named, or the only one.
pub(super) fn site<'b>(book: &'b Book, named: Option<&str>) -> Result<&'b Site, Vec<Refusal>> {
    let ids: Vec<&str> = book.sites.keys().map(Id::as_str).collect();
    let expected = format!("one of: {}", listed(&ids));
    match named {
        Some(name) => book.sites.get(name).ok_or_else(|| {
            vec![Refusal::whole(
                format!("the book has no site \"{}\"", quoted(name)),
                expected,
                "name a site of the book",
            )]
        }),
        None if book.sites.len() == 1 => book.sites.values().next().ok_or_else(Vec::new),
        None => Err(vec![Refusal::whole(
            format!("the book has {} sites", book.sites.len()),
            expected,
            "say which with --site",
        )]),
    }
}

fn listed(names: &[&str]) -> String {
    let mut shown: Vec<String> = names
        .iter()
        .take(LISTED)
        .map(|n| format!("\"{n}\""))
        .collect();
    if names.len() > LISTED {
        shown.push(format!("{} more", names.len() - LISTED));
    }
    shown.join(", ")
}

/// Lower case, single blanks.
fn plain(text: &str) -> String {
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .to_lowercase()
}
