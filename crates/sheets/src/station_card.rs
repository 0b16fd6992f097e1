//! The station card: what one station does, by the clock; nothing of what it costs and nothing of the others.

use jiff::civil::Date;
use kitchen::step::{LineAmount, Step as BookStep};
use plan::tasks::Kind as TaskKind;
use plan::timeline::Timed;

use crate::formula::{count, per_piece, put_in};
use crate::model::{Block, Cell, Kind, Sheet, Size, Step};
use crate::stations::Station;
use crate::writer::{Place, Writer, file, strong, text};

/// More steps than this are not read from one card: each session then has a card of its own.
pub(crate) const MOST_STEPS: usize = 10;

/// Acts whose reason is worth a line, the one that asks most of the hands first.
const REASONS: &[&str] = &[
    "dry-cure",
    "brine",
    "pump",
    "hot-smoke",
    "cold-smoke",
    "chill",
    "emulsify",
    "pickle",
    "brew",
    "hang",
    "air-dry",
    "fillet",
    "trim",
    "steep",
    "strain",
    "carve",
    "wash",
    "cut",
    "receive",
];

/// A card a station, or a card a station and session where one card would be too long to read.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    let mut cards = Vec::new();
    for station in w.stations() {
        let days: Vec<(Date, Vec<Shown<'_>>)> = w
            .work_days()
            .into_iter()
            .map(|day| (day, of_day(w, &station, day)))
            .filter(|(_, steps)| !steps.is_empty())
            .collect();
        let all: usize = days.iter().map(|(_, steps)| steps.len()).sum();
        if all <= MOST_STEPS {
            cards.push(card(w, &station, &days, None));
        } else {
            for (day, steps) in days {
                cards.push(card(w, &station, &[(day, steps)], Some(day)));
            }
        }
    }
    cards
}

/// A step on the card: a task, or the rounds of one step taken together.
struct Shown<'a> {
    task: &'a Timed,
    /// Starts of further rounds.
    again: Vec<i64>,
}

fn of_day<'a>(w: &Writer<'a>, station: &Station, day: Date) -> Vec<Shown<'a>> {
    let mut shown: Vec<Shown<'a>> = Vec::new();
    let plan = w.plan;
    for task in plan
        .timeline
        .tasks
        .iter()
        .filter(|t| station.is_at(t) && w.date(t.start) == Some(day))
    {
        let same = shown.iter_mut().find(|s| {
            task.meaning.kind == TaskKind::Round
                && s.task.meaning.kind == TaskKind::Round
                && s.task.meaning.component == task.meaning.component
                && s.task.meaning.step == task.meaning.step
                && crate::hours::load(s.task) == crate::hours::load(task)
        });
        match same {
            Some(first) => first.again.push(task.start),
            None => shown.push(Shown {
                task,
                again: Vec::new(),
            }),
        }
    }
    shown
}

fn card(
    w: &Writer<'_>,
    station: &Station,
    days: &[(Date, Vec<Shown<'_>>)],
    day: Option<Date>,
) -> Sheet {
    let who = w.people(&station.people);
    let mut blocks = vec![Block::Facts(vec![
        w.fact("fact-name", Cell::WriteIn),
        w.fact("fact-kit", text(kit(w, days))),
    ])];
    let mut weighed = Vec::new();
    for (date, steps) in days {
        if day.is_none() {
            blocks.push(Block::Heading(w.words.day(*date)));
        }
        blocks.push(Block::Steps(
            steps.iter().map(|s| step(w, station, s)).collect(),
        ));
        for shown in steps
            .iter()
            .filter(|s| s.task.meaning.kind == TaskKind::Hands)
        {
            if let Some(p) = w.place_of(shown.task)
                && !weighed.contains(&p.step.id)
            {
                weighed.push(p.step.id.clone());
                blocks.extend(weights(w, &p, shown.task));
            }
        }
    }
    let places: Vec<Place<'_>> = days
        .iter()
        .flat_map(|(_, s)| s)
        .filter_map(|s| w.place_of(s.task))
        .collect();
    for p in &places {
        for caution in w.cautions(p) {
            if !blocks.contains(&caution) {
                blocks.push(caution);
            }
        }
    }
    let acts: Vec<&str> = places.iter().map(|p| p.step.verb.word()).collect();
    if let Some(act) = REASONS.iter().find(|r| acts.contains(r)) {
        let why = w.say(&format!("why-{act}"));
        blocks.push(Block::Text(
            w.say_with("why-line", &[("why", (&why).into())]),
        ));
    }
    blocks.push(Block::Facts(vec![w.fact("fact-signed-off", Cell::WriteIn)]));
    let mut codes: Vec<String> = places.iter().map(|p| w.code(&p.recipe.id)).collect();
    codes.sort_unstable();
    codes.dedup();
    let mut id = vec![
        "station-card".to_owned(),
        plan::wording::people(&station.people),
    ];
    id.extend(day.map(|d| d.to_string()));
    let parts: Vec<&str> = id.iter().map(String::as_str).collect();
    let mut under = vec![w.plan.scene.event.name.clone()];
    under.extend(day.map(|d| w.words.day(d)));
    w.sheet(
        &file(&parts),
        (Kind::StationCard, Size::Card),
        (w.say_with("station-card", &[("who", (&who).into())]), under),
        blocks,
        &codes,
    )
}

/// Machines and scales the steps ask for.
fn kit(w: &Writer<'_>, days: &[(Date, Vec<Shown<'_>>)]) -> String {
    let mut kit: Vec<String> = Vec::new();
    let mut add = |name: String| {
        if !kit.contains(&name) {
            kit.push(name);
        }
    };
    for shown in days.iter().flat_map(|(_, s)| s) {
        for (id, _) in &shown.task.meaning.machines {
            add(w.machine(id));
        }
        let Some(p) = w
            .place_of(shown.task)
            .filter(|_| shown.task.meaning.kind == TaskKind::Hands)
        else {
            continue;
        };
        for used in &p.step.uses {
            add(w.machine(&used.machine));
        }
        for (line, g) in p.step.lines.iter().zip(&p.flow.lines) {
            if !matches!(line.amount, LineAmount::PerPiece(_)) {
                let curing = w.item(&line.item, None).1;
                add(w.scale(put_in(g), curing));
            }
        }
        if p.step.until.is_some() {
            add(w.say("kit-probe"));
        }
    }
    if kit.is_empty() {
        w.say("kit-usual")
    } else {
        kit.join("; ")
    }
}

fn step(w: &Writer<'_>, station: &Station, shown: &Shown<'_>) -> Step {
    let t = shown.task;
    let when = match shown.again.last() {
        Some(last) => format!("{}–{}", w.hour(t.start), w.hour(*last)),
        None => w.hour(t.start),
    };
    let name = t.meaning.component.as_ref().map(|c| w.name(c));
    let mut what = match name {
        Some(name) => format!("{name}: {}", t.meaning.what),
        None => t.meaning.what.clone(),
    };
    if !shown.again.is_empty() {
        what.push_str(&format!(
            " ({})",
            w.say_with("times", &[("n", (shown.again.len() + 1).into())])
        ));
    }
    let here: Vec<String> = t
        .people
        .iter()
        .filter(|p| station.people.contains(p))
        .cloned()
        .collect();
    if here.len() < station.people.len() {
        what.push_str(&format!(" [{}]", w.people(&here)));
    }
    let hold = w
        .place_of(t)
        .filter(|_| t.meaning.kind == TaskKind::Hands)
        .map_or_else(String::new, |p| held(w, &p, p.step));
    let until = w.hour(t.end);
    Step {
        when,
        what,
        hold: [w.say_with("done-by", &[("hour", (&until).into())]), hold]
            .into_iter()
            .filter(|s| !s.is_empty())
            .collect::<Vec<_>>()
            .join("; "),
        why: String::new(),
    }
}

/// What to hold to: core, cold, and the window of what comes next.
fn held(w: &Writer<'_>, p: &Place<'_>, step: &BookStep) -> String {
    let mut parts = Vec::new();
    if let Some(until) = step.until {
        let core = w.temperature(until.core.c());
        let hold = w.words.span(until.hold.whole_minutes());
        parts.push(w.say_with(
            "hold-core",
            &[("core", (&core).into()), ("hold", (&hold).into())],
        ));
    }
    if let Some(at) = step.wait.at_most {
        let at = w.temperature(at.c());
        parts.push(w.say_with("hold-cold", &[("most", (&at).into())]));
    }
    if let Some(next) = w.taken(&p.recipe.id, p.at)
        && next.latest > next.earliest
        && step.wait.max.minutes() > 0.0
    {
        let today = w.ends(&p.recipe.id, &step.id).and_then(|at| w.date(at));
        let short = |at: i64| {
            if w.date(at) == today {
                w.hour(at)
            } else {
                w.moment(at)
            }
        };
        let (earliest, latest) = (short(next.earliest), short(next.latest));
        parts.push(w.say_with(
            "hold-next",
            &[
                ("earliest", (&earliest).into()),
                ("latest", (&latest).into()),
            ],
        ));
    }
    parts.join("; ")
}

/// One column of weights with a box for what was weighed.
fn weights(w: &Writer<'_>, p: &Place<'_>, task: &Timed) -> Vec<Block> {
    if p.step.lines.is_empty() {
        return Vec::new();
    }
    let mut rows = Vec::new();
    for (line, g) in p.step.lines.iter().zip(&p.flow.lines) {
        let (name, curing) = w.item(&line.item, line.form.as_deref());
        rows.push(match line.amount {
            LineAmount::PerPiece(each) => {
                let n = w.say_with("pieces-each", &[("n", count(each).into())]);
                vec![text(name), strong(n), Cell::Nothing, Cell::Tick]
            }
            _ => vec![
                text(name),
                strong(w.weight(put_in(g), curing)),
                text(w.scale(put_in(g), curing)),
                Cell::WriteIn,
            ],
        });
    }
    let key = if task.people.len() > 1 {
        "weights-together"
    } else {
        "weights-own"
    };
    let mut blocks = vec![
        Block::Heading(w.say_with(
            key,
            &[
                ("name", (&p.component.name).into()),
                ("n", task.people.len().into()),
            ],
        )),
        w.table(
            &[
                ("column-what", 3.0),
                ("column-weigh", 2.0),
                ("column-scale", 2.0),
                ("column-weighed", 1.5),
            ],
            rows,
        ),
    ];
    if let Some((piece, mix)) = per_piece(w, p) {
        let (piece, mix) = (w.weight(piece, false), w.weight(mix, true));
        blocks.push(Block::Text(w.say_with(
            "formula-per-piece",
            &[("piece", (&piece).into()), ("mix", (&mix).into())],
        )));
    }
    blocks
}
