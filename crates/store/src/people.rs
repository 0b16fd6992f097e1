//! People, devices and sessions: who may sign in, from where, until when.
//!
//! Passwords and session keys are opaque here: the caller hands in a password's hash and a hash of
//! the session's secret, so that a stolen file opens no session.

use jiff::Timestamp;
use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::command::sealed::Run;
use crate::error::Error;
use crate::moment::{Moment, instant_text};
use crate::names::{DeviceId, Label, Name};

/// What a person may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// Sees and changes everything.
    Instructor,
    /// Works at a station; never sees costs.
    Learner,
    /// Looks on.
    Viewer,
}

const ROLES: [(Role, &str); 3] = [
    (Role::Instructor, "instructor"),
    (Role::Learner, "learner"),
    (Role::Viewer, "viewer"),
];

impl Role {
    /// How it is stored.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        ROLES
            .iter()
            .find(|(role, _)| *role == self)
            .map_or("", |(_, name)| name)
    }

    /// The role a word names.
    #[must_use]
    pub fn named(text: &str) -> Option<Self> {
        ROLES
            .iter()
            .find(|(_, name)| *name == text)
            .map(|(role, _)| *role)
    }
}

/// A person by number; names may change, numbers do not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PersonId(pub i64);

/// A person who may sign in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Person {
    /// The number.
    pub id: PersonId,
    /// The name the record carries.
    pub name: Name,
    /// What they may do.
    pub role: Role,
    /// The hash of a password, opaque here; `None`: no sign-in by password.
    pub password: Option<String>,
    /// Since when.
    pub since: Moment,
    /// From when on they may no longer sign in.
    pub left: Option<Moment>,
}

/// A device that may be signed in from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Device {
    /// The id its entries carry.
    pub id: DeviceId,
    /// What people call it.
    pub name: Label,
    /// Since when.
    pub since: Moment,
    /// From when on it may no longer be used.
    pub left: Option<Moment>,
}

/// A session that holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Session {
    /// Who is signed in.
    pub person: Person,
    /// From which device.
    pub device: DeviceId,
    /// What people call the device.
    pub device_name: Label,
    /// When it ends.
    pub ends: Timestamp,
}

/// Adds a person.
///
/// # Errors
/// [`Error::NameTaken`].
#[derive(Debug, Clone)]
pub struct AddPerson {
    /// The name.
    pub name: Name,
    /// What they may do.
    pub role: Role,
    /// The hash of a password.
    pub password: Option<String>,
    /// Now.
    pub at: Moment,
}

/// Writes a person's row anew: name, role, password, left. Who left loses every session.
///
/// # Errors
/// [`Error::NoPerson`], [`Error::NameTaken`].
#[derive(Debug, Clone)]
pub struct ChangePerson(pub Person);

/// Asks for everybody, by name, those who left too.
#[derive(Debug, Clone, Copy)]
pub struct People;

/// Asks for the person of a name.
#[derive(Debug, Clone)]
pub struct PersonNamed(pub Name);

/// Adds a device.
///
/// # Errors
/// [`Error::KeyTaken`].
#[derive(Debug, Clone)]
pub struct AddDevice {
    /// Its id.
    pub id: DeviceId,
    /// What people call it.
    pub name: Label,
    /// Now.
    pub at: Moment,
}

/// Takes a device out; its sessions end. Its entries stay.
///
/// # Errors
/// [`Error::NoDevice`].
#[derive(Debug, Clone)]
pub struct RemoveDevice {
    /// Its id.
    pub id: DeviceId,
    /// Now.
    pub at: Moment,
}

/// Asks for all devices, by id, those taken out too.
#[derive(Debug, Clone, Copy)]
pub struct Devices;

/// Opens a session.
///
/// # Errors
/// [`Error::NoPerson`] and [`Error::NoDevice`] for somebody or something that is not here or left,
/// [`Error::KeyTaken`], [`Error::Refused`] when it would end before it begins.
#[derive(Debug, Clone)]
pub struct OpenSession {
    /// A hash of its secret.
    pub key: String,
    /// Who.
    pub person: PersonId,
    /// From which device.
    pub device: DeviceId,
    /// Now.
    pub at: Timestamp,
    /// When it ends.
    pub ends: Timestamp,
}

/// Asks for the session of a key, if it holds now; `None` if it ended or never was.
#[derive(Debug, Clone)]
pub struct FindSession {
    /// The hash of its secret.
    pub key: String,
    /// Now.
    pub at: Timestamp,
}

/// Ends a session; one that is not there is no error.
#[derive(Debug, Clone)]
pub struct EndSession {
    /// The hash of its secret.
    pub key: String,
}

/// Clears away sessions that ended; answers how many.
#[derive(Debug, Clone, Copy)]
pub struct ClearSessions {
    /// Now.
    pub at: Timestamp,
}

impl Run for AddPerson {
    type Answer = Person;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<Person, Error> {
        free(connection, &self.name, None)?;
        connection.execute(
            "INSERT INTO person (name, role, password, since, since_zone)
             VALUES (?1, ?2, ?3, ?4, ?5)",
            params![
                self.name.as_str(),
                self.role.as_str(),
                self.password,
                self.at.text(),
                self.at.zone()
            ],
        )?;
        Ok(Person {
            id: PersonId(connection.last_insert_rowid()),
            name: self.name.clone(),
            role: self.role,
            password: self.password.clone(),
            since: self.at.clone(),
            left: None,
        })
    }
}

impl Run for ChangePerson {
    type Answer = ();
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<(), Error> {
        let person = &self.0;
        free(connection, &person.name, Some(person.id))?;
        let changed = connection.execute(
            "UPDATE person SET name = ?2, role = ?3, password = ?4, left_at = ?5, left_zone = ?6
             WHERE id = ?1",
            params![
                person.id.0,
                person.name.as_str(),
                person.role.as_str(),
                person.password,
                person.left.as_ref().map(Moment::text),
                person.left.as_ref().map(Moment::zone)
            ],
        )?;
        if changed == 0 {
            return Err(Error::NoPerson {
                who: person.name.to_string(),
            });
        }
        if person.left.is_some() {
            connection.execute("DELETE FROM session WHERE person = ?1", [person.id.0])?;
        }
        Ok(())
    }
}

impl Run for People {
    type Answer = Vec<Person>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<Person>, Error> {
        let sql = format!("{SELECT_PERSON} ORDER BY name");
        let mut statement = connection.prepare_cached(&sql)?;
        let mut rows = statement.query([])?;
        let mut people = Vec::new();
        while let Some(row) = rows.next()? {
            people.push(person(row)?);
        }
        Ok(people)
    }
}

impl Run for PersonNamed {
    type Answer = Option<Person>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Option<Person>, Error> {
        let sql = format!("{SELECT_PERSON} WHERE name = ?1");
        let mut statement = connection.prepare_cached(&sql)?;
        let mut rows = statement.query([self.0.as_str()])?;
        rows.next()?.map(person).transpose()
    }
}

impl Run for AddDevice {
    type Answer = Device;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<Device, Error> {
        let added = connection.execute(
            "INSERT INTO device (id, name, since, since_zone) VALUES (?1, ?2, ?3, ?4)
             ON CONFLICT DO NOTHING",
            params![
                self.id.as_str(),
                self.name.as_str(),
                self.at.text(),
                self.at.zone()
            ],
        )?;
        if added == 0 {
            return Err(Error::KeyTaken { what: "device" });
        }
        Ok(Device {
            id: self.id.clone(),
            name: self.name.clone(),
            since: self.at.clone(),
            left: None,
        })
    }
}

impl Run for RemoveDevice {
    type Answer = ();
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<(), Error> {
        let removed = connection.execute(
            "UPDATE device SET left_at = ?2, left_zone = ?3 WHERE id = ?1 AND left_at IS NULL",
            params![self.id.as_str(), self.at.text(), self.at.zone()],
        )?;
        if removed == 0 {
            return Err(Error::NoDevice {
                device: self.id.to_string(),
            });
        }
        connection.execute("DELETE FROM session WHERE device = ?1", [self.id.as_str()])?;
        Ok(())
    }
}

impl Run for Devices {
    type Answer = Vec<Device>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<Device>, Error> {
        let mut statement = connection.prepare_cached(
            "SELECT id, name, since, since_zone, left_at, left_zone FROM device ORDER BY id",
        )?;
        let mut rows = statement.query([])?;
        let mut devices = Vec::new();
        while let Some(row) = rows.next()? {
            devices.push(Device {
                id: DeviceId::stored(row.get(0)?),
                name: Label::stored(row.get(1)?),
                since: moment(row, 2)?,
                left: moment_or_none(row, 4)?,
            });
        }
        Ok(devices)
    }
}

impl Run for OpenSession {
    type Answer = ();
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<(), Error> {
        let is_there = |sql: &str, key: &dyn rusqlite::ToSql| -> Result<bool, Error> {
            Ok(connection.prepare_cached(sql)?.exists([key])?)
        };
        if !is_there(
            "SELECT 1 FROM person WHERE id = ?1 AND left_at IS NULL",
            &self.person.0,
        )? {
            return Err(Error::NoPerson {
                who: format!("person {}", self.person.0),
            });
        }
        if !is_there(
            "SELECT 1 FROM device WHERE id = ?1 AND left_at IS NULL",
            &self.device.as_str(),
        )? {
            return Err(Error::NoDevice {
                device: self.device.to_string(),
            });
        }
        if self.ends <= self.at {
            return Err(Error::Refused(crate::error::Refusal {
                what: "the session",
                found: format!("an end at {}, a beginning at {}", self.ends, self.at),
                expected: "an end after the beginning".to_owned(),
                do_now: "give it a time to last",
            }));
        }
        let opened = connection.execute(
            "INSERT INTO session (key, person, device, since, ends) VALUES (?1, ?2, ?3, ?4, ?5)
             ON CONFLICT DO NOTHING",
            params![
                self.key,
                self.person.0,
                self.device.as_str(),
                instant_text(self.at),
                instant_text(self.ends)
            ],
        )?;
        if opened == 0 {
            return Err(Error::KeyTaken {
                what: "session key",
            });
        }
        Ok(())
    }
}

impl Run for FindSession {
    type Answer = Option<Session>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Option<Session>, Error> {
        let mut statement = connection.prepare_cached(
            "SELECT p.id, p.name, p.role, p.password, p.since, p.since_zone, p.left_at, p.left_zone,
                 s.device, s.ends, d.name
             FROM session AS s JOIN person AS p ON p.id = s.person
                 JOIN device AS d ON d.id = s.device
             WHERE s.key = ?1 AND s.ends > ?2 AND p.left_at IS NULL AND d.left_at IS NULL",
        )?;
        let mut rows = statement.query(params![self.key, instant_text(self.at)])?;
        let Some(row) = rows.next()? else {
            return Ok(None);
        };
        let ends: String = row.get(9)?;
        Ok(Some(Session {
            person: person(row)?,
            device: DeviceId::stored(row.get(8)?),
            device_name: Label::stored(row.get(10)?),
            ends: Moment::stored(&ends, String::new())?.instant(),
        }))
    }
}

impl Run for EndSession {
    type Answer = ();
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<(), Error> {
        connection.execute("DELETE FROM session WHERE key = ?1", [&self.key])?;
        Ok(())
    }
}

impl Run for ClearSessions {
    type Answer = usize;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<usize, Error> {
        let ended = connection.execute(
            "DELETE FROM session WHERE ends <= ?1",
            [instant_text(self.at)],
        )?;
        Ok(ended)
    }
}

const SELECT_PERSON: &str =
    "SELECT id, name, role, password, since, since_zone, left_at, left_zone FROM person";

fn person(row: &Row<'_>) -> Result<Person, Error> {
    let role: String = row.get(2)?;
    Ok(Person {
        id: PersonId(row.get(0)?),
        name: Name::stored(row.get(1)?),
        role: Role::named(&role)
            .ok_or_else(|| Error::damaged(format!("no such role: {role:?}")))?,
        password: row.get(3)?,
        since: moment(row, 4)?,
        left: moment_or_none(row, 6)?,
    })
}

fn moment(row: &Row<'_>, at: usize) -> Result<Moment, Error> {
    let text: String = row.get(at)?;
    Moment::stored(&text, row.get(at + 1)?)
}

fn moment_or_none(row: &Row<'_>, at: usize) -> Result<Option<Moment>, Error> {
    let text: Option<String> = row.get(at)?;
    match text {
        None => Ok(None),
        Some(text) => Moment::stored(&text, row.get(at + 1)?).map(Some),
    }
}

fn free(connection: &Connection, name: &Name, of: Option<PersonId>) -> Result<(), Error> {
    let mut statement = connection.prepare_cached("SELECT id FROM person WHERE name = ?1")?;
    let there: Option<i64> = statement
        .query_row([name.as_str()], |row| row.get(0))
        .optional()?;
    match there {
        Some(id) if of != Some(PersonId(id)) => Err(Error::NameTaken {
            name: name.to_string(),
        }),
        _ => Ok(()),
    }
}
