//! Whether the record holds: the chain of the log, the revisions, the pages of the file.

use std::fmt;

use rusqlite::Connection;

use crate::canonical;
use crate::command::sealed::Run;
use crate::error::Error;
use crate::hash::Hash;
use crate::log::{self, Head};
use crate::page::PageId;
use crate::pages;

/// Walks the whole record and names the first thing that does not hold.
///
/// `known` is a [`Head`] kept elsewhere (on a printed sheet, in a backup): a log that lost its end
/// since then is found out by it. Without it, an end cut off together with the count SQLite keeps
/// goes unseen.
#[derive(Debug, Clone, Copy, Default)]
pub struct Verify {
    /// A head the log had at some time.
    pub known: Option<Head>,
}

/// What was walked; everything of it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Verified {
    /// Entries of the log.
    pub entries: i64,
    /// Revisions and kept conflicts of pages.
    pub texts: i64,
    /// The newest entry.
    pub head: Head,
}

/// What does not hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Flaw {
    /// An entry is missing.
    Missing {
        /// Its place.
        sequence: i64,
    },
    /// An entry is not as it was written.
    Content {
        /// Its place.
        sequence: i64,
    },
    /// An entry does not hold the hash of the one before it.
    Link {
        /// Its place.
        sequence: i64,
    },
    /// The log ends before it once did.
    Cut {
        /// The last entry there is.
        last: i64,
        /// The last there was.
        ever: i64,
    },
    /// An entry has another hash than the one kept elsewhere.
    NotAsKnown {
        /// Its place.
        sequence: i64,
    },
    /// An entry cannot be read.
    Unreadable {
        /// Its place.
        sequence: i64,
        /// What the file gave instead.
        what: String,
    },
    /// A revision of some page is missing.
    NoBookNumber {
        /// The number of the book it made.
        number: i64,
    },
    /// A revision is not as it was saved.
    Revision {
        /// The page.
        page: PageId,
        /// The number.
        number: u32,
    },
    /// A conflict is not as it was kept, or is missing.
    Conflict {
        /// Its number.
        id: i64,
    },
    /// The file itself does not fit together.
    File {
        /// What SQLite found.
        what: String,
    },
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing { sequence } => write!(f, "entry {sequence} of the log is missing"),
            Self::Content { sequence } => {
                write!(f, "entry {sequence} of the log is not as it was written")
            }
            Self::Link { sequence } => write!(
                f,
                "entry {sequence} of the log does not follow from the one before it"
            ),
            Self::Cut { last, ever } => {
                write!(
                    f,
                    "the log ends at entry {last}; it once went to entry {ever}"
                )
            }
            Self::NotAsKnown { sequence } => write!(
                f,
                "entry {sequence} of the log has another hash than the one kept elsewhere"
            ),
            Self::Unreadable { sequence, what } => {
                write!(f, "entry {sequence} of the log cannot be read ({what})")
            }
            Self::NoBookNumber { number } => {
                write!(
                    f,
                    "the page saved as number {number} of the book is missing"
                )
            }
            Self::Revision { page, number } => {
                write!(f, "revision {number} of {page} is not as it was saved")
            }
            Self::Conflict { id } => {
                write!(f, "conflict {id} is not as it was kept, or is missing")
            }
            Self::File { what } => write!(f, "the file does not fit together ({what})"),
        }
    }
}

impl Run for Verify {
    type Answer = Verified;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Verified, Error> {
        record(connection, self.known)
    }
}

/// Checks log, texts and file, in this order.
pub(crate) fn record(connection: &Connection, known: Option<Head>) -> Result<Verified, Error> {
    // Files of the first version have no log yet; a copy of one is checked before it is migrated.
    let head = if has_table(connection, "log")? {
        chain(connection, known)?
    } else {
        Head {
            sequence: 0,
            hash: Hash::NONE,
        }
    };
    let texts = pages::walk(connection)?;
    file(connection)?;
    Ok(Verified {
        entries: head.sequence,
        texts,
        head,
    })
}

fn has_table(connection: &Connection, name: &str) -> Result<bool, Error> {
    Ok(connection.table_exists(None, name)?)
}

fn chain(connection: &Connection, known: Option<Head>) -> Result<Head, Error> {
    let broken = |flaw| Err(Error::Broken(flaw));
    let mut last = Head {
        sequence: 0,
        hash: Hash::NONE,
    };
    // Not by an index: what is walked is the table itself.
    let sql = format!("{} NOT INDEXED ORDER BY sequence", log::SELECT);
    let mut statement = connection.prepare(&sql)?;
    let mut rows = statement.query([])?;
    loop {
        let sequence = last.sequence + 1;
        let unreadable = |what: Error| {
            Error::Broken(Flaw::Unreadable {
                sequence,
                what: match what {
                    Error::Damaged { what, .. } => what,
                    other => other.told().found,
                },
            })
        };
        let Some(row) = rows.next().map_err(|e| unreadable(e.into()))? else {
            break;
        };
        let entry = log::entry(row).map_err(unreadable)?;
        if entry.sequence != sequence {
            return broken(Flaw::Missing { sequence });
        }
        if canonical::hash(sequence, &entry.before, &entry.says, &entry.recorded) != entry.hash {
            return broken(Flaw::Content { sequence });
        }
        if entry.before != last.hash {
            return broken(Flaw::Link { sequence });
        }
        last = Head {
            sequence,
            hash: entry.hash,
        };
        if known.is_some_and(|k| k.sequence == sequence && k.hash != last.hash) {
            return broken(Flaw::NotAsKnown { sequence });
        }
    }
    let ever = log::sequence_of(connection, "log")?.max(known.map_or(0, |k| k.sequence));
    if ever > last.sequence {
        return broken(Flaw::Cut {
            last: last.sequence,
            ever,
        });
    }
    Ok(last)
}

fn file(connection: &Connection) -> Result<(), Error> {
    let mut check = connection.prepare("PRAGMA integrity_check(1)")?;
    let said: String = check.query_row([], |row| row.get(0))?;
    if said != "ok" {
        return Err(Error::Broken(Flaw::File { what: said }));
    }
    let mut check = connection.prepare("PRAGMA foreign_key_check")?;
    let mut rows = check.query([])?;
    if let Some(row) = rows.next()? {
        let table: String = row.get(0)?;
        return Err(Error::Broken(Flaw::File {
            what: format!("a row of {table} points at nothing"),
        }));
    }
    Ok(())
}
