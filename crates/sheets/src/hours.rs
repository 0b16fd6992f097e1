//! Minutes of the plan as hours and days on the wall of the site.

use jiff::civil::{Date, DateTime};
use jiff::{Timestamp, ZonedDateTime};
use kitchen::Id;
use plan::tasks::Kind;
use plan::timeline::Timed;

use crate::writer::Writer;

impl Writer<'_> {
    /// The zoned moment of a minute; `None` outside the calendar.
    pub(crate) fn zoned(&self, minute: i64) -> Option<ZonedDateTime> {
        let at = Timestamp::from_second(minute.checked_mul(60)?).ok()?;
        Some(at.to_zoned_datetime(self.plan.scene.site.zone.clone()))
    }

    pub(crate) fn date(&self, minute: i64) -> Option<Date> {
        self.zoned(minute).map(|z| z.date())
    }

    /// "18:30".
    pub(crate) fn hour(&self, minute: i64) -> String {
        self.zoned(minute)
            .map_or_else(|| self.say("not-known"), |z| self.words.hour(z.time()))
    }

    /// "Wed 6 Oct 08:30".
    pub(crate) fn moment(&self, minute: i64) -> String {
        self.zoned(minute)
            .map_or_else(|| self.say("not-known"), |z| self.at(z.datetime()))
    }

    /// A wall hour: "Wed 6 Oct 08:30".
    pub(crate) fn at(&self, at: DateTime) -> String {
        format!(
            "{} {}",
            self.words.short_day(at.date()),
            self.words.hour(at.time())
        )
    }

    /// A wall hour that may not be known.
    pub(crate) fn at_or_unknown(&self, at: Option<DateTime>) -> String {
        at.map_or_else(|| self.say("not-known"), |at| self.at(at))
    }

    /// Minutes since 1970 of a wall hour at the site.
    pub(crate) fn minute_of(&self, at: DateTime) -> Option<i64> {
        let at = self.plan.scene.site.zone.to_timestamp(at).ok()?;
        Some(at.as_second().div_euclid(60))
    }

    /// The first and last minute of a day at the site.
    pub(crate) fn day_span(&self, date: Date) -> Option<(i64, i64)> {
        let start = self.minute_of(date.to_datetime(jiff::civil::Time::midnight()))?;
        let end = self.minute_of(
            date.tomorrow()
                .ok()?
                .to_datetime(jiff::civil::Time::midnight()),
        )?;
        Some((start, end))
    }

    /// Days on which somebody has work, in order.
    pub(crate) fn work_days(&self) -> Vec<Date> {
        let mut days: Vec<Date> = self
            .plan
            .timeline
            .tasks
            .iter()
            .filter(|t| !t.people.is_empty())
            .filter_map(|t| self.date(t.start))
            .collect();
        days.sort_unstable();
        days.dedup();
        days
    }

    /// Tasks of a step of a component, by start.
    pub(crate) fn tasks_of(&self, component: &Id, step: &Id) -> Vec<&Timed> {
        self.plan
            .timeline
            .tasks
            .iter()
            .filter(|t| {
                t.meaning.component.as_ref() == Some(component)
                    && t.meaning.step.as_ref() == Some(step)
            })
            .collect()
    }

    /// When a step's hands first start, its rounds left out.
    pub(crate) fn starts(&self, component: &Id, step: &Id) -> Option<i64> {
        self.own_tasks(component, step)
            .iter()
            .map(|t| t.start)
            .min()
    }

    /// When the last of a step's own tasks ends, its rounds left out.
    pub(crate) fn ends(&self, component: &Id, step: &Id) -> Option<i64> {
        self.own_tasks(component, step).iter().map(|t| t.end).max()
    }

    fn own_tasks(&self, component: &Id, step: &Id) -> Vec<&Timed> {
        self.tasks_of(component, step)
            .into_iter()
            .filter(|t| matches!(t.meaning.kind, Kind::Hands | Kind::Run | Kind::Passing))
            .collect()
    }

    /// The first start of the step that takes from this one, with the earliest and the latest it may be.
    pub(crate) fn taken(&self, component: &Id, at: usize) -> Option<&Timed> {
        let recipe = self.plan.scene.book.recipes.get(component)?;
        let next = recipe.takers(at).first().map(|(j, _)| *j)?;
        self.own_tasks(component, &recipe.steps[next].id)
            .into_iter()
            .min_by_key(|t| t.start)
    }

    /// When the plates go out.
    pub(crate) fn serve(&self) -> Option<i64> {
        self.minute_of(self.plan.scene.event.serve)
    }
}

/// Which load of its step a task belongs to; 1 where there is one.
pub(crate) fn load(task: &Timed) -> usize {
    task.meaning
        .id
        .split('#')
        .nth(1)
        .and_then(|n| n.split('.').next())
        .and_then(|n| n.parse().ok())
        .unwrap_or(1)
}
