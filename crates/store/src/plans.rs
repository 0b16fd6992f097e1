//! Plans on record: which revisions of which pages a plan was made from.

use book::SourceFile;
use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::command::sealed::Run;
use crate::error::{Error, Refusal};
use crate::moment::Moment;
use crate::names::{Label, Name};
use crate::page::PageId;
use crate::pages::numbered;
use crate::whole_book::source_file;

/// A page at a revision.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pin {
    /// The page.
    pub page: PageId,
    /// The number of the revision.
    pub number: u32,
}

/// Puts on record what a plan was made from. The same as the newest one of the event again is
/// answered with that one.
///
/// # Errors
/// [`Error::NoRevision`] when a pin points at nothing or at a page taken out, [`Error::Refused`] when
/// a page is pinned twice.
#[derive(Debug, Clone)]
pub struct RecordPlan {
    /// The event.
    pub event: Label,
    /// What the plan was asked with beside the book, as the caller writes it (`--set` lines, say).
    pub settings: String,
    /// The pages it used.
    pub pins: Vec<Pin>,
    /// Who planned.
    pub who: Name,
    /// When.
    pub at: Moment,
}

/// A plan on record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanRecord {
    /// Its number.
    pub id: i64,
    /// The event.
    pub event: Label,
    /// What it was asked with.
    pub settings: String,
    /// The pages it used, by name.
    pub pins: Vec<Pin>,
    /// Who planned.
    pub who: Name,
    /// When.
    pub at: Moment,
}

/// Asks for the plans of an event, the oldest first.
#[derive(Debug, Clone)]
pub struct PlansOf {
    /// The event.
    pub event: Label,
}

/// Asks for the files a plan was made from, as they were, by name.
///
/// # Errors
/// [`Error::NoPlan`].
#[derive(Debug, Clone, Copy)]
pub struct PagesOfPlan {
    /// The plan's number.
    pub id: i64,
}

impl Run for RecordPlan {
    type Answer = PlanRecord;
    const WRITES: bool = true;

    fn run(&self, connection: &Connection) -> Result<PlanRecord, Error> {
        let mut pins = self.pins.clone();
        pins.sort();
        if let Some(twice) = pins.windows(2).find(|two| two[0].page == two[1].page) {
            return Err(Error::Refused(Refusal {
                what: "the pages of a plan",
                found: format!("{} twice", twice[0].page),
                expected: "every page once".to_owned(),
                do_now: "plan from one revision of each page",
            }));
        }
        for pin in &pins {
            let there = numbered(connection, &pin.page, pin.number)?;
            if there.is_none_or(|revision| revision.text.is_none()) {
                return Err(Error::NoRevision {
                    page: pin.page.clone(),
                    number: pin.number,
                });
            }
        }
        let sql = format!("{SELECT} WHERE event = ?1 ORDER BY id DESC LIMIT 1");
        if let Some(newest) = first(connection, &sql, params![self.event.as_str()])?
            && newest.pins == pins
            && newest.settings == self.settings
        {
            return Ok(newest);
        }
        connection.execute(
            "INSERT INTO plan (event, settings, who, at, zone) VALUES (?1, ?2, ?3, ?4, ?5)",
            params![
                self.event.as_str(),
                self.settings,
                self.who.as_str(),
                self.at.text(),
                self.at.zone()
            ],
        )?;
        let id = connection.last_insert_rowid();
        let mut add = connection
            .prepare_cached("INSERT INTO plan_page (plan, page, number) VALUES (?1, ?2, ?3)")?;
        for pin in &pins {
            add.execute(params![id, pin.page.as_str(), pin.number])?;
        }
        Ok(PlanRecord {
            id,
            event: self.event.clone(),
            settings: self.settings.clone(),
            pins,
            who: self.who.clone(),
            at: self.at.clone(),
        })
    }
}

impl Run for PlansOf {
    type Answer = Vec<PlanRecord>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<PlanRecord>, Error> {
        let sql = format!("{SELECT} WHERE event = ?1 ORDER BY id");
        let mut statement = connection.prepare_cached(&sql)?;
        let mut rows = statement.query([self.event.as_str()])?;
        let mut plans = Vec::new();
        while let Some(row) = rows.next()? {
            plans.push(plan(connection, row)?);
        }
        Ok(plans)
    }
}

impl Run for PagesOfPlan {
    type Answer = Vec<SourceFile>;
    const WRITES: bool = false;

    fn run(&self, connection: &Connection) -> Result<Vec<SourceFile>, Error> {
        let sql = format!("{SELECT} WHERE id = ?1");
        let plan =
            first(connection, &sql, params![self.id])?.ok_or(Error::NoPlan { id: self.id })?;
        let mut files = Vec::with_capacity(plan.pins.len());
        for Pin { page, number } in plan.pins {
            match numbered(connection, &page, number)? {
                Some(revision) => files.push(source_file(page, revision.text)),
                None => return Err(Error::NoRevision { page, number }),
            }
        }
        Ok(files)
    }
}

const SELECT: &str = "SELECT id, event, settings, who, at, zone FROM plan";

fn first(
    connection: &Connection,
    sql: &str,
    given: impl rusqlite::Params,
) -> Result<Option<PlanRecord>, Error> {
    let mut statement = connection.prepare_cached(sql)?;
    let found = statement
        .query_row(given, |row| Ok(plan(connection, row)))
        .optional()?;
    found.transpose()
}

fn plan(connection: &Connection, row: &Row<'_>) -> Result<PlanRecord, Error> {
    let id = row.get(0)?;
    let mut statement = connection
        .prepare_cached("SELECT page, number FROM plan_page WHERE plan = ?1 ORDER BY page")?;
    let pins = statement
        .query_map([id], |row| {
            Ok(Pin {
                page: PageId::stored(row.get(0)?),
                number: row.get(1)?,
            })
        })?
        .collect::<Result<_, _>>()?;
    let at: String = row.get(4)?;
    Ok(PlanRecord {
        id,
        event: Label::stored(row.get(1)?),
        settings: row.get(2)?,
        pins,
        who: Name::stored(row.get(3)?),
        at: Moment::stored(&at, row.get(5)?)?,
    })
}
