//! What can go wrong, as data: found, where, expected, do now.

use std::fmt;
use std::path::Path;

use rusqlite::ErrorCode;

use crate::page::PageId;
use crate::verify::Flaw;

/// A value the store does not take, in three answers. Nothing was stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// Which value it is about, in words: "the name", "a temperature".
    pub what: &'static str,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: &'static str,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}: found {}; expected {}; now: {}",
            self.what, self.found, self.expected, self.do_now
        )
    }
}

impl std::error::Error for Refusal {}

/// Why a command was not carried out. Whatever it was, nothing of it is in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Error {
    /// The store was closed before the command was answered.
    Closed,
    /// A value was not taken.
    Refused(Refusal),
    /// There is no file of that name.
    NoFile {
        /// The path asked for.
        file: String,
    },
    /// There is a file of that name already.
    Exists {
        /// The path asked for.
        file: String,
    },
    /// The file is not a database of this program.
    NotOurs {
        /// The file.
        file: String,
        /// What it is instead.
        found: String,
    },
    /// A newer version of the program wrote the file.
    Newer {
        /// The file.
        file: String,
        /// Its version.
        found: u32,
        /// The newest version this program knows.
        known: u32,
    },
    /// The tables or guards of the file are not those its version has.
    Shape {
        /// The file.
        file: String,
        /// Table, index or trigger that is missing, changed or too many.
        name: String,
    },
    /// The file or its folder cannot be written.
    ReadOnly {
        /// The file.
        file: String,
    },
    /// No room left on the disk.
    Full {
        /// The file.
        file: String,
    },
    /// Another program holds the file.
    Busy {
        /// The file.
        file: String,
    },
    /// The file is damaged.
    Damaged {
        /// The file.
        file: String,
        /// What does not fit.
        what: String,
    },
    /// The disk or the operating system refused.
    Disk {
        /// The file.
        file: String,
        /// What the system said.
        said: String,
    },
    /// The record does not hold.
    Broken(Flaw),
    /// The store is in memory and has no file.
    InMemory,
    /// There is no such page.
    NoPage {
        /// The page.
        page: PageId,
    },
    /// The page has no such revision.
    NoRevision {
        /// The page.
        page: PageId,
        /// The number asked for.
        number: u32,
    },
    /// The book is not the one the import or plan was made for.
    BookMoved {
        /// The book number the caller knew; 0 is the empty book.
        known: i64,
        /// The book number now.
        now: i64,
        /// Pages saved since, by name.
        changed: Vec<PageId>,
    },
    /// There is no such conflict, or it is settled.
    NoConflict {
        /// Its number.
        id: i64,
    },
    /// There is no such plan on record.
    NoPlan {
        /// Its number.
        id: i64,
    },
    /// An entry with this id is stored already and says something else.
    OtherContent {
        /// The id both carry.
        id: String,
        /// Where the stored one stands.
        sequence: i64,
    },
    /// A correction points at an entry that is not in the log of its event.
    NoEntry {
        /// Where it points.
        sequence: i64,
        /// The event it was written for.
        event: String,
    },
    /// Nobody of that name or number, or they left.
    NoPerson {
        /// Who was asked for.
        who: String,
    },
    /// Somebody has that name already.
    NameTaken {
        /// The name.
        name: String,
    },
    /// No device of that id, or it was taken out.
    NoDevice {
        /// The device.
        device: String,
    },
    /// That id or session key was given out already.
    KeyTaken {
        /// What it is: "device", "session key".
        what: &'static str,
    },
    /// SQLite refused for a reason not foreseen here: a mistake of this program.
    Engine {
        /// What SQLite said; for the person who mends the program, not for a page.
        said: String,
    },
}

/// An error in the four answers a reader needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// What was found, and where.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
}

impl Error {
    /// The error in words for a page or a terminal; no SQL in it.
    #[must_use]
    pub fn told(&self) -> Told {
        let (found, expected, do_now) = self.words();
        Told {
            found,
            expected: expected.to_owned(),
            do_now: do_now.to_owned(),
        }
    }

    /// Names the file in errors that came from below without one.
    pub(crate) fn of(mut self, path: &Path) -> Self {
        if let Self::ReadOnly { file }
        | Self::Full { file }
        | Self::Busy { file }
        | Self::Damaged { file, .. }
        | Self::Disk { file, .. } = &mut self
            && file.is_empty()
        {
            *file = path.display().to_string();
        }
        self
    }

    pub(crate) fn damaged(what: impl Into<String>) -> Self {
        Self::Damaged {
            file: String::new(),
            what: what.into(),
        }
    }

    pub(crate) fn disk(path: &Path, error: &std::io::Error) -> Self {
        let file = path.display().to_string();
        match error.kind() {
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => {
                Self::Full { file }
            }
            std::io::ErrorKind::ReadOnlyFilesystem | std::io::ErrorKind::PermissionDenied => {
                Self::ReadOnly { file }
            }
            std::io::ErrorKind::NotFound => Self::NoFile { file },
            std::io::ErrorKind::AlreadyExists => Self::Exists { file },
            _ => Self::Disk {
                file,
                said: error.to_string(),
            },
        }
    }

    fn words(&self) -> (String, &str, &str) {
        match self {
            Self::Refused(r) => (format!("{}: {}", r.what, r.found), &r.expected, r.do_now),
            Self::Broken(flaw) => (
                flaw.to_string(),
                "every entry and revision to be as it was written, in one chain",
                "stop writing, keep this file as it is, and restore the last backup that verifies",
            ),
            Self::NoPage { .. }
            | Self::NoRevision { .. }
            | Self::BookMoved { .. }
            | Self::NoConflict { .. }
            | Self::NoPlan { .. }
            | Self::OtherContent { .. }
            | Self::NoEntry { .. } => self.words_of_record(),
            Self::NoPerson { .. }
            | Self::NameTaken { .. }
            | Self::NoDevice { .. }
            | Self::KeyTaken { .. } => self.words_of_people(),
            _ => self.words_of_file(),
        }
    }

    fn words_of_file(&self) -> (String, &str, &str) {
        match self {
            Self::NoFile { file } => (
                format!("no file {file}"),
                "a Saltern database",
                "check the path; to begin a new one, create it",
            ),
            Self::Exists { file } => (
                format!("{file} is there already"),
                "a name that is free",
                "choose another name; nothing is ever written over",
            ),
            Self::NotOurs { file, found } => (
                format!("{file} is {found}"),
                "a Saltern database",
                "check the path; if this was the kitchen's record, restore a backup",
            ),
            Self::Newer { file, found, known } => (
                format!("{file} has version {found}; this program knows versions up to {known}"),
                "a database of this version or an older one",
                "open it with the newer program that wrote it; it was not touched",
            ),
            Self::Shape { file, name } => (
                format!("{name} of {file} is not as this version makes it"),
                "the tables and guards of its version",
                "something else changed the file: restore a backup",
            ),
            Self::ReadOnly { file } => (
                format!("{file} or its folder cannot be written"),
                "a file and a folder this program may write",
                "give it the right to write, or free the disk from write protection; nothing was lost",
            ),
            Self::Full { file } => (
                format!("no room left on the disk of {file}"),
                "room to write",
                "free some room, then send it again; what was acknowledged is kept, this was not stored",
            ),
            Self::Busy { file } => (
                format!("another program holds {file}"),
                "to be let in within five seconds",
                "close the other program, then try again; nothing was stored",
            ),
            Self::Damaged { file, what } => (
                format!("{file} is damaged: {what}"),
                "a whole database",
                "stop writing, keep the file as it is, and restore the last backup that verifies",
            ),
            Self::Disk { file, said } => (
                format!("the system refused {file}: {said}"),
                "a file and a folder that can be read and written",
                "look at the disk, the folder and the files beside it ending in -wal and -shm",
            ),
            Self::InMemory => (
                "a store without a file".to_owned(),
                "a store in a file",
                "open or create a file first",
            ),
            Self::Engine { .. } => (
                "the database refused for a reason not foreseen".to_owned(),
                "a command the database takes",
                "nothing was stored; report it with the program's log",
            ),
            _ => (
                "the store is closed".to_owned(),
                "an open store",
                "open it again, then send it again",
            ),
        }
    }

    fn words_of_record(&self) -> (String, &str, &str) {
        match self {
            Self::NoPage { page } => (
                format!("no page {page}"),
                "a page of the book",
                "look at the list of pages",
            ),
            Self::NoRevision { page, number } => (
                format!("no revision {number} of {page}"),
                "a number of its history",
                "look at the history of the page",
            ),
            Self::BookMoved {
                known,
                now,
                changed,
            } => (
                format!(
                    "the book is at number {now}, not {known}; saved since: {}",
                    listed(changed)
                ),
                "the book as it was when this began",
                "read the book again, look at what changed, then decide anew; nothing was written over",
            ),
            Self::NoConflict { id } => (
                format!("no open conflict {id}"),
                "a conflict that is not settled",
                "look at the list of conflicts; somebody may have settled it",
            ),
            Self::NoPlan { id } => (
                format!("no plan {id} on record"),
                "a plan on record",
                "look at the plans of the event",
            ),
            Self::OtherContent { id, sequence } => (
                format!("the id {id} again, with other content than entry {sequence} has"),
                "a new id for a new entry",
                "if the first was wrong, append a correction; it is never written over",
            ),
            Self::NoEntry { sequence, event } => (
                format!("a correction of entry {sequence}, which the log of {event} does not hold"),
                "the sequence number of an entry of the same event",
                "look the number up in the log",
            ),
            _ => self.words_of_file(),
        }
    }

    fn words_of_people(&self) -> (String, &str, &str) {
        match self {
            Self::NoPerson { who } => (
                format!("{who}, who is not among the people here"),
                "somebody who is on the list and has not left",
                "look at the list of people",
            ),
            Self::NameTaken { name } => (
                format!("the name {name} twice"),
                "a name nobody here has",
                "add something that tells the two apart",
            ),
            Self::NoDevice { device } => (
                format!("{device}, which is not among the devices here"),
                "a device that is on the list and was not taken out",
                "sign the device in first",
            ),
            Self::KeyTaken { what } => (
                format!("the same {what} twice"),
                "a new one each time",
                "make a new one and send it again",
            ),
            _ => self.words_of_file(),
        }
    }
}

fn listed(pages: &[PageId]) -> String {
    let names: Vec<&str> = pages.iter().map(PageId::as_str).collect();
    names.join(", ")
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (found, expected, do_now) = self.words();
        write!(f, "found {found}; expected {expected}; now: {do_now}")
    }
}

impl std::error::Error for Error {}

impl From<Refusal> for Error {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Self {
        let file = String::new();
        let said = error.to_string();
        match error {
            rusqlite::Error::SqliteFailure(code, _) => match code.code {
                ErrorCode::DiskFull => Self::Full { file },
                ErrorCode::ReadOnly | ErrorCode::PermissionDenied => Self::ReadOnly { file },
                ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Self::Busy { file },
                ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase => {
                    Self::Damaged { file, what: said }
                }
                ErrorCode::SystemIoFailure | ErrorCode::CannotOpen => Self::Disk { file, said },
                _ => Self::Engine { said },
            },
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::IntegralValueOutOfRange(..)
            | rusqlite::Error::InvalidColumnType(..)
            | rusqlite::Error::Utf8Error(..) => Self::Damaged {
                file,
                what: format!("a row holds what this program never writes ({said})"),
            },
            _ => Self::Engine { said },
        }
    }
}
