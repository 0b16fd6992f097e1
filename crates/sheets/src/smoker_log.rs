//! The smoker log: programme, load map, a row every half hour, the hold clock, room for what went wrong.

use kitchen::verb::Verb;
use plan::tasks::Kind as TaskKind;
use plan::timeline::Timed;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Place, Writer, file, number, strong, text};

/// From one row to the next, minutes: what the trade writes down. Common practice, no source.
const EVERY: i64 = 30;
/// Shelves of the load map; a smaller cabinet leaves some empty.
const SHELVES: usize = 5;
/// Rows for a run that lasts longer than planned.
const SPARE_ROWS: usize = 4;

/// A log for every load of every step that smokes.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    let mut logs = Vec::new();
    for p in w
        .places()
        .into_iter()
        .filter(|p| matches!(p.step.verb, Verb::HotSmoke | Verb::ColdSmoke))
    {
        let runs: Vec<&Timed> = w
            .tasks_of(&p.recipe.id, &p.step.id)
            .into_iter()
            .filter(|t| t.meaning.kind == TaskKind::Run)
            .collect();
        for run in &runs {
            logs.push(log(w, &p, run, runs.len()));
        }
    }
    logs
}

fn log(w: &Writer<'_>, p: &Place<'_>, run: &Timed, loads: usize) -> Sheet {
    let load = crate::hours::load(run);
    let mut facts = vec![
        w.fact(
            "fact-on",
            text(
                run.meaning
                    .machines
                    .iter()
                    .map(|(id, _)| w.machine(id))
                    .collect::<Vec<_>>()
                    .join(", "),
            ),
        ),
        w.fact(
            "fact-load-weight",
            strong(w.kilograms(p.flow.in_g / f64::from(p.flow.loads.max(1)))),
        ),
        w.fact("fact-starts", strong(w.moment(run.start))),
        w.fact("fact-ends", strong(w.moment(run.end))),
    ];
    for (line, g) in p.step.lines.iter().zip(&p.flow.lines) {
        let (name, _) = w.item(&line.item, line.form.as_deref());
        facts.push((
            name,
            text(w.weight(g.made_g / f64::from(p.flow.loads.max(1)), false)),
        ));
    }
    let mut blocks = vec![
        Block::Facts(facts),
        w.heading("heading-programme"),
        programme(w, p),
    ];
    if let Some(until) = p.step.until {
        let core = w.temperature(until.core.c());
        let hold = w.words.span(until.hold.whole_minutes());
        blocks.push(Block::Big {
            word: w.say_with("hold-clock", &[("hold", (&hold).into())]),
            number: format!("≥ {core}"),
        });
        blocks.push(w.line("hold-clock-rule"));
        blocks.push(Block::Facts(vec![
            w.fact("fact-hold-started", Cell::WriteIn),
            w.fact("fact-hold-broken", Cell::WriteIn),
            w.fact("fact-hold-ended", Cell::WriteIn),
        ]));
    } else {
        blocks.push(w.line("no-core-aimed-at"));
    }
    blocks.push(w.heading("heading-load-map"));
    blocks.push(load_map(w));
    blocks.push(w.heading("heading-readings"));
    blocks.push(readings(w, run));
    blocks.push(w.line("readings-rule"));
    blocks.push(w.lines("deviation", 3));
    blocks.extend(w.cautions(p));
    let code = w.code(&p.recipe.id);
    let mut id = vec![
        "smoker-log".to_owned(),
        p.recipe.id.to_string(),
        p.step.id.to_string(),
    ];
    let mut under = vec![p.step.what.clone()];
    if loads > 1 {
        id.push(load.to_string());
        under.push(w.say_with("load-of", &[("n", load.into()), ("all", loads.into())]));
    }
    let parts: Vec<&str> = id.iter().map(String::as_str).collect();
    w.sheet(
        &file(&parts),
        (Kind::SmokerLog, Size::Page),
        (
            w.say_with("smoker-log", &[("name", (&p.component.name).into())]),
            under,
        ),
        blocks,
        &[code],
    )
}

fn programme(w: &Writer<'_>, p: &Place<'_>) -> Block {
    let rows = p
        .step
        .programme
        .iter()
        .map(|s| {
            vec![
                text(s.what.clone()),
                s.air
                    .map_or(Cell::Nothing, |t| number(w.temperature(t.c()))),
                number(w.words.span(s.time.whole_minutes())),
                text(w.say(if s.smoke { "smoke-on" } else { "smoke-off" })),
            ]
        })
        .collect();
    w.table(
        &[
            ("column-part", 2.0),
            ("column-air", 1.5),
            ("column-time", 1.0),
            ("column-smoke", 1.0),
        ],
        rows,
    )
}

fn load_map(w: &Writer<'_>) -> Block {
    let rows = (1..=SHELVES)
        .map(|n| {
            vec![
                number(n.to_string()),
                Cell::WriteIn,
                Cell::WriteIn,
                Cell::WriteIn,
            ]
        })
        .collect();
    w.table(
        &[
            ("column-shelf", 0.6),
            ("column-left", 2.0),
            ("column-middle", 2.0),
            ("column-right", 2.0),
        ],
        rows,
    )
}

fn readings(w: &Writer<'_>, run: &Timed) -> Block {
    let mut hours: Vec<Option<i64>> = Vec::new();
    let mut at = run.start;
    while at < run.end {
        hours.push(Some(at));
        at += EVERY;
    }
    hours.push(Some(run.end));
    hours.extend([None; SPARE_ROWS]);
    let rows = hours
        .into_iter()
        .map(|at| {
            let mut row = vec![at.map_or(Cell::WriteIn, |at| number(w.hour(at)))];
            row.resize(9, Cell::WriteIn);
            row
        })
        .collect();
    w.table(
        &[
            ("column-planned", 1.0),
            ("column-real", 1.0),
            ("column-cabinet", 1.0),
            ("column-core-1", 1.0),
            ("column-core-2", 1.0),
            ("column-core-3", 1.0),
            ("column-smoke", 1.0),
            ("column-damper", 1.0),
            ("column-initials", 1.0),
        ],
        rows,
    )
}
