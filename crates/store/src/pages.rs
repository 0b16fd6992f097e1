//! Pages: save on top of what one had in hand, read back, settle conflicts.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::canonical;
use crate::command::sealed::Run;
use crate::entry::longest;
use crate::error::Error;
use crate::hash::Hash;
use crate::log::sequence_of;
use crate::moment::Moment;
use crate::names::Name;
use crate::page::{Conflict, PageId, PageKind, Revision};
use crate::verify::Flaw;

/// Saves a page on top of the revision the writer had in hand.
///
/// # Errors
/// [`Error::NoRevision`] when the page never had that revision, [`Error::Refused`] when the text is
/// too long.
#[derive(Debug, Clone)]
pub struct SavePage {
    /// The page.
    pub page: PageId,
    /// The number of the revision it was made from; `None` for a new page.
    pub parent: Option<u32>,
    /// The text; `None` takes the page out of the book. Its earlier revisions stay.
    pub text: Option<String>,
    /// Who saves.
    pub who: Name,
    /// When.
    pub at: Moment,
}

/// What became of a save.
#[derive(Debug, Clone, PartialEq, Eq)]
#[must_use = "a conflict is shown to the one who saved"]
pub enum Saving {
    /// It is the newest revision now.
    Saved(Revision),
    /// The newest revision says the same already; nothing was added.
    Same(Revision),
    /// The page moved on meanwhile. Both texts are here; the one not saved is kept as a conflict.
    Conflict(Box<Conflict>),
}

/// Asks for the newest revision of every page of the book, by name. Pages taken out are not among
/// them.
#[derive(Debug, Clone, Copy)]
pub struct LatestPages;

/// Asks for the number of the book now: whether anything was saved since, without reading a page.
#[derive(Debug, Clone, Copy)]
pub struct BookNumber;

/// A book as it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BookNow {
    /// Its number: how many revisions were ever saved; 0 for the empty book.
    pub number: i64,
    /// Its pages, by name.
    pub pages: Vec<Revision>,
}

/// Asks for a page: the newest revision, or the one of a number.
///
/// # Errors
/// [`Error::NoPage`], [`Error::NoRevision`].
#[derive(Debug, Clone)]
pub struct GetPage {
    /// The page.
    pub page: PageId,
    /// The number; `None` for the newest.
    pub number: Option<u32>,
}

/// Asks for every revision of a page, the oldest first.
///
/// # Errors
/// [`Error::NoPage`].
#[derive(Debug, Clone)]
pub struct History {
    /// The page.
    pub page: PageId,
}

/// Asks for the conflicts nobody settled yet, the oldest first.
#[derive(Debug, Clone, Copy)]
pub struct OpenConflicts;

/// Settles a conflict: its text went into a revision, or was let go on purpose. The text stays.
///
/// # Errors
/// [`Error::NoConflict`], [`Error::NoRevision`] when the revision is not one saved after it.
#[derive(Debug, Clone)]
pub struct SettleConflict {
    /// The conflict.
    pub conflict: i64,
    /// The revision of the same page that took it in; `None`: let go.
    pub taken_into: Option<u32>,
    /// Who settles it.
    pub who: Name,
    /// When.
    pub at: Moment,
}

impl Run for SavePage {
    type Answer = Saving;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<Saving, Error> {
        if let Some(text) = &self.text {
            longest("the text of a page", text)?;
        }
        let Some(newest) = newest(connection, &self.page)? else {
            return match (self.parent, &self.text) {
                (Some(number), _) => Err(self.no_revision(number)),
                (None, None) => Err(Error::NoPage {
                    page: self.page.clone(),
                }),
                (None, Some(_)) => self.save(connection, None),
            };
        };
        if let Some(number) = self.parent.filter(|n| *n > newest.number) {
            return Err(self.no_revision(number));
        }
        // The same text again is no conflict, whatever it was made from: nothing would be lost.
        if newest.text == self.text {
            return Ok(Saving::Same(newest));
        }
        // A page taken out is not there: who begins it anew had just that in hand.
        let began_anew = self.parent.is_none() && newest.text.is_none();
        if began_anew || self.parent == Some(newest.number) {
            return self.save(connection, Some(&newest));
        }
        let conflict = keep_conflict(connection, self, &newest)?;
        Ok(Saving::Conflict(Box::new(conflict)))
    }
}

impl SavePage {
    fn no_revision(&self, number: u32) -> Error {
        Error::NoRevision {
            page: self.page.clone(),
            number,
        }
    }

    fn save(&self, connection: &Connection, onto: Option<&Revision>) -> Result<Saving, Error> {
        let text = self.text.as_deref();
        add(connection, &self.page, onto, text, &self.who, &self.at).map(Saving::Saved)
    }
}

impl Run for LatestPages {
    type Answer = BookNow;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<BookNow, Error> {
        let number = book_number(connection)?;
        Ok(BookNow {
            number,
            pages: pages_at(connection, number)?,
        })
    }
}

impl Run for BookNumber {
    type Answer = i64;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<i64, Error> {
        book_number(connection)
    }
}

impl Run for GetPage {
    type Answer = Revision;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Revision, Error> {
        let newest = newest(connection, &self.page)?.ok_or_else(|| Error::NoPage {
            page: self.page.clone(),
        })?;
        match self.number {
            None => Ok(newest),
            Some(number) => {
                numbered(connection, &self.page, number)?.ok_or_else(|| Error::NoRevision {
                    page: self.page.clone(),
                    number,
                })
            }
        }
    }
}

impl Run for History {
    type Answer = Vec<Revision>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<Revision>, Error> {
        let sql = format!("{SELECT} WHERE page = ?1 ORDER BY number");
        let mut statement = connection.prepare_cached(&sql)?;
        let revisions = all(statement.query([self.page.as_str()])?)?;
        if revisions.is_empty() {
            return Err(Error::NoPage {
                page: self.page.clone(),
            });
        }
        Ok(revisions)
    }
}

impl Run for OpenConflicts {
    type Answer = Vec<Conflict>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<Conflict>, Error> {
        let sql = format!("{SELECT_CONFLICT} WHERE {IS_OPEN} ORDER BY id");
        let mut statement = connection.prepare_cached(&sql)?;
        let mut rows = statement.query([])?;
        let mut conflicts = Vec::new();
        while let Some(row) = rows.next()? {
            conflicts.push(conflict(connection, row)?);
        }
        Ok(conflicts)
    }
}

impl Run for SettleConflict {
    type Answer = ();
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<(), Error> {
        let open = open_conflict(connection, self.conflict)?;
        if let Some(number) = self.taken_into {
            // A revision that was there before the conflict cannot have taken its text in.
            let there = numbered(connection, &open.page, number)?;
            if there.is_none() || number <= open.met.number {
                return Err(Error::NoRevision {
                    page: open.page,
                    number,
                });
            }
        }
        connection.execute(
            "INSERT INTO settlement (conflict, number, who, at, zone) VALUES (?1, ?2, ?3, ?4, ?5)",
            params![
                self.conflict,
                self.taken_into,
                self.who.as_str(),
                self.at.text(),
                self.at.zone()
            ],
        )?;
        Ok(())
    }
}

/// The number of the book now.
pub(crate) fn book_number(connection: &Connection) -> Result<i64, Error> {
    let mut statement = connection.prepare_cached("SELECT coalesce(max(seq), 0) FROM revision")?;
    Ok(statement.query_row([], |row| row.get(0))?)
}

/// The pages of the book as it stood at a number, by name.
pub(crate) fn pages_at(connection: &Connection, number: i64) -> Result<Vec<Revision>, Error> {
    let sql = format!(
        "{SELECT} WHERE seq IN (SELECT max(seq) FROM revision WHERE seq <= ?1 GROUP BY page)
             AND text IS NOT NULL ORDER BY page"
    );
    let mut statement = connection.prepare_cached(&sql)?;
    all(statement.query([number])?)
}

/// Adds a revision on top of `onto`.
pub(crate) fn add(
    connection: &Connection,
    page: &PageId,
    onto: Option<&Revision>,
    text: Option<&str>,
    who: &Name,
    at: &Moment,
) -> Result<Revision, Error> {
    let kind = match (text, onto) {
        (Some(text), _) => PageKind::of(text),
        (None, Some(onto)) => onto.kind,
        (None, None) => PageKind::Unread,
    };
    let parent = onto.map(|r| r.number);
    let mut revision = Revision {
        book_number: book_number(connection)? + 1,
        page: page.clone(),
        number: parent.map_or(1, |n| n + 1),
        parent,
        kind,
        text: text.map(str::to_owned),
        who: who.clone(),
        at: at.clone(),
        hash: Hash::NONE,
    };
    revision.hash = canonical::revision_hash(&revision);
    let mut statement = connection.prepare_cached(
        "INSERT INTO revision (seq, page, number, parent, kind, text, who, at, zone, hash)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)",
    )?;
    statement.execute(params![
        revision.book_number,
        page.as_str(),
        revision.number,
        parent,
        kind.as_str(),
        text,
        who.as_str(),
        at.text(),
        at.zone(),
        revision.hash.bytes()
    ])?;
    Ok(revision)
}

pub(crate) fn newest(connection: &Connection, page: &PageId) -> Result<Option<Revision>, Error> {
    let sql = format!("{SELECT} WHERE page = ?1 ORDER BY number DESC LIMIT 1");
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query([page.as_str()])?;
    rows.next()?.map(revision).transpose()
}

pub(crate) fn numbered(
    connection: &Connection,
    page: &PageId,
    number: u32,
) -> Result<Option<Revision>, Error> {
    let sql = format!("{SELECT} WHERE page = ?1 AND number = ?2");
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query(params![page.as_str(), number])?;
    rows.next()?.map(revision).transpose()
}

/// Keeps what could not be saved; the same sent again, met by the same revision, is kept once.
fn keep_conflict(
    connection: &Connection,
    save: &SavePage,
    met: &Revision,
) -> Result<Conflict, Error> {
    let there: Option<i64> = connection
        .query_row(
            "SELECT id FROM conflict WHERE page = ?1 AND parent IS ?2 AND met = ?3 AND text IS ?4
                 AND who = ?5 AND id NOT IN (SELECT conflict FROM settlement)",
            params![
                save.page.as_str(),
                save.parent,
                met.number,
                save.text,
                save.who.as_str()
            ],
            |row| row.get(0),
        )
        .optional()?;
    if let Some(id) = there {
        return open_conflict(connection, id);
    }
    let made_from = (save.parent, met.number);
    let text = save.text.as_deref();
    let hash = canonical::conflict_hash(&save.page, made_from, text, &save.who, &save.at);
    connection.execute(
        "INSERT INTO conflict (page, parent, met, text, who, at, zone, hash)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        params![
            save.page.as_str(),
            save.parent,
            met.number,
            save.text,
            save.who.as_str(),
            save.at.text(),
            save.at.zone(),
            hash.bytes()
        ],
    )?;
    open_conflict(connection, connection.last_insert_rowid())
}

fn open_conflict(connection: &Connection, id: i64) -> Result<Conflict, Error> {
    let sql = format!("{SELECT_CONFLICT} WHERE {IS_OPEN} AND id = ?1");
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query([id])?;
    match rows.next()? {
        Some(row) => conflict(connection, row),
        None => Err(Error::NoConflict { id }),
    }
}

const SELECT: &str =
    "SELECT seq, page, number, parent, kind, text, who, at, zone, hash FROM revision";

const SELECT_CONFLICT: &str =
    "SELECT id, page, parent, met, text, who, at, zone, hash FROM conflict";

const IS_OPEN: &str = "id NOT IN (SELECT conflict FROM settlement)";

fn all(mut rows: rusqlite::Rows<'_>) -> Result<Vec<Revision>, Error> {
    let mut revisions = Vec::new();
    while let Some(row) = rows.next()? {
        revisions.push(revision(row)?);
    }
    Ok(revisions)
}

/// A row of [`SELECT`], checked against its hash.
fn revision(row: &Row<'_>) -> Result<Revision, Error> {
    let page = PageId::stored(row.get(1)?);
    let number = row.get(2)?;
    let kind: String = row.get(4)?;
    let kind = PageKind::stored(&kind).ok_or_else(|| {
        Error::damaged(format!("revision {number} of {page} is of no known kind"))
    })?;
    let at: String = row.get(7)?;
    let revision = Revision {
        book_number: row.get(0)?,
        page,
        number,
        parent: row.get(3)?,
        kind,
        text: row.get(5)?,
        who: Name::stored(row.get(6)?),
        at: Moment::stored(&at, row.get(8)?)?,
        hash: Hash::stored(row.get(9)?),
    };
    if canonical::revision_hash(&revision) != revision.hash {
        return Err(Error::Broken(Flaw::Revision {
            page: revision.page,
            number,
        }));
    }
    Ok(revision)
}

/// A row of [`SELECT_CONFLICT`], with the revisions it points at, checked against its hash.
fn conflict(connection: &Connection, row: &Row<'_>) -> Result<Conflict, Error> {
    let id = row.get(0)?;
    let page = PageId::stored(row.get(1)?);
    let (parent, met): (Option<u32>, u32) = (row.get(2)?, row.get(3)?);
    let text: Option<String> = row.get(4)?;
    let who = Name::stored(row.get(5)?);
    let at: String = row.get(6)?;
    let at = Moment::stored(&at, row.get(7)?)?;
    let hash = canonical::conflict_hash(&page, (parent, met), text.as_deref(), &who, &at);
    if hash != Hash::stored(row.get(8)?) {
        return Err(Error::Broken(Flaw::Conflict { id }));
    }
    let there = |number: u32| {
        numbered(connection, &page, number)?.ok_or_else(|| Error::NoRevision {
            page: page.clone(),
            number,
        })
    };
    Ok(Conflict {
        id,
        parent: parent.map(there).transpose()?,
        met: there(met)?,
        page,
        text,
        who,
        at,
    })
}

/// Reads every revision and every conflict, settled ones too; the number of them.
pub(crate) fn walk(connection: &Connection) -> Result<i64, Error> {
    let mut last = 0;
    let mut statement = connection.prepare(&format!("{SELECT} NOT INDEXED ORDER BY seq"))?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let revision = revision(row)?;
        last += 1;
        if revision.book_number != last {
            return Err(Error::Broken(Flaw::NoBookNumber { number: last }));
        }
    }
    if sequence_of(connection, "revision")? > last {
        return Err(Error::Broken(Flaw::NoBookNumber { number: last + 1 }));
    }
    let mut conflicts = 0;
    let mut statement = connection.prepare(&format!("{SELECT_CONFLICT} ORDER BY id"))?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        conflict(connection, row)?;
        conflicts += 1;
        if row.get::<_, i64>(0)? != conflicts {
            return Err(Error::Broken(Flaw::Conflict { id: conflicts }));
        }
    }
    if sequence_of(connection, "conflict")? > conflicts {
        return Err(Error::Broken(Flaw::Conflict { id: conflicts + 1 }));
    }
    Ok(last + conflicts)
}
