//! The columns an import reads, found by their headings.

use book::did_you_mean;

use crate::refusal::{Refusal, quoted};
use crate::table::{Given, Row, Table};

/// A column an import knows.
pub(super) struct Known {
    pub(super) name: &'static str,
    /// It has to be there.
    pub(super) must: bool,
    /// Its heading has to name this unit.
    pub(super) unit: Option<&'static str>,
}

/// A column that may be there.
pub(super) const fn may(name: &'static str) -> Known {
    Known {
        name,
        must: false,
        unit: None,
    }
}

/// A column that has to be there.
pub(super) const fn must(name: &'static str) -> Known {
    Known {
        name,
        must: true,
        unit: None,
    }
}

/// A column of numbers that may be there, with the unit its heading names.
pub(super) const fn measured(name: &'static str, unit: &'static str) -> Known {
    Known {
        name,
        must: false,
        unit: Some(unit),
    }
}

/// Where each known column stands.
pub(super) struct Columns {
    at: Vec<(&'static str, usize)>,
}

impl Columns {
    /// Finds them. A heading nobody reads is refused: a misspelt one must not pass in silence.
    pub(super) fn of(table: &Table, known: &[Known]) -> Result<Self, Vec<Refusal>> {
        let mut at: Vec<(&'static str, usize)> = Vec::new();
        let mut wrong = Vec::new();
        let names: Vec<&str> = known.iter().map(|k| k.name).collect();
        let listed: Vec<String> = known.iter().map(title).collect();
        for (i, heading) in table.headings.iter().enumerate() {
            if heading.name.is_empty() {
                if table
                    .rows
                    .iter()
                    .any(|r| r.cells.get(i).is_some_and(|c| *c != Given::Empty))
                {
                    wrong.push(Refusal::at(
                        1,
                        "",
                        format!("column {} has no heading", i + 1),
                        listed.join(", "),
                        "give it a heading, or take it out",
                    ));
                }
                continue;
            }
            let Some(k) = known.iter().find(|k| k.name == heading.name) else {
                let near = did_you_mean(&heading.name, names.iter().copied())
                    .map_or_else(String::new, |n| format!("; did you mean {n}?"));
                wrong.push(Refusal::at(
                    1,
                    "",
                    format!("a heading \"{}\"{near}", quoted(&heading.name)),
                    listed.join(", "),
                    "rename the heading, or take the column out",
                ));
                continue;
            };
            if at.iter().any(|(n, _)| *n == k.name) {
                wrong.push(Refusal::at(
                    1,
                    k.name,
                    "the heading stands twice",
                    "every heading once",
                    "take one of them out",
                ));
                continue;
            }
            if let Some(unit) = k.unit
                && heading.unit.as_deref() != Some(unit)
            {
                wrong.push(Refusal::at(
                    1,
                    k.name,
                    heading.unit.as_deref().map_or_else(
                        || "a heading without its unit".to_owned(),
                        |u| format!("a heading in \"{}\"", quoted(u)),
                    ),
                    title(k),
                    "write the unit into the heading, and the numbers in it",
                ));
            }
            at.push((k.name, i));
        }
        for k in known.iter().filter(|k| k.must) {
            if wrong.is_empty() && !at.iter().any(|(n, _)| *n == k.name) {
                wrong.push(Refusal::at(
                    1,
                    "",
                    format!("no column \"{}\"", k.name),
                    listed.join(", "),
                    "add the column",
                ));
            }
        }
        if wrong.is_empty() {
            Ok(Self { at })
        } else {
            Err(wrong)
        }
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.at.iter().any(|(n, _)| *n == name)
    }

    /// The unit the heading of a column names.
    pub(super) fn unit<'t>(&self, table: &'t Table, name: &str) -> Option<&'t str> {
        let (_, i) = self.at.iter().find(|(n, _)| *n == name)?;
        table.headings.get(*i)?.unit.as_deref()
    }

    fn get<'t>(&self, row: &'t Row, name: &str) -> &'t Given {
        self.at
            .iter()
            .find(|(n, _)| *n == name)
            .and_then(|(_, i)| row.cells.get(*i))
            .unwrap_or(&Given::Empty)
    }

    /// Words of a cell; nothing when it is empty.
    pub(super) fn words(&self, row: &Row, name: &str) -> Result<Option<String>, Refusal> {
        let given = self.get(row, name);
        given.words().map_err(|wrong| {
            let (expected, do_now) = wrong.advice();
            Refusal::at(row.at, name, given.told(), expected, do_now)
        })
    }

    /// Words that have to be there.
    pub(super) fn need(&self, row: &Row, name: &str) -> Result<String, Refusal> {
        self.words(row, name)?.ok_or_else(|| {
            Refusal::at(
                row.at,
                name,
                "an empty cell",
                "a value in every row",
                "fill it in, or take the row out",
            )
        })
    }

    /// A number of a cell; nothing when it is empty.
    pub(super) fn decimal(&self, row: &Row, name: &str) -> Result<Option<units::Decimal>, Refusal> {
        let given = self.get(row, name);
        given.decimal().map_err(|wrong| {
            let (expected, do_now) = wrong.advice();
            Refusal::at(row.at, name, given.told(), expected, do_now)
        })
    }

    /// A number from nothing up to `most`, above nothing when `above`.
    pub(super) fn within(
        &self,
        row: &Row,
        name: &str,
        above: bool,
        most: u32,
    ) -> Result<Option<units::Decimal>, Refusal> {
        let Some(n) = self.decimal(row, name)? else {
            return Ok(None);
        };
        let zero = units::Decimal::ZERO;
        if n < zero || (above && n == zero) || n > units::Decimal::from(most) {
            let from = if above { "above 0" } else { "0" };
            return Err(Refusal::at(
                row.at,
                name,
                n.to_string(),
                format!("{from} to {most}"),
                "correct the number; nothing is moved to the nearest limit",
            ));
        }
        Ok(Some(n))
    }
}

fn title(k: &Known) -> String {
    match k.unit {
        Some(unit) => format!("{} ({unit})", k.name),
        None => k.name.to_owned(),
    }
}
