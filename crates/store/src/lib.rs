//! One SQLite file holds a kitchen's record: pages of the book as revisions, the log of what
//! happened, plans on record, people and devices.
//!
//! A [`Store`] owns one thread, and that thread owns the connection. Commands are plain structs; each
//! names the type of its answer: [`Store::ask`] waits for it, [`Store::send`] hands it to a closure
//! (from async code: a oneshot channel's sender). A write is answered once it is on the disk.
//!
//! | about | write | read |
//! |---|---|---|
//! | log | [`Append`] | [`LogOf`], [`LogHead`] |
//! | pages | [`SavePage`], [`SettleConflict`], [`ImportBook`] | [`LatestPages`], [`BookNumber`], [`GetPage`], [`History`], [`OpenConflicts`], [`ExportBook`] |
//! | plans | [`RecordPlan`] | [`PlansOf`], [`PagesOfPlan`] |
//! | people | [`AddPerson`], [`ChangePerson`], [`AddDevice`], [`RemoveDevice`], [`OpenSession`], [`ProlongSession`], [`EndSession`], [`EndSessionsOf`], [`ClearSessions`] | [`People`], [`PersonNamed`], [`Devices`], [`FindSession`], [`SessionsNow`] |
//! | the file | [`Store::backup`], [`restore`] | [`Verify`] |
//!
//! The room judges no text and no reading beyond what cannot be; it reads no clock (moments come in
//! with the commands), prints nothing and knows no network. Tables, canonical form, guarantees and
//! what is not guaranteed stand in `docs/store.md`.

mod backup;
mod canonical;
mod command;
mod entry;
mod error;
mod hash;
mod log;
mod migration;
mod moment;
mod names;
mod open;
mod owner;
mod page;
mod pages;
mod people;
mod plans;
mod reading;
mod sessions;
mod store;
mod verify;
mod whole_book;

pub use backup::{Restored, restore};
pub use command::Command;
pub use entry::{About, Draft, Entry, Kind, MOST_TEXT_BYTES, NewEntry};
pub use error::{Error, Refusal, Told};
pub use hash::Hash;
pub use log::{Append, Head, LogHead, LogOf, Receipt};
pub use migration::version;
pub use moment::{FIRST_YEAR, LAST_YEAR, Moment};
pub use names::{DeviceId, EntryId, LONGEST_NAME, Label, Name};
pub use page::{Conflict, LONGEST_PAGE_ID, PageId, PageKind, Revision};
pub use pages::{
    BookNow, BookNumber, GetPage, History, LatestPages, OpenConflicts, SavePage, Saving,
    SettleConflict,
};
pub use people::{
    AddDevice, AddPerson, ChangePerson, ClearSessions, Device, Devices, EndSession, FindSession,
    OpenSession, People, Person, PersonId, PersonNamed, RemoveDevice, Role, Session,
};
pub use plans::{PagesOfPlan, Pin, PlanRecord, PlansOf, RecordPlan};
pub use reading::{MOST_PH, Reading, Unit};
pub use sessions::{EndSessionsOf, ProlongSession, SessionsNow, SignedIn};
pub use store::Store;
pub use verify::{Flaw, Verified, Verify};
pub use whole_book::{ExportBook, ImportBook, Imported};
