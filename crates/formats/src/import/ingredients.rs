//! Ingredients of a book: new ones, and figures of those it has.

use std::collections::BTreeSet;

use kitchen::Id;
use toml_edit::{Array, DocumentMut, InlineTable, Item, TableLike, Value};
use units::Decimal;

use super::columns::{Columns, Known, may, measured, must};
use super::{Change, Draft, Preview, Target, page, settle};
use crate::refusal::{Refusal, quoted};
use crate::table::{Row, Table};

/// Where new ingredients go when the book has no page of ingredients yet.
const NEW_PAGE: &str = "ingredients.toml";
/// Grams in 100 g.
const COMPOSITION: [&str; 7] = [
    "water",
    "protein",
    "fat",
    "carbohydrate",
    "sugars",
    "salt",
    "acetic",
];

fn known() -> Vec<Known> {
    let mut all = vec![
        must("id"),
        must("name"),
        may("also"),
        may("family"),
        may("role"),
        measured("nitrite", "%"),
        measured("nitrate", "%"),
        may("form"),
        measured("density", "g/mL"),
        may("piece word"),
        measured("piece", "g"),
        may("contains"),
        may("may contain"),
        may("source"),
    ];
    all.extend(COMPOSITION.map(|name| measured(name, "g/100 g")));
    all
}

/// A change of one ingredient's table.
type Put = Box<dyn Fn(&mut dyn TableLike)>;

/// One value of a row, at its place in the ingredient.
struct Said {
    key: String,
    text: String,
    put: Put,
}

/// Ingredients by id. An empty cell leaves what the book has; a row with a figure names where the figure is from.
///
/// # Errors
/// Headings that are missing or unknown.
pub fn ingredients(into: Target<'_>, table: &Table) -> Result<Preview, Vec<Refusal>> {
    let columns = Columns::of(table, &known())?;
    let lists = page::page_with(into.files, "ingredient", |_| true);
    let (file, text) = lists.unwrap_or((NEW_PAGE, ""));
    if lists.is_none() && into.files.iter().any(|f| f.name == NEW_PAGE) {
        return Err(vec![Refusal::whole(
            format!("{NEW_PAGE} is there and holds no [[ingredient]]"),
            "a page of ingredients",
            "move what it holds to a page of another name",
        )]);
    }
    let mut draft = Draft::new();
    let mut seen = BTreeSet::new();
    for row in &table.rows {
        match read(&columns, row) {
            Err(refusal) => draft.refused.push(refusal),
            Ok((id, _)) if !seen.insert(id.clone()) => draft.refused.push(Refusal::at(
                row.at,
                "id",
                format!("\"{id}\" a second time"),
                "every ingredient once",
                "take one of the rows out",
            )),
            Ok((id, said)) => one(into, &mut draft, (file, text), row.at, &id, said),
        }
    }
    draft.same_rows(table);
    settle(into, file, text, draft)
}

fn read(columns: &Columns, row: &Row) -> Result<(Id, Vec<Said>), Refusal> {
    let word = columns.need(row, "id")?;
    let id = Id::new(&word).ok_or_else(|| {
        Refusal::at(
            row.at,
            "id",
            format!("\"{}\"", quoted(&word)),
            "lower-case letters, digits and hyphens, a letter first, at most 64",
            "write it as arctic-char-whole",
        )
    })?;
    let mut said = vec![text("name", columns.need(row, "name")?)];
    if let Some(also) = columns.words(row, "also")? {
        said.push(list("also", None, &also));
    }
    for key in ["family", "role"] {
        said.extend(columns.words(row, key)?.map(|t| text(key, t)));
    }
    for (column, key) in [("nitrite", "nitrite-pct"), ("nitrate", "nitrate-pct")] {
        if let Some(n) = columns.within(row, column, false, 100)? {
            said.push(Said {
                key: key.to_owned(),
                text: n.to_string(),
                put: Box::new(move |t| page::set(t, key, page::number(n))),
            });
        }
    }
    let source = columns.words(row, "source")?;
    let sourced = |column: &str| {
        source.clone().ok_or_else(|| {
            Refusal::at(
                row.at,
                "source",
                format!("a value for {column} and nobody says where it is from"),
                "a source: practice, house:weighed here, a key of the list and a place in it",
                "fill in the source; a figure without one is not taken",
            )
        })
    };
    for key in COMPOSITION {
        if let Some(n) = columns.within(row, key, false, 100)? {
            said.push(in_table("composition", key, n, sourced(key)?));
        }
    }
    let form = columns.words(row, "form")?;
    match (form, columns.within(row, "density", true, 25)?) {
        (Some(form), Some(n)) => said.push(in_list(
            "density",
            "form",
            form,
            "g_per_ml",
            n,
            sourced("density")?,
        )),
        (None, None) => {}
        _ => return Err(both(row, "form", "density")),
    }
    let piece = columns.words(row, "piece word")?;
    match (piece, columns.within(row, "piece", true, 1_000_000)?) {
        (Some(word), Some(n)) => {
            said.push(in_list("each", "word", word, "g", n, sourced("piece")?))
        }
        (None, None) => {}
        _ => return Err(both(row, "piece word", "piece")),
    }
    for (column, key) in [("contains", "contains"), ("may contain", "may")] {
        if let Some(words) = columns.words(row, column)? {
            said.push(list(key, Some(sourced(column)?), &words));
        }
    }
    Ok((id, said))
}

fn both(row: &Row, a: &str, b: &str) -> Refusal {
    Refusal::at(
        row.at,
        a,
        format!("one of {a} and {b}"),
        "both, or neither",
        "fill in the other",
    )
}

fn text(key: &'static str, words: String) -> Said {
    Said {
        key: key.to_owned(),
        text: words.clone(),
        put: Box::new(move |t| page::set(t, key, Value::from(words.as_str()))),
    }
}

/// Words between semicolons; "none" for a list that is known to be empty. With a source it is one of the allergen lists.
fn list(key: &'static str, source: Option<String>, words: &str) -> Said {
    let words: Vec<String> = words
        .split(';')
        .map(|w| w.trim().to_owned())
        .filter(|w| !w.is_empty() && w != "none")
        .collect();
    let told = if words.is_empty() {
        "none".to_owned()
    } else {
        words.join("; ")
    };
    let put: Put = match source {
        None => Box::new(move |t| page::set(t, key, page::texts(&words))),
        Some(source) => Box::new(move |t| {
            within(t, "allergens", |inner| {
                inner.insert(key, page::texts(&words));
                inner.insert("source", Value::from(source.as_str()));
            });
        }),
    };
    Said {
        key: key.to_owned(),
        text: told,
        put,
    }
}

/// Changes an inline table of the ingredient, made when it is not there.
fn within(table: &mut dyn TableLike, key: &str, change: impl Fn(&mut InlineTable)) {
    let mut inner = match table.get(key) {
        Some(Item::Value(Value::InlineTable(t))) => t.clone(),
        Some(Item::Table(t)) => t.clone().into_inline_table(),
        _ => InlineTable::new(),
    };
    change(&mut inner);
    page::set(table, key, Value::InlineTable(inner));
}

fn in_table(outer: &'static str, key: &'static str, n: Decimal, source: String) -> Said {
    Said {
        key: format!("{outer}.{key}"),
        text: format!("{n} ({source})"),
        put: Box::new(move |t| {
            within(t, outer, |inner| {
                inner.insert(key, page::number(n));
                inner.insert("source", Value::from(source.as_str()));
            });
        }),
    }
}

/// A figure in a list of tables that are told apart by a word: density by form, weight by count word.
fn in_list(
    outer: &'static str,
    by: &'static str,
    word: String,
    key: &'static str,
    n: Decimal,
    source: String,
) -> Said {
    Said {
        key: format!("{outer} ({word})"),
        text: format!("{n} ({source})"),
        put: Box::new(move |t| {
            let mut list = match t.get(outer) {
                Some(Item::Value(Value::Array(list))) => list.clone(),
                Some(Item::ArrayOfTables(list)) => list.clone().into_array(),
                _ => Array::new(),
            };
            let mut entry = InlineTable::new();
            entry.insert(by, Value::from(word.as_str()));
            entry.insert(key, page::number(n));
            entry.insert("source", Value::from(source.as_str()));
            let same = list.iter().position(|v| {
                let inner = v.as_inline_table();
                inner.and_then(|t| t.get(by)).and_then(Value::as_str) == Some(word.as_str())
            });
            match same {
                Some(at) => {
                    list.replace(at, entry);
                }
                None => list.push(entry),
            }
            page::set(t, outer, Value::Array(list));
        }),
    }
}

fn one<'b>(
    into: Target<'b>,
    draft: &mut Draft<'b>,
    (file, text): (&str, &str),
    row: usize,
    id: &Id,
    said: Vec<Said>,
) {
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return;
    };
    let is_here = page::with_id(&mut document, "ingredient", id).is_some();
    let elsewhere = page::page_with(into.files, "ingredient", |p| {
        page::with_id(&mut p.clone(), "ingredient", id).is_some()
    });
    if let Some((other, _)) = elsewhere.filter(|(name, _)| *name != file) {
        draft.refused.push(Refusal::at(
            row,
            "id",
            format!("\"{id}\" stands in {other}"),
            format!("ingredients of {file}: one import changes one page"),
            "change it there by hand, or move it",
        ));
        return;
    }
    if !is_here && into.book.ingredients.contains_key(id) {
        draft.notes.push(format!(
            "row {row}: {id} is in the shipped table; what the book says replaces it whole, figures the row does not name included"
        ));
    }
    let mut puts = Vec::new();
    for said in said {
        let before = page::with_id(&mut document, "ingredient", id).map(|t| shown(t));
        let after = page::with_id(&mut document, "ingredient", id).map(|t| {
            (said.put)(t);
            shown(t)
        });
        if is_here && before == after {
            continue;
        }
        draft.changes.push(Change {
            row,
            of: id.to_string(),
            key: said.key,
            before: None,
            after: said.text,
            look: String::new(),
        });
        puts.push(said.put);
    }
    if puts.is_empty() {
        return;
    }
    let id = id.clone();
    draft.edits.push((
        row,
        Box::new(move |document: &mut DocumentMut| {
            if page::with_id(document, "ingredient", &id).is_none() {
                let mut table = toml_edit::Table::new();
                page::set(&mut table, "id", Value::from(id.as_str()));
                page::add(document, "ingredient", table);
            }
            if let Some(table) = page::with_id(document, "ingredient", &id) {
                for put in &puts {
                    put(table);
                }
            }
        }),
    ));
}

/// A table's values in one text, blanks and ways of writing a number aside, to see whether anything changed.
fn shown(table: &dyn TableLike) -> String {
    let mut pairs: Vec<String> = table
        .iter()
        .map(|(k, v)| {
            let value = v
                .clone()
                .into_value()
                .map_or_else(|_| String::new(), |v| plain(&v));
            format!("{k}={value}")
        })
        .collect();
    pairs.sort();
    pairs.join("\n")
}

#[allow(clippy::cast_precision_loss)] // whole numbers of a page are far below what a binary fraction keeps
fn plain(value: &Value) -> String {
    match value {
        Value::Integer(n) => (*n.value() as f64).to_string(),
        Value::Float(n) => n.value().to_string(),
        Value::Array(list) => {
            let parts: Vec<String> = list.iter().map(plain).collect();
            format!("[{}]", parts.join(","))
        }
        Value::InlineTable(table) => {
            let parts: Vec<String> = table
                .iter()
                .map(|(k, v)| format!("{k}={}", plain(v)))
                .collect();
            format!("{{{}}}", parts.join(","))
        }
        other => format!(
            "{:?}",
            other
                .as_str()
                .map_or_else(|| other.to_string(), str::to_owned)
        ),
    }
}
