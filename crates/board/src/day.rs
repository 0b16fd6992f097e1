//! The day as it is worked: what stands in the log of an event, what follows from it for the plan, what is outside its
//! limit, and which lots are held for it.

pub(crate) mod banner;
pub(crate) mod deviations;
pub(crate) mod facts;
mod found;
pub(crate) mod judged;
pub(crate) mod planning;
pub(crate) mod standing;

use std::sync::Arc;

use jiff::Timestamp;
use kitchen::Id;
use kitchen::recipe::Recipe;
use kitchen::step::{FeedFrom, LineItem};
use plan::Plan;

use crate::access::money;
use crate::access::visitor::visitor;
use crate::address::Query;
use crate::happened::{self, Log};
use crate::shown::Shown;
use crate::trouble::Trouble;
use crate::{Board, planned};

use deviations::{Deviation, Stand};
use facts::Facts;

/// What the log of an event says, and what follows.
#[derive(Debug, Default)]
pub(crate) struct Day {
    /// The log, in the order it was written.
    pub(crate) log: Log,
    /// What the plan takes from it.
    pub(crate) facts: Facts,
    /// What of it contradicts the plan or itself: to be corrected, and not counted until then.
    pub(crate) questions: Vec<facts::Question>,
    /// What is outside its limit, open ones first.
    pub(crate) deviations: Vec<Deviation>,
}

impl Day {
    /// Entries the plan stands on, and when the newest of them happened; what is asked about is not among them.
    pub(crate) fn counted(&self) -> (usize, Option<Timestamp>) {
        let asked = |entry: i64| self.questions.iter().any(|q| q.entry == Some(entry));
        let seen = || self.facts.seen.iter().filter(|f| !asked(f.entry));
        let deliveries = self.facts.deliveries.iter().filter(|(e, _)| !asked(*e));
        let came = deliveries.clone().map(|(entry, _)| *entry);
        let at = came
            .filter_map(|n| self.log.iter().find(|e| e.sequence == n))
            .map(|e| e.says.at.instant())
            .chain(seen().map(|f| f.at))
            .max();
        (seen().count() + deliveries.count(), at)
    }

    /// Deviations without a decision.
    pub(crate) fn open(&self) -> impl Iterator<Item = &Deviation> {
        self.deviations.iter().filter(|d| d.stand == Stand::Open)
    }

    /// How a component stands: discarded before held before nothing; a lot made with a held lot is held.
    pub(crate) fn stand(&self, plan: &Plan, component: &str) -> Option<Stand> {
        self.stand_at(plan, component, DEEPEST)
    }

    fn stand_at(&self, plan: &Plan, component: &str, deep: usize) -> Option<Stand> {
        let own = self
            .deviations
            .iter()
            .filter(|d| d.component.as_deref() == Some(component) && d.stand != Stand::Closed)
            .map(|d| d.stand)
            .max();
        if deep == 0 {
            return own;
        }
        let Some(recipe) = plan
            .scene
            .book
            .recipes
            .iter()
            .find(|(id, _)| id.as_str() == component)
            .map(|(_, r)| r)
        else {
            return own;
        };
        // A lot of its own that is held does not hide that what went into it is discarded.
        taken(recipe)
            .filter_map(|id| self.stand_at(plan, id.as_str(), deep - 1))
            .chain(own)
            .max()
    }
}

/// The recipes a recipe takes in.
fn taken(recipe: &Recipe) -> impl Iterator<Item = &Id> {
    recipe.steps.iter().flat_map(|s| {
        let fed = s.feeds.iter().filter_map(|f| match &f.from {
            FeedFrom::Recipe(id) => Some(id),
            _ => None,
        });
        let lined = s.lines.iter().filter_map(|l| match &l.item {
            LineItem::Recipe(id) => Some(id),
            LineItem::Item(_) => None,
        });
        fed.chain(lined)
    })
}

/// Whether a recipe takes another in.
pub(crate) fn takes(recipe: &Recipe, other: &Id) -> bool {
    taken(recipe).any(|id| id == other)
}

/// Recipes inside recipes looked through.
const DEEPEST: usize = 8;

/// The plan a page shows: the book's, or the day's where anything was written down.
pub(crate) async fn shown(
    board: &Arc<Board>,
    event: &str,
    query: &Query,
) -> Result<Shown, Trouble> {
    let changes = query.changes();
    if !visitor().sees_costs() && !changes.is_empty() {
        return Err(planned::no_what_if());
    }
    let standing = board.standing_now().await?;
    // The event is looked for first, so that a name that is none is told as such.
    let book = planned::plan(board, event, &[]).await?;
    let log = happened::log(board, &book).await?;
    let now = board.clock.now();
    let facts = facts::of(&book, &log, now);
    if facts.is_empty() || query.as_planned() {
        let planned = planned::plan(board, event, &changes).await?;
        let mut day = Day::of(log, facts, Vec::new());
        // What is held is held on every page, those as it was planned too.
        let stands = if day.facts.is_empty() {
            Arc::clone(&planned)
        } else {
            planning::plan(board, event, &changes, &day.facts)
                .await?
                .plan
        };
        day.deviations = deviations::of(&stands, &day.log, now);
        return Ok(if query.as_planned() {
            Shown::as_planned(&planned, day, standing)
        } else {
            Shown::of(planned, day, standing)
        });
    }
    let made = planning::plan(board, event, &changes, &facts).await?;
    let mut day = Day::of(log, facts, made.questions.clone());
    day.deviations = deviations::of(&made.plan, &day.log, now);
    // Whoever sees no costs gets a plan without money in it, here as on every page.
    let plan = if visitor().sees_costs() {
        Arc::clone(&made.plan)
    } else {
        Arc::new(money::without(&made.plan))
    };
    Ok(Shown::of(plan, day, standing))
}

impl Day {
    fn of(log: Log, facts: Facts, mut more: Vec<facts::Question>) -> Self {
        let mut questions = facts.questions.clone();
        questions.append(&mut more);
        Self {
            log,
            facts,
            questions,
            deviations: Vec::new(),
        }
    }
}
