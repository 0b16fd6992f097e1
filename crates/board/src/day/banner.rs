//! The lines above every page of an event: what the plan stands on, what is to be corrected, what is open.

use maud::{Markup, html};

use crate::address::{AS_PLANNED, carried};
use crate::day::deviations::Stand;
use crate::page::changes_of;
use crate::shown::Shown;
use crate::tongue::{moment, say, say_with};

/// What happened and what the page makes of it: how old the plan is, what to correct, what is held.
pub(crate) fn banner(shown: &Shown, here: &str) -> Markup {
    let day = &shown.day;
    let event = &shown.scene.event.id;
    let changes: Vec<String> = changes_of(shown)
        .into_iter()
        .filter(|c| c != AS_PLANNED)
        .collect();
    // A page of one lot or one figure has no address of its own here: it leads to the day.
    let here = if matches!(here, "lot" | "why" | "compare" | "deviation") {
        "today"
    } else {
        here
    };
    let page = |with: &[String]| {
        let slash = if here.is_empty() { "" } else { "/" };
        format!("/event/{event}{slash}{here}{}", carried(with))
    };
    let (counted, last) = day.counted();
    let entries = |n: usize| say_with("board-entries", &[("n", n.into())]);
    html! {
        @if shown.as_planned {
            div class="what-if" role="status" {
                strong { (say("board-as-planned-title")) } (say("board-without-written")) " · "
                a href=(page(&changes)) { (say("board-as-it-stands")) }
            }
        } @else if counted > 0 {
            div class="what-if" role="status" {
                strong { (say("board-replanned-from")) " " (entries(counted)) }
                @if let Some(last) = last {
                    (say("board-last")) " " (moment(&last.to_zoned_datetime(shown.scene.site.zone.clone()), "%a %H:%M"))
                }
                " · " a href=(format!("/event/{event}/compare")) { (say("board-what-moved")) }
                " · " a href=(page(&[changes.clone(), vec![AS_PLANNED.to_owned()]].concat())) { (say("board-as-planned")) }
            }
        }
        @for q in &day.questions {
            div class="decide" {
                p { (say("board-not-counted")) " " @if let Some(n) = q.entry { (say_with("board-entry-n", &[("n", (&n.to_string()).into())])) " " } (q.found) }
                p class="small" { (say("board-expected-inline")) " " (q.expected) "; " (q.do_now) }
                @if let Some(n) = q.entry { p { a href=(format!("/event/{event}/record?corrects={n}")) { (say_with("board-correct-entry", &[("n", (&n.to_string()).into())])) } } }
            }
        }
        @let settled: Vec<_> = day.deviations.iter().filter(|d| matches!(d.stand, Stand::Held | Stand::Discarded)).collect();
        @if !settled.is_empty() {
            p class="what-if" { @for (i, d) in settled.iter().enumerate() {
                @if i > 0 { ", " }
                strong class="word broken" { @if d.stand == Stand::Discarded { (say("board-discarded")) } @else { (say("board-held")) } } " "
                a href=(d.address(event.as_str())) { (d.name) }
            } }
        }
        @let open = day.open().count();
        @if open > 0 && here != "today" {
            p class="what-if" { strong { (say_with("board-open-deviations-n", &[("n", open.into())])) } ": "
                @for (i, d) in day.open().enumerate() { @if i > 0 { ", " } a href=(d.address(event.as_str())) { (d.name) } } }
        }
    }
}
