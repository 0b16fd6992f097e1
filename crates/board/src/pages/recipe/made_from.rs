//! Which revisions of which pages a plan is made from, and plans put on record with them.

use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::extract::{RawQuery, State};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use plan::Plan;
use store::{Label, Name, PageKind, Pin, PlansOf, RecordPlan, Revision};

use super::{form, not_kept, which};
use crate::access::visitor::who_field;
use crate::address::{Query, carried, encoded};
use crate::day::Day;
use crate::page::{Frame, changes_of, frame};
use crate::shelf::Standing;
use crate::shown::Shown;
use crate::tongue::{moment, say, say_with};
use crate::trouble::Trouble;
use crate::{Board, planned};

/// The pages a plan reads: its event, its recipes, every kitchen and list of the book.
fn used<'s>(standing: &'s Standing, plan: &Plan) -> Vec<&'s Revision> {
    let says = |p: &Revision, key: &str| {
        p.text
            .as_deref()
            .and_then(|t| formats::fields::says(t, key))
    };
    standing
        .pages
        .iter()
        .filter(|p| match p.kind {
            PageKind::Recipe => says(p, "recipe")
                .is_some_and(|id| plan.components.iter().any(|c| c.recipe == id.as_str())),
            PageKind::Event => {
                says(p, "event").is_some_and(|id| plan.scene.event.id == id.as_str())
            }
            PageKind::Site => says(p, "site").is_some_and(|id| plan.scene.site.id == id.as_str()),
            PageKind::Lists => true,
            PageKind::Book | PageKind::Unread => false,
        })
        .collect()
}

fn address(plan: &Plan) -> String {
    let changes = carried(&changes_of(plan));
    let more = changes
        .strip_prefix('?')
        .map_or(String::new(), |c| format!("&{c}"));
    format!(
        "/recipe/made_from?event={}{more}",
        encoded(plan.scene.event.id.as_str())
    )
}

/// One line under a plan: what it is made from.
pub(crate) fn line(plan: &Shown) -> Markup {
    let Some(standing) = Some(&plan.standing).filter(|s| s.number > 0) else {
        return html! {};
    };
    let pages = used(standing, plan);
    html! {
        p class="small" {
            (say("board-made-from-number")) " " (standing.number) ", "
            a href=(address(plan)) { (say_with("board-pages-at-revisions", &[("n", pages.len().into())])) } "."
        }
    }
}

/// The revision of a recipe a plan used: "hot-smoked char, revision 3".
pub(crate) fn recipe_line(plan: &Shown, recipe: &str, name: &str) -> Markup {
    let standing = Some(&plan.standing).filter(|s| s.number > 0);
    let page = standing.as_ref().and_then(|s| {
        s.page_of(recipe)
            .map(|p| (p.number, which(&p.page, p.text.as_deref())))
    });
    html! {
        @if let Some((number, which)) = page {
            p class="small" { (say("board-recipe-inline")) " " a href=(format!("/recipe/{which}")) { (name) ", " (say_with("board-revision-n", &[("n", number.into())])) } }
        }
    }
}

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    RawQuery(query): RawQuery,
) -> Result<Markup, Trouble> {
    let query = Query::read(query.as_deref());
    let event = query.first("event").unwrap_or("");
    let plan = planned::plan(&board, event, &query.changes()).await?;
    let standing = standing(&board, &plan)?;
    let pages = used(&standing, &plan);
    let label = Label::new(event)?;
    let on_record = board.ask(PlansOf { event: label }).await?;
    let now = |pin: &Pin| {
        pages
            .iter()
            .any(|p| p.page == pin.page && p.number == pin.number)
    };
    let shown = Shown::of(Arc::clone(&plan), Day::default(), Arc::clone(&standing));
    Ok(frame(
        &Frame {
            title: &say("board-made-from-title"),
            plan: Some(&shown),
            here: "made-from",
        },
        html! {
            (not_kept(&board))
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-page")) } th class="n" { (say("board-revision")) } th { (say("board-saved")) } } }
                tbody { @for p in &pages {
                    tr {
                        td { a href=(format!("/recipe/{}", which(&p.page, p.text.as_deref()))) { (p.page) } }
                        td class="n" { (p.number) } td { (super::saved(p)) }
                    }
                } }
            } }
            p class="small" { (say("board-shipped-table")) }
            form class="fields no-print" method="post" action="/recipe/made_from" {
                input type="hidden" name="event" value=(event);
                @for change in changes_of(&plan) { input type="hidden" name="set" value=(change); }
                (who_field(""))
                button { (say("board-put-on-record")) }
            }
            h2 { (say("board-on-record")) }
            @if on_record.is_empty() { p { (say("board-no-plan-kept")) } }
            @else { ul { @for r in on_record.iter().rev() {
                li {
                    strong { (say("board-number")) " " (r.id) } ", " (r.who)
                    @if let Some(at) = r.at.on_the_clock() { ", " (moment(&at, "%a %Y-%m-%d %H:%M")) }
                    @if !r.settings.is_empty() { (say("board-with-inline")) " " (r.settings.replace('\n', ", ")) }
                    ul { @for pin in r.pins.iter() {
                        li { (pin.page) ", " (say_with("board-revision-n", &[("n", pin.number.into())])) @if !now(pin) { " " (say("board-another-now")) } }
                    } }
                }
            } } }
        },
    ))
}

fn standing(board: &Board, plan: &Arc<Plan>) -> Result<Arc<Standing>, Trouble> {
    let standing = board.plans.book_of(plan).filter(|s| s.number > 0);
    standing.ok_or_else(|| {
        Trouble::missing(
            "a plan whose book is not on record, or was saved anew this moment",
            "a plan of the book on record",
            "load the page again",
        )
    })
}

pub(crate) async fn send(
    State(board): State<Arc<Board>>,
    body: Result<Bytes, BytesRejection>,
) -> Result<Response, Trouble> {
    let form = form(body)?;
    let event = form.first("event").unwrap_or("");
    let plan = planned::plan(&board, event, &form.changes()).await?;
    let standing = standing(&board, &plan)?;
    let pins = used(&standing, &plan).into_iter().map(|p| Pin {
        page: p.page.clone(),
        number: p.number,
    });
    let record = RecordPlan {
        event: Label::new(event)?,
        settings: changes_of(&plan).join("\n"),
        pins: pins.collect(),
        who: Name::new(form.first("who").unwrap_or(""))?,
        at: board.moment()?,
    };
    board.ask(record).await?;
    Ok(Redirect::to(&address(&plan)).into_response())
}
