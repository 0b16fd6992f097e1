//! Writing an entry down, for every form that does: checked, stored, told to the screens, answered.
//!
//! A form sent twice is stored once and answered the same. A script asks for a plain answer (`Accept: text/plain`): 201
//! and the number of the entry is the only one that says it is written; anything else leaves the entry where it was kept.

use std::sync::Arc;

use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use plan::Plan;
use store::{Append, Draft, Entry, EntryId, NewEntry, Receipt};

use crate::Board;
use crate::address::Query;
use crate::day::standing::again;
use crate::entry::{moment, read};
use crate::happened;
use crate::kept::ask_store;
use crate::pages::slip;
use crate::shown::Shown;
use crate::trouble::Trouble;

/// What became of a form.
pub(crate) enum Written {
    /// It is on the disk.
    Down(Receipt),
    /// It looks like a slip; this page asks first, and nothing is stored.
    Asks(Box<Response>),
}

/// Takes what a form says as an entry of this plan's event.
///
/// # Errors
/// What cannot be written down, with the field it stands in.
pub(crate) async fn write(
    board: &Arc<Board>,
    plan: &Shown,
    form: &Query,
) -> Result<Written, Trouble> {
    let now = board.clock.now();
    // A form without an hour means the moment it was sent first, not the moment it was repeated.
    let first = sent_before(board, plan, form).await?;
    let entry = read(
        plan,
        form,
        first.as_ref().map_or(now, |e| e.says.at.instant()),
    )?;
    // What looks like a slip at the scale is asked about before it is stored.
    let (entry, decision) = match slip::held(board, plan, form, entry).await? {
        slip::Held::Asks(page) => return Ok(Written::Asks(page)),
        slip::Held::Goes { entry, decision } => (*entry, decision),
    };
    // Sent again from another sign-in of the same person it is the same entry.
    let entry = match first {
        Some(stored) if stored.says.who == entry.says().who => Draft {
            device: stored.says.device.clone(),
            ..entry.says().clone()
        }
        .checked()?,
        _ => entry,
    };
    let anew = again(&plan.day.log, form, entry.says())?;
    if let Some(decision) = decision {
        store(board, plan, *decision).await?;
    }
    let receipt = store(board, plan, entry).await?;
    if let Some(entry) = anew {
        store(board, plan, entry).await?;
    }
    Ok(Written::Down(receipt))
}

/// Puts an entry on the disk and has it told to the screens.
///
/// # Errors
/// The store refuses it or cannot take it.
pub(crate) async fn store(
    board: &Arc<Board>,
    plan: &Plan,
    entry: NewEntry,
) -> Result<Receipt, Trouble> {
    let recorded = moment(plan, board.clock.now())?;
    let receipt = ask_store(&board.store, Append { entry, recorded }).await?;
    // Told beside the answer: who wrote it down does not wait for the screens.
    let (told, sequence) = (Arc::clone(board), receipt.sequence);
    tokio::spawn(async move {
        told.live.ring(&told.store, &told.book(), sequence).await;
    });
    Ok(receipt)
}

/// The entry that is stored under this form's id.
pub(crate) async fn sent_before(
    board: &Board,
    plan: &Plan,
    form: &Query,
) -> Result<Option<Arc<Entry>>, Trouble> {
    let Ok(id) = EntryId::new(form.first("id").unwrap_or("")) else {
        return Ok(None);
    };
    let log = happened::log(board, plan).await?;
    Ok(log.iter().rev().find(|e| e.says.id == id).cloned())
}

/// Whether a script asks and wants a plain answer.
pub(crate) fn plainly(headers: &HeaderMap) -> bool {
    headers
        .get(header::ACCEPT)
        .and_then(|v| v.to_str().ok())
        .is_some_and(|v| v.starts_with("text/plain"))
}

/// The answer to an entry that is written down: the page to go to, or its number and where to go.
pub(crate) fn taken(headers: &HeaderMap, receipt: &Receipt, next: &str) -> Response {
    if !plainly(headers) {
        return Redirect::to(next).into_response();
    }
    let mut response = (StatusCode::CREATED, receipt.sequence.to_string()).into_response();
    if let Ok(next) = HeaderValue::from_str(next) {
        response.headers_mut().insert(header::LOCATION, next);
    }
    response
}
