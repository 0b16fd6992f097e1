//! What a plan takes from the log: what was started, done and weighed, and when a delivery came.

use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};
use kitchen::step::FeedFrom;
use plan::{Plan, Setting};
use store::{Entry, Kind, Reading, Unit};

use super::standing::{Standing, standing};

/// How long before the event starts and after it is served a moment may still belong to it.
const AROUND: SignedDuration = SignedDuration::from_hours(48);

/// What of an entry cannot be taken, and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Question {
    /// The entry to correct, by its number; none where no single one is named.
    pub(crate) entry: Option<i64>,
    /// What was found.
    pub(crate) found: String,
    /// What was expected.
    pub(crate) expected: String,
    /// What to do now.
    pub(crate) do_now: String,
}

/// What was seen of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Saw {
    /// It was started.
    Started,
    /// It is done.
    Done,
    /// What came off it weighs so many grams.
    Weighed(f64),
}

/// One thing the plan is told.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Fact {
    /// The entry it stands in.
    pub(crate) entry: i64,
    /// When.
    pub(crate) at: Timestamp,
    /// Whether that is a moment of this event; a weight written down before it still weighs.
    pub(crate) inside: bool,
    /// The component.
    pub(crate) component: String,
    /// The step, with its load where one was named: `smoke#2`.
    pub(crate) step: String,
    /// What was seen.
    pub(crate) saw: Saw,
}

/// Everything the plan is told.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Facts {
    /// What was seen, in the order it was written.
    pub(crate) seen: Vec<Fact>,
    /// Deliveries that came, as changes of the plan, each with its entry.
    pub(crate) deliveries: Vec<(i64, Setting)>,
    /// The hour the plan stands at, where something has an hour inside the event.
    pub(crate) now: Option<Timestamp>,
    /// When the newest of them happened.
    pub(crate) last: Option<Timestamp>,
    /// What cannot be taken.
    pub(crate) questions: Vec<Question>,
}

impl Facts {
    /// Whether there is nothing to tell the plan.
    pub(crate) fn is_empty(&self) -> bool {
        self.seen.is_empty() && self.deliveries.is_empty()
    }
}

/// Minutes the hour of the plan is rounded down to: a plan anew every quarter of an hour is enough.
const QUARTER_MIN: i64 = 15;

/// What the log tells the plan.
pub(crate) fn of(plan: &Plan, log: &[Arc<Entry>], now: Timestamp) -> Facts {
    let mut facts = Facts::default();
    let zone = &plan.scene.site.zone;
    let bounds = (
        zone.to_timestamp(plan.scene.event.from)
            .ok()
            .and_then(|t| t.checked_sub(AROUND).ok()),
        zone.to_timestamp(plan.scene.event.serve)
            .ok()
            .and_then(|t| t.checked_add(AROUND).ok()),
    );
    let inside = |at: Timestamp| {
        bounds.0.is_none_or(|from| at >= from) && bounds.1.is_none_or(|to| at <= to)
    };
    let mut timed = false;
    for s in standing(log).into_iter().filter(|s| s.holds) {
        let (Some(component), Some(step)) = (s.component(), s.step()) else {
            continue;
        };
        let said = &s.entry.says;
        let saw = match said.kind {
            Kind::Started => Saw::Started,
            Kind::Done => Saw::Done,
            Kind::Weighed => match weighed(&s) {
                Some(g) => Saw::Weighed(g),
                None => continue,
            },
            Kind::Received => {
                if inside(s.at()) {
                    if let Some(setting) = delivery(plan, component, step, s.at()) {
                        facts.deliveries.retain(|(_, d)| d.key != setting.key);
                        facts.deliveries.push((s.entry.sequence, setting));
                        facts.last = facts.last.max(Some(s.at()));
                    }
                } else {
                    facts.questions.push(outside(&s));
                }
                continue;
            }
            _ => continue,
        };
        if !inside(s.at()) && !matches!(saw, Saw::Weighed(_)) {
            facts.questions.push(outside(&s));
            continue;
        }
        timed |= inside(s.at());
        facts.last = facts.last.max(Some(s.at()));
        facts.seen.push(Fact {
            entry: s.entry.sequence,
            at: s.at(),
            inside: inside(s.at()),
            component: component.to_owned(),
            step: load(s.part()).map_or_else(|| step.to_owned(), |n| format!("{step}#{n}")),
            saw,
        });
    }
    if timed {
        let quarter = now.as_second().div_euclid(QUARTER_MIN * 60) * QUARTER_MIN * 60;
        let quarter = Timestamp::from_second(quarter).ok();
        facts.now = quarter.filter(|t| inside(*t)).max(facts.last);
    }
    facts
}

/// The load a part names: "load 2".
fn load(part: Option<&str>) -> Option<u32> {
    part?.strip_prefix("load ")?.trim().parse().ok()
}

/// A moment that cannot be one of this event.
fn outside(s: &Standing<'_>) -> Question {
    let when = s.entry.says.at.on_the_clock().map_or_else(
        || s.at().to_string(),
        |z| z.strftime("%a %Y-%m-%d %H:%M").to_string(),
    );
    Question {
        entry: Some(s.entry.sequence),
        found: format!("{} at {when}", s.entry.says.kind.as_str()),
        expected: "a moment in the days of this event".to_owned(),
        do_now: "correct it, and write it down with the hour it happened".to_owned(),
    }
}

/// The grams that came off a step or a load of it; none for a line of the formula or a single piece.
fn weighed(s: &Standing<'_>) -> Option<f64> {
    let g = s.reading.and_then(grams)?;
    (s.part().is_none() || load(s.part()).is_some()).then_some(g)
}

/// Pieces of a step that were weighed one by one, while the whole was not.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Parts {
    /// The component.
    pub(crate) component: String,
    /// The step.
    pub(crate) step: String,
    /// The pieces, by the name they were given, each with its newest weight, grams.
    pub(crate) weights: Vec<(String, f64)>,
}

impl Parts {
    /// All of them together, grams.
    pub(crate) fn together_g(&self) -> f64 {
        self.weights.iter().map(|(_, g)| g).sum()
    }
}

/// Single weights the plan does not stand on: whether they are all of it, only the bench knows.
pub(crate) fn parts(plan: &Plan, log: &[Arc<Entry>]) -> Vec<Parts> {
    let entries = standing(log);
    let weighings = || {
        entries
            .iter()
            .filter(|s| s.entry.says.kind == Kind::Weighed && s.holds)
            .filter_map(|s| Some((s, s.component()?, s.step()?)))
    };
    let mut all: Vec<Parts> = Vec::new();
    for (s, component, step) in weighings() {
        let (Some(part), Some(g)) = (s.part(), s.reading.and_then(grams)) else {
            continue;
        };
        let whole =
            weighings().any(|(w, c, i)| (c, i) == (component, step) && weighed(w).is_some());
        if whole || line(plan, component, step, part).is_some() {
            continue;
        }
        let of = match all
            .iter_mut()
            .position(|p| p.component == component && p.step == step)
        {
            Some(at) => at,
            None => {
                all.push(Parts {
                    component: component.to_owned(),
                    step: step.to_owned(),
                    weights: Vec::new(),
                });
                all.len() - 1
            }
        };
        if let Some(of) = all.get_mut(of) {
            of.weights.retain(|(p, _)| p != part);
            of.weights.push((part.to_owned(), g));
        }
    }
    all
}

/// The line of a step's formula with this item, and what it weighs, grams.
pub(crate) fn line(plan: &Plan, component: &str, step: &str, item: &str) -> Option<(String, f64)> {
    let c = plan.component(component)?;
    let recipe = plan.scene.book.recipes.get(&c.recipe)?;
    let at = recipe.steps.iter().position(|s| s.id == *step)?;
    let (step, flow) = (recipe.steps.get(at)?, c.flows.get(at)?);
    step.lines
        .iter()
        .zip(&flow.lines)
        .find(|(l, g)| l.item.id().as_str() == item && !g.counted)
        .map(|(l, g)| {
            (
                plan::wording::item_name(&plan.scene, &l.item).0.to_owned(),
                g.made_g,
            )
        })
}

/// A weight in grams.
pub(crate) fn grams(reading: Reading) -> Option<f64> {
    let n: f64 = reading.number().to_string().parse().ok()?;
    let mass = match reading.unit() {
        Unit::Gram => units::Mass::grams(n),
        Unit::Kilogram => units::Mass::kilograms(n),
        Unit::Ounce => units::Mass::ounces(n),
        Unit::Pound => units::Mass::pounds(n),
        _ => return None,
    };
    mass.ok().map(units::Mass::g)
}

/// The delivery that a step takes in, come at this hour.
fn delivery(plan: &Plan, component: &str, step: &str, at: Timestamp) -> Option<Setting> {
    let recipe = plan
        .scene
        .book
        .recipes
        .iter()
        .find(|(id, _)| id.as_str() == component)
        .map(|(_, r)| r)?;
    let step = recipe.steps.iter().find(|s| s.id == *step)?;
    let item = step.feeds.iter().find_map(|f| match &f.from {
        FeedFrom::Item { item, .. } => Some(item),
        _ => None,
    })?;
    let civil = at.to_zoned_datetime(plan.scene.site.zone.clone());
    Some(Setting {
        key: format!("delivery.{item}"),
        value: civil.strftime("%Y-%m-%dT%H:%M").to_string(),
    })
}
