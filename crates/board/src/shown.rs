//! The plan as a page shows it: with what was written down, or as it was planned.

use std::ops::Deref;
use std::sync::Arc;

use maud::{Markup, html};
use plan::{Plan, Setting};

use crate::address::AS_PLANNED;
use crate::day::Day;
use crate::day::deviations::Stand;
use crate::shelf::Standing;
use crate::tongue::say;

/// A plan and the day it stands in.
#[derive(Debug)]
pub(crate) struct Shown {
    plan: Arc<Plan>,
    /// The day.
    pub(crate) day: Day,
    /// The book it was made from.
    pub(crate) standing: Arc<Standing>,
    /// What happened was left out on purpose.
    pub(crate) as_planned: bool,
}

impl Deref for Shown {
    type Target = Plan;

    fn deref(&self) -> &Plan {
        &self.plan
    }
}

impl Shown {
    /// The plan as it stands.
    pub(crate) fn of(plan: Arc<Plan>, day: Day, standing: Arc<Standing>) -> Self {
        Self {
            plan,
            day,
            standing,
            as_planned: false,
        }
    }

    /// The plan as it was planned; every address on its pages keeps to that.
    pub(crate) fn as_planned(plan: &Plan, day: Day, standing: Arc<Standing>) -> Self {
        let mut marked = plan.clone();
        marked.scene.changes.extend(Setting::read(AS_PLANNED));
        Self {
            plan: Arc::new(marked),
            day,
            standing,
            as_planned: true,
        }
    }

    /// The mark of a lot that is held or discarded, for wherever its name stands.
    pub(crate) fn held(&self, component: &str) -> Markup {
        match self.day.stand(&self.plan, component) {
            Some(Stand::Discarded) => {
                html! { " " strong class="word broken" { (say("board-discarded")) } }
            }
            Some(_) => html! { " " strong class="word broken" { (say("board-held")) } },
            None => html! {},
        }
    }
}
