//! The back-plan strip: all days of an event, a lane a lot, waits with how early and how late they may end.

use jiff::civil::Date;
use plan::tasks::Kind as TaskKind;
use plan::timeline::Timed;

use crate::model::{Bar, Bars, Block, Cell, Kind, Lane, Sheet, Size};
use crate::writer::{Writer, number, text};

/// Waits shorter than this are no bar on a strip of days, minutes.
const SHORT: i64 = 30;

/// One strip for the whole event; none where there is no clock.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    strip(w).into_iter().collect()
}

fn strip(w: &Writer<'_>) -> Option<Sheet> {
    let tasks = &w.plan.timeline.tasks;
    let first = w.date(
        tasks
            .iter()
            .filter(|t| t.meaning.component.is_some())
            .map(|t| t.start)
            .min()?,
    )?;
    let last = w.date(tasks.iter().map(|t| t.end).max()?)?;
    let (from, to) = (w.day_span(first)?.0, w.day_span(last)?.1);
    let place = |minute: i64| u32::try_from((minute - from).clamp(0, to - from)).unwrap_or(0);
    let mut lanes = Vec::new();
    let mut rows = Vec::new();
    for c in &w.plan.components {
        let own: Vec<&Timed> = tasks
            .iter()
            .filter(|t| t.meaning.component.as_ref() == Some(&c.recipe))
            .filter(|t| !matches!(t.meaning.kind, TaskKind::Round))
            .collect();
        let mut bars: Vec<Bar> = Vec::new();
        let mut done: Option<i64> = None;
        for t in own {
            let step = t
                .meaning
                .step
                .as_ref()
                .map_or_else(String::new, |s| s.as_str().replace('-', " "));
            if let Some(end) = done.filter(|end| t.start - end >= SHORT) {
                let could =
                    (t.earliest <= t.latest).then(|| (place(t.earliest.max(end)), place(t.latest)));
                bars.push(Bar {
                    from: place(end),
                    to: place(t.start),
                    words: w.words.span(t.start - end),
                    work: false,
                    fixed: false,
                    could,
                });
                rows.push(vec![
                    text(w.named(&c.recipe)),
                    text(step.clone()),
                    number(w.moment(t.start)),
                    number(w.words.span(t.start - end)),
                    number(w.moment(t.earliest.max(end))),
                    number(w.moment(t.latest)),
                ]);
            }
            // Two loads at a time are one bar of the lot.
            let starts = done.map_or(t.start, |end| t.start.max(end));
            if starts < t.end {
                bars.push(Bar {
                    from: place(starts),
                    to: place(t.end),
                    words: step,
                    work: true,
                    fixed: t.slack == 0 && t.meaning.kind == TaskKind::Hands,
                    could: None,
                });
            }
            done = Some(done.map_or(t.end, |end| end.max(t.end)));
        }
        lanes.push(Lane {
            name: w.named(&c.recipe),
            bars,
            blank: false,
        });
    }
    let days = days(first, last);
    let marks = days
        .iter()
        .filter_map(|d| Some((place(w.day_span(*d)?.0), w.words.short_day(*d))))
        .collect();
    let mut blocks = vec![
        Block::Bars(Bars {
            down: false,
            minutes: place(to),
            marks,
            shaded: nights(w, &days, from, to, &place),
            lanes,
            service: w.serve().map(|s| (place(s), w.say("service"))),
        }),
        w.line("back-plan-legend"),
        w.heading("heading-waits"),
        w.table(
            &[
                ("column-lot", 3.0),
                ("column-next-step", 2.0),
                ("column-planned", 2.0),
                ("column-waits", 2.0),
                ("column-earliest", 2.0),
                ("column-latest", 2.0),
            ],
            rows,
        ),
    ];
    for wait in w.plan.timeline.waits.iter().filter(|s| s.clock_change != 0) {
        let elapsed = w.words.span(wait.minutes);
        let wall = w.words.span(wait.minutes + wait.clock_change);
        blocks.push(Block::Text(w.say_with(
            "clock-change",
            &[
                ("task", (&wait.to).into()),
                ("elapsed", (&elapsed).into()),
                ("wall", (&wall).into()),
            ],
        )));
    }
    blocks.push(Block::Facts(vec![
        w.fact("fact-written-down-by", Cell::WriteIn),
    ]));
    Some(w.sheet(
        "back-plan",
        (Kind::BackPlan, Size::WallWide),
        (w.say("back-plan"), vec![w.plan.scene.event.name.clone()]),
        blocks,
        &w.codes(),
    ))
}

fn days(first: Date, last: Date) -> Vec<Date> {
    let mut days = vec![first];
    while let Some(next) = days
        .last()
        .and_then(|d| d.tomorrow().ok())
        .filter(|d| *d <= last)
    {
        days.push(next);
    }
    days
}

/// The hours the building is closed.
fn nights(
    w: &Writer<'_>,
    days: &[Date],
    from: i64,
    to: i64,
    place: &dyn Fn(i64) -> u32,
) -> Vec<(u32, u32)> {
    let mut open: Vec<(i64, i64)> = days.iter().flat_map(|d| w.plan.open_hours(*d)).collect();
    open.sort_unstable();
    let mut nights = Vec::new();
    let mut closed_from = from;
    for (opens, closes) in open {
        if opens > closed_from {
            nights.push((place(closed_from), place(opens)));
        }
        closed_from = closed_from.max(closes);
    }
    if closed_from < to {
        nights.push((place(closed_from), place(to)));
    }
    nights
}
