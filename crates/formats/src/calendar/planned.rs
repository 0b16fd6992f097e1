//! What of a plan goes into a calendar.

use jiff::civil::{Date, DateTime};
use jiff::{Span, Timestamp};
use kitchen::Id;
use plan::figures::Value;
use plan::order::OrderLine;
use plan::tasks::Kind;
use plan::timeline::Timed;
use plan::{Figures, Plan};

use super::entry::{Alarm, Entry, When};

/// The reminder of an order rings so long before its cut-off: an hour to write it and send it (house value).
const TO_ORDER_MIN: i64 = 60;

/// An hour of the plan that no calendar can hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutOfCalendar {
    /// Which.
    pub what: String,
}

/// What ends the UIDs of an event. `.invalid` is reserved for names that are no host's (RFC 2606, from memory).
pub(super) fn domain(plan: &Plan) -> String {
    format!(
        "@{}.{}.saltern.invalid",
        plan.scene.event.id, plan.scene.site.id
    )
}

/// Tasks, order cut-offs, deliveries and discard dates of a plan, in this order, each by its hour.
///
/// Nothing is written for the moments at which a lot only passes to the next step.
///
/// # Errors
/// [`OutOfCalendar`].
pub fn entries(plan: &Plan) -> Result<Vec<Entry>, OutOfCalendar> {
    let domain = domain(plan);
    let mut all = Vec::new();
    for task in &plan.timeline.tasks {
        if task.meaning.kind != Kind::Passing {
            all.push(of_task(plan, task, &domain)?);
        }
    }
    all.extend(cut_offs(plan, &domain)?);
    all.extend(deliveries(plan, &domain)?);
    all.extend(discards(plan, &domain));
    Ok(all)
}

fn moment(minute: i64) -> Result<Timestamp, OutOfCalendar> {
    minute
        .checked_mul(60)
        .and_then(|s| Timestamp::from_second(s).ok())
        .ok_or_else(|| OutOfCalendar {
            what: format!("minute {minute}"),
        })
}

fn instant(plan: &Plan, at: DateTime) -> Result<Timestamp, OutOfCalendar> {
    plan.scene
        .site
        .zone
        .to_timestamp(at)
        .map_err(|_| OutOfCalendar {
            what: at.to_string(),
        })
}

/// "Wed 2027-10-06 08:30" at the site.
fn wall(plan: &Plan, at: Timestamp) -> String {
    plan.scene
        .site
        .zone
        .to_datetime(at)
        .strftime("%a %Y-%m-%d %H:%M")
        .to_string()
}

fn component_name<'p>(plan: &'p Plan, id: &'p Id) -> &'p str {
    plan.component(id.as_str()).map_or(id.as_str(), |c| &c.name)
}

/// The latest start that leaves everything after it where the plan has it.
///
/// The plan's own `latest` looks only at what comes before; ringing at it could be after the next task was to begin.
pub(crate) fn latest_start(task: &Timed) -> i64 {
    task.latest.min(task.start.saturating_add(task.slack))
}

fn of_task(plan: &Plan, task: &Timed, domain: &str) -> Result<Entry, OutOfCalendar> {
    let m = &task.meaning;
    let (start, end) = (moment(task.start)?, moment(task.end)?);
    let latest = moment(latest_start(task))?;
    let summary = match &m.component {
        Some(id) => format!("{}: {}", component_name(plan, id), m.what),
        None => m.what.clone(),
    };
    let mut lines = Vec::new();
    if !task.people.is_empty() {
        lines.push(format!("Who: {}", task.people.join(", ")));
    }
    let machines: Vec<&str> = m
        .machines
        .iter()
        .map(|(id, _)| {
            let machine = plan.scene.site.machines.iter().find(|x| x.id == *id);
            machine.map_or(id.as_str(), |x| x.name.as_str())
        })
        .collect();
    if !machines.is_empty() {
        lines.push(format!("On: {}", machines.join(", ")));
    }
    lines.push(format!(
        "Latest start: {} (with the rest of the plan where it is, by the waits and limits; people and machines are not counted)",
        wall(plan, latest)
    ));
    lines.push(format!("Task: {}", m.id));
    Ok(Entry {
        uid: format!("task.{}{domain}", m.id),
        when: When::Span(start, end),
        summary: summary.clone(),
        description: lines.join("\n"),
        category: if m.kind == Kind::Run {
            "machine"
        } else {
            "task"
        },
        busy: !task.people.is_empty(),
        alarm: Some(Alarm {
            at: latest,
            words: format!("Latest start now: {summary}"),
        }),
    })
}

fn supplier_name<'p>(plan: &'p Plan, id: &'p Id) -> &'p str {
    let supplier = plan.scene.site.suppliers.iter().find(|s| s.id == *id);
    supplier.map_or(id.as_str(), |s| &s.name)
}

/// "40 bunches of 25 g" is the order sheet's; a calendar says how many of which item.
fn bought(line: &OrderLine) -> String {
    let amount = if line.by_weight {
        line.bought_g()
            .map(|g| format!("{} kg", plan::figures::number(g / 1000.0, 3)))
    } else {
        Some(format!(
            "{} × {}",
            plan::figures::number(line.packs, 0),
            line.word
        ))
    };
    let spec = if line.spec.is_empty() {
        line.item.as_str()
    } else {
        &line.spec
    };
    format!("{spec}: {}", amount.unwrap_or_else(|| "–".to_owned()))
}

/// Order lines by what their delivery is known by: the item where the event names a delivery for it, the supplier
/// otherwise. That name stays when the hour moves, so the entry is updated and not made anew.
fn by_delivery(plan: &Plan) -> Vec<(String, &OrderLine, Vec<&OrderLine>)> {
    let mut groups: Vec<(String, &OrderLine, Vec<&OrderLine>)> = Vec::new();
    for line in &plan.order {
        let own = plan
            .scene
            .event
            .deliveries
            .iter()
            .any(|d| d.what == line.item);
        let key = if own {
            format!("{}.{}", line.supplier, line.item)
        } else {
            line.supplier.to_string()
        };
        match groups.iter_mut().find(|(k, ..)| *k == key) {
            Some((_, _, lines)) => lines.push(line),
            None => groups.push((key, line, vec![line])),
        }
    }
    groups
}

fn cut_offs(plan: &Plan, domain: &str) -> Result<Vec<Entry>, OutOfCalendar> {
    let mut all = Vec::new();
    for (key, first, lines) in by_delivery(plan) {
        let Some(at) = first.order_by else { continue };
        let at = instant(plan, at)?;
        let name = supplier_name(plan, &first.supplier);
        let summary = format!("Order by now: {name}");
        let ring = at
            .checked_sub(Span::new().minutes(TO_ORDER_MIN))
            .unwrap_or(at);
        all.push(Entry {
            uid: format!("order.{key}{domain}"),
            when: When::Span(at, at),
            description: listed(&lines),
            category: "order",
            busy: false,
            alarm: Some(Alarm {
                at: ring,
                words: format!("{name}: order by {}", wall(plan, at)),
            }),
            summary,
        });
    }
    all.sort_by_key(at_of);
    Ok(all)
}

fn deliveries(plan: &Plan, domain: &str) -> Result<Vec<Entry>, OutOfCalendar> {
    let mut all = Vec::new();
    for (key, first, lines) in by_delivery(plan) {
        let Some(at) = first.delivery else { continue };
        let at = instant(plan, at)?;
        all.push(Entry {
            uid: format!("delivery.{key}{domain}"),
            when: When::Span(at, at),
            summary: format!("Delivery: {}", supplier_name(plan, &first.supplier)),
            description: listed(&lines),
            category: "delivery",
            busy: false,
            alarm: None,
        });
    }
    all.sort_by_key(at_of);
    Ok(all)
}

fn listed(lines: &[&OrderLine]) -> String {
    let texts: Vec<String> = lines.iter().map(|l| bought(l)).collect();
    texts.join("\n")
}

fn at_of(entry: &Entry) -> (Option<Timestamp>, String) {
    let at = match entry.when {
        When::Span(at, _) => Some(at),
        When::Day(_) => None,
    };
    (at, entry.uid.clone())
}

/// The last day a finished component keeps, where its recipe says so and the plan says when it is made.
#[must_use]
pub(crate) fn discard_day(figures: &Figures, recipe: &str) -> Option<Date> {
    let figure = figures.get(&format!("{recipe}.discard_by"))?;
    // The figure is shown as "Sat 2027-10-09".
    match &figure.value {
        Value::Word(day) => day.rsplit(' ').next()?.parse().ok(),
        _ => None,
    }
}

fn discards(plan: &Plan, domain: &str) -> Vec<Entry> {
    let mut days: Vec<(Date, Entry)> = plan
        .components
        .iter()
        .filter_map(|c| {
            let day = discard_day(&plan.figures, c.recipe.as_str())?;
            let source = plan
                .figures
                .get(&format!("{}.discard_by", c.recipe))
                .map_or("", |f| f.source.as_str());
            Some((
                day,
                Entry {
                    uid: format!("discard.{}{domain}", c.recipe),
                    when: When::Day(day),
                    summary: format!("Discard by tonight: {}", c.name),
                    description: format!("Counted by the plan, not by a label: {source}"),
                    category: "discard",
                    busy: false,
                    alarm: None,
                },
            ))
        })
        .collect();
    days.sort_by(|a, b| (a.0, &a.1.uid).cmp(&(b.0, &b.1.uid)));
    days.into_iter().map(|(_, entry)| entry).collect()
}
