//! The first page: which event.

use std::sync::Arc;

use axum::extract::State;
use maud::{Markup, html};

use crate::Board;
use crate::access::doors::may_read;
use crate::access::visitor::visitor;
use crate::page::{Frame, frame};

pub(crate) async fn page(State(board): State<Arc<Board>>) -> Markup {
    let visitor = visitor();
    let book = board.book();
    let mut events: Vec<_> = book.events.values().collect();
    events.sort_by_key(|e| e.serve);
    frame(
        &Frame::plain("Events"),
        html! {
            @if !book.note.is_empty() { p { (book.note) } }
            ul class="cards" {
                @for e in events {
                    li {
                        a class="whole" href=(format!("/event/{}/today", e.id)) {
                            h2 { (e.name) }
                        }
                        p {
                            (e.serve.strftime("%A %Y-%m-%d %H:%M")) br;
                            (e.covers) " " (e.cover_word) "s"
                        }
                        p {
                            @if may_read(&visitor, "/event/{event}") { a href=(format!("/event/{}", e.id)) { "Plan" } " · " }
                            a href=(format!("/event/{}/weigh", e.id)) { "Weigh" }
                            @if may_read(&visitor, "/event/{event}/order") { " · " a href=(format!("/event/{}/order", e.id)) { "Order" } }
                        }
                    }
                }
            }
            p { a href="/bench" { "The bench questions" } ": how much salt, when it comes out, is it cold fast enough." }
        },
    )
}
