//! Rows of a file against a book: what would change, what is refused, and the page as it would then read.
//!
//! Nothing is half-applied. A preview with one refused row has no new page; and the new page is only offered when the
//! whole book still reads with it. Each import changes exactly one file, so writing it is one step for the shell.

mod columns;
mod ingredients;
pub(crate) mod names;
mod page;
mod prices;
mod record;
mod suppliers;

use book::{Limits, SourceFile};
use kitchen::Book;
use toml_edit::DocumentMut;

use crate::refusal::Refusal;
use crate::table::Table;

pub use ingredients::ingredients;
pub use prices::prices;
pub use record::{moment, record};
pub use suppliers::suppliers;

/// Names a tab of a workbook may have, for each kind of import.
pub const TABS: [&str; 4] = ["prices", "offers", "suppliers", "ingredients"];

/// What an import would do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Preview {
    /// The file of the book that changes.
    pub file: String,
    /// What changes, by the rows of the file that came in.
    pub changes: Vec<Change>,
    /// Rows that say what the book says already.
    pub same: usize,
    /// Rows refused.
    pub refused: Vec<Refusal>,
    /// What the reader of the preview has to know.
    pub notes: Vec<String>,
    /// The file as it would read; `None` when a row is refused or nothing changes.
    pub page: Option<String>,
}

/// One change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Row of the file that came in.
    pub row: usize,
    /// What it is of: "salt-table from millrace-dry-goods".
    pub of: String,
    /// The key of the book.
    pub key: String,
    /// What stands there now; `None` when nothing does.
    pub before: Option<String>,
    /// What would stand there.
    pub after: String,
    /// What to look at twice; empty when nothing is odd.
    pub look: String,
}

/// The book an import goes into.
#[derive(Debug, Clone, Copy)]
pub struct Target<'b> {
    /// Its files.
    pub files: &'b [SourceFile],
    /// The same, read.
    pub book: &'b Book,
}

/// A change of the page, as it is made.
type Edit<'b> = Box<dyn Fn(&mut DocumentMut) + 'b>;

/// What an import found before it is held against the book: edits by row.
struct Draft<'b> {
    changes: Vec<Change>,
    same: usize,
    refused: Vec<Refusal>,
    notes: Vec<String>,
    edits: Vec<(usize, Edit<'b>)>,
}

impl Draft<'_> {
    const fn new() -> Self {
        Self {
            changes: Vec::new(),
            same: 0,
            refused: Vec::new(),
            notes: Vec::new(),
            edits: Vec::new(),
        }
    }

    fn same_rows(&mut self, table: &Table) {
        let touched = |at: usize| {
            self.changes.iter().any(|c| c.row == at)
                || self.refused.iter().any(|r| r.row == Some(at))
        };
        self.same = table.rows.iter().filter(|r| !touched(r.at)).count();
    }
}

/// Rows tried one by one when the page with all of them would not read.
const MOST_TRIED: usize = 200;

/// Applies the edits to a page and holds the whole book against the result.
fn settle(
    into: Target<'_>,
    file: &str,
    text: &str,
    draft: Draft<'_>,
) -> Result<Preview, Vec<Refusal>> {
    let document: DocumentMut = text.parse().map_err(|_| {
        vec![Refusal::whole(
            format!("{file}: not TOML"),
            "a page of the book that reads",
            "run `saltern check`",
        )]
    })?;
    let mut preview = Preview {
        file: file.to_owned(),
        changes: draft.changes,
        same: draft.same,
        refused: draft.refused,
        notes: draft.notes,
        page: None,
    };
    if draft.edits.is_empty() {
        return Ok(preview);
    }
    let with = |edits: &[&Edit<'_>]| {
        let mut page = document.clone();
        for edit in edits {
            edit(&mut page);
        }
        page.to_string()
    };
    let all: Vec<&Edit<'_>> = draft.edits.iter().map(|(_, e)| e).collect();
    let page = with(&all);
    if let Err(wrong) = read_with(into, file, &page) {
        // Which row does it? Each is tried by itself.
        for (row, edit) in draft.edits.iter().take(MOST_TRIED) {
            if let Err(wrong) = read_with(into, file, &with(&[edit])) {
                preview.refused.extend(wrong.first().map(|d| {
                    Refusal::at(
                        *row,
                        "",
                        d.found.clone(),
                        d.expected.clone(),
                        d.do_now.clone(),
                    )
                }));
            }
        }
        if preview.refused.is_empty() {
            preview.refused.extend(wrong.first().map(|d| {
                Refusal::whole(
                    format!("with these rows the book would not read: {}", d.found),
                    d.expected.clone(),
                    d.do_now.clone(),
                )
            }));
        }
    }
    if page == text {
        // A change was told and none was made: saying "written" of that would be a lie.
        preview.refused.push(Refusal::whole(
            format!("the changes could not be placed in {file}"),
            "offers and ingredients written as tables of that page",
            "change the page by hand",
        ));
    }
    preview.refused.sort_by_key(|r| r.row);
    if preview.refused.is_empty() {
        preview.page = Some(page);
    }
    Ok(preview)
}

fn read_with(into: Target<'_>, file: &str, page: &str) -> Result<Book, Vec<book::Diagnostic>> {
    let new = SourceFile {
        name: file.to_owned(),
        bytes: page.as_bytes().to_vec(),
    };
    let mut files: Vec<SourceFile> = into.files.to_vec();
    match files.iter_mut().find(|f| f.name == file) {
        Some(old) => *old = new,
        None => files.push(new),
    }
    book::read(&files, Limits::default())
}
