//! What happened, held against a plan: what was started stays where it was started, what is done took as long as it
//! took, what was weighed weighs what it weighs, and nothing else starts before now.
//!
//! A [`Happened`] is a list of facts, each with the place it was read from. [`Happened::on`] checks them against the
//! plan's tasks and against each other and gives the scene with them; the walk then is the same walk as ever.
//!
//! `done` is the end of a step's work and of its programme. A wait after it (a cure, a rest) ends when the next step is
//! started: a cure pulled out at the sixteenth hour is a rinse *started* then.

mod contradictions;
mod names;

use std::collections::BTreeMap;

use jiff::Timestamp;
use kitchen::Id;
use schedule::Minute;

use crate::problem::PlanError;
use crate::scene::Scene;
use crate::setting::{Setting, SettingError};

pub(crate) use names::Seen;

/// A weight of one load (`None`: of all), grams, and the fact that says so.
type Weighing<'f> = (Option<u32>, f64, &'f Fact);

/// What was seen of a task.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum What {
    /// It was started.
    Started,
    /// Its work, and its programme where it has one, is done.
    Done,
    /// What came off the step weighs so many grams (above 0).
    Weighed {
        /// Grams.
        g: f64,
    },
}

impl What {
    /// The word a record uses.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Started => "started",
            Self::Done => "done",
            Self::Weighed { .. } => "weighed",
        }
    }
}

/// One thing that happened.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// Where it is written down: "row 3", "entry 17". Messages and the plan name it so.
    pub at: String,
    /// When.
    pub when: Timestamp,
    /// The recipe or dish, or the event's task; as in the ids of a plan.
    pub component: String,
    /// The step, as the plan's ids have it after the component: `cure`, `smoke#2` (its second load), `smoke.run` (the
    /// programme alone), `smoke.round-3`. Empty for a task of the event.
    pub step: String,
    /// What was seen.
    pub what: What,
}

impl Fact {
    /// The id of the task it is about.
    #[must_use]
    pub fn task(&self) -> String {
        if self.step.is_empty() {
            self.component.clone()
        } else {
            format!("{}.{}", self.component, self.step)
        }
    }
}

/// Everything known to have happened, and the hour it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Happened {
    /// Now: no fact lies after it, and nothing that was not started is planned before it.
    pub now: Timestamp,
    /// The facts, in any order.
    pub facts: Vec<Fact>,
}

/// A fact that cannot be taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wrong {
    /// Where it is written down.
    pub at: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
    /// Ids there are, for a suggestion; empty where none helps.
    pub known: Vec<String>,
    /// What was looked for among them.
    pub asked: String,
}

/// Why a record cannot be put on a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotTaken {
    /// Facts that contradict the plan or each other: all of them.
    Wrong(Vec<Wrong>),
    /// There is no plan to put it on.
    Plan(PlanError),
}

impl From<PlanError> for NotTaken {
    fn from(error: PlanError) -> Self {
        Self::Plan(error)
    }
}

/// A record that was held against its plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// Now, rounded up to a minute.
    pub(crate) now: Minute,
    /// The facts.
    pub(crate) facts: Vec<Fact>,
    /// What was seen of each task, by its id.
    pub(crate) seen: BTreeMap<String, Seen>,
}

/// How far a task is, by the record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// Done, as written down.
    Done,
    /// Started and not done.
    UnderWay,
    /// It must be done, since what follows it was started; its own hours were not written down and are taken.
    Taken,
    /// Its time is past and nothing was written down: a round nobody noted.
    NotWrittenDown,
}

impl State {
    /// The word of the contract.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::UnderWay => "under way",
            Self::Taken => "taken as done",
            Self::NotWrittenDown => "not written down",
        }
    }
}

/// A rule between two moments that what happened has broken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BrokenWait {
    /// Component, dish or task it is told at.
    pub component: Id,
    /// From the end (or start) of this task.
    pub from: String,
    /// To the start of this one.
    pub to: String,
    /// The rule, in words.
    pub why: String,
    /// Elapsed minutes; where `still_standing`, up to now.
    pub got: Minute,
    /// The bound it is beyond.
    pub limit: Minute,
    /// Whether `limit` is a least.
    pub least: bool,
    /// The next step was not started yet.
    pub still_standing: bool,
    /// Whether both ends were written down; where one was taken, nothing is known to be broken.
    pub written_down: bool,
}

/// What the plan says of the record.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Told {
    /// Now.
    pub now: Minute,
    /// How far each task is, by id; tasks that are not here are ahead.
    pub states: BTreeMap<String, State>,
    /// Where the hours of a task are written down, by its id: "row 3".
    pub from: BTreeMap<String, String>,
    /// What was taken where nothing was written down, and what looks odd.
    pub notes: Vec<String>,
    /// What happened against the rules.
    pub broken: Vec<BrokenWait>,
}

impl Happened {
    /// The scene with what happened. `first` is the scene before any change.
    ///
    /// # Errors
    /// [`NotTaken::Wrong`] with every fact that names nothing of the plan, lies after now or before the event, or
    /// contradicts another; [`NotTaken::Plan`] when there is no plan.
    pub fn on(&self, scene: &Scene, first: &Scene) -> Result<Scene, NotTaken> {
        let mut scene = scene.clone();
        let mut wrong = Vec::new();
        self.weighings(&mut scene, &mut wrong);
        let set_up = crate::make::set_up(&scene, first)?;
        let tasks = crate::tasks::build(&set_up.scene, &set_up.components)?;
        let seen = names::seen(self, &set_up.scene, &tasks, &mut wrong)?;
        contradictions::find(&tasks, &seen, &mut wrong);
        if !wrong.is_empty() {
            wrong.dedup();
            return Err(NotTaken::Wrong(wrong));
        }
        scene.happened = Some(Record {
            now: self.now.as_second().div_euclid(60)
                + Minute::from(self.now.as_second().rem_euclid(60) > 0),
            facts: self.facts.clone(),
            seen,
        });
        Ok(scene)
    }

    /// What was weighed goes in as a change that is a fact: what is bought stays as it was.
    fn weighings(&self, scene: &mut Scene, wrong: &mut Vec<Wrong>) {
        let mut by_step: BTreeMap<String, Vec<Weighing<'_>>> = BTreeMap::new();
        for fact in &self.facts {
            let What::Weighed { g } = fact.what else {
                continue;
            };
            let (step, load) = names::load_of(&fact.step);
            let of = by_step
                .entry(format!("{}.{step}", fact.component))
                .or_default();
            match of.iter().find(|(l, _, _)| *l == load) {
                Some((_, before, earlier)) if (before - g).abs() > 1e-9 => wrong.push(Wrong {
                    at: fact.at.clone(),
                    found: format!(
                        "{} weighs {} g here and {} g at {}",
                        fact.task(),
                        crate::figures::number(g, 1),
                        crate::figures::number(*before, 1),
                        earlier.at
                    ),
                    expected: "one weight for what comes off a step".to_owned(),
                    do_now: "take the wrong one out; weigh again if nobody knows which".to_owned(),
                    known: Vec::new(),
                    asked: String::new(),
                }),
                Some(_) => {}
                None => of.push((load, g, fact)),
            }
        }
        for (step, weights) in by_step {
            let grams: f64 = weights.iter().map(|(_, g, _)| g).sum();
            let setting = Setting {
                key: format!("{step}.weighed"),
                value: format!("{grams} g"),
            };
            match scene.with(&setting) {
                Ok(with) => *scene = with,
                Err(error) => wrong.extend(weights.iter().map(|(_, g, fact)| {
                    let error = match &error {
                        crate::scene::SceneError::Setting(e) => e.clone(),
                        crate::scene::SceneError::UnknownEvent { found, known } => SettingError {
                            key: step.clone(),
                            found: found.clone(),
                            expected: "an event of the book".to_owned(),
                            do_now: "name one".to_owned(),
                            known: known.clone(),
                        },
                    };
                    let named = error.known.is_empty();
                    Wrong {
                        at: fact.at.clone(),
                        found: format!("{} weighed, {} g", fact.task(), g),
                        expected: if named {
                            error.expected
                        } else {
                            "a step of a recipe of this event".to_owned()
                        },
                        do_now: error.do_now,
                        known: error
                            .known
                            .iter()
                            .filter_map(|k| k.strip_suffix(".weighed").map(str::to_owned))
                            .collect(),
                        asked: step.clone(),
                    }
                })),
            }
        }
    }
}

/// Whole minutes of a moment, the seconds dropped.
pub(crate) fn minute(when: Timestamp) -> Minute {
    when.as_second().div_euclid(60)
}
