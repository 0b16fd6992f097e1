//! The book as it stands: read from the pages of the store, exchanged whole when somebody saved one.

use std::sync::{Arc, PoisonError, RwLock};

use book::{Diagnostic, Limits, SourceFile};
use kitchen::Book;
use store::{BookNow, BookNumber, Command, LatestPages, Moment, PageKind, Revision, Store};

use crate::Board;
use crate::kept::ask_store;
use crate::trouble::Trouble;

/// A book at one number: what was read, and the pages it was read from.
#[derive(Debug)]
pub(crate) struct Standing {
    /// How many revisions were ever saved; 0 for a book without pages on record.
    pub(crate) number: i64,
    /// The book.
    pub(crate) book: Arc<Book>,
    /// Its pages, by name; none for a book without pages on record.
    pub(crate) pages: Vec<Revision>,
}

impl Standing {
    /// The page a recipe stands on.
    pub(crate) fn page_of(&self, recipe: &str) -> Option<&Revision> {
        page_of(&self.pages, recipe)
    }
}

/// The page among these that holds a recipe.
pub(crate) fn page_of<'p>(pages: &'p [Revision], recipe: &str) -> Option<&'p Revision> {
    pages.iter().find(|p| {
        p.kind == PageKind::Recipe
            && p.text
                .as_deref()
                .and_then(|t| formats::fields::says(t, "recipe"))
                .is_some_and(|id| id == recipe)
    })
}

/// The pages as files of a book.
pub(crate) fn files(pages: &[Revision]) -> Vec<SourceFile> {
    pages
        .iter()
        .filter_map(|p| Some(SourceFile::text(p.page.as_str(), p.text.as_deref()?)))
        .collect()
}

/// Why the pages of a store are no book to work from.
#[derive(Debug)]
pub enum Unread {
    /// The store does not give them.
    Store(store::Error),
    /// They do not read together.
    Wrong(Vec<Diagnostic>),
}

/// The book of a board.
pub struct Shelf {
    now: RwLock<Arc<Standing>>,
    /// Pages on record that do not read together: their number, and what is wrong.
    wrong: RwLock<Option<(i64, Arc<Vec<Diagnostic>>)>>,
}

impl From<Book> for Shelf {
    /// A book that stands as it is and has no pages to edit.
    fn from(book: Book) -> Self {
        Self::at(Standing {
            number: 0,
            book: Arc::new(book),
            pages: Vec::new(),
        })
    }
}

impl Shelf {
    /// The book on record in a store; `None` when it holds no page yet.
    ///
    /// # Errors
    /// The store fails, or the pages do not read together.
    pub fn of(store: &Store) -> Result<Option<Self>, Unread> {
        let now = store.ask(LatestPages).map_err(Unread::Store)?;
        if now.pages.is_empty() {
            return Ok(None);
        }
        read(now)
            .map(|s| Some(Self::at(s)))
            .map_err(|(_, wrong)| Unread::Wrong(wrong))
    }

    fn at(standing: Standing) -> Self {
        Self {
            now: RwLock::new(Arc::new(standing)),
            wrong: RwLock::new(None),
        }
    }

    fn now(&self) -> Arc<Standing> {
        Arc::clone(&self.now.read().unwrap_or_else(PoisonError::into_inner))
    }

    fn known_wrong(&self, number: i64) -> bool {
        let wrong = self.wrong.read().unwrap_or_else(PoisonError::into_inner);
        wrong.as_ref().is_some_and(|(n, _)| *n == number)
    }

    fn put(&self, read: Result<Standing, (i64, Vec<Diagnostic>)>) {
        let wrong = match read {
            Ok(standing) => {
                let mut now = self.now.write().unwrap_or_else(PoisonError::into_inner);
                // Two saves may be read out of order; the later one stands.
                if standing.number > now.number {
                    *now = Arc::new(standing);
                }
                None
            }
            Err((number, wrong)) => Some((number, Arc::new(wrong))),
        };
        *self.wrong.write().unwrap_or_else(PoisonError::into_inner) = wrong;
    }
}

/// Reads the pages of a book.
fn read(now: BookNow) -> Result<Standing, (i64, Vec<Diagnostic>)> {
    match book::read(&files(&now.pages), Limits::default()) {
        Ok(book) => Ok(Standing {
            number: now.number,
            book: Arc::new(book),
            pages: now.pages,
        }),
        Err(wrong) => Err((now.number, wrong)),
    }
}

impl Board {
    /// The book as it stands.
    pub(crate) fn book(&self) -> Arc<Book> {
        Arc::clone(&self.shelf.now().book)
    }

    /// What is wrong with the pages on record, when they do not read together and an earlier book still stands.
    pub(crate) fn wrong_on_record(&self) -> Option<Arc<Vec<Diagnostic>>> {
        let wrong = self
            .shelf
            .wrong
            .read()
            .unwrap_or_else(PoisonError::into_inner);
        wrong.as_ref().map(|(_, wrong)| Arc::clone(wrong))
    }

    /// The book as it stands, read anew when a page was saved since, here or by another program.
    pub(crate) async fn standing_now(self: &Arc<Self>) -> Result<Arc<Standing>, Trouble> {
        let standing = self.shelf.now();
        if standing.number == 0 {
            return Ok(standing);
        }
        let number = self.ask(BookNumber).await?;
        if number == standing.number || self.shelf.known_wrong(number) {
            return Ok(standing);
        }
        let now = self.ask(LatestPages).await?;
        let board = Arc::clone(self);
        tokio::task::spawn_blocking(move || board.shelf.put(read(now)))
            .await
            .map_err(|e| Trouble::ours(format!("reading the book stopped: {e}")))?;
        Ok(self.shelf.now())
    }

    /// A command to the store; what it refuses is told as on every page.
    pub(crate) async fn ask<C: Command>(&self, command: C) -> Result<C::Answer, Trouble> {
        ask_store(&self.store, command).await
    }

    /// Now, in the zone of the first site of the book.
    pub(crate) fn moment(&self) -> Result<Moment, Trouble> {
        let book = self.book();
        let zone = book.sites.values().next().and_then(|s| s.zone.iana_name());
        Ok(Moment::new(self.clock.now(), zone.unwrap_or("UTC"))?)
    }
}
