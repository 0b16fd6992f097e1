//! The cleaning list: what was in use, when it is free, and room for what was done.
//!
//! Strengths of sanitizers stand on their own labels and are not known here: the strength is written in and tested.

use jiff::civil::Date;
use kitchen::verb::Verb;
use plan::timeline::Timed;
use safety::cautions::CURING_SALT;

use crate::model::{Block, Cell, Kind, Sheet, Size};
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
        .filter(|t| w.date(t.end) == Some(day) && t.meaning.component.is_some())
        .collect();
    let mut rows = Vec::new();
    let mut row = |what: String, how: &str, after: Option<i64>| {
        rows.push(vec![
            strong(what),
            text(w.say(how)),
            Cell::WriteIn,
            after.map_or(Cell::Nothing, |at| number(w.hour(at))),
            Cell::WriteIn,
            Cell::WriteIn,
        ]);
    };
    for machine in &w.plan.scene.site.machines {
        let used = tasks
            .iter()
            .filter(|t| t.meaning.machines.iter().any(|(id, _)| *id == machine.id));
        let smokes = used.clone().any(|t| {
            acts(w, t)
                .iter()
                .any(|v| matches!(v, Verb::HotSmoke | Verb::ColdSmoke))
        });
        if let Some(free) = used.map(|t| t.end).max() {
            row(
                machine.name.clone(),
                if smokes {
                    "clean-smoker"
                } else {
                    "clean-machine"
                },
                Some(free),
            );
        }
    }
    let last = |verbs: &[Verb]| {
        tasks
            .iter()
            .filter(|t| acts(w, t).iter().any(|v| verbs.contains(v)))
            .map(|t| t.end)
            .max()
    };
    let raw = last(&[
        Verb::Fillet,
        Verb::Trim,
        Verb::DryCure,
        Verb::Brine,
        Verb::Pump,
        Verb::Rinse,
    ]);
    if raw.is_some() {
        row(w.say("clean-raw-boards"), "clean-raw-boards-how", raw);
    }
    let ready = last(&[
        Verb::Carve,
        Verb::Cut,
        Verb::Wash,
        Verb::Emulsify,
        Verb::Strain,
        Verb::Mix,
    ]);
    if ready.is_some() {
        row(w.say("clean-ready-boards"), "clean-ready-boards-how", ready);
    }
    let acid = last(&[Verb::Pickle, Verb::Brew]);
    if acid.is_some() {
        row(w.say("clean-acid-tubs"), "clean-acid-tubs-how", acid);
    }
    let curing_salt = tasks
        .iter()
        .filter(|t| {
            w.plan.cautions.iter().any(|p| {
                p.caution.id == CURING_SALT.id
                    && t.meaning.component.as_ref() == Some(&p.component)
                    && t.meaning.step.as_ref() == Some(&p.step)
            })
        })
        .map(|t| t.end)
        .max();
    if curing_salt.is_some() {
        row(
            w.say("clean-cure-scale"),
            "clean-cure-scale-how",
            curing_salt,
        );
    }
    row(w.say("clean-probes"), "clean-probes-how", None);
    row(w.say("clean-hands"), "clean-hands-how", None);
    row(w.say("clean-drains"), "clean-drains-how", None);
    let blocks = vec![
        w.line("clean-strength"),
        w.table(
            &[
                ("column-what", 2.5),
                ("column-how", 4.0),
                ("column-strength", 1.3),
                ("column-free-from", 1.0),
                ("column-done-at", 1.0),
                ("column-initials", 1.0),
            ],
            rows,
        ),
        Block::Ticks(vec![
            w.say("clean-allergen-boards"),
            w.say("clean-strips-read"),
        ]),
    ];
    w.sheet(
        &file(&["cleaning", &day.to_string()]),
        (Kind::CleaningList, Size::Page),
        (
            w.say("cleaning-list"),
            vec![w.words.day(day), w.plan.scene.site.name.clone()],
        ),
        blocks,
        &[],
    )
}

/// The act of the step a task belongs to.
fn acts(w: &Writer<'_>, task: &Timed) -> Option<Verb> {
    let recipe = w
        .plan
        .scene
        .book
        .recipes
        .get(task.meaning.component.as_ref()?)?;
    let at = recipe.position(task.meaning.step.as_ref()?)?;
    Some(recipe.steps[at].verb)
}
