//! What is out of limits by the record: open deviations first, then the newest reading of every probe beside its limit.

use kitchen::verb::Verb;
use maud::{Markup, html};
use plan::figures::number;
use store::Kind;

use crate::day::deviations::Stand;
use crate::day::judged::{self, celsius, is_air};
use crate::day::standing::{Standing, standing};
use crate::shown::Shown;
use crate::tongue::{moment, say, say_with};

/// Deviations that are open, and lots that are held for one.
pub(crate) fn open(plan: &Shown) -> Markup {
    let event = plan.scene.event.id.as_str();
    let shown: Vec<_> = plan
        .day
        .deviations
        .iter()
        .filter(|d| matches!(d.stand, Stand::Open | Stand::Held))
        .collect();
    html! {
        @if !shown.is_empty() {
            h2 { (say("board-open-deviations")) }
            @for d in shown {
                div class="trouble" {
                    p class="found" { (d.name) @if let Some(c) = &d.component { (plan.held(c)) } }
                    p { (d.found) }
                    p class="small" { (say("board-limit")) " " (d.limit) @if let Some(m) = &d.margin { " · " (say("board-margin")) " " (m) } }
                    @if let Some(x) = d.decided.last() {
                        p { (x.way) ": " (x.words) " (" (x.who) ") · " strong { (x.then.words()) } }
                    }
                    p class="acts" { a class="act" href=(d.address(event)) {
                        @if d.stand == Stand::Open { (say("board-decide")) } @else { (say("board-go-on")) }
                        span class="unseen" { ": " (d.name) }
                    } }
                }
            }
        }
    }
}

/// A reading beside the limit of its step.
struct Beside {
    name: String,
    said: String,
    when: String,
    who: String,
    limit: Option<(String, bool)>,
}

/// The newest reading of every probe.
pub(crate) fn latest(plan: &Shown) -> Markup {
    let entries = standing(&plan.day.log);
    let mut newest: Vec<&Standing> = Vec::new();
    for s in entries.iter().filter(|s| {
        matches!(s.entry.says.kind, Kind::Temperature | Kind::Ph) && s.reading.is_some()
    }) {
        let about = |s: &Standing| {
            let a = &s.entry.says.about;
            (
                a.component.clone(),
                a.step.clone(),
                a.part.clone(),
                s.entry.says.kind,
            )
        };
        newest.retain(|n| about(n) != about(s) || n.at() > s.at());
        if !newest.iter().any(|n| about(n) == about(s)) {
            newest.push(s);
        }
    }
    let rows: Vec<Beside> = newest.into_iter().map(|s| beside(plan, s)).collect();
    html! {
        @if !rows.is_empty() {
            h2 { (say("board-newest")) }
            div class="wide" tabindex="0" { table {
                thead { tr { th { (say("board-what")) } th class="n" { (say("board-reading")) } th { (say("board-when")) } th { (say("board-who")) } th { (say("board-limit-head")) } } }
                tbody { @for r in rows {
                    tr {
                        td { (r.name) }
                        td class="n" { (r.said) }
                        td { (r.when) }
                        td { (r.who) }
                        td { @match &r.limit {
                            Some((limit, true)) => { (limit) }
                            Some((limit, false)) => { strong class="word broken" { (say("board-outside")) } " " (limit) }
                            None => { (say("board-no-limit")) }
                        } }
                    }
                } }
            } }
            p class="small" { (say("board-one-beside-one")) }
        }
    }
}

/// The limit the record is judged by, at most.
fn judged(plan: &Shown, s: &Standing, value: f64) -> Option<(String, bool)> {
    judged::all(plan, &plan.day.log)
        .into_iter()
        .filter(|j| s.is_of(&j.component, &j.step))
        .filter_map(|j| j.answer.ok())
        // A pH beside the limit of pH, a temperature beside that of the cold.
        .find(|j| {
            j.rule
                == if s.entry.says.kind == Kind::Ph {
                    "ph"
                } else {
                    "cold-hold"
                }
        })
        .and_then(|j| Some((j.limit?, j.unit)))
        .map(|(limit, unit)| (format!("≤ {} {unit}", number(limit, 1)), value <= limit))
}

/// A limit a step is on its way to.
fn way(limit: &str, there: bool) -> String {
    if there {
        limit.to_owned()
    } else {
        say_with("board-way-not-there", &[("limit", limit.into())])
    }
}

fn beside(plan: &Shown, s: &Standing) -> Beside {
    let component = s.component().and_then(|c| plan.component(c));
    let recipe = component.and_then(|c| plan.scene.book.recipes.get(&c.recipe));
    let step = recipe.and_then(|r| r.steps.iter().find(|x| Some(x.id.as_str()) == s.step()));
    let part = s.part().unwrap_or("probe");
    let limit = match (s.entry.says.kind, s.reading.and_then(celsius), step) {
        (Kind::Temperature, Some(t), Some(step)) if !is_air(part) => {
            match (step.until, step.wait.at_most) {
                // On its way up or down it is not there yet, which is no reading outside a limit.
                (Some(until), _) => Some((
                    way(
                        &say_with(
                            "board-core-limit",
                            &[("core", (&number(until.core.c(), 1)).into())],
                        ),
                        t >= until.core.c(),
                    ),
                    true,
                )),
                (None, Some(most)) if step.verb == Verb::Chill => Some((
                    way(&format!("≤ {} °C", number(most.c(), 1)), t <= most.c()),
                    true,
                )),
                // At the door the place's own limit holds, and not that of the wait after it.
                (None, Some(most)) if step.verb != Verb::Receive => {
                    Some((format!("≤ {} °C", number(most.c(), 1)), t <= most.c()))
                }
                _ => judged(plan, s, t),
            }
        }
        (Kind::Ph, _, _) => s
            .reading
            .and_then(|r| r.number().to_string().parse().ok())
            .and_then(|ph| judged(plan, s, ph)),
        _ => None,
    };
    Beside {
        name: format!(
            "{}: {}, {part}",
            component.map_or_else(|| say("board-the-event"), |c| c.name.clone()),
            s.step().unwrap_or("")
        ),
        said: s.reading.map_or_else(String::new, |r| r.to_string()),
        when: s
            .entry
            .says
            .at
            .on_the_clock()
            .map_or_else(String::new, |z| moment(&z, "%a %H:%M")),
        who: s.entry.says.who.to_string(),
        limit,
    }
}
