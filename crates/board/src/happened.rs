//! What happened, as the board has it at hand: the log of an event, read once and then only its new end.
//!
//! The store checks the hash of every entry it hands out; a page that reads thousands of them for each screen would
//! be busy with nothing else. What was read and checked once is kept here until the program ends.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use plan::Plan;
use store::{Entry, Label, LogOf};

use crate::Board;
use crate::kept::ask_store;
use crate::trouble::Trouble;

/// The entries of an event in order.
pub(crate) type Log = Arc<Vec<Arc<Entry>>>;

/// The logs read so far; as many as there are events in the book.
#[derive(Default)]
pub(crate) struct Logs(Mutex<HashMap<String, Log>>);

impl Logs {
    fn get(&self, event: &str) -> Log {
        let logs = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        logs.get(event).cloned().unwrap_or_default()
    }

    /// Keeps a longer log; of two that were read at the same time the one that saw more stays.
    fn put(&self, event: &str, log: &Log) {
        let mut logs = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let kept = logs.entry(event.to_owned()).or_default();
        if last(kept) < last(log) {
            *kept = Arc::clone(log);
        }
    }
}

fn last(log: &Log) -> i64 {
    log.last().map_or(0, |e| e.sequence)
}

/// Everything written down about the event of a plan, up to what was acknowledged before it was asked.
pub(crate) async fn log(board: &Board, plan: &Plan) -> Result<Log, Trouble> {
    let event = plan.scene.event.id.as_str();
    let mut log = board.logs.get(event);
    let new = ask_store(
        &board.store,
        LogOf::event(Label::new(event)?).after(last(&log)),
    )
    .await?;
    if new.is_empty() {
        return Ok(log);
    }
    let entries = Arc::make_mut(&mut log);
    for entry in new {
        // A correction changes nothing but what is known of the entry it speaks of.
        if let Some(of) = entry.says.kind.corrects()
            && let Ok(at) = entries.binary_search_by_key(&of, |e| e.sequence)
            && let Some(corrected) = entries.get_mut(at)
        {
            Arc::make_mut(corrected).corrected_by = Some(entry.sequence);
        }
        entries.push(Arc::new(entry));
    }
    board.logs.put(event, &log);
    Ok(log)
}
