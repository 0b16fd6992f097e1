//! Commands: what the owner thread can be asked, each with the type of its answer.

use rusqlite::Connection;

use crate::error::Error;

/// Something the store can be asked. Closed: the commands are those of this room.
pub trait Command: sealed::Run {}

impl<C: sealed::Run> Command for C {}

pub(crate) mod sealed {
    use super::{Connection, Error};

    /// How a command is carried out, out of reach of other rooms.
    pub trait Run: Send + 'static {
        /// What comes back.
        type Answer: Send + 'static;
        /// Whether it changes the file.
        const WRITES: bool;
        /// Carries it out. May be called again after its changes were rolled back.
        ///
        /// # Errors
        /// When nothing of it may be stored.
        fn run(&self, connection: &Connection) -> Result<Self::Answer, Error>;
    }
}
