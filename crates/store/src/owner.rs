//! The threads that own the connections: one writes, and in a file a second one reads.
//!
//! The writer takes what is waiting, at most [`MOST_AT_ONCE`] commands, carries them out in the order
//! they came, in one transaction with one flush to the disk, and answers them after the commit. Each
//! stands in a savepoint of its own: one that is refused leaves no trace and does not touch its
//! neighbours. The reader never waits for a flush; each read sees one moment, with everything that
//! was acknowledged before it was asked. A store in memory has the writer alone, which then reads too.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::Receiver;

use rusqlite::Connection;

use crate::command::sealed::Run;
use crate::error::Error;

/// Most commands in one round.
const MOST_AT_ONCE: usize = 256;

/// What comes down the channel.
pub(crate) enum Errand {
    Do(Box<dyn Job>),
    Stop,
}

/// A command with its way back, its types hidden.
pub(crate) trait Job: Send {
    fn writes(&self) -> bool;
    fn run(&mut self, connection: &Connection);
    fn failed(&self) -> Option<&Error>;
    /// Puts an error in place of the answer.
    fn fail(&mut self, error: Error);
    fn give(&mut self);
}

type Reply<A> = Box<dyn FnOnce(Result<A, Error>) + Send>;

/// A command asked.
pub(crate) struct Asked<C: Run> {
    command: C,
    answer: Result<C::Answer, Error>,
    reply: Option<Reply<C::Answer>>,
}

impl<C: Run> Asked<C> {
    pub(crate) fn new(command: C, reply: Reply<C::Answer>) -> Self {
        Self {
            command,
            answer: Err(Error::Closed),
            reply: Some(reply),
        }
    }
}

impl<C: Run> Job for Asked<C> {
    fn writes(&self) -> bool {
        C::WRITES
    }

    fn run(&mut self, connection: &Connection) {
        self.answer = self.command.run(connection);
    }

    fn failed(&self) -> Option<&Error> {
        self.answer.as_ref().err()
    }

    fn fail(&mut self, error: Error) {
        self.answer = Err(error);
    }

    fn give(&mut self) {
        if let Some(reply) = self.reply.take() {
            let answer = std::mem::replace(&mut self.answer, Err(Error::Closed));
            // A caller that fails on its answer must not take the store down with it.
            let _ = catch_unwind(AssertUnwindSafe(|| reply(answer)));
        }
    }
}

/// Nobody waits for ever: a command dropped unanswered is answered with "closed".
impl<C: Run> Drop for Asked<C> {
    fn drop(&mut self) {
        if self.reply.is_some() {
            self.answer = Err(Error::Closed);
            self.give();
        }
    }
}

/// Serves until it is told to stop or nobody is left to ask.
pub(crate) fn serve(connection: Connection, errands: &Receiver<Errand>) -> Result<(), Error> {
    while let Ok(first) = errands.recv() {
        let (mut writes, mut reads) = (Vec::new(), Vec::new());
        let mut stop = false;
        let waiting = errands.try_iter().take(MOST_AT_ONCE - 1);
        for errand in std::iter::once(first).chain(waiting) {
            match errand {
                Errand::Do(job) if job.writes() => writes.push(job),
                Errand::Do(job) => reads.push(job),
                Errand::Stop => {
                    stop = true;
                    break;
                }
            }
        }
        write(&connection, &mut writes);
        for job in &mut writes {
            job.give();
        }
        for job in &mut reads {
            read(&connection, job.as_mut());
            job.give();
        }
        if stop {
            break;
        }
    }
    close(connection)
}

/// Leaves one file without its write-ahead log where no other program has it open.
fn close(connection: Connection) -> Result<(), Error> {
    connection.close().map_err(|(_, error)| Error::from(error))
}

/// One snapshot for all a command reads.
fn read(connection: &Connection, job: &mut dyn Job) {
    if let Err(error) = connection.execute_batch("BEGIN") {
        job.fail(error.into());
        return;
    }
    job.run(connection);
    // Nothing was written, so there is nothing to lose either way.
    if let Err(error) = connection.execute_batch("ROLLBACK") {
        job.fail(error.into());
    }
}

fn write(connection: &Connection, jobs: &mut [Box<dyn Job>]) {
    match together(connection, jobs) {
        Ok(()) => {}
        // A crowd may not fit where one does; after any other failure nothing is tried twice.
        Err(Error::Full { .. }) if jobs.len() > 1 => {
            for job in jobs {
                if let Err(error) = together(connection, std::slice::from_mut(job)) {
                    job.fail(error);
                }
            }
        }
        Err(error) => {
            for job in jobs {
                job.fail(error.clone());
            }
        }
    }
}

/// All jobs in one transaction. An error means that nothing of any of them is stored.
fn together(connection: &Connection, jobs: &mut [Box<dyn Job>]) -> Result<(), Error> {
    if jobs.is_empty() {
        return Ok(());
    }
    connection.execute_batch("BEGIN IMMEDIATE")?;
    let done = each(connection, jobs).and_then(|()| Ok(connection.execute_batch("COMMIT")?));
    if done.is_err() && !connection.is_autocommit() {
        connection.execute_batch("ROLLBACK")?;
    }
    done
}

fn each(connection: &Connection, jobs: &mut [Box<dyn Job>]) -> Result<(), Error> {
    for job in jobs {
        connection.execute_batch("SAVEPOINT one")?;
        job.run(connection);
        if let Some(error) = job.failed() {
            // A full or failing disk may have ended the whole transaction.
            if connection.is_autocommit() || matches!(error, Error::Full { .. }) {
                return Err(error.clone());
            }
            connection.execute_batch("ROLLBACK TO one")?;
        }
        connection.execute_batch("RELEASE one")?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc;

    use super::*;
    use crate::{
        Append, DeviceId, Draft, EntryId, Kind, Label, LogOf, Moment, Name, Store, Verify,
    };

    /// Lets the file grow to so many pages and no further, as a full disk would.
    struct MostPages(u32);

    impl Run for MostPages {
        type Answer = ();
        const WRITES: bool = true;

        fn run(&self, connection: &Connection) -> Result<(), Error> {
            Ok(connection.pragma_update(None, "max_page_count", self.0)?)
        }
    }

    /// Holds the owner up until the test lets go, so that what follows is one group.
    struct HeldUp(mpsc::Receiver<()>);

    impl Run for HeldUp {
        type Answer = ();
        const WRITES: bool = true;

        fn run(&self, _: &Connection) -> Result<(), Error> {
            let _ = self.0.recv();
            Ok(())
        }
    }

    fn note(id: u32, bytes: usize) -> Append {
        let now = Moment::new("2027-10-07T12:30:00Z".parse().unwrap(), "UTC").unwrap();
        let draft = Draft {
            id: EntryId::new(&format!("t:{id}")).unwrap(),
            at: now.clone(),
            who: Name::new("Maren").unwrap(),
            device: DeviceId::new("t").unwrap(),
            about: crate::About::event(Label::new("supper").unwrap()),
            kind: Kind::Note,
            reading: None,
            words: "x".repeat(bytes),
        };
        Append {
            entry: draft.checked().unwrap(),
            recorded: now,
        }
    }

    #[test]
    fn a_full_file_refuses_clearly_and_loses_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("kitchen.db");
        let store = Store::create(&path).unwrap();
        store.ask(note(1, 100)).unwrap();
        store.ask(MostPages(60)).unwrap();
        let mut stored = 1;
        let full = loop {
            match store.ask(note(stored + 1, 9_000)) {
                Ok(receipt) => {
                    stored += 1;
                    assert_eq!(receipt.sequence, i64::from(stored));
                }
                Err(error) => break error,
            }
        };
        assert!(stored > 3, "{stored}");
        let file = path.display();
        assert_eq!(
            full.to_string(),
            format!(
                "found no room left on the disk of {file}; expected room to write; now: free some \
                 room, then send it again; what was acknowledged is kept, this was not stored"
            )
        );
        // What was acknowledged is there; with room again, the same goes through.
        assert_eq!(
            store.ask(Verify::default()).unwrap().entries,
            i64::from(stored)
        );
        store.ask(MostPages(1_000_000)).unwrap();
        let receipt = store.ask(note(stored + 1, 9_000)).unwrap();
        assert!(receipt.is_new);
        store.close().unwrap();
        let verified = Store::open(&path).unwrap().ask(Verify::default()).unwrap();
        assert_eq!(verified.entries, i64::from(stored) + 1);
    }

    #[test]
    fn one_too_large_for_the_disk_does_not_take_its_neighbours_along() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::create(&folder.path().join("kitchen.db")).unwrap();
        store.ask(MostPages(60)).unwrap();
        let (let_go, held_up) = mpsc::channel();
        store.send(HeldUp(held_up), |_| {});
        let (reply, answers) = mpsc::channel();
        for (id, bytes) in [(1, 10), (2, 1_000_000), (3, 10)] {
            let reply = reply.clone();
            store.send(note(id, bytes), move |answer| {
                reply.send((id, answer)).unwrap()
            });
        }
        // Dropped and not sent: a crowd that does not fit is tried again one by one, this one too.
        drop(let_go);
        drop(reply);
        let answers: Vec<_> = answers.iter().collect();
        for (id, answer) in answers {
            assert_eq!(answer.is_ok(), id != 2, "{id}: {answer:?}");
        }
        let log = store.ask(LogOf::all()).unwrap();
        let ids: Vec<&str> = log.iter().map(|e| e.says.id.as_str()).collect();
        assert_eq!(ids, ["t:1", "t:3"]);
    }
}
