//! Backup while the kitchen works, and restore from one.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OpenFlags};

use crate::error::Error;
use crate::open::{self, beside, publish, remove_if_there, sync_folder};
use crate::store::Store;
use crate::verify::{Verified, record};

/// What a restore did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// What the restored record holds.
    pub holds: Verified,
    /// Where the file that was there before is kept; `None` where there was none.
    pub kept: Option<PathBuf>,
}

impl Store {
    /// Copies the database to a new file while it is in use, and checks the copy. It reads through a
    /// connection of its own on the caller's thread; writers are not held up.
    ///
    /// The copy holds everything that was acknowledged before the call.
    ///
    /// # Errors
    /// [`Error::Exists`] (nothing is ever written over), [`Error::InMemory`], [`Error::Broken`] when
    /// the record does not hold, or what the disk refused. No half copy is left under that name.
    pub fn backup(&self, to: &Path) -> Result<Verified, Error> {
        let from = self.file().ok_or(Error::InMemory)?;
        if fs::symlink_metadata(to).is_ok() {
            return Err(Error::Exists {
                file: to.display().to_string(),
            });
        }
        let copy = beside(to, &format!("copying-{}", std::process::id()));
        let holds = copied(from, &copy);
        let done = holds.and_then(|holds| publish(&copy, to).map(|()| holds));
        if done.is_err() {
            remove_if_there(&copy)?;
        }
        done
    }
}

/// Puts a backup in the place of a database nobody has open.
///
/// The backup is copied beside and checked whole (shape, chain, texts, pages) before anything is
/// moved. The file that was there is kept beside, its name ending in `.kept-` and the moment.
///
/// # Errors
/// [`Error::Busy`] when the database is open somewhere; whatever is wrong with the backup. The
/// database in place is then as it was.
pub fn restore(backup: &Path, database: &Path, at: Timestamp) -> Result<Restored, Error> {
    let copy = beside(database, &format!("restoring-{}", std::process::id()));
    let done = copied(backup, &copy).and_then(|holds| {
        let kept = keep_old(database, at)?;
        fs::rename(&copy, database).map_err(|e| Error::disk(database, &e))?;
        sync_folder(database)?;
        Ok(Restored { holds, kept })
    });
    if done.is_err() {
        remove_if_there(&copy)?;
    }
    done
}

/// Copies a database into one file without a journal, checks the copy, and sees it on the disk.
fn copied(from: &Path, copy: &Path) -> Result<Verified, Error> {
    let (source, version) = open::open_to_read(from)?;
    // Of a process of the same number that was killed while it copied.
    remove_if_there(copy)?;
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let at_copy = |e: rusqlite::Error| Error::from(e).of(copy);
    let mut made = Connection::open_with_flags(copy, flags).map_err(at_copy)?;
    whole(&source, &mut made).map_err(|e| e.of(from))?;
    let _: String = made
        .pragma_update_and_check(None, "journal_mode", "delete", |row| row.get(0))
        .map_err(at_copy)?;
    open::has_shape(&made, version, from)?;
    let holds = record(&made, None).map_err(|e| e.of(from))?;
    made.close().map_err(|(_, e)| at_copy(e))?;
    fs::File::open(copy)
        .and_then(|file| file.sync_all())
        .map_err(|e| Error::disk(copy, &e))?;
    Ok(holds)
}

/// One snapshot: all pages in one step, so that nothing is copied from two moments.
fn whole(source: &Connection, made: &mut Connection) -> Result<(), Error> {
    let backup = Backup::new(source, made)?;
    let file = String::new();
    match backup.step(-1)? {
        StepResult::Done => Ok(()),
        StepResult::Busy | StepResult::Locked => Err(Error::Busy { file }),
        _ => Err(Error::Disk {
            file,
            said: "the copy stopped half-way".to_owned(),
        }),
    }
}

/// Keeps what stands under the name; it stays in place until the new file takes the name over.
fn keep_old(database: &Path, at: Timestamp) -> Result<Option<PathBuf>, Error> {
    let disk = |e: std::io::Error| Error::disk(database, &e);
    if fs::symlink_metadata(database).is_err() {
        return Ok(None);
    }
    let kept = free_name(database, at);
    match alone(database) {
        Ok(()) => {}
        Err(busy @ Error::Busy { .. }) => return Err(busy),
        // Too damaged to be opened. Its journal goes with it: under the old name it would be
        // played into the new file.
        Err(_) => {
            for end in ["-wal", "-shm"] {
                let (old, new) = (with_end(database, end), with_end(&kept, end));
                if fs::symlink_metadata(&old).is_ok() {
                    fs::rename(&old, &new).map_err(disk)?;
                }
            }
        }
    }
    if fs::hard_link(database, &kept).is_err() {
        // A file system without links.
        fs::copy(database, &kept).map_err(disk)?;
        fs::File::open(&kept)
            .and_then(|file| file.sync_all())
            .map_err(disk)?;
    }
    Ok(Some(kept))
}

/// Brings the write-ahead log home; that works only where nobody else has the file open.
fn alone(database: &Path) -> Result<(), Error> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(database, flags)?;
    connection.busy_timeout(Duration::ZERO)?;
    let mode: Result<String, _> =
        connection.pragma_update_and_check(None, "journal_mode", "delete", |row| row.get(0));
    let mode = mode.map_err(|e| Error::from(e).of(database))?;
    if mode != "delete" {
        return Err(Error::Busy {
            file: database.display().to_string(),
        });
    }
    connection
        .close()
        .map_err(|(_, e)| Error::from(e).of(database))
}

fn free_name(database: &Path, at: Timestamp) -> PathBuf {
    let stamp = at
        .to_zoned_datetime(TimeZone::UTC)
        .strftime("%Y%m%dT%H%M%SZ");
    let plain = beside(database, &format!("kept-{stamp}"));
    let mut name = plain.clone();
    let mut again = 2_u32;
    while fs::symlink_metadata(&name).is_ok() {
        name = with_end(&plain, &format!("-{again}"));
        again += 1;
    }
    name
}

fn with_end(path: &Path, end: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(end);
    PathBuf::from(name)
}
