//! The store, asked beside the pages and not in their way.

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
    tokio::task::spawn_blocking(move || store.ask(command))
        .await
        .map_err(|e| Trouble::ours(format!("the record stopped: {e}")))?
        .map_err(|e| {
            let told = e.told();
            Trouble::entry(told.found, told.expected, told.do_now)
        })
}
