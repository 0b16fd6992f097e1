//! What is outside its limit by the record: found by the rules or written down by somebody, open until a decision is
//! recorded, and held for as long as the way that was chosen asks for it.

use jiff::Timestamp;
use kitchen::verb::Verb;
use plan::Plan;
use plan::figures::number;
use safety::Verdict;
use safety::ways::{self, Then, Way};
use store::{Entry, Kind};

use super::judged::{self, celsius};
use super::planning::number_of;
use super::standing::{Standing, standing};
use crate::wall::span;

/// The first word of the part of an entry that belongs to a deviation.
pub(crate) const MARK: &str = "deviation ";
/// The word of a decision that lets a lot go on after it was asked about.
pub(crate) const RELEASED: &str = "released";

/// How a deviation stands; from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Stand {
    /// Settled.
    Closed,
    /// Decided, and held until readings or another decision.
    Held,
    /// Nobody has decided yet.
    Open,
    /// Discarded.
    Discarded,
}

/// What was decided.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Decided {
    /// The way's word.
    pub(crate) way: String,
    /// What the lot waits for.
    pub(crate) then: Then,
    /// The entry.
    pub(crate) entry: i64,
    /// Who.
    pub(crate) who: String,
    /// What was written.
    pub(crate) words: String,
}

/// Something outside its limit.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Deviation {
    /// Its name in addresses and in the record: `hot-smoked-char.smoke.fish-core`, `entry-17`.
    pub(crate) key: String,
    /// The rule whose ways are open.
    pub(crate) rule: String,
    /// The component, where it is about one.
    pub(crate) component: Option<String>,
    /// The step.
    pub(crate) step: Option<String>,
    /// What it is about, by its name.
    pub(crate) name: String,
    /// What was found.
    pub(crate) found: String,
    /// The limit, in words.
    pub(crate) limit: String,
    /// How far outside, where it can be said.
    pub(crate) margin: Option<String>,
    /// Where the limit comes from and how far that was read.
    pub(crate) source: String,
    /// The newest entry that made it; decisions before it do not speak of it. Nought: the clock made it.
    pub(crate) made_by: i64,
    /// The newest readings meet the rule again.
    pub(crate) mended: bool,
    /// Decisions since, the newest last.
    pub(crate) decided: Vec<Decided>,
    /// How it stands.
    pub(crate) stand: Stand,
}

impl Deviation {
    /// The address of its page.
    pub(crate) fn address(&self, event: &str) -> String {
        format!(
            "/event/{event}/deviation?of={}",
            crate::address::encoded(&self.key)
        )
    }

    /// The ways that are open: those of its rule, and after asking the answer.
    pub(crate) fn ways(&self) -> Vec<Way> {
        let mut ways = ways::of(&self.rule).map_or_else(|_| Vec::new(), |d| d.ways.clone());
        if self.decided.last().is_some_and(|d| d.then == Then::Ask) {
            ways.insert(
                0,
                Way {
                    id: RELEASED.to_owned(),
                    words: "The one who was asked has answered: it goes on. Write below who answered and what they said."
                        .to_owned(),
                    then: Then::GoesOn,
                    row: None,
                },
            );
        }
        ways
    }
}

/// Everything outside its limit, open ones first.
pub(crate) fn of(plan: &Plan, log: &[Entry], now: Timestamp) -> Vec<Deviation> {
    let entries = standing(log);
    let mut all = Vec::new();
    for j in judged::all(plan, log) {
        // A core that was cut off, or that the end of a run leaves unshown, need not be broken: it is not shown.
        let core = |rule: &str| matches!(rule, "fish-core" | "cook-nonintact");
        if let Ok(judgement) = &j.answer
            && judgement.verdict != Verdict::Shown
            && (judgement.verdict == Verdict::Broken || core(judgement.rule))
            && let Some(made_by) = made_by(plan, log, &entries, &j, judgement.rule)
        {
            let n = |x: f64| number(x, u32::from((x - x.round()).abs() > 1e-9));
            let against = match (judgement.value, judgement.limit) {
                (Some(value), Some(_)) => format!("{} {}; ", n(value), judgement.unit),
                _ => String::new(),
            };
            all.push(Deviation {
                key: format!("{}.{}.{}", j.component, j.step, judgement.rule),
                rule: judgement.rule.to_owned(),
                component: Some(j.component.clone()),
                step: Some(j.step.clone()),
                name: format!("{}: {}", j.name, j.step),
                found: format!("{against}{}", judgement.place),
                limit: judgement.asks.clone(),
                margin: judgement
                    .margin
                    .map(|m| format!("{} {}", number(m, 1), judgement.unit)),
                source: format!(
                    "{} ({}; {})",
                    judgement.source.title,
                    judgement.status().words(),
                    judgement.holds.words()
                ),
                made_by,
                mended: false,
                decided: Vec::new(),
                stand: Stand::Open,
            });
        }
    }
    not_read(plan, &entries, &mut all);
    recipe_cold(plan, &entries, &mut all);
    waits(plan, &mut all);
    by_hand(plan, &entries, &mut all);
    use_by(plan, &entries, now, &mut all);
    for deviation in &mut all {
        decide(deviation, &entries);
    }
    all.sort_by_key(|d| std::cmp::Reverse(d.stand == Stand::Open));
    all
}

/// Reads the decisions into a deviation.
fn decide(d: &mut Deviation, entries: &[Standing]) {
    let mark = format!("{MARK}{}", d.key);
    let mut ways = ways::of(&d.rule).map_or_else(|_| Vec::new(), |w| w.ways.clone());
    ways.push(Way {
        id: RELEASED.to_owned(),
        words: String::new(),
        then: Then::GoesOn,
        row: None,
    });
    d.decided = entries
        .iter()
        .filter(|s| s.entry.says.kind == Kind::Decision && s.holds)
        .filter(|s| s.part() == Some(mark.as_str()) && s.entry.sequence > d.made_by)
        .filter_map(|s| {
            let (id, words) = s.entry.says.words.split_once(": ")?;
            let way = ways.iter().find(|w| w.id == id)?;
            Some(Decided {
                way: way.id.clone(),
                then: way.then,
                entry: s.entry.sequence,
                who: s.entry.says.who.to_string(),
                words: words.to_owned(),
            })
        })
        .collect();
    d.stand = match d.decided.last().map(|x| x.then) {
        None => Stand::Open,
        Some(Then::Discarded) => Stand::Discarded,
        Some(Then::GoesOn) => Stand::Closed,
        Some(Then::Readings) if d.mended => Stand::Closed,
        Some(Then::Ask | Then::Readings) => Stand::Held,
    };
}

/// The entry that broke a rule; none while a run that is still going can yet meet it.
fn made_by(
    plan: &Plan,
    log: &[Entry],
    entries: &[Standing],
    j: &judged::Judged,
    rule: &str,
) -> Option<i64> {
    let recipe = plan
        .scene
        .book
        .recipes
        .iter()
        .find(|(id, _)| id.as_str() == j.component)
        .map(|(_, r)| r)?;
    let step = recipe.steps.iter().find(|s| s.id == *j.step.as_str())?;
    match rule {
        "fish-core" | "cook-nonintact" => {
            let limit = step.until.map(|u| u.core.c())?;
            dipped(entries, &j.component, &j.step, limit)
                .or_else(|| over(recipe, entries, &j.component, &j.step))
        }
        "ph" => entries
            .iter()
            .filter(|s| s.entry.says.kind == Kind::Ph && s.is_of(&j.component, &j.step))
            .map(|s| s.entry.sequence)
            .max(),
        "cold-hold" => {
            let limit = j.answer.as_ref().ok()?.limit?;
            judged::temperatures(entries, &j.component, &j.step)
                .filter(|s| s.reading.and_then(celsius).is_some_and(|t| t > limit))
                .map(|s| s.entry.sequence)
                .max()
        }
        // The first entry with which the log broke it; what was read after cannot mend it.
        _ => (1..=log.len()).find_map(|n| {
            let part = &log[..n];
            let newest = part.last()?.sequence;
            let of = standing_until(log, newest);
            let history = judged::history(&of, &j.component, &j.step);
            let rule = judged::rule_of(recipe, step)?;
            (!history.channels.is_empty())
                .then(|| rule(&history, &judged::terms(plan, &history)).ok())
                .flatten()
                .filter(|j| j.verdict == Verdict::Broken)
                .map(|_| newest)
        }),
    }
}

/// The entries up to a place, as they hold now: a correction made later counts.
fn standing_until(log: &[Entry], newest: i64) -> Vec<Standing<'_>> {
    standing(log)
        .into_iter()
        .filter(|s| s.entry.sequence <= newest)
        .collect()
}

/// The newest reading below the temperature that came after one at it, by one probe: a hold that was cut off.
fn dipped(entries: &[Standing], component: &str, step: &str, limit_c: f64) -> Option<i64> {
    let mut of: Vec<(&str, i64, f64, i64)> = judged::temperatures(entries, component, step)
        .filter(|s| !s.part().is_some_and(judged::is_air))
        .filter_map(|s| {
            Some((
                s.part().unwrap_or("probe"),
                s.at().as_second(),
                s.reading.and_then(celsius)?,
                s.entry.sequence,
            ))
        })
        .collect();
    of.sort_by_key(|(probe, at, _, _)| (*probe, *at));
    of.windows(2)
        .filter(|p| p[0].0 == p[1].0 && p[0].2 >= limit_c && p[1].2 < limit_c)
        .map(|p| p[1].3)
        .max()
}

/// The entry that says the run is over: the step is done, or the next one was started.
fn over(
    recipe: &kitchen::recipe::Recipe,
    entries: &[Standing],
    component: &str,
    step: &str,
) -> Option<i64> {
    let at = recipe.steps.iter().position(|s| s.id == *step)?;
    let next: Vec<&str> = recipe
        .takers(at)
        .into_iter()
        .filter_map(|(i, _)| recipe.steps.get(i))
        .map(|s| s.id.as_str())
        .collect();
    entries
        .iter()
        .filter(|s| s.holds && s.component() == Some(component))
        .filter(|s| match s.entry.says.kind {
            Kind::Done => s.step() == Some(step),
            Kind::Started => s.step().is_some_and(|id| next.contains(&id)),
            _ => false,
        })
        .map(|s| s.entry.sequence)
        .max()
}

/// Runs that are over and of whose core nothing was written down: a missing reading is never a pass.
fn not_read(plan: &Plan, entries: &[Standing], all: &mut Vec<Deviation>) {
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
fn recipe_cold(plan: &Plan, entries: &[Standing], all: &mut Vec<Deviation>) {
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
            for s in judged::temperatures(entries, c.recipe.as_str(), step.id.as_str()) {
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
fn waits(plan: &Plan, all: &mut Vec<Deviation>) {
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
fn by_hand(plan: &Plan, entries: &[Standing], all: &mut Vec<Deviation>) {
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
fn use_by(plan: &Plan, entries: &[Standing], now: Timestamp, all: &mut Vec<Deviation>) {
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
