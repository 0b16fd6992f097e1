//! Rows of a csv file: comma or semicolon, with or without a mark at its start.

use crate::comma::armed;
use crate::refusal::Refusal;

use super::{
    MOST_COLUMNS, MOST_ROWS, Row, Table, cell, heading, refuse_cell, too_many_columns,
    too_many_rows,
};

/// Refusals listed; past these the file is of another kind.
const MOST_TOLD: usize = 100;

pub(super) fn read(bytes: &[u8]) -> Result<Table, Vec<Refusal>> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Err(vec![Refusal::whole(
            "a file that is not text in UTF-8",
            "a csv in UTF-8, or a .xlsx",
            "save it as \"CSV UTF-8\"; an old program may call that Unicode",
        )]);
    };
    if text.contains('\0') {
        return Err(vec![Refusal::whole(
            "a file with zero bytes in it: no text",
            "a csv in UTF-8, or a .xlsx",
            "save it as \"CSV UTF-8\"",
        )]);
    }
    // Within a quoted field a quote is doubled, so a whole file has an even number of them.
    if text.matches('"').count() % 2 != 0 {
        return Err(vec![Refusal::whole(
            "a quote that is never closed: the file is cut off or damaged",
            "every quoted cell closed",
            "save the file anew",
        )]);
    }
    let first = text.lines().next().unwrap_or("");
    let delimiter = if first.matches(';').count() > first.matches(',').count() {
        b';'
    } else {
        b','
    };
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter)
        .from_reader(text.as_bytes());
    let mut table = Table {
        headings: Vec::new(),
        rows: Vec::new(),
    };
    let mut wrong = Vec::new();
    for record in reader.records() {
        let Ok(record) = record else {
            return Err(vec![Refusal::whole(
                "rows that cannot be told apart",
                "a csv",
                "save the file anew",
            )]);
        };
        let at = record
            .position()
            .map_or(0, |p| usize::try_from(p.line()).unwrap_or(usize::MAX));
        if record.len() > MOST_COLUMNS {
            return Err(vec![too_many_columns(at)]);
        }
        if table.headings.is_empty() {
            table.headings = record.iter().map(|h| heading(armed(h))).collect();
            continue;
        }
        if table.rows.len() >= MOST_ROWS {
            return Err(vec![too_many_rows(at)]);
        }
        if record.iter().all(|f| f.trim().is_empty()) {
            continue;
        }
        match row(&table, at, &record) {
            Ok(row) => table.rows.push(row),
            Err(refusal) if wrong.len() < MOST_TOLD => wrong.push(refusal),
            Err(_) => break,
        }
    }
    if wrong.is_empty() {
        Ok(table)
    } else {
        Err(wrong)
    }
}

fn row(table: &Table, at: usize, record: &csv::StringRecord) -> Result<Row, Refusal> {
    let wanted = table.headings.len();
    // Empty cells past the last heading are what spreadsheets leave behind.
    let extra = record.iter().skip(wanted).any(|f| !f.trim().is_empty());
    if record.len() < wanted || extra {
        return Err(Refusal::at(
            at,
            "",
            format!("{} cells", record.len()),
            format!("{wanted}, one for every heading"),
            "mend the row; a comma within a cell needs quotes around the cell",
        ));
    }
    let mut cells = Vec::with_capacity(wanted);
    for (field, heading) in record.iter().zip(&table.headings) {
        cells.push(
            cell(armed(field.trim())).map_err(|found| refuse_cell(at, &heading.name, found))?,
        );
    }
    Ok(Row { at, cells })
}
