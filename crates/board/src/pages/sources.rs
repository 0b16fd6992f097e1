//! Where the figures come from, and how far each text was read.

use maud::{Markup, html};
use sources::list::ALL;

use crate::page::{Frame, frame};
use crate::tongue::say;

pub(crate) async fn page() -> Markup {
    let rules = safety::rules::shipped().map_or(&[][..], |r| r.rules.as_slice());
    frame(
        &Frame {
            title: &say("board-sources"),
            plan: None,
            here: "sources",
        },
        html! {
            p { (say("board-only-read")) " " em { (say("board-shown-word")) } (say("board-others-break")) }
            h2 { (say("board-texts")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-key")) } th { (say("board-title")) } th { (say("board-how-far")) } } }
                tbody { @for s in ALL { tr { td { (s.key) } td { (s.title) } td { (s.status.words()) } } } }
            } }
            h2 { (say("board-rules-head")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-row")) } th { (say("board-place")) } th { (say("board-what-for")) } th { (say("board-text")) } th { (say("board-how-far")) } } }
                tbody { @for r in rules {
                    tr {
                        td { (r.id) } td { (r.place.word()) @if let Some(region) = &r.region { ", " (region) } }
                        td { (r.scope) } td { (r.title) ", " (r.section) } td { (r.status.words()) }
                    }
                } }
            } }
        },
    )
}
