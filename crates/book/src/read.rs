//! A whole book from its files.

use kitchen::{Book, Id};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::cross::{Known, check_event, recipe_circle};
use crate::diagnostic::{Code, Diagnostic};
use crate::event::ReadEvent;
use crate::fields::{Fields, Page, Span};
use crate::source::{SourceFile, line_column};
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

/// Deepest nesting of lists and tables taken; real books use four.
const DEEPEST: usize = 32;

/// A page with its parsed table.
struct Sheet<'a> {
    page: Page<'a>,
    table: Spanned<DeTable<'a>>,
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
    let book = assemble(&sheets);
    for sheet in sheets {
        wrong.extend(sheet.page.into_found());
    }
    let order = |d: &Diagnostic| files.iter().position(|f| f.name == d.file);
    wrong.sort_by_key(|d| (order(d), d.span.start, d.span.end));
    wrong.dedup();
    if wrong.is_empty() {
        Ok(book)
    } else {
        Err(wrong)
    }
}

fn no_page(code: Code, file: &str, found: String, expected: &str, do_now: &str) -> Diagnostic {
    Diagnostic {
        code,
        file: file.to_owned(),
        text: String::new(),
        span: 0..0,
        line: 1,
        column: 1,
        found,
        expected: expected.to_owned(),
        do_now: do_now.to_owned(),
        did_you_mean: None,
    }
}

fn text_of<'a>(
    file: &'a SourceFile,
    limits: Limits,
    wrong: &mut Vec<Diagnostic>,
) -> Option<&'a str> {
    if file.bytes.len() > limits.file_bytes {
        wrong.push(no_page(
            Code::TooLarge,
            &file.name,
            format!("a file of {} bytes", file.bytes.len()),
            &format!("a book file of at most {} bytes", limits.file_bytes),
            "check that it is a book; split it if it is",
        ));
        return None;
    }
    let bytes = file
        .bytes
        .strip_prefix(b"\xef\xbb\xbf")
        .unwrap_or(&file.bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => Some(text),
        Err(error) => {
            let good = std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or("");
            let (line, column) = line_column(good, good.len());
            let mut d = no_page(
                Code::NotText,
                &file.name,
                format!(
                    "byte {:#04x} that is not UTF-8 text",
                    bytes[error.valid_up_to()]
                ),
                "a text file in UTF-8",
                "save the file as UTF-8 and read it again",
            );
            (d.line, d.column) = (line, column);
            wrong.push(d);
            None
        }
    }
}

fn parse<'a>(name: &'a str, text: &'a str) -> Sheet<'a> {
    let page = Page::new(name, text);
    if nesting(text) > DEEPEST {
        page.report(
            Code::NotToml,
            0..1,
            format!("brackets nested deeper than {DEEPEST}"),
            "a book file",
            "check that it is one",
        );
        return Sheet {
            page,
            table: Spanned::new(0..0, DeTable::default()),
        };
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    let broken = !errors.is_empty();
    // One slip often makes several complaints; the first few are worth reading.
    for error in errors.into_iter().take(3) {
        let span = error.span().unwrap_or(0..0);
        page.report(
            Code::NotToml,
            span,
            format!("not TOML: {}", error.message().lines().next().unwrap_or("")),
            "key = value lines and [[table]] headings",
            "mend the line; text values stand in quotes",
        );
    }
    Sheet {
        page,
        table: if broken {
            Spanned::new(0..0, DeTable::default())
        } else {
            table
        },
    }
}

/// Deepest bracket nesting, brackets in strings included: an upper bound is enough here.
fn nesting(text: &str) -> usize {
    let (mut depth, mut deepest) = (0_usize, 0_usize);
    for byte in text.bytes() {
        match byte {
            b'[' | b'{' => depth += 1,
            b']' | b'}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        deepest = deepest.max(depth);
    }
    deepest
}

/// What a file holds, by its first key.
#[derive(Clone, Copy, PartialEq)]
enum Holds {
    Book,
    Recipe,
    Site,
    Event,
    Lists,
}

fn holds(sheet: &Sheet<'_>) -> Option<Holds> {
    let table = sheet.table.get_ref();
    for (key, holds) in [
        ("book", Holds::Book),
        ("recipe", Holds::Recipe),
        ("site", Holds::Site),
        ("event", Holds::Event),
    ] {
        // An event names its site too: its own key decides first.
        if table.contains_key(key) && !(key == "site" && table.contains_key("event")) {
            return Some(holds);
        }
    }
    (table.contains_key("ingredient") || table.contains_key("dish")).then_some(Holds::Lists)
}

fn root<'p>(sheet: &'p Sheet<'p>, what: &str) -> Fields<'p, 'p> {
    Fields::new(
        &sheet.page,
        what,
        0..sheet.page.text.len(),
        sheet.table.get_ref(),
    )
}

fn scan_ids(value: Option<&Spanned<DeValue<'_>>>, into: &mut Vec<Id>) {
    let Some(value) = value else { return };
    match value.get_ref() {
        DeValue::String(s) => into.extend(Id::new(s)),
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

fn assemble(sheets: &[Sheet<'_>]) -> Book {
    let mut known = Known::default();
    for ingredient in shipped::ingredients() {
        known.add_ingredient(ingredient);
    }
    let mut book = Book::default();
    let kinds: Vec<Option<Holds>> = sheets.iter().map(holds).collect();
    for (sheet, kind) in sheets.iter().zip(&kinds) {
        let table = sheet.table.get_ref();
        match kind {
            Some(Holds::Recipe) => scan_ids(table.get("recipe"), &mut known.recipes),
            Some(Holds::Site) => {
                scan_ids(table.get("site"), &mut known.sites);
                scan_ids(table.get("machine"), &mut known.machines);
            }
            Some(Holds::Lists) => scan_ids(table.get("dish"), &mut known.dishes),
            Some(Holds::Book) => {
                let f = root(sheet, "the book");
                book.name = f
                    .need_text("book", "the name of the book", "give it one")
                    .map_or_else(String::new, |t| t.0);
                book.note = f.text("note").map_or_else(String::new, |t| t.0);
                f.close();
            }
            Some(Holds::Event) => {}
            None if table.is_empty() && sheet.page.text.trim().is_empty() => {}
            None if table.is_empty() => {}
            None => {
                let f = root(sheet, "the file");
                f.page.report(
                    Code::MissingKey,
                    0..1,
                    "a file that does not say what it holds".to_owned(),
                    "a first key among: recipe, site, event, book, [[ingredient]], [[dish]]",
                    "start a recipe with recipe = \"its-id\"",
                );
            }
        }
    }
    let of = |kind| {
        sheets
            .iter()
            .zip(&kinds)
            .filter(move |(_, k)| **k == Some(kind))
            .map(|(s, _)| s)
    };
    let mut own: Vec<Id> = Vec::new();
    for sheet in of(Holds::Lists) {
        let f = root(sheet, "the file");
        for t in f.list("ingredient", "an ingredient") {
            if let Some((ingredient, span)) = ingredient::read(&t) {
                no_twin(&sheet.page, &own, &ingredient.id, &span, "ingredient");
                own.push(ingredient.id.clone());
                known.add_ingredient(ingredient);
            }
        }
    }
    for sheet in of(Holds::Site) {
        if let Some((site, span)) = site::read(&root(sheet, "the site"), &known) {
            if book.sites.contains_key(&site.id) {
                twin(&sheet.page, &site.id, &span, "site");
            }
            book.sites.insert(site.id.clone(), site);
        }
    }
    read_recipes(of(Holds::Recipe), &known, &mut book);
    for sheet in of(Holds::Lists) {
        let f = root(sheet, "the file");
        f.raw("ingredient");
        for t in f.list("dish", "a dish") {
            if let Some((dish, span)) = dish::read(&t, &known) {
                if book.dishes.contains_key(&dish.id) {
                    twin(&sheet.page, &dish.id, &span, "dish");
                }
                book.dishes.insert(dish.id.clone(), dish);
            }
        }
        f.close();
    }
    let mut events: Vec<(&Sheet<'_>, ReadEvent)> = Vec::new();
    for sheet in of(Holds::Event) {
        if let Some(read) = event::read(&root(sheet, "the event"), &known) {
            if book.events.contains_key(&read.event.id) {
                twin(&sheet.page, &read.event.id, &read.at, "event");
            }
            book.events
                .insert(read.event.id.clone(), read.event.clone());
            events.push((sheet, read));
        }
    }
    book.ingredients = known.ingredients;
    for (sheet, read) in events {
        check_event(&sheet.page, &book, &read);
    }
    book
}

fn read_recipes<'s>(sheets: impl Iterator<Item = &'s Sheet<'s>>, known: &Known, book: &mut Book) {
    let mut places = Vec::new();
    for sheet in sheets {
        if let Some((recipe, span)) = recipe::read(&root(sheet, "the recipe"), known) {
            if book.recipes.contains_key(&recipe.id) {
                twin(&sheet.page, &recipe.id, &span, "recipe");
            }
            places.push((sheet, recipe.id.clone(), span));
            book.recipes.insert(recipe.id.clone(), recipe);
        }
    }
    for (sheet, id, span) in places {
        if let Some(circle) = recipe_circle(&book.recipes, &id) {
            let names: Vec<&str> = circle.iter().map(Id::as_str).collect();
            let found = if circle.len() == 1 {
                format!("recipe {id} uses itself")
            } else {
                format!("recipes use each other in a circle: {}", names.join(" → "))
            };
            sheet.page.report(
                Code::Cycle,
                span,
                found,
                "recipes that end in bought items",
                "make the shared part a recipe of its own",
            );
        }
    }
}

fn no_twin(page: &Page<'_>, known: &[Id], id: &Id, span: &Span, what: &str) {
    if known.contains(id) {
        twin(page, id, span, what);
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
