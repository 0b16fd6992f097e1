//! The board: the kitchen's own pages, served on the kitchen's own network.
//!
//! A page is the plan as somebody needs to see it; every page has its own address, works without
//! scripts and prints. This room has no formulas: a figure on a page is a figure of the plan, and opens its
//! derivation. It reads no arguments and chooses no address: the binary hands it a book, the bench questions,
//! a clock and a listener.

mod address;
mod app;
mod clock_picture;
mod day;
mod device;
mod entry;
mod look;
mod names;
mod page;
mod pages;
mod planned;
mod recorded;
mod shown;
mod trouble;
mod wall;

use std::future::Future;
use std::sync::Arc;

use axum::http::{HeaderMap, HeaderName, header};
use jiff::Timestamp;
use kitchen::Book;
use plan::ask::{Answer, Refusal};
use store::Store;
use tokio::net::TcpListener;

pub use app::router;

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
    pub(crate) book: Book,
    pub(crate) bench: Box<dyn Bench>,
    pub(crate) clock: Box<dyn Clock>,
    pub(crate) plans: planned::Plans,
    pub(crate) days: day::planning::Kept,
    pub(crate) store: Store,
    /// The record is in a file and outlives the program.
    pub(crate) kept: bool,
}

impl Board {
    /// A board on a book; `kept` says whether the store is a file, which outlives the program.
    #[must_use]
    pub fn new(
        book: Book,
        bench: Box<dyn Bench>,
        clock: Box<dyn Clock>,
        store: Store,
        kept: bool,
    ) -> Self {
        Self {
            book,
            bench,
            clock,
            plans: planned::Plans::default(),
            days: day::planning::Kept::default(),
            store,
            kept,
        }
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

/// Serves the board until `stop` is done; what is being answered then is answered.
///
/// # Errors
/// The listener fails.
pub async fn serve(
    board: Board,
    listener: TcpListener,
    stop: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    axum::serve(listener, router(Arc::new(board)))
        .with_graceful_shutdown(stop)
        .await
}
