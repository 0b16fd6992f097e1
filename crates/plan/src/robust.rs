//! How the clock stands up to work that takes shorter or longer than planned, and what threatens it most.
//!
//! Days are drawn: every piece of work takes between its low and its high, most often its usual time. A day is met when
//! every wait, hour and shift still holds though nobody re-plans ([`schedule::robustness`]); a kitchen that re-plans
//! does no worse. Waits, deliveries and yields are not drawn.

use std::collections::BTreeMap;

use kitchen::spread::Spread;
use schedule::{Minute, Robustness};
use sources::{Citation, Source};

use crate::scene::Scene;
use crate::tasks::{Kind, Tasks};
use crate::timeline::Solved;

/// Days drawn for a plan.
pub const DRAWS: usize = 1_000;
/// Their seed: the same plan always meets the same days.
pub const SEED: u64 = 1;
/// Work by hand where neither page nor site says: 15 % shorter to 30 % longer than usual.
///
/// # Source
/// Common practice, no source: a guess to be replaced by what the kitchen writes down.
pub const HANDS: (f64, f64) = (0.85, 1.30);
/// Machine programmes where neither page nor site says: 5 % shorter to 10 % longer.
///
/// # Source
/// Common practice, no source, as [`HANDS`].
pub const PROGRAMME: (f64, f64) = (0.95, 1.10);
/// Threats told.
const MOST_THREATS: usize = 5;

/// A spread in use and where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// Shortest, as a factor of the usual.
    pub low: f64,
    /// Longest.
    pub high: f64,
    /// Where it stands.
    pub source: Citation,
}

/// A task that was behind broken days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Threat {
    /// Its id.
    pub task: String,
    /// Days in which its length, other than planned, led to something being broken.
    pub days: usize,
}

/// What the drawn days say.
#[derive(Debug, Clone, PartialEq)]
pub struct Robust {
    /// Days drawn.
    pub draws: usize,
    /// Days met.
    pub met: usize,
    /// Standard error of their share.
    pub error: f64,
    /// Tasks behind the days that were not met, the worst first.
    pub threats: Vec<Threat>,
    /// Work by hand without a spread of its own.
    pub hands: Used,
    /// Programmes without a spread of their own.
    pub programme: Used,
    /// Tasks whose page gives them a spread of their own.
    pub own: usize,
    /// What robust mode did, when it was asked for.
    pub bought: Option<Bought>,
}

impl Robust {
    /// The share of days met, 0 to 1.
    #[must_use]
    #[allow(clippy::cast_precision_loss)]
    pub fn chance(&self) -> f64 {
        self.met as f64 / self.draws.max(1) as f64
    }
}

/// Time allowed beyond the usual to make a plan sturdier.
#[derive(Debug, Clone, PartialEq)]
pub struct Bought {
    /// The chance asked for.
    pub target: f64,
    /// Days met, of as many and the same, without allowances.
    pub met_before: usize,
    /// Minutes planned beyond the usual, by task.
    pub allowance: BTreeMap<String, Minute>,
    /// Person-minutes booked for that.
    pub person_minutes: Minute,
    /// Weighted minutes away from the wished hours before and after: later starts, earlier starts, overtime.
    pub value: (f64, f64),
    /// Clocks that were looked for.
    pub clocks: usize,
}

/// Draws the days of a solved clock; `None` where there is none.
pub(crate) fn robust(scene: &Scene, solved: &Solved) -> Option<(Robust, Robustness)> {
    let schedule = solved.schedule.as_ref()?;
    let (spreads, own) = spreads(scene, &solved.tasks);
    let told = schedule::robustness(&solved.tasks.problem, schedule, &spreads, DRAWS, SEED).ok()?;
    let threats = told
        .threats
        .iter()
        .take(MOST_THREATS)
        .map(|&(task, days)| Threat {
            task: solved.tasks.meaning[task].id.clone(),
            days,
        });
    let robust = Robust {
        draws: told.draws,
        met: told.met,
        error: told.error,
        threats: threats.collect(),
        hands: used(scene, scene.site.spread.hands, HANDS),
        programme: used(scene, scene.site.spread.programme, PROGRAMME),
        own,
        bought: None,
    };
    Some((robust, told))
}

fn used(scene: &Scene, site: Option<Spread>, house: (f64, f64)) -> Used {
    let (low, high, source, place): (f64, f64, &'static Source, String) = match site {
        Some(s) => (
            s.low(),
            s.high(),
            &sources::list::HOUSE,
            format!("site {}, spread", scene.site.id),
        ),
        None => (
            house.0,
            house.1,
            &sources::list::PRACTICE,
            "no page says; a guess until yours are written down".to_owned(),
        ),
    };
    Used {
        low,
        high,
        source: Citation { source, place },
    }
}

/// The least, usual and most minutes of every task that takes time and is not over.
pub(crate) fn spreads(scene: &Scene, tasks: &Tasks) -> (Vec<schedule::Spread>, usize) {
    let site = scene.site.spread;
    let house =
        |s: Option<Spread>, (low, high): (f64, f64)| s.map_or((low, high), |s| (s.low(), s.high()));
    let (hands, programme) = (house(site.hands, HANDS), house(site.programme, PROGRAMME));
    let mut all = Vec::new();
    let mut own = 0;
    for (i, (task, m)) in tasks.problem.tasks.iter().zip(&tasks.meaning).enumerate() {
        let over = tasks
            .told
            .as_ref()
            .is_some_and(|t| t.states.contains_key(&m.id));
        let usual = task.duration - scene.allowance.get(&m.id).copied().unwrap_or(0);
        if over || usual <= 0 || tasks.rests.iter().any(|(rest, _)| *rest == i) {
            continue;
        }
        let (said, default) = match m.kind {
            Kind::Run => (of_programme(scene, tasks, i, programme), programme),
            Kind::Serve | Kind::Passing => continue,
            _ => (of_hands(scene, tasks, i), hands),
        };
        own += usize::from(said.is_some());
        let (low, high) = said.unwrap_or(default);
        #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
        let times = |factor: f64| (usual as f64 * factor).round() as Minute;
        all.push(schedule::Spread {
            task: i,
            least: times(low).min(usual),
            usual,
            most: times(high).max(usual),
        });
    }
    (all, own)
}

fn of_hands(scene: &Scene, tasks: &Tasks, i: usize) -> Option<(f64, f64)> {
    let m = &tasks.meaning[i];
    let spread = match (&m.component, &m.step) {
        (Some(c), Some(s)) => {
            let recipe = scene.book.recipes.get(c)?;
            recipe.steps.iter().find(|x| x.id == *s)?.hands.spread
        }
        _ => match m.kind {
            Kind::Plating => {
                let dish = m.id.strip_suffix(".plate")?;
                let dish = scene.book.dishes.values().find(|d| d.id == *dish)?;
                dish.plating.as_ref()?.hands.spread
            }
            _ => {
                scene
                    .event
                    .tasks
                    .iter()
                    .find(|t| t.id == *m.id)?
                    .hands
                    .spread
            }
        },
    }?;
    Some((spread.low(), spread.high()))
}

/// A programme varies as its stretches do, each by its own, weighed by how long it is.
fn of_programme(scene: &Scene, tasks: &Tasks, i: usize, house: (f64, f64)) -> Option<(f64, f64)> {
    let m = &tasks.meaning[i];
    let recipe = scene.book.recipes.get(m.component.as_ref()?)?;
    let step = recipe
        .steps
        .iter()
        .find(|x| Some(&x.id) == m.step.as_ref())?;
    step.programme.iter().find(|s| s.spread.is_some())?;
    let whole: f64 = step.programme.iter().map(|s| s.time.minutes()).sum();
    let share = |side: fn(Spread) -> f64, house: f64| -> f64 {
        step.programme
            .iter()
            .map(|s| s.time.minutes() * s.spread.map_or(house, side))
            .sum::<f64>()
            / whole
    };
    (whole > 0.0).then(|| (share(Spread::low, house.0), share(Spread::high, house.1)))
}
