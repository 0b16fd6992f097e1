//! A file into a connection that may be trusted, or the reason why not.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use crate::error::Error;
use crate::migration::{self, APPLICATION_ID};

/// How long a command waits for another program to let go of the file.
pub(crate) const PATIENCE: Duration = Duration::from_secs(5);

/// Prepared statements kept; there are fewer than this in the room.
const STATEMENTS_KEPT: usize = 64;

/// A new, empty database. The file appears whole or not at all: it is made beside and linked in.
pub(crate) fn create(path: &Path) -> Result<Connection, Error> {
    if fs::symlink_metadata(path).is_ok() {
        return Err(Error::Exists {
            file: path.display().to_string(),
        });
    }
    let making = beside(path, &format!("new-{}", std::process::id()));
    // Of a process of the same number that was killed while it made one: nothing is in it.
    remove_if_there(&making)?;
    make(&making).map_err(|e| e.of(path))?;
    publish(&making, path)?;
    open(path)
}

fn make(path: &Path) -> Result<(), Error> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags)?;
    migration::migrate(&connection, migration::version())?;
    connection.close().map_err(|(_, e)| Error::from(e))
}

/// Gives a finished file its name, never over another one.
pub(crate) fn publish(made: &Path, name: &Path) -> Result<(), Error> {
    let disk = |e: &std::io::Error| Error::disk(name, e);
    File::open(made)
        .and_then(|file| file.sync_all())
        .map_err(|e| disk(&e))?;
    match fs::hard_link(made, name) {
        Ok(()) => fs::remove_file(made).map_err(|e| disk(&e))?,
        Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => {
            remove_if_there(made)?;
            return Err(disk(&e));
        }
        // A file system without links: the name was free a moment ago.
        Err(_) => fs::rename(made, name).map_err(|e| disk(&e))?,
    }
    sync_folder(name)
}

/// Opens a database that is there, brings it to this version and checks its shape.
pub(crate) fn open(path: &Path) -> Result<Connection, Error> {
    open_file(path).map_err(|e| e.of(path))
}

fn open_file(path: &Path) -> Result<Connection, Error> {
    looks_like_one(path)?;
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags)?;
    connection.busy_timeout(PATIENCE)?;
    // One look: another process may be bringing the file forward just now.
    connection.execute_batch("BEGIN")?;
    let version = is_ours(&connection, path)?;
    // The shape is checked as it came, before a step builds on it.
    has_shape(&connection, version, path)?;
    connection.execute_batch("COMMIT")?;
    if connection.is_readonly("main")? {
        return Err(Error::ReadOnly {
            file: path.display().to_string(),
        });
    }
    let mode: String =
        connection.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0))?;
    if mode != "wal" {
        return Err(Error::Disk {
            file: path.display().to_string(),
            said: format!("it keeps a {mode} journal, not a write-ahead log"),
        });
    }
    guard(&connection)?;
    migration::migrate(&connection, migration::version())?;
    Ok(connection)
}

/// A second connection to a file [`open`] has just opened, that can only read.
pub(crate) fn beside_writer(path: &Path) -> Result<Connection, Error> {
    let second = || -> Result<Connection, Error> {
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = Connection::open_with_flags(path, flags)?;
        connection.busy_timeout(PATIENCE)?;
        guard(&connection)?;
        connection.execute_batch("PRAGMA query_only = ON")?;
        Ok(connection)
    };
    second().map_err(|e| e.of(path))
}

/// A database that vanishes with the program.
pub(crate) fn in_memory() -> Result<Connection, Error> {
    let connection = Connection::open_in_memory()?;
    guard(&connection)?;
    migration::migrate(&connection, migration::version())?;
    Ok(connection)
}

/// A connection that only reads, for copying and checking.
pub(crate) fn open_to_read(path: &Path) -> Result<(Connection, u32), Error> {
    looks_like_one(path)?;
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection =
        Connection::open_with_flags(path, flags).map_err(|e| Error::from(e).of(path))?;
    connection
        .busy_timeout(PATIENCE)
        .map_err(|e| Error::from(e).of(path))?;
    let version = is_ours(&connection, path).map_err(|e| e.of(path))?;
    Ok((connection, version))
}

fn guard(connection: &Connection) -> Result<(), Error> {
    connection.set_prepared_statement_cache_capacity(STATEMENTS_KEPT);
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.execute_batch(
        "PRAGMA synchronous = FULL;
         PRAGMA fullfsync = ON;
         PRAGMA checkpoint_fullfsync = ON;
         PRAGMA foreign_keys = ON;
         PRAGMA recursive_triggers = ON;
         PRAGMA cell_size_check = ON;
         PRAGMA trusted_schema = OFF;",
    )?;
    Ok(())
}

/// An empty file is not a new database: a record that was cut to nothing looks the same.
fn looks_like_one(path: &Path) -> Result<(), Error> {
    let about = fs::metadata(path).map_err(|e| Error::disk(path, &e))?;
    let found = match () {
        () if about.is_dir() => "a folder",
        () if about.len() == 0 => "an empty file",
        () => return Ok(()),
    };
    Err(Error::NotOurs {
        file: path.display().to_string(),
        found: found.to_owned(),
    })
}

fn is_ours(connection: &Connection, path: &Path) -> Result<u32, Error> {
    let file = path.display().to_string();
    let id: Result<i32, _> =
        connection.pragma_query_value(None, "application_id", |row| row.get(0));
    let id = match id.map_err(Error::from) {
        Err(Error::Damaged { what, .. }) if what.contains("not a database") => {
            return Err(Error::NotOurs {
                file,
                found: "not a database, or one whose first page is gone".to_owned(),
            });
        }
        other => other?,
    };
    if id != APPLICATION_ID {
        return Err(Error::NotOurs {
            file,
            found: "a database of another program".to_owned(),
        });
    }
    let (found, known) = (migration::version_of(connection)?, migration::version());
    if found > known {
        return Err(Error::Newer { file, found, known });
    }
    Ok(found)
}

pub(crate) fn has_shape(connection: &Connection, version: u32, path: &Path) -> Result<(), Error> {
    match migration::misshapen(connection, version)? {
        None => Ok(()),
        Some(name) => Err(Error::Shape {
            file: path.display().to_string(),
            name,
        }),
    }
}

/// The name of a file with something added at its end.
pub(crate) fn beside(path: &Path, added: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".");
    name.push(added);
    PathBuf::from(name)
}

pub(crate) fn remove_if_there(path: &Path) -> Result<(), Error> {
    match fs::remove_file(path) {
        Err(e) if e.kind() != std::io::ErrorKind::NotFound => Err(Error::disk(path, &e)),
        _ => Ok(()),
    }
}

/// Makes a new name in a folder last.
pub(crate) fn sync_folder(path: &Path) -> Result<(), Error> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    // Only where folders can be opened as files; elsewhere the system does it by itself.
    if cfg!(unix) {
        File::open(folder)
            .and_then(|file| file.sync_all())
            .map_err(|e| Error::disk(folder, &e))?;
    }
    Ok(())
}
