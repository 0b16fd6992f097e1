//! Two plans side by side: what moved, by how much, which change caused it, and what it costs.

use kitchen::Id;
use units::{Decimal, Money};

use crate::figures::{Value, number};
use crate::tasks::{Kind, hours};
use crate::timeline::Timed;
use crate::whole::Plan;

/// A task that is elsewhere, or only in one of the two.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// Its id.
    pub id: String,
    /// What it is.
    pub what: String,
    /// Start before, as the wall shows it; `None` when it is new.
    pub before: Option<String>,
    /// Start after; `None` when it is gone.
    pub after: Option<String>,
    /// Minutes later (negative: earlier).
    pub by_min: Option<i64>,
    /// How its length changed, minutes; 0 where it did not or it is only in one of the two.
    pub longer_min: i64,
    /// What moved it, from what holds it now back to a fact, an hour or the task that is in the way; empty where nothing
    /// holds it exactly where it is.
    pub because: Vec<String>,
}

/// A weight, count or price that changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// Figure id.
    pub id: String,
    /// Before, as printed.
    pub before: String,
    /// After.
    pub after: String,
}

/// An order line that costs another amount.
#[derive(Debug, Clone, PartialEq)]
pub struct MoneyMoved {
    /// What.
    pub what: String,
    /// How much more (negative: less).
    pub by: Money,
    /// Food bought per cover when this and all before it are counted.
    pub per_cover: Option<Money>,
}

/// The difference between two plans.
#[derive(Debug, Clone)]
pub struct Difference {
    /// Work that moved.
    pub moved: Vec<Moved>,
    /// Tasks where they were.
    pub stayed: usize,
    /// Weights and counts that changed.
    pub weights: Vec<Changed>,
    /// Food money, largest first.
    pub food: Vec<MoneyMoved>,
    /// Labour money.
    pub labour: Vec<MoneyMoved>,
    /// People who stay longer or shorter: group, before, after.
    pub people: Vec<(Id, Option<String>, Option<String>)>,
    /// Verdicts that changed: id, before, after.
    pub verdicts: Vec<(String, String, String)>,
}

fn is_work(t: &Timed) -> bool {
    matches!(
        t.meaning.kind,
        Kind::Hands | Kind::Plating | Kind::Relief | Kind::Around | Kind::Run | Kind::Serve
    )
}

/// What changed from one plan to another.
#[must_use]
pub fn difference(before: &Plan, after: &Plan) -> Difference {
    let (moved, stayed) = moved(before, after);
    Difference {
        moved,
        stayed,
        weights: weights(before, after),
        food: food(before, after),
        labour: labour(before, after),
        people: people(before, after),
        verdicts: verdicts(before, after),
    }
}

fn moved(before: &Plan, after: &Plan) -> (Vec<Moved>, usize) {
    let wall = |p: &Plan, m: i64| crate::timeline::wall(&p.scene, m);
    let mut list = Vec::new();
    let mut stayed = 0;
    if after.timeline.tasks.is_empty() {
        // No clock, nothing to set side by side; the reasons are told instead.
        return (list, stayed);
    }
    for t in after.timeline.tasks.iter().filter(|t| is_work(t)) {
        match before
            .timeline
            .tasks
            .iter()
            .find(|b| b.meaning.id == t.meaning.id)
        {
            Some(b) if b.start == t.start && b.end == t.end => stayed += 1,
            Some(b) => list.push(Moved {
                id: t.meaning.id.clone(),
                what: t.meaning.what.clone(),
                before: Some(wall(before, b.start)),
                after: Some(wall(after, t.start)),
                by_min: Some(t.start - b.start),
                longer_min: (t.end - t.start) - (b.end - b.start),
                because: because(before, after, t, t.start - b.start),
            }),
            None => list.push(Moved {
                id: t.meaning.id.clone(),
                what: t.meaning.what.clone(),
                before: None,
                after: Some(wall(after, t.start)),
                by_min: None,
                longer_min: 0,
                because: Vec::new(),
            }),
        }
    }
    for b in before.timeline.tasks.iter().filter(|t| is_work(t)) {
        if !after
            .timeline
            .tasks
            .iter()
            .any(|t| t.meaning.id == b.meaning.id)
        {
            list.push(Moved {
                id: b.meaning.id.clone(),
                what: b.meaning.what.clone(),
                before: Some(wall(before, b.start)),
                after: None,
                by_min: None,
                longer_min: 0,
                because: Vec::new(),
            });
        }
    }
    (list, stayed)
}

/// Links of a chain of causes told.
const MOST_LINKS: usize = 40;

/// Why a task is where it is now: back along what holds it, through tasks that moved too.
fn because(before: &Plan, after: &Plan, t: &Timed, by: i64) -> Vec<String> {
    use crate::causes::Cause;
    let mut told = Vec::new();
    let mut at = t.meaning.id.clone();
    let mut seen = vec![at.clone()];
    let has_moved = |id: &str| {
        let find = |p: &Plan| {
            p.timeline
                .tasks
                .iter()
                .find(|t| t.meaning.id == id)
                .map(|t| (t.start, t.end))
        };
        find(before) != find(after)
    };
    while let Some(held) = after.timeline.behind.get(&at) {
        let cause = if by >= 0 {
            &held.not_earlier
        } else {
            &held.not_later
        };
        match cause {
            Some(Cause::Happened(place)) => {
                told.push(happened(after, &at, place.as_deref()));
                break;
            }
            Some(Cause::Bound(why)) => {
                told.push(why.clone());
                break;
            }
            Some(Cause::By { task, why }) => {
                told.push(why.clone());
                if !has_moved(task) || seen.contains(task) || told.len() >= MOST_LINKS {
                    break;
                }
                seen.push(task.clone());
                at.clone_from(task);
            }
            None => break,
        }
    }
    told
}

/// "hot-smoked-char.cure started Tue 10-05 15:10, done 15:30 (row 3)".
fn happened(after: &Plan, id: &str, place: Option<&str>) -> String {
    let Some(t) = after.timeline.tasks.iter().find(|t| t.meaning.id == id) else {
        return id.to_owned();
    };
    let wall = |m| crate::timeline::wall(&after.scene, m);
    let state = after.happened.as_ref().and_then(|h| h.states.get(id));
    let so = match state {
        Some(crate::happened::State::UnderWay) => {
            format!(
                "{id} started {}, under way to {}",
                wall(t.start),
                wall(t.end)
            )
        }
        _ => format!("{id} started {}, done {}", wall(t.start), wall(t.end)),
    };
    match place {
        Some(place) => format!("{so} ({place})"),
        None => format!("{so} (taken, not written down)"),
    }
}

/// Per component whose last moved step is followed by one that stayed: what is left between them.
#[must_use]
pub fn slack_left(d: &Difference, after: &Plan) -> Vec<String> {
    let mut list = Vec::new();
    for c in &after.components {
        let own: Vec<&Timed> = after
            .timeline
            .tasks
            .iter()
            .filter(|t| is_work(t) && t.meaning.component.as_ref() == Some(&c.recipe))
            .collect();
        let has_moved = |t: &Timed| d.moved.iter().any(|m| m.id == t.meaning.id);
        let Some(last) = own.iter().filter(|t| has_moved(t)).max_by_key(|t| t.end) else {
            continue;
        };
        if let Some(next) = own
            .iter()
            .filter(|t| t.start >= last.end && !has_moved(t))
            .min_by_key(|t| t.start)
        {
            let wall = crate::timeline::wall(&after.scene, last.end);
            list.push(format!(
                "{} done {wall}; slack before {} still {}",
                last.meaning.id,
                next.meaning.id,
                hours(next.start - last.end)
            ));
        }
    }
    list
}

/// The word for how far something moved.
#[must_use]
pub fn shift(by_min: i64) -> String {
    match by_min {
        0 => "other length".to_owned(),
        m if m > 0 => format!("{} later", hours(m)),
        m => format!("{} earlier", hours(-m)),
    }
}

/// Endings of figures a bench or a store acts on; the rest follows from them.
const WATCHED: [&str; 10] = [
    ".pct",
    ".yield",
    "event.plates",
    ".packs",
    ".mix_g",
    ".portions_made",
    "water_phase_salt_pct",
    "nitrite_ppm",
    ".time_factor",
    ".thickness",
];

fn weights(before: &Plan, after: &Plan) -> Vec<Changed> {
    let mut list = Vec::new();
    for figure in after.figures.iter() {
        let line = after.components.iter().any(|c| {
            after.scene.book.recipes.get(&c.recipe).is_some_and(|r| {
                r.steps.iter().any(|s| {
                    s.lines.iter().any(|l| {
                        figure.id == format!("{}.{}.{}", c.recipe, s.id, l.item.id().as_str())
                    })
                })
            })
        });
        if !line && !WATCHED.iter().any(|w| figure.id.ends_with(w)) {
            continue;
        }
        if figure.id.starts_with("cost.") || figure.id.contains(".per_piece") {
            continue;
        }
        let now = figure.show();
        match before.figures.get(&figure.id) {
            Some(old) if old.show() == now => {}
            Some(old) => list.push(Changed {
                id: figure.id.clone(),
                before: old.show(),
                after: now,
            }),
            None if matches!(figure.value, Value::Number(_)) => list.push(Changed {
                id: figure.id.clone(),
                before: "–".to_owned(),
                after: now,
            }),
            None => {}
        }
    }
    list
}

fn food(before: &Plan, after: &Plan) -> Vec<MoneyMoved> {
    let cost = |p: &Plan, item: &Id| {
        p.order
            .iter()
            .find(|l| l.item == *item)
            .map_or(Money::ZERO, |l| l.cost_bought)
    };
    let mut items: Vec<Id> = before
        .order
        .iter()
        .chain(&after.order)
        .map(|l| l.item.clone())
        .collect();
    items.sort();
    items.dedup();
    let mut list: Vec<MoneyMoved> = items
        .iter()
        .map(|i| MoneyMoved {
            what: i.to_string(),
            by: cost(after, i) - cost(before, i),
            per_cover: None,
        })
        .filter(|m| !m.by.amount().is_zero())
        .collect();
    list.sort_by_key(|m| std::cmp::Reverse(m.by.amount().abs()));
    // A staircase from the old total to the new one, per cover of the new plan.
    if before.cost.covers == after.cost.covers {
        let mut total = before.cost.food_bought;
        for m in &mut list {
            total = total + m.by;
            m.per_cover = total.divided(Decimal::from(after.cost.covers.max(1))).ok();
        }
    }
    list
}

fn labour(before: &Plan, after: &Plan) -> Vec<MoneyMoved> {
    let mut list = Vec::new();
    for l in &after.cost.labour {
        let old = before
            .cost
            .labour
            .iter()
            .find(|b| b.role == l.role && b.by_presence == l.by_presence);
        let (cost, minutes) = old.map_or((Money::ZERO, 0.0), |b| (b.cost, b.minutes));
        let by = l.cost - cost;
        if !by.amount().is_zero() {
            let more = l.minutes - minutes;
            let sign = if more < 0.0 { "−" } else { "+" };
            list.push(MoneyMoved {
                what: format!(
                    "{} {sign}{} min{}",
                    l.role,
                    number(more.abs(), 1),
                    if l.by_presence { " there" } else { " of work" }
                ),
                by,
                per_cover: None,
            });
        }
    }
    list
}

fn people(before: &Plan, after: &Plan) -> Vec<(Id, Option<String>, Option<String>)> {
    let hour = |p: &Plan, m: i64| {
        crate::clock::zoned(&p.scene.site.zone, m)
            .map_or_else(|_| String::new(), |z| z.strftime("%a %H:%M").to_string())
    };
    let mut list = Vec::new();
    for (group, from, to) in &after.timeline.stays {
        let old = before
            .timeline
            .stays
            .iter()
            .find(|(g, f, _)| g == group && f == from);
        if old.map(|(_, _, t)| t) != Some(to) {
            let was = old.map_or_else(|| hour(before, *from), |(_, _, t)| hour(before, *t));
            list.push((group.clone(), Some(was), Some(hour(after, *to))));
        }
    }
    for (group, from, to) in &before.timeline.stays {
        if !after
            .timeline
            .stays
            .iter()
            .any(|(g, f, _)| g == group && f == from)
        {
            list.push((
                group.clone(),
                Some(hour(before, *to)),
                Some(hour(after, *from)),
            ));
        }
    }
    list
}

fn verdicts(before: &Plan, after: &Plan) -> Vec<(String, String, String)> {
    let mut list = Vec::new();
    for b in &before.verdicts {
        if !after.verdicts.iter().any(|v| v.id == b.id) {
            list.push((
                b.id.clone(),
                b.judgement.verdict.word().to_owned(),
                "not asked any more".to_owned(),
            ));
        }
    }
    for v in &after.verdicts {
        let say = |j: &safety::Judgement| {
            let value = j.value.map_or_else(|| "–".to_owned(), |x| number(x, 2));
            format!("{} {value} {}", j.verdict.word(), j.unit)
        };
        let now = say(&v.judgement);
        let old = before
            .verdicts
            .iter()
            .find(|b| b.id == v.id && b.judgement.asks == v.judgement.asks)
            .map(|b| say(&b.judgement));
        if old.as_ref() != Some(&now) {
            list.push((v.id.clone(), old.unwrap_or_else(|| "–".to_owned()), now));
        }
    }
    list
}

/// A re-plan: the changed scene keeps the hours of the plan it changes where it can.
#[must_use]
pub fn keeping(scene: &crate::Scene, before: &Plan) -> crate::Scene {
    let mut scene = scene.clone();
    scene.keep = Some(
        before
            .timeline
            .tasks
            .iter()
            .map(|t| (t.meaning.id.clone(), t.start))
            .collect(),
    );
    scene.kept_people = before
        .timeline
        .tasks
        .iter()
        .map(|t| (t.meaning.id.clone(), t.people.clone()))
        .collect();
    scene
}

/// The difference for programs.
#[must_use]
pub fn to_json(before: &Plan, after: &Plan, d: &Difference) -> serde_json::Value {
    use serde_json::json;
    let n = |m: Money| crate::figures::decimal_to_f64(m.amount());
    let moved_money =
        |m: &MoneyMoved| json!({ "what": m.what, "by": n(m.by), "per_cover": m.per_cover.map(n) });
    json!({
        "contract": crate::json::CONTRACT,
        "because": after.scene.changes.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "happened": after.happened.as_ref().map(|told| crate::json::happened(after, told)),
        "slack": slack_left(d, after),
        "status": { "before": before.timeline.status.word(), "after": after.timeline.status.word() },
        "moved": d.moved.iter().map(|m| json!({ "id": m.id, "what": m.what, "before": m.before, "after": m.after, "by_min": m.by_min, "longer_min": m.longer_min, "because": m.because })).collect::<Vec<_>>(),
        "stayed": d.stayed,
        "clash": after.timeline.clash,
        "weights": d.weights.iter().map(|w| json!({ "id": w.id, "before": w.before, "after": w.after })).collect::<Vec<_>>(),
        "food": d.food.iter().map(moved_money).collect::<Vec<_>>(),
        "labour": d.labour.iter().map(moved_money).collect::<Vec<_>>(),
        "food_by": n(after.cost.food_bought - before.cost.food_bought),
        "labour_by": n(after.cost.labour_cost - before.cost.labour_cost),
        "people": d.people.iter().map(|(g, b, a)| json!({ "group": g.as_str(), "before": b, "after": a })).collect::<Vec<_>>(),
        "verdicts": d.verdicts.iter().map(|(id, b, a)| json!({ "id": id, "before": b, "after": a })).collect::<Vec<_>>(),
        "choices": after.choices.iter().map(|c| json!({ "finding": c.finding, "because": c.because, "ways": c.ways })).collect::<Vec<_>>(),
    })
}
