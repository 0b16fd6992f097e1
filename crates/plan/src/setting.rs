//! `--set KEY=VALUE`: one change, named by the ids of the book.

use jiff::civil::DateTime;
use kitchen::Id;
use kitchen::event::{Delivery, Per, Portion};
use kitchen::site::{Pack, RuleSet};
use kitchen::step::{LineAmount, LineItem};
use units::Money;

use crate::scene::Scene;

/// A change as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting {
    /// Key: `covers`, `serve`, `hot-smoked-char.fillet.yield` …
    pub key: String,
    /// Value as written.
    pub value: String,
}

impl Setting {
    /// Reads `KEY=VALUE`.
    ///
    /// # Errors
    /// When there is no `=`, or nothing on one side of it.
    pub fn read(text: &str) -> Result<Self, SettingError> {
        match text.split_once('=') {
            Some((key, value)) if !key.trim().is_empty() && !value.trim().is_empty() => Ok(Self {
                key: key.trim().to_owned(),
                value: value.trim().to_owned(),
            }),
            _ => Err(SettingError {
                key: text.to_owned(),
                found: format!("--set {}", printable(text)),
                expected: "KEY=VALUE, such as covers=72 or serve=+90min".to_owned(),
                do_now: "write the key, an equals sign, and the value".to_owned(),
                known: Vec::new(),
            }),
        }
    }
}

impl std::fmt::Display for Setting {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}={}", printable(&self.key), printable(&self.value))
    }
}

/// Text as it may be shown: what would move a terminal's cursor or turn a line around is replaced.
pub(crate) fn printable(text: &str) -> String {
    let fine = |c: char| {
        !c.is_control() && !matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    text.chars()
        .map(|c| if fine(c) { c } else { '\u{fffd}' })
        .collect()
}

/// A change that cannot be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SettingError {
    /// The key.
    pub key: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do now.
    pub do_now: String,
    /// Keys that exist, for a suggestion.
    pub known: Vec<String>,
}

/// Applies one change; facts are remembered as such.
pub(crate) fn apply(scene: &mut Scene, s: &Setting) -> Result<(), SettingError> {
    let parts: Vec<&str> = s.key.split('.').collect();
    match parts.as_slice() {
        ["covers"] => {
            scene.event.covers = whole(s, 1, 100_000)?;
            Ok(())
        }
        ["spare"] => {
            scene.event.spare = percent(s, 0.0, 100.0)? / 100.0;
            Ok(())
        }
        ["serve"] => serve(scene, s),
        ["people"] => people(scene, s),
        ["order"] => match s.value.as_str() {
            "again" => {
                scene.order_again = true;
                Ok(())
            }
            _ => Err(wrong(s, "again", "write order=again to buy anew")),
        },
        ["site", "rules"] => match RuleSet::find(&s.value) {
            Some(rules) => {
                scene.site.rules = rules;
                Ok(())
            }
            None => Err(wrong(s, "us, canada, england or eu", "choose one of them")),
        },
        ["machine", id] => machine(scene, s, id),
        ["delivery", what] => delivery(scene, s, what),
        ["price", item] => price(scene, s, item),
        [recipe, key @ ("portion" | "per" | "spare" | "pieces")] => part(scene, s, recipe, key),
        [recipe, at, key] => step(scene, s, recipe, at, key),
        _ => Err(unknown(scene, s)),
    }
}

fn wrong(s: &Setting, expected: &str, do_now: &str) -> SettingError {
    SettingError {
        key: s.key.clone(),
        found: format!("--set {s}"),
        expected: expected.to_owned(),
        do_now: do_now.to_owned(),
        known: Vec::new(),
    }
}

fn unknown(scene: &Scene, s: &Setting) -> SettingError {
    SettingError {
        known: keys(scene),
        found: format!("--set {s}: nothing is called \"{}\"", printable(&s.key)),
        ..wrong(
            s,
            "covers, serve, spare, people, order, site.rules, machine.ID, delivery.ID, price.ITEM, \
             RECIPE.portion, RECIPE.per, or RECIPE.STEP.yield, .weighed, .thickness, .ITEM",
            "name it by the ids of the book",
        )
    }
}

/// Every key of a scene.
#[must_use]
pub fn keys(scene: &Scene) -> Vec<String> {
    let mut keys: Vec<String> = ["covers", "serve", "spare", "people", "order", "site.rules"]
        .map(str::to_owned)
        .to_vec();
    keys.extend(
        scene
            .site
            .machines
            .iter()
            .map(|m| format!("machine.{}", m.id)),
    );
    for offer in &scene.site.offers {
        keys.push(format!("delivery.{}", offer.item));
        keys.push(format!("price.{}", offer.item));
    }
    keys.extend(
        scene
            .site
            .suppliers
            .iter()
            .map(|x| format!("delivery.{}", x.id)),
    );
    let on_dishes = |id: &Id| {
        scene
            .event
            .dishes
            .iter()
            .filter_map(|d| scene.book.dishes.get(d))
            .any(|d| d.parts.iter().any(|p| p.recipe == *id))
    };
    let made = crate::demand::recipes(scene);
    for (id, recipe) in scene
        .book
        .recipes
        .iter()
        .filter(|(id, _)| made.contains(id))
    {
        for key in ["portion", "per", "spare", "pieces"] {
            if on_dishes(id) {
                keys.push(format!("{id}.{key}"));
            }
        }
        for step in &recipe.steps {
            keys.push(format!("{id}.{}.yield", step.id));
            keys.push(format!("{id}.{}.weighed", step.id));
            if step.piece.is_some() {
                keys.push(format!("{id}.{}.thickness", step.id));
            }
            for line in &step.lines {
                if let (LineItem::Item(item) | LineItem::Recipe(item), LineAmount::OfBase(_)) =
                    (&line.item, &line.amount)
                {
                    keys.push(format!("{id}.{}.{item}", step.id));
                }
            }
        }
    }
    keys
}

fn whole(s: &Setting, least: u32, most: u32) -> Result<u32, SettingError> {
    match s.value.parse::<u32>() {
        Ok(n) if (least..=most).contains(&n) => Ok(n),
        _ => Err(wrong(
            s,
            &format!("a whole number from {least} to {most}"),
            "write the number alone",
        )),
    }
}

fn percent(s: &Setting, least: f64, most: f64) -> Result<f64, SettingError> {
    match units::read_percent(&s.value) {
        Ok(p) if (least..=most).contains(&p) => Ok(p),
        _ => Err(wrong(
            s,
            &format!("a percentage from {least} % to {most} %, such as \"2.5 %\""),
            "write it with the sign",
        )),
    }
}

fn signed_minutes(s: &Setting) -> Option<Result<i64, SettingError>> {
    let (sign, rest) = match s.value.chars().next()? {
        '+' => (1, &s.value[1..]),
        '-' => (-1, &s.value[1..]),
        '−' => (-1, &s.value['−'.len_utf8()..]),
        _ => return None,
    };
    Some(match units::read_elapsed(rest.trim()) {
        Ok(t) => Ok(sign * t.whole_minutes()),
        Err(e) => Err(wrong(s, &e.expected, &e.do_now)),
    })
}

fn moment(s: &Setting) -> Result<DateTime, SettingError> {
    s.value.parse::<DateTime>().map_err(|_| {
        wrong(
            s,
            "a local date and hour, such as 2027-10-05T13:30, or a shift such as +90min",
            "write year-month-day, a T, and the hour",
        )
    })
}

fn serve(scene: &mut Scene, s: &Setting) -> Result<(), SettingError> {
    let at = match signed_minutes(s) {
        Some(minutes) => shifted(scene.event.serve, minutes?)
            .ok_or_else(|| wrong(s, "an hour in the calendar", "take a smaller shift"))?,
        None => moment(s)?,
    };
    if at <= scene.event.from {
        return Err(wrong(
            s,
            &format!(
                "a serving hour after {}, when the event starts",
                hour(scene.event.from)
            ),
            "serve later, or change `from` in the event",
        ));
    }
    scene.event.serve = at;
    Ok(())
}

/// An hour as it is written in a book and on the command line.
fn hour(at: DateTime) -> String {
    at.strftime("%Y-%m-%dT%H:%M").to_string()
}

fn shifted(at: DateTime, minutes: i64) -> Option<DateTime> {
    at.checked_add(jiff::SignedDuration::from_mins(minutes))
        .ok()
}

fn people(scene: &mut Scene, s: &Setting) -> Result<(), SettingError> {
    let expected = "a change with its sign, such as -2 or +1";
    // "people=4" could mean four in all or four more: the sign says which.
    let by: i64 = s
        .value
        .starts_with(['+', '-', '−'])
        .then(|| s.value.replace('−', "-").parse().ok())
        .flatten()
        .ok_or_else(|| {
            wrong(
                s,
                expected,
                "write how many come or go, not how many there are",
            )
        })?;
    let role = scene.event.role.clone();
    let group = scene
        .event
        .crew
        .iter_mut()
        .filter(|g| g.role == role)
        .max_by_key(|g| g.count)
        .ok_or_else(|| wrong(s, "an event with a crew", "add a [[crew]] to the event"))?;
    let now = i64::from(group.count) + by;
    match u32::try_from(now) {
        Ok(n) if (1..=500).contains(&n) => {
            group.count = n;
            Ok(())
        }
        _ => Err(wrong(
            s,
            &format!(
                "at least one and at most 500 of {}; there are {}",
                group.id, group.count
            ),
            if by < 0 {
                "take fewer away"
            } else {
                "add fewer"
            },
        )),
    }
}

fn machine(scene: &mut Scene, s: &Setting, id: &str) -> Result<(), SettingError> {
    let Some(machine) = scene.site.machines.iter_mut().find(|m| m.id == id) else {
        return Err(unknown(scene, s));
    };
    match s.value.as_str() {
        "off" => machine.off = true,
        "on" => machine.off = false,
        _ => return Err(wrong(s, "off or on", "write one of them")),
    }
    Ok(())
}

fn delivery(scene: &mut Scene, s: &Setting, what: &str) -> Result<(), SettingError> {
    let known = scene.site.suppliers.iter().any(|x| x.id == what)
        || scene.site.offers.iter().any(|o| o.item == what);
    let Some(id) = Id::new(what).filter(|_| known) else {
        return Err(unknown(scene, s));
    };
    let supplier = scene
        .site
        .offers
        .iter()
        .find(|o| o.item == what)
        .map(|o| o.supplier.clone());
    let before = scene
        .event
        .deliveries
        .iter()
        .find(|d| d.what == id || Some(&d.what) == supplier.as_ref())
        .map(|d| d.at);
    let at = match (signed_minutes(s), before) {
        (Some(minutes), Some(before)) => shifted(before, minutes?)
            .ok_or_else(|| wrong(s, "an hour in the calendar", "take a smaller shift"))?,
        _ => moment(s)?,
    };
    if at >= scene.event.serve {
        return Err(wrong(
            s,
            &format!(
                "a delivery before the service at {}",
                hour(scene.event.serve)
            ),
            "take an earlier delivery",
        ));
    }
    scene.event.deliveries.retain(|d| d.what != id);
    scene.event.deliveries.insert(0, Delivery { what: id, at });
    Ok(())
}

fn price(scene: &mut Scene, s: &Setting, item: &str) -> Result<(), SettingError> {
    let money = s
        .value
        .parse::<f64>()
        .ok()
        .filter(|n| n.is_finite() && (0.0..=1e7).contains(n))
        .and_then(|n| Money::from_f64_exact(n).ok())
        .ok_or_else(|| {
            wrong(
                s,
                "a price as a number, without the sign",
                "write it like price.fennel-bulb=6.80",
            )
        })?;
    let Some(offer) = scene.site.offers.iter_mut().find(|o| o.item == item) else {
        return Err(unknown(scene, s));
    };
    match &mut offer.pack {
        Pack::Loose { per_kg, .. } | Pack::Pieces { per_kg, .. } => *per_kg = money,
        Pack::Packs { price, .. } | Pack::Each { price, .. } => *price = money,
    }
    Ok(())
}

fn part(scene: &mut Scene, s: &Setting, recipe: &str, key: &str) -> Result<(), SettingError> {
    let dishes = scene.event.dishes.clone();
    let starts_in_pieces = scene
        .book
        .recipes
        .values()
        .find(|r| r.id == recipe)
        .is_some_and(|r| {
            r.steps
                .iter()
                .flat_map(|x| &x.feeds)
                .any(|f| matches!(f.from, kitchen::step::FeedFrom::Item { piece: Some(_), .. }))
        });
    let mut found = false;
    for dish in dishes {
        let Some(dish) = scene.book.dishes.get_mut(&dish) else {
            continue;
        };
        for part in dish.parts.iter_mut().filter(|p| p.recipe == recipe) {
            found = true;
            match key {
                "portion" => match units::read_mass(&s.value) {
                    Ok(mass) if mass.g() > 0.0 => part.portion = Portion::Served(mass),
                    _ => {
                        return Err(wrong(
                            s,
                            "a weight above zero, such as 55 g",
                            "write the grams served",
                        ));
                    }
                },
                "per" => match Per::find(&s.value) {
                    Some(per) => part.per = per,
                    None => {
                        return Err(wrong(
                            s,
                            "plate, cover, learner or pair",
                            "choose one of them",
                        ));
                    }
                },
                "spare" => part.spare = whole(s, 0, 100_000)?,
                _ if !starts_in_pieces => {
                    return Err(wrong(
                        s,
                        "a recipe that starts from a piece with a weight",
                        "change its portion instead",
                    ));
                }
                _ => part.portion = Portion::Pieces(f64::from(whole(s, 1, 10_000)?)),
            }
        }
    }
    if found {
        Ok(())
    } else {
        Err(unknown(scene, s))
    }
}

fn step(
    scene: &mut Scene,
    s: &Setting,
    recipe: &str,
    step: &str,
    key: &str,
) -> Result<(), SettingError> {
    let missing = unknown(scene, s);
    if !crate::demand::recipes(scene).iter().any(|r| *r == *recipe) {
        // A change that can move nothing is a slip, not a change.
        return Err(missing);
    }
    let Some(recipe) = scene.book.recipes.values_mut().find(|r| r.id == recipe) else {
        return Err(missing);
    };
    let recipe_id = recipe.id.clone();
    let Some(step) = recipe.steps.iter_mut().find(|x| x.id == step) else {
        return Err(missing);
    };
    match key {
        "yield" => {
            let n = units::read_ratio(&s.value)
                .ok()
                .or_else(|| units::read_percent(&s.value).ok().map(|p| p / 100.0))
                .filter(|n| (0.001..=6.0).contains(n))
                .ok_or_else(|| {
                    wrong(
                        s,
                        "out over in, above 0 and at most 6, such as 0.58 or 58 %",
                        "weigh in and out and divide",
                    )
                })?;
            step.yields.mean = n;
            step.yields.low = step.yields.low.min(n);
            step.yields.high = step.yields.high.max(n);
            step.yields.source = sources::Citation::whole(&sources::list::ENTERED);
            scene.facts.push(s.clone());
            Ok(())
        }
        "weighed" => {
            let g = units::read_mass(&s.value)
                .map(units::Mass::g)
                .ok()
                .filter(|g| *g > 0.0)
                .ok_or_else(|| {
                    wrong(
                        s,
                        "a weight above zero, such as 5220 g",
                        "weigh what came out",
                    )
                })?;
            let id = step.id.clone();
            scene
                .weighed
                .retain(|(r, x, _)| *r != recipe_id || *x != id);
            scene.weighed.push((recipe_id, id, g));
            scene.facts.push(s.clone());
            Ok(())
        }
        "thickness" => {
            let Some(piece) = &mut step.piece else {
                return Err(wrong(
                    s,
                    "a step with a `piece`",
                    "write the piece in the recipe first",
                ));
            };
            match units::read_length(&s.value) {
                Ok(t) if t.mm() >= 1.0 && t.mm() <= 500.0 => {
                    piece.measured = Some(t);
                    Ok(())
                }
                _ => Err(wrong(
                    s,
                    "a thickness from 1 mm to 500 mm, such as 34mm",
                    "measure the thickest place",
                )),
            }
        }
        _ => {
            let line = step
                .lines
                .iter_mut()
                .find(|l| matches!(&l.item, LineItem::Item(i) | LineItem::Recipe(i) if *i == key));
            match line.map(|l| &mut l.amount) {
                Some(LineAmount::OfBase(pct)) => {
                    *pct = percent(s, 0.0, 1000.0)?;
                    Ok(())
                }
                Some(_) => Err(wrong(
                    s,
                    "a line in percent of a base",
                    "change the recipe instead",
                )),
                None => Err(missing),
            }
        }
    }
}
