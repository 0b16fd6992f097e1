//! What a book knows by name, and the checks that need more than one file.

use std::collections::BTreeMap;

use jiff::tz::AmbiguousOffset;
use kitchen::event::Portion;
use kitchen::ingredient::Ingredient;
use kitchen::recipe::Recipe;
use kitchen::site::{CapacityUnit, Site};
use kitchen::step::{FeedFrom, LineItem, MachineUse, UseAmount};
use kitchen::{Book, Id};
use units::Mass;

use crate::diagnostic::Code;
use crate::event::ReadEvent;
use crate::fields::{Fields, Page, Span};
use crate::suggest::did_you_mean;
use crate::values::short;

/// Names that exist, collected before the files that use them are read.
#[derive(Default)]
pub(crate) struct Known {
    pub(crate) ingredients: BTreeMap<Id, Ingredient>,
    /// Lower-case names and other words to ids.
    pub(crate) words: BTreeMap<String, Id>,
    pub(crate) recipes: Vec<Id>,
    pub(crate) dishes: Vec<Id>,
    pub(crate) sites: Vec<Id>,
    pub(crate) machines: Vec<Id>,
}

impl Known {
    pub(crate) fn add_ingredient(&mut self, ingredient: Ingredient) {
        for word in ingredient.also.iter().chain([&ingredient.name]) {
            self.words
                .insert(word.to_lowercase(), ingredient.id.clone());
        }
        self.ingredients.insert(ingredient.id.clone(), ingredient);
    }

    pub(crate) fn ingredient(&self, id: &Id) -> Option<&Ingredient> {
        self.ingredients.get(id)
    }

    /// The ingredient a book calls so, by id or by name; a bare family word is refused with its kinds.
    pub(crate) fn item(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        let word = name.trim().to_lowercase();
        if let Some(id) = self.ingredients.keys().find(|id| **id == word.as_str()) {
            return Some(id.clone());
        }
        let kinds: Vec<&str> = self
            .ingredients
            .values()
            .filter(|i| i.family.as_deref() == Some(word.as_str()))
            .map(|i| i.id.as_str())
            .collect();
        if !kinds.is_empty() {
            f.page.report(
                Code::NeedsKind,
                span.clone(),
                format!(
                    "\"{}\" alone: its kinds differ by a factor of two in a cup",
                    short(name)
                ),
                &format!("one of: {}", kinds.join(", ")),
                "name the kind in the bin",
            );
            return None;
        }
        if let Some(id) = self.words.get(&word) {
            return Some(id.clone());
        }
        let near = did_you_mean(
            &word,
            self.ingredients
                .keys()
                .map(Id::as_str)
                .chain(self.words.keys().map(String::as_str)),
        );
        f.page.suggest(
            Code::UnknownName,
            span.clone(),
            format!("no ingredient is called \"{}\"", short(name)),
            "an id or a name of the ingredient table or of this book",
            "correct the spelling, or add an [[ingredient]] to the book",
            near,
        );
        None
    }

    pub(crate) fn recipe(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        named(f, name, span, "recipe", &self.recipes)
    }

    pub(crate) fn machine(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        named(f, name, span, "machine", &self.machines)
    }

    pub(crate) fn site(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        named(f, name, span, "site", &self.sites)
    }

    pub(crate) fn dish(&self, f: &Fields<'_, '_>, name: &str, span: &Span) -> Option<Id> {
        named(f, name, span, "dish", &self.dishes)
    }
}

fn named(f: &Fields<'_, '_>, name: &str, span: &Span, what: &str, known: &[Id]) -> Option<Id> {
    let found = known.iter().find(|id| **id == name.trim());
    if found.is_none() {
        let list: Vec<&str> = known.iter().map(Id::as_str).collect();
        let expected = if list.is_empty() {
            format!("the id of a {what}; this book has none")
        } else if list.len() <= 12 {
            format!("one of: {}", list.join(", "))
        } else {
            format!("the id of one of the {} {what}s of this book", list.len())
        };
        f.page.suggest(
            Code::UnknownName,
            span.clone(),
            format!("no {what} has the id \"{}\"", short(name)),
            &expected,
            &format!("correct the spelling, or add the {what}"),
            did_you_mean(name, list.iter().copied()),
        );
    }
    found.cloned()
}

/// Recipes that use each other in a circle; returns the circle's ids.
pub(crate) fn recipe_circle(recipes: &BTreeMap<Id, Recipe>, from: &Id) -> Option<Vec<Id>> {
    let mut path = vec![from.clone()];
    walk(recipes, from, &mut path).then_some(path)
}

fn walk(recipes: &BTreeMap<Id, Recipe>, start: &Id, path: &mut Vec<Id>) -> bool {
    let Some(recipe) = path.last().and_then(|id| recipes.get(id)) else {
        return false;
    };
    for used in crate::recipe::uses(recipe) {
        if used == *start {
            return true;
        }
        if !path.contains(&used) {
            path.push(used);
            if walk(recipes, start, path) {
                return true;
            }
            path.pop();
        }
    }
    false
}

/// Recipes an event needs, sub-recipes included.
fn recipes_of(book: &Book, event: &ReadEvent) -> Vec<Id> {
    let mut todo: Vec<Id> = event
        .event
        .dishes
        .iter()
        .filter_map(|d| book.dishes.get(d))
        .flat_map(|d| d.parts.iter().map(|p| p.recipe.clone()))
        .collect();
    let mut all: Vec<Id> = Vec::new();
    while let Some(id) = todo.pop() {
        if all.contains(&id) {
            continue;
        }
        if let Some(recipe) = book.recipes.get(&id) {
            todo.extend(crate::recipe::uses(recipe));
        }
        all.push(id);
    }
    all.sort();
    all
}

/// Everything about an event that only the whole book can tell.
pub(crate) fn check_event(page: &Page<'_>, book: &Book, read: &ReadEvent) {
    let event = &read.event;
    let Some(site) = book.sites.get(&event.site) else {
        return;
    };
    let recipes = recipes_of(book, read);
    if event.serve <= event.from {
        page.report(
            Code::TooLate,
            read.serve_at.clone(),
            format!(
                "{} serves at {} and starts at {}",
                event.id, event.serve, event.from
            ),
            "`from` before `serve`",
            "correct one of the two",
        );
        return;
    }
    if matches!(
        site.zone.to_ambiguous_zoned_datetime(event.serve).offset(),
        AmbiguousOffset::Gap { .. }
    ) {
        page.report(
            Code::Unreadable,
            read.serve_at.clone(),
            format!(
                "{} does not exist on the clocks of {}: they are put forward over it",
                event.serve, site.name
            ),
            "an hour that the clocks show",
            "serve an hour earlier or later",
        );
    }
    for (role, span) in &read.crew {
        check_role(page, site, role, span);
    }
    check_role(page, site, &event.role, &read.at);
    if recipes.iter().any(|id| !book.recipes.contains_key(id)) {
        // A recipe of it is wrong itself; what follows would only repeat that.
        return;
    }
    check_steps(page, book, &recipes, read);
    check_deliveries(page, book, site, &recipes, read);
    for id in &recipes {
        if let Some(recipe) = book.recipes.get(id) {
            check_machines(page, site, recipe, read);
            check_skills(page, site, recipe, read);
        }
    }
    for dish in event.dishes.iter().filter_map(|d| book.dishes.get(d)) {
        for part in &dish.parts {
            let starts_in_pieces = book
                .recipes
                .get(&part.recipe)
                .is_some_and(|r| start_piece(r).is_some());
            if matches!(part.portion, Portion::Pieces(_)) && !starts_in_pieces {
                page.report(
                    Code::Contradiction,
                    read.at.clone(),
                    format!(
                        "dish {} counts {} in pieces, but the recipe starts from no piece",
                        dish.id, part.recipe
                    ),
                    "takes = { item = …, piece = \"400 g\" } in the recipe",
                    "write the weight of a piece in the recipe, or a portion in the dish",
                );
            }
        }
    }
}

fn check_role(page: &Page<'_>, site: &Site, role: &Id, span: &Span) {
    if site.roles.iter().any(|r| r.id == *role) {
        return;
    }
    let ids: Vec<&str> = site.roles.iter().map(|r| r.id.as_str()).collect();
    page.suggest(
        Code::UnknownName,
        span.clone(),
        format!("no role of {} has the id \"{role}\"", site.id),
        &format!("one of: {}", ids.join(", ")),
        "correct the spelling, or add the role to the site",
        did_you_mean(role.as_str(), ids.iter().copied()),
    );
}

fn check_steps(page: &Page<'_>, book: &Book, recipes: &[Id], read: &ReadEvent) {
    let mut known: Vec<String> = read.event.tasks.iter().map(|t| t.id.to_string()).collect();
    for id in recipes {
        if let Some(recipe) = book.recipes.get(id) {
            known.extend(recipe.steps.iter().map(|s| format!("{id}.{}", s.id)));
        }
    }
    known.extend(read.event.dishes.iter().map(|d| format!("{d}.plate")));
    for (step, span) in &read.steps {
        if !known.contains(step) {
            page.suggest(
                Code::UnknownName,
                span.clone(),
                format!("this event has no step \"{}\"", short(step)),
                "recipe.step of a recipe it uses, dish.plate, or the id of one of its tasks",
                "correct the spelling",
                did_you_mean(step, known.iter().map(String::as_str)),
            );
        }
    }
}

/// Bought items of the recipes an event uses.
fn bought(book: &Book, recipes: &[Id]) -> Vec<Id> {
    let mut items = Vec::new();
    for recipe in recipes.iter().filter_map(|id| book.recipes.get(id)) {
        for step in &recipe.steps {
            for feed in &step.feeds {
                if let FeedFrom::Item { item, .. } = &feed.from {
                    items.push(item.clone());
                }
            }
            for line in &step.lines {
                if let LineItem::Item(item) = &line.item {
                    items.push(item.clone());
                }
            }
        }
    }
    items.sort();
    items.dedup();
    items.retain(|id| book.ingredients.get(id).is_some_and(|i| !i.is_water()));
    items
}

fn check_deliveries(page: &Page<'_>, book: &Book, site: &Site, recipes: &[Id], read: &ReadEvent) {
    let event = &read.event;
    for (what, span) in &read.deliveries {
        let known = site.suppliers.iter().any(|s| s.id == *what)
            || site.offers.iter().any(|o| o.item == *what);
        if !known {
            let ids: Vec<&str> = site.suppliers.iter().map(|s| s.id.as_str()).collect();
            page.suggest(
                Code::UnknownName,
                span.clone(),
                format!("{} has no supplier or item \"{what}\"", site.id),
                &format!("one of: {}", ids.join(", ")),
                "correct the spelling",
                did_you_mean(what.as_str(), ids.iter().copied()),
            );
        }
    }
    for item in bought(book, recipes) {
        let Some(offer) = site.offers.iter().find(|o| o.item == item) else {
            page.report(
                Code::UnknownName,
                read.at.clone(),
                format!(
                    "{} needs {item} and no supplier of {} offers it",
                    event.id, site.id
                ),
                "an [[offer]] for every bought item",
                "add the offer with its price to the site",
            );
            continue;
        };
        let Some(supplier) = site.suppliers.iter().find(|s| s.id == offer.supplier) else {
            continue;
        };
        let delivery = event
            .deliveries
            .iter()
            .find(|d| d.what == item)
            .or_else(|| event.deliveries.iter().find(|d| d.what == supplier.id));
        let Some(delivery) = delivery else {
            page.report(
                Code::MissingKey,
                read.at.clone(),
                format!(
                    "{} has no delivery from {}, who sells {item}",
                    event.id, supplier.id
                ),
                "a [[delivery]] for every supplier needed",
                "add it with its day and hour",
            );
            continue;
        };
        let span = read
            .deliveries
            .iter()
            .find(|(w, _)| *w == delivery.what)
            .map_or_else(|| read.at.clone(), |(_, s)| s.clone());
        let order_by = supplier.order_by(delivery.at);
        if delivery.at >= event.serve {
            page.report(
                Code::TooLate,
                span,
                format!(
                    "{item} comes {} and service is {}",
                    delivery.at, event.serve
                ),
                "a delivery before the service",
                "take an earlier delivery",
            );
        } else if order_by.is_none_or(|t| t < event.from) {
            page.report(
                Code::TooLate,
                span,
                format!(
                    "the order for {item} had to be in by {}, before this event starts at {}",
                    order_by.map_or_else(|| "an hour long past".to_owned(), |t| t.to_string()),
                    event.from
                ),
                "an order cut-off that is still to come",
                "take a later delivery, another supplier, or a later service",
            );
        }
    }
}

/// The weight of the piece a recipe starts from.
pub(crate) fn start_piece(recipe: &Recipe) -> Option<Mass> {
    recipe
        .steps
        .iter()
        .flat_map(|s| &s.feeds)
        .find_map(|f| match &f.from {
            FeedFrom::Item { piece, .. } => *piece,
            _ => None,
        })
}

fn check_machines(page: &Page<'_>, site: &Site, recipe: &Recipe, read: &ReadEvent) {
    for step in &recipe.steps {
        for MachineUse {
            machine: id,
            amount,
            ..
        } in &step.uses
        {
            let Some(machine) = site.machines.iter().find(|m| m.id == *id) else {
                page.report(
                    Code::UnknownName,
                    read.at.clone(),
                    format!(
                        "{}.{} uses {id}, and {} has no such machine",
                        recipe.id, step.id, site.id
                    ),
                    "a machine of the event's site",
                    "add the machine to the site, or serve from another site",
                );
                continue;
            };
            let one_piece = start_piece(recipe);
            let needs = match amount {
                UseAmount::Mass => one_piece.map(Mass::kg),
                UseAmount::SlotsPer(_) => None,
                UseAmount::PerPiece(n) | UseAmount::Fixed(n) => Some(*n),
            };
            if let Some(needs) = needs.filter(|n| *n > machine.capacity) {
                page.report(
                    Code::TooBig,
                    read.at.clone(),
                    format!(
                        "{}.{} puts at least {needs} {} into {}, which holds {}",
                        recipe.id,
                        step.id,
                        if machine.unit == CapacityUnit::Kilograms {
                            "kg"
                        } else {
                            "places"
                        },
                        machine.name,
                        machine.capacity
                    ),
                    "a machine that can hold one piece",
                    "cut the piece, or use a larger machine",
                );
            }
        }
    }
}

fn check_skills(page: &Page<'_>, site: &Site, recipe: &Recipe, read: &ReadEvent) {
    for step in &recipe.steps {
        let Some(skill) = &step.hands.skill else {
            continue;
        };
        let mut all = site.people.iter().chain(&read.event.crew);
        if !all.any(|p| p.skills.contains(skill)) {
            page.report(
                Code::UnknownName,
                read.at.clone(),
                format!(
                    "{}.{} needs somebody with the skill \"{skill}\", and nobody of {} has it",
                    recipe.id, step.id, read.event.id
                ),
                "a person of the site or the crew with that skill",
                "add the skill to who has it, or take it out of the step",
            );
        }
    }
}
