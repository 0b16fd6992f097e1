//! The day's plan: made beside the pages when something new was written down, kept until the next.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use jiff::Timestamp;
use plan::happened::{Fact, Happened, NotTaken, What};
use plan::{Plan, Scene, SceneError, Setting};
use tokio::sync::watch;

use super::facts::{Facts, Question, Saw};
use crate::trouble::Trouble;
use crate::{Board, planned};

/// Plans kept at a time.
const MOST_KEPT: usize = 16;
/// How long a page waits for a plan before it says so and asks again by itself.
const PATIENCE: Duration = Duration::from_secs(8);

/// A plan with what happened, and what of that it could not take.
#[derive(Debug, Clone)]
pub(crate) struct Made {
    /// The plan.
    pub(crate) plan: Arc<Plan>,
    /// What contradicts it.
    pub(crate) questions: Vec<Question>,
}

/// The number of the book, event, changes, and what the plan is told.
type Key = (i64, String, Vec<String>, String);
/// A plan that is made, or being made.
type Coming = watch::Receiver<Option<Result<Made, Trouble>>>;

/// The day's plans made lately, the latest first.
#[derive(Default)]
pub(crate) struct Kept(Mutex<VecDeque<(Key, Coming)>>);

impl Kept {
    /// The plan of a key; `start` is called when nobody has asked for it yet.
    fn coming(&self, key: &Key, start: impl FnOnce() -> Coming) -> Coming {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let at = kept.iter().position(|(k, c)| {
            // What stopped without an answer is asked for anew.
            k == key && (c.borrow().is_some() || c.has_changed().is_ok())
        });
        let coming = match at.and_then(|at| kept.remove(at)) {
            Some((_, coming)) => coming,
            None => start(),
        };
        kept.retain(|(k, _)| k != key);
        kept.push_front((key.clone(), coming.clone()));
        kept.truncate(MOST_KEPT);
        coming
    }
}

/// The plan of an event with changes and with what happened.
pub(crate) async fn plan(
    board: &Arc<Board>,
    event: &str,
    changes: &[String],
    facts: &Facts,
) -> Result<Made, Trouble> {
    let standing = board.standing_now().await?;
    let key: Key = (
        standing.number,
        event.to_owned(),
        changes.to_vec(),
        format!("{:?}", (&facts.seen, &facts.deliveries, facts.now)),
    );
    // The hours of the book's plan are kept where they can be.
    let before = planned::plan(board, event, &[]).await?;
    let mut coming = board.days.coming(&key, || {
        let (send, coming) = watch::channel(None);
        let (book, facts) = (Arc::clone(&standing.book), facts.clone());
        let (event, changes) = (event.to_owned(), changes.to_vec());
        tokio::task::spawn_blocking(move || {
            send.send_replace(Some(make(&book, &event, &changes, &facts, &before)));
        });
        coming
    });
    let made = tokio::time::timeout(PATIENCE, coming.wait_for(Option::is_some)).await;
    match made {
        Err(_) => Err(Trouble::waiting()),
        Ok(Err(_)) => Err(Trouble::ours("planning the day stopped")),
        Ok(Ok(made)) => made.clone().unwrap_or_else(|| Err(Trouble::waiting())),
    }
}

fn make(
    book: &kitchen::Book,
    event: &str,
    changes: &[String],
    facts: &Facts,
    before: &Plan,
) -> Result<Made, Trouble> {
    let first = Scene::new(book, event)?;
    let mut questions = Vec::new();
    let mut scene = first.clone();
    for (entry, setting) in &facts.deliveries {
        scene = taken(scene, *entry, setting, &mut questions);
    }
    // A weight from before the days of the event has no hour on its clock, and still weighs.
    for fact in facts.seen.iter().filter(|f| !f.inside) {
        if let Saw::Weighed(g) = fact.saw {
            let setting = Setting {
                key: format!("{}.{}.weighed", fact.component, fact.step),
                value: format!("{g} g"),
            };
            scene = taken(scene, fact.entry, &setting, &mut questions);
        }
    }
    // What happened is no what-if: the addresses of the day's pages do not carry it.
    scene.changes.clear();
    let settings = changes
        .iter()
        .map(|c| Setting::read(c))
        .collect::<Result<Vec<_>, _>>()?;
    let mut scene = scene.with_all(&settings)?;
    let said = scene.changes.clone();
    if let Some(now) = facts.now {
        scene = happened(&scene, &first, now, facts, &mut questions)?;
    }
    scene.changes = said;
    let plan = plan::make(
        &plan::compare::keeping(&scene, before),
        &first,
        &schedule::Effort::standard(),
        &mut |_| true,
    )?;
    Ok(Made {
        plan: Arc::new(plan),
        questions,
    })
}

/// The scene with what happened. What contradicts the plan or another entry is asked about, and the plan stands on the
/// rest: an entry named in a question is not counted until it is corrected.
fn happened(
    scene: &Scene,
    first: &Scene,
    now: Timestamp,
    facts: &Facts,
    questions: &mut Vec<Question>,
) -> Result<Scene, Trouble> {
    let mut left: Vec<Fact> = facts.seen.iter().filter(|f| f.inside).map(fact).collect();
    loop {
        let record = Happened {
            now,
            facts: left.clone(),
        };
        let wrong = match record.on(scene, first) {
            Ok(scene) => return Ok(scene),
            Err(NotTaken::Plan(e)) => return Err(e.into()),
            Err(NotTaken::Wrong(wrong)) => wrong,
        };
        let before = left.len();
        left.retain(|f| !wrong.iter().any(|w| w.at == f.at));
        questions.extend(wrong.into_iter().map(|w| Question {
            entry: number_of(&w.at),
            found: w.found,
            expected: w.expected,
            do_now: w.do_now,
        }));
        if left.len() == before {
            // Nothing is named that could be left out: the plan stands without the record, and says so.
            questions.push(Question {
                entry: None,
                found: format!("{before} entries that do not fit together"),
                expected: "entries that fit the plan".to_owned(),
                do_now: "look through the record; the plan stands without them".to_owned(),
            });
            return Ok(scene.clone());
        }
    }
}

/// The first word of the place of a fact: "entry 17".
const ENTRY: &str = "entry ";

fn fact(f: &super::facts::Fact) -> Fact {
    Fact {
        at: format!("{ENTRY}{}", f.entry),
        when: f.at,
        component: f.component.clone(),
        step: f.step.clone(),
        what: match f.saw {
            Saw::Started => What::Started,
            Saw::Done => What::Done,
            Saw::Weighed(g) => What::Weighed { g },
        },
    }
}

/// The entry a place names.
pub(crate) fn number_of(at: &str) -> Option<i64> {
    at.strip_prefix(ENTRY)?.parse().ok()
}

/// The scene with one fact more, or without it and a question about it.
fn taken(scene: Scene, entry: i64, setting: &Setting, questions: &mut Vec<Question>) -> Scene {
    match scene.with(setting) {
        Ok(scene) => scene,
        Err(why) => {
            let (found, expected, do_now) = match why {
                SceneError::Setting(e) => (e.found, e.expected, e.do_now),
                SceneError::UnknownEvent { found, .. } => (
                    found,
                    "an event of the book".to_owned(),
                    "open it from the first page".to_owned(),
                ),
            };
            questions.push(Question {
                entry: Some(entry),
                found,
                expected,
                do_now,
            });
            scene
        }
    }
}
