//! A whole book in and out: the same files, byte for byte.

use std::collections::{BTreeMap, BTreeSet};

use book::SourceFile;
use rusqlite::Connection;

use crate::command::sealed::Run;
use crate::entry::longest;
use crate::error::{Error, Refusal};
use crate::moment::Moment;
use crate::names::Name;
use crate::page::PageId;
use crate::pages::{add, book_number, newest, pages_at};

/// Takes in a whole book, all of it or nothing. Pages that are not among the files are taken out of
/// the book; their revisions stay. A page that says the same already gets no new revision.
///
/// The store does not judge a text; have `book::read` do it first.
///
/// # Errors
/// [`Error::BookMoved`] when somebody saved a page since the number in `onto`: nothing is written
/// over unseen. [`Error::Refused`] for no files at all, a name twice or one that is no [`PageId`],
/// bytes that are not UTF-8.
#[derive(Debug, Clone)]
pub struct ImportBook {
    /// The files.
    pub files: Vec<SourceFile>,
    /// The number of the book these files are to replace ([`BookNow::number`](crate::BookNow));
    /// 0 for a store without a book.
    pub onto: i64,
    /// Who imports.
    pub who: Name,
    /// When.
    pub at: Moment,
}

/// What an import did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Imported {
    /// The number of the book now.
    pub number: i64,
    /// Pages that were new or changed.
    pub saved: Vec<PageId>,
    /// Pages that were taken out.
    pub taken_out: Vec<PageId>,
    /// Pages that said the same already.
    pub same: Vec<PageId>,
}

/// Asks for the files of the book, by name, as they stood at a number; `None` for now.
#[derive(Debug, Clone, Copy)]
pub struct ExportBook {
    /// The number of the book.
    pub number: Option<i64>,
}

impl Run for ImportBook {
    type Answer = Imported;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<Imported, Error> {
        let files = checked(&self.files)?;
        let now = book_number(connection)?;
        if now != self.onto {
            return Err(Error::BookMoved {
                known: self.onto,
                now,
                changed: saved_since(connection, self.onto)?,
            });
        }
        let mut done = Imported {
            number: now,
            saved: Vec::new(),
            taken_out: Vec::new(),
            same: Vec::new(),
        };
        for (page, text) in &files {
            let newest = newest(connection, page)?;
            if newest.as_ref().and_then(|r| r.text.as_deref()) == Some(*text) {
                done.same.push(page.clone());
                continue;
            }
            add(
                connection,
                page,
                newest.as_ref(),
                Some(text),
                &self.who,
                &self.at,
            )?;
            done.saved.push(page.clone());
        }
        for there in pages_at(connection, now)? {
            if !files.contains_key(&there.page) {
                add(
                    connection,
                    &there.page,
                    Some(&there),
                    None,
                    &self.who,
                    &self.at,
                )?;
                done.taken_out.push(there.page);
            }
        }
        done.number = book_number(connection)?;
        Ok(done)
    }
}

impl Run for ExportBook {
    type Answer = Vec<SourceFile>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<SourceFile>, Error> {
        let number = match self.number {
            Some(number) => number,
            None => book_number(connection)?,
        };
        let pages = pages_at(connection, number)?;
        Ok(pages
            .into_iter()
            .map(|page| source_file(page.page, page.text))
            .collect())
    }
}

pub(crate) fn source_file(page: PageId, text: Option<String>) -> SourceFile {
    SourceFile {
        name: page.as_str().to_owned(),
        bytes: text.unwrap_or_default().into_bytes(),
    }
}

/// Names and texts of the files, or the first that cannot be a page.
fn checked(files: &[SourceFile]) -> Result<BTreeMap<PageId, &str>, Error> {
    if files.is_empty() {
        return Err(refused(
            "no files".to_owned(),
            "the files of a book",
            "name the folder the book is in; an empty import would empty the book",
        ));
    }
    let mut pages = BTreeMap::new();
    for file in files {
        let page = PageId::new(&file.name)?;
        let text = std::str::from_utf8(&file.bytes).map_err(|e| {
            refused(
                format!("{page}: no UTF-8 from byte {} on", e.valid_up_to() + 1),
                "text in UTF-8",
                "save the file as UTF-8",
            )
        })?;
        longest("the text of a page", text)?;
        if pages.insert(page, text).is_some() {
            return Err(refused(
                format!("{} twice", file.name),
                "every file once",
                "import one folder at a time",
            ));
        }
    }
    Ok(pages)
}

fn refused(found: String, expected: &str, do_now: &'static str) -> Error {
    Error::Refused(Refusal {
        what: "the import",
        found,
        expected: expected.to_owned(),
        do_now,
    })
}

fn saved_since(connection: &Connection, number: i64) -> Result<Vec<PageId>, Error> {
    let mut statement = connection.prepare("SELECT page FROM revision WHERE seq > ?1")?;
    let pages: BTreeSet<PageId> = statement
        .query_map([number], |row| row.get(0).map(PageId::stored))?
        .collect::<Result<_, _>>()?;
    Ok(pages.into_iter().collect())
}
