//! A site file.

use jiff::tz::{TimeZone, TimeZoneDatabase};
use kitchen::Id;
use kitchen::site::{
    CapacityUnit, CutOff, Hours, Machine, Offer, Pack, People, Role, RuleSet, Scale, Site, Supplier,
};
use units::{Count, Elapsed};

use crate::cross::Known;
use crate::diagnostic::Code;
use crate::fields::{Fields, Span};
use crate::suggest::did_you_mean;
use crate::values::{short, weekday};

/// Reads a site.
pub(crate) fn read(fields: &Fields<'_, '_>, known: &Known) -> Option<(Site, Span)> {
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
    let roles: Vec<Role> = fields
        .list("role", "role")
        .iter()
        .filter_map(role)
        .collect();
    let people: Vec<People> = fields
        .list("people", "people")
        .iter()
        .filter_map(people)
        .collect();
    let machines: Vec<Machine> = fields
        .list("machine", "machine")
        .iter()
        .filter_map(machine)
        .collect();
    let scales: Vec<Scale> = fields
        .list("scale", "scale")
        .iter()
        .filter_map(scale)
        .collect();
    let suppliers: Vec<(Supplier, Span)> = fields
        .list("supplier", "supplier")
        .iter()
        .filter_map(supplier)
        .collect();
    let ids: Vec<&str> = suppliers.iter().map(|(s, _)| s.id.as_str()).collect();
    let offers: Vec<Offer> = fields
        .list("offer", "offer")
        .iter()
        .filter_map(|f| offer(f, known, &ids))
        .collect();
    fields.close();
    twice(fields, "machine", machines.iter().map(|m| &m.id));
    twice(fields, "supplier", suppliers.iter().map(|(s, _)| &s.id));
    twice(fields, "role", roles.iter().map(|r| &r.id));
    let (id, span) = id?;
    Some((
        Site {
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
            suppliers: suppliers.into_iter().map(|(s, _)| s).collect(),
            offers,
            pack_tolerance,
        },
        span,
    ))
}

fn twice<'a>(fields: &Fields<'_, '_>, what: &str, ids: impl Iterator<Item = &'a Id>) {
    let mut seen: Vec<&Id> = Vec::new();
    for id in ids {
        if seen.contains(&id) {
            fields.page.report(
                Code::Duplicate,
                fields.at(what),
                format!("two of the list `{what}` have the id \"{id}\""),
                "a different id for each",
                "rename one of them",
            );
        }
        seen.push(id);
    }
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
    if from >= to || may_stay_to.is_some_and(|m| m < to) {
        f.page.report(
            Code::Contradiction,
            f.at("from"),
            format!("{} runs from {from} to {to}", f.what),
            "from < to ≤ may-stay-to within one day",
            "split what crosses midnight into two",
        );
        return None;
    }
    if date.is_none() && days.is_none() {
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
    let id = f.own_id("id");
    let count = f
        .whole("count", 1, 500, "write how many they are")
        .unwrap_or(1);
    let role = f.other_id("role");
    if role.is_none() && !f.has("role") {
        f.missing("role", "the id of a role of the site", "name it");
    }
    let skills = f.texts("skills").into_iter().map(|(t, _)| t).collect();
    let tables = f.list("shifts", "a shift");
    if tables.is_empty() {
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

/// Words a capacity may count.
const PLACES: [&str; 5] = ["slot", "hook", "place", "burner", "tray"];

fn capacity(f: &Fields<'_, '_>) -> Option<(f64, CapacityUnit)> {
    let expected = "a capacity, such as \"8 kg\" or \"12 slots\"";
    let (text, span) = f.need_text("capacity", expected, "write how much it holds")?;
    if let Ok(mass) = units::read_mass(&text) {
        if mass.kg() > 0.0 {
            return Some((mass.kg(), CapacityUnit::Kilograms));
        }
    }
    let mut words = text.split_whitespace();
    let n = words.next().and_then(|n| n.parse::<f64>().ok());
    let word = words.next().unwrap_or("").trim_end_matches('s');
    if let Some(n) = n.filter(|n| n.is_finite() && *n > 0.0 && *n <= 1e6) {
        if PLACES.contains(&word) && Count::new(n, word).is_ok() {
            return Some((n, CapacityUnit::Places));
        }
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

fn supplier(f: &Fields<'_, '_>) -> Option<(Supplier, Span)> {
    let id = f.own_id("id");
    let name = f.need_text("name", "the supplier's name", "give it one");
    let cut = f.fields("cut-off", format!("cut-off of {}", f.what));
    if cut.is_none() && !f.has("cut-off") {
        f.missing(
            "cut-off",
            "the last moment to order",
            "write working-days-before, ahead or weekly",
        );
    }
    let cut_off = cut.and_then(|c| cut_off(&c));
    let delivers = f.weekdays("delivers").unwrap_or_default();
    let at = f.hour("at");
    if at.is_none() && !f.has("at") {
        f.missing("at", "the delivery hour, such as \"08:30\"", "write it");
    }
    f.close();
    let (id, span) = id?;
    Some((
        Supplier {
            id,
            name: name?.0,
            cut_off: cut_off?,
            delivers,
            at: at?,
        },
        span,
    ))
}

fn cut_off(c: &Fields<'_, '_>) -> Option<CutOff> {
    let days = c.whole("working-days-before", 0, 60, "write how many working days");
    let ahead = c.elapsed("ahead").map(|(t, _)| t);
    let weekly = c.text("weekly");
    let at = c.hour("at");
    c.close();
    match (days, ahead, weekly) {
        (Some(days), None, None) => Some(CutOff::WorkingDays(days, at?)),
        (None, Some(ahead), None) => Some(CutOff::Ahead(ahead)),
        (None, None, Some((word, span))) => match weekday(&word) {
            Some(day) => Some(CutOff::Weekly(day, at?)),
            None => {
                c.page.report(
                    Code::Unreadable,
                    span,
                    format!("`weekly` of {} is \"{}\"", c.what, short(&word)),
                    "a day among Mon Tue Wed Thu Fri Sat Sun",
                    "write the day",
                );
                None
            }
        },
        _ => {
            c.page.report(
                Code::Contradiction,
                c.head(),
                format!("{} must say one thing", c.what),
                "working-days-before with at, or ahead, or weekly with at",
                "keep one of them",
            );
            None
        }
    }
}

fn offer(f: &Fields<'_, '_>, known: &Known, suppliers: &[&str]) -> Option<Offer> {
    let supplier = f.other_id("supplier");
    if supplier.is_none() && !f.has("supplier") {
        f.missing("supplier", "the id of a supplier", "name it");
    }
    let item = match f.need_text("item", "an ingredient", "name it") {
        Some((name, span)) => known.item(f, &name, &span),
        None => None,
    };
    let spec = f.text("spec").map_or_else(String::new, |(t, _)| t);
    let per_kg = f.money("per-kg");
    let price = f.money("price");
    let each = f.money("each");
    let step = f.some_mass("step");
    let net = f.some_mass("pack");
    let piece = f.some_mass("piece");
    let word = f.text("word").map_or_else(|| "pack".to_owned(), |(t, _)| t);
    let substitutes = f.texts("instead").into_iter().map(|(t, _)| t).collect();
    f.close();
    let pack = match (per_kg, price, each, net, piece) {
        (Some(per_kg), None, None, None, None) => Pack::Loose { per_kg, step },
        (None, Some(price), None, Some(net), None) => Pack::Packs { net, price, word },
        (Some(per_kg), None, None, None, Some(piece)) => Pack::Pieces {
            piece,
            per_kg,
            word,
        },
        (None, None, Some(price), None, None) => Pack::Each { price, word },
        _ => {
            f.page.report(
                Code::Contradiction,
                f.head(),
                format!("{} does not say how it is sold", f.what),
                "per-kg; or pack with price; or piece with per-kg; or each",
                "keep one of these four",
            );
            return None;
        }
    };
    let (supplier, span) = supplier?;
    if !suppliers.contains(&supplier.as_str()) {
        f.page.suggest(
            Code::UnknownName,
            span,
            format!("no supplier has the id \"{supplier}\""),
            &format!("one of: {}", suppliers.join(", ")),
            "correct the spelling, or add the supplier",
            did_you_mean(supplier.as_str(), suppliers.iter().copied()),
        );
        return None;
    }
    Some(Offer {
        supplier,
        item: item?,
        spec,
        pack,
        substitutes,
    })
}

/// The compiled-in time zone database: the core reads no files.
fn zones() -> TimeZoneDatabase {
    TimeZoneDatabase::bundled()
}
