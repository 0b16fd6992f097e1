//! The revisions of a page: who changed it, when, and what.

use std::sync::Arc;

use axum::extract::{Path, State};
use maud::{Markup, html};
use store::History;

use super::{find, saved, title_of, which};
use crate::Board;
use crate::page::{Frame, frame};
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path(address): Path<String>,
) -> Result<Markup, Trouble> {
    let found = find(&board, &address).await?;
    let page = found.page.clone();
    let all = board.ask(History { page }).await?;
    let text = found.newest.text.as_deref();
    let which = which(&found.page, text);
    let newest = found.newest.number;
    Ok(frame(
        &Frame {
            title: &say_with(
                "board-revisions-of",
                &[("title", (&title_of(&found.page, text)).into())],
            ),
            plan: None,
            here: "recipe",
        },
        html! {
            div class="wide" tabindex="0" { table {
                thead { tr { th class="n" { (say("board-revision")) } th { (say("board-saved")) } th { (say("board-what-changed")) } th { (say("board-take-it-back")) } } }
                tbody { @for r in all.iter().rev() {
                    tr {
                        td class="n" { (r.number) @if r.number == newest { " " (say("board-now-brackets")) } }
                        td { (saved(r)) }
                        td {
                            @match r.parent {
                                Some(p) => { a href=(format!("/recipe/{which}/compare?from={p}&to={}", r.number)) { (say_with("board-against-revision", &[("n", p.into())])) } }
                                None => { (say("board-the-first")) }
                            }
                            @if r.text.is_none() { " " (say("board-taken-out")) }
                            @if r.number + 1 < newest {
                                " · " a href=(format!("/recipe/{which}/compare?from={}&to={newest}", r.number)) { (say("board-against-now")) }
                            }
                        }
                        td { @if r.number != newest && r.text.is_some() { a href=(format!("/recipe/{which}/edit?from={}", r.number)) { (say_with("board-put-back", &[("n", r.number.into())])) } } }
                    }
                } }
            } }
            form class="fields no-print" method="get" action=(format!("/recipe/{which}/compare")) {
                label { (say("board-from-revision")) input name="from" inputmode="numeric" value="1" required; }
                label { (say("board-to-revision")) input name="to" inputmode="numeric" value=(newest) required; }
                button type="submit" { (say("board-what-differs")) }
            }
            p { a href=(format!("/recipe/{which}")) { (say("board-back-to-page")) } }
        },
    ))
}
