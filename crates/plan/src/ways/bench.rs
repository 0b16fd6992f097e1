//! Where changes are tried: each is planned anew, counted, and kept with its answer.

use schedule::{Effort, Progress};

use super::{MOST_WAYS, Sort, Tried, Way, WaysOut};
use crate::make::{clock_alone, make};
use crate::scene::Scene;
use crate::setting::Setting;
use crate::timeline::{Status, Timeline};
use crate::whole::Plan;

/// Plans made for one clash at most ...
const MOST_PLANS: u32 = 120;
/// ... up to so many loads in the plan; with more, in proportion fewer, but not fewer than this.
const LOADS: u32 = 100;
const LEAST_PLANS: u32 = 24;
/// Steps of one trial: those of the engine's first look, so that what holds here holds with the whole effort too.
const TRIAL_STEPS: u64 = 6_000_000;

/// Said of what was left out; it does not stand among what does not help.
const NOT_TRIED: &str = "not tried: the effort for this was spent";

/// What is known of one candidate.
struct Candidate {
    sort: Sort,
    what: String,
    settings: Vec<Setting>,
    why_not: Option<String>,
}

/// The plan without a clock, and what was tried on it.
pub(super) struct Bench<'a> {
    pub(super) plan: &'a Plan,
    first: &'a Scene,
    base: Scene,
    effort: &'a Effort,
    watch: &'a mut dyn FnMut(&Progress) -> bool,
    candidates: Vec<Candidate>,
    plans: u32,
    most_plans: u32,
    /// The plans allowed are used up.
    spent: bool,
    /// The caller wants no more.
    stopped: bool,
}

impl<'a> Bench<'a> {
    pub(super) fn new(
        plan: &'a Plan,
        first: &'a Scene,
        effort: &'a Effort,
        watch: &'a mut dyn FnMut(&Progress) -> bool,
    ) -> Option<Self> {
        // The scene of a plan has computed waits filled in; changes go onto the scene as it was asked for.
        let mut base = first.clone();
        for change in plan.scene.changes.iter().skip(first.changes.len()) {
            base = base.with(change).ok()?;
        }
        base.keep.clone_from(&plan.scene.keep);
        let flows = plan.components.iter().flat_map(|c| &c.flows);
        let loads = flows.fold(0_u32, |sum, f| sum.saturating_add(f.loads));
        let fewer = MOST_PLANS * LOADS / loads.max(LOADS);
        Some(Self {
            plan,
            first,
            base,
            effort,
            watch,
            candidates: Vec::new(),
            plans: 0,
            most_plans: fewer.max(LEAST_PLANS),
            spent: false,
            stopped: false,
        })
    }

    /// The scene changes are put onto.
    pub(super) const fn scene(&self) -> &Scene {
        &self.base
    }

    fn small_effort(&self) -> Effort {
        Effort {
            steps: self.effort.steps.min(TRIAL_STEPS),
            ..*self.effort
        }
    }

    /// The clock with these changes; the error says why they cannot be made or planned.
    pub(super) fn clock(&mut self, settings: &[Setting]) -> Result<Timeline, String> {
        self.spent |= self.plans >= self.most_plans;
        if self.stopped || self.spent {
            return Err(NOT_TRIED.to_owned());
        }
        let scene = self
            .base
            .with_all(settings)
            .map_err(|e| super::wording::cannot(&e))?;
        self.plans += 1;
        let effort = self.small_effort();
        let (watch, stopped) = (&mut *self.watch, &mut self.stopped);
        let mut ask = |p: &Progress| {
            *stopped |= !watch(p);
            !*stopped
        };
        clock_alone(&scene, self.first, &effort, &mut ask).map_err(|e| e.to_string())
    }

    /// Whether there is a clock with these changes.
    pub(super) fn holds(&mut self, settings: &[Setting]) -> Result<(), String> {
        let clock = self.clock(settings)?;
        match clock.status {
            Status::Proved | Status::Feasible => Ok(()),
            Status::Impossible => Err(first_reason(&clock)),
            Status::NotFound => Err(format!(
                "no clock found, nothing proved; tightest: {}",
                first_reason(&clock)
            )),
        }
    }

    /// The first of a ladder of changes that gives a clock, by its place; else why the last one does not.
    pub(super) fn first_of(
        &mut self,
        ladder: impl IntoIterator<Item = Vec<Setting>>,
    ) -> Result<usize, (Vec<Setting>, String)> {
        let mut last = (Vec::new(), "nothing to try".to_owned());
        for (i, settings) in ladder.into_iter().enumerate() {
            match self.holds(&settings) {
                Ok(()) => return Ok(i),
                Err(why) => last = (settings, why),
            }
        }
        Err(last)
    }

    /// The change nearest to `fails` that gives a clock, between it and `holds`, in whole steps; every one returned was
    /// planned.
    pub(super) fn nearest(
        &mut self,
        fails: i64,
        holds: i64,
        settings: impl Fn(i64) -> Vec<Setting>,
    ) -> i64 {
        let (mut bad, mut good) = (fails, holds);
        while (good - bad).abs() > 1 {
            let middle = bad + (good - bad) / 2;
            if self.holds(&settings(middle)).is_ok() {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good
    }

    pub(super) fn works(&mut self, sort: Sort, what: String, settings: Vec<Setting>) {
        self.candidates.push(Candidate {
            sort,
            what,
            settings,
            why_not: None,
        });
    }

    pub(super) fn fails(&mut self, sort: Sort, what: String, tried: (Vec<Setting>, String)) {
        if tried.1 == NOT_TRIED {
            return;
        }
        self.candidates.push(Candidate {
            sort,
            what,
            settings: tried.0,
            why_not: Some(tried.1),
        });
    }

    /// The smallest changes as ways, planned whole; the others as they were tried.
    pub(super) fn told(mut self) -> WaysOut {
        let mut ways = Vec::new();
        let mut others = Vec::new();
        let mut candidates = std::mem::take(&mut self.candidates);
        candidates.sort_by_key(|c| (c.why_not.is_some(), c.sort));
        for mut c in candidates {
            if c.why_not.is_none() && ways.len() < MOST_WAYS {
                match self.whole(&c) {
                    Ok(way) => {
                        ways.push(way);
                        continue;
                    }
                    Err(why) => c.why_not = Some(why),
                }
            }
            others.push(Tried {
                what: c.what,
                settings: c.settings,
                why_not: c.why_not,
            });
        }
        others.sort_by_key(|t| t.why_not.is_some());
        WaysOut {
            ways,
            others,
            plans: self.plans,
            cut_short: self.stopped || self.spent,
        }
    }

    /// A candidate planned with the whole effort; refused where it breaks a rule the plan does not break.
    fn whole(&mut self, c: &Candidate) -> Result<Way, String> {
        let scene = self
            .base
            .with_all(&c.settings)
            .map_err(|e| super::wording::cannot(&e))?;
        self.plans += 1;
        let (watch, stopped) = (&mut *self.watch, &mut self.stopped);
        let mut ask = |p: &Progress| {
            *stopped |= !watch(p);
            !*stopped
        };
        let plan = make(&scene, self.first, self.effort, &mut ask).map_err(|e| e.to_string())?;
        if !matches!(plan.timeline.status, Status::Proved | Status::Feasible) {
            return Err(first_reason(&plan.timeline));
        }
        let broken = |plan: &Plan| -> Vec<String> {
            plan.verdicts
                .iter()
                .filter(|v| v.judgement.verdict == safety::Verdict::Broken)
                .map(|v| v.id.clone())
                .collect()
        };
        let before = broken(self.plan);
        if let Some(id) = broken(&plan).iter().find(|id| !before.contains(id)) {
            return Err(format!("the clock holds, but {id} is broken"));
        }
        Ok(Way {
            sort: c.sort,
            what: c.what.clone(),
            settings: c.settings.clone(),
            status: plan.timeline.status,
            food_by: plan.cost.food_bought - self.plan.cost.food_bought,
            labour_by: plan.cost.labour_cost - self.plan.cost.labour_cost,
            consequences: super::wording::consequences(c.sort, &c.settings, self.plan, &plan),
        })
    }
}

/// The plainest reason of a clock that does not hold.
fn first_reason(clock: &Timeline) -> String {
    clock
        .clash
        .first()
        .cloned()
        .unwrap_or_else(|| "no reason was found".to_owned())
}
