//! An event file.

use jiff::civil::DateTime;
use kitchen::Id;
use kitchen::event::{Delivery, Event, EventTask, Moment, Prefer, Presence, Within};
use kitchen::site::People;

use crate::cross::Known;
use crate::diagnostic::Code;
use crate::fields::{Fields, Span};
use crate::site::{hours, people};
use crate::values::short;

/// An event with the places its references stand at.
pub(crate) struct ReadEvent {
    pub(crate) event: Event,
    pub(crate) at: Span,
    pub(crate) serve_at: Span,
    /// Where each step named by prefer, within or tasks stands.
    pub(crate) steps: Vec<(String, Span)>,
    pub(crate) deliveries: Vec<(Id, Span)>,
    pub(crate) crew: Vec<(Id, Span)>,
}

/// Reads an event.
pub(crate) fn read(fields: &Fields<'_, '_>, known: &Known) -> Option<ReadEvent> {
    let id = fields.own_id("event");
    let name = fields.need_text("name", "its name", "give it one");
    let site = match fields.need_text("site", "the id of a site", "name the kitchen") {
        Some((text, span)) => known.site(fields, &text, &span),
        None => None,
    };
    let from = fields.date_time("from");
    let serve = fields.date_time("serve");
    for (key, what) in [
        (
            "from",
            "the date and hour before which nothing is ordered or done",
        ),
        ("serve", "the serving hour, such as \"2027-10-07T18:30\""),
    ] {
        if !fields.has(key) {
            fields.missing(key, what, "write it");
        }
    }
    let covers = fields.whole("covers", 1, 100_000, "write how many are paid for");
    if covers.is_none() && !fields.has("covers") {
        fields.missing("covers", "how many are paid for", "write it");
    }
    let cover_word = fields
        .text("cover-word")
        .map_or_else(|| "cover".to_owned(), |(t, _)| t);
    let spare = fields
        .percent("spare", 0.0, 100.0, "write the spare rate, such as \"5 %\"")
        .map_or(0.0, |p| p / 100.0);
    let dishes: Vec<Id> = fields
        .texts("dishes")
        .into_iter()
        .filter_map(|(text, span)| known.dish(fields, &text, &span))
        .collect();
    if dishes.is_empty() && !fields.has("dishes") {
        fields.missing("dishes", "a list of dishes", "say what is served");
    }
    let role = fields.other_id("role");
    if role.is_none() && !fields.has("role") {
        fields.missing("role", "the role of the people who do the work", "name it");
    }
    let target_food_cost = fields
        .percent(
            "target-food-cost",
            1.0,
            100.0,
            "write food over price, such as \"33 %\"",
        )
        .map(|p| p / 100.0);
    let budget = fields.money("budget");
    let open = fields
        .list("open", "opening hours")
        .iter()
        .filter_map(hours)
        .collect();
    let mut crew: Vec<People> = Vec::new();
    let mut crew_at = Vec::new();
    for f in fields.list("crew", "crew") {
        if let Some(group) = people(&f) {
            crew_at.push((group.role.clone(), f.at("role")));
            crew.push(group);
        }
    }
    let mut steps = Vec::new();
    let mut deliveries = Vec::new();
    let mut deliveries_at = Vec::new();
    for f in fields.list("delivery", "delivery") {
        let (what, at) = (f.other_id("what"), need_date_time(&f, "at"));
        f.close();
        if let (Some((what, span)), Some(at)) = (what, at) {
            deliveries_at.push((what.clone(), span));
            deliveries.push(Delivery { what, at });
        }
    }
    let prefers = fields
        .list("prefer", "prefer")
        .iter()
        .filter_map(|f| {
            let step = named_step(f, &mut steps);
            let at = need_date_time(f, "at");
            f.close();
            Some(Prefer {
                step: step?,
                at: at?,
            })
        })
        .collect();
    let within = fields
        .list("within", "within")
        .iter()
        .filter_map(|f| {
            let step = named_step(f, &mut steps);
            let (from, to) = (need_date_time(f, "from"), need_date_time(f, "to"));
            f.close();
            Some(Within {
                step: step?,
                from: from?,
                to: to?,
            })
        })
        .collect();
    let tasks = fields
        .list("task", "task")
        .iter()
        .filter_map(task)
        .collect();
    let presence = fields
        .list("presence", "presence")
        .iter()
        .filter_map(|f| {
            let role = f.other_id("role");
            let (from, to) = (moment(f, "from"), moment(f, "to"));
            f.close();
            Some(Presence {
                role: role?.0,
                from: from?,
                to: to?,
            })
        })
        .collect();
    fields.close();
    let (id, at) = id?;
    let (serve, serve_at) = serve?;
    Some(ReadEvent {
        event: Event {
            id,
            name: name?.0,
            site: site?,
            from: from?.0,
            serve,
            covers: covers?,
            cover_word,
            spare,
            dishes,
            role: role?.0,
            crew,
            deliveries,
            prefers,
            within,
            tasks,
            presence,
            target_food_cost,
            budget,
            open,
        },
        at,
        serve_at,
        steps,
        deliveries: deliveries_at,
        crew: crew_at,
    })
}

fn need_date_time(f: &Fields<'_, '_>, key: &'static str) -> Option<DateTime> {
    if !f.has(key) {
        f.missing(
            key,
            "a local date and hour, such as \"2027-10-05T08:30\"",
            "write it",
        );
    }
    f.date_time(key).map(|(t, _)| t)
}

fn named_step(f: &Fields<'_, '_>, steps: &mut Vec<(String, Span)>) -> Option<String> {
    let (text, span) = f.need_text(
        "step",
        "recipe.step, such as \"hot-smoked-char.rinse\"",
        "name the step",
    )?;
    steps.push((text.clone(), span));
    Some(text)
}

fn task(f: &Fields<'_, '_>) -> Option<EventTask> {
    let id = f.own_id("id");
    let what = f.need_text("what", "what is done", "say it");
    let hands = f
        .fields("hands", format!("hands of {}", f.what))
        .map_or_else(crate::step::no_hands, |h| crate::step::hands(&h));
    let role = f.other_id("role").map(|(id, _)| id);
    let (from, to) = (moment(f, "from"), moment(f, "to"));
    f.close();
    Some(EventTask {
        id: id?.0,
        what: what?.0,
        hands,
        role,
        from: from?,
        to: to?,
    })
}

/// Reads "serve -75 min", "serve +8 min" or a date and hour.
fn moment(f: &Fields<'_, '_>, key: &'static str) -> Option<Moment> {
    let expected = "\"serve -75 min\", \"serve +8 min\", or a local date and hour";
    let (text, span) = f.need_text(key, expected, "write it")?;
    let Some(rest) = text.trim().strip_prefix("serve") else {
        return f.read_date_time(key, &text, &span).map(Moment::At);
    };
    let rest = rest.trim();
    let (sign, time) = match (rest.strip_prefix('+'), rest.strip_prefix(['-', '−'])) {
        (Some(t), _) => (1, t),
        (_, Some(t)) => (-1, t),
        _ if rest.is_empty() => return Some(Moment::FromServe(0)),
        _ => (0, rest),
    };
    match units::read_elapsed(time.trim()) {
        Ok(elapsed) if sign != 0 => Some(Moment::FromServe(sign * elapsed.whole_minutes())),
        _ => {
            f.page.report(
                Code::Unreadable,
                span,
                format!("`{key}` of {} reads \"{}\"", f.what, short(&text)),
                expected,
                "write serve, a sign, and a time",
            );
            None
        }
    }
}
