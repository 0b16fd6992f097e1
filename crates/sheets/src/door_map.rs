//! The door map of a store: what stands or hangs where, ready over raw, until when; temperatures twice a day.

use jiff::civil::Date;
use kitchen::recipe::{ProductClass, Recipe};
use kitchen::site::Machine;
use kitchen::verb::Verb;
use plan::timeline::Held;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Writer, file, number, strong, text};

/// Thousandths in a place of a machine.
const THOUSANDTHS: f64 = 1000.0;

/// One thing behind the door.
struct Standing {
    name: String,
    code: String,
    raw: bool,
    state: String,
    slots: f64,
    from: i64,
    to: i64,
    discard: Option<Date>,
}

/// A map for every place in which something waits.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.plan
        .scene
        .site
        .machines
        .iter()
        .filter_map(|m| map(w, m))
        .collect()
}

fn map(w: &Writer<'_>, machine: &Machine) -> Option<Sheet> {
    let mut standing: Vec<Standing> = w
        .plan
        .timeline
        .held
        .iter()
        .filter(|h| h.machine == machine.id)
        .filter_map(|h| of(w, h))
        .collect();
    if standing.is_empty() {
        return None;
    }
    // From the top: ready food first, what is used last at the back of it; raw at the bottom, whatever its date.
    standing.sort_by(|a, b| (a.raw, a.to, &a.name, a.from).cmp(&(b.raw, b.to, &b.name, b.from)));
    let rows = standing
        .iter()
        .map(|s| {
            vec![
                strong(w.say(if s.raw { "shelf-raw" } else { "shelf-ready" })),
                text(format!("{} ({})", s.name, s.state)),
                text(s.code.clone()),
                number(w.words.short(s.slots, 1)),
                text(w.moment(s.from)),
                text(w.moment(s.to)),
                s.discard
                    .map_or(Cell::Nothing, |d| strong(w.words.short_day(d))),
            ]
        })
        .collect();
    let first = w.date(standing.iter().map(|s| s.from).min()?)?;
    let last = w.date(standing.iter().map(|s| s.to).max()?)?;
    let capacity = w.words.short(machine.capacity, 1);
    let most = w.words.short(fullest(&standing), 1);
    let mut blocks = vec![
        Block::Facts(vec![
            w.fact("fact-places", number(capacity)),
            w.fact("fact-fullest", number(most)),
        ]),
        w.line("door-map-rule"),
        w.table(
            &[
                ("column-shelf", 1.2),
                ("column-what", 3.0),
                ("column-lot", 1.2),
                ("column-slots", 0.8),
                ("column-in", 1.6),
                ("column-out", 1.6),
                ("column-discard-by", 1.4),
            ],
            rows,
        ),
        w.heading("heading-twice-a-day"),
        twice_a_day(w, first, last),
        w.line("door-map-too-warm"),
    ];
    blocks.push(w.lines("what-was-done", 2));
    let mut codes: Vec<String> = standing.iter().map(|s| s.code.clone()).collect();
    codes.sort_unstable();
    codes.dedup();
    Some(w.sheet(
        &file(&["door-map", machine.id.as_str()]),
        (Kind::DoorMap, Size::Page),
        (
            w.say_with("door-map", &[("name", (&machine.name).into())]),
            vec![w.plan.scene.event.name.clone()],
        ),
        blocks,
        &codes,
    ))
}

/// The fullest moment, which is at a start.
fn fullest(standing: &[Standing]) -> f64 {
    standing
        .iter()
        .map(|at| {
            standing
                .iter()
                .filter(|s| s.from <= at.from && at.from < s.to)
                .map(|s| s.slots)
                .sum()
        })
        .fold(0.0, f64::max)
}

fn of(w: &Writer<'_>, held: &Held) -> Option<Standing> {
    let task = w
        .plan
        .timeline
        .tasks
        .iter()
        .find(|t| t.meaning.id == held.task)?;
    let (component, step) = (
        task.meaning.component.as_ref()?,
        task.meaning.step.as_ref()?,
    );
    let recipe = w.plan.scene.book.recipes.get(component)?;
    let at = recipe.position(step)?;
    // A machine that runs on it is no store: a store is where a lot waits after the step.
    let waits = recipe.steps[at].uses.iter().any(|u| {
        u.machine == held.machine
            && matches!(
                u.during,
                kitchen::step::During::Wait | kitchen::step::During::All
            )
    });
    #[allow(clippy::cast_precision_loss)] // thousandths of a few slots
    let slots = held.amount as f64 / THOUSANDTHS;
    waits.then(|| Standing {
        name: w.name(component),
        code: w.code(component),
        raw: is_raw(recipe, at),
        state: w.say(state_key(recipe, at)),
        slots,
        from: held.from,
        to: held.to,
        discard: (at == recipe.last() || dated(recipe, at))
            .then(|| w.discard_date(component))
            .flatten(),
    })
}

/// Whether the date mark of a recipe runs after a step.
pub(crate) fn dated(recipe: &Recipe, at: usize) -> bool {
    recipe
        .keeps_for
        .as_ref()
        .and_then(|k| recipe.position(&k.from))
        .is_some_and(|from| at >= from)
}

/// Fish and meat count as raw until a step has heated them; what is never heated is raw to the end.
pub(crate) fn is_raw(recipe: &Recipe, at: usize) -> bool {
    let animal = recipe.product.as_ref().is_some_and(|p| {
        matches!(
            p.class,
            ProductClass::SmokedFish
                | ProductClass::DryCuredMeat
                | ProductClass::ImmersedMeat
                | ProductClass::PumpedMeat
        )
    });
    animal
        && !recipe.steps[..=at]
            .iter()
            .any(|s| matches!(s.verb, Verb::HotSmoke | Verb::Cook | Verb::Brew))
}

/// The words for what a lot is after a step: what was done to it, and what was not.
pub(crate) fn state_key(recipe: &Recipe, at: usize) -> &'static str {
    let done = |verbs: &[Verb]| recipe.steps[..=at].iter().any(|s| verbs.contains(&s.verb));
    let cured = done(&[Verb::DryCure]);
    let brined = done(&[Verb::Brine, Verb::Pump]);
    if done(&[Verb::HotSmoke]) {
        return "state-hot-smoked";
    }
    if done(&[Verb::ColdSmoke]) {
        return "state-cold-smoked";
    }
    if done(&[Verb::Cook]) {
        return "state-cooked";
    }
    match (
        done(&[Verb::Hang]),
        cured,
        brined,
        done(&[Verb::Pickle]),
        is_raw(recipe, at),
    ) {
        (true, ..) => "state-dry-cured-hung",
        (_, true, ..) => "state-cured-not-smoked",
        (_, _, true, ..) => "state-brined-not-smoked",
        (_, _, _, true, _) => "state-pickled",
        (.., true) => "state-raw",
        _ => "state-ready",
    }
}

fn twice_a_day(w: &Writer<'_>, first: Date, last: Date) -> Block {
    let mut rows = Vec::new();
    let mut day = Some(first);
    while let Some(date) = day.filter(|d| *d <= last) {
        rows.push(vec![
            text(w.words.short_day(date)),
            Cell::WriteIn,
            Cell::WriteIn,
            Cell::WriteIn,
            Cell::WriteIn,
        ]);
        day = date.tomorrow().ok();
    }
    w.table(
        &[
            ("column-day", 1.5),
            ("column-morning", 1.2),
            ("column-initials", 0.8),
            ("column-evening", 1.2),
            ("column-initials", 0.8),
        ],
        rows,
    )
}
