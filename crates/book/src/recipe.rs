//! A recipe file.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::recipe::{DateMark, Product, ProductClass, Recipe, Surplus};
use kitchen::step::{BaseKind, FeedFrom, LineItem, Step};

use crate::cross::Known;
use crate::diagnostic::Code;
use crate::fields::{Fields, Span};
use crate::step::{self, ReadStep};
use crate::suggest::did_you_mean;

/// Steps a recipe may have.
const MOST_STEPS: usize = 200;

/// Reads a recipe; the place of its id comes with it.
pub(crate) fn read(fields: &Fields<'_, '_>, known: &Known) -> Option<(Recipe, Span)> {
    let id = fields.own_id("recipe");
    let label = id
        .as_ref()
        .map_or_else(|| "a recipe".to_owned(), |(id, _)| format!("recipe {id}"));
    let name = fields.need_text("name", "the name on the menu", "give it one");
    fields.text("note");
    let surplus = fields
        .one_of(
            "surplus",
            &[
                ("through", Surplus::Through),
                ("to store", Surplus::ToStore),
            ],
        )
        .unwrap_or(Surplus::ToStore);
    let keeps = fields
        .fields("keeps", format!("keeps of {label}"))
        .and_then(|f| date_mark(&f));
    let product = fields
        .fields("product", format!("product of {label}"))
        .and_then(|f| product(&f));
    let tables = fields.list("step", "step");
    if tables.is_empty() && !fields.has("step") {
        fields.missing("step", "at least one [[step]]", "write what is done");
    }
    if tables.len() > MOST_STEPS {
        fields.page.report(
            Code::OutOfRange,
            fields.at("step"),
            format!("{label} has {} steps", tables.len()),
            &format!("at most {MOST_STEPS}"),
            "split it into recipes that use each other",
        );
        return None;
    }
    let wanted = tables.len();
    let steps: Vec<ReadStep> = tables
        .iter()
        .filter_map(|f| step::read(f, &label, known))
        .collect();
    fields.close();
    if steps.len() != wanted || steps.is_empty() {
        return None;
    }
    let steps = order(fields, &label, steps)?;
    if let Some((mark, span)) = &keeps {
        if !steps.iter().any(|s| s.id == mark.from) {
            unknown_step(fields, &mark.from, span.clone(), &steps);
        }
    }
    check_surplus(fields, &label, surplus, &steps);
    let (id, span) = id?;
    Some((
        Recipe {
            id,
            name: name?.0,
            steps,
            surplus,
            keeps_for: keeps.map(|(mark, _)| mark),
            product,
        },
        span,
    ))
}

fn date_mark(f: &Fields<'_, '_>) -> Option<(DateMark, Span)> {
    let days = f.whole("days", 1, 366, "write how many days, the first one counted");
    let from = f.other_id("from");
    let at_most = f.at_most("at");
    for (key, what) in [
        ("days", "days it keeps"),
        ("from", "the step whose end is day 1"),
        ("at", "a ceiling, such as \"<= 5 °C\""),
    ] {
        if !f.has(key) {
            f.missing(key, what, "write it");
        }
    }
    f.close();
    let (from, span) = from?;
    Some((
        DateMark {
            days: days?,
            from,
            at_most: at_most?,
        },
        span,
    ))
}

fn product(f: &Fields<'_, '_>) -> Option<Product> {
    let class = f.one_of("class", ProductClass::ALL);
    if class.is_none() && !f.has("class") {
        f.missing(
            "class",
            "the class of product rules speak about",
            "choose one",
        );
    }
    let species = f.text("species").map(|(t, _)| t);
    let reduced_oxygen = f
        .one_of("pack", &[("air", false), ("reduced-oxygen", true)])
        .unwrap_or(false);
    f.close();
    Some(Product {
        class: class?,
        species,
        reduced_oxygen,
    })
}

fn unknown_step(fields: &Fields<'_, '_>, id: &Id, span: Span, steps: &[Step]) {
    let ids: Vec<&str> = steps.iter().map(|s| s.id.as_str()).collect();
    fields.page.suggest(
        Code::UnknownName,
        span,
        format!("no step of this recipe has the id \"{id}\""),
        &format!("one of: {}", ids.join(", ")),
        "correct the spelling, or add the step",
        did_you_mean(id.as_str(), ids.iter().copied()),
    );
}

/// Puts the steps in an order in which each comes after what it needs; reports duplicates, strangers
/// and cycles.
fn order(fields: &Fields<'_, '_>, label: &str, steps: Vec<ReadStep>) -> Option<Vec<Step>> {
    let mut whole = true;
    let mut at: BTreeMap<Id, usize> = BTreeMap::new();
    for (i, s) in steps.iter().enumerate() {
        if at.insert(s.step.id.clone(), i).is_some() {
            whole = false;
            fields.page.report(
                Code::Duplicate,
                s.at.clone(),
                format!("two steps of {label} have the id \"{}\"", s.step.id),
                "a different id for every step",
                "rename one of them",
            );
        }
    }
    let all: Vec<Step> = steps.iter().map(|s| s.step.clone()).collect();
    for s in &steps {
        for (id, span) in s.after.iter().chain(&s.clock) {
            if !at.contains_key(id) {
                whole = false;
                unknown_step(fields, id, span.clone(), &all);
            }
        }
    }
    if !whole {
        return None;
    }
    let mut waiting: Vec<usize> = steps.iter().map(|s| s.after.len()).collect();
    let mut ready: Vec<usize> = (0..steps.len())
        .rev()
        .filter(|i| waiting[*i] == 0)
        .collect();
    let mut done = Vec::new();
    while let Some(i) = ready.pop() {
        done.push(i);
        for (j, s) in steps.iter().enumerate().rev() {
            let links = s
                .after
                .iter()
                .filter(|(id, _)| at.get(id) == Some(&i))
                .count();
            if links > 0 {
                waiting[j] -= links;
                if waiting[j] == 0 {
                    ready.push(j);
                }
            }
        }
    }
    if done.len() < steps.len() {
        let stuck: Vec<&ReadStep> = steps
            .iter()
            .enumerate()
            .filter(|(i, _)| !done.contains(i))
            .map(|(_, s)| s)
            .collect();
        let names: Vec<&str> = stuck.iter().map(|s| s.step.id.as_str()).collect();
        fields.page.report(
            Code::Cycle,
            stuck[0].at.clone(),
            format!("steps of {label} wait for each other: {}", names.join(", ")),
            "a first step that waits for none",
            "take one `after` out",
        );
        return None;
    }
    let ends: Vec<&Step> = done
        .iter()
        .map(|i| &all[*i])
        .filter(|s| {
            !all.iter().any(|t| {
                t.feeds
                    .iter()
                    .any(|f| matches!(&f.from, FeedFrom::Step(id) if *id == s.id))
            })
        })
        .collect();
    if ends.len() > 1 {
        let names: Vec<&str> = ends.iter().map(|s| s.id.as_str()).collect();
        fields.page.report(
            Code::Contradiction,
            steps[at[&ends[0].id]].at.clone(),
            format!("{label} ends in {} steps: {}", ends.len(), names.join(", ")),
            "one last step: a recipe has one product",
            "join them in a last step, or make two recipes",
        );
        return None;
    }
    Some(done.into_iter().map(|i| all[i].clone()).collect())
}

/// A surplus can only go through when the whole lot starts as one bought item.
fn check_surplus(fields: &Fields<'_, '_>, label: &str, surplus: Surplus, steps: &[Step]) {
    if surplus == Surplus::ToStore {
        return;
    }
    let starts = steps
        .iter()
        .flat_map(|s| &s.feeds)
        .filter(|f| !matches!(f.from, FeedFrom::Step(_)))
        .count();
    let made = steps.iter().any(|s| matches!(s.base.kind, BaseKind::Made));
    if starts != 1 || made {
        fields.page.report(
            Code::Contradiction,
            fields.at("surplus"),
            format!("{label} starts from {starts} bought items"),
            "surplus = \"through\" only when one bought item starts it all",
            "use surplus = \"to store\"",
        );
    }
}

/// Recipes a recipe uses.
pub(crate) fn uses(recipe: &Recipe) -> Vec<Id> {
    let mut used = Vec::new();
    for step in &recipe.steps {
        for feed in &step.feeds {
            if let FeedFrom::Recipe(id) = &feed.from {
                used.push(id.clone());
            }
        }
        for line in &step.lines {
            if let LineItem::Recipe(id) = &line.item {
                used.push(id.clone());
            }
        }
    }
    used
}
