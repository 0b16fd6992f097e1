//! Reading rows from TOML: a key that is not known, a number without a unit, a source nobody named are errors.

use std::collections::{BTreeMap, BTreeSet};

use kitchen::site::RuleSet;
use sources::Status;
use toml::{Table, Value};

use super::{Detail, Force, RowSide, Rule, RuleTable, Rules, Stage};

/// A file of rules that does not hold together.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{file}, {row}: found {found}; expected {expected}. Correct that row")]
pub struct RuleError {
    /// File.
    pub file: String,
    /// Row, by id where it has one, else by number.
    pub row: String,
    /// What stands there.
    pub found: String,
    /// What should.
    pub expected: String,
}

/// Units a row may be in.
const UNITS: &[&str] = &[
    "°C",
    "°F",
    "h",
    "min",
    "d",
    "%",
    "ppm",
    "mg/kg",
    "pH",
    "aw",
    "inch",
    "g/100 mL",
    "g/L",
    "cfu/g",
    "log10",
    "min at 70 °C",
    "min at 90 °C",
];

const SIDES: &[(&str, RowSide)] = &[
    ("at-least", RowSide::AtLeast),
    ("at-most", RowSide::AtMost),
    ("above", RowSide::Above),
    ("below", RowSide::Below),
    ("exactly", RowSide::Exactly),
    ("list", RowSide::List),
];

const FORCES: &[(&str, Force)] = &[
    ("law", Force::Law),
    ("state-law", Force::StateLaw),
    ("state-law+guidance", Force::StateLawAndGuidance),
    ("guidance", Force::Guidance),
    ("practice", Force::Practice),
];

const STATUSES: &[(&str, Status)] = &[
    ("read", Status::Read),
    ("second-hand", Status::SecondHand),
    ("from memory", Status::FromMemory),
    ("common practice", Status::CommonPractice),
];

const RULE_KEYS: &[&str] = &[
    "id", "place", "also_in", "region", "topic", "quantity", "side", "value", "unit", "stages",
    "list", "also", "requires", "scope", "section", "source", "status", "note", "force",
];

const TABLE_KEYS: &[&str] = &["id", "place", "title", "status", "note", "columns", "rows"];

/// Reads files of rules, each a name and its text.
///
/// # Errors
/// The first row that is malformed, or has an id already used.
pub fn read(files: &[(&str, &str)]) -> Result<Rules, RuleError> {
    let mut all = Rules::default();
    let mut ids = BTreeSet::new();
    for (file, text) in files {
        let at = At {
            file,
            row: "the file".to_owned(),
        };
        let page: Table = text
            .parse()
            .map_err(|e: toml::de::Error| at.wrong(e.message(), "TOML"))?;
        at.known(&page, &["source", "rule", "table"])?;
        let titles = titles(&at, &page)?;
        for (row, at) in rows(&at, &page, "rule")? {
            let rule = rule(&at, row, &titles)?;
            if !ids.insert(rule.id.clone()) {
                return Err(at.wrong("an id used before", "every id once"));
            }
            all.rules.push(rule);
        }
        for (row, at) in rows(&at, &page, "table")? {
            let table = table(&at, row)?;
            if !ids.insert(table.id.clone()) {
                return Err(at.wrong("an id used before", "every id once"));
            }
            all.tables.push(table);
        }
    }
    Ok(all)
}

/// Where we are, for an error.
struct At<'a> {
    file: &'a str,
    row: String,
}

impl At<'_> {
    fn wrong(&self, found: impl Into<String>, expected: impl Into<String>) -> RuleError {
        RuleError {
            file: self.file.to_owned(),
            row: self.row.clone(),
            found: found.into(),
            expected: expected.into(),
        }
    }

    fn known(&self, row: &Table, keys: &[&str]) -> Result<(), RuleError> {
        row.keys()
            .find(|k| !keys.contains(&k.as_str()))
            .map_or(Ok(()), |k| {
                Err(self.wrong(format!("key `{k}`"), keys.join(", ")))
            })
    }

    /// A word or words that must be there, and say something.
    fn words(&self, row: &Table, key: &str) -> Result<String, RuleError> {
        match row.get(key) {
            Some(Value::String(s)) if !s.trim().is_empty() => Ok(s.clone()),
            Some(other) => Err(self.wrong(format!("{key} = {other}"), "words in quotes")),
            None => Err(self.wrong(format!("no {key}"), format!("{key} = \"…\""))),
        }
    }

    fn maybe_words(&self, row: &Table, key: &str) -> Result<Option<String>, RuleError> {
        row.contains_key(key)
            .then(|| self.words(row, key))
            .transpose()
    }

    fn one_of<T: Copy>(&self, row: &Table, key: &str, known: &[(&str, T)]) -> Result<T, RuleError> {
        let word = self.words(row, key)?;
        self.named(key, &word, known)
    }

    fn named<T: Copy>(&self, key: &str, word: &str, known: &[(&str, T)]) -> Result<T, RuleError> {
        known
            .iter()
            .find(|(w, _)| *w == word)
            .map(|(_, t)| *t)
            .ok_or_else(|| {
                let all: Vec<&str> = known.iter().map(|(w, _)| *w).collect();
                self.wrong(format!("{key} `{word}`"), all.join(", "))
            })
    }

    fn detail(&self, value: &Value) -> Result<Detail, RuleError> {
        Ok(match value {
            Value::Integer(i) => Detail::Number(*i as f64),
            Value::Float(f) if f.is_finite() => Detail::Number(*f),
            Value::Float(f) => return Err(self.wrong(f.to_string(), "a finite number")),
            Value::String(s) => Detail::Words(s.clone()),
            Value::Boolean(b) => Detail::Flag(*b),
            Value::Datetime(d) => Detail::Words(d.to_string()),
            Value::Array(a) => {
                Detail::List(a.iter().map(|v| self.detail(v)).collect::<Result<_, _>>()?)
            }
            Value::Table(t) => Detail::Table(self.details(t)?),
        })
    }

    fn details(&self, table: &Table) -> Result<BTreeMap<String, Detail>, RuleError> {
        table
            .iter()
            .map(|(k, v)| Ok((k.clone(), self.detail(v)?)))
            .collect()
    }

    /// A table of further facts; an empty one when it is left out.
    fn facts(&self, row: &Table, key: &str) -> Result<BTreeMap<String, Detail>, RuleError> {
        match row.get(key) {
            None => Ok(BTreeMap::new()),
            Some(Value::Table(t)) if !t.is_empty() => self.details(t),
            Some(other) => Err(self.wrong(format!("{key} = {other}"), "{ name = value }")),
        }
    }

    fn number(&self, key: &str, value: &Value) -> Result<f64, RuleError> {
        match self.detail(value)? {
            Detail::Number(n) => Ok(n),
            _ => Err(self.wrong(format!("{key} = {value}"), "a number")),
        }
    }

    fn list(&self, row: &Table, key: &str) -> Result<Vec<String>, RuleError> {
        let Some(value) = row.get(key) else {
            return Ok(Vec::new());
        };
        let wrong = || self.wrong(format!("{key} = {value}"), "[\"words\", …], at least one");
        match value {
            Value::Array(words) if !words.is_empty() => words
                .iter()
                .map(|w| w.as_str().map(str::to_owned).ok_or_else(wrong))
                .collect(),
            _ => Err(wrong()),
        }
    }
}

fn titles(at: &At<'_>, page: &Table) -> Result<BTreeMap<String, String>, RuleError> {
    let Some(sources) = page.get("source") else {
        return Ok(BTreeMap::new());
    };
    let Value::Table(sources) = sources else {
        return Err(at.wrong("source", "[source.key] tables"));
    };
    sources
        .iter()
        .map(|(key, value)| {
            let at = At {
                file: at.file,
                row: format!("source {key}"),
            };
            let Value::Table(row) = value else {
                return Err(at.wrong(value.to_string(), "title = \"…\""));
            };
            at.known(row, &["title"])?;
            Ok((key.clone(), at.words(row, "title")?))
        })
        .collect()
}

fn rows<'a>(
    at: &At<'a>,
    page: &'a Table,
    key: &str,
) -> Result<Vec<(&'a Table, At<'a>)>, RuleError> {
    let Some(value) = page.get(key) else {
        return Ok(Vec::new());
    };
    let wrong = || {
        at.wrong(
            format!("`{key}` of another shape"),
            format!("[[{key}]] rows"),
        )
    };
    let Value::Array(rows) = value else {
        return Err(wrong());
    };
    rows.iter()
        .enumerate()
        .map(|(i, row)| {
            let row = row.as_table().ok_or_else(wrong)?;
            let name = row
                .get("id")
                .and_then(Value::as_str)
                .map_or_else(|| format!("{key} {}", i + 1), str::to_owned);
            Ok((
                row,
                At {
                    file: at.file,
                    row: name,
                },
            ))
        })
        .collect()
}

fn rule(at: &At<'_>, row: &Table, titles: &BTreeMap<String, String>) -> Result<Rule, RuleError> {
    at.known(row, RULE_KEYS)?;
    let source_key = at.words(row, "source")?;
    let title = titles.get(&source_key).cloned().ok_or_else(|| {
        at.wrong(
            format!("source `{source_key}`"),
            "the key of a [source.…] of this file",
        )
    })?;
    let also_in = at
        .list(row, "also_in")?
        .iter()
        .map(|word| at.named("also_in", word, RuleSet::ALL))
        .collect::<Result<_, _>>()?;
    let unit = at
        .maybe_words(row, "unit")?
        .map(|word| {
            let known = UNITS.iter().find(|u| **u == word).copied();
            known.ok_or_else(|| at.wrong(format!("unit `{word}`"), UNITS.join(", ")))
        })
        .transpose()?;
    let value = row
        .get("value")
        .map(|v| at.number("value", v))
        .transpose()?;
    let rule = Rule {
        id: at.words(row, "id")?,
        place: at.one_of(row, "place", RuleSet::ALL)?,
        also_in,
        region: at.maybe_words(row, "region")?,
        topic: at.words(row, "topic")?,
        quantity: at.words(row, "quantity")?,
        side: at.one_of(row, "side", SIDES)?,
        value,
        unit,
        stages: stages(at, row)?,
        list: at.list(row, "list")?,
        also: at.facts(row, "also")?,
        requires: at.facts(row, "requires")?,
        scope: at.words(row, "scope")?,
        section: at.words(row, "section")?,
        source_key,
        title,
        status: at.one_of(row, "status", STATUSES)?,
        note: at.maybe_words(row, "note")?,
        force: at.one_of(row, "force", FORCES)?,
    };
    let numbered = rule.value.is_some() || !rule.stages.is_empty();
    if rule.value.is_some() && !rule.stages.is_empty() {
        return Err(at.wrong("value and stages", "one of the two"));
    }
    if numbered != rule.unit.is_some() {
        return Err(at.wrong(
            "a number without a unit, or a unit without a number",
            "value = … and unit = \"…\"",
        ));
    }
    match (rule.side == RowSide::List, numbered) {
        (true, true) => Err(at.wrong("side `list` with a number", "list = [\"…\"] and no value")),
        (false, false) => Err(at.wrong("no value", "value = … or stages = […]")),
        (true, false) if rule.list.is_empty() && rule.also.is_empty() => {
            Err(at.wrong("side `list` and nothing listed", "list = [\"…\"]"))
        }
        _ => Ok(rule),
    }
}

fn stages(at: &At<'_>, row: &Table) -> Result<Vec<Stage>, RuleError> {
    let Some(value) = row.get("stages") else {
        return Ok(Vec::new());
    };
    let wrong = || {
        at.wrong(
            format!("stages = {value}"),
            "[{ from_f = …, to_f = …, within_h = … }]",
        )
    };
    let Value::Array(list) = value else {
        return Err(wrong());
    };
    list.iter()
        .map(|stage| {
            let stage = stage.as_table().ok_or_else(wrong)?;
            at.known(stage, &["from_f", "to_f", "within_h"])?;
            let number = |key: &str| {
                stage
                    .get(key)
                    .map_or_else(|| Err(wrong()), |v| at.number(key, v))
            };
            Ok(Stage {
                from_f: number("from_f")?,
                to_f: number("to_f")?,
                within_h: number("within_h")?,
            })
        })
        .collect()
}

fn table(at: &At<'_>, row: &Table) -> Result<RuleTable, RuleError> {
    at.known(row, TABLE_KEYS)?;
    let columns = at.list(row, "columns")?;
    let Some(Value::Array(lines)) = row.get("rows") else {
        return Err(at.wrong("no rows", "rows = [[…], …]"));
    };
    let rows = lines
        .iter()
        .map(|line| match at.detail(line)? {
            Detail::List(cells) if cells.len() == columns.len() => Ok(cells),
            _ => Err(at.wrong(format!("row {line}"), format!("{} cells", columns.len()))),
        })
        .collect::<Result<Vec<_>, _>>()?;
    if rows.is_empty() {
        return Err(at.wrong("no rows", "at least one"));
    }
    Ok(RuleTable {
        id: at.words(row, "id")?,
        place: at.one_of(row, "place", RuleSet::ALL)?,
        title: at.words(row, "title")?,
        status: at.one_of(row, "status", STATUSES)?,
        note: at.maybe_words(row, "note")?,
        columns,
        rows,
    })
}
