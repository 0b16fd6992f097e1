//! The cold store and the machines: what is where, until when, what is free, what goes by when.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use kitchen::site::{CapacityUnit, Machine};
use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use plan::timeline::Held;

use super::plan_of;
use crate::names;
use crate::page::{Frame, event_address, frame, opens};
use crate::shown::Shown;
use crate::tongue::say;
use crate::trouble::Trouble;
use crate::wall::wall;
use crate::{Board, live};

/// Thousandths in a unit of capacity.
const THOUSANDTHS: f64 = 1000.0;

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let since = board.live.newest();
    let (plan, _) = plan_of(&(State(Arc::clone(&board)), path, query)).await?;
    let live = live::line(&board, &plan, None, since);
    Ok(frame(
        &Frame {
            title: &say("board-cold-machines"),
            plan: Some(&plan),
            here: "cold",
        },
        html! {
            (live)
            (discard(&plan))
            @for machine in &plan.scene.site.machines { (held(&plan, machine)) }
        },
    ))
}

fn discard(plan: &Shown) -> Markup {
    let mut rows: Vec<_> = plan
        .components
        .iter()
        .filter_map(|c| Some((plan.figures.get(&format!("{}.discard_by", c.recipe))?, c)))
        .collect();
    // By the date, which stands behind the day of the week.
    rows.sort_by_key(|(by, c)| {
        let shown = by.show();
        (
            shown.split_once(' ').map(|(_, date)| date.to_owned()),
            c.name.clone(),
        )
    });
    html! {
        h2 { (say("board-discard-head")) }
        @if rows.is_empty() { p { (say("board-no-dates")) } }
        @else {
            div class="wide" tabindex="0" { table { tbody {
                @for (by, c) in rows {
                    tr { td class="hour" { (opens(plan, &by.id, &by.show())) }
                         td { a href=(event_address(plan, &format!("lot/{}", c.recipe))) { (c.name) } (plan.held(c.recipe.as_str())) } }
                }
            } } }
            p class="small" { (say("board-days-note")) }
        }
    }
}

fn held(plan: &Shown, machine: &Machine) -> Markup {
    let rows: Vec<&Held> = plan
        .timeline
        .held
        .iter()
        .filter(|h| h.machine == machine.id)
        .collect();
    let unit = match machine.unit {
        CapacityUnit::Kilograms => "kg".to_owned(),
        CapacityUnit::Places => say("board-places"),
    };
    // Whole places read as counts.
    let said = |amount: i64| {
        let amount = amount as f64 / THOUSANDTHS;
        number(amount, u32::from((amount - amount.round()).abs() > 1e-9))
    };
    let capacity = (machine.capacity * THOUSANDTHS).round() as i64;
    // The fullest moment is at a start.
    let fullest: i64 = rows
        .iter()
        .map(|h| {
            rows.iter()
                .filter(|o| o.from <= h.from && h.from < o.to)
                .map(|o| o.amount)
                .sum()
        })
        .max()
        .unwrap_or(0);
    html! {
        h2 { (machine.name) }
        p {
            (said(capacity)) " " (unit)
            @if machine.off { " · " strong { (say("board-out-of-order")) } }
            @else if rows.is_empty() { " · " (say("board-not-used")) }
            @else { " · " (say("board-fullest")) " " (said(fullest)) (say("board-so-at-least")) " " strong { (said(capacity - fullest)) " " (say("board-free")) } " " (say("board-beside-event")) }
        }
        @if !rows.is_empty() {
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-what")) } th { (say("board-in-head")) } th { (say("board-out-head")) } th class="n" { (unit) } } }
                tbody { @for h in rows {
                    tr { td { (named(plan, h)) @if let Some(c) = of(plan, h) { (plan.held(c)) } } td class="hour" { (wall(plan, h.from, "%a %m-%d %H:%M")) }
                         td { (wall(plan, h.to, "%a %m-%d %H:%M")) } td class="n" { (said(h.amount)) } }
                } }
            } }
        }
    }
}

/// The component that is in there.
fn of<'a>(plan: &'a Plan, h: &Held) -> Option<&'a str> {
    plan.timeline
        .tasks
        .iter()
        .find(|t| t.meaning.id == h.task)
        .and_then(|t| t.meaning.component.as_ref())
        .map(kitchen::Id::as_str)
}

fn named(plan: &Plan, h: &Held) -> String {
    plan.timeline
        .tasks
        .iter()
        .find(|t| t.meaning.id == h.task)
        .map_or_else(|| h.task.clone(), |t| names::whole(plan, t))
}
