//! What a way out is called, and what follows from it for quality, evidence and money the plan does not count.

use jiff::civil::DateTime;
use kitchen::Id;
use units::Money;

use super::Sort;
use crate::clock;
use crate::figures::{money, number};
use crate::scene::{Scene, SceneError};
use crate::setting::Setting;
use crate::tasks::hours;
use crate::whole::Plan;

/// A change, written as the command line reads it.
pub(super) fn set(key: &str, value: &str) -> Setting {
    Setting {
        key: key.to_owned(),
        value: value.to_owned(),
    }
}

/// "Wed 10-06 08:30".
pub(super) fn wall(at: DateTime) -> String {
    at.strftime("%a %m-%d %H:%M").to_string()
}

/// Why a change cannot be made at all.
pub(super) fn cannot(error: &SceneError) -> String {
    match error {
        SceneError::Setting(e) => format!("cannot be set: expected {}", e.expected),
        SceneError::UnknownEvent { found, .. } => format!("no event \"{found}\""),
    }
}

/// What follows from a way, each in a sentence.
pub(super) fn consequences(
    sort: Sort,
    settings: &[Setting],
    before: &Plan,
    after: &Plan,
) -> Vec<String> {
    let mut all = match sort {
        Sort::OtherMachine => other_machine(settings, before),
        Sort::Delivery => delivery(settings, after),
        Sort::Begin => vec![
            "what is made earlier stands longer: look at the waits and the date marks".to_owned(),
        ],
        Sort::People => people(after),
        Sort::Hours => longer(settings, after),
        Sort::OtherDay => vec![
            "the room, the teacher and the machines have to be free on that day: the book knows this event only"
                .to_owned(),
        ],
        Sort::Spare => vec![
            "a plate that falls or a guest more has nothing to replace it".to_owned(),
        ],
        Sort::Thickness => thickness(settings, before, after),
        Sort::Machine => machine(settings, after),
        Sort::Serve => vec![
            "the guests and the front of house have to agree; hours fixed by date do not move with it"
                .to_owned(),
        ],
        Sort::Covers => vec![format!(
            "{} a {} bought, not {}; what is ordered already stays bought",
            per_cover(after),
            after.scene.event.cover_word,
            per_cover(before)
        )],
        Sort::Ready => ready(settings, before),
    };
    for (group, _, until) in &after.timeline.stays {
        all.push(format!(
            "{group} stays until {}",
            crate::timeline::wall(&after.scene, *until)
        ));
    }
    all.extend(verdicts(before, after));
    all
}

fn per_cover(plan: &Plan) -> String {
    let sign = &plan.scene.site.currency;
    format!("{sign}{}", money(plan.cost.per_cover_bought().amount(), 2))
}

/// Rules that were judged before and are judged otherwise now.
fn verdicts(before: &Plan, after: &Plan) -> Vec<String> {
    let changed = before.verdicts.iter().filter_map(|b| {
        let same =
            |v: &&crate::verdicts::Verdict| v.id == b.id && v.judgement.asks == b.judgement.asks;
        let now = after.verdicts.iter().find(same)?.judgement.verdict;
        (now != b.judgement.verdict)
            .then(|| format!("{}: {} → {}", b.id, b.judgement.verdict.word(), now.word()))
    });
    changed.collect()
}

fn other_machine(settings: &[Setting], before: &Plan) -> Vec<String> {
    let Some(s) = settings.first() else {
        return Vec::new();
    };
    let from = s.key.strip_prefix("machine.").unwrap_or(&s.key);
    let mut all = Vec::new();
    for component in &before.components {
        let Some(recipe) = before.scene.book.recipes.get(&component.recipe) else {
            continue;
        };
        for step in &recipe.steps {
            let used = step.uses.iter().any(|u| u.machine == from);
            if let (true, Some(at_most)) = (used, step.wait.at_most) {
                all.push(format!(
                    "{}.{} stands at most {} °C there: read it with a checked thermometer before it goes in",
                    recipe.id,
                    step.id,
                    number(at_most.c(), 0)
                ));
            }
        }
    }
    all.push("raw below what is ready to eat, in trays that hold their juice".to_owned());
    all
}

fn delivery(settings: &[Setting], after: &Plan) -> Vec<String> {
    let item = settings
        .first()
        .and_then(|s| s.key.strip_prefix("delivery."));
    let line = item.and_then(|i| after.order.iter().find(|l| l.item == i));
    let by = line.and_then(|l| l.order_by);
    let ask = match by {
        Some(by) => format!("the supplier has to say yes; order by {}", wall(by)),
        None => "the supplier has to say yes".to_owned(),
    };
    vec![format!(
        "{ask}; a price for another hour is not in the book"
    )]
}

fn rate(scene: &Scene, role: &Id) -> Money {
    let role = scene.site.roles.iter().find(|r| r.id == *role);
    role.map_or(Money::ZERO, |r| r.rate)
}

fn people(after: &Plan) -> Vec<String> {
    let scene = &after.scene;
    vec![format!(
        "the plan pays minutes of work; whoever is paid for being there costs {}{} an hour each on top",
        scene.site.currency,
        money(rate(scene, &scene.event.role).amount(), 2)
    )]
}

fn longer(settings: &[Setting], after: &Plan) -> Vec<String> {
    let scene = &after.scene;
    let mut minutes = 0.0;
    let mut count = 0;
    let mut role = scene.event.role.clone();
    for s in settings {
        let Some(group) = s.key.strip_prefix("shift.") else {
            continue;
        };
        let group = scene
            .event
            .crew
            .iter()
            .chain(&scene.site.people)
            .find(|g| g.id == group);
        let hours = s.value.split_once(' ').and_then(|(_, h)| h.split_once('-'));
        let time = |t: &str| t.parse::<jiff::civil::Time>().ok();
        if let (Some(group), Some((from, to))) = (group, hours)
            && let (Some(from), Some(to)) = (time(from), time(to))
        {
            minutes += to.duration_since(from).as_secs_f64() / 60.0;
            count = group.count;
            role = group.role.clone();
        }
    }
    let all = minutes * f64::from(count) / 60.0;
    let cost = units::decimal(all)
        .ok()
        .and_then(|h| rate(scene, &role).times(h).ok());
    let cost = cost.map_or_else(String::new, |c| {
        format!(
            ": {}{} if all of them are paid for being there, which the plan does not count",
            scene.site.currency,
            money(c.amount(), 2)
        )
    });
    vec![
        format!("{} person-hours more at work{cost}", number(all, 1)),
        "they have to agree, and the house has to be open".to_owned(),
    ]
}

fn thickness(settings: &[Setting], before: &Plan, after: &Plan) -> Vec<String> {
    let mut all = Vec::new();
    for s in settings {
        let mut parts = s.key.split('.');
        let (Some(recipe), Some(step)) = (parts.next(), parts.next()) else {
            continue;
        };
        let of = |plan: &Plan| {
            let recipe = plan
                .scene
                .book
                .recipes
                .values()
                .find(|r| r.id == recipe)?
                .clone();
            let factor = crate::labour::thickness_factor(&recipe.steps);
            let step = recipe.steps.iter().find(|x| x.id == step)?.clone();
            Some((step, factor))
        };
        if let (Some((was, times)), Some((is, shorter))) = (of(before), of(after)) {
            if is.wait.by_thickness {
                #[allow(clippy::cast_possible_truncation)]
                let min = |step: &kitchen::step::Step, x: f64| {
                    (step.wait.min.minutes() * x).round() as i64
                };
                let (old, new) = (min(&was, times), min(&is, shorter));
                all.push(format!(
                    "earliest out of {recipe}.{step} moves by {}: {} instead of {}",
                    hours(old - new),
                    hours(new),
                    hours(old)
                ));
            }
            if let Some(piece) = &was.piece {
                all.push(format!(
                    "thinner pieces dry quicker and lose more: the book's yields were seen on {} mm; weigh, and write down what comes out",
                    number(piece.thickness.mm(), 0)
                ));
            }
        }
    }
    all.push(
        "the minutes of cutting are not in the plan; log the core of the thickest piece anew"
            .to_owned(),
    );
    all
}

fn machine(settings: &[Setting], after: &Plan) -> Vec<String> {
    let Some(s) = settings.first() else {
        return Vec::new();
    };
    let id = s.key.strip_prefix("machine.").unwrap_or(&s.key);
    let first = after
        .timeline
        .held
        .iter()
        .filter(|h| h.machine == id)
        .min_by_key(|h| h.from);
    let mut all = Vec::new();
    if let Some(first) = first {
        all.push(format!(
            "needed from {} ({}): without it by then this plan does not hold",
            clock::wall(&after.scene.site.zone, first.from),
            first.task
        ));
    }
    if s.value == "on" {
        all.push("what a repair or a hire costs is not in the book".to_owned());
    } else {
        all.push(
            "what hiring or borrowing it costs is not in the book; a second machine needs its own probe and its own log"
                .to_owned(),
        );
    }
    all
}

fn ready(settings: &[Setting], before: &Plan) -> Vec<String> {
    let id = settings
        .first()
        .and_then(|s| s.key.split('.').next())
        .unwrap_or("");
    let sign = &before.scene.site.currency;
    let ours = before.cost.shares.iter().find(|s| s.component == id);
    let mut all = vec![
        "no evidence of our own: ask the supplier for the label, the lot and the temperatures it had"
            .to_owned(),
        format!("{id}: its allergens are unknown here until its label is read"),
    ];
    if let Some(ours) = ours {
        all.push(format!(
            "what it costs ready is not in the book; ours is {sign}{} of food",
            money(ours.bought.amount(), 2)
        ));
    }
    all
}
