//! Sessions as somebody who looks after them needs them: who is signed in where, longer, no longer.

use jiff::Timestamp;
use rusqlite::{Connection, params};

use crate::command::sealed::Run;
use crate::error::Error;
use crate::moment::{Moment, instant_text};
use crate::names::{DeviceId, Label, Name};
use crate::people::{PersonId, Role};

/// One session that holds, without its key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignedIn {
    /// Who.
    pub person: PersonId,
    /// Their name.
    pub name: Name,
    /// What they may do.
    pub role: Role,
    /// From which device.
    pub device: DeviceId,
    /// What people call the device.
    pub device_name: Label,
    /// Since when.
    pub since: Timestamp,
    /// When it ends if nothing is asked of it.
    pub ends: Timestamp,
}

/// Asks for the sessions that hold now, by name and device.
#[derive(Debug, Clone, Copy)]
pub struct SessionsNow {
    /// Now.
    pub at: Timestamp,
}

/// Lets a session that holds now last until another moment; one that ended stays ended.
#[derive(Debug, Clone)]
pub struct ProlongSession {
    /// The hash of its secret.
    pub key: String,
    /// Now.
    pub at: Timestamp,
    /// Its new end.
    pub ends: Timestamp,
}

/// Ends the sessions of a person, on one device or on all; answers how many.
#[derive(Debug, Clone)]
pub struct EndSessionsOf {
    /// Who.
    pub person: PersonId,
    /// On which device; `None`: wherever they are.
    pub device: Option<DeviceId>,
}

impl Run for SessionsNow {
    type Answer = Vec<SignedIn>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<SignedIn>, Error> {
        let mut statement = connection.prepare_cached(
            "SELECT p.id, p.name, p.role, s.device, d.name, s.since, s.ends
             FROM session AS s JOIN person AS p ON p.id = s.person
                 JOIN device AS d ON d.id = s.device
             WHERE s.ends > ?1 AND p.left_at IS NULL AND d.left_at IS NULL
             ORDER BY p.name, s.device, s.since",
        )?;
        let mut rows = statement.query([instant_text(self.at)])?;
        let mut sessions = Vec::new();
        while let Some(row) = rows.next()? {
            let (role, since, ends): (String, String, String) =
                (row.get(2)?, row.get(5)?, row.get(6)?);
            sessions.push(SignedIn {
                person: PersonId(row.get(0)?),
                name: Name::stored(row.get(1)?),
                role: Role::named(&role)
                    .ok_or_else(|| Error::damaged(format!("no such role: {role:?}")))?,
                device: DeviceId::stored(row.get(3)?),
                device_name: Label::stored(row.get(4)?),
                since: Moment::stored(&since, String::new())?.instant(),
                ends: Moment::stored(&ends, String::new())?.instant(),
            });
        }
        Ok(sessions)
    }
}

impl Run for ProlongSession {
    type Answer = ();
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<(), Error> {
        connection.execute(
            "UPDATE session SET ends = ?3 WHERE key = ?1 AND ends > ?2 AND ends < ?3",
            params![self.key, instant_text(self.at), instant_text(self.ends)],
        )?;
        Ok(())
    }
}

impl Run for EndSessionsOf {
    type Answer = usize;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<usize, Error> {
        let ended = connection.execute(
            "DELETE FROM session WHERE person = ?1 AND (?2 IS NULL OR device = ?2)",
            params![self.person.0, self.device.as_ref().map(DeviceId::as_str)],
        )?;
        Ok(ended)
    }
}
