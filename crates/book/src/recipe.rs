//! A recipe file.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::recipe::{DateMark, Product, ProductClass, Recipe, Surplus};
use kitchen::step::{BaseKind, FeedFrom, LineItem, Step};

use units::Customary;

use crate::diagnostic::Code;
use crate::fields::Fields;
use crate::known::Known;
use crate::order::order;
use crate::page::Span;
use crate::step::{self, Needs, ReadStep};
use crate::suggest::did_you_mean;

/// Steps a recipe may have.
const MOST_STEPS: usize = 200;

/// A recipe with the places the rest of the book needs to point at.
pub(crate) struct ReadRecipe {
    pub(crate) recipe: Recipe,
    /// Where its id stands.
    pub(crate) at: Span,
    /// Where each step says what it needs of a site.
    pub(crate) needs: BTreeMap<Id, Needs>,
    /// Where each recipe it uses is named.
    pub(crate) recipes: Vec<(Id, Span)>,
}

/// Reads a recipe.
pub(crate) fn read(fields: &Fields<'_, '_>, known: &Known) -> Option<ReadRecipe> {
    let id = fields.own_id("recipe");
    let label = id
        .as_ref()
        .map_or_else(|| "a recipe".to_owned(), |(id, _)| format!("recipe {id}"));
    let name = fields.need_text("name", "the name on the menu", "give it one");
    fields.text("note");
    for (question, span) in fields.texts("open") {
        fields.page.report(
            Code::OpenQuestion,
            span,
            format!("{label} is a draft with an open question: {question}"),
            "a recipe whose questions are settled",
            "settle it on the page, then take the line out of `open`",
        );
    }
    let measures = [
        ("us", Customary::Us),
        ("metric", Customary::Metric),
        ("imperial", Customary::Imperial),
    ];
    if let Some(measures) = fields.one_of("measures", &measures) {
        fields.page.measures.set(measures);
    }
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
        .fields("keeps", format!("the keeps of {label}"))
        .and_then(|f| date_mark(&f));
    let product = fields
        .fields("product", format!("the product of {label}"))
        .and_then(|f| product(&f));
    let swaps = crate::swap::of_recipe(fields, &label, known);
    let tables = fields.list("step", &format!("a step of {label}"));
    if tables.is_empty() && fields.all_read("step", 0) {
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
    let ids: Vec<Id> = tables
        .iter()
        .filter_map(|f| f.place_of_id("id").map(|(id, _)| id))
        .collect();
    let steps: Vec<ReadStep> = tables
        .iter()
        .filter_map(|f| step::read(f, &label, known))
        .collect();
    fields.close();
    strangers(fields, &ids, &steps, keeps.as_ref());
    if steps.len() != tables.len() || steps.is_empty() {
        return None;
    }
    let places = steps.iter().map(|s| s.step.id.clone()).zip(
        steps
            .iter()
            .map(|s| (s.needs.clone(), s.recipes.clone()))
            .collect::<Vec<_>>(),
    );
    let mut needs = BTreeMap::new();
    let mut recipes = Vec::new();
    for (step, (of_step, named)) in places {
        needs.insert(step, of_step);
        recipes.extend(named);
    }
    let steps = order(fields, &label, steps)?;
    check_surplus(fields, &label, surplus, &steps);
    let (id, at) = id?;
    Some(ReadRecipe {
        recipe: Recipe {
            id,
            name: name?.0,
            steps,
            surplus,
            keeps_for: keeps.map(|(mark, _)| mark),
            product,
            swaps,
        },
        at,
        needs,
        recipes,
    })
}

/// Reports every reference to a step that the recipe does not have.
fn strangers(
    fields: &Fields<'_, '_>,
    ids: &[Id],
    steps: &[ReadStep],
    keeps: Option<&(DateMark, Span)>,
) {
    let named = steps.iter().flat_map(|s| s.after.iter().chain(&s.clock));
    let marked = keeps.map(|(mark, span)| (&mark.from, span));
    for (id, span) in named.map(|(id, span)| (id, span)).chain(marked) {
        if !ids.contains(id) {
            unknown_step(fields, id, span.clone(), ids);
        }
    }
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

fn unknown_step(fields: &Fields<'_, '_>, id: &Id, span: Span, ids: &[Id]) {
    let ids: Vec<&str> = ids.iter().map(Id::as_str).collect();
    fields.page.suggest(
        Code::UnknownName,
        span,
        format!("no step of this recipe has the id \"{id}\""),
        &format!("one of: {}", ids.join(", ")),
        "correct the spelling, or add the step",
        did_you_mean(id.as_str(), ids.iter().copied()),
    );
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
            if made {
                format!(
                    "{label} sends its surplus through, but a step of it is made from its lines"
                )
            } else {
                format!("{label} sends its surplus through, but starts from {starts} items")
            },
            "surplus = \"through\" only where one item starts it all",
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
