//! Plans, made once and kept: the same event with the same changes is the same plan.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use plan::{Plan, Scene, Setting};

use crate::Board;
use crate::access::money;
use crate::access::visitor::visitor;
use crate::shelf::Standing;
use crate::trouble::Trouble;

/// Plans kept at a time.
const MOST_KEPT: usize = 32;
/// Changes of one plan, and letters of one: more is no what-if.
const MOST_CHANGES: usize = 12;
const MOST_LETTERS: usize = 200;

/// The number of the book, the event and the changes, as they stand in the address.
type Key = (i64, String, Vec<String>);

/// A plan with the book it was made from.
type Kept = (Key, Arc<Plan>, Arc<Standing>);

/// The plans made lately, the latest first.
#[derive(Default)]
pub(crate) struct Plans(Mutex<VecDeque<Kept>>);

impl Plans {
    fn get(&self, key: &Key) -> Option<Arc<Plan>> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.iter().position(|(k, ..)| k == key)?;
        let found = kept.remove(at)?;
        let plan = found.1.clone();
        kept.push_front(found);
        Some(plan)
    }

    /// Keeps a plan with the book it was made from; plans of other numbers of the book are let go.
    fn put(&self, key: Key, plan: Arc<Plan>, standing: Arc<Standing>) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.retain(|(k, ..)| *k != key && k.0 >= key.0);
        kept.push_front((key, plan, standing));
        kept.truncate(MOST_KEPT);
    }

    /// The book a plan was made from, while the plan is kept.
    pub(crate) fn book_of(&self, plan: &Arc<Plan>) -> Option<Arc<Standing>> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let found = kept.iter().find(|(_, p, _)| Arc::ptr_eq(p, plan))?;
        Some(Arc::clone(&found.2))
    }
}

/// The plan of an event with changes, as its visitor may see it: without costs there is no money in it, and no what-if.
pub(crate) async fn plan(
    board: &Arc<Board>,
    event: &str,
    changes: &[String],
) -> Result<Arc<Plan>, Trouble> {
    if visitor().sees_costs() {
        return whole(board, event, changes).await;
    }
    if changes.iter().any(|c| c != crate::address::AS_PLANNED) {
        return Err(no_what_if());
    }
    let whole = whole(board, event, changes).await?;
    Ok(Arc::new(money::without(&whole)))
}

/// Why somebody gets no what-if.
pub(crate) fn no_what_if() -> Trouble {
    Trouble::refused(
        "a what-if",
        "the plan as the instructor has it",
        "open the page without it, and ask the instructor what changes",
    )
}

/// The whole plan, costs and all; planning runs beside the pages, not in their way.
async fn whole(board: &Arc<Board>, event: &str, changes: &[String]) -> Result<Arc<Plan>, Trouble> {
    if changes.len() > MOST_CHANGES || changes.iter().any(|c| c.chars().count() > MOST_LETTERS) {
        return Err(Trouble::entry(
            format!(
                "{} changes, or one of more than {MOST_LETTERS} letters",
                changes.len()
            ),
            format!("at most {MOST_CHANGES} changes such as covers=72"),
            "take some back",
        ));
    }
    let standing = board.standing_now().await?;
    // The mark of a page as it was planned is no change.
    let changes: Vec<String> = changes
        .iter()
        .filter(|c| *c != crate::address::AS_PLANNED)
        .cloned()
        .collect();
    let key = (standing.number, event.to_owned(), changes);
    if let Some(kept) = board.plans.get(&key) {
        return Ok(kept);
    }
    let made = {
        let book = Arc::clone(&standing.book);
        let key = key.clone();
        tokio::task::spawn_blocking(move || make(&book, &key)).await
    };
    let plan = Arc::new(made.map_err(|e| Trouble::ours(format!("planning stopped: {e}")))??);
    board.plans.put(key, Arc::clone(&plan), standing);
    Ok(plan)
}

fn make(book: &kitchen::Book, (_, event, changes): &Key) -> Result<Plan, Trouble> {
    let first = Scene::new(book, event)?;
    let settings = changes
        .iter()
        .map(|c| Setting::read(c))
        .collect::<Result<Vec<_>, _>>()?;
    let make =
        |scene: &Scene| plan::make(scene, &first, &schedule::Effort::standard(), &mut |_| true);
    // A change is checked before anything is computed.
    let changed = first.with_all(&settings)?;
    let before = make(&first)?;
    // Where there is no clock, ways out of it are looked for once, and kept with the plan.
    let told = |plan| {
        plan::ways::with_ways_out(plan, &first, &schedule::Effort::standard(), &mut |_| true)
    };
    if settings.is_empty() {
        return Ok(told(before));
    }
    Ok(told(make(&plan::compare::keeping(&changed, &before))?))
}
