//! Reading `data/allergens/places.toml` against the rows it points at.

use kitchen::label::Allergen;
use kitchen::site::RuleSet;
use sources::Status;
use toml::{Table, Value};

use super::{Column, Limit};
use crate::rules::{Detail, Rule, Rules};

/// A file of places that does not hold together.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("places.toml, {column}: found {found}; expected {expected}. Correct that column")]
pub struct PlacesError {
    /// The column, by place and id where it has them, else by number.
    pub column: String,
    /// What stands there.
    pub found: String,
    /// What should.
    pub expected: String,
}

const KEYS: &[&str] = &[
    "places",
    "id",
    "name",
    "short",
    "words",
    "remembered",
    "row",
    "item",
    "extra",
    "boundary",
    "own_text",
    "limit",
    "status",
];

struct At(String);

impl At {
    fn wrong(&self, found: impl Into<String>, expected: impl Into<String>) -> PlacesError {
        PlacesError {
            column: self.0.clone(),
            found: found.into(),
            expected: expected.into(),
        }
    }

    fn text(&self, t: &Table, key: &str) -> Result<String, PlacesError> {
        self.maybe(t, key)?
            .ok_or_else(|| self.wrong(format!("no `{key}`"), "it to be there"))
    }

    fn maybe(&self, t: &Table, key: &str) -> Result<Option<String>, PlacesError> {
        match t.get(key) {
            None => Ok(None),
            Some(Value::String(s)) => Ok(Some(s.clone())),
            Some(other) => Err(self.wrong(format!("{key} = {other}"), "text")),
        }
    }

    fn texts(&self, t: &Table, key: &str) -> Result<Vec<String>, PlacesError> {
        let Some(value) = t.get(key) else {
            return Ok(Vec::new());
        };
        let wrong = || self.wrong(format!("{key} = {value}"), "a list of texts");
        let list = value.as_array().ok_or_else(wrong)?;
        list.iter()
            .map(|v| v.as_str().map(str::to_owned).ok_or_else(wrong))
            .collect()
    }

    fn words(&self, t: &Table, key: &str) -> Result<Vec<Allergen>, PlacesError> {
        self.texts(t, key)?
            .iter()
            .map(|w| {
                Allergen::find(w).ok_or_else(|| self.wrong(format!("the word {w}"), "an allergen"))
            })
            .collect()
    }
}

/// Reads the columns; each is held against the row it names.
///
/// # Errors
/// [`PlacesError`]: an unknown key, word, place or row, an entry that the row does not have, a status above the row's.
pub fn read(text: &str, rules: &'static Rules) -> Result<Vec<Column>, PlacesError> {
    let file = At("the file".to_owned());
    let table: Table = text
        .parse()
        .map_err(|e: toml::de::Error| file.wrong(e.message(), "TOML"))?;
    if let Some(key) = table.keys().find(|k| *k != "column") {
        return Err(file.wrong(format!("key `{key}`"), "[[column]]"));
    }
    let Some(Value::Array(list)) = table.get("column") else {
        return Err(file.wrong("no column", "[[column]]"));
    };
    let mut columns: Vec<Column> = Vec::new();
    for (i, value) in list.iter().enumerate() {
        let at = At(format!("column {}", i + 1));
        let t = value
            .as_table()
            .ok_or_else(|| at.wrong("no table", "[[column]]"))?;
        let next = column(&at, t, rules)?;
        let twin = columns.iter().any(|c| {
            c.places.iter().any(|p| next.places.contains(p))
                && (c.id == next.id || c.short == next.short)
        });
        if twin {
            return Err(at.wrong(
                format!("a second {} or {} in one place", next.id, next.short),
                "ids and heads that differ",
            ));
        }
        columns.push(next);
    }
    Ok(columns)
}

fn column(at: &At, t: &Table, rules: &'static Rules) -> Result<Column, PlacesError> {
    if let Some(key) = t.keys().find(|k| !KEYS.contains(&k.as_str())) {
        return Err(at.wrong(format!("key `{key}`"), KEYS.join(", ")));
    }
    let id = at.text(t, "id")?;
    let at = At(format!("{} ({id})", at.0));
    let places = at
        .texts(t, "places")?
        .iter()
        .map(|w| RuleSet::find(w).ok_or_else(|| at.wrong(format!("place {w}"), "a place")))
        .collect::<Result<Vec<_>, _>>()?;
    let row = at.text(t, "row")?;
    let row = rules
        .find(&row)
        .ok_or_else(|| at.wrong(format!("row {row}"), "a row of data/rules"))?;
    if places.is_empty() || !places.iter().all(|p| row.holds_in(*p)) {
        return Err(at.wrong(
            format!("places of {}", row.id),
            "places where the row holds",
        ));
    }
    let words = at.words(t, "words")?;
    let remembered = at.words(t, "remembered")?;
    if words.is_empty() || !remembered.iter().all(|w| words.contains(w)) {
        return Err(at.wrong("words", "at least one, and `remembered` among them"));
    }
    let item = entry(&at, t, row)?;
    let short = at.text(t, "short")?;
    if short.chars().count() != 3 {
        return Err(at.wrong(format!("short = {short}"), "three letters"));
    }
    Ok(Column {
        places,
        name: at.text(t, "name")?,
        short,
        words,
        remembered,
        limit: limit(&at, t)?,
        row,
        item,
        own_text: at.maybe(t, "own_text")?,
        status: status(&at, t, row)?,
        id,
    })
}

/// The entry of the row: of its list (`item`), beside it (`extra`), or its boundary for the place (`boundary`).
fn entry(at: &At, t: &Table, row: &Rule) -> Result<Option<String>, PlacesError> {
    let (item, extra, boundary) = (
        at.maybe(t, "item")?,
        at.maybe(t, "extra")?,
        at.maybe(t, "boundary")?,
    );
    let there = match (&item, &extra, &boundary) {
        (Some(item), None, None) => row.list.contains(item),
        (None, Some(extra), None) => super::beside(row, extra).is_some(),
        (None, None, Some(place)) => match row.also.get("boundary") {
            Some(Detail::Table(of)) => of.contains_key(place),
            _ => false,
        },
        _ => return Err(at.wrong("item, extra, boundary", "one of the three")),
    };
    if there {
        Ok(item)
    } else {
        let named = item.or(extra).or(boundary).unwrap_or_default();
        Err(at.wrong(format!("\"{named}\""), format!("an entry of {}", row.id)))
    }
}

fn limit(at: &At, t: &Table) -> Result<Option<Limit>, PlacesError> {
    let Some(value) = t.get("limit") else {
        return Ok(None);
    };
    let wrong = || {
        at.wrong(
            format!("limit = {value}"),
            "{ mg_per_kg = …, named_from = \"at-least\" or \"above\" }",
        )
    };
    let table = value.as_table().ok_or_else(wrong)?;
    let mg_per_kg = table
        .get("mg_per_kg")
        .and_then(|v| v.as_float().or_else(|| v.as_integer().map(|i| i as f64)))
        .filter(|mg| *mg > 0.0)
        .ok_or_else(wrong)?;
    let at_the_limit_too = match table.get("named_from").and_then(Value::as_str) {
        Some("at-least") => true,
        Some("above") => false,
        _ => return Err(wrong()),
    };
    Ok(Some(Limit {
        mg_per_kg,
        at_the_limit_too,
    }))
}

/// The row's own status, or a lower one named in the file.
fn status(at: &At, t: &Table, row: &Rule) -> Result<Status, PlacesError> {
    const LOWER: &[Status] = &[Status::SecondHand, Status::FromMemory];
    let Some(word) = at.maybe(t, "status")? else {
        return Ok(row.status);
    };
    LOWER
        .iter()
        .copied()
        .find(|s| s.words() == word && *s >= row.status)
        .ok_or_else(|| {
            at.wrong(
                format!("status {word}"),
                format!("not above {}, the row's own", row.status.words()),
            )
        })
}
