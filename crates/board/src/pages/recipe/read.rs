//! A recipe as it is worked: steps, formula by weight with its base, yields, waits, windows, and what uses it.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use kitchen::recipe::{Product, Recipe, Surplus};
use kitchen::step::{BaseKind, FeedFrom, Goal, Hands, Line, LineAmount, LineItem, Step};
use kitchen::{Book, Id};
use maud::{Markup, html};
use plan::figures::number;
use plan::wording::{grams, whole};

use super::look::{events_with, recipes_in};
use super::{edit, find, list, not_kept, saved, which};
use crate::address::Query;
use crate::page::{Frame, frame};
use crate::trouble::Trouble;
use crate::{Board, planned};

/// Whole percent of a ratio.
const PERCENT: f64 = 100.0;

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    Path(address): Path<String>,
    RawQuery(query): RawQuery,
) -> Result<Markup, Trouble> {
    let query = Query::read(query.as_deref());
    let standing = board.standing_now().await?;
    let by_id = standing.book.recipes.get(address.as_str());
    // A book without pages on record can be read all the same.
    let found = match (standing.number, by_id) {
        (0, Some(_)) => None,
        _ => Some(find(&board, &address).await?),
    };
    let recipe = by_id.or_else(|| {
        let text = found.as_ref()?.newest.text.as_deref()?;
        let id = formats::fields::says(text, "recipe")?;
        standing.book.recipes.get(id.as_str())
    });
    let title = recipe.map_or_else(
        || {
            found
                .as_ref()
                .map_or_else(String::new, |f| f.page.to_string())
        },
        |r| r.name.clone(),
    );
    let windows = match recipe {
        Some(r) => windows(&board, &standing.book, r, &query).await,
        None => html! {},
    };
    Ok(frame(
        &Frame {
            title: &title,
            plan: None,
            here: "recipe",
        },
        html! {
            (told(&query))
            @if let Some(f) = &found {
                @let which = which(&f.page, f.newest.text.as_deref());
                (not_kept(&board))
                p {
                    strong { "Revision " (f.newest.number) } ", " (saved(&f.newest)) " · "
                    span class="no-print" {
                        (edit::link(f)) " · "
                        a href=(format!("/recipe/{which}/revisions")) { "Revisions" }
                    }
                }
            }
            @match (recipe, &found) {
                (Some(r), _) => {
                    (about(r))
                    @for step in &r.steps { (one_step(&standing.book, r, step)) }
                    (windows)
                    (uses(&standing.book, r))
                }
                (None, Some(f)) => {
                    p { "It holds " (list::kind(f.newest.kind)) "." }
                    pre tabindex="0" { (f.newest.text.as_deref().unwrap_or("")) }
                }
                (None, None) => {}
            }
        },
    ))
}

/// What just became of a save.
fn told(query: &Query) -> Markup {
    let number = |name: &str| query.first(name).and_then(|n| n.parse::<u32>().ok());
    let said = if let Some(n) = number("saved") {
        Some(format!(
            "Revision {n} is saved. Plans are made from it now."
        ))
    } else if let Some(n) = number("same") {
        Some(format!(
            "Nothing was saved: revision {n} says the same already."
        ))
    } else {
        number("theirs")
            .map(|n| format!("Revision {n} stays. What you wrote is let go; it stays on record."))
    };
    html! { @if let Some(said) = said { p class="now" role="status" { (said) } } }
}

fn about(r: &Recipe) -> Markup {
    html! {
        ul class="figures" {
            @if let Some(k) = &r.keeps_for {
                li { span class="label" { "keeps" } strong { (k.days) " days" } br; "from " (k.from) ", at most " (k.at_most) }
            }
            @if let Some(p) = &r.product { li { span class="label" { "product" } strong { (class(p)) } br; (p.species.as_deref().unwrap_or("")) } }
            li { span class="label" { "bought beyond the need" } strong { @match r.surplus { Surplus::Through => "is all made", Surplus::ToStore => "stays in the store" } } }
        }
    }
}

fn class(product: &Product) -> &'static str {
    let all = kitchen::recipe::ProductClass::ALL;
    all.iter()
        .find(|(_, c)| *c == product.class)
        .map_or("", |(word, _)| word)
}

fn one_step(book: &Book, r: &Recipe, step: &Step) -> Markup {
    let facts = facts(book, r, step);
    html! {
        h2 { (step.id) " " span class="label" { (step.verb.word()) } }
        p { (step.what) }
        @if !step.lines.is_empty() { (formula(book, step)) }
        @if !facts.is_empty() { ul { @for (name, value) in facts { li { span class="label" { (name) " " } (value) } } } }
    }
}

fn formula(book: &Book, step: &Step) -> Markup {
    let total: f64 = step
        .lines
        .iter()
        .filter_map(|l| match l.amount {
            LineAmount::OfBase(p) => Some(p),
            _ => None,
        })
        .sum();
    let of_base = step
        .lines
        .iter()
        .filter(|l| matches!(l.amount, LineAmount::OfBase(_)))
        .count();
    html! {
        div class="wide" tabindex="0" { table {
            caption class="small" {
                "100 % is " strong { (step.base.name) }
                @match step.base.kind {
                    BaseKind::Inflow => ": what flows in, weighed",
                    BaseKind::Made => ": what is made here, before any loss",
                    BaseKind::Cover(ratio) => { ": " (number(ratio, 2)) " times what flows in, as a liquor" }
                }
                @if let Some(m) = step.base.make_in { ", made in whole " (grams(m.g(), false)) }
                @if let Some(m) = step.base.written_for { "; grams and measures are written for " (grams(m.g(), false)) }
            }
            tbody {
                @for line in &step.lines {
                    tr {
                        td { (name(book, &line.item)) @if let Some(form) = &line.form { ", " (form) } }
                        td class="n" { (amount(line)) }
                    }
                }
                @if of_base > 1 { tr class="total" { td { "together, of " (step.base.name) } td class="n" { (number(total, 2)) " %" } } }
            }
        } }
    }
}

fn name<'b>(book: &'b Book, item: &'b LineItem) -> &'b str {
    match item {
        LineItem::Item(id) => book.ingredients.get(id).map_or(id.as_str(), |i| &i.name),
        LineItem::Recipe(id) => book.recipes.get(id).map_or(id.as_str(), |r| &r.name),
    }
}

fn amount(line: &Line) -> String {
    let said = match &line.amount {
        LineAmount::OfBase(p) => format!("{} %", number(*p, 2)),
        LineAmount::PerBatch(m) => grams(m.g(), false),
        LineAmount::PerLoad(m) => format!("{} a load", grams(m.g(), false)),
        LineAmount::PerPiece(n) => format!("{} a piece", number(*n, 0)),
    };
    match &line.written {
        Some(written) => format!("{written} = {said}"),
        None => said,
    }
}

/// What a step says of itself beside its formula, in the order of the work.
fn facts(book: &Book, r: &Recipe, step: &Step) -> Vec<(&'static str, String)> {
    let mut out = Vec::new();
    let feeds: Vec<String> = step
        .feeds
        .iter()
        .map(|f| {
            let from = match &f.from {
                FeedFrom::Item { item, piece, .. } => {
                    let name = book
                        .ingredients
                        .get(item)
                        .map_or(item.as_str(), |i| &i.name);
                    piece.map_or_else(
                        || name.to_owned(),
                        |p| format!("{name}, pieces of {}", grams(p.g(), false)),
                    )
                }
                FeedFrom::Step(id) => format!("step {id}"),
                FeedFrom::Recipe(id) => book
                    .recipes
                    .get(id)
                    .map_or_else(|| id.to_string(), |r| r.name.clone()),
            };
            if step.feeds.len() > 1 {
                format!("{} % {from}", number(f.share * PERCENT, 1))
            } else {
                from
            }
        })
        .collect();
    if !feeds.is_empty() {
        out.push(("from", feeds.join(", ")));
    }
    let y = &step.yields;
    if (y.mean - 1.0).abs() > f64::EPSILON || (y.high - y.low).abs() > f64::EPSILON {
        let spread = if (y.high - y.low).abs() > f64::EPSILON {
            format!(", {} to {}", y.low, y.high)
        } else {
            String::new()
        };
        out.push(("yield", format!("{}{spread} ({})", y.mean, y.source)));
    }
    if let Some(p) = &step.piece {
        let spread = p
            .spread
            .map_or_else(String::new, |(thin, thick)| format!(", {thin} to {thick}"));
        out.push((
            "thickness",
            format!("{} {}{spread}, {} open", p.shape, p.thickness, p.open_faces),
        ));
    }
    if let Some(goal) = step.goal {
        out.push(("to reach", reached(goal)));
    }
    hands(&step.hands, &mut out);
    let programme: Vec<String> = step
        .programme
        .iter()
        .map(|s| {
            let air = s.air.map_or_else(String::new, |t| format!(" at {t}"));
            format!("{} {}{air}", s.what, s.time)
        })
        .collect();
    if !programme.is_empty() {
        out.push(("runs by itself", programme.join(", ")));
    }
    if let Some(u) = step.until {
        out.push(("until", format!("core {} for {}", u.core, u.hold)));
    }
    if let Some(rounds) = &step.rounds {
        out.push(("every", format!("{}: {}", rounds.every, rounds.what)));
    }
    let last = r.steps.get(r.last()).is_some_and(|l| l.id == step.id);
    out.push((if last { "keeps, on the plan" } else { "wait" }, wait(step)));
    let uses: Vec<&str> = step.uses.iter().map(|u| u.machine.as_str()).collect();
    if !uses.is_empty() {
        out.push(("machines", uses.join(", ")));
    }
    out
}

fn reached(goal: Goal) -> String {
    match goal {
        Goal::Equilibrium(part) => {
            format!("{} % of the salt it ends at", number(part * PERCENT, 0))
        }
        Goal::WaterPhaseSalt(pct) => format!(
            "{} % salt in the water where salt comes last",
            number(pct, 1)
        ),
        Goal::Salt { low, high } => {
            format!("{} to {} % salt, mean", number(low, 1), number(high, 1))
        }
        Goal::Loss(pct) => format!("{} % of its weight lost", number(pct, 0)),
        Goal::Cold(t) => format!("{t} or below everywhere"),
        Goal::Acid(part) => format!(
            "{} % of the acid it ends at, at the centre",
            number(part * PERCENT, 0)
        ),
    }
}

fn hands(h: &Hands, out: &mut Vec<(&'static str, String)>) {
    let parts: Vec<String> = [("", h.setup), (" each", h.each), (" a kg", h.per_kg)]
        .into_iter()
        .filter(|(_, t)| t.seconds() > 0)
        .map(|(word, t)| format!("{t}{word}"))
        .collect();
    if !parts.is_empty() {
        let people = if h.people > 1 {
            format!(", {} people", h.people)
        } else {
            String::new()
        };
        out.push(("hands", format!("{}{people}", parts.join(" + "))));
    }
}

fn wait(step: &Step) -> String {
    let w = &step.wait;
    if w.max.seconds() == 0 {
        return "at once".to_owned();
    }
    let best = w.best.map_or_else(String::new, |b| format!(", best {b}"));
    let at = w
        .at_most
        .map_or_else(String::new, |t| format!(", at most {t}"));
    let grows = if w.by_thickness {
        "; grows with thickness squared"
    } else {
        ""
    };
    format!("{} to {}{best}{at}{grows}", w.min, w.max)
}

/// Windows computed for an event this recipe goes into.
async fn windows(board: &Arc<Board>, book: &Book, r: &Recipe, query: &Query) -> Markup {
    let events = events_with(book, Some(r.id.as_str()));
    let chosen = query
        .first("event")
        .and_then(|id| events.iter().find(|e| e.id == id))
        .or(events.first());
    let Some(event) = chosen else {
        return html! {};
    };
    let plan = match planned::plan(board, event.id.as_str(), &[]).await {
        Ok(plan) => plan,
        Err(trouble) => return trouble.framed(),
    };
    let own: Vec<_> = plan
        .windows
        .iter()
        .filter(|w| w.component == r.id)
        .collect();
    html! {
        h2 { "For " (event.name) }
        @if !own.is_empty() {
            div class="wide" tabindex="0" { table {
                thead { tr { th { "To reach" } th { "Thin piece" } th { "Usual" } th { "Thickest" } } }
                tbody { @for w in &own {
                    tr {
                        td { (w.step) ": " (w.goal) @if let Some(c) = &w.conflict { br; strong { (c) } } }
                        @match &w.window {
                            Ok(s) => { td { (whole(s.thin)) } td { (whole(s.nominal)) } td { (whole(s.thick)) } }
                            Err(why) => { td colspan="3" { "not computed: " (why) } }
                        }
                    }
                } }
            } }
        }
        p { a href=(format!("/event/{}/lot/{}", event.id, r.id)) { "Weights, clock and verdicts of this batch" } }
    }
}

fn uses(book: &Book, r: &Recipe) -> Markup {
    let dishes: Vec<_> = book
        .dishes
        .values()
        .filter(|d| d.parts.iter().any(|p| p.recipe == r.id))
        .collect();
    let recipes: Vec<(&Id, &Recipe)> = book
        .recipes
        .iter()
        .filter(|(_, other)| recipes_in(other).any(|id| *id == r.id))
        .collect();
    let events = events_with(book, Some(r.id.as_str()));
    html! {
        h2 { "What uses it" }
        @if dishes.is_empty() && recipes.is_empty() { p { "No dish and no recipe of the book." } }
        ul {
            @for d in dishes { li { "dish: " (d.name) } }
            @for (id, other) in recipes { li { "recipe: " a href=(format!("/recipe/{id}")) { (other.name) } } }
            @for e in events { li { "event: " a href=(format!("/event/{}", e.id)) { (e.name) } } }
        }
    }
}
