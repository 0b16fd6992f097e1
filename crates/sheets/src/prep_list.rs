//! The prep list of a day: who, what, how much, how long, and a box to tick.

use jiff::civil::Date;
use plan::tasks::Kind as TaskKind;
use plan::timeline::Timed;

use crate::model::{Cell, Kind, Sheet, Size};
use crate::writer::{Writer, file, number, strong, text};

/// A list for every day on which somebody has work.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.work_days().into_iter().map(|day| list(w, day)).collect()
}

fn list(w: &Writer<'_>, day: Date) -> Sheet {
    let tasks: Vec<&Timed> = w
        .plan
        .timeline
        .tasks
        .iter()
        .filter(|t| !t.people.is_empty() && w.date(t.start) == Some(day))
        .collect();
    let rows = tasks
        .iter()
        .map(|t| {
            let what = match &t.meaning.component {
                Some(c) => format!("{}: {}", w.named(c), t.meaning.what),
                None => t.meaning.what.clone(),
            };
            vec![
                number(w.hour(t.start)),
                text(w.people(&t.people)),
                strong(what),
                grams(w, t).map_or(Cell::Nothing, |g| number(w.kilograms(g))),
                number((t.end - t.start).to_string()),
                text(
                    t.meaning
                        .machines
                        .iter()
                        .map(|(id, _)| w.machine(id))
                        .collect::<Vec<_>>()
                        .join(", "),
                ),
                Cell::Tick,
            ]
        })
        .collect();
    let mut codes: Vec<String> = tasks
        .iter()
        .filter_map(|t| t.meaning.component.as_ref())
        .map(|c| w.code(c))
        .collect();
    codes.sort_unstable();
    codes.dedup();
    w.sheet(
        &file(&["prep-list", &day.to_string()]),
        (Kind::PrepList, Size::Page),
        (
            w.say("prep-list"),
            vec![w.words.day(day), w.plan.scene.event.name.clone()],
        ),
        vec![w.table(
            &[
                ("column-start", 0.9),
                ("column-who", 1.8),
                ("column-what", 4.0),
                ("column-kg", 1.2),
                ("column-minutes", 0.7),
                ("column-on", 1.6),
                ("column-tick", 0.5),
            ],
            rows,
        )],
        &codes,
    )
}

/// What goes into a step's load; a round, a relief and plating handle what is there already.
fn grams(w: &Writer<'_>, task: &Timed) -> Option<f64> {
    if task.meaning.kind != TaskKind::Hands {
        return None;
    }
    let p = w.place_of(task)?;
    let g = if p.flow.in_g > 0.0 {
        p.flow.in_g
    } else {
        p.flow.base_g
    };
    (g > 0.0).then(|| g / f64::from(p.flow.loads.max(1)))
}
