//! Service, plating, and the work around the cooking.

use kitchen::Id;
use kitchen::event::{EventTask, Moment, Plating};
use schedule::{Lean, Minute};

use super::hands::on_the_clock;
use super::{Builder, Kind, Meaning, end, start};
use crate::clock;
use crate::demand::plates;
use crate::labour;
use crate::problem::PlanError;

impl Builder<'_> {
    pub(super) fn serve_milestone(&mut self) -> usize {
        let mut task = self.task("serve", "Service", 0, None);
        (task.earliest, task.latest) = (self.serve, self.serve);
        task.why_earliest = format!(
            "service is {}",
            clock::wall(&self.scene.site.zone, self.serve)
        );
        self.add(
            task,
            Meaning {
                id: "serve".to_owned(),
                component: None,
                step: None,
                what: "Service".to_owned(),
                kind: Kind::Serve,
                machines: Vec::new(),
            },
        )
    }

    /// A plating task for every plated dish; its recipes end in it.
    pub(super) fn plating(&mut self, serve: usize) -> Result<Vec<(Id, usize)>, PlanError> {
        let mut made = Vec::new();
        let n = plates(self.scene.event.covers, self.scene.event.spare);
        let dishes: Vec<_> = self
            .scene
            .event
            .dishes
            .iter()
            .filter_map(|d| self.scene.book.dishes.get(d))
            .collect();
        for dish in dishes {
            let Some(Plating {
                hands,
                stands_at_most,
                ready_before,
            }) = &dish.plating
            else {
                continue;
            };
            let role = self
                .scene
                .site
                .roles
                .iter()
                .find(|r| r.id == self.scene.event.role);
            let (crew, count) = self.crew(&self.scene.event.role.clone(), hands, hands.people);
            let work = labour::minutes(hands, role, n, 0.0, 1);
            #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
            let duration = match hands.slowest {
                // A shorter line: the work of the missing stations falls to those that are there.
                Some(slowest) => (n * slowest.minutes() * f64::from(hands.people) / count as f64)
                    .ceil()
                    .max(1.0) as Minute,
                None => on_the_clock(work, count),
            };
            let id = format!("{}.plate", dish.id);
            let task = self.task(&id, &id, duration, crew);
            let at = self.add(
                task,
                Meaning {
                    id,
                    component: None,
                    step: None,
                    what: format!("Plate {}: {}", crate::figures::number(n, 0), dish.name),
                    kind: Kind::Plating,
                    machines: Vec::new(),
                },
            );
            let stands = stands_at_most.whole_minutes();
            self.link(
                start(at),
                start(serve),
                0,
                Some(stands),
                format!("a plate stands at most {stands_at_most} before service"),
            );
            self.link(
                end(at),
                start(serve),
                ready_before.whole_minutes(),
                None,
                format!("the last plate is up {ready_before} before service"),
            );
            for part in &dish.parts {
                made.push((part.recipe.clone(), at));
            }
        }
        Ok(made)
    }

    fn moment(&self, moment: Moment) -> Result<Minute, PlanError> {
        match moment {
            Moment::FromServe(minutes) => Ok(self.serve + minutes),
            Moment::At(at) => clock::minute(&self.scene.site.zone, at),
        }
    }

    pub(super) fn around(&mut self, task: &EventTask, serve: usize) -> Result<(), PlanError> {
        let role_id = task
            .role
            .clone()
            .unwrap_or_else(|| self.scene.event.role.clone());
        let role = self.scene.site.roles.iter().find(|r| r.id == role_id);
        let n = plates(self.scene.event.covers, self.scene.event.spare);
        let minutes = labour::minutes(&task.hands, role, n, 0.0, 1);
        let (crew, count) = self.crew(&role_id, &task.hands, task.hands.people);
        let duration = on_the_clock(minutes, count);
        let mut t = self.task(task.id.as_str(), task.id.as_str(), duration, crew);
        let zone = &self.scene.site.zone;
        t.earliest = self.moment(task.from)?;
        t.latest = self.moment(task.to)? - duration;
        t.why_earliest = format!("{} from {}", task.what, clock::wall(zone, t.earliest));
        t.why_latest = format!(
            "{} done by {}",
            task.what,
            clock::wall(zone, t.latest + duration)
        );
        (t.lean, t.weight) = (Lean::Early, self.scene.site.clock.around);
        let _ = serve;
        self.add(
            t,
            Meaning {
                id: task.id.to_string(),
                component: None,
                step: None,
                what: task.what.clone(),
                kind: Kind::Around,
                machines: Vec::new(),
            },
        );
        Ok(())
    }

    /// Tasks a name of the event means: all loads of a step, or one task.
    pub(super) fn named(&self, name: &str) -> Vec<usize> {
        self.tasks
            .meaning
            .iter()
            .enumerate()
            .filter(|(_, m)| m.kind != Kind::Round && m.kind != Kind::Run)
            .filter(|(_, m)| {
                m.id == name
                    || m.id
                        .strip_prefix(name)
                        .is_some_and(|rest| rest.starts_with('#'))
            })
            .map(|(i, _)| i)
            .collect()
    }

    pub(super) fn within(&mut self) -> Result<(), PlanError> {
        for w in &self.scene.event.within {
            let (from, to) = (
                clock::minute(&self.scene.site.zone, w.from)?,
                clock::minute(&self.scene.site.zone, w.to)?,
            );
            let zone = &self.scene.site.zone;
            let why = format!(
                "{} belongs between {} and {}",
                w.step,
                clock::wall(zone, from),
                clock::wall(zone, to)
            );
            for i in self.named(&w.step) {
                let task = &mut self.tasks.problem.tasks[i];
                if from > task.earliest {
                    task.earliest = from;
                    task.why_earliest = why.clone();
                }
                if to - task.duration < task.latest {
                    task.latest = to - task.duration;
                    task.why_latest = why.clone();
                }
            }
        }
        Ok(())
    }
}
