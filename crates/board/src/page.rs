//! The frame around every page: what it is, where one is, where one can go.

use maud::{DOCTYPE, Markup, html};
use plan::Plan;
use words::Language;

use crate::access::doors::may_read;
use crate::access::tokens::in_every_form;
use crate::access::visitor::{Visitor, visitor};
use crate::address::{AS_PLANNED, carried};
use crate::day::banner::banner;
use crate::shown::Shown;
use crate::tongue::{choice, covers, language, say, with_weekday};

/// What the frame needs to know of a page.
pub(crate) struct Frame<'a> {
    /// Title, in words.
    pub(crate) title: &'a str,
    /// The plan it belongs to.
    pub(crate) plan: Option<&'a Shown>,
    /// The last part of its own address, to mark where one is.
    pub(crate) here: &'a str,
}

impl<'a> Frame<'a> {
    /// A page of no event.
    pub(crate) const fn plain(title: &'a str) -> Self {
        Self {
            title,
            plan: None,
            here: "",
        }
    }
}

/// Pages of the kitchen: address, what a page says to be marked, the key of its name.
const KITCHEN_PAGES: &[(&str, &str, &str)] = &[
    ("/", "", "board-events"),
    ("/recipe", "recipe", "board-recipes"),
    ("/bench", "bench", "board-bench"),
    ("/sources", "sources", "board-sources"),
];

/// The address of a page of an event as `app.rs` has it.
fn route(page: &str) -> String {
    if page.is_empty() {
        "/event/{event}".to_owned()
    } else {
        format!("/event/{{event}}/{page}")
    }
}

/// Pages of an event: address and the key of its name.
const EVENT_PAGES: &[(&str, &str)] = &[
    ("today", "board-today"),
    ("", "board-plan"),
    ("weigh", "board-weigh"),
    ("cold", "board-cold-store"),
    ("guests", "board-guests"),
    ("order", "board-order"),
    ("sheets", "board-papers"),
    ("cost", "board-cost"),
    ("record", "board-record"),
    ("verdicts", "board-verdicts"),
    ("why", "board-why"),
];

/// A whole page.
pub(crate) fn frame(frame: &Frame, body: Markup) -> Markup {
    let visitor = visitor();
    let page = html! {
        (DOCTYPE)
        html lang=(language().word()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title {
                    (frame.title)
                    @if let Some(plan) = frame.plan { " · " (plan.scene.event.name) }
                    " · Saltern"
                }
                link rel="stylesheet" href="/look/board.css";
            }
            body {
                a class="skip" href="#main" { (say("board-skip")) }
                header {
                    (head(frame, &visitor))
                }
                main id="main" {
                    h1 { (frame.title) }
                    @if let Some(plan) = frame.plan {
                        (banner(plan, frame.here))
                        (changes(plan, &visitor))
                    }
                    (body)
                }
                footer {
                    @if let Some(plan) = frame.plan {
                        p { (plan.scene.book.note) }
                        p {
                            (plan.scene.site.name) " · " (say("board-rules")) " " (plan.scene.site.rules.word())
                            " · " (say("board-variance")) " " (plan.scene.site.plan_number.clone().unwrap_or_else(|| say("board-none-named")))
                        }
                    }
                    p {
                        (say("board-not-evidence")) " "
                        (say("board-local-first"))
                    }
                    @if language() != Language::English && frame.plan.is_some() { p { (say("board-plan-sentences")) } }
                    (choice())
                }
            }
        }
    };
    in_every_form(page, visitor.form_token())
}

fn head(frame: &Frame, visitor: &Visitor) -> Markup {
    html! {
        nav class="rooms" aria-label=(say("board-kitchen")) {
            a href="/" class="mark" { "Saltern" }
            @for (address, here, name) in KITCHEN_PAGES {
                @if may_read(visitor, address) {
                    a href=(address) aria-current=[(!here.is_empty() && frame.here == *here).then_some("page")] { (say(name)) }
                }
            }
        }
        (crate::pages::sign_in::who_is_here(visitor))
        @if let Some(plan) = frame.plan {
            p class="event" {
                strong { (plan.scene.event.name) }
                " · " (plan.scene.event.serve.strftime(&with_weekday("%a %Y-%m-%d %H:%M", plan.scene.event.serve.date())))
                " · " (covers(&plan.scene.event))
            }
            nav class="pages" aria-label=(say("board-this-event")) {
                @for (address, name) in EVENT_PAGES.iter().filter(|(address, _)| may_read(visitor, &route(address))) {
                    a href=(event_address(plan, address)) aria-current=[(frame.here == *address).then_some("page")] { (say(name)) }
                }
            }
        }
    }
}

/// The changes this plan has against the book, with a way back.
fn changes(plan: &Plan, visitor: &Visitor) -> Markup {
    let words: Vec<String> = changes_of(plan)
        .into_iter()
        .filter(|c| c != AS_PLANNED)
        .collect();
    if words.is_empty() {
        return html! {};
    }
    html! {
        div class="what-if" role="status" {
            strong { (say("board-what-if")) " " }
            @for (i, word) in words.iter().enumerate() {
                @if i > 0 { ", " }
                span class="change" { (word) }
            }
            " · "
            @if may_read(visitor, "/event/{event}/compare") {
                a href=(format!("/event/{}/compare{}", plan.scene.event.id, carried(&words))) { (say("board-what-changes")) }
                " · "
            }
            a href=(format!("/event/{}", plan.scene.event.id)) { (say("board-as-book")) }
        }
    }
}

/// The changes of a plan as they are written in an address.
pub(crate) fn changes_of(plan: &Plan) -> Vec<String> {
    plan.scene.changes.iter().map(ToString::to_string).collect()
}

/// The address of a page of this plan, its changes carried on.
pub(crate) fn event_address(plan: &Plan, page: &str) -> String {
    let slash = if page.is_empty() { "" } else { "/" };
    format!(
        "/event/{}{slash}{page}{}",
        plan.scene.event.id,
        carried(&changes_of(plan))
    )
}

/// A figure that opens its derivation.
pub(crate) fn opens(plan: &Plan, id: &str, shown: &str) -> Markup {
    if plan.figures.get(id).is_none() {
        return html! { (shown) };
    }
    let page = format!("why/{}", crate::address::encoded(id));
    html! { a class="figure" href=(event_address(plan, &page)) title=(say("board-how-reached")) { (shown) } }
}
