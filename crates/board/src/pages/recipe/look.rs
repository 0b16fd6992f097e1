//! A look at a page before it is saved: does the book read with it, and what does it move.

use std::sync::Arc;

use book::{Diagnostic, Limits, SourceFile};
use formats::refusal::Refusal;
use kitchen::event::Event;
use kitchen::step::{FeedFrom, LineItem};
use kitchen::{Book, Id};
use maud::{Markup, html};
use plan::{Plan, Scene};
use store::{PageId, Revision};

use crate::shelf;
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

/// Mistakes listed; past these nobody reads on.
const MOST: usize = 40;
/// Characters of a quoted line.
const QUOTED: usize = 120;

/// What a look found.
pub(super) enum Said {
    /// Fields that cannot be written into the text.
    Fields(Vec<Refusal>),
    /// What stands beside the text cannot be taken: a name is missing.
    Unnamed(Trouble),
    /// The book does not read with this text.
    Wrong(Vec<Diagnostic>),
    /// The book reads with it.
    Book(Box<Book>),
}

/// The book with a page replaced, or added, or every mistake it then has.
pub(super) fn read_with(
    pages: &[Revision],
    page: &PageId,
    text: &str,
) -> Result<Book, Vec<Diagnostic>> {
    let mut files: Vec<SourceFile> = shelf::files(pages)
        .into_iter()
        .filter(|f| f.name != page.as_str())
        .collect();
    files.push(SourceFile::text(page.as_str(), text));
    files.sort_by(|a, b| a.name.cmp(&b.name));
    let mut wrong = match book::read(&files, Limits::default()) {
        Ok(book) => return Ok(book),
        Err(wrong) => wrong,
    };
    // What stands in the page at hand comes first.
    wrong.sort_by_key(|d| d.file != page.as_str());
    Err(wrong)
}

/// The plan of an event of a book, keeping the hours of another plan where it can.
pub(super) async fn planned(
    book: Book,
    event: String,
    before: Option<Arc<Plan>>,
) -> Result<Plan, Trouble> {
    let made = tokio::task::spawn_blocking(move || {
        let first = Scene::new(&book, &event)?;
        let scene = before
            .as_deref()
            .map_or_else(|| first.clone(), |b| plan::compare::keeping(&first, b));
        let effort = schedule::Effort::standard();
        Ok::<Plan, Trouble>(plan::make(&scene, &first, &effort, &mut |_| true)?)
    });
    made.await
        .map_err(|e| Trouble::ours(format!("planning stopped: {e}")))?
}

/// Mistakes of a book, with the place they stand at.
pub(super) fn mistakes(wrong: &[Diagnostic], page: &PageId, so: &str) -> Markup {
    html! {
        div class="trouble" role="alert" {
            p class="found" {
                (say_with("board-mistakes", &[("n", wrong.len().into()), ("so", so.into())]))
            }
            ol class="mistakes" {
                @for d in wrong.iter().take(MOST) {
                    li {
                        strong {
                            @if d.file != page.as_str() { (d.file) ", " }
                            (say_with("board-line-column", &[("line", d.line.into()), ("column", d.column.into())])) " "
                        }
                        (d.found)
                        @if let Some(line) = quoted(d) { br; code { (line) } }
                        br; span class="label" { (say("board-expected")) " " } (d.expected)
                        br; span class="label" { (say("board-do-now")) " " } (d.do_now)
                        @if let Some(near) = &d.did_you_mean { " " (say("board-did-you-mean")) " " code { (near) } "?)" }
                    }
                }
            }
            @if wrong.len() > MOST { p { (say_with("board-first-listed", &[("n", MOST.into())])) } }
        }
    }
}

/// The line a mistake stands in.
fn quoted(d: &Diagnostic) -> Option<String> {
    let line = d.text.split('\n').nth(d.line.checked_sub(1)?)?;
    let clean = line.trim();
    let start = d.column.saturating_sub(QUOTED / 2);
    let clean: String = if clean.chars().count() > QUOTED {
        line.chars().skip(start).take(QUOTED).collect()
    } else {
        clean.to_owned()
    };
    let clean: String = clean
        .chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    (!clean.is_empty()).then_some(clean)
}

/// Fields that could not be written.
pub(super) fn refused(wrong: &[Refusal]) -> Markup {
    html! {
        div class="trouble" role="alert" {
            p class="found" { (say("board-fields-not-written")) }
            ul { @for r in wrong {
                li { (r.found) br; span class="label" { (say("board-expected")) " " } (r.expected) br; span class="label" { (say("board-do-now")) " " } (r.do_now) }
            } }
        }
    }
}

/// Events a recipe goes into, the next one first; every event for a page that is no recipe.
pub(super) fn events_with<'b>(book: &'b Book, recipe: Option<&str>) -> Vec<&'b Event> {
    let mut events: Vec<&Event> = book
        .events
        .values()
        .filter(|e| recipe.is_none_or(|r| uses(book, e, r)))
        .collect();
    events.sort_by_key(|e| e.serve);
    events
}

fn uses(book: &Book, event: &Event, recipe: &str) -> bool {
    let dishes = event.dishes.iter().filter_map(|d| book.dishes.get(d));
    let mut todo: Vec<&Id> = dishes
        .flat_map(|d| d.parts.iter().map(|p| &p.recipe))
        .collect();
    let mut seen: Vec<&Id> = Vec::new();
    while let Some(id) = todo.pop() {
        if id.as_str() == recipe {
            return true;
        }
        if seen.contains(&id) {
            continue;
        }
        seen.push(id);
        if let Some(r) = book.recipes.get(id) {
            todo.extend(recipes_in(r));
        }
    }
    false
}

/// Recipes inside a recipe.
pub(super) fn recipes_in(recipe: &kitchen::recipe::Recipe) -> impl Iterator<Item = &Id> {
    recipe.steps.iter().flat_map(|s| {
        let fed = s.feeds.iter().filter_map(|f| match &f.from {
            FeedFrom::Recipe(id) => Some(id),
            _ => None,
        });
        let mixed = s.lines.iter().filter_map(|l| match &l.item {
            LineItem::Recipe(id) => Some(id),
            LineItem::Item(_) => None,
        });
        fed.chain(mixed)
    })
}
