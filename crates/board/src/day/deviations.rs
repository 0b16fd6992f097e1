//! What is outside its limit by the record: found by the rules or written down by somebody, open until a decision is
//! recorded, and held for as long as the way that was chosen asks for it.

use std::sync::Arc;

use jiff::Timestamp;
use plan::Plan;
use plan::figures::number;
use safety::Verdict;
use safety::ways::{self, Then, Way};
use store::{Entry, Kind};

use super::found;
use super::judged::{self, celsius};
use super::standing::{Standing, standing};

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
    /// Somebody wrote it down; what readings broke is found by itself.
    pub(crate) fn by_hand(&self) -> bool {
        self.key.starts_with("entry-")
    }

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
pub(crate) fn of(plan: &Plan, log: &[Arc<Entry>], now: Timestamp) -> Vec<Deviation> {
    let entries = standing(log);
    let mut all = Vec::new();
    for j in judged::all(plan, log) {
        if let Err(why) = &j.answer {
            // Readings that contradict each other show nothing; what they broke stays held until somebody has looked.
            let newest = judged::temperatures(&entries, &j.component, &j.step)
                .map(|s| s.entry.sequence)
                .max();
            all.push(Deviation {
                key: format!("{}.{}.not-judged", j.component, j.step),
                rule: ways::OTHER.to_owned(),
                component: Some(j.component.clone()),
                step: Some(j.step.clone()),
                name: format!("{}: {}", j.name, j.step),
                found: why.to_string(),
                limit: "readings that can be judged".to_owned(),
                margin: None,
                source: "the record".to_owned(),
                made_by: newest.unwrap_or(0),
                mended: false,
                decided: Vec::new(),
                stand: Stand::Open,
            });
        }
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
    found::not_read(plan, &entries, &mut all);
    found::recipe_cold(plan, &entries, &mut all);
    found::waits(plan, &mut all);
    found::by_hand(plan, &entries, &mut all);
    found::use_by(plan, &entries, now, &mut all);
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
    // Whoever was asked can release it; nobody else was asked.
    let mut asked = false;
    d.decided.retain(|x| {
        let counts = x.way != RELEASED || asked;
        asked = x.then == Then::Ask;
        counts
    });
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
    log: &[Arc<Entry>],
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
fn standing_until(log: &[Arc<Entry>], newest: i64) -> Vec<Standing<'_>> {
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
pub(super) fn over(
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
