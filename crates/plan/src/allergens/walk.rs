//! What is eaten of a recipe: every ingredient, with the steps it goes through.

use kitchen::ingredient::{Ingredient, Role};
use kitchen::recipe::Recipe;
use kitchen::step::{FeedFrom, LineItem};
use kitchen::{Book, Id};

/// Recipes inside recipes followed so deep; a book has no circles, so this is a bound on patience only.
const DEEPEST: usize = 200;

/// A step of a recipe on the way to the plate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Through {
    /// The recipe.
    pub recipe: Id,
    /// The step an ingredient or an inner recipe enters at.
    pub step: Id,
}

impl Through {
    /// `recipe.step`, as everywhere.
    #[must_use]
    pub fn id(&self) -> String {
        format!("{}.{}", self.recipe, self.step)
    }
}

/// An ingredient of a recipe and how it gets there.
#[derive(Debug, Clone, PartialEq)]
pub struct Eaten<'b> {
    /// Its id.
    pub item: Id,
    /// What the book says of it; `None`: nothing.
    pub ingredient: Option<&'b Ingredient>,
    /// From the plate inward: the step of the recipe, then the step of the recipe inside it.
    pub path: Vec<Through>,
}

/// Every ingredient of a recipe, through every inflow, line and inner recipe, in the order of the steps. Jars and nets are
/// left out; wood is not: what it smokes is eaten.
#[must_use]
pub fn eaten<'b>(book: &'b Book, recipe: &Id) -> Vec<Eaten<'b>> {
    let mut all = Vec::new();
    into(book, recipe, &[], &mut all, DEEPEST);
    all
}

fn into<'b>(book: &'b Book, id: &Id, path: &[Through], all: &mut Vec<Eaten<'b>>, deep: usize) {
    let Some(recipe) = book.recipes.get(id).filter(|_| deep > 0) else {
        // A recipe nobody can look into is an ingredient nobody knows.
        all.push(Eaten {
            item: id.clone(),
            ingredient: None,
            path: path.to_vec(),
        });
        return;
    };
    for step in &recipe.steps {
        let mut here = path.to_vec();
        here.push(Through {
            recipe: id.clone(),
            step: step.id.clone(),
        });
        let mut item = |item: &Id| {
            let ingredient = book.ingredients.get(item);
            if !ingredient.is_some_and(|i| i.role == Some(Role::Ware)) {
                all.push(Eaten {
                    item: item.clone(),
                    ingredient,
                    path: here.clone(),
                });
            }
        };
        let mut inner = Vec::new();
        for feed in &step.feeds {
            match &feed.from {
                FeedFrom::Item { item: id, .. } => item(id),
                FeedFrom::Recipe(id) => inner.push(id),
                FeedFrom::Step(_) => {}
            }
        }
        for line in &step.lines {
            match &line.item {
                LineItem::Item(id) => item(id),
                LineItem::Recipe(id) => inner.push(id),
            }
        }
        for id in inner {
            into(book, id, &here, all, deep - 1);
        }
    }
}

/// Recipes a recipe uses itself, each once, in the order of the steps.
#[must_use]
pub fn inside(recipe: &Recipe) -> Vec<Id> {
    let mut used: Vec<Id> = Vec::new();
    for step in &recipe.steps {
        let feeds = step.feeds.iter().filter_map(|f| match &f.from {
            FeedFrom::Recipe(id) => Some(id),
            _ => None,
        });
        let lines = step.lines.iter().filter_map(|l| match &l.item {
            LineItem::Recipe(id) => Some(id),
            LineItem::Item(_) => None,
        });
        for id in feeds.chain(lines) {
            if !used.contains(id) {
                used.push(id.clone());
            }
        }
    }
    used
}

/// Positions of the steps a lot goes through once it is in step `at`, that step first.
#[must_use]
pub fn from_step_on(recipe: &Recipe, at: usize) -> Vec<usize> {
    let mut steps = vec![at];
    let mut next = 0;
    while let Some(step) = steps.get(next).copied() {
        for (taker, _) in recipe.takers(step) {
            if !steps.contains(&taker) {
                steps.push(taker);
            }
        }
        next += 1;
    }
    steps
}
