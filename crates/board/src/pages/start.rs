//! The first page: which event.

use std::sync::Arc;

use axum::extract::State;
use maud::{Markup, html};

use crate::Board;
use crate::access::doors::may_read;
use crate::access::visitor::visitor;
use crate::page::{Frame, frame};
use crate::tongue::{covers, say, with_weekday};

pub(crate) async fn page(State(board): State<Arc<Board>>) -> Markup {
    let visitor = visitor();
    let book = board.book();
    let mut events: Vec<_> = book.events.values().collect();
    events.sort_by_key(|e| e.serve);
    frame(
        &Frame::plain(&say("board-events")),
        html! {
            @if !book.note.is_empty() { p { (book.note) } }
            ul class="cards" {
                @for e in events {
                    li {
                        a class="whole" href=(format!("/event/{}/today", e.id)) {
                            h2 { (e.name) }
                        }
                        p {
                            (e.serve.strftime(&with_weekday("%A %Y-%m-%d %H:%M", e.serve.date()))) br;
                            (covers(e))
                        }
                        p {
                            @if may_read(&visitor, "/event/{event}") { a href=(format!("/event/{}", e.id)) { (say("board-plan")) } " · " }
                            a href=(format!("/event/{}/weigh", e.id)) { (say("board-weigh")) }
                            @if may_read(&visitor, "/event/{event}/order") { " · " a href=(format!("/event/{}/order", e.id)) { (say("board-order")) } }
                        }
                    }
                }
            }
            p { a href="/bench" { (say("board-bench-questions-link")) } (say("board-bench-such-as")) }
        },
    )
}
