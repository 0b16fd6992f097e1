//! A weight that looks like a slip is asked about before it is stored; one that is twenty times off is stopped until an
//! instructor decides.

use std::sync::Arc;

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use plan::Plan;
use plan::ask::weighing::{STOPS_AT, Slip, TOLERANCE_PCT, Weighing, slip};
use plan::figures::number;
use store::{Draft, EntryId, Kind, Name, NewEntry, Reading, Unit};

use crate::Board;
use crate::access::visitor::visitor;
use crate::address::Query;
use crate::day::facts::line;
use crate::page::{Frame, frame};
use crate::planned;
use crate::shown::Shown;
use crate::tongue::{say, say_with};
use crate::trouble::Trouble;

/// What becomes of an entry.
pub(crate) enum Held {
    /// It is not stored: this page asks first.
    Asks(Box<Response>),
    /// It is stored, after the decision that lets it through where one was needed.
    Goes {
        /// The entry.
        entry: Box<NewEntry>,
        /// The instructor's decision.
        decision: Option<Box<NewEntry>>,
    },
}

/// What was to be weighed, and how far it may be off.
struct Target {
    name: String,
    wanted: units::Mass,
    tolerance_pct: f64,
}

/// Asks about a weight that looks like a slip, or lets the entry through.
pub(crate) async fn held(
    board: &Arc<Board>,
    plan: &Shown,
    form: &Query,
    entry: NewEntry,
) -> Result<Held, Trouble> {
    let goes = |entry: NewEntry| Held::Goes {
        entry: Box::new(entry),
        decision: None,
    };
    let first = first_of(plan, entry.says());
    let (Some(of), Some(reading)) = (first, entry.says().reading) else {
        return Ok(goes(entry));
    };
    // What came off a step is held against the plan, not against what was weighed before.
    let book = planned::plan(board, plan.scene.event.id.as_str(), &[]).await?;
    let Some(target) = target(plan, &book, &of) else {
        return Ok(goes(entry));
    };
    let (keyed, unit) = keyed(reading);
    let Some(keyed) = keyed else {
        return Ok(goes(entry));
    };
    let found = slip(&Weighing {
        wanted: target.wanted,
        keyed,
        unit,
        tolerance_pct: target.tolerance_pct,
    })
    .map_err(|r| Trouble::entry(r.found, r.expected, r.do_now))?;
    let asked = form.first("asked");
    match found {
        Slip::OtherUnit { unit: other, .. } if asked.is_none() => {
            let other = Unit::named(other)
                .map(|u| Reading::new(reading.number(), u))
                .transpose()?;
            Ok(asks(plan, form, &target, reading, other))
        }
        Slip::OtherUnit { found_g, .. } | Slip::Stopped { found_g, .. }
            if far(found_g, target.wanted.g()) =>
        {
            let times = times(found_g, target.wanted.g());
            match allowed(form, entry.says(), &target, reading, times)? {
                Some(decision) => Ok(Held::Goes {
                    entry: Box::new(noted(entry, asked)?),
                    decision: Some(Box::new(decision)),
                }),
                None => Ok(stops(plan, form, &target, reading, found_g, times)),
            }
        }
        _ => Ok(goes(noted(entry, asked)?)),
    }
}

/// The entry a weight belongs to: itself, or the one it corrects; none where it is no weight.
fn first_of(plan: &Shown, says: &Draft) -> Option<Draft> {
    let mut says = says.clone();
    // Each correction points backward.
    while let Some(of) = says.kind.corrects() {
        says = plan.day.log.iter().find(|e| e.sequence == of)?.says.clone();
    }
    (says.kind == Kind::Weighed).then_some(says)
}

/// What the sheet asks for: a line of the formula by the day's plan, or what comes off the step by the book's.
fn target(day: &Plan, book: &Plan, says: &Draft) -> Option<Target> {
    let component = says.about.component.as_ref()?.as_str();
    let step = says.about.step.as_ref()?.as_str();
    if let Some(part) = &says.about.part {
        let (name, g) = line(day, component, step, part.as_str())?;
        return Some(Target {
            name: format!("{name} for {component}, {step}"),
            wanted: units::Mass::grams(g).ok().filter(|m| m.g() > 0.0)?,
            tolerance_pct: TOLERANCE_PCT,
        });
    }
    let c = book.component(component)?;
    let recipe = book.scene.book.recipes.get(&c.recipe)?;
    let at = recipe.steps.iter().position(|s| s.id == *step)?;
    let (step, flow) = (recipe.steps.get(at)?, c.flows.get(at)?);
    let y = &step.yields;
    let spread = |x: f64| 100.0 * (x / y.mean - 1.0).abs();
    Some(Target {
        name: format!("{} after {}", c.name, step.id),
        wanted: units::Mass::grams(flow.out_g)
            .ok()
            .filter(|m| m.g() > 0.0)?,
        tolerance_pct: spread(y.low)
            .max(spread(y.high))
            .clamp(TOLERANCE_PCT, MOST_PCT),
    })
}

/// The widest spread of a yield that still tells one unit from another, percent.
const MOST_PCT: f64 = 90.0;

fn keyed(reading: Reading) -> (Option<f64>, &'static str) {
    let unit = match reading.unit() {
        Unit::Gram => "g",
        Unit::Kilogram => "kg",
        Unit::Ounce => "oz",
        Unit::Pound => "lb",
        _ => return (None, ""),
    };
    (reading.number().to_string().parse().ok(), unit)
}

fn times(found_g: f64, wanted_g: f64) -> f64 {
    (found_g / wanted_g).max(wanted_g / found_g)
}

fn far(found_g: f64, wanted_g: f64) -> bool {
    times(found_g, wanted_g) >= STOPS_AT
}

/// The entry, saying that it was asked about.
fn noted(entry: NewEntry, asked: Option<&str>) -> Result<NewEntry, Trouble> {
    let Some(asked) = asked else {
        return Ok(entry);
    };
    let mut draft = entry.says().clone();
    let asked: String = asked.chars().take(200).collect();
    let and = if draft.words.trim().is_empty() {
        String::new()
    } else {
        format!("{}; ", draft.words.trim())
    };
    draft.words = format!("{and}asked: {asked}");
    Ok(draft.checked()?)
}

/// The instructor's decision, when a name of their own and a reason stand there.
fn allowed(
    form: &Query,
    says: &Draft,
    target: &Target,
    reading: Reading,
    times: f64,
) -> Result<Option<NewEntry>, Trouble> {
    // Who is signed in decides under their own name; without a sign-in somebody else than who weighed.
    let signed_in = visitor().pass().map(|p| p.name.clone());
    let by = match &signed_in {
        Some(name) => Some(name.as_str()),
        None => form.first("allowed-by"),
    };
    let (Some(by), Some(reason)) = (by, form.first("reason")) else {
        return Ok(None);
    };
    if visitor().pass().is_some() && !visitor().is_instructor() {
        return Err(Trouble::entry(
            format!(
                "a decision in the name of \"{by}\" from the session of {}",
                says.who
            ),
            "the instructor's own session",
            "have the instructor sign in and enter it; nothing was stored",
        ));
    }
    let by = Name::new(by)?;
    if signed_in.is_none() && by.as_str().to_lowercase() == says.who.as_str().to_lowercase() {
        return Err(Trouble::entry(
            format!("decided by {by}, who weighed it"),
            "the name of an instructor, another than who weighed",
            "have somebody else look at scale, unit and sheet",
        ));
    }
    let draft = Draft {
        id: EntryId::new(&format!("{}-allowed", says.id))?,
        who: by,
        kind: Kind::Decision,
        reading: None,
        words: format!(
            "let through: {reading} where {} are wanted, {} times off: {reason}",
            said(target.wanted.g()),
            number(times, 0)
        ),
        ..says.clone()
    };
    Ok(Some(draft.checked()?))
}

fn said(g: f64) -> String {
    plan::wording::grams(g, g < 10.0)
}

/// What was sent, carried on; without what the page asks for anew.
fn carried(form: &Query, without: &[&str]) -> Markup {
    html! {
        @for (name, value) in form.0.iter().filter(|(n, _)| !without.contains(&n.as_str())) {
            input type="hidden" name=(name) value=(value);
        }
    }
}

/// Which unit was it?
fn asks(
    plan: &Shown,
    form: &Query,
    target: &Target,
    reading: Reading,
    other: Option<Reading>,
) -> Held {
    let wanted = said(target.wanted.g());
    let both = other.map_or_else(|| reading.to_string(), |o| format!("{reading} or {o}"));
    let button = |r: Reading| {
        let g = crate::day::facts::grams(r).map_or_else(String::new, said);
        html! {
            form method="post" action=(format!("/event/{}/record", plan.scene.event.id)) {
                (carried(form, &["reading", "unit", "asked"]))
                input type="hidden" name="reading" value=(r);
                input type="hidden" name="asked" value=(format!("{both} where {wanted} are wanted; said {r}"));
                button type="submit" { (r) " = " (g) }
            }
        }
    };
    let page = frame(
        &Frame {
            title: &say("board-which-unit"),
            plan: Some(plan),
            here: "record",
        },
        html! {
            div class="trouble" role="alert" {
                p class="found" { (say_with("board-is-wanted", &[("found", (&reading.to_string()).into()), ("wanted", (&wanted).into()), ("what", (&target.name).into())])) }
                p { (say("board-look-at-unit")) }
            }
            div class="choose" {
                (button(reading))
                @if let Some(other) = other { (button(other)) }
            }
            p { a href=(format!("/event/{}/today", plan.scene.event.id)) { (say("board-neither")) } }
        },
    );
    Held::Asks(Box::new((StatusCode::CONFLICT, page).into_response()))
}

/// Nothing goes in until somebody else has looked.
fn stops(
    plan: &Shown,
    form: &Query,
    target: &Target,
    reading: Reading,
    found_g: f64,
    times: f64,
) -> Held {
    let wanted = target.wanted.g();
    let many = if found_g > wanted {
        say("board-too-much")
    } else {
        say("board-too-little")
    };
    let off = if times.is_finite() {
        say_with(
            "board-times-off",
            &[
                ("times", (&number(times, 0)).into()),
                ("many", (&many).into()),
            ],
        )
    } else {
        say("board-nothing-on-scale")
    };
    let page = frame(
        &Frame {
            title: &say("board-stopped"),
            plan: Some(plan),
            here: "record",
        },
        html! {
            div class="trouble" role="alert" {
                p class="found" { (say_with("board-is-wanted", &[("found", (&format!("{reading} = {}", said(found_g))).into()), ("wanted", (&said(wanted)).into()), ("what", (&off).into())])) }
                p { strong { (say("board-nothing-goes-in")) } " " (target.name) (say("board-not-stored-until")) }
                p class="small" { (say_with("board-from-times", &[("times", (&number(STOPS_AT, 0)).into())])) }
            }
            form class="fields" method="post" action=(format!("/event/{}/record", plan.scene.event.id)) {
                (carried(form, &["allowed-by", "reason"]))
                @if visitor().pass().is_none() { label { (say("board-instructor-other")) input name="allowed-by" required autocomplete="off"; } }
                label { (say("board-reason")) input name="reason" required autocomplete="off"; }
                button type="submit" { (say("board-decide-both")) }
            }
            p { a href=(format!("/event/{}/today", plan.scene.event.id)) { (say("board-weigh-again")) } }
        },
    );
    Held::Asks(Box::new((StatusCode::LOCKED, page).into_response()))
}
