//! An event file.

use jiff::civil::DateTime;
use kitchen::Id;
use kitchen::event::{Delivery, Event, EventTask, Moment, Prefer, Presence, Within};
use kitchen::site::People;

use crate::diagnostic::Code;
use crate::fields::{Fields, twice};
use crate::known::Known;
use crate::page::Span;
use crate::site::{hours, people};
use crate::values::short;

/// An event with the places its references stand at.
pub(crate) struct ReadEvent {
    pub(crate) event: Event,
    /// Where its id stands.
    pub(crate) at: Span,
    pub(crate) serve_at: Span,
    pub(crate) role_at: Span,
    /// Which lists were read to the last member; of the others nothing can be said to be missing.
    pub(crate) whole: Whole,
    /// Where each step named by prefer, within or tasks stands.
    pub(crate) steps: Vec<(String, Span)>,
    /// Where each delivery says what comes.
    pub(crate) deliveries: Vec<(Id, Span)>,
    /// Where each delivery says when, in the order of the event's.
    pub(crate) deliveries_at: Vec<Span>,
    /// Where each role of the crew, the tasks and the presences stands.
    pub(crate) crew: Vec<(Id, Span)>,
}

/// Which lists of an event were read to the last member.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Whole {
    pub(crate) crew: bool,
    pub(crate) deliveries: bool,
    pub(crate) tasks: bool,
    pub(crate) dishes: bool,
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
    let dish_names = fields.texts("dishes");
    let wanted_dishes = dish_names.len();
    let dishes: Vec<Id> = dish_names
        .into_iter()
        .filter_map(|(text, span)| known.dish(fields, &text, &span))
        .collect();
    if wanted_dishes == 0 && fields.all_read("dishes", 0) {
        fields.missing("dishes", "a list of dishes", "say what is served");
    }
    let specials = crate::special::read(fields, covers);
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
    let crew_tables = fields.list("crew", "crew");
    let mut crew: Vec<People> = Vec::new();
    let mut crew_at = Vec::new();
    for f in &crew_tables {
        if let Some(group) = people(f) {
            crew_at.push((group.role.clone(), f.at("role")));
            crew.push(group);
        }
    }
    twice(&crew_tables);
    let mut steps = Vec::new();
    let mut deliveries = Vec::new();
    let mut deliveries_at = Vec::new();
    let mut delivery_hours = Vec::new();
    for f in fields.list("delivery", "a delivery") {
        let f = f.called_by("what");
        let (what, at) = (f.other_id("what"), need_date_time(&f, "at"));
        if !f.has("what") {
            f.missing("what", "the id of a supplier, or of one item", "name it");
        }
        f.close();
        if let (Some((what, span)), Some(at)) = (what, at) {
            deliveries_at.push((what.clone(), span));
            delivery_hours.push(f.at("at"));
            deliveries.push(Delivery { what, at });
        }
    }
    let prefers = fields
        .list("prefer", "a prefer")
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
        .list("within", "a within")
        .iter()
        .filter_map(|f| {
            let step = named_step(f, &mut steps);
            let (from, to) = (need_date_time(f, "from"), need_date_time(f, "to"));
            f.close();
            if from.zip(to).is_some_and(|(from, to)| from >= to) {
                f.page.report(
                    Code::Contradiction,
                    f.at("to"),
                    format!("{} ends before it starts", f.what),
                    "`from` before `to`",
                    "correct one of the two",
                );
                return None;
            }
            Some(Within {
                step: step?,
                from: from?,
                to: to?,
            })
        })
        .collect();
    let task_tables = fields.list("task", "task");
    let tasks: Vec<EventTask> = task_tables.iter().filter_map(task).collect();
    twice(&task_tables);
    let mut presence_roles = Vec::new();
    let presence = fields
        .list("presence", "a presence")
        .iter()
        .filter_map(|f| {
            let role = f.other_id("role");
            if !f.has("role") {
                f.missing("role", "the id of a role of the site", "name it");
            }
            let (from, to) = (moment(f, "from"), moment(f, "to"));
            f.close();
            presence_roles.extend(role.clone());
            Some(Presence {
                role: role?.0,
                from: from?,
                to: to?,
            })
        })
        .collect();
    let whole = Whole {
        crew: fields.all_read("crew", crew.len()),
        deliveries: fields.all_read("delivery", deliveries.len()),
        tasks: fields.all_read("task", tasks.len()),
        dishes: dishes.len() == wanted_dishes,
    };
    crew_at.extend(presence_roles);
    crew_at.extend(tasks.iter().zip(&task_tables).filter_map(|(t, f)| {
        // Only when every task was read do the tables stand beside their tasks.
        Some((t.role.clone()?, f.at("role"))).filter(|_| whole.tasks)
    }));
    fields.close();
    let (id, at) = id?;
    let (serve, serve_at) = serve?;
    let (role, role_at) = role?;
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
            specials,
            role,
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
        role_at,
        whole,
        steps,
        deliveries: deliveries_at,
        deliveries_at: delivery_hours,
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
    let f = &f.called_by("id");
    let id = f.own_id("id");
    let what = f.need_text("what", "what is done", "say it");
    let hands = f
        .fields("hands", format!("the hands of {}", f.what))
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

/// What a moment of an event looks like.
const MOMENT: &str = "\"serve -75 min\", \"serve +8 min\", or a local date and hour";

fn not_a_moment(f: &Fields<'_, '_>, key: &str, text: &str, span: Span) {
    f.page.marked(
        Code::Unreadable,
        span,
        "not a moment".to_owned(),
        (
            format!("`{key}` of {} reads \"{}\"", f.what, short(text)),
            MOMENT,
            "write serve, a sign, and a time",
        ),
    );
}

/// Reads "serve -75 min", "serve +8 min" or a date and hour.
fn moment(f: &Fields<'_, '_>, key: &'static str) -> Option<Moment> {
    let (text, span) = f.need_text(key, MOMENT, "write it")?;
    let Some(rest) = text.trim().strip_prefix("serve") else {
        if text.trim().starts_with(|c: char| c.is_ascii_digit()) {
            return f.read_date_time(key, &text, &span).map(Moment::At);
        }
        not_a_moment(f, key, &text, span);
        return None;
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
            not_a_moment(f, key, &text, span);
            None
        }
    }
}
