//! What is outside its limit, and what may be done: what was found, the limit and where it comes from, the ways that are
//! open and no others, a name and a decision.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use axum::http::{HeaderMap, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use safety::ways::{self, Then};
use store::{About, DeviceId, Draft, EntryId, Kind, Label, Name};

use super::{plan_for_entry, plan_of};
use crate::access::doors::may_send;
use crate::access::visitor::{visitor, who_field};
use crate::address::Query;
use crate::day::deviations::{Deviation, MARK, Stand};
use crate::entry::{moment, new_id};
use crate::page::{Frame, frame};
use crate::shown::Shown;
use crate::tongue::say;
use crate::trouble::Trouble;
use crate::{Board, device, written};

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
    headers: HeaderMap,
) -> Result<Markup, Trouble> {
    let (plan, query) = plan_of(&(State(Arc::clone(&board)), path, query)).await?;
    let d = wanted(&plan, &query)?;
    let who = device::remembered(&headers).unwrap_or_default();
    let title =
        ways::of(&d.rule).map_or_else(|_| say("board-outside-its-limit"), |w| w.what.clone());
    Ok(frame(
        &Frame {
            title: &title,
            plan: Some(&plan),
            here: "deviation",
        },
        html! {
            p class="big" { (d.name) @if let Some(c) = &d.component { (plan.held(c)) } }
            div class="trouble" {
                p class="found" { (d.found) }
                p { span class="label" { (say("board-limit")) " " } (d.limit) }
                @if let Some(margin) = &d.margin { p { span class="label" { (say("board-margin-inline")) " " } strong { (margin) } } }
                p class="small" { (d.source) }
            }
            (decisions(d))
            @if matches!(d.stand, Stand::Open | Stand::Held) {
                @if may_send(&visitor(), "/event/{event}/deviation") { (form(&board, &plan, d, &who)) }
                @else { p { (say("board-instructor-decides")) } }
            }
        },
    ))
}

fn wanted<'a>(plan: &'a Shown, query: &Query) -> Result<&'a Deviation, Trouble> {
    let key = query.first("of").unwrap_or("");
    plan.day
        .deviations
        .iter()
        .find(|d| d.key == key)
        .ok_or_else(|| {
            Trouble::missing(
                format!(
                    "there is no deviation \"{}\" (any more)",
                    key.chars().take(80).collect::<String>()
                ),
                "one that the record shows",
                "see Today: what is outside its limit stands there, and the record keeps what was",
            )
        })
}

fn decisions(d: &Deviation) -> Markup {
    html! {
        @if !d.decided.is_empty() {
            h2 { (say("board-decided")) }
            ul { @for x in &d.decided {
                li { strong { (x.way) } ": " (x.words) " · " (x.who) (say("board-entry-inline")) " " (x.entry) " · " (x.then.words()) }
            } }
        }
        @if d.stand == Stand::Closed { p { strong { (say("board-settled")) } } }
    }
}

fn form(board: &Board, plan: &Shown, d: &Deviation, who: &str) -> Markup {
    html! {
        h2 { (say("board-decide")) }
        form class="decide-form" method="post" action=(d.address(plan.scene.event.id.as_str())) {
            input type="hidden" name="id" value=(new_id(board.clock.now()));
            fieldset {
                legend { (say("board-open-ways")) }
                @for way in d.ways() {
                    label class="way" {
                        input type="radio" name="way" value=(way.id) required;
                        span {
                            (way.words)
                            br; span class="small" { (say("board-then")) " " (way.then.words()) " · " (way.from()) }
                        }
                    }
                }
            }
            div class="fields" {
                (who_field(who))
                label { (say("board-words")) input name="words" autocomplete="off"; span class="hint" { (say("board-cause-hint")) } }
            }
            button type="submit" { (say("board-write-decision")) }
        }
    }
}

pub(crate) async fn decide(
    State(board): State<Arc<Board>>,
    Path(event): Path<String>,
    query: RawQuery,
    body: String,
) -> Result<Response, Trouble> {
    let path = (State(Arc::clone(&board)), Path(event.clone()), query);
    let (plan, query) = plan_for_entry(&path).await?;
    let form = Query::read(Some(&body));
    let d = wanted(&plan, &query)?;
    let chosen = form.first("way").unwrap_or("");
    let way = d
        .ways()
        .into_iter()
        .find(|w| w.id == chosen)
        .ok_or_else(|| {
            Trouble::entry(
                format!(
                    "the way: found \"{}\"",
                    chosen.chars().take(60).collect::<String>()
                ),
                "one of the ways that are open",
                "choose one of the list",
            )
        })?;
    let said = form.first("words");
    if way.then == Then::GoesOn && said.is_none() {
        return Err(Trouble::entry(
            "the words: found none",
            "who answered or looked, and what they said or read",
            "write it in a few words: it is what the lot goes on by",
        ));
    }
    // A second tap means the moment of the first.
    let first = written::sent_before(&board, &plan, &form).await?;
    let now = match first {
        Some(stored) => stored.says.at.clone(),
        None => moment(&plan, board.clock.now())?,
    };
    let id = form.first("id").unwrap_or("");
    let mut about = About::event(Label::new(plan.scene.event.id.as_str())?);
    about.component = d.component.as_deref().map(Label::new).transpose()?;
    about.step = d.step.as_deref().map(Label::new).transpose()?;
    about.part = Some(Label::new(&format!("{MARK}{}", d.key))?);
    let draft = |id: String, kind: Kind, words: String| -> Result<_, Trouble> {
        Ok(Draft {
            id: EntryId::new(&id)?,
            at: now.clone(),
            who: Name::new(form.first("who").unwrap_or(""))?,
            device: DeviceId::new(visitor().device())?,
            about: about.clone(),
            kind,
            reading: None,
            words,
        }
        .checked()?)
    };
    // What was found is written down with the first decision, as it stood then.
    let found = format!("{}; limit: {}; {}", d.found, d.limit, d.source);
    let decided = match said {
        Some(said) => format!("{}: {} · {said}", way.id, way.words),
        None => format!("{}: {}", way.id, way.words),
    };
    let by_hand = d.by_hand();
    let mut entries = Vec::new();
    if d.decided.is_empty() && !by_hand {
        entries.push(draft(format!("{id}-found"), Kind::Deviation, found)?);
    }
    entries.push(draft(id.to_owned(), Kind::Decision, decided)?);
    for entry in entries {
        written::store(&board, &plan, entry).await?;
    }
    let mut response = Redirect::to(&format!("/event/{event}/today")).into_response();
    if let Some(cookie) = form.first("who").and_then(device::remember) {
        response.headers_mut().insert(header::SET_COOKIE, cookie);
    }
    Ok(response)
}
