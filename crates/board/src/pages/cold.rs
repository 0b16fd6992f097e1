//! The cold store and the machines: what is where, until when, what is free, what goes by when.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use kitchen::site::{CapacityUnit, Machine};
use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use plan::timeline::Timed;

use super::plan_of;
use crate::Board;
use crate::names;
use crate::page::{Frame, event_address, frame, opens};
use crate::trouble::Trouble;
use crate::wall::wall;

/// Thousandths in a unit of capacity.
const THOUSANDTHS: f64 = 1000.0;

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let (plan, _) = plan_of(&(State(board), path, query)).await?;
    Ok(frame(
        &Frame {
            title: "Cold store and machines",
            plan: Some(&plan),
            here: "cold",
        },
        html! {
            (discard(&plan))
            @for machine in &plan.scene.site.machines { (held(&plan, machine)) }
        },
    ))
}

fn discard(plan: &Plan) -> Markup {
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
        h2 { "Discard by" }
        @if rows.is_empty() { p { "Nothing of this event carries a date." } }
        @else {
            div class="wide" { table { tbody {
                @for (by, c) in rows {
                    tr { td class="hour" { (opens(plan, &by.id, &by.show())) }
                         td { a href=(event_address(plan, &format!("lot/{}", c.recipe))) { (c.name) } } }
                }
            } } }
            p class="small" { "The house's days, counted from the day made as day 1, and the earliest part." }
        }
    }
}

fn held(plan: &Plan, machine: &Machine) -> Markup {
    let rows: Vec<(&Timed, f64)> = plan
        .timeline
        .tasks
        .iter()
        .filter_map(|t| {
            let amount = t
                .meaning
                .machines
                .iter()
                .find(|(id, _)| *id == machine.id)?
                .1;
            Some((t, amount as f64 / THOUSANDTHS))
        })
        .collect();
    let unit = match machine.unit {
        CapacityUnit::Kilograms => "kg",
        CapacityUnit::Places => "places",
    };
    // The fullest moment is at a start.
    let fullest = rows
        .iter()
        .map(|(t, _)| {
            rows.iter()
                .filter(|(o, _)| o.start <= t.start && t.start < o.end.max(o.start + 1))
                .map(|(_, a)| a)
                .sum::<f64>()
        })
        .fold(0.0, f64::max);
    html! {
        h2 { (machine.name) }
        p {
            (number(machine.capacity, 1)) " " (unit)
            @if machine.off { " · " strong { "out of order" } }
            @else if rows.is_empty() { " · not used here" }
            @else { " · fullest " (number(fullest, 1)) ", so at least " strong { (number(machine.capacity - fullest, 1)) " free" } }
        }
        @if !rows.is_empty() {
            div class="wide" { table {
                thead { tr { th { "What" } th { "From" } th { "Until" } th class="n" { (unit) } } }
                tbody { @for (t, amount) in rows {
                    tr { td { (names::whole(plan, t)) } td class="hour" { (wall(plan, t.start, "%a %m-%d %H:%M")) }
                         td { (wall(plan, t.end, "%a %m-%d %H:%M")) } td class="n" { (number(amount, 1)) } }
                } }
            } }
        }
    }
}
