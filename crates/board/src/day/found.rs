//! What is outside its limit beside the judged logs: a core nobody read, a wait too warm, too short or too long, a day that
//! has passed, and what somebody wrote down.

use jiff::Timestamp;
use kitchen::verb::Verb;
use plan::Plan;
use plan::figures::number;
use safety::Verdict;
use safety::ways;
use store::Kind;

use super::deviations::{Deviation, MARK, Stand, over};
use super::judged::{self, celsius};
use super::planning::number_of;
use super::standing::Standing;
use crate::wall::span;

/// Runs that are over and of whose core nothing was written down: a missing reading is never a pass.
pub(super) fn not_read(plan: &Plan, entries: &[Standing], all: &mut Vec<Deviation>) {
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for step in &recipe.steps {
            let (component, id) = (c.recipe.as_str(), step.id.as_str());
            let read = judged::temperatures(entries, component, id)
                .any(|s| s.reading.is_some() && !s.part().is_some_and(judged::is_air));
            let (Some(until), Some(made_by), false) =
                (step.until, over(recipe, entries, component, id), read)
            else {
                continue;
            };
            all.push(Deviation {
                key: format!("{component}.{id}.core-not-read"),
                rule: "core-not-read".to_owned(),
                component: Some(component.to_owned()),
                step: Some(id.to_owned()),
                name: format!("{}: {id}", c.name),
                found: "the run is over, and no core is written down".to_owned(),
                limit: format!("core {} °C held {}", number(until.core.c(), 1), until.hold),
                margin: None,
                source: "the recipe (house value); what the law asks stands under Verdicts"
                    .to_owned(),
                made_by,
                mended: false,
                decided: Vec::new(),
                stand: Stand::Open,
            });
        }
    }
}

/// Readings warmer than the recipe's own limit of a wait.
pub(super) fn recipe_cold(plan: &Plan, entries: &[Standing], all: &mut Vec<Deviation>) {
    for c in &plan.components {
        let Some(recipe) = plan.scene.book.recipes.get(&c.recipe) else {
            continue;
        };
        for step in &recipe.steps {
            let Some(limit) = step.wait.at_most else {
                continue;
            };
            // A chill starts hot and an arrival is judged at the door.
            if matches!(
                step.verb,
                Verb::Chill | Verb::Receive | Verb::HotSmoke | Verb::Cook
            ) {
                continue;
            }
            let mut warmest: Option<(&Standing, f64)> = None;
            let mut newest: Vec<(&str, f64)> = Vec::new();
            let mut made_by = 0;
            let mut read: Vec<&Standing> =
                judged::temperatures(entries, c.recipe.as_str(), step.id.as_str()).collect();
            // The newest is the one read last, not the one written down last.
            read.sort_by_key(|s| s.at());
            for s in read {
                let Some(t) = s.reading.and_then(celsius) else {
                    continue;
                };
                let probe = s.part().unwrap_or("probe");
                newest.retain(|(p, _)| *p != probe);
                newest.push((probe, t));
                if t > limit.c() {
                    made_by = s.entry.sequence;
                    if warmest.is_none_or(|(_, w)| t > w) {
                        warmest = Some((s, t));
                    }
                }
            }
            let Some((s, t)) = warmest else { continue };
            let key = format!("{}.{}.recipe-cold", c.recipe, step.id);
            // The law's own limit says more, where it is broken too.
            let law = format!("{}.{}.cold-hold", c.recipe, step.id);
            if all.iter().any(|d| d.key == law) {
                continue;
            }
            all.push(Deviation {
                key,
                rule: "recipe-cold".to_owned(),
                component: Some(c.recipe.to_string()),
                step: Some(step.id.to_string()),
                name: format!("{}: {}", c.name, step.id),
                found: format!(
                    "{} °C at {}, {}",
                    number(t, 1),
                    s.part().unwrap_or("the probe"),
                    clock(s)
                ),
                limit: format!("at or below {} °C while it waits", number(limit.c(), 1)),
                margin: Some(format!("{} °C", number(limit.c() - t, 1))),
                source: "the recipe (house value)".to_owned(),
                made_by,
                mended: newest.iter().all(|(_, t)| *t <= limit.c()),
                decided: Vec::new(),
                stand: Stand::Open,
            });
        }
    }
}

/// Waits that what happened has broken: taken out too early, or stood too long. Where one end was not written down
/// nothing is known to be broken, and the plan says what it took.
pub(super) fn waits(plan: &Plan, all: &mut Vec<Deviation>) {
    let Some(told) = &plan.happened else { return };
    for b in told
        .broken
        .iter()
        .filter(|b| b.written_down && b.from != b.to)
        // What should have gone on at once and is not written down is more often not written down than not done: it
        // stands under what is not written down, and its lot is not held for it.
        .filter(|b| !b.still_standing || b.limit >= SHORT_MIN)
    {
        let rule = if b.least {
            "pulled-early"
        } else {
            "stood-too-long"
        };
        let bound = if b.least { "at least" } else { "at most" };
        let task = plan.timeline.tasks.iter().find(|t| t.meaning.id == b.to);
        let entry = |id: &String| told.from.get(id).and_then(|at| number_of(at));
        all.push(Deviation {
            key: format!("{}.{rule}", b.to),
            rule: rule.to_owned(),
            component: Some(b.component.to_string()),
            step: task
                .and_then(|t| t.meaning.step.as_ref())
                .map(ToString::to_string),
            name: task.map_or_else(|| b.to.clone(), |t| crate::names::whole(plan, t)),
            found: format!(
                "{} {}from {} to {}",
                span(b.got),
                if b.still_standing { "so far " } else { "" },
                b.from,
                b.to
            ),
            limit: format!("{bound} {}", span(b.limit)),
            margin: Some(format!(
                "{}{}",
                if b.least { "−" } else { "+" },
                span((b.got - b.limit).abs())
            )),
            source: format!("{} (the recipe, house value)", b.why),
            // The clock makes what still stands; the next start makes what was taken out.
            made_by: if b.still_standing {
                entry(&b.from)
            } else {
                entry(&b.to)
            }
            .unwrap_or(0),
            mended: false,
            decided: Vec::new(),
            stand: Stand::Open,
        });
    }
}

/// Waits up to here, minutes, are "at once": house value.
const SHORT_MIN: i64 = 60;

/// What somebody wrote down as outside its limit; the part says of which kind, where a page filled it in.
pub(super) fn by_hand(plan: &Plan, entries: &[Standing], all: &mut Vec<Deviation>) {
    for s in entries
        .iter()
        .filter(|s| s.entry.says.kind == Kind::Deviation && s.holds)
    {
        if s.part().is_some_and(|p| p.starts_with(MARK)) {
            continue;
        }
        let rule = s
            .part()
            .filter(|p| ways::of(p).is_ok_and(|d| d.rule == *p))
            .unwrap_or(ways::OTHER);
        let name = s
            .component()
            .and_then(|c| plan.component(c))
            .map_or_else(|| plan.scene.event.name.clone(), |c| c.name.clone());
        let name = s
            .step()
            .map_or_else(|| name.clone(), |step| format!("{name}: {step}"));
        all.push(Deviation {
            key: format!("entry-{}", s.entry.sequence),
            rule: rule.to_owned(),
            component: s.component().map(str::to_owned),
            step: s.step().map(str::to_owned),
            name,
            found: format!(
                "{} ({}, {})",
                s.entry.says.words,
                s.entry.says.who,
                clock(s)
            ),
            limit: ways::of(rule).map_or_else(|_| String::new(), |d| d.what.clone()),
            margin: None,
            source: format!("entry {} of the record", s.entry.sequence),
            made_by: s.entry.sequence,
            // What stopped goes on to be judged by the core it reaches.
            mended: core_shown(plan, entries, s),
            decided: Vec::new(),
            stand: Stand::Open,
        });
    }
}

/// Whether the core of the step an entry is about was shown by readings made after it.
fn core_shown(plan: &Plan, entries: &[Standing], s: &Standing) -> bool {
    let (Some(component), Some(step)) = (s.component(), s.step()) else {
        return false;
    };
    let after: Vec<Standing> = entries
        .iter()
        .filter(|e| e.at() >= s.at())
        .copied()
        .collect();
    let history = judged::history(&after, component, step);
    if history.channels.is_empty() {
        return false;
    }
    plan.scene
        .book
        .recipes
        .iter()
        .find(|(id, _)| id.as_str() == component)
        .and_then(|(_, r)| {
            let step = r.steps.iter().find(|x| x.id == *step)?;
            step.until.and(judged::rule_of(r, step))
        })
        .and_then(|rule| rule(&history, &judged::terms(plan, &history)).ok())
        .is_some_and(|j| j.verdict == Verdict::Shown)
}

/// Lots whose last day has passed.
pub(super) fn use_by(plan: &Plan, entries: &[Standing], now: Timestamp, all: &mut Vec<Deviation>) {
    let today = now.to_zoned_datetime(plan.scene.site.zone.clone()).date();
    for c in &plan.components {
        let Some(figure) = plan.figures.get(&format!("{}.discard_by", c.recipe)) else {
            continue;
        };
        // What nobody has touched was not made.
        let made = |s: &Standing| s.holds && s.component() == Some(c.recipe.as_str());
        if !entries.iter().any(made) {
            continue;
        }
        let shown = figure.show();
        let last = shown
            .rsplit(' ')
            .next()
            .and_then(|d| d.parse::<jiff::civil::Date>().ok());
        if last.is_none_or(|last| today <= last) {
            continue;
        }
        all.push(Deviation {
            key: format!("{}.use-by", c.recipe),
            rule: "use-by".to_owned(),
            component: Some(c.recipe.to_string()),
            step: None,
            name: c.name.clone(),
            found: format!("today is {}", today.strftime("%a %F")),
            limit: format!("discard by {shown}"),
            margin: None,
            source: figure.source.clone(),
            made_by: 0,
            mended: false,
            decided: Vec::new(),
            stand: Stand::Open,
        });
    }
}

/// When an entry happened, on the clock of its own zone.
fn clock(s: &Standing) -> String {
    s.entry
        .says
        .at
        .on_the_clock()
        .map_or_else(String::new, |z| z.strftime("%a %H:%M").to_string())
}
