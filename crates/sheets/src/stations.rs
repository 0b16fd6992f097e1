//! Who stands at which station.
//!
//! Where a dish counts a part by the pair, two learners of the event's role share a station (the last one alone when their
//! number is odd); everybody else is a station alone.

use std::collections::BTreeSet;

use kitchen::event::Per;
use plan::timeline::Timed;

use crate::writer::Writer;

/// A station: the people at it.
pub(crate) struct Station {
    pub(crate) people: Vec<String>,
}

impl Station {
    /// Whether somebody of it is at a task.
    pub(crate) fn is_at(&self, task: &Timed) -> bool {
        task.people.iter().any(|p| self.people.contains(p))
    }
}

impl Writer<'_> {
    /// Every station at which somebody has work, in the order of the book's people.
    pub(crate) fn stations(&self) -> Vec<Station> {
        let (site, event) = (&self.plan.scene.site, &self.plan.scene.event);
        let working: BTreeSet<&String> = self
            .plan
            .timeline
            .tasks
            .iter()
            .flat_map(|t| &t.people)
            .collect();
        let by_pair = event
            .dishes
            .iter()
            .filter_map(|d| self.plan.scene.book.dishes.get(d))
            .flat_map(|d| &d.parts)
            .any(|p| p.per == Per::Pair);
        let mut stations = Vec::new();
        for group in site.people.iter().chain(&event.crew) {
            let members: Vec<String> = (1..=group.count)
                .map(|n| {
                    if group.count == 1 {
                        group.id.to_string()
                    } else {
                        format!("{} {n}", group.id)
                    }
                })
                .collect();
            let at_one = if by_pair && group.role == event.role {
                2
            } else {
                1
            };
            for people in members.chunks(at_one) {
                if people.iter().any(|p| working.contains(p)) {
                    stations.push(Station {
                        people: people.to_vec(),
                    });
                }
            }
        }
        stations
    }

    /// Everybody there could be, who has no work between two minutes.
    pub(crate) fn without_work(&self, (from, to): (i64, i64)) -> Vec<String> {
        let (site, event) = (&self.plan.scene.site, &self.plan.scene.event);
        let busy: BTreeSet<&String> = self
            .plan
            .timeline
            .tasks
            .iter()
            .filter(|t| t.start < to && t.end > from)
            .flat_map(|t| &t.people)
            .collect();
        site.people
            .iter()
            .chain(&event.crew)
            .flat_map(|g| {
                (1..=g.count).map(|n| {
                    if g.count == 1 {
                        g.id.to_string()
                    } else {
                        format!("{} {n}", g.id)
                    }
                })
            })
            .filter(|p| !busy.contains(p))
            .collect()
    }
}
