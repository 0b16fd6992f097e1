//! Rows of an xlsx file: one tab, cell by cell, never as the rectangle its far corner would span.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};

use calamine::{DataRef, Reader, Xlsx, XlsxFormulaMetadata};

use crate::refusal::{Refusal, quoted};

use super::{
    Given, MOST_COLUMNS, MOST_ROWS, Row, Table, cell, heading, refuse_cell, too_many_columns,
    too_many_rows,
};

/// Bytes a workbook may unpack to: eight times what it may weigh packed.
const MOST_UNPACKED: u64 = 40_000_000;
/// Files inside it.
const MOST_PARTS: usize = 500;

fn damaged() -> Vec<Refusal> {
    vec![Refusal::whole(
        "a workbook that is cut off or damaged",
        "a whole .xlsx",
        "send it again, or open it in a spreadsheet and save it anew",
    )]
}

/// Unpacks everything to nowhere and counts: what a workbook says of its own size may be a lie.
fn check_size(bytes: &[u8]) -> Result<(), Vec<Refusal>> {
    let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|_| damaged())?;
    let mut left = MOST_UNPACKED;
    if zip.len() > MOST_PARTS {
        return Err(damaged());
    }
    for i in 0..zip.len() {
        let mut part = zip.by_index(i).map_err(|_| damaged())?.take(left + 1);
        let size = std::io::copy(&mut part, &mut std::io::sink()).map_err(|_| damaged())?;
        left = left.checked_sub(size).ok_or_else(|| {
            vec![Refusal::whole(
                format!(
                    "a workbook that unpacks to more than {} MB",
                    MOST_UNPACKED / 1_000_000
                ),
                "a list",
                "take out what is no list, or save the one tab as CSV UTF-8",
            )]
        })?;
    }
    Ok(())
}

pub(super) fn read(bytes: &[u8], tabs: &[&str]) -> Result<Table, Vec<Refusal>> {
    check_size(bytes)?;
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|_| damaged())?;
    let tab = tab(&book.sheet_names(), tabs)?;
    let mut rows: BTreeMap<u32, Vec<(usize, Given)>> = BTreeMap::new();
    let mut wrong = Vec::new();
    let mut cells = book.worksheet_cells_reader(&tab).map_err(|_| damaged())?;
    while let Some(found) = cells
        .next_cell_with_formula_metadata()
        .map_err(|_| damaged())?
    {
        let (y, x) = found.pos;
        let at = y as usize + 1;
        let given = match (&found.formula, &found.value) {
            // A cell of a shared formula carries no text of its own; it is a formula all the same.
            (Some(formula), _) => Given::Formula(match formula {
                XlsxFormulaMetadata::Normal { formula }
                | XlsxFormulaMetadata::Shared { formula, .. } => format!("={formula}"),
                _ => "= as in the cells beside it".to_owned(),
            }),
            (None, value) => match of_value(value) {
                Ok(given) => given,
                Err(found) => {
                    wrong.push(refuse_cell(at, &column(x), found));
                    continue;
                }
            },
        };
        if given == Given::Empty {
            continue;
        }
        if x as usize >= MOST_COLUMNS {
            return Err(vec![too_many_columns(at)]);
        }
        if rows.len() > MOST_ROWS && !rows.contains_key(&y) {
            return Err(vec![too_many_rows(at)]);
        }
        rows.entry(y).or_default().push((x as usize, given));
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    table(rows)
}

fn table(rows: BTreeMap<u32, Vec<(usize, Given)>>) -> Result<Table, Vec<Refusal>> {
    let mut rows = rows.into_iter();
    let Some((_, first)) = rows.next() else {
        return Err(vec![Refusal::whole(
            "an empty tab",
            "a row of headings and the rows below it",
            "name another file, or name the tab",
        )]);
    };
    let width = first.iter().map(|(x, _)| x + 1).max().unwrap_or(0);
    let mut headings = vec![heading(""); width];
    for (x, given) in first {
        if let Given::Text(text) = given {
            headings[x] = heading(&text);
        }
    }
    let mut table = Table {
        headings,
        rows: Vec::new(),
    };
    let mut wrong = Vec::new();
    for (y, found) in rows {
        let at = y as usize + 1;
        let mut cells = vec![Given::Empty; width];
        for (x, given) in found {
            match cells.get_mut(x) {
                Some(cell) => *cell = given,
                None => wrong.push(Refusal::at(
                    at,
                    &column(u32::try_from(x).unwrap_or(u32::MAX)),
                    given.told(),
                    "nothing: the column has no heading",
                    "give it a heading, or empty it",
                )),
            }
        }
        table.rows.push(Row { at, cells });
    }
    if wrong.is_empty() {
        Ok(table)
    } else {
        Err(wrong)
    }
}

/// The tab to read: the only one, or the one with a fitting name.
fn tab(names: &[String], tabs: &[&str]) -> Result<String, Vec<Refusal>> {
    if let [one] = names {
        return Ok(one.clone());
    }
    let fits = |n: &&String| tabs.contains(&n.trim().to_lowercase().as_str());
    names.iter().find(fits).cloned().ok_or_else(|| {
        let listed: Vec<String> = names.iter().take(20).map(|n| quoted(n)).collect();
        vec![Refusal::whole(
            format!("{} tabs: {}", names.len(), listed.join(", ")),
            format!("one tab, or one called {}", tabs.join(" or ")),
            "name the tab so, or save it alone",
        )]
    })
}

/// `C` for the third.
fn column(x: u32) -> String {
    let mut n = x + 1;
    let mut letters = Vec::new();
    while n > 0 {
        letters.push(char::from(b'A' + u8::try_from((n - 1) % 26).unwrap_or(0)));
        n = (n - 1) / 26;
    }
    let name: String = letters.iter().rev().collect();
    format!("column {name}")
}

fn of_value(value: &DataRef<'_>) -> Result<Given, String> {
    Ok(match value {
        DataRef::Empty => Given::Empty,
        DataRef::String(text) => return cell(text),
        DataRef::SharedString(text) => return cell(text),
        #[allow(clippy::cast_precision_loss)]
        // a spreadsheet keeps its numbers as binary fractions anyway
        DataRef::Int(n) => Given::Number(*n as f64),
        DataRef::Float(n) => Given::Number(*n),
        DataRef::Bool(b) => Given::Other(if *b { "a yes" } else { "a no" }.to_owned()),
        DataRef::Error(e) => Given::Other(format!("an error, {e}")),
        DataRef::DateTime(_) | DataRef::DateTimeIso(_) => Given::Other("a date".to_owned()),
        DataRef::DurationIso(_) => Given::Other("a length of time".to_owned()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_named_as_a_spreadsheet_does() {
        assert_eq!(column(0), "column A");
        assert_eq!(column(25), "column Z");
        assert_eq!(column(26), "column AA");
        assert_eq!(column(16_383), "column XFD");
    }
}
