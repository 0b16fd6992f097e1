//! One day of the clock as a picture: bars for work and machines, whiskers for how far a start may move,
//! the hours the building is closed shaded. Shape tells everything; no colour does.

use jiff::civil::{Date, Time};
use maud::{Markup, html};
use plan::Plan;
use plan::tasks::Kind;
use plan::timeline::Timed;

use crate::names;
use crate::tongue::{say, say_with, with_weekday};
use crate::wall::{hour, wall};

const WIDTH: f64 = 1100.0;
const NAMES: f64 = 310.0;
const ROW: f64 = 30.0;
const TOP: f64 = 46.0;
/// Letters of a name that fit before the bars.
const LETTERS: usize = 38;

/// A stretch of minutes since 1970 and how it lies across the picture.
struct Scale {
    from: i64,
    to: i64,
}

impl Scale {
    fn x(&self, minute: i64) -> f64 {
        let clipped = minute.clamp(self.from, self.to);
        NAMES + (clipped - self.from) as f64 / (self.to - self.from) as f64 * (WIDTH - NAMES - 10.0)
    }
}

/// Tasks that are drawn on a day.
pub(crate) fn of_day(plan: &Plan, date: Date) -> Vec<&Timed> {
    let Some((from, to)) = day(plan, date) else {
        return Vec::new();
    };
    plan.timeline
        .tasks
        .iter()
        .filter(|t| !matches!(t.meaning.kind, Kind::Round | Kind::Passing))
        .filter(|t| t.start < to && (t.end > from || t.start >= from))
        .collect()
}

/// A name cut to what fits, with a mark where it was cut; the whole of it is the title.
fn short(name: &str) -> String {
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    let kept: String = name.chars().take(LETTERS - 1).collect();
    format!("{kept}…")
}

/// First and last minute of a day on the wall.
pub(crate) fn day(plan: &Plan, date: Date) -> Option<(i64, i64)> {
    let zone = &plan.scene.site.zone;
    let minute = |d: Date| {
        zone.to_timestamp(d.to_datetime(Time::midnight()))
            .ok()
            .map(|t| t.as_second().div_euclid(60))
    };
    Some((minute(date)?, minute(date.tomorrow().ok()?)?))
}

/// The picture of a day; `now` is marked when it falls into it.
pub(crate) fn picture(plan: &Plan, date: Date, now: Option<i64>) -> Markup {
    let tasks = of_day(plan, date);
    let (Some((midnight, end)), false) = (day(plan, date), tasks.is_empty()) else {
        return html! { p { (say("board-nothing-this-day")) } };
    };
    let open: Vec<(i64, i64)> = plan
        .open_hours(date)
        .into_iter()
        .map(|(a, b)| (a.max(midnight), b.min(end)))
        .filter(|(a, b)| a < b)
        .collect();
    let first = open
        .iter()
        .map(|o| o.0)
        .chain(tasks.iter().map(|t| t.start.max(midnight)))
        .min();
    let last = open
        .iter()
        .map(|o| o.1)
        .chain(tasks.iter().map(|t| t.end.min(end)))
        .max();
    let (Some(first), Some(last)) = (first, last) else {
        return html! {};
    };
    // A whole hour of the night on either side, so that the shading shows.
    let scale = Scale {
        from: (first.div_euclid(60) * 60 - 60).max(midnight),
        to: ((last + 59).div_euclid(60) * 60 + 60).min(end),
    };
    let height = TOP + ROW * tasks.len() as f64 + 8.0;
    html! {
        div class="day" tabindex="0" {
            svg viewBox=(format!("0 0 {WIDTH} {height}")) role="img" aria-label=(format!("{} {}", say("board-clock-of"), date.strftime(&with_weekday("%A %F", date)))) {
                defs {
                    pattern id="running" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                        rect width="8" height="8" fill="#fff" {}
                        rect width="3" height="8" fill="#14120f" {}
                    }
                }
                (night(&scale, &open, height))
                (hours(plan, &scale, height))
                @for (i, t) in tasks.iter().enumerate() { (row(plan, &scale, t, i, midnight)) }
                @if let Some(now) = now.filter(|n| (scale.from..=scale.to).contains(n)) {
                    line x1=(scale.x(now)) x2=(scale.x(now)) y1="14" y2=(height) stroke="#14120f" stroke-width="3" stroke-dasharray="8 5" {}
                    text x=(scale.x(now)) y="12" text-anchor="middle" font-size="14" font-weight="bold" { (say("board-now")) }
                }
            }
        }
    }
}

/// Hours the building is closed.
fn night(scale: &Scale, open: &[(i64, i64)], height: f64) -> Markup {
    let mut closed = Vec::new();
    let mut from = scale.from;
    for (a, b) in open {
        if *a > from {
            closed.push((from, *a));
        }
        from = from.max(*b);
    }
    if from < scale.to {
        closed.push((from, scale.to));
    }
    html! {
        @for (a, b) in closed {
            @let (x, w) = (scale.x(a), scale.x(b) - scale.x(a));
            rect x=(x) y=(TOP - 8.0) width=(w) height=(height - TOP + 8.0) fill="#d9d4ca" {}
            @if w > 44.0 { text x=(x + w / 2.0) y=(height - 4.0) text-anchor="middle" font-size="12" { (say("board-closed")) } }
        }
    }
}

/// Lines at the whole hours.
fn hours(plan: &Plan, scale: &Scale, height: f64) -> Markup {
    let count = (scale.to - scale.from) / 60;
    let every = if count > 15 { 2 } else { 1 };
    html! {
        @for i in 0..=count {
            @let at = scale.from + i * 60;
            @let x = scale.x(at);
            line x1=(x) x2=(x) y1=(TOP - 8.0) y2=(height) stroke="#b9b4ab" stroke-width="1" {}
            @if i % every == 0 { text x=(x) y=(TOP - 12.0) text-anchor="middle" font-size="13" { (wall(plan, at, "%H")) } }
        }
    }
}

fn row(plan: &Plan, scale: &Scale, t: &Timed, index: usize, midnight: i64) -> Markup {
    let y = TOP + ROW * index as f64;
    let middle = y + ROW / 2.0;
    let name = short(&names::whole(plan, t));
    let (x, end) = (scale.x(t.start), scale.x(t.end));
    let fill = match t.meaning.kind {
        Kind::Run => "url(#running)",
        _ => "#14120f",
    };
    let at = |minute| hour(plan, minute, midnight);
    let told = say_with(
        "board-told",
        &[
            ("name", (&names::whole(plan, t)).into()),
            ("start", (&at(t.start)).into()),
            ("end", (&at(t.end)).into()),
            ("earliest", (&at(t.earliest)).into()),
            ("latest", (&at(t.latest)).into()),
        ],
    );
    html! {
        g {
            title { (told) }
            text x=(NAMES - 10.0) y=(middle + 5.0) text-anchor="end" font-size="15" { (name) }
            @if t.latest > t.earliest && t.meaning.kind == Kind::Hands {
                @let (a, b) = (scale.x(t.earliest), scale.x(t.latest));
                line x1=(a) x2=(b) y1=(middle) y2=(middle) stroke="#14120f" stroke-width="2" {}
                // A whisker that goes on beyond the picture has no end stroke.
                @if t.earliest >= scale.from { line x1=(a) x2=(a) y1=(middle - 7.0) y2=(middle + 7.0) stroke="#14120f" stroke-width="2" {} }
                @if t.latest <= scale.to { line x1=(b) x2=(b) y1=(middle - 7.0) y2=(middle + 7.0) stroke="#14120f" stroke-width="2" {} }
            }
            @if t.meaning.kind == Kind::Serve {
                path d=(format!("M {x} {} l 9 9 l -9 9 l -9 -9 z", middle - 9.0)) fill="#14120f" {}
            } @else {
                rect x=(x) y=(y + 5.0) width=((end - x).max(3.0)) height=(ROW - 10.0) fill=(fill) stroke="#14120f" stroke-width="2" {}
            }
        }
    }
}
