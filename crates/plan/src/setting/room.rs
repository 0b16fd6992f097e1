//! Changes that give the clock room: a machine that holds more or stands in for another, hours of one date, another day
//! for a step, a component that comes ready.

use jiff::civil::{Date, Time};
use kitchen::site::{CapacityUnit, Hours, Machine};
use kitchen::step::{FeedFrom, LineItem};

use super::{Setting, SettingError, hour, moment, shifted, signed_minutes, unknown, wrong};
use crate::scene::Scene;

/// The furthest the first hour of an event may lie before its service, days.
const LONGEST: i32 = 366;

/// Keys of groups and windows of a scene.
pub(super) fn keys(scene: &Scene) -> Vec<String> {
    let groups = scene.event.crew.iter().chain(&scene.site.people);
    let mut keys: Vec<String> = groups.map(|g| format!("shift.{}", g.id)).collect();
    let within = scene.event.within.iter();
    keys.extend(within.map(|w| format!("within.{}", w.step)));
    keys
}

/// `machine.ID=16 kg`, or `machine.ID=OTHER`: what goes to it goes to the other one.
pub(super) fn machine(scene: &mut Scene, s: &Setting, id: &str) -> Result<(), SettingError> {
    let machines = &scene.site.machines;
    let Some(unit) = machines.iter().find(|m| m.id == id).map(|m| m.unit) else {
        return Err(unknown(scene, s));
    };
    let other = machines.iter().find(|m| m.id == s.value.as_str());
    if let Some(other) = other.map(|m| (m.id.clone(), m.unit)) {
        if other.0 == id || other.1 != unit {
            return Err(wrong(
                s,
                &format!("another machine than {id}, that counts in the same unit"),
                "name one that takes the same load",
            ));
        }
        for step in scene.book.recipes.values_mut().flat_map(|r| &mut r.steps) {
            for used in step.uses.iter_mut().filter(|u| u.machine == id) {
                used.machine = other.0.clone();
            }
        }
        return Ok(());
    }
    let capacity = match unit {
        CapacityUnit::Kilograms => units::read_mass(&s.value).ok().map(units::Mass::kg),
        CapacityUnit::Places => s
            .value
            .split_whitespace()
            .next()
            .and_then(|n| n.parse::<f64>().ok()),
    };
    let capacity = capacity.filter(|n| n.is_finite() && *n > 0.0 && *n <= 1e6);
    let capacity = capacity.ok_or_else(|| {
        wrong(
            s,
            match unit {
                CapacityUnit::Kilograms => {
                    "off, on, another capacity such as \"16 kg\", or the id of the machine its work goes to"
                }
                CapacityUnit::Places => {
                    "off, on, another capacity such as \"8 slots\", or the id of the machine its work goes to"
                }
            },
            "write one of them",
        )
    })?;
    for machine in scene.site.machines.iter_mut().filter(|m| m.id == id) {
        machine.capacity = capacity;
    }
    Ok(())
}

/// A capacity as [`machine`] reads it.
pub(crate) fn capacity_words(machine: &Machine, capacity: f64) -> String {
    let places = u32::from(capacity.fract().abs() > 1e-9);
    let n = crate::figures::number(capacity, places).replace(',', "");
    match machine.unit {
        CapacityUnit::Kilograms => format!("{n} kg"),
        CapacityUnit::Places => format!("{n} places"),
    }
}

/// `from=-24h` or an hour: work may begin so much earlier.
pub(super) fn from(scene: &mut Scene, s: &Setting) -> Result<(), SettingError> {
    let at = match signed_minutes(s) {
        Some(minutes) => shifted(scene.event.from, minutes?)
            .ok_or_else(|| wrong(s, "an hour in the calendar", "take a smaller shift"))?,
        None => moment(s)?,
    };
    let days = (scene.event.serve.date() - at.date()).get_days();
    if at >= scene.event.serve || days > LONGEST {
        return Err(wrong(
            s,
            &format!(
                "a start before the service at {}, and not more than a year before",
                hour(scene.event.serve)
            ),
            "start earlier, or serve later",
        ));
    }
    scene.event.from = at;
    Ok(())
}

/// `open=2027-10-06 21:00-23:00`: the house is open then, too.
pub(super) fn open(scene: &mut Scene, s: &Setting) -> Result<(), SettingError> {
    let hours = dated(scene, s)?;
    scene.event.open.push(hours);
    Ok(())
}

/// `shift.GROUP=2027-10-06 08:00-19:30`: the group is there then, too.
pub(super) fn shift(scene: &mut Scene, s: &Setting, group: &str) -> Result<(), SettingError> {
    let there = |g: &kitchen::site::People| g.id == group;
    if !scene.event.crew.iter().chain(&scene.site.people).any(there) {
        return Err(unknown(scene, s));
    }
    let hours = dated(scene, s)?;
    let people = scene.event.crew.iter_mut().chain(&mut scene.site.people);
    for g in people.filter(|g| g.id == group) {
        g.shifts.push(hours.clone());
    }
    Ok(())
}

/// The hours of one date as `open` and `shift` take them.
pub(crate) fn dated_words(date: Date, from: Time, to: Time) -> String {
    format!(
        "{} {}-{}",
        date.strftime("%Y-%m-%d"),
        from.strftime("%H:%M"),
        to.strftime("%H:%M")
    )
}

fn dated(scene: &Scene, s: &Setting) -> Result<Hours, SettingError> {
    let read = || {
        let (date, hours) = s.value.trim().split_once(' ')?;
        let (from, to) = hours.trim().split_once(['-', '–'])?;
        let time = |t: &str| t.trim().parse::<Time>().ok();
        Some((date.parse::<Date>().ok()?, time(from)?, time(to)?))
    };
    let (date, from, to) = read().filter(|(_, from, to)| from < to).ok_or_else(|| {
        wrong(
            s,
            "one date with its hours, such as \"2027-10-06 19:30-21:00\"",
            "write the date, a blank, and from-to within the day",
        )
    })?;
    let serve = scene.event.serve.date();
    let (first, last) = (scene.event.from.date(), serve.tomorrow().unwrap_or(serve));
    if date < first || date > last {
        return Err(wrong(
            s,
            &format!("a date from {first} to {last}, when something of the event can be done"),
            "take a date of the event",
        ));
    }
    Ok(Hours {
        days: Vec::new(),
        date: Some(date),
        from,
        to,
        may_stay_to: None,
    })
}

/// `within.STEP=+24h`: the step may end so much later than the event says; with a minus, begin so much earlier.
pub(super) fn within(scene: &mut Scene, s: &Setting, step: &str) -> Result<(), SettingError> {
    if !scene.event.within.iter().any(|w| w.step == step) {
        return Err(unknown(scene, s));
    }
    let minutes = signed_minutes(s).ok_or_else(|| {
        wrong(
            s,
            "a shift with its sign, such as +24h or -24h",
            "a plus lets it end later, a minus begin earlier",
        )
    })??;
    for w in scene.event.within.iter_mut().filter(|w| w.step == step) {
        let bound = if minutes < 0 { &mut w.from } else { &mut w.to };
        *bound = shifted(*bound, minutes)
            .ok_or_else(|| wrong(s, "an hour in the calendar", "take a smaller shift"))?;
    }
    Ok(())
}

/// `RECIPE.make=bought`: the part comes ready; nothing of it is made, weighed, bought or shown here.
///
/// Its recipe is taken out: what nobody can look into is an ingredient nobody knows, so its allergens are unknown, never
/// free.
pub(super) fn make(scene: &mut Scene, s: &Setting, recipe: &str) -> Result<(), SettingError> {
    let dishes = scene.event.dishes.iter();
    let part = dishes
        .filter_map(|d| scene.book.dishes.get(d))
        .flat_map(|d| &d.parts)
        .find(|p| p.recipe == recipe)
        .map(|p| p.recipe.clone())
        .filter(|id| scene.book.recipes.contains_key(id));
    let Some(id) = part else {
        return Err(unknown(scene, s));
    };
    if s.value != "bought" {
        return Err(wrong(
            s,
            "bought",
            "write bought for a part that comes ready",
        ));
    }
    if let Some(into) = user_of(scene, &id) {
        return Err(wrong(
            s,
            &format!("a recipe that goes into no other; {recipe} goes into {into}"),
            "buy the other one ready, or change its recipe",
        ));
    }
    scene.book.recipes.remove(&id);
    scene.ready.push(id);
    Ok(())
}

/// A recipe another one goes into.
pub(crate) fn user_of(scene: &Scene, inner: &kitchen::Id) -> Option<kitchen::Id> {
    let uses = |step: &kitchen::step::Step| {
        let line = |l: &kitchen::step::Line| matches!(&l.item, LineItem::Recipe(r) if r == inner);
        let feed = |f: &kitchen::step::Feed| matches!(&f.from, FeedFrom::Recipe(r) if r == inner);
        step.lines.iter().any(line) || step.feeds.iter().any(feed)
    };
    let mut recipes = scene.book.recipes.values();
    recipes
        .find(|r| r.steps.iter().any(uses))
        .map(|r| r.id.clone())
}
