//! Asking the store, beside the pages and not in their way.

use std::sync::Arc;

use crate::Board;
use crate::trouble::Trouble;

/// A command to the store and its answer.
pub(crate) async fn ask<C: store::Command + Send + 'static>(
    board: &Arc<Board>,
    command: C,
) -> Result<C::Answer, Trouble>
where
    C::Answer: Send + 'static,
{
    let store = board.store.clone();
    let answer = tokio::task::spawn_blocking(move || store.ask(command))
        .await
        .map_err(|e| Trouble::ours(format!("the record stopped: {e}")))?;
    Ok(answer?)
}
