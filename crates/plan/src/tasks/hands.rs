//! People and machines of a scene, and how long work takes on the clock.

use std::collections::BTreeMap;

use kitchen::Id;
use kitchen::site::People;
use schedule::{Machine, MachineKind, Minute, Person, Span};

use super::AFTER;
use crate::clock;
use crate::loads;
use crate::problem::PlanError;
use crate::scene::Scene;

pub(super) fn tag(role: &Id, skill: Option<&str>) -> String {
    skill.map_or_else(|| role.to_string(), |s| format!("{role}+{s}"))
}

/// How many people carry each role-and-skill tag.
pub(super) fn heads(scene: &Scene) -> BTreeMap<String, usize> {
    let mut head = BTreeMap::new();
    for group in scene.site.people.iter().chain(&scene.event.crew) {
        *head.entry(tag(&group.role, None)).or_insert(0) += group.count as usize;
        for skill in &group.skills {
            *head.entry(tag(&group.role, Some(skill))).or_insert(0) += group.count as usize;
        }
    }
    head
}

pub(super) fn people(scene: &Scene) -> Result<(Vec<Person>, Vec<Id>), PlanError> {
    let (site, event) = (&scene.site, &scene.event);
    let first = event.from;
    let last = event
        .serve
        .checked_add(jiff::SignedDuration::from_mins(AFTER))
        .map_err(|_| PlanError::Calendar {
            what: event.serve.to_string(),
        })?;
    let open = clock::open(site, &event.open, first, last)?;
    let mut people = Vec::new();
    let mut groups = Vec::new();
    for group in site.people.iter().chain(&event.crew) {
        let People {
            id,
            count,
            role,
            skills,
            shifts,
        } = group;
        let available = clock::meet(
            &clock::spans(&site.zone, shifts, first, last, false)?,
            &open,
        );
        let overtime = clock::meet(&clock::spans(&site.zone, shifts, first, last, true)?, &open);
        let mut tags = vec![tag(role, None)];
        tags.extend(skills.iter().map(|s| tag(role, Some(s))));
        for n in 1..=*count {
            people.push(Person {
                id: if *count == 1 {
                    id.to_string()
                } else {
                    format!("{id} {n}")
                },
                skills: tags.clone(),
                available: available.clone(),
                overtime: overtime.clone(),
            });
            groups.push(id.clone());
        }
    }
    Ok((people, groups))
}

pub(super) fn machines(scene: &Scene, from: Minute, to: Minute) -> Vec<Machine> {
    scene
        .site
        .machines
        .iter()
        .map(|m| Machine {
            id: m.name.clone(),
            capacity: loads::capacity(m),
            kind: match m.one_load {
                Some(change) => MachineKind::OneLoad {
                    change_over: change.whole_minutes(),
                },
                None => MachineKind::Shared,
            },
            unavailable: if m.off {
                vec![Span {
                    start: from - AFTER,
                    end: to + AFTER,
                }]
            } else {
                Vec::new()
            },
        })
        .collect()
}

/// Whole minutes on the clock for so many minutes of work shared by a crew.
#[allow(clippy::cast_possible_truncation)]
pub(super) fn on_the_clock(minutes: f64, people: usize) -> Minute {
    if minutes <= 0.0 {
        return 0;
    }
    #[allow(clippy::cast_precision_loss)]
    let shared = minutes / people.max(1) as f64;
    ((shared + 0.5).floor() as Minute).max(1)
}
