//! The day board: time down, people across, a lane left empty for real times.

use std::collections::BTreeMap;

use jiff::civil::Date;
use plan::tasks::Kind as TaskKind;
use plan::timeline::Timed;

use crate::model::{Bar, Bars, Block, Kind, Lane, Sheet, Size};
use crate::writer::{Writer, file, number, strong, text};

/// The fine lines of the grid, minutes.
const GRID: u32 = 5;
/// A labelled line, minutes.
const HOUR: u32 = 60;
/// A task with less slack than this must not be missed, minutes: shorter than the grid.
const MUST_NOT_MISS: i64 = 5;

/// A board for every day on which somebody has work.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.work_days()
        .into_iter()
        .filter_map(|day| board(w, day))
        .collect()
}

fn board(w: &Writer<'_>, day: Date) -> Option<Sheet> {
    let (first, last) = w.day_span(day)?;
    let tasks: Vec<&Timed> = w
        .plan
        .timeline
        .tasks
        .iter()
        .filter(|t| t.start < last && t.end > first && t.start < t.end)
        .filter(|t| !matches!(t.meaning.kind, TaskKind::Passing))
        .collect();
    let at_work: Vec<&&Timed> = tasks.iter().filter(|t| !t.people.is_empty()).collect();
    let hour = i64::from(HOUR);
    let from = at_work.iter().map(|t| t.start).min()?.div_euclid(hour) * hour;
    let to = (at_work.iter().map(|t| t.end).max()? + hour - 1).div_euclid(hour) * hour;
    let bar = |t: &Timed| Bar {
        from: within(t.start - from, to - from),
        to: within(t.end - from, to - from),
        words: words(w, t),
        work: !t.people.is_empty(),
        fixed: t.slack < MUST_NOT_MISS
            && matches!(t.meaning.kind, TaskKind::Hands | TaskKind::Plating),
        could: None,
    };
    let mut lanes = people(w, &tasks, &bar);
    lanes.extend(machines(w, &tasks, &bar));
    lanes.push(Lane {
        name: w.say("lane-real-times"),
        bars: Vec::new(),
        blank: true,
    });
    let serve = w.serve().filter(|s| (from..=to).contains(s));
    let minutes = within(to - from, to - from);
    let marks = (0..=minutes)
        .step_by(GRID as usize)
        .map(|m| {
            let word = if m % HOUR == 0 {
                w.hour(from + i64::from(m))
            } else {
                String::new()
            };
            (m, word)
        })
        .collect();
    let absent = w.without_work((first, last));
    let nobody = w.say("nobody");
    let mut blocks = vec![
        Block::Facts(vec![
            w.fact(
                "fact-no-work-today",
                text(if absent.is_empty() {
                    nobody
                } else {
                    w.people(&absent)
                }),
            ),
            w.fact("fact-absent", crate::model::Cell::WriteIn),
        ]),
        Block::Bars(Bars {
            down: true,
            minutes,
            marks,
            shaded: Vec::new(),
            lanes,
            service: serve.map(|s| (within(s - from, to - from), w.say("service"))),
        }),
        w.line("day-board-legend"),
    ];
    blocks.push(must_not_miss(w, &tasks));
    let mut codes: Vec<String> = tasks
        .iter()
        .filter_map(|t| t.meaning.component.as_ref())
        .map(|c| w.code(c))
        .collect();
    codes.sort_unstable();
    codes.dedup();
    let title = w.say("day-board");
    Some(w.sheet(
        &file(&["day-board", &day.to_string()]),
        (Kind::DayBoard, Size::Wall),
        (
            title,
            vec![w.words.day(day), w.plan.scene.event.name.clone()],
        ),
        blocks,
        &codes,
    ))
}

/// People with the very same bars share a lane: 24 learners at one task are one lane.
fn people(w: &Writer<'_>, tasks: &[&Timed], bar: &dyn Fn(&Timed) -> Bar) -> Vec<Lane> {
    let mut by_person: BTreeMap<usize, (String, Vec<&Timed>)> = BTreeMap::new();
    for (at, station) in w
        .stations()
        .iter()
        .flat_map(|s| s.people.clone())
        .enumerate()
    {
        let own: Vec<&Timed> = tasks
            .iter()
            .copied()
            .filter(|t| t.people.contains(&station))
            .collect();
        if !own.is_empty() {
            by_person.insert(at, (station, own));
        }
    }
    let mut lanes: Vec<(Vec<String>, Vec<&Timed>)> = Vec::new();
    for (_, (person, own)) in by_person {
        let same = |other: &[&Timed]| {
            other.len() == own.len()
                && other
                    .iter()
                    .zip(&own)
                    .all(|(a, b)| a.meaning.id == b.meaning.id)
        };
        match lanes.iter_mut().find(|(_, tasks)| same(tasks)) {
            Some((names, _)) => names.push(person),
            None => lanes.push((vec![person], own)),
        }
    }
    lanes
        .into_iter()
        .map(|(names, own)| Lane {
            name: w.people(&names),
            bars: own.into_iter().map(bar).collect(),
            blank: false,
        })
        .collect()
}

/// Machines that run by themselves that day; two loads at one time stand in two lanes.
fn machines(w: &Writer<'_>, tasks: &[&Timed], bar: &dyn Fn(&Timed) -> Bar) -> Vec<Lane> {
    let mut lanes: Vec<Lane> = Vec::new();
    for task in tasks.iter().filter(|t| t.meaning.kind == TaskKind::Run) {
        let names = task
            .meaning
            .machines
            .iter()
            .map(|(id, _)| w.machine(id))
            .collect::<Vec<_>>();
        let name = if names.is_empty() {
            w.say("lane-by-itself")
        } else {
            names.join(", ")
        };
        let bar = bar(task);
        match lanes
            .iter_mut()
            .find(|l| l.name == name && l.bars.iter().all(|b| b.to <= bar.from || bar.to <= b.from))
        {
            Some(lane) => lane.bars.push(bar),
            None => lanes.push(Lane {
                name,
                bars: vec![bar],
                blank: false,
            }),
        }
    }
    lanes
}

/// The starts that must not be missed, with who has to be there.
fn must_not_miss(w: &Writer<'_>, tasks: &[&Timed]) -> Block {
    let mut rows: Vec<Vec<crate::model::Cell>> = Vec::new();
    for t in tasks.iter().filter(|t| {
        matches!(
            t.meaning.kind,
            TaskKind::Hands | TaskKind::Plating | TaskKind::Around
        )
    }) {
        let latest = t.latest.min(t.start.saturating_add(t.slack)).max(t.start);
        let cell = if t.slack < MUST_NOT_MISS {
            strong
        } else {
            number
        };
        rows.push(vec![
            strong(w.hour(t.start)),
            text(words(w, t)),
            text(
                t.meaning
                    .component
                    .as_ref()
                    .map_or_else(String::new, |c| w.name(c)),
            ),
            text(w.people(&t.people)),
            cell(if w.date(latest) == w.date(t.start) {
                w.hour(latest)
            } else {
                w.moment(latest)
            }),
            crate::model::Cell::WriteIn,
        ]);
    }
    w.table(
        &[
            ("column-start", 1.0),
            ("column-lot-step", 2.0),
            ("column-what", 3.0),
            ("column-who", 2.0),
            ("column-latest-start", 1.0),
            ("column-real", 1.0),
        ],
        rows,
    )
}

/// Code and step: "2TK7QX cure". A step of no lot is called by its own words.
fn words(w: &Writer<'_>, t: &Timed) -> String {
    let (Some(component), Some(step)) = (&t.meaning.component, &t.meaning.step) else {
        return match t.meaning.kind {
            TaskKind::Serve => w.say("service"),
            _ => t.meaning.what.clone(),
        };
    };
    let step = step.as_str().replace('-', " ");
    let code = w.code(component);
    let load = crate::hours::load(t);
    let mut words = format!("{code} {step}");
    if t.meaning.id.contains('#') {
        words.push(' ');
        words.push_str(&w.say_with("load-n", &[("n", load.into())]));
    }
    match t.meaning.kind {
        TaskKind::Round => format!("{words}: {}", t.meaning.what),
        TaskKind::Relief => format!("{code} {}", t.meaning.what),
        _ => words,
    }
}

/// Minutes of the board; what lies outside it is cut at its edge, where the bar goes on.
fn within(minutes: i64, last: i64) -> u32 {
    u32::try_from(minutes.clamp(0, last.max(0))).unwrap_or(0)
}
