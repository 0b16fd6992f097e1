//! The rubric: who is signed off for what, with how near the weights came.

use kitchen::event::Per;
use kitchen::verb::Verb;

use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{TOLERANCE_PCT, Writer, text};

/// Competencies of a rubric: more columns are not read.
const MOST: usize = 7;

/// What is taught, in the order it is named on a rubric.
const TAUGHT: &[(Verb, &str)] = &[
    (Verb::DryCure, "skill-dry-cure"),
    (Verb::Brine, "skill-brine"),
    (Verb::Pump, "skill-pump"),
    (Verb::HotSmoke, "skill-smoke"),
    (Verb::ColdSmoke, "skill-smoke"),
    (Verb::Fillet, "skill-fillet"),
    (Verb::Trim, "skill-trim"),
    (Verb::Pickle, "skill-pickle"),
    (Verb::Emulsify, "skill-emulsify"),
    (Verb::Mix, "skill-mix"),
    (Verb::Chill, "skill-chill"),
    (Verb::Carve, "skill-carve"),
    (Verb::Cut, "skill-cut"),
];

/// One rubric for the learners of an event; none for an event without learners.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    let event = &w.plan.scene.event;
    let learners = w
        .plan
        .scene
        .site
        .roles
        .iter()
        .any(|r| r.id == event.role && r.learner);
    if learners {
        vec![rubric(w)]
    } else {
        Vec::new()
    }
}

fn rubric(w: &Writer<'_>) -> Sheet {
    let (site, event) = (&w.plan.scene.site, &w.plan.scene.event);
    let acts: Vec<Verb> = w.places().iter().map(|p| p.step.verb).collect();
    let mut skills: Vec<&str> = TAUGHT
        .iter()
        .filter(|(v, _)| acts.contains(v))
        .map(|(_, k)| *k)
        .collect();
    skills.dedup();
    if !event
        .dishes
        .iter()
        .filter_map(|d| w.plan.scene.book.dishes.get(d))
        .any(|d| d.plating.is_some())
    {
        skills.truncate(MOST);
    } else {
        skills.truncate(MOST - 1);
        skills.push("skill-plate");
    }
    let mut heads = vec![
        ("column-learner", 2.0),
        ("column-name", 2.5),
        ("column-weight-accuracy", 1.5),
    ];
    heads.extend(skills.iter().map(|k| (*k, 1.2)));
    heads.extend([
        ("column-clean", 1.0),
        ("column-date", 1.0),
        ("column-initials", 1.0),
    ]);
    let people: Vec<String> = site
        .people
        .iter()
        .chain(&event.crew)
        .filter(|g| g.role == event.role)
        .flat_map(|g| {
            (1..=g.count).map(|n| {
                if g.count == 1 {
                    g.id.to_string()
                } else {
                    format!("{} {n}", g.id)
                }
            })
        })
        .collect();
    let rows = people
        .iter()
        .map(|p| {
            let mut row = vec![text(w.people(std::slice::from_ref(p)))];
            row.resize(heads.len(), Cell::WriteIn);
            row
        })
        .collect();
    let tolerance = w.words.percent(TOLERANCE_PCT, 0);
    let by_pair = event
        .dishes
        .iter()
        .filter_map(|d| w.plan.scene.book.dishes.get(d))
        .flat_map(|d| &d.parts)
        .any(|p| p.per == Per::Pair);
    let mut blocks = vec![
        Block::Text(w.say_with("rubric-rule", &[("tolerance", (&tolerance).into())])),
        w.table(&heads, rows),
    ];
    if by_pair {
        blocks.push(w.line("rubric-pairs"));
    }
    blocks.push(w.line("rubric-taste"));
    w.sheet(
        "rubric",
        (Kind::Rubric, Size::PageWide),
        (w.say("rubric"), vec![event.name.clone()]),
        blocks,
        &[],
    )
}
