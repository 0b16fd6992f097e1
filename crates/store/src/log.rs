//! The log: append, and read from any place on.

use rusqlite::{Connection, OptionalExtension, Row, named_params};

use crate::canonical;
use crate::command::sealed::Run;
use crate::entry::{About, Draft, Entry, Kind, NewEntry};
use crate::error::Error;
use crate::hash::Hash;
use crate::moment::Moment;
use crate::names::{DeviceId, EntryId, Label, Name};
use crate::reading::Reading;
use crate::verify::Flaw;

/// Appends an entry. Sent twice with the same id it is stored once, and answered the same.
///
/// # Errors
/// [`Error::OtherContent`] when the id is taken by an entry that says something else,
/// [`Error::NoEntry`] and [`Error::Refused`] for a correction of nothing or in another kind of unit.
#[derive(Debug, Clone)]
pub struct Append {
    /// What happened.
    pub entry: NewEntry,
    /// Now, by the clock of the store's own machine.
    pub recorded: Moment,
}

/// Where an entry stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Receipt {
    /// Its place in the log.
    pub sequence: i64,
    /// Its hash.
    pub hash: Hash,
    /// Whether this command stored it; `false`: it was there already.
    pub is_new: bool,
}

/// The newest entry: with it kept elsewhere, a log that lost its end is found out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Head {
    /// Its place; 0 for an empty log.
    pub sequence: i64,
    /// Its hash; [`Hash::NONE`] for an empty log.
    pub hash: Hash,
}

/// Asks for the newest entry's place and hash.
#[derive(Debug, Clone, Copy)]
pub struct LogHead;

/// Asks for entries in the order they were appended. An entry that is not as it was written is not
/// handed out: the answer is [`Error::Broken`] and names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogOf {
    /// Only of this event.
    pub event: Option<Label>,
    /// Only of this lot.
    pub lot: Option<Label>,
    /// Only after this place; 0 from the beginning.
    pub after: i64,
    /// At most so many.
    pub most: u32,
}

impl LogOf {
    /// Everything, of every event.
    #[must_use]
    pub fn all() -> Self {
        Self {
            event: None,
            lot: None,
            after: 0,
            most: u32::MAX,
        }
    }

    /// Everything of an event.
    #[must_use]
    pub fn event(event: Label) -> Self {
        Self {
            event: Some(event),
            ..Self::all()
        }
    }

    /// Everything of a lot.
    #[must_use]
    pub fn lot(lot: Label) -> Self {
        Self {
            lot: Some(lot),
            ..Self::all()
        }
    }

    /// Only what came after `sequence`.
    #[must_use]
    pub fn after(self, sequence: i64) -> Self {
        Self {
            after: sequence,
            ..self
        }
    }
}

impl Run for Append {
    type Answer = Receipt;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<Receipt, Error> {
        let says = self.entry.says();
        if let Some(there) = by_id(connection, &says.id)? {
            return if canonical::content_of(&there.says) == canonical::content_of(says) {
                Ok(Receipt {
                    sequence: there.sequence,
                    hash: there.hash,
                    is_new: false,
                })
            } else {
                Err(Error::OtherContent {
                    id: says.id.to_string(),
                    sequence: there.sequence,
                })
            };
        }
        if let Some(of) = says.kind.corrects() {
            fits_what_it_corrects(connection, says, of)?;
        }
        let last = head(connection)?;
        let sequence = last.sequence + 1;
        let hash = canonical::hash(sequence, &last.hash, says, &self.recorded);
        insert(
            connection,
            sequence,
            says,
            &self.recorded,
            &last.hash,
            &hash,
        )?;
        Ok(Receipt {
            sequence,
            hash,
            is_new: true,
        })
    }
}

impl Run for LogHead {
    type Answer = Head;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Head, Error> {
        head(connection)
    }
}

impl Run for LogOf {
    type Answer = Vec<Entry>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<Entry>, Error> {
        let narrowed = match (&self.event, &self.lot) {
            (None, None) => "",
            (Some(_), None) => "AND event = :event",
            (None, Some(_)) => "AND lot = :lot",
            (Some(_), Some(_)) => "AND event = :event AND lot = :lot",
        };
        let sql =
            format!("{SELECT} WHERE sequence > :after {narrowed} ORDER BY sequence LIMIT :most");
        let mut statement = connection.prepare_cached(&sql)?;
        for (name, label) in [(":event", &self.event), (":lot", &self.lot)] {
            if let (Some(at), Some(label)) = (statement.parameter_index(name)?, label) {
                statement.raw_bind_parameter(at, label.as_str())?;
            }
        }
        for (name, number) in [(":after", self.after), (":most", i64::from(self.most))] {
            if let Some(at) = statement.parameter_index(name)? {
                statement.raw_bind_parameter(at, number)?;
            }
        }
        let mut rows = statement.raw_query();
        let mut entries = Vec::new();
        while let Some(row) = rows.next()? {
            let entry = entry(row)?;
            holds(&entry)?;
            entries.push(entry);
        }
        Ok(entries)
    }
}

/// Whether an entry is as it was written.
fn holds(entry: &Entry) -> Result<(), Error> {
    let hash = canonical::hash(entry.sequence, &entry.before, &entry.says, &entry.recorded);
    if hash == entry.hash {
        return Ok(());
    }
    Err(Error::Broken(Flaw::Content {
        sequence: entry.sequence,
    }))
}

pub(crate) fn head(connection: &Connection) -> Result<Head, Error> {
    let mut newest = connection
        .prepare_cached("SELECT sequence, hash FROM log ORDER BY sequence DESC LIMIT 1")?;
    let head = newest
        .query_row([], |row| {
            Ok(Head {
                sequence: row.get(0)?,
                hash: Hash::stored(row.get(1)?),
            })
        })
        .optional()?;
    Ok(head.unwrap_or(Head {
        sequence: 0,
        hash: Hash::NONE,
    }))
}

fn by_id(connection: &Connection, id: &EntryId) -> Result<Option<Entry>, Error> {
    let sql = format!("{SELECT} WHERE id = ?1");
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query([id.as_str()])?;
    rows.next()?.map(entry).transpose()
}

fn by_sequence(connection: &Connection, sequence: i64) -> Result<Option<Entry>, Error> {
    let sql = format!("{SELECT} WHERE sequence = ?1");
    let mut statement = connection.prepare_cached(&sql)?;
    let mut rows = statement.query([sequence])?;
    rows.next()?.map(entry).transpose()
}

/// A correction speaks of an entry of the same event, and in a unit that entry could have had.
fn fits_what_it_corrects(connection: &Connection, says: &Draft, of: i64) -> Result<(), Error> {
    let missing = || Error::NoEntry {
        sequence: of,
        event: says.about.event.to_string(),
    };
    let mut corrected = by_sequence(connection, of)?.ok_or_else(missing)?;
    if corrected.says.about.event != says.about.event {
        return Err(missing());
    }
    // A correction of a correction speaks of what stood at the beginning; each points backward.
    while let Kind::Correction { of } = corrected.says.kind {
        corrected = by_sequence(connection, of)?.ok_or_else(missing)?;
    }
    match says.reading {
        Some(reading) if !corrected.says.kind.takes(reading.unit()) => {
            Err(corrected.says.kind.wants(Some(reading)).into())
        }
        _ => Ok(()),
    }
}

fn insert(
    connection: &Connection,
    sequence: i64,
    says: &Draft,
    recorded: &Moment,
    before: &Hash,
    hash: &Hash,
) -> Result<(), Error> {
    let about = &says.about;
    let text = |label: &Option<Label>| label.as_ref().map(|l| l.as_str().to_owned());
    let mut statement = connection.prepare_cached(
        "INSERT INTO log (sequence, id, at, zone, recorded_at, recorded_zone, who, device, event,
             component, step, lot, part, kind, corrects, number, unit, words, before, hash)
         VALUES (:sequence, :id, :at, :zone, :recorded_at, :recorded_zone, :who, :device, :event,
             :component, :step, :lot, :part, :kind, :corrects, :number, :unit, :words, :before, :hash)",
    )?;
    statement.execute(named_params! {
        ":sequence": sequence,
        ":id": says.id.as_str(),
        ":at": says.at.text(),
        ":zone": says.at.zone(),
        ":recorded_at": recorded.text(),
        ":recorded_zone": recorded.zone(),
        ":who": says.who.as_str(),
        ":device": says.device.as_str(),
        ":event": about.event.as_str(),
        ":component": text(&about.component),
        ":step": text(&about.step),
        ":lot": text(&about.lot),
        ":part": text(&about.part),
        ":kind": says.kind.as_str(),
        ":corrects": says.kind.corrects(),
        ":number": says.reading.map(|r| r.number().to_string()),
        ":unit": says.reading.map(|r| r.unit().as_str()),
        ":words": says.words,
        ":before": before.bytes(),
        ":hash": hash.bytes(),
    })?;
    Ok(())
}

pub(crate) const SELECT: &str =
    "SELECT sequence, id, at, zone, recorded_at, recorded_zone, who, device, event,
        component, step, lot, part, kind, corrects, number, unit, words, before, hash,
        (SELECT max(c.sequence) FROM log AS c WHERE c.corrects = log.sequence)
     FROM log";

/// A row of [`SELECT`].
pub(crate) fn entry(row: &Row<'_>) -> Result<Entry, Error> {
    let sequence: i64 = row.get(0)?;
    let damaged = |what: &str| Error::damaged(format!("entry {sequence}: {what}"));
    let label = |at: usize| -> Result<Option<Label>, Error> {
        Ok(row.get::<_, Option<String>>(at)?.map(Label::stored))
    };
    let kind: String = row.get(13)?;
    let kind = Kind::stored(&kind, row.get(14)?).ok_or_else(|| damaged("no such kind"))?;
    let (number, unit): (Option<String>, Option<String>) = (row.get(15)?, row.get(16)?);
    let reading = match (number, unit) {
        (None, None) => None,
        (Some(number), Some(unit)) => {
            Some(Reading::stored(&number, &unit).ok_or_else(|| damaged("no such reading"))?)
        }
        _ => return Err(damaged("half a reading")),
    };
    let at: String = row.get(2)?;
    let recorded: String = row.get(4)?;
    Ok(Entry {
        sequence,
        says: Draft {
            id: EntryId::stored(row.get(1)?),
            at: Moment::stored(&at, row.get(3)?)?,
            who: Name::stored(row.get(6)?),
            device: DeviceId::stored(row.get(7)?),
            about: About {
                event: Label::stored(row.get(8)?),
                component: label(9)?,
                step: label(10)?,
                lot: label(11)?,
                part: label(12)?,
            },
            kind,
            reading,
            words: row.get(17)?,
        },
        recorded: Moment::stored(&recorded, row.get(5)?)?,
        before: Hash::stored(row.get(18)?),
        hash: Hash::stored(row.get(19)?),
        corrected_by: row.get(20)?,
    })
}

/// The highest number a table ever gave out, kept by SQLite beside the table.
pub(crate) fn sequence_of(connection: &Connection, table: &str) -> Result<i64, Error> {
    let ever: Option<i64> = connection
        .query_row(
            "SELECT seq FROM sqlite_sequence WHERE name = ?1",
            [table],
            |row| row.get(0),
        )
        .optional()?;
    Ok(ever.unwrap_or(0))
}
