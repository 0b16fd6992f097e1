//! A site file.

use jiff::civil::Time;
use jiff::tz::{TimeZone, TimeZoneDatabase};
use kitchen::Id;
use kitchen::site::{
    CapacityUnit, ClockWeights, Hours, Machine, Offer, People, Role, RuleSet, Scale, Site, Supplier,
};
use kitchen::spread::HouseSpread;
use units::{Count, Elapsed};

use crate::diagnostic::Code;
use crate::fields::{Fields, twice};
use crate::known::Known;
use crate::page::Span;
use crate::suggest::did_you_mean;
use crate::supplier::{offer, supplier};
use crate::values::short;

/// A site with the place its id stands at.
pub(crate) struct ReadSite {
    pub(crate) site: Site,
    pub(crate) at: Span,
    pub(crate) whole: Whole,
}

/// Which lists of a site were read to the last member. Of the others nothing can be said to be
/// missing: what is missing is reported where it is wrong.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Whole {
    pub(crate) roles: bool,
    pub(crate) people: bool,
    pub(crate) machines: bool,
    pub(crate) offers: bool,
}

/// Reads a site.
pub(crate) fn read(fields: &Fields<'_, '_>, known: &Known) -> Option<ReadSite> {
    let id = fields.own_id("site");
    let name = fields.need_text("name", "the name of the kitchen", "give it one");
    let zone = zone(fields);
    let currency = fields
        .text("currency")
        .map_or_else(|| "$".to_owned(), |(t, _)| t);
    let rules = fields.one_of("rules", RuleSet::ALL);
    if rules.is_none() && !fields.has("rules") {
        fields.missing(
            "rules",
            "whose rules hold: us, canada, england or eu",
            "name the place",
        );
    }
    let plan_number = fields.text("plan-number").map(|(t, _)| t);
    let open: Vec<Hours> = fields
        .list("open", "opening hours")
        .iter()
        .filter_map(hours)
        .collect();
    if open.is_empty() && !fields.has("open") {
        fields.missing("open", "opening hours", "say when people may be inside");
    }
    let pack_tolerance = fields
        .percent(
            "pack-tolerance",
            0.0,
            20.0,
            "write how much of a pack may be short before another is bought",
        )
        .map_or(0.0, |p| p / 100.0);
    let spread = fields
        .fields(
            "spread",
            "how far work may turn out shorter or longer".to_owned(),
        )
        .map_or_else(HouseSpread::default, |f| {
            let read = HouseSpread {
                hands: crate::step::spread(&f, "hands-low", "hands-high"),
                programme: crate::step::spread(&f, "programme-low", "programme-high"),
            };
            f.close();
            read
        });
    let role_tables = fields.list("role", "role");
    let roles: Vec<Role> = role_tables.iter().filter_map(role).collect();
    let people_tables = fields.list("people", "group of people");
    let people: Vec<People> = people_tables.iter().filter_map(people).collect();
    let machine_tables = fields.list("machine", "machine");
    let machines: Vec<Machine> = machine_tables.iter().filter_map(machine).collect();
    let scales: Vec<Scale> = fields
        .list("scale", "scale")
        .iter()
        .filter_map(scale)
        .collect();
    let supplier_tables = fields.list("supplier", "supplier");
    let suppliers: Vec<Supplier> = supplier_tables.iter().filter_map(supplier).collect();
    let ids: Vec<Id> = supplier_tables
        .iter()
        .filter_map(|f| f.place_of_id("id").map(|(id, _)| id))
        .collect();
    let ids: Vec<&str> = ids.iter().map(Id::as_str).collect();
    let offers: Vec<Offer> = fields
        .list("offer", "an offer")
        .iter()
        .filter_map(|f| offer(f, known, &ids))
        .collect();
    let clock = clock_weights(fields);
    fields.close();
    for tables in [
        &role_tables,
        &people_tables,
        &machine_tables,
        &supplier_tables,
    ] {
        twice(tables);
    }
    let whole = Whole {
        roles: fields.all_read("role", roles.len()),
        people: fields.all_read("people", people.len()),
        machines: fields.all_read("machine", machines.len()),
        offers: fields.all_read("offer", offers.len())
            && fields.all_read("supplier", suppliers.len()),
    };
    let (id, at) = id?;
    Some(ReadSite {
        site: Site {
            id,
            name: name?.0,
            zone: zone?,
            currency,
            rules: rules?,
            plan_number,
            open,
            roles,
            people,
            machines,
            scales,
            suppliers,
            offers,
            pack_tolerance,
            clock,
            spread,
        },
        at,
        whole,
    })
}

/// Reads `[clock]`: what the clock weighs against what. A weight that is not written is the house value.
fn clock_weights(fields: &Fields<'_, '_>) -> ClockWeights {
    let mut weights = ClockWeights::DEFAULT;
    let Some(table) = fields.fields("clock", "the clock of the site") else {
        return weights;
    };
    for key in ClockWeights::KEYS {
        let weight = table.number_within(
            key,
            0.0,
            ClockWeights::MOST,
            "write how many minutes away from its best hour it is worth; 0 for nothing",
        );
        if let Some((weight, _)) = weight {
            weights = weights.with(key, weight).unwrap_or(weights);
        }
    }
    weights.even_work = table.flag("even-work").unwrap_or(weights.even_work);
    table.close();
    weights
}

fn zone(fields: &Fields<'_, '_>) -> Option<TimeZone> {
    let (text, span) = fields.need_text(
        "zone",
        "a time zone, such as \"America/Toronto\"",
        "name the zone",
    )?;
    match zones().get(&text) {
        Ok(zone) => Some(zone),
        Err(_) => {
            let names: Vec<String> = zones().available().map(|n| n.to_string()).collect();
            fields.page.suggest(
                Code::UnknownName,
                span,
                format!("no time zone is called \"{}\"", short(&text)),
                "an IANA zone name, such as \"America/Toronto\" or \"Europe/London\"",
                "name the zone as the time zone database does",
                did_you_mean(&text, names.iter().map(String::as_str)),
            );
            None
        }
    }
}

/// Reads `{ days | date, from, to, may-stay-to }`.
pub(crate) fn hours(f: &Fields<'_, '_>) -> Option<Hours> {
    let days = f.weekdays("days");
    let date = f.date("date");
    let (from, to) = (f.hour("from"), f.hour("to"));
    let may_stay_to = f.hour("may-stay-to");
    f.close();
    if f.has("days") == f.has("date") {
        f.page.report(
            Code::Contradiction,
            f.head(),
            format!(
                "{} has {} of `days` and `date`",
                f.what,
                if f.has("days") { "both" } else { "neither" }
            ),
            "days = \"Mon Tue\" or date = \"2027-10-07\"",
            "keep one",
        );
        return None;
    }
    for key in ["from", "to"] {
        if !f.has(key) {
            f.missing(key, "an hour, such as \"07:00\"", "write it");
        }
    }
    let (from, to) = (from?, to?);
    if from >= to {
        f.page.report(
            Code::Contradiction,
            f.at("to"),
            format!("{} runs from {} to {}", f.what, clock(from), clock(to)),
            "`from` before `to`, within one day",
            "swap them, or split what crosses midnight into two",
        );
        return None;
    }
    if let Some(late) = may_stay_to.filter(|late| *late < to) {
        f.page.report(
            Code::Contradiction,
            f.at("may-stay-to"),
            format!(
                "{} ends at {} and may stay to {}",
                f.what,
                clock(to),
                clock(late)
            ),
            "`may-stay-to` not before `to`",
            "correct one of the two",
        );
        return None;
    }
    if date.is_none() && days.is_none() {
        return None;
    }
    if days.as_ref().is_some_and(Vec::is_empty) {
        f.page.report(
            Code::Unreadable,
            f.at("days"),
            format!("`days` of {} names no day", f.what),
            "days among Mon Tue Wed Thu Fri Sat Sun",
            "write at least one day, or take the hours out",
        );
        return None;
    }
    Some(Hours {
        days: days.unwrap_or_default(),
        date,
        from,
        to,
        may_stay_to,
    })
}

fn role(f: &Fields<'_, '_>) -> Option<Role> {
    let f = &f.called_by("id");
    let id = f.own_id("id");
    let rate = f.money("rate");
    if rate.is_none() && !f.has("rate") {
        f.missing("rate", "pay or shadow rate an hour", "write it as a number");
    }
    let learner = f.flag("learner").unwrap_or(false);
    let by_presence = f.flag("by-presence").unwrap_or(false);
    f.close();
    Some(Role {
        id: id?.0,
        rate: rate?,
        learner,
        by_presence,
    })
}

/// Reads a group of people.
pub(crate) fn people(f: &Fields<'_, '_>) -> Option<People> {
    let f = &f.called_by("id");
    let id = f.own_id("id");
    let count = f
        .whole("count", 1, 500, "write how many they are")
        .unwrap_or(1);
    let role = f.other_id("role");
    if role.is_none() && !f.has("role") {
        f.missing("role", "the id of a role of the site", "name it");
    }
    let skills = f.texts("skills").into_iter().map(|(t, _)| t).collect();
    let tables = f.list("shifts", &format!("a shift of {}", f.what));
    if !f.has("shifts") || (tables.is_empty() && f.all_read("shifts", 0)) {
        f.missing("shifts", "at least one shift", "say when they are here");
    }
    let shifts: Vec<Hours> = tables.iter().filter_map(hours).collect();
    f.close();
    Some(People {
        id: id?.0,
        count,
        role: role?.0,
        skills,
        shifts,
    })
}

fn machine(f: &Fields<'_, '_>) -> Option<Machine> {
    let f = &f.called_by("id");
    let id = f.own_id("id");
    let name = f.need_text("name", "its name in the kitchen", "give it one");
    let capacity = capacity(f);
    let one_load = f.flag("one-load-at-a-time").unwrap_or(false);
    let change_over = f.elapsed("change-over").map(|(t, _)| t);
    let off = f.flag("off").unwrap_or(false);
    f.close();
    if change_over.is_some() && !one_load {
        f.page.report(
            Code::Contradiction,
            f.at("change-over"),
            format!(
                "{} has a change-over but takes several loads at once",
                f.what
            ),
            "one-load-at-a-time = true with a change-over",
            "add it, or take the change-over out",
        );
        return None;
    }
    let (capacity, unit) = capacity?;
    Some(Machine {
        id: id?.0,
        name: name?.0,
        capacity,
        unit,
        one_load: one_load.then(|| change_over.unwrap_or(Elapsed::ZERO)),
        off,
    })
}

/// An hour as a book writes it.
fn clock(time: Time) -> String {
    time.strftime("%H:%M").to_string()
}

/// Words a capacity may count.
const PLACES: [&str; 5] = ["slot", "hook", "place", "burner", "tray"];

fn capacity(f: &Fields<'_, '_>) -> Option<(f64, CapacityUnit)> {
    let expected = "a capacity, such as \"8 kg\" or \"12 slots\"";
    let (text, span) = f.need_text("capacity", expected, "write how much it holds")?;
    if let Ok(mass) = units::read_mass(&text)
        && mass.kg() > 0.0
    {
        return Some((mass.kg(), CapacityUnit::Kilograms));
    }
    let mut words = text.split_whitespace();
    let n = words.next().and_then(|n| n.parse::<f64>().ok());
    let word = words.next().unwrap_or("").trim_end_matches('s');
    if let Some(n) = n.filter(|n| n.is_finite() && *n > 0.0 && *n <= 1e6)
        && PLACES.contains(&word)
        && Count::new(n, word).is_ok()
    {
        return Some((n, CapacityUnit::Places));
    }
    f.page.suggest(
        Code::Unreadable,
        span,
        format!("`capacity` of {} reads \"{}\"", f.what, short(&text)),
        "kilograms, or a number of slots, hooks, places, burners or trays",
        "write how much it holds",
        did_you_mean(word, PLACES),
    );
    None
}

fn scale(f: &Fields<'_, '_>) -> Option<Scale> {
    let f = &f.called_by("name");
    let name = f.need_text("name", "its name", "give it one");
    let resolution = f.some_mass("resolution");
    let capacity = f.some_mass("capacity");
    for key in ["resolution", "capacity"] {
        if !f.has(key) {
            f.missing(key, "a weight, such as \"0.1 g\"", "read it off the scale");
        }
    }
    let count = f.whole("count", 1, 1000, "write how many").unwrap_or(1);
    f.close();
    Some(Scale {
        name: name?.0,
        resolution: resolution?,
        capacity: capacity?,
        count,
    })
}

/// The compiled-in time zone database: the core reads no files.
fn zones() -> TimeZoneDatabase {
    TimeZoneDatabase::bundled()
}
