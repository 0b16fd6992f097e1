//! The handle other rooms hold.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Sender};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{self, JoinHandle};

use rusqlite::Connection;

use crate::command::Command;
use crate::error::Error;
use crate::open;
use crate::owner::{Asked, Errand, serve};

/// A database that is open. Clones are cheap and speak to the same owner; the last one to go closes
/// the file, after everything asked before was done.
///
/// # Example
/// ```
/// use store::{Append, Draft, About, EntryId, DeviceId, Kind, Label, LogOf, Moment, Name, Store};
/// let store = Store::in_memory()?;
/// let now = Moment::new("2027-10-07T12:30:00Z".parse()?, "America/Toronto")?;
/// let entry = Draft {
///     id: EntryId::new("tablet-2:41")?,
///     at: now.clone(),
///     who: Name::new("Maren")?,
///     device: DeviceId::new("tablet-2")?,
///     about: About::event(Label::new("harvest-supper")?),
///     kind: Kind::Started,
///     reading: None,
///     words: String::new(),
/// };
/// let append = Append { entry: entry.checked()?, recorded: now };
/// let first = store.ask(append.clone())?;
/// let again = store.ask(append)?;
/// assert_eq!((first.sequence, again.sequence), (1, 1));
/// assert!(!again.is_new);
/// let log = store.ask(LogOf::event(Label::new("harvest-supper")?))?;
/// assert_eq!(log.len(), 1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Store(Arc<Inner>);

#[derive(Debug)]
struct Inner {
    writer: Owner,
    /// `None` in memory, where only one connection sees the tables.
    reader: Option<Owner>,
    file: Option<PathBuf>,
}

/// A thread with a connection of its own.
#[derive(Debug)]
struct Owner {
    errands: Sender<Errand>,
    thread: Mutex<Option<JoinHandle<Result<(), Error>>>>,
}

impl Owner {
    fn of(connection: Connection, name: &str) -> Result<Self, Error> {
        let (errands, inbox) = mpsc::channel();
        let thread = thread::Builder::new()
            .name(name.to_owned())
            .spawn(move || serve(connection, &inbox))
            .map_err(|e| Error::Disk {
                file: String::new(),
                said: e.to_string(),
            })?;
        Ok(Self {
            errands,
            thread: Mutex::new(Some(thread)),
        })
    }

    fn stop(&self) -> Result<(), Error> {
        let _ = self.errands.send(Errand::Stop);
        let thread = self
            .thread
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .take();
        match thread {
            // A reply that holds the last handle closes from the thread itself.
            Some(own) if own.thread().id() == thread::current().id() => Ok(()),
            Some(thread) => thread.join().unwrap_or(Err(Error::Closed)),
            None => Ok(()),
        }
    }
}

impl Store {
    /// Makes a new database. It is there whole or not at all.
    ///
    /// # Errors
    /// [`Error::Exists`] when the name is taken; otherwise what the disk refused.
    pub fn create(path: &Path) -> Result<Self, Error> {
        Self::in_file(open::create(path)?, path)
    }

    /// Opens a database that is there, and brings it to this version if it is older.
    ///
    /// It reads no entry; ask [`Verify`](crate::Verify) for that.
    ///
    /// # Errors
    /// [`Error::NoFile`], [`Error::NotOurs`] (an empty file too: a record cut to nothing looks the
    /// same), [`Error::Newer`], [`Error::Shape`], [`Error::ReadOnly`], [`Error::Busy`],
    /// [`Error::Damaged`]. The file is then as it was.
    pub fn open(path: &Path) -> Result<Self, Error> {
        Self::in_file(open::open(path)?, path)
    }

    /// A database that vanishes with its last handle; for tests and trials.
    ///
    /// # Errors
    /// When there is no memory for it.
    pub fn in_memory() -> Result<Self, Error> {
        Ok(Self(Arc::new(Inner {
            writer: Owner::of(open::in_memory()?, "store")?,
            reader: None,
            file: None,
        })))
    }

    fn in_file(connection: Connection, path: &Path) -> Result<Self, Error> {
        let reading = open::beside_writer(path)?;
        Ok(Self(Arc::new(Inner {
            writer: Owner::of(connection, "store")?,
            reader: Some(Owner::of(reading, "store reads")?),
            file: Some(path.to_owned()),
        })))
    }

    /// Asks and waits for the answer. A write is answered once it is on the disk.
    ///
    /// # Errors
    /// Those of the command, and [`Error::Closed`].
    pub fn ask<C: Command>(&self, command: C) -> Result<C::Answer, Error> {
        let (reply, answer) = mpsc::sync_channel(1);
        self.send(command, move |answer| {
            // Nobody waiting any more is no failure of the store.
            let _ = reply.send(answer);
        });
        answer.recv().unwrap_or(Err(Error::Closed))
    }

    /// Asks and goes on; `reply` is called exactly once, usually on an owner's thread: it hands the
    /// answer over (to a oneshot channel, say) and does nothing slow.
    ///
    /// A read sees every write that was answered before it was sent. Between a read and a write that
    /// are under way at the same time there is no order: wait for the answer where it matters.
    pub fn send<C: Command>(
        &self,
        command: C,
        reply: impl FnOnce(Result<C::Answer, Error>) + Send + 'static,
    ) {
        let file = self.0.file.clone();
        let reply = move |answer: Result<C::Answer, Error>| {
            reply(match file {
                Some(file) => answer.map_err(|e| e.of(&file)),
                None => answer,
            });
        };
        let job = Asked::new(command, Box::new(reply));
        let owner = match &self.0.reader {
            Some(reader) if !C::WRITES => reader,
            _ => &self.0.writer,
        };
        // Where the owner is gone the job comes back, is dropped, and so answers "closed".
        let _ = owner.errands.send(Errand::Do(Box::new(job)));
    }

    /// The file, unless the store is in memory.
    #[must_use]
    pub fn file(&self) -> Option<&Path> {
        self.0.file.as_deref()
    }

    /// Does what was asked before, then closes the file; for every clone of the handle. Closing
    /// twice is no error.
    ///
    /// # Errors
    /// When the file could not be closed cleanly; what was acknowledged is kept all the same.
    pub fn close(&self) -> Result<(), Error> {
        self.0.close()
    }
}

impl Inner {
    /// The reader first: the last connection to go brings the write-ahead log home.
    fn close(&self) -> Result<(), Error> {
        let reader = self.reader.as_ref().map_or(Ok(()), Owner::stop);
        self.writer.stop().and(reader)
    }
}

impl Drop for Inner {
    fn drop(&mut self) {
        let _ = self.close();
    }
}
