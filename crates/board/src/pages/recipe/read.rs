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
use crate::tongue::{say, say_with};
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
                    strong { (say_with("board-revision-n-head", &[("n", f.newest.number.into())])) } ", " (saved(&f.newest)) " · "
                    span class="no-print" {
                        (edit::link(f)) " · "
                        a href=(format!("/recipe/{which}/revisions")) { (say("board-revisions")) }
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
                    p { (say_with("board-it-holds", &[("what", (&list::kind(f.newest.kind)).into())])) }
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
        Some(say_with("board-rev-saved", &[("n", n.into())]))
    } else if let Some(n) = number("same") {
        Some(say_with("board-rev-same", &[("n", n.into())]))
    } else {
        number("theirs").map(|n| say_with("board-rev-theirs", &[("n", n.into())]))
    };
    html! { @if let Some(said) = said { p class="now" role="status" { (said) } } }
}

fn about(r: &Recipe) -> Markup {
    html! {
        ul class="figures" {
            @if let Some(k) = &r.keeps_for {
                li { span class="label" { (say("board-keeps")) } strong { (say_with("board-n-days", &[("n", (&k.days.to_string()).into())])) } br; (say_with("board-from-at-most", &[("step", k.from.as_str().into()), ("at", (&k.at_most.to_string()).into())])) }
            }
            @if let Some(p) = &r.product { li { span class="label" { (say("board-product")) } strong { (class(p)) } br; (p.species.as_deref().unwrap_or("")) } }
            li { span class="label" { (say("board-bought-beyond")) } strong { @match r.surplus { Surplus::Through => (say("board-is-all-made")), Surplus::ToStore => (say("board-stays-in-store")) } } }
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
                (say("board-base-is")) " " strong { (step.base.name) }
                @match step.base.kind {
                    BaseKind::Inflow => (say("board-base-inflow")),
                    BaseKind::Made => (say("board-base-made")),
                    BaseKind::Cover(ratio) => { (say_with("board-base-cover", &[("n", (&number(ratio, 2)).into())])) }
                }
                @if let Some(m) = step.base.make_in { (say_with("board-made-in-whole", &[("mass", (&grams(m.g(), false)).into())])) }
                @if let Some(m) = step.base.written_for { (say_with("board-written-for", &[("mass", (&grams(m.g(), false)).into())])) }
            }
            tbody {
                @for line in &step.lines {
                    tr {
                        td { (name(book, &line.item)) @if let Some(form) = &line.form { ", " (form) } }
                        td class="n" { (amount(line)) }
                    }
                }
                @if of_base > 1 { tr class="total" { td { (say_with("board-together-of", &[("base", (&step.base.name.to_string()).into())])) } td class="n" { (number(total, 2)) " %" } } }
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
        LineAmount::PerLoad(m) => say_with(
            "board-amount-load",
            &[("amount", (&grams(m.g(), false)).into())],
        ),
        LineAmount::PerPiece(n) => {
            say_with("board-amount-piece", &[("amount", (&number(*n, 0)).into())])
        }
    };
    match &line.written {
        Some(written) => format!("{written} = {said}"),
        None => said,
    }
}

/// What a step says of itself beside its formula, in the order of the work.
fn facts(book: &Book, r: &Recipe, step: &Step) -> Vec<(String, String)> {
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
                        |p| {
                            say_with(
                                "board-pieces-of",
                                &[
                                    ("name", name.into()),
                                    ("mass", (&grams(p.g(), false)).into()),
                                ],
                            )
                        },
                    )
                }
                FeedFrom::Step(id) => say_with("board-of-step", &[("id", id.as_str().into())]),
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
        out.push((say("board-fact-from"), feeds.join(", ")));
    }
    let y = &step.yields;
    if (y.mean - 1.0).abs() > f64::EPSILON || (y.high - y.low).abs() > f64::EPSILON {
        let spread = if (y.high - y.low).abs() > f64::EPSILON {
            say_with(
                "board-low-to-high",
                &[
                    ("low", (&y.low.to_string()).into()),
                    ("high", (&y.high.to_string()).into()),
                ],
            )
        } else {
            String::new()
        };
        out.push((
            say("board-fact-yield"),
            format!("{}{spread} ({})", y.mean, y.source),
        ));
    }
    if let Some(p) = &step.piece {
        let spread = p.spread.map_or_else(String::new, |(thin, thick)| {
            say_with(
                "board-low-to-high",
                &[
                    ("low", (&thin.to_string()).into()),
                    ("high", (&thick.to_string()).into()),
                ],
            )
        });
        out.push((
            say("board-fact-thickness"),
            say_with(
                "board-piece-open",
                &[
                    ("shape", (&p.shape.to_string()).into()),
                    ("size", (&format!("{}{spread}", p.thickness)).into()),
                    ("faces", (&p.open_faces.to_string()).into()),
                ],
            ),
        ));
    }
    if let Some(goal) = step.goal {
        out.push((say("board-fact-reach"), reached(goal)));
    }
    hands(&step.hands, &mut out);
    let programme: Vec<String> = step
        .programme
        .iter()
        .map(|s| {
            let air = s.air.map_or_else(String::new, |t| {
                format!(
                    " {}",
                    say_with("board-at-air", &[("air", (&t.to_string()).into())])
                )
            });
            format!("{} {}{air}", s.what, s.time)
        })
        .collect();
    if !programme.is_empty() {
        out.push((say("board-fact-runs"), programme.join(", ")));
    }
    if let Some(u) = step.until {
        out.push((
            say("board-until"),
            say_with(
                "board-core-for",
                &[
                    ("core", (&u.core.to_string()).into()),
                    ("hold", (&u.hold.to_string()).into()),
                ],
            ),
        ));
    }
    if let Some(rounds) = &step.rounds {
        out.push((
            say("board-fact-every"),
            format!("{}: {}", rounds.every, rounds.what),
        ));
    }
    let last = r.steps.get(r.last()).is_some_and(|l| l.id == step.id);
    out.push((
        say(if last {
            "board-fact-keeps"
        } else {
            "board-fact-wait"
        }),
        wait(step),
    ));
    let uses: Vec<&str> = step.uses.iter().map(|u| u.machine.as_str()).collect();
    if !uses.is_empty() {
        out.push((say("board-fact-machines"), uses.join(", ")));
    }
    out
}

fn reached(goal: Goal) -> String {
    match goal {
        Goal::Equilibrium(part) => say_with(
            "board-goal-salt-end",
            &[("n", (&number(part * PERCENT, 0)).into())],
        ),
        Goal::WaterPhaseSalt(pct) => {
            say_with("board-goal-water-phase", &[("n", (&number(pct, 1)).into())])
        }
        Goal::Salt { low, high } => say_with(
            "board-goal-salt-mean",
            &[
                ("low", (&number(low, 1)).into()),
                ("high", (&number(high, 1)).into()),
            ],
        ),
        Goal::Loss(pct) => say_with("board-goal-loss", &[("n", (&number(pct, 0)).into())]),
        Goal::Cold(t) => say_with("board-goal-cold", &[("t", (&t.to_string()).into())]),
        Goal::Acid(part) => say_with(
            "board-goal-acid",
            &[("n", (&number(part * PERCENT, 0)).into())],
        ),
    }
}

fn hands(h: &Hands, out: &mut Vec<(String, String)>) {
    let parts: Vec<String> = [
        (None, h.setup),
        (Some("board-time-each"), h.each),
        (Some("board-time-a-kg"), h.per_kg),
    ]
    .into_iter()
    .filter(|(_, t)| t.seconds() > 0)
    .map(|(key, t)| match key {
        Some(key) => say_with(key, &[("time", (&t.to_string()).into())]),
        None => t.to_string(),
    })
    .collect();
    if !parts.is_empty() {
        let people = if h.people > 1 {
            say_with("board-n-people", &[("n", (&h.people.to_string()).into())])
        } else {
            String::new()
        };
        out.push((
            say("board-fact-hands"),
            format!("{}{people}", parts.join(" + ")),
        ));
    }
}

fn wait(step: &Step) -> String {
    let w = &step.wait;
    if w.max.seconds() == 0 {
        return say("board-at-once");
    }
    let best = w.best.map_or_else(String::new, |b| {
        say_with("board-wait-best", &[("time", (&b.to_string()).into())])
    });
    let at = w.at_most.map_or_else(String::new, |t| {
        say_with("board-wait-at-most", &[("t", (&t.to_string()).into())])
    });
    let grows = if w.by_thickness {
        say("board-wait-grows")
    } else {
        String::new()
    };
    let span = say_with(
        "board-wait-span",
        &[
            ("min", (&w.min.to_string()).into()),
            ("max", (&w.max.to_string()).into()),
        ],
    );
    format!("{span}{best}{at}{grows}")
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
        h2 { (say_with("board-for-head", &[("name", event.name.as_str().into())])) }
        @if !own.is_empty() {
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-reach-head")) } th { (say("board-thin-head")) } th { (say("board-usual-head")) } th { (say("board-thickest-head")) } } }
                tbody { @for w in &own {
                    tr {
                        td { (w.step) ": " (w.goal) @if let Some(c) = &w.conflict { br; strong { (c) } } }
                        @match &w.window {
                            Ok(s) => { td { (whole(s.thin)) } td { (whole(s.nominal)) } td { (whole(s.thick)) } }
                            Err(why) => { td colspan="3" { (say("board-not-computed-inline")) " " (why) } }
                        }
                    }
                } }
            } }
        }
        p { a href=(format!("/event/{}/lot/{}", event.id, r.id)) { (say("board-batch-link")) } }
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
        h2 { (say("board-what-uses")) }
        @if dishes.is_empty() && recipes.is_empty() { p { (say("board-used-by-none")) } }
        ul {
            @for d in dishes { li { (say("board-use-dish")) " " (d.name) } }
            @for (id, other) in recipes { li { (say("board-use-recipe")) " " a href=(format!("/recipe/{id}")) { (other.name) } } }
            @for e in events { li { (say("board-use-event")) " " a href=(format!("/event/{}", e.id)) { (e.name) } } }
        }
    }
}
