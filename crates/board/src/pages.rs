//! One page a file: what it shows of the plan, and nothing computed.

pub(crate) mod acts;
pub(crate) mod bench;
pub(crate) mod cold;
pub(crate) mod compare;
pub(crate) mod cost;
pub(crate) mod curves;
pub(crate) mod deviation;
pub(crate) mod event;
pub(crate) mod guests;
pub(crate) mod limits;
pub(crate) mod lot;
pub(crate) mod order;
pub(crate) mod people;
pub(crate) mod recipe;
pub(crate) mod record;
pub(crate) mod sheets;
pub(crate) mod sign_in;
pub(crate) mod slip;
pub(crate) mod sources;
pub(crate) mod start;
pub(crate) mod today;
pub(crate) mod verdicts;
pub(crate) mod weigh;
pub(crate) mod why;

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};

use crate::Board;
use crate::address::Query;
use crate::day;
use crate::shown::Shown;
use crate::trouble::Trouble;

/// What every page of an event is asked with: the board, the event, what the address says beside it.
pub(crate) type Asked = (State<Arc<Board>>, Path<String>, RawQuery);

/// The plan a page of an event shows: with what happened, and with the changes of its address.
pub(crate) async fn plan_of(asked: &Asked) -> Result<(Arc<Shown>, Query), Trouble> {
    let (State(board), Path(event), RawQuery(query)) = asked;
    let query = Query::read(query.as_deref());
    let shown = day::shown(board, event, &query).await?;
    Ok((Arc::new(shown), query))
}

/// How often what was sent in waits for a plan as long as a page does; a form is never lost to a busy machine.
const TRIES: usize = 8;

/// The same for what is sent in: it waits longer, for it cannot be asked again by itself.
pub(crate) async fn plan_for_entry(asked: &Asked) -> Result<(Arc<Shown>, Query), Trouble> {
    let mut found = plan_of(asked).await;
    for _ in 1..TRIES {
        match found {
            Err(trouble) if trouble.is_waiting() => found = plan_of(asked).await,
            other => return other,
        }
    }
    found
}
