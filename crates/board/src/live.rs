//! What is written down reaches every open screen: the bell that is rung after each entry, and the line a page carries.
//!
//! Entries go out in the order of the log, after the store acknowledged them. The bell reads the log from where it
//! last stopped, so two entries acknowledged in any order are told in theirs, once each. What is told is what happened,
//! of what, the reading and the name; no free words, no weights of the plan and no costs.

mod stream;

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use jiff::Timestamp;
use kitchen::Book;
use maud::{Markup, html};
use plan::Plan;
use store::{Entry, LogHead, LogOf, Store};
use tokio::sync::{Mutex, Semaphore, broadcast, watch};

use crate::access::visitor::visitor;
use crate::entry::KINDS;
use crate::kept::ask_store;
use crate::tongue::say_with;
use crate::{Board, names};

pub(crate) use stream::open;

/// Most screens that listen at once; one more is refused in words. House value.
const MOST_SCREENS: usize = 2_000;
/// Entries a screen may fall behind before it is told to load its page again. All screens share them: a slow one costs no more.
const MOST_BEHIND: usize = 256;
/// Entries read of the log at a time.
const AT_ONCE: u32 = 256;

/// What is told of an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Told {
    /// Its number in the log.
    sequence: i64,
    /// The event it belongs to.
    event: String,
    /// In words: "15:04: Hot-smoked char: weigh: weighed 5,220 g by Maren".
    words: String,
}

/// The bell and those who listen.
pub(crate) struct Live {
    sender: broadcast::Sender<Arc<Told>>,
    /// The last entry told; held while the log is read, so that nothing is told twice or out of turn.
    told: Mutex<i64>,
    /// The newest entry known, for pages to say where they stand.
    newest: AtomicI64,
    places: Arc<Semaphore>,
    ended: watch::Sender<bool>,
}

impl Live {
    /// Nobody listens yet; what is in the store already is not told.
    pub(crate) fn new(store: &Store) -> Self {
        // A store that cannot say where it ends cannot be appended to either; its pages say why.
        let head = store.ask(LogHead).map_or(0, |head| head.sequence);
        Self {
            sender: broadcast::channel(MOST_BEHIND).0,
            told: Mutex::new(head),
            newest: AtomicI64::new(head),
            places: Arc::new(Semaphore::new(MOST_SCREENS)),
            ended: watch::Sender::new(false),
        }
    }

    /// Ends every stream: a program that is to stop does not wait for screens that never do.
    pub(crate) fn end(&self) {
        self.ended.send_replace(true);
    }

    /// The newest entry known, of any event.
    pub(crate) fn newest(&self) -> i64 {
        self.newest.load(Ordering::Acquire)
    }

    /// Tells every screen what the log has that was not told yet. Called after the store acknowledged `sequence`.
    pub(crate) async fn ring(&self, store: &Store, book: &Book, sequence: i64) {
        let mut told = self.told.lock().await;
        // Whoever rang before read this one too.
        while *told < sequence {
            let next = LogOf {
                most: AT_ONCE,
                ..LogOf::all().after(*told)
            };
            // The entry is on the disk all the same; a screen that sees nothing come says so, and the next bell tells it.
            let Ok(entries) = ask_store(store, next).await else {
                return;
            };
            let Some(last) = entries.last() else { return };
            *told = last.sequence;
            self.newest.fetch_max(last.sequence, Ordering::AcqRel);
            for entry in &entries {
                // Nobody listening is no failure.
                let _ = self.sender.send(Arc::new(Told::of(book, entry)));
            }
        }
    }
}

impl Told {
    fn of(book: &Book, entry: &Entry) -> Self {
        Self {
            sequence: entry.sequence,
            event: entry.says.about.event.to_string(),
            words: words(book, entry),
        }
    }
}

/// An entry in one line, by the clock of its kitchen, at the hour it was taken.
fn words(book: &Book, entry: &Entry) -> String {
    let says = &entry.says;
    let mut line = entry
        .recorded
        .on_the_clock()
        .map_or_else(String::new, |z| z.strftime("%H:%M: ").to_string());
    if let Some(component) = &says.about.component {
        line.push_str(
            book.recipes
                .iter()
                .find(|(id, _)| id.as_str() == component.as_str())
                .map_or(component.as_str(), |(_, recipe)| recipe.name.as_str()),
        );
        line.push_str(": ");
    }
    for part in [&says.about.step, &says.about.part].into_iter().flatten() {
        line.push_str(part.as_str());
        line.push_str(": ");
    }
    match says.kind.corrects() {
        Some(of) => line.push_str(&format!("entry {of} corrected")),
        None => line.push_str(
            KINDS
                .iter()
                .find(|(_, _, kind)| *kind == says.kind)
                .map_or(says.kind.as_str(), |(_, name, _)| name),
        ),
    }
    if let Some(reading) = says.reading {
        line.push_str(&format!(" {}", names::reading(reading)));
    }
    line.push_str(&format!(" by {}", says.who));
    line
}

/// A moment for scripts, cut to what they all read: milliseconds.
fn machine(now: Timestamp) -> String {
    now.strftime("%Y-%m-%dT%H:%M:%S%.3fZ").to_string()
}

/// Where a page stands and how it goes on: a line in words, which the script takes over where there is one.
///
/// `since` is the newest entry known before the page read the log: what came in between is told again, never left out.
/// `every` asks for the page
/// again after so many seconds even when nothing happens, for pages that show the present moment.
pub(crate) fn line(board: &Board, plan: &Plan, every: Option<u32>, since: i64) -> Markup {
    let now = board.clock.now();
    let zone = &plan.scene.site.zone;
    html! {
        p id="live" class="live small no-print" data-stream=(format!("/event/{}/live", plan.scene.event.id))
            data-after=(since) data-who=[visitor().pass().map(|p| p.name.as_str().to_owned())] data-now=(machine(now)) data-zone=(zone.iana_name().unwrap_or("UTC")) data-every=[every] {
            (say_with("board-as-of", &[("hour", (&now.to_zoned_datetime(zone.clone()).strftime("%H:%M").to_string()).into())]))
        }
        script type="module" src="/look/live.js" {}
    }
}
