//! Numbered steps from an empty file to the tables of this version; forward only.

use rusqlite::Connection;

use crate::error::Error;

/// Marks a file as ours: the letters SALT in `PRAGMA application_id`.
pub(crate) const APPLICATION_ID: i32 = 0x5341_4C54;

/// The steps; the place in the list is the version a file has after it. A step that was once
/// shipped is never edited: a change is a new step.
pub(crate) const STEPS: [&str; 4] = [
    include_str!("../migrations/0001_pages.sql"),
    include_str!("../migrations/0002_log.sql"),
    include_str!("../migrations/0003_plans.sql"),
    include_str!("../migrations/0004_people.sql"),
];

/// The version this program writes.
#[must_use]
pub fn version() -> u32 {
    u32::try_from(STEPS.len()).unwrap_or(u32::MAX)
}

pub(crate) fn version_of(connection: &Connection) -> Result<u32, Error> {
    Ok(connection.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// Brings the file forward to `to`, each step whole or not at all.
pub(crate) fn migrate(connection: &Connection, to: u32) -> Result<(), Error> {
    while version_of(connection)? < to {
        connection.execute_batch("BEGIN IMMEDIATE")?;
        let done = one_step(connection, to);
        match done {
            Ok(()) => connection.execute_batch("COMMIT")?,
            Err(error) => {
                if !connection.is_autocommit() {
                    connection.execute_batch("ROLLBACK")?;
                }
                return Err(error);
            }
        }
    }
    Ok(())
}

fn one_step(connection: &Connection, to: u32) -> Result<(), Error> {
    // Read again inside the transaction: another process may have been quicker.
    let from = version_of(connection)?;
    if from >= to {
        return Ok(());
    }
    let Some(sql) = usize::try_from(from).ok().and_then(|at| STEPS.get(at)) else {
        return Ok(());
    };
    connection.execute_batch(sql)?;
    if from == 0 {
        connection.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    connection.pragma_update(None, "user_version", from + 1)?;
    Ok(())
}

/// The name of the first table, index or trigger that is not as version `version` makes it.
pub(crate) fn misshapen(connection: &Connection, version: u32) -> Result<Option<String>, Error> {
    let fresh = Connection::open_in_memory()?;
    migrate(&fresh, version)?;
    let (is, should) = (shape(connection)?, shape(&fresh)?);
    let differs = is
        .iter()
        .find(|one| !should.contains(one))
        .or_else(|| should.iter().find(|one| !is.contains(one)));
    Ok(differs.map(|(kind, name, _)| format!("the {kind} {name:?}")))
}

type Made = (String, String, Option<String>);

fn shape(connection: &Connection) -> Result<Vec<Made>, Error> {
    let mut rows = connection.prepare(
        "SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'
         ORDER BY type, name",
    )?;
    let made = rows
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?
        .collect::<Result<_, _>>()?;
    Ok(made)
}
