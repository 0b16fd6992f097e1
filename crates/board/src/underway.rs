//! What is under way by the record: steps that were started and not done, since when, until when, and the hold of a smoke.

use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};
use kitchen::verb::Verb;
use maud::{Markup, html};
use plan::Plan;
use plan::figures::number;
use plan::tasks;
use safety::judge::{HoldClock, fish_core, hold_now};
use store::{Entry, Kind};

use crate::day::judged;
use crate::day::standing::standing;
use crate::page::event_address;
use crate::pages::verdicts;
use crate::tongue::{moment, say, say_with};

/// A step somebody began and nobody finished.
struct Begun<'a> {
    entry: &'a Entry,
    component: &'a str,
    step: &'a str,
}

/// The steps under way, of one component or of all, and the holds of those that smoke.
pub(crate) fn on(
    plan: &Plan,
    log: &[Arc<Entry>],
    now: Timestamp,
    component: Option<&str>,
) -> Markup {
    let begun: Vec<Begun> = begun(log)
        .into_iter()
        .filter(|b| component.is_none_or(|c| c == b.component))
        .collect();
    html! {
        @if !begun.is_empty() {
            h2 { (say("board-under-way")) }
            ul class="underway" { @for b in &begun { (one(plan, log, b, now)) } }
        }
    }
}

/// Started and not done after it, the same piece or load where one is named.
fn begun(log: &[Arc<Entry>]) -> Vec<Begun<'_>> {
    let mut open: Vec<Begun> = Vec::new();
    for entry in log {
        let about = &entry.says.about;
        let (Some(component), Some(step)) = (&about.component, &about.step) else {
            continue;
        };
        let (component, step) = (component.as_str(), step.as_str());
        let part = |b: &Begun| b.entry.says.about.part == about.part;
        let same = |b: &Begun| b.component == component && b.step == step;
        let holds = entry.corrected_by.is_none();
        match entry.says.kind {
            // Done without a piece ends them all.
            Kind::Done if holds => open.retain(|b| !same(b) || about.part.is_some() && !part(b)),
            Kind::Started => {
                // A second start of the same takes the place of the first, unless it was a slip of the pen.
                open.retain(|b| !holds || !same(b) || !part(b));
                open.push(Begun {
                    entry,
                    component,
                    step,
                });
            }
            _ => {}
        }
    }
    open
}

fn one(plan: &Plan, log: &[Arc<Entry>], b: &Begun, now: Timestamp) -> Markup {
    let recipe = plan
        .scene
        .book
        .recipes
        .iter()
        .find(|(id, _)| id.as_str() == b.component)
        .map(|(_, r)| r);
    let name = recipe.map_or(b.component, |r| r.name.as_str());
    let since = b.entry.says.at.instant();
    let smokes = recipe.is_some_and(|r| {
        r.steps
            .iter()
            .any(|s| s.id == *b.step && s.verb == Verb::HotSmoke && judged::is_fish(r, s))
    });
    html! {
        li {
            p class="line" {
                a href=(event_address(plan, &format!("lot/{}", b.component))) { strong { (name) } }
                ": " (b.step.replace('-', " "))
                @if let Some(part) = &b.entry.says.about.part { ", " (part) }
                " · " (b.entry.says.who)
            }
            @if let Some(by) = b.entry.corrected_by {
                p { (say_with("board-started-corrected", &[("n", (&by.to_string()).into())])) " " a href=(event_address(plan, "record")) { (say("board-the-record")) } " " (say("board-has-hour")) }
            } @else {
                p {
                    (say("board-since-inline")) " " strong { (clock(plan, since, now)) } " (" (ticking(since, now)) ")"
                    @match length(plan, b) {
                        Some(length) => {
                            @let ends = since + length;
                            " · " (say("board-ends")) " " strong { (clock(plan, ends, now)) }
                            @if ends < now { " " strong { (say("board-over-time")) } }
                            " " (say("board-by-length"))
                        }
                        None => { " · " (say("board-no-length")) }
                    }
                }
            }
            @if smokes { (hold(plan, log, b, now)) }
        }
    }
}

/// How long the plan takes for the step, from its first hand to the end of its last run.
fn length(plan: &Plan, b: &Begun) -> Option<SignedDuration> {
    let own = || {
        plan.timeline.tasks.iter().filter(|t| {
            let m = &t.meaning;
            m.kind != tasks::Kind::Passing
                && m.component
                    .as_ref()
                    .is_some_and(|c| c.as_str() == b.component)
                && m.step.as_ref().is_some_and(|s| s.as_str() == b.step)
        })
    };
    let (from, to) = (own().map(|t| t.start).min()?, own().map(|t| t.end).max()?);
    Some(SignedDuration::from_mins(to - from))
}

/// The hold of a smoke by its readings, as far as every probe was read.
fn hold(plan: &Plan, log: &[Arc<Entry>], b: &Begun, now: Timestamp) -> Markup {
    let history = judged::history(&standing(log), b.component, b.step);
    let terms = judged::terms(plan, &history);
    let hold = match hold_now(&history, &terms) {
        Ok(hold) => hold,
        // Readings that contradict each other start no clock.
        Err(why) => {
            return html! { p class="hold" { strong { (say("board-hold-not-judged")) } ": " (why) } };
        }
    };
    let minutes = |e: units::Elapsed| number((e.seconds() / 60) as f64, 0);
    let held = |t| {
        let (t, need) = (minutes(t), minutes(hold.need));
        say_with(
            "board-hold-at",
            &[("held", (&t).into()), ("need", (&need).into())],
        )
    };
    let coldest = match &hold.coldest {
        Some((probe, c)) => say_with(
            "board-coldest",
            &[("core", (&number(*c, 1)).into()), ("probe", probe.into())],
        ),
        None => say("board-no-reading-yet").to_owned(),
    };
    let read = hold.as_of_s.and_then(|s| Timestamp::from_second(s).ok());
    let unread = read
        .is_some_and(|at| now.duration_since(at) > SignedDuration::from_secs(hold.gap.seconds()));
    html! {
        p class="hold" {
            @match hold.clock {
                HoldClock::NotStarted => {
                    strong { (say("board-hold-not-started")) } ": " (coldest)
                    @if !hold.lost.is_empty() { (say("board-lost")) " " (hold.lost.join(", ")) }
                    @if hold.lost.is_empty() && hold.coldest.as_ref().is_some_and(|(_, c)| *c >= hold.at_c) {
                        (say_with("board-not-every-probe", &[("gap", (&hold.gap.to_string()).into())]))
                    } @else {
                        (say_with("board-starts-when", &[("core", (&number(hold.at_c, 0)).into())]))
                    }
                }
                HoldClock::Counting(t) if unread => {
                    strong { (say("board-hold-interrupted")) } " " (say_with("board-interrupted-at", &[("held", (&minutes(t)).into()), ("need", (&minutes(hold.need)).into()), ("gap", (&hold.gap.to_string()).into())]))
                }
                HoldClock::Counting(t) => {
                    strong { (held(t)) } ", " (coldest)
                }
                HoldClock::Held(t) => {
                    strong { (held(t)) } ", " (coldest) " · "
                    // The same word as on the record: one rule, one answer.
                    @match fish_core(&history, &terms).map(|j| judged::alone(fish_core, &history, &terms, j)) {
                        Ok(judged) => { (verdicts::word(judged.verdict)) " " a href=(event_address(plan, "record")) { (say("board-by-record")) } }
                        Err(why) => { (say("board-not-judged")) " " (why) }
                    }
                }
            }
        }
        @if let Some(at) = read {
            p class="small" {
                (say_with("board-probes-read", &[("n", hold.probes.into())])) " "
                (ticking(at, now)) " " (say_with("board-ago-at", &[("hour", (&clock(plan, at, now)).into())]))
            }
        }
    }
}

/// An hour on the clock of the kitchen, with its day when it is another.
fn clock(plan: &Plan, at: Timestamp, now: Timestamp) -> String {
    let zoned = |t: Timestamp| t.to_zoned_datetime(plan.scene.site.zone.clone());
    let form = if zoned(at).date() == zoned(now).date() {
        "%H:%M"
    } else {
        "%a %H:%M"
    };
    moment(&zoned(at), form)
}

/// Minutes since a moment; the script counts them on.
fn ticking(since: Timestamp, now: Timestamp) -> Markup {
    let minutes = now.duration_since(since).as_secs().div_euclid(60).max(0);
    html! { span class="ticks" data-since=(since) { (crate::wall::span(minutes)) } }
}
