//! The tables of a plan: what to buy, what it costs, who prepares what on which day, what was computed and judged; and
//! the price list of its site.

mod cost;
mod ingredients;
mod judged;
mod offers;
mod order;
mod prep;
mod record;

use jiff::civil::DateTime;
use jiff::{Timestamp, ZonedDateTime};
use plan::Plan;

use crate::sheet::{Cell, Sheet};

pub use cost::cost;
pub use ingredients::ingredients;
pub use judged::{verdicts, windows};
pub use offers::offers;
pub(crate) use offers::{BY_WEIGHT, EACH, PACK, PIECE};
pub use order::order;
pub use prep::prep;
pub use record::{Line, record};

/// Every table of a plan, in the order they are handed out.
#[must_use]
pub fn all(plan: &Plan) -> Vec<Sheet> {
    vec![
        order(plan),
        cost(plan),
        prep(plan),
        windows(plan),
        verdicts(plan),
        offers(&plan.scene.site),
    ]
}

/// A minute of the clock as a moment at the site.
fn moment(plan: &Plan, minute: i64) -> Cell {
    zoned(plan, minute).map_or(Cell::Unknown, Cell::Moment)
}

fn zoned(plan: &Plan, minute: i64) -> Option<ZonedDateTime> {
    let at = Timestamp::from_second(minute.checked_mul(60)?).ok()?;
    Some(at.to_zoned_datetime(plan.scene.site.zone.clone()))
}

/// A wall hour of the site as a moment.
fn wall(plan: &Plan, at: Option<DateTime>) -> Cell {
    at.and_then(|at| plan.scene.site.zone.to_zoned_datetime(at).ok())
        .map_or(Cell::Unknown, Cell::Moment)
}

/// "SITE, EVENT" as it stands over every table.
fn title(plan: &Plan, what: &str) -> String {
    format!("{what}: {}", plan.scene.event.name)
}
