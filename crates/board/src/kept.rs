//! Asking the store, beside the pages and not in their way.

use std::sync::Arc;

use store::Store;
use tokio::sync::oneshot;

use crate::Board;
use crate::trouble::Trouble;

/// A command to the board's store and its answer.
pub(crate) async fn ask<C: store::Command>(
    board: &Arc<Board>,
    command: C,
) -> Result<C::Answer, Trouble> {
    ask_store(&board.store, command).await
}

/// A command to a store and its answer; no thread waits for it.
pub(crate) async fn ask_store<C: store::Command>(
    store: &Store,
    command: C,
) -> Result<C::Answer, Trouble> {
    let (reply, answer) = oneshot::channel();
    store.send(command, move |answer| {
        // Whoever asked may be gone.
        let _ = reply.send(answer);
    });
    let answer = answer
        .await
        .map_err(|e| Trouble::ours(format!("the record stopped: {e}")))?;
    Ok(answer?)
}
