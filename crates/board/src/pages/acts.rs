//! The two taps: a button a task on Today, which opens the record already filled in; one more sends it.

use kitchen::step::Step;
use kitchen::verb::Verb;
use maud::{Markup, html};
use plan::Plan;
use plan::happened::State;
use plan::tasks::Kind;
use plan::timeline::Timed;
use plan::wording::grams;
use store::Kind as Entered;

use crate::address::encoded;
use crate::day::facts::parts;
use crate::day::standing::standing;
use crate::names;
use crate::shown::Shown;
use crate::tongue::{moment, say};
use crate::wall::hour;

/// The address of the record with what a button fills in: the kind, and name and value of fields.
type Address<'a> = dyn Fn(&str, &[(&str, &str)]) -> String + 'a;

/// The record, filled in for a step: what happened, and what else is known.
fn address(plan: &Plan, kind: &str, about: &str, with: &[(&str, &str)]) -> String {
    // A load of several is named as the part, and the step without it.
    let (about, load) = parted(about);
    let mut address = format!(
        "/event/{}/record?quick=1&kind={kind}&about={}",
        plan.scene.event.id,
        encoded(about)
    );
    if let Some(load) = load.filter(|_| !with.iter().any(|(n, _)| *n == "part")) {
        address.push_str(&format!("&part=load%20{load}"));
    }
    for (name, value) in with {
        address.push_str(&format!("&{name}={}", encoded(value)));
    }
    address
}

/// The record, filled in for the weight of a line of a formula.
pub(crate) fn weigh_line(plan: &Plan, component: &str, step: &str, item: &str) -> String {
    address(
        plan,
        "weighed",
        &format!("{component}.{step}"),
        &[("part", item), ("unit", "g")],
    )
}

/// The step of the book a task belongs to, and its name in the record.
fn step_of<'a>(plan: &'a Plan, t: &Timed) -> Option<(&'a Step, String)> {
    let component = t.meaning.component.as_ref()?;
    let id = t.meaning.step.as_ref()?;
    let recipe = plan.scene.book.recipes.get(component)?;
    let step = recipe.steps.iter().find(|s| s.id == *id)?;
    let load = t
        .meaning
        .id
        .split('.')
        .find_map(|p| p.split_once('#'))
        .map_or_else(String::new, |(_, n)| format!("#{n}"));
    Some((step, format!("{component}.{id}{load}")))
}

/// A button; what it is about is read aloud, and not printed beside it.
fn button(address: &str, word: &str, about: &str) -> Markup {
    html! { a class="act" href=(address) { (word) span class="unseen" { " " (about) } } " " }
}

/// Whether a programme starts without anybody's hands before it.
fn handless(plan: &Plan, t: &Timed) -> bool {
    let same = |o: &&Timed| {
        o.meaning.kind == Kind::Hands
            && o.meaning.component == t.meaning.component
            && o.meaning.step == t.meaning.step
    };
    t.meaning.kind == Kind::Run && !plan.timeline.tasks.iter().any(|o| same(&o))
}

/// Whether a step runs by itself after its work.
fn runs(step: &Step) -> bool {
    !step.programme.is_empty()
}

/// The buttons of a line: what starts there, or what stops.
pub(crate) fn row(plan: &Shown, t: &Timed, starts: bool) -> Markup {
    let Some((step, about)) = step_of(plan, t) else {
        return html! {};
    };
    let name = names::whole(plan, t);
    let add = |kind: &str, with: &[(&str, &str)]| address(plan, kind, &about, with);
    let recorded = |kind| {
        standing(&plan.day.log)
            .iter()
            .any(|s| s.holds && s.entry.says.kind == kind && is_of(s, &about))
    };
    html! {
        @match (t.meaning.kind, starts) {
            (Kind::Round, _) => { (button(&add("temperature", &[("unit", "°C"), ("part", "probe 1")]), &say("board-act-temperature"), &name)) },
            (Kind::Hands, true) => {
                @if step.verb == Verb::Receive && !recorded(Entered::Received) { (button(&add("received", &[]), &say("board-act-received"), &name)) }
                @if !recorded(Entered::Started) { (button(&add("started", &[]), &say("board-act-start"), &name)) }
                @if let Some(unit) = reads_temperature(step) { (button(&add("temperature", &[("unit", unit), ("part", "probe 1")]), &say("board-act-temperature"), &name)) }
            },
            (Kind::Run, true) if handless(plan, t) && !recorded(Entered::Started) => {
                (button(&add("started", &[]), &say("board-act-start"), &name))
            },
            (Kind::Hands, false) if !runs(step) => { (ends(step, &name, recorded(Entered::Done), &add)) },
            (Kind::Run, false) => { (ends(step, &name, recorded(Entered::Done), &add)) },
            _ => {},
        }
    }
}

/// The buttons where a step ends.
fn ends(step: &Step, name: &str, done: bool, add: &Address<'_>) -> Markup {
    html! {
        @if !done { (button(&add("done", &[]), &say("board-act-done"), name)) }
        @if weighs(step) { (button(&add("weighed", &[("unit", "g")]), &say("board-weigh"), name)) }
        @if step.verb == Verb::Pickle { (button(&add("ph", &[("unit", &say("board-act-ph")), ("part", "sample 1")]), &say("board-act-ph"), name)) }
    }
}

/// The buttons of what is in hand now.
pub(crate) fn running(plan: &Shown, t: &Timed) -> Markup {
    let Some((step, about)) = step_of(plan, t) else {
        return html! {};
    };
    let name = names::whole(plan, t);
    let add = |kind: &str, with: &[(&str, &str)]| address(plan, kind, &about, with);
    html! {
        p class="no-print acts" {
            @if t.meaning.kind == Kind::Hands { (row(plan, t, true)) }
            @if t.meaning.kind == Kind::Run && reads_temperature(step).is_some() {
                (button(&add("temperature", &[("unit", "°C"), ("part", "probe 1")]), &say("board-act-temperature"), &name))
            }
            (row(plan, t, false))
            @if t.meaning.kind == Kind::Run && matches!(step.verb, Verb::HotSmoke | Verb::ColdSmoke) {
                (button(&add("deviation", &[("part", "smoker-stopped"), ("words", "the smoker stopped")]), &say("board-act-stopped"), &name))
            }
        }
    }
}

/// The unit of the temperature a step asks for; none where it asks for none.
fn reads_temperature(step: &Step) -> Option<&'static str> {
    (step.until.is_some()
        || step.wait.at_most.is_some()
        || matches!(step.verb, Verb::Receive | Verb::Chill))
    .then_some("°C")
}

/// Whether what comes off a step weighs something else than what went on.
fn weighs(step: &Step) -> bool {
    step.verb == Verb::Receive || (step.yields.mean - 1.0).abs() > 1e-9
}

fn is_of(s: &crate::day::standing::Standing, about: &str) -> bool {
    let (about, load) = parted(about);
    let same_load = load.is_none_or(|n| s.part() == Some(format!("load {n}").as_str()));
    let own = (s.component(), s.step());
    same_load
        && about
            .split_once('.')
            .is_some_and(|(c, i)| own == (Some(c), Some(i)))
}

/// A step and its load: `char.smoke#2` is load 2 of `char.smoke`.
fn parted(about: &str) -> (&str, Option<&str>) {
    about
        .split_once('#')
        .map_or((about, None), |(step, load)| (step, Some(load)))
}

/// What was written down of a task.
pub(crate) fn marks(plan: &Shown, t: &Timed) -> Markup {
    let Some((_, about)) = step_of(plan, t) else {
        return html! {};
    };
    let entries = standing(&plan.day.log);
    let of = entries
        .iter()
        .filter(|s| s.holds && is_of(s, &about))
        .filter(|s| matches!(s.entry.says.kind, Entered::Started | Entered::Done));
    html! {
        @for s in of {
            span class="small" {
                (crate::entry::kind_word(s.entry.says.kind)) " "
                @if let Some(z) = s.entry.says.at.on_the_clock() { (moment(&z, "%a %H:%M")) }
                " " (s.entry.says.who) " "
            }
        }
    }
}

/// Pieces weighed one by one: the plan stands on the whole, and one tap says that these are all of it.
pub(crate) fn in_parts(plan: &Shown) -> Markup {
    let found = parts(plan, &plan.day.log);
    html! {
        @if !found.is_empty() {
            h2 { (say("board-by-piece")) }
            @for p in &found {
                @let sum = (p.together_g() * 10.0).round() / 10.0;
                p {
                    (p.component) "." (p.step) ": "
                    @for (i, (part, g)) in p.weights.iter().enumerate() { @if i > 0 { ", " } (part) " " (grams(*g, false)) }
                    (say("board-together")) " " strong { (grams(sum, false)) } (say("board-not-on-it")) " "
                    (button(
                        &address(plan, "weighed", &format!("{}.{}", p.component, p.step), &[("unit", "g"), ("reading", &sum.to_string())]),
                        &say("board-all-of-it"),
                        &p.step,
                    ))
                }
            }
        }
    }
}

/// Work that should have started by now and of which nothing is written down, once anything is.
///
/// `book` is the plan before anything happened: the day's own plan has moved such work to now.
pub(crate) fn behind(plan: &Shown, book: &Plan, now: i64) -> Markup {
    if plan.day.facts.is_empty() || plan.as_planned {
        return html! {};
    }
    let entries = standing(&plan.day.log);
    let rows: Vec<&Timed> = book
        .timeline
        .tasks
        .iter()
        .filter(|t| (t.meaning.kind == Kind::Hands || handless(book, t)) && t.start < now)
        // What must be done, since what follows it was started, is told above.
        .filter(|t| {
            let state = plan
                .happened
                .as_ref()
                .and_then(|h| h.states.get(&t.meaning.id));
            state.is_none_or(|s| *s == State::NotWrittenDown)
        })
        .filter(|t| {
            step_of(plan, t).is_some_and(|(_, about)| {
                !entries.iter().any(|s| {
                    s.holds
                        && is_of(s, &about)
                        && matches!(
                            s.entry.says.kind,
                            Entered::Started | Entered::Done | Entered::Received
                        )
                })
            })
        })
        .collect();
    let notes = plan.happened.as_ref().map_or(&[][..], |told| &told.notes);
    html! {
        @if !notes.is_empty() {
            h2 { (say("board-taken-where")) }
            ul { @for note in notes { li { (note) } } }
        }
        @if !rows.is_empty() {
            h2 { (say("board-planned-before")) }
            div class="wide" tabindex="0" { table { tbody { @for t in rows {
                tr {
                    td class="hour" { (hour(book, t.start, now)) }
                    td { (names::whole(plan, t)) @if let Some(c) = &t.meaning.component { (plan.held(c.as_str())) } }
                    td class="no-print" { (row(plan, t, true)) (row(plan, t, false)) }
                }
            } } } }
        }
    }
}
