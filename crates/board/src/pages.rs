//! One page a file: what it shows of the plan, and nothing computed.

pub(crate) mod bench;
pub(crate) mod cold;
pub(crate) mod compare;
pub(crate) mod cost;
pub(crate) mod event;
pub(crate) mod guests;
pub(crate) mod lot;
pub(crate) mod order;
pub(crate) mod record;
pub(crate) mod sheets;
pub(crate) mod sources;
pub(crate) mod start;
pub(crate) mod today;
pub(crate) mod verdicts;
pub(crate) mod weigh;
pub(crate) mod why;

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use plan::Plan;

use crate::Board;
use crate::address::Query;
use crate::planned;
use crate::trouble::Trouble;

/// What every page of an event is asked with: the board, the event, what the address says beside it.
pub(crate) type Asked = (State<Arc<Board>>, Path<String>, RawQuery);

/// The plan a page of an event shows, with the changes of its address.
pub(crate) async fn plan_of(asked: &Asked) -> Result<(Arc<Plan>, Query), Trouble> {
    let (State(board), Path(event), RawQuery(query)) = asked;
    let query = Query::read(query.as_deref());
    let plan = planned::plan(board, event, &query.changes()).await?;
    Ok((plan, query))
}
