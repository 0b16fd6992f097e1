//! Today: what must start or stop in the next three hours, who is where, what waits and until when.

use std::sync::Arc;

use axum::extract::{Path, RawQuery, State};
use jiff::civil::{Date, DateTime};
use maud::{Markup, html};
use plan::Plan;
use plan::tasks::Kind;
use plan::timeline::Timed;
use safety::Verdict;

use super::acts::{self, marks};
use super::verdicts::word;
use super::{event, limits, plan_of};
use crate::address::carried;
use crate::clock_picture;
use crate::names;
use crate::page::{Frame, changes_of, event_address, frame};
use crate::planned;
use crate::shown::Shown;
use crate::tongue::{people, say, with_weekday};
use crate::trouble::Trouble;
use crate::wall::{hour, machine, span, wall, zoned};
use crate::{Board, live, underway};

/// How far ahead one looks, minutes.
const AHEAD: i64 = 180;

/// The moment the page shows.
struct Moment {
    minute: i64,
    /// It is the clock's own now, inside the days of the plan.
    is_now: bool,
}

pub(crate) async fn page(
    State(board): State<Arc<Board>>,
    path: Path<String>,
    query: RawQuery,
) -> Result<Markup, Trouble> {
    let instant = board.clock.now();
    let now = instant.as_second().div_euclid(60);
    let since = board.live.newest();
    let asked = (State(Arc::clone(&board)), path, query);
    let (plan, query) = plan_of(&asked).await?;
    let book = planned::plan(&asked.0.0, &asked.1.0, &query.changes()).await?;
    let at = moment(&plan, query.first("at"), now)?;
    let live = live::line(&board, &plan, Some(60), since);
    let date = zoned(&plan, at.minute).map(|z| z.date());
    Ok(frame(
        &Frame {
            title: &say("board-today"),
            plan: Some(&plan),
            here: "today",
        },
        html! {
            (live)
            (days(&plan, date, &at))
            (limits::open(&plan))
            @if plan.timeline.tasks.is_empty() { (event::decide(&plan)) }
            (running(&plan, &at))
            (underway::on(&plan, &plan.day.log, instant, None))
            (coming(&plan, &at))
            (acts::behind(&plan, &book, at.minute))
            (acts::in_parts(&plan))
            @if let Some(date) = date {
                h2 { (say("board-clock-of")) " " (date.strftime(&with_weekday("%A %F", date))) }
                (clock_picture::picture(&plan, date, Some(at.minute)))
                p class="small" {
                    (say("board-clock-legend"))
                }
                (by_person(&plan, date))
            }
            (waiting(&plan, &at))
            (limits::latest(&plan))
            (outside(&plan))
        },
    ))
}

/// The moment asked for; else now; before and after the event its first working day.
fn moment(plan: &Plan, asked: Option<&str>, now: i64) -> Result<Moment, Trouble> {
    if let Some(text) = asked {
        let wrong = || {
            Trouble::entry(
                format!(
                    "at: found \"{}\"",
                    text.chars().take(40).collect::<String>()
                ),
                "a moment such as 2027-10-06T12:00",
                "choose a day above the clock",
            )
        };
        let at: DateTime = text.replace(' ', "T").parse().map_err(|_| wrong())?;
        let minute = plan
            .scene
            .site
            .zone
            .to_timestamp(at)
            .map_err(|_| wrong())?
            .as_second()
            .div_euclid(60);
        return Ok(Moment {
            minute,
            is_now: false,
        });
    }
    let first = plan.timeline.tasks.iter().map(|t| t.start).min();
    let last = plan.timeline.tasks.iter().map(|t| t.end).max();
    Ok(match (first, last) {
        (Some(first), Some(last)) if now < first - 24 * 60 || now > last + 24 * 60 => Moment {
            minute: first,
            is_now: false,
        },
        _ => Moment {
            minute: now,
            is_now: true,
        },
    })
}

/// The days something is done on.
fn days(plan: &Plan, shown: Option<Date>, at: &Moment) -> Markup {
    let mut dates: Vec<Date> = plan
        .timeline
        .tasks
        .iter()
        .filter(|t| !matches!(t.meaning.kind, Kind::Round | Kind::Passing))
        .filter_map(|t| zoned(plan, t.start).map(|z| z.date()))
        .collect();
    dates.sort_unstable();
    dates.dedup();
    let changes = carried(&changes_of(plan));
    let more = if changes.is_empty() {
        "?at=".to_owned()
    } else {
        format!("{changes}&at=")
    };
    html! {
        @if !at.is_now {
            p { (say("board-as-if")) " " strong { time datetime=(machine(plan, at.minute)) { (wall(plan, at.minute, "%A %F %H:%M")) } } (say("board-kitchen-clock")) }
        }
        nav class="pages" aria-label=(say("board-days")) {
            @for date in dates {
                @let first = clock_picture::of_day(plan, date).iter().map(|t| t.start).min();
                @if let Some(first) = first {
                    a href=(format!("/event/{}/today{more}{}", plan.scene.event.id, wall(plan, first, "%Y-%m-%dT%H:%M")))
                        aria-current=[(Some(date) == shown).then_some("date")] { (date.strftime(&with_weekday("%a %m-%d", date))) }
                }
            }
        }
    }
}

/// What is going on at this moment.
fn running(plan: &Shown, at: &Moment) -> Markup {
    let on: Vec<&Timed> = drawn(plan)
        .filter(|t| t.start <= at.minute && at.minute < t.end)
        .collect();
    html! {
        div class="now" {
            span class="label" { (say("board-at")) " " (wall(plan, at.minute, "%H:%M")) }
            @if on.is_empty() { p { (say("board-nothing-in-hand")) } }
            @for t in on {
                p class="big" { (names::whole(plan, t)) @if let Some(c) = &t.meaning.component { (plan.held(c.as_str())) } }
                p { (say("board-until")) " " strong { (hour(plan, t.end, at.minute)) } " · " (who(t)) @if !t.meaning.what.is_empty() { " · " (t.meaning.what) } }
                (marks(plan, t))
                (acts::running(plan, t))
            }
        }
    }
}

/// What must start or stop soon.
fn coming(plan: &Shown, at: &Moment) -> Markup {
    let until = at.minute + AHEAD;
    let soon = |m: i64| at.minute < m && m <= until || m == at.minute;
    let mut rows: Vec<(i64, bool, &Timed)> = Vec::new();
    for t in drawn(plan) {
        if soon(t.start) {
            rows.push((t.start, true, t));
        }
        // A round is over when it is done: only its start is of interest.
        if t.end > t.start && soon(t.end) && t.meaning.kind != Kind::Round {
            rows.push((t.end, false, t));
        }
    }
    rows.sort_by_key(|(m, starts, _)| (*m, *starts));
    html! {
        h2 { (say("board-next-hours")) }
        @if rows.is_empty() {
            @let next = drawn(plan).filter(|t| t.start > until).map(|t| t.start).min();
            p { (say("board-nothing-until")) " " (wall(plan, until, "%H:%M"))
                @if let Some(next) = next { (say("board-next-at")) " " strong { (wall(plan, next, "%a %m-%d %H:%M")) } } "." }
        } @else {
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-clock")) } td {} th { (say("board-what")) } th { (say("board-who")) } th { (say("board-latest")) } td class="no-print" {} } }
                tbody { @for (m, starts, t) in rows {
                    tr {
                        td class="hour" { time datetime=(machine(plan, m)) { (hour(plan, m, at.minute)) } }
                        td { strong { (if starts { say("board-start") } else { say("board-stop") }) } }
                        td {
                            @if let (Some(c), Some(name)) = (&t.meaning.component, names::component(plan, t)) {
                                a href=(event_address(plan, &format!("lot/{c}"))) { (name) } ": "
                            }
                            (names::step(t))
                            @if let Some(c) = &t.meaning.component { (plan.held(c.as_str())) }
                            @if starts && !t.meaning.what.is_empty() { br; span class="small" { (t.meaning.what) } }
                        }
                        td { (who(t)) }
                        td { @if starts && t.meaning.kind == Kind::Hands && t.latest > t.start { (hour(plan, t.latest, at.minute)) }
                             @else if starts && t.meaning.kind == Kind::Hands { strong { (say("board-now-or-never")) } } }
                        td class="no-print" { (marks(plan, t)) (acts::row(plan, t, starts)) }
                    }
                } }
            } }
        }
    }
}

/// Who is where on a day.
fn by_person(plan: &Plan, date: Date) -> Markup {
    let mut rows: Vec<(String, Vec<&Timed>)> = Vec::new();
    for t in clock_picture::of_day(plan, date) {
        if t.people.is_empty() {
            continue;
        }
        let names = people(&t.people);
        match rows.iter_mut().find(|(n, _)| *n == names) {
            Some((_, tasks)) => tasks.push(t),
            None => rows.push((names, vec![t])),
        }
    }
    html! {
        @if !rows.is_empty() {
            h2 { (say("board-who-where")) }
            div class="wide" tabindex="0" { table { tbody {
                @for (names, tasks) in rows {
                    tr {
                        th { (names) }
                        td { @for (i, t) in tasks.iter().enumerate() {
                            @if i > 0 { ", " }
                            span class="hour" { (wall(plan, t.start, "%H:%M")) } " " (names::whole(plan, t))
                        } }
                    }
                }
            } } }
        }
    }
}

/// What stands and until when.
fn waiting(plan: &Shown, at: &Moment) -> Markup {
    let task = |id: &str| plan.timeline.tasks.iter().find(|t| t.meaning.id == id);
    let rows: Vec<_> = plan
        .timeline
        .waits
        .iter()
        .filter_map(|w| {
            let end = task(&w.from).map(|t| t.end)?;
            let next = task(&w.to).map_or(end + w.minutes, |t| t.start);
            (end <= at.minute && at.minute < next).then_some((w, end, next))
        })
        .collect();
    html! {
        @if !rows.is_empty() {
            h2 { (say("board-standing")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-what")) } th { (say("board-since")) } th { (say("board-goes-on")) } th { (say("board-not-before")) } th { (say("board-latest")) } } }
                tbody { @for (w, end, next) in rows {
                    tr {
                        td { (w.from) " → " (w.to) @if let Some(c) = task(&w.to).and_then(|t| t.meaning.component.as_ref()) { (plan.held(c.as_str())) } }
                        td { (hour(plan, end, at.minute)) }
                        td class="hour" { (hour(plan, next, at.minute)) }
                        td { (hour(plan, end + w.min, at.minute)) }
                        td { (hour(plan, end + w.max, at.minute)) " (" (span(end + w.max - at.minute)) " " (say("board-left")) }
                    }
                } }
            } }
        }
    }
}

/// What is out of limits.
fn outside(plan: &Shown) -> Markup {
    let broken: Vec<_> = plan
        .verdicts
        .iter()
        .filter(|v| v.judgement.verdict == Verdict::Broken)
        .collect();
    html! {
        h2 { (say("board-out-of-limits")) }
        @if broken.is_empty() && plan.day.open().count() == 0 {
            p { (say("board-none-broken")) " " a href=(event_address(plan, "verdicts")) { (say("board-not-shown-yet")) } "." }
        } @else {
            @if plan.day.open().count() > 0 { p { (say("board-read-above")) } }
            ul { @for v in broken { li { (word(v.judgement.verdict)) " " (v.id) ": " (v.judgement.next) } } }
        }
    }
}

/// Tasks worth a line: not the rounds, and not what only passes.
fn drawn(plan: &Plan) -> impl Iterator<Item = &Timed> {
    plan.timeline
        .tasks
        .iter()
        .filter(|t| t.meaning.kind != Kind::Passing)
}

fn who(t: &Timed) -> String {
    match t.meaning.kind {
        Kind::Run => say("board-by-itself"),
        _ => people(&t.people),
    }
}
