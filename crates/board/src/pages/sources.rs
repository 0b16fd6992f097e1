//! Where the figures come from, and how far each text was read.

use maud::{Markup, html};
use sources::list::ALL;

use crate::page::{Frame, frame};

pub(crate) async fn page() -> Markup {
    let rules = safety::rules::shipped().map_or(&[][..], |r| r.rules.as_slice());
    frame(
        &Frame {
            title: "Sources",
            plan: None,
            here: "sources",
        },
        html! {
            p { "Only a text that was read itself can make a verdict " em { "shown" } "; the others can break one: verify them with your authority." }
            h2 { "Texts, tables and programs" }
            div class="wide" tabindex="0" { table {
                thead { tr { th { "Key" } th { "Title" } th { "How far" } } }
                tbody { @for s in ALL { tr { td { (s.key) } td { (s.title) } td { (s.status.words()) } } } }
            } }
            h2 { "Rules" }
            div class="wide" tabindex="0" { table {
                thead { tr { th { "Row" } th { "Place" } th { "What for" } th { "Text" } th { "How far" } } }
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
