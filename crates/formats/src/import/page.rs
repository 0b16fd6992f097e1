//! A page of the book as text that keeps its comments, its order and its blanks when a value changes.

use book::SourceFile;
use kitchen::{Book, Id};
use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, Value};

use super::names;

/// The page of a site, with its text. An event names its site too, so a page that is an event is not it.
pub(super) fn site_page<'f>(files: &'f [SourceFile], id: &Id) -> Option<(&'f str, &'f str)> {
    files.iter().find_map(|file| {
        let text = std::str::from_utf8(&file.bytes).ok()?;
        let page: DocumentMut = text.parse().ok()?;
        let said = page.get("site")?.as_str()?;
        let is_site = said.trim() == id.as_str() && !page.contains_key("event");
        is_site.then_some((file.name.as_str(), text))
    })
}

/// The first page with a list under `key`, with its text.
pub(super) fn page_with<'f>(
    files: &'f [SourceFile],
    key: &str,
    fits: impl Fn(&DocumentMut) -> bool,
) -> Option<(&'f str, &'f str)> {
    files.iter().find_map(|file| {
        let text = std::str::from_utf8(&file.bytes).ok()?;
        let page: DocumentMut = text.parse().ok()?;
        (page.contains_key(key) && fits(&page)).then_some((file.name.as_str(), text))
    })
}

/// The tables of a list, whether written as `[[key]]` or as `key = [ {…} ]`.
pub(super) fn tables<'d>(page: &'d mut DocumentMut, key: &str) -> Vec<&'d mut dyn TableLike> {
    match page.get_mut(key) {
        Some(Item::ArrayOfTables(list)) => {
            list.iter_mut().map(|t| t as &mut dyn TableLike).collect()
        }
        Some(Item::Value(Value::Array(list))) => list
            .iter_mut()
            .filter_map(|v| v.as_inline_table_mut().map(|t| t as &mut dyn TableLike))
            .collect(),
        _ => Vec::new(),
    }
}

/// The offers of a page in its order: supplier and item. Found once, so that a change can be made by its place.
pub(super) fn offers(text: &str, book: &Book) -> Vec<(String, Option<Id>)> {
    let Ok(mut page) = text.parse::<DocumentMut>() else {
        return Vec::new();
    };
    let all = tables(&mut page, "offer");
    let says = |t: &dyn TableLike, key: &str| {
        t.get(key)
            .and_then(Item::as_str)
            .unwrap_or("")
            .trim()
            .to_owned()
    };
    all.iter()
        .map(|t| {
            (
                says(*t, "supplier"),
                names::item(book, &says(*t, "item")).ok(),
            )
        })
        .collect()
}

/// The place of an offer among them.
pub(super) fn place(offers: &[(String, Option<Id>)], supplier: &Id, item: &Id) -> Option<usize> {
    offers
        .iter()
        .position(|(s, i)| supplier == s.as_str() && i.as_ref() == Some(item))
}

/// The table of a list with this id.
pub(super) fn with_id<'d>(
    page: &'d mut DocumentMut,
    key: &str,
    id: &Id,
) -> Option<&'d mut dyn TableLike> {
    tables(page, key).into_iter().find(|t| {
        t.get("id")
            .and_then(Item::as_str)
            .is_some_and(|s| s.trim() == id.as_str())
    })
}

/// Sets a value and keeps the comment and blanks around the old one.
pub(super) fn set(table: &mut dyn TableLike, key: &str, mut value: Value) {
    if let Some(Item::Value(old)) = table.get(key) {
        *value.decor_mut() = old.decor().clone();
    }
    match table.get_mut(key) {
        Some(item) => *item = Item::Value(value),
        None => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// A decimal as it was written, with two places at least where it is money.
pub(super) fn number(n: units::Decimal) -> Value {
    let text = n.normalize().to_string();
    text.parse().unwrap_or_else(|_| Value::from(text))
}

/// Money: `23.50`.
pub(super) fn money(n: units::Decimal) -> Value {
    let text = money_text(n);
    text.parse().unwrap_or_else(|_| Value::from(text))
}

/// `23.50`; more places where there are some.
pub(super) fn money_text(n: units::Decimal) -> String {
    let mut n = n.normalize();
    if n.scale() < 2 {
        n.rescale(2);
    }
    n.to_string()
}

/// Texts as a list.
pub(super) fn texts(list: &[String]) -> Value {
    Value::Array(list.iter().map(String::as_str).collect())
}

/// Adds a `[[key]]` at the end of the page.
pub(super) fn add(page: &mut DocumentMut, key: &str, table: Table) {
    match page.get_mut(key) {
        Some(Item::ArrayOfTables(list)) => list.push(table),
        Some(Item::Value(Value::Array(list))) => list.push(table.into_inline_table()),
        _ => {
            let mut list = ArrayOfTables::new();
            list.push(table);
            page.insert(key, Item::ArrayOfTables(list));
        }
    }
}
