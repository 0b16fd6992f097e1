//! Hours and hands: more people, longer days, another day, another hour of service.

use jiff::civil::{Date, Time};
use kitchen::site::{Hours, People};

use super::Sort;
use super::bench::Bench;
use super::wording::set;
use crate::scene::Scene;
use crate::setting::Setting;
use crate::setting::room::dated_words;

/// People added at the most.
const MOST_PEOPLE: i64 = 6;
/// Days before the service on which longer hours are tried.
const MOST_DAYS: usize = 7;
/// Hours a day is lengthened by, minutes.
const LONGER_MIN: [i64; 3] = [60, 120, 180];
/// Service is moved by this grid, minutes.
const SERVE_STEP: i64 = 5;

/// The fewest more of the largest group.
pub(super) fn people(bench: &mut Bench<'_>) {
    if !bench.plan.timeline.concerned.people || bench.scene().event.crew.is_empty() {
        return;
    }
    let settings = |n: i64| vec![set("people", &format!("+{n}"))];
    let role = bench.scene().event.role.clone();
    match bench.first_of((1..=MOST_PEOPLE).map(settings)) {
        Ok(i) => {
            let n = i as i64 + 1;
            bench.works(Sort::People, format!("{n} more {role}"), settings(n));
        }
        Err(tried) => bench.fails(Sort::People, format!("{MOST_PEOPLE} more {role}"), tried),
    }
}

/// A step the event keeps within hours of its own, on another day.
pub(super) fn other_day(bench: &mut Bench<'_>) {
    for step in bench.plan.timeline.concerned.within.clone() {
        let key = format!("within.{step}");
        let days = [
            ("+24h", "a day later"),
            ("-24h", "a day earlier"),
            ("+48h", "two days later"),
            ("-48h", "two days earlier"),
            ("+168h", "a week later"),
            ("-168h", "a week earlier"),
        ];
        let settings = |by: &str| vec![set(&key, by)];
        let what = |words: &str| format!("{step} also {words} than the event says");
        match bench.first_of(days.iter().map(|(by, _)| settings(by))) {
            Ok(i) => bench.works(Sort::OtherDay, what(days[i].1), settings(days[i].0)),
            Err(tried) => bench.fails(Sort::OtherDay, what("up to a week"), tried),
        }
    }
}

/// The nearest hour of service that gives a clock: later, else earlier, else another day.
pub(super) fn serve(bench: &mut Bench<'_>) {
    let settings = |steps: i64| vec![set("serve", &minutes(steps * SERVE_STEP))];
    let ladders: [&[i64]; 2] = [&[15, 30, 60, 120, 180, 240], &[-15, -30, -60, -120]];
    for ladder in ladders {
        let steps: Vec<i64> = ladder.iter().map(|m| m / SERVE_STEP).collect();
        if let Ok(i) = bench.first_of(steps.iter().map(|n| settings(*n))) {
            let before = if i == 0 { 0 } else { steps[i - 1] };
            let n = bench.nearest(before, steps[i], settings);
            let what = serve_words(bench.scene(), n * SERVE_STEP);
            bench.works(Sort::Serve, what, settings(n));
            return;
        }
    }
    let days = [24 * 60, 48 * 60, 7 * 24 * 60];
    let by_day = |m: i64| vec![set("serve", &minutes(m))];
    match bench.first_of(days.iter().map(|m| by_day(*m))) {
        Ok(i) => {
            let what = serve_words(bench.scene(), days[i]);
            bench.works(Sort::Serve, what, by_day(days[i]));
        }
        Err(tried) => bench.fails(
            Sort::Serve,
            "service up to 4 h later, 2 h earlier, or a day, two days or a week later".to_owned(),
            tried,
        ),
    }
}

fn minutes(by: i64) -> String {
    let sign = if by < 0 { '-' } else { '+' };
    format!("{sign}{}min", by.abs())
}

fn serve_words(scene: &Scene, by: i64) -> String {
    let now = scene.event.serve;
    let at = now
        .checked_add(jiff::SignedDuration::from_mins(by))
        .unwrap_or(now);
    format!(
        "service {} instead of {}",
        super::wording::wall(at),
        super::wording::wall(now)
    )
}

/// Dates of the event on which work can be done, the last ones first.
fn dates(scene: &Scene) -> Vec<Date> {
    let mut day = scene.event.serve.date();
    let mut all = Vec::new();
    while day >= scene.event.from.date() && all.len() < MOST_DAYS {
        all.push(day);
        let Ok(before) = day.yesterday() else { break };
        day = before;
    }
    all
}

fn on(hours: &Hours, date: Date) -> bool {
    match hours.date {
        Some(d) => d == date,
        None => hours.days.contains(&date.weekday()),
    }
}

/// The group that does the work: the largest with the event's role.
fn group(scene: &Scene) -> Option<&People> {
    scene
        .event
        .crew
        .iter()
        .chain(&scene.site.people)
        .filter(|g| g.role == scene.event.role)
        .max_by_key(|g| g.count)
}

/// Longer days: the fewest and shortest that give a clock. The house stays open as long as somebody is there.
pub(super) fn longer(bench: &mut Bench<'_>) {
    let scene = bench.scene();
    let Some(group) = group(scene) else { return };
    let dates: Vec<Date> = dates(scene)
        .into_iter()
        .filter(|d| group.shifts.iter().any(|h| on(h, *d)))
        .collect();
    let (id, count) = (group.id.clone(), group.count);
    let shifts = group.shifts.clone();
    let open: Vec<Hours> = scene
        .site
        .open
        .iter()
        .chain(&scene.event.open)
        .cloned()
        .collect();
    let one = move |date: Date, by: i64| -> Vec<Setting> {
        let ends = shifts.iter().filter(|h| on(h, date));
        let Some(end) = ends.map(|h| h.may_stay_to.unwrap_or(h.to).max(h.to)).max() else {
            return Vec::new();
        };
        let Some(to) = after(end, by) else {
            return Vec::new();
        };
        let mut all = vec![set(&format!("shift.{id}"), &dated_words(date, end, to))];
        let closes = open.iter().filter(|h| on(h, date)).map(|h| h.to).max();
        if let Some(closes) = closes.filter(|c| *c < to) {
            all.push(set("open", &dated_words(date, closes, to)));
        }
        all
    };
    let by_all = |dates: &[Date], by: i64| -> Vec<Setting> {
        dates.iter().flat_map(|d| one(*d, by)).collect()
    };
    let ladder: Vec<Vec<Setting>> = LONGER_MIN.iter().map(|by| by_all(&dates, *by)).collect();
    if ladder.iter().all(Vec::is_empty) {
        return;
    }
    match bench.first_of(ladder) {
        Ok(i) => {
            let kept = fewest(bench, &dates, |d| by_all(d, LONGER_MIN[i]));
            let settings = by_all(&kept, LONGER_MIN[i]);
            let what = format!(
                "{count} of {} {} h longer on {}",
                group_name(bench.scene()),
                LONGER_MIN[i] / 60,
                days(&kept)
            );
            bench.works(Sort::Hours, what, settings);
        }
        Err((settings, why)) => bench.fails(
            Sort::Hours,
            format!(
                "{} h longer on each day at work",
                LONGER_MIN[LONGER_MIN.len() - 1] / 60
            ),
            (settings, why),
        ),
    }
}

/// Days on which the group is not there, made days at work: the fewest that give a clock.
pub(super) fn another_day_at_work(bench: &mut Bench<'_>) {
    let scene = bench.scene();
    let Some(group) = group(scene) else { return };
    let dates: Vec<Date> = dates(scene)
        .into_iter()
        .filter(|d| !group.shifts.iter().any(|h| on(h, *d)))
        .collect();
    let id = group.id.clone();
    let open: Vec<Hours> = scene
        .site
        .open
        .iter()
        .chain(&scene.event.open)
        .cloned()
        .collect();
    let by_all = |dates: &[Date]| -> Vec<Setting> {
        dates
            .iter()
            .flat_map(|d| {
                open.iter()
                    .filter(|h| on(h, *d))
                    .map(|h| set(&format!("shift.{id}"), &dated_words(*d, h.from, h.to)))
            })
            .collect()
    };
    let all = by_all(&dates);
    if all.is_empty() {
        return;
    }
    match bench.holds(&all) {
        Ok(()) => {
            let kept = fewest(bench, &dates, by_all);
            let settings = by_all(&kept);
            let what = format!(
                "{} at work on {} too",
                group_name(bench.scene()),
                days(&kept)
            );
            bench.works(Sort::Hours, what, settings);
        }
        Err(why) => {
            let what = format!(
                "{} at work on {} too",
                group_name(bench.scene()),
                days(&dates)
            );
            bench.fails(Sort::Hours, what, (all, why));
        }
    }
}

/// Leaves out one date after another as long as there is a clock without it.
fn fewest(
    bench: &mut Bench<'_>,
    dates: &[Date],
    settings: impl Fn(&[Date]) -> Vec<Setting>,
) -> Vec<Date> {
    let mut kept = dates.to_vec();
    // The days furthest from the service are the first that may not be needed.
    for date in dates.iter().rev() {
        if kept.len() == 1 {
            break;
        }
        let rest: Vec<Date> = kept.iter().copied().filter(|d| d != date).collect();
        if bench.holds(&settings(&rest)).is_ok() {
            kept = rest;
        }
    }
    kept.sort_unstable();
    kept
}

fn group_name(scene: &Scene) -> String {
    group(scene).map_or_else(String::new, |g| g.id.to_string())
}

fn days(dates: &[Date]) -> String {
    let mut sorted = dates.to_vec();
    sorted.sort_unstable();
    let all: Vec<String> = sorted
        .iter()
        .map(|d| d.strftime("%a %m-%d").to_string())
        .collect();
    all.join(", ")
}

/// An hour so much later within the day, its last minute at most; `None` where nothing is left of the day.
fn after(end: Time, by: i64) -> Option<Time> {
    let last = Time::constant(23, 59, 0, 0);
    let to = end
        .checked_add(jiff::SignedDuration::from_mins(by))
        .unwrap_or(last);
    (to > end).then_some(to)
}
