//! The checks of an event that need the whole book.

use std::collections::BTreeMap;

use jiff::tz::AmbiguousOffset;
use kitchen::event::Portion;
use kitchen::recipe::Recipe;
use kitchen::site::{CapacityUnit, Site};
use kitchen::step::{FeedFrom, UseAmount};
use kitchen::{Book, Id};
use units::Mass;

use crate::diagnostic::Code;
use crate::dish::ReadDish;
use crate::event::ReadEvent;
use crate::fields::figure;
use crate::page::{Page, Span};
use crate::recipe::ReadRecipe;
use crate::site;
use crate::suggest::did_you_mean;
use crate::supplies::check_supplies;
use crate::values::short;

/// The book as read, with the pages and places its messages point at.
pub(crate) struct Whole<'p> {
    pub(crate) book: Book,
    pub(crate) recipes: BTreeMap<Id, (&'p Page<'p>, ReadRecipe)>,
    pub(crate) dishes: BTreeMap<Id, (&'p Page<'p>, ReadDish)>,
    pub(crate) sites: BTreeMap<Id, site::Whole>,
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
pub(crate) fn check_event(page: &Page<'_>, whole: &Whole<'_>, read: &ReadEvent) {
    let book = &whole.book;
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
                "{} serves {} and starts {}",
                event.id,
                shown(event.serve),
                shown(event.from)
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
        page.marked(
            Code::Unreadable,
            read.serve_at.clone(),
            "no such hour that day".to_owned(),
            (
                format!(
                    "{} does not exist at {}: the clocks are put forward over it",
                    shown(event.serve),
                    site.name
                ),
                "an hour that the clocks show",
                "serve an hour earlier or later",
            ),
        );
    }
    let lists = whole.sites.get(&event.site);
    if lists.is_some_and(|l| l.roles) {
        for (role, span) in read
            .crew
            .iter()
            .chain([&(event.role.clone(), read.role_at.clone())])
        {
            check_role(page, site, role, span);
        }
    }
    let unread = !read.whole.dishes
        || event.dishes.iter().any(|id| !book.dishes.contains_key(id))
        || recipes.iter().any(|id| !book.recipes.contains_key(id));
    if unread {
        // A dish or recipe of it is wrong itself; what follows would only repeat that.
        return;
    }
    if read.whole.tasks {
        check_steps(page, book, &recipes, read);
    }
    check_supplies(
        page,
        book,
        site,
        lists.is_some_and(|l| l.offers),
        &recipes,
        read,
    );
    for id in &recipes {
        if let Some((page, recipe)) = whole.recipes.get(id) {
            if lists.is_some_and(|l| l.machines) {
                check_machines(page, site, recipe);
            }
            if lists.is_some_and(|l| l.people) && read.whole.crew {
                check_skills(page, site, recipe, read);
            }
        }
    }
    for (page, dish) in event.dishes.iter().filter_map(|d| whole.dishes.get(d)) {
        check_pieces(page, book, dish);
    }
}

/// Parts counted in pieces need recipes that start from a piece.
fn check_pieces(page: &Page<'_>, book: &Book, read: &ReadDish) {
    for (part, span) in read.dish.parts.iter().zip(&read.pieces) {
        let starts_in_pieces = book
            .recipes
            .get(&part.recipe)
            .is_some_and(|r| start_piece(r).is_some());
        if matches!(part.portion, Portion::Pieces(_)) && !starts_in_pieces {
            page.report(
                Code::Contradiction,
                span.clone(),
                format!(
                    "dish {} counts {} in pieces, but the recipe starts from no piece",
                    read.dish.id, part.recipe
                ),
                "takes = { item = …, piece = \"400 g\" } in the recipe",
                "write the weight of a piece in the recipe, or a portion in the dish",
            );
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

/// A date and hour as a person reads it, with the weekday beside it.
pub(crate) fn shown(at: jiff::civil::DateTime) -> String {
    at.strftime("%a %Y-%m-%d %H:%M").to_string()
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

fn check_machines(page: &Page<'_>, site: &Site, read: &ReadRecipe) {
    let recipe = &read.recipe;
    for step in &recipe.steps {
        let places = read.needs.get(&step.id).map_or(&[][..], |n| &n.uses);
        for (used, span) in step.uses.iter().zip(places) {
            let Some(machine) = site.machines.iter().find(|m| m.id == used.machine) else {
                let ids: Vec<&str> = site.machines.iter().map(|m| m.id.as_str()).collect();
                page.marked(
                    Code::UnknownName,
                    span.clone(),
                    format!("not at {}", site.id),
                    (
                        format!(
                            "{}.{} uses {}, and {} has no such machine",
                            recipe.id, step.id, used.machine, site.id
                        ),
                        &format!("one of: {}", ids.join(", ")),
                        "add the machine to the site, or serve from another site",
                    ),
                );
                continue;
            };
            let counted_otherwise = matches!(
                (used.amount, machine.unit),
                (UseAmount::Mass, CapacityUnit::Places)
                    | (
                        UseAmount::SlotsPer(_) | UseAmount::PerPiece(_),
                        CapacityUnit::Kilograms
                    )
            );
            if counted_otherwise {
                let (takes, holds) = match machine.unit {
                    CapacityUnit::Places => ("weight", "places"),
                    CapacityUnit::Kilograms => ("places", "kilograms"),
                };
                page.report(
                    Code::Contradiction,
                    span.clone(),
                    format!(
                        "{}.{} counts {takes} and {} holds {holds}",
                        recipe.id, step.id, machine.name
                    ),
                    "by = \"mass\" for kilograms; slots-per, per-piece or fixed for places",
                    "count as the machine does",
                );
                continue;
            }
            let needs = match used.amount {
                UseAmount::Mass => start_piece(recipe).map(Mass::kg),
                UseAmount::SlotsPer(_) => None,
                UseAmount::PerPiece(n) | UseAmount::Fixed(n) => Some(n),
            };
            let unit = match machine.unit {
                CapacityUnit::Kilograms => "kg",
                CapacityUnit::Places => "places",
            };
            if let Some(needs) = needs.filter(|n| *n > machine.capacity) {
                page.report(
                    Code::TooBig,
                    span.clone(),
                    format!(
                        "{}.{} puts at least {} {unit} into {}, which holds {} {unit}",
                        recipe.id,
                        step.id,
                        figure(needs),
                        machine.name,
                        figure(machine.capacity)
                    ),
                    "a machine that can hold one piece",
                    "cut the piece, or use a larger machine",
                );
            }
        }
    }
}

fn check_skills(page: &Page<'_>, site: &Site, read: &ReadRecipe, event: &ReadEvent) {
    for step in &read.recipe.steps {
        let Some(skill) = &step.hands.skill else {
            continue;
        };
        let all = || site.people.iter().chain(&event.event.crew);
        if all().any(|p| p.skills.contains(skill)) {
            continue;
        }
        let Some(needs) = read.needs.get(&step.id) else {
            continue;
        };
        let skills: Vec<&str> = all()
            .flat_map(|p| p.skills.iter().map(String::as_str))
            .collect();
        page.tell(
            Code::UnknownName,
            needs.skill.clone(),
            format!(
                "{}.{} needs somebody with the skill \"{}\", and nobody of {} has it",
                read.recipe.id,
                step.id,
                short(skill),
                event.event.id
            ),
            "a person of the site or the crew with that skill",
            "add the skill to who has it, or take it out of the step",
            did_you_mean(skill, skills),
            Some("nobody has it".to_owned()),
        );
    }
}
