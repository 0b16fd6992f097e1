//! A whole book from its files.

use std::collections::{BTreeMap, BTreeSet};

use kitchen::{Book, Id};
use toml::Spanned;
use toml::de::DeValue;

use crate::circle::{around, circles};
use crate::cross::{Whole, check_event};
use crate::diagnostic::{Code, Diagnostic};
use crate::event::ReadEvent;
use crate::known::Known;
use crate::page::{Page, Span};
use crate::recipe::ReadRecipe;
use crate::sheet::{Holds, Sheet, holds, no_page, parse, root, text_of};
use crate::source::SourceFile;
use crate::values::meant_as_id;
use crate::{dish, event, ingredient, recipe, shipped, site};

/// How much a book may hold; beyond it a file is refused unread.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Bytes of one file.
    pub file_bytes: usize,
    /// Files of a book.
    pub files: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            file_bytes: 1_000_000,
            files: 2_000,
        }
    }
}

/// Reads a book.
///
/// # Errors
/// Every diagnostic of every file, in the order of the files; the book is whole or not there at all.
pub fn read(files: &[SourceFile], limits: Limits) -> Result<Book, Vec<Diagnostic>> {
    let mut wrong = Vec::new();
    if files.is_empty() || files.len() > limits.files {
        wrong.push(no_page(
            Code::TooLarge,
            "the book",
            format!("{} files", files.len()),
            &format!("1 to {} files ending in .toml", limits.files),
            "name the folder the book is in",
        ));
        return Err(wrong);
    }
    let texts: Vec<Option<&str>> = files
        .iter()
        .map(|f| text_of(f, limits, &mut wrong))
        .collect();
    let mut sheets = Vec::new();
    for (file, text) in files.iter().zip(&texts) {
        if let Some(text) = text {
            sheets.push(parse(&file.name, text));
        }
    }
    let all_read = sheets.len() == files.len() && sheets.iter().all(|s| s.is_read);
    let book = assemble(&sheets, all_read);
    for sheet in sheets {
        wrong.extend(sheet.page.into_found());
    }
    let places: BTreeMap<&str, usize> = files
        .iter()
        .enumerate()
        .rev()
        .map(|(i, f)| (f.name.as_str(), i))
        .collect();
    wrong.sort_by_cached_key(|d| {
        let place = places.get(d.file.as_str()).copied();
        // The note that a list is full stands after the list.
        (
            place,
            d.code == Code::TooLarge,
            d.span.start,
            d.span.end,
            d.found.clone(),
        )
    });
    wrong.dedup();
    if wrong.is_empty() {
        Ok(book)
    } else {
        Err(wrong)
    }
}

/// Collects the ids under a key: of a text, or of every table of a list.
fn scan_ids(value: Option<&Spanned<DeValue<'_>>>, into: &mut BTreeSet<Id>) {
    let Some(value) = value else { return };
    match value.get_ref() {
        DeValue::String(s) => into.extend(meant_as_id(s)),
        DeValue::Array(array) => {
            for member in array.iter() {
                if let DeValue::Table(t) = member.get_ref() {
                    scan_ids(t.get("id"), into);
                }
            }
        }
        _ => {}
    }
}

fn assemble(sheets: &[Sheet<'_>], all_read: bool) -> Book {
    let kinds: Vec<Option<Holds>> = sheets.iter().map(holds).collect();
    let of = |kind| {
        sheets
            .iter()
            .zip(&kinds)
            .filter(move |(_, k)| **k == Some(kind))
            .map(|(s, _)| s)
    };
    for (sheet, _) in sheets.iter().zip(&kinds).filter(|(_, k)| k.is_none()) {
        says_nothing(sheet);
    }
    let mut known = known(sheets, &kinds, all_read);
    let mut whole = Whole {
        book: Book::default(),
        recipes: BTreeMap::new(),
        dishes: BTreeMap::new(),
        sites: BTreeMap::new(),
    };
    for (i, sheet) in of(Holds::Book).enumerate() {
        read_name(sheet, i > 0, &mut whole.book);
    }
    let mut own = BTreeSet::new();
    for sheet in of(Holds::Lists) {
        for t in root(sheet, "the file").list("ingredient", "ingredient") {
            if let Some((ingredient, span)) = ingredient::read(&t) {
                if !own.insert(ingredient.id.clone()) {
                    twin(&sheet.page, &ingredient.id, &span, "ingredient");
                }
                known.add_ingredient(ingredient);
            }
        }
    }
    for sheet in of(Holds::Site) {
        if let Some(read) = site::read(&root(sheet, "the site"), &known) {
            let id = read.site.id.clone();
            if whole.book.sites.contains_key(&id) {
                twin(&sheet.page, &id, &read.at, "site");
            }
            whole.sites.insert(id.clone(), read.whole);
            whole.book.sites.insert(id, read.site);
        }
    }
    for sheet in of(Holds::Recipe) {
        if let Some(read) = recipe::read(&root(sheet, "the recipe"), &known) {
            let id = read.recipe.id.clone();
            if whole.recipes.contains_key(&id) {
                twin(&sheet.page, &id, &read.at, "recipe");
            }
            whole.book.recipes.insert(id.clone(), read.recipe.clone());
            whole.recipes.insert(id, (&sheet.page, read));
        }
    }
    check_circles(&whole.recipes);
    for sheet in of(Holds::Lists) {
        let f = root(sheet, "the file");
        f.raw("ingredient");
        for t in f.list("dish", "a dish") {
            if let Some(read) = dish::read(&t, &known) {
                let id = read.dish.id.clone();
                if whole.dishes.contains_key(&id) {
                    twin(&sheet.page, &id, &read.at, "dish");
                }
                whole.book.dishes.insert(id.clone(), read.dish.clone());
                whole.dishes.insert(id, (&sheet.page, read));
            }
        }
        f.close();
    }
    let mut events: Vec<(&Sheet<'_>, ReadEvent)> = Vec::new();
    for sheet in of(Holds::Event) {
        if let Some(read) = event::read(&root(sheet, "the event"), &known) {
            let id = read.event.id.clone();
            if whole.book.events.contains_key(&id) {
                twin(&sheet.page, &id, &read.at, "event");
            }
            whole.book.events.insert(id, read.event.clone());
            events.push((sheet, read));
        }
    }
    whole.book.ingredients = known.ingredients;
    // Of a book with a file unread nothing can be said to be missing.
    for (sheet, read) in events.iter().filter(|_| all_read) {
        check_event(&sheet.page, &whole, read);
    }
    whole.book
}

/// The ids that stand in the files, right or wrong, and the shipped ingredients.
fn known(sheets: &[Sheet<'_>], kinds: &[Option<Holds>], whole: bool) -> Known {
    let mut known = Known {
        whole,
        ..Known::default()
    };
    for ingredient in shipped::ingredients() {
        known.add_ingredient(ingredient);
    }
    for (sheet, kind) in sheets.iter().zip(kinds) {
        let table = sheet.table.get_ref();
        match kind {
            Some(Holds::Recipe) => scan_ids(table.get("recipe"), &mut known.recipes),
            Some(Holds::Site) => {
                scan_ids(table.get("site"), &mut known.sites);
                scan_ids(table.get("machine"), &mut known.machines);
            }
            Some(Holds::Lists) => {
                scan_ids(table.get("ingredient"), &mut known.items);
                scan_ids(table.get("dish"), &mut known.dishes);
            }
            Some(Holds::Book | Holds::Event) | None => {}
        }
    }
    known
}

fn says_nothing(sheet: &Sheet<'_>) {
    // An empty file is no mistake; one that is not TOML is reported as that.
    if sheet.table.get_ref().is_empty() {
        return;
    }
    sheet.page.marked(
        Code::MissingKey,
        0..1,
        "which kind of file?".to_owned(),
        (
            "a file that does not say what it holds".to_owned(),
            "a first key among: recipe, site, event, book, [[ingredient]], [[dish]]",
            "start a recipe with recipe = \"its-id\"",
        ),
    );
}

fn read_name(sheet: &Sheet<'_>, again: bool, book: &mut Book) {
    let f = root(sheet, "the book");
    if again {
        f.page.report(
            Code::Duplicate,
            f.at("book"),
            "a second name for the book".to_owned(),
            "one file that starts with book",
            "take one of them out",
        );
    }
    book.name = f
        .need_text("book", "the name of the book", "give it one")
        .map_or_else(String::new, |t| t.0);
    book.note = f.text("note").map_or_else(String::new, |t| t.0);
    f.close();
}

fn check_circles(recipes: &BTreeMap<Id, (&Page<'_>, ReadRecipe)>) {
    let uses = recipes
        .iter()
        .map(|(id, (_, read))| (id.clone(), recipe::uses(&read.recipe)))
        .collect();
    for circle in circles(&uses) {
        let Some((id, (page, read))) = circle.first().and_then(|id| recipes.get_key_value(id))
        else {
            continue;
        };
        let next = circle.get(1).unwrap_or(id);
        let at = read.recipes.iter().find(|(used, _)| used == next);
        let names: Vec<&str> = circle.iter().map(Id::as_str).collect();
        let found = if circle.len() == 1 {
            format!("recipe {id} uses itself")
        } else {
            format!(
                "recipes use each other in a circle: {}",
                around(&names, " → ")
            )
        };
        page.report(
            Code::Cycle,
            at.map_or_else(|| read.at.clone(), |(_, span)| span.clone()),
            found,
            "recipes that end in bought items",
            "make the shared part a recipe of its own",
        );
    }
}

fn twin(page: &Page<'_>, id: &Id, span: &Span, what: &str) {
    page.report(
        Code::Duplicate,
        span.clone(),
        format!("a second {what} with the id \"{id}\""),
        &format!("a different id for every {what}"),
        "rename one of them",
    );
}
