//! The board: the kitchen's own pages, served on the kitchen's own network.
//!
//! A page is the plan as somebody needs to see it; every page has its own address, works without
//! scripts and prints. This room has no formulas: a figure on a page is a figure of the plan, and opens its
//! derivation. It reads no arguments and chooses no address: the binary hands it a book, the bench questions,
//! a clock and a listener.

mod access;
mod address;
mod app;
mod clock_picture;
mod day;
mod device;
mod differ;
mod entry;
mod happened;
mod kept;
mod live;
mod look;
mod names;
mod page;
mod pages;
mod planned;
mod shelf;
mod shown;
mod tongue;
mod trouble;
mod underway;
mod wall;
mod written;

use std::future::Future;
use std::sync::Arc;

use axum::http::{HeaderMap, HeaderName, header};
use jiff::Timestamp;
use plan::ask::{Answer, Refusal};
use store::Store;
use tokio::net::TcpListener;

pub use access::door::Ends;
pub use access::passphrase;
pub use access::{Access, Chance, NoChance};
pub use app::router;
pub use shelf::{Shelf, Unread};

/// The clock on the wall, handed in so that tests have one that stands still.
pub trait Clock: Send + Sync {
    /// Now.
    fn now(&self) -> Timestamp;
}

/// A field of a bench question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// Its name, as it is sent.
    pub name: String,
    /// What it is, in words.
    pub help: String,
    /// An example or the unit.
    pub hint: String,
    /// What is taken when nothing is said.
    pub default: Option<String>,
    /// The only values it may have; any when empty.
    pub choices: Vec<String>,
    /// It has to be filled in.
    pub required: bool,
    /// It may be said several times.
    pub many: bool,
    /// It is said or not said, without a value.
    pub flag: bool,
}

/// A bench question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Question {
    /// Its word: `salt`.
    pub word: String,
    /// What it asks, with an example.
    pub about: String,
    /// Its fields, in order.
    pub fields: Vec<Field>,
}

/// The bench questions, as the command line has them.
pub trait Bench: Send + Sync {
    /// All questions.
    fn questions(&self) -> &[Question];
    /// The answer to one, from what was filled in.
    ///
    /// # Errors
    /// What was found, what was expected, what to do now.
    fn answer(&self, question: &str, entries: &[(String, String)]) -> Result<Answer, Refusal>;
}

/// Everything the pages are made from.
pub struct Board {
    pub(crate) shelf: Shelf,
    pub(crate) bench: Box<dyn Bench>,
    pub(crate) clock: Box<dyn Clock>,
    pub(crate) plans: planned::Plans,
    pub(crate) days: day::planning::Kept,
    pub(crate) store: Store,
    /// Held while a page is saved: each save is read together with what the one before it left.
    pub(crate) saving: tokio::sync::Mutex<()>,
    /// The record is in a file and outlives the program.
    pub(crate) kept: bool,
    pub(crate) access: Access,
    pub(crate) logs: happened::Logs,
    pub(crate) live: live::Live,
}

impl Board {
    /// A board on a book: one that stands as it is, or the pages of the store ([`Shelf::of`]). `kept` says whether the store is a file, which outlives the program.
    #[must_use]
    pub fn new(
        book: impl Into<Shelf>,
        bench: Box<dyn Bench>,
        clock: Box<dyn Clock>,
        store: Store,
        kept: bool,
    ) -> Self {
        Self {
            shelf: book.into(),
            bench,
            clock,
            plans: planned::Plans::default(),
            live: live::Live::new(&store),
            logs: happened::Logs::default(),
            days: day::planning::Kept::default(),
            store,
            saving: tokio::sync::Mutex::new(()),
            kept,
            access: Access::bare(),
        }
    }

    /// The same board with a door: without one it is for this machine alone, and for tests and trials.
    #[must_use]
    pub fn behind(mut self, access: Access) -> Self {
        self.access = access;
        self
    }
}

/// Whether a form was sent by a page of this board and not by another site open in the same browser.
fn asked_from_here(headers: &HeaderMap) -> bool {
    let text = |name: HeaderName| headers.get(name).and_then(|v| v.to_str().ok());
    if let Some(site) = text(HeaderName::from_static("sec-fetch-site")) {
        return site == "same-origin";
    }
    match (text(header::ORIGIN), text(header::HOST)) {
        (Some(origin), Some(host)) => origin
            .split_once("://")
            .is_some_and(|(_, origin)| origin == host),
        (Some(_), None) => false,
        // No browser: it names neither.
        (None, _) => true,
    }
}

/// Serves the board until `stop` is done; what is being answered then is answered, and streams to screens end.
///
/// # Errors
/// The listener fails.
pub async fn serve(
    board: Board,
    listener: TcpListener,
    stop: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let board = Arc::new(board);
    let ending = Arc::clone(&board);
    let app = router(board).into_make_service_with_connect_info::<Ends>();
    axum::serve(listener, app)
        .with_graceful_shutdown(async move {
            stop.await;
            ending.live.end();
        })
        .await
}
