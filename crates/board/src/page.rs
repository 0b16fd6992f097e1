//! The frame around every page: what it is, where one is, where one can go.

use maud::{DOCTYPE, Markup, html};
use plan::Plan;

use crate::address::carried;

/// What the frame needs to know of a page.
pub(crate) struct Frame<'a> {
    /// Title, in words.
    pub(crate) title: &'a str,
    /// The plan it belongs to.
    pub(crate) plan: Option<&'a Plan>,
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

/// Pages of an event: address and name.
const EVENT_PAGES: &[(&str, &str)] = &[
    ("today", "Today"),
    ("", "Plan"),
    ("weigh", "Weigh"),
    ("cold", "Cold store"),
    ("guests", "Guests"),
    ("order", "Order"),
    ("sheets", "Papers"),
    ("cost", "Cost"),
    ("record", "Record"),
    ("verdicts", "Verdicts"),
    ("why", "Why"),
];

/// A whole page.
pub(crate) fn frame(frame: &Frame, body: Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
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
                a class="skip" href="#main" { "To the page itself" }
                header {
                    (head(frame))
                }
                main id="main" {
                    h1 { (frame.title) }
                    @if let Some(plan) = frame.plan {
                        (changes(plan))
                    }
                    (body)
                }
                footer {
                    @if let Some(plan) = frame.plan {
                        p { (plan.scene.book.note) }
                        p {
                            (plan.scene.site.name) " · rules " (plan.scene.site.rules.word())
                            " · variance and plan " (plan.scene.site.plan_number.as_deref().unwrap_or("none named"))
                        }
                    }
                    p {
                        "A plan is not evidence: what is cured, cooked or cooled is shown by readings of a checked instrument. "
                        "Local code and the plan your authority approved come first."
                    }
                }
            }
        }
    }
}

fn head(frame: &Frame) -> Markup {
    html! {
        nav class="rooms" aria-label="Kitchen" {
            a href="/" class="mark" { "Saltern" }
            a href="/" { "Events" }
            a href="/bench" aria-current=[(frame.here == "bench").then_some("page")] { "Bench" }
            a href="/sources" aria-current=[(frame.here == "sources").then_some("page")] { "Sources" }
        }
        @if let Some(plan) = frame.plan {
            p class="event" {
                strong { (plan.scene.event.name) }
                " · " (plan.scene.event.serve.strftime("%a %Y-%m-%d %H:%M"))
                " · " (plan.scene.event.covers) " " (plan.scene.event.cover_word) "s"
            }
            nav class="pages" aria-label="This event" {
                @for (address, name) in EVENT_PAGES {
                    a href=(event_address(plan, address)) aria-current=[(frame.here == *address).then_some("page")] { (name) }
                }
            }
        }
    }
}

/// The changes this plan has against the book, with a way back.
fn changes(plan: &Plan) -> Markup {
    if plan.scene.changes.is_empty() {
        return html! {};
    }
    let words: Vec<String> = changes_of(plan);
    html! {
        div class="what-if" role="status" {
            strong { "What if: " }
            @for (i, word) in words.iter().enumerate() {
                @if i > 0 { ", " }
                span class="change" { (word) }
            }
            " · "
            a href=(format!("/event/{}/compare{}", plan.scene.event.id, carried(&words))) { "what changes" }
            " · "
            a href=(format!("/event/{}", plan.scene.event.id)) { "as the book has it" }
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
    html! { a class="figure" href=(event_address(plan, &page)) title="how it was reached" { (shown) } }
}
