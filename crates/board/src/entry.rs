//! What was filled in on the record page, as an entry the log takes.

use std::sync::atomic::{AtomicU64, Ordering};

use jiff::Timestamp;
use jiff::civil::DateTime;
use plan::Plan;
use rust_decimal::Decimal;
use store::{
    About, DeviceId, Draft, EntryId, Kind, Label, Moment, Name, NewEntry, Reading, Refusal, Unit,
};

use crate::access::visitor::visitor;
use crate::address::Query;
use crate::day::deviations::MARK;
use crate::tongue::translated;
use crate::trouble::Trouble;

/// What can be recorded here: the word of the form, its name, what it is.
pub(crate) const KINDS: &[(&str, &str, Kind)] = &[
    ("started", "started", Kind::Started),
    ("done", "done", Kind::Done),
    ("weighed", "weighed", Kind::Weighed),
    ("temperature", "temperature read", Kind::Temperature),
    ("ph", "pH read", Kind::Ph),
    ("received", "received", Kind::Received),
    ("deviation", "outside its limit", Kind::Deviation),
    ("decision", "decided", Kind::Decision),
    ("note", "note", Kind::Note),
];

/// The word of a kind in the language of who reads, as it stands in lists of the record.
pub(crate) fn kind_word(kind: Kind) -> String {
    let own = kind.as_str();
    translated(&format!("board-kind-{own}"), own, &[])
}

/// Where the unit of a reading may be left out, because there is only one.
const UNITS: &[(&str, Unit)] = &[
    ("kg", Unit::Kilogram),
    ("oz", Unit::Ounce),
    ("lb", Unit::Pound),
    ("g", Unit::Gram),
    ("°C", Unit::Celsius),
    ("°F", Unit::Fahrenheit),
    ("pH", Unit::Ph),
    ("C", Unit::Celsius),
    ("F", Unit::Fahrenheit),
];

/// A new id for a form: sent twice, it is stored once.
pub(crate) fn new_id(now: Timestamp) -> String {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    format!(
        "board:{}-{}",
        now.as_nanosecond(),
        COUNT.fetch_add(1, Ordering::Relaxed)
    )
}

/// The entry, if it says what its kind has to say and a name stands under it.
pub(crate) fn read(plan: &Plan, form: &Query, now: Timestamp) -> Result<NewEntry, Trouble> {
    let said = |name: &str| form.first(name).unwrap_or("");
    let corrects = form
        .first("corrects")
        .map(|n| {
            n.parse::<i64>().map_err(|_| {
                Trouble::entry(
                    format!("corrects: found \"{n}\""),
                    "the number of an entry",
                    "open the record again and correct from there",
                )
            })
        })
        .transpose()?;
    let kind = match corrects {
        Some(of) => Kind::Correction { of },
        None => KINDS
            .iter()
            .find(|(word, _, _)| *word == said("kind"))
            .map(|(_, _, kind)| *kind)
            .ok_or_else(|| {
                Trouble::entry(
                    format!("what happened: found \"{}\"", said("kind")),
                    "one of the list",
                    "choose what happened",
                )
                .at("kind")
            })?,
    };
    // What holds a lot is settled on the page of its deviation, and by the instructor.
    if said("part").starts_with(MARK) {
        return Err(Trouble::entry(
            format!("a part that begins with \"{}\"", MARK.trim_end()),
            "a piece, pan, probe or line",
            "open the deviation on Today and decide it there",
        )
        .at("part"));
    }
    if kind == Kind::Decision && !visitor().is_instructor() {
        return Err(Trouble::refused(
            "a decision",
            "the instructor's own session",
            "write a note, or ask the instructor to decide; nothing was stored",
        ));
    }
    let draft = Draft {
        id: EntryId::new(said("id"))?,
        at: happened(plan, form, now)?,
        who: Name::new(said("who"))?,
        device: DeviceId::new(visitor().device())?,
        about: about(plan, said("about"), said("part"))?,
        kind,
        reading: form
            .first("reading")
            .map(|r| reading(kind, &with_unit(r, form.first("unit"))))
            .transpose()?,
        words: said("words").to_owned(),
    };
    Ok(draft.checked()?)
}

/// When it happened: now, or the hour that was written, on the clock of the site. What has not happened yet is no record.
fn happened(plan: &Plan, form: &Query, now: Timestamp) -> Result<Moment, Trouble> {
    let Some(text) = form.first("when") else {
        return match form.first("entered") {
            Some(entered) => moment(plan, when_entered(entered, now)?),
            None => moment(plan, now),
        };
    };
    let wrong = |found: &str, do_now: &str| {
        Trouble::entry(
            format!("when: {found}"),
            "a moment that has been, such as 2027-10-06 15:05",
            do_now,
        )
        .at("when")
    };
    let shown: String = text.chars().take(40).collect();
    let civil: DateTime = text
        .replace(' ', "T")
        .parse()
        .map_err(|_| wrong(&format!("found \"{shown}\""), "write day and hour"))?;
    let at = plan
        .scene
        .site
        .zone
        .to_timestamp(civil)
        .map_err(|_| wrong(&format!("found \"{shown}\""), "write day and hour"))?;
    if at > now {
        return Err(wrong(
            &format!("{shown} is still to come"),
            "write it down once it has happened, or leave the field empty for now",
        ));
    }
    moment(plan, at)
}

/// When a form was filled in, by a screen that could not send it at once: its moment is that one and not the sending's.
fn when_entered(text: &str, now: Timestamp) -> Result<Timestamp, Trouble> {
    text.parse().ok().filter(|at| *at <= now).ok_or_else(|| {
        Trouble::entry(
            format!(
                "the moment it was entered: found \"{}\"",
                text.chars().take(40).collect::<String>()
            ),
            "a moment that has been, in UTC",
            "look at the clock of this screen, and write day and hour in the field",
        )
        .at("when")
    })
}

/// A moment in the zone of the site.
pub(crate) fn moment(plan: &Plan, now: Timestamp) -> Result<Moment, Trouble> {
    let zone = plan.scene.site.zone.iana_name().unwrap_or("UTC");
    Ok(Moment::new(now, zone)?)
}

/// The component and step chosen, where one was; only what this plan has.
fn about(plan: &Plan, chosen: &str, part: &str) -> Result<About, Trouble> {
    let mut about = About::event(Label::new(plan.scene.event.id.as_str())?);
    if !part.is_empty() {
        about.part = Some(Label::new(part)?);
    }
    if chosen.is_empty() {
        return Ok(about);
    }
    let (component, step) = chosen.split_once('.').unwrap_or((chosen, ""));
    let known = plan
        .scene
        .book
        .recipes
        .iter()
        .find(|(id, _)| id.as_str() == component)
        .filter(|(_, r)| step.is_empty() || r.steps.iter().any(|s| s.id == *step));
    if known.is_none() {
        return Err(Trouble::entry(
            format!(
                "about: found \"{}\"",
                chosen.chars().take(60).collect::<String>()
            ),
            "a component and step of this event",
            "choose it from the list",
        )
        .at("about"));
    }
    about.component = Some(Label::new(component)?);
    if !step.is_empty() {
        about.step = Some(Label::new(step)?);
    }
    Ok(about)
}

/// A bare number with the unit that stood beside it; a unit that was typed holds.
fn with_unit(reading: &str, unit: Option<&str>) -> String {
    let bare = reading
        .chars()
        .all(|c| c.is_ascii_digit() || c.is_whitespace() || "+-−.,\u{202f}".contains(c));
    match unit {
        Some(unit) if bare => format!("{reading} {unit}"),
        _ => reading.to_owned(),
    }
}

/// A reading as it was typed; the unit is only left out where there is but one.
fn reading(kind: Kind, text: &str) -> Result<Reading, Trouble> {
    let text = text.trim();
    let (number, unit) = UNITS
        .iter()
        .find_map(|(name, unit)| Some((text.strip_suffix(name)?.trim_end(), Some(*unit))))
        .unwrap_or((text, (kind == Kind::Ph).then_some(Unit::Ph)));
    let Some(unit) = unit else {
        return Err(Trouble::entry(
            format!("the reading: found \"{text}\" without its unit"),
            match kind {
                Kind::Temperature => "63.4 °C or 146 °F",
                Kind::Weighed => "5,220 g, 5.22 kg, 11.5 lb or 0.85 oz",
                _ => "a number with its unit",
            },
            "read the unit off the instrument and write it; it is never guessed",
        )
        .at("reading"));
    };
    let plain: String = number
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '\u{202f}')
        .collect();
    // A comma before three digits parts thousands, any other comma is the decimal mark.
    let plain = match plain.split_once(',') {
        Some((whole, rest)) if rest.len() == 3 && !rest.contains('.') && !whole.is_empty() => {
            format!("{whole}{rest}")
        }
        _ => plain.replace(',', "."),
    };
    let number: Decimal = plain.replace('−', "-").parse().map_err(|_| {
        Trouble::entry(
            format!("the reading: found \"{text}\""),
            "a number with its unit, such as 63.4 °C",
            "read it again and write it",
        )
        .at("reading")
    })?;
    Reading::new(number, unit).map_err(|r| Trouble::from(r).at("reading"))
}

impl From<Refusal> for Trouble {
    fn from(r: Refusal) -> Self {
        let trouble = Self::entry(
            format!("{}: found {}", r.what, r.found),
            r.expected,
            r.do_now,
        );
        match r.what {
            "the name" => trouble.at("who"),
            "the id" => trouble.at("part"),
            "the words" => trouble.at("words"),
            "the reading" | "a correction" => trouble.at("reading"),
            "the moment" => trouble.at("when"),
            _ => trouble,
        }
    }
}
