//! The brief for those who carry the plates: a minute to read, no curing figures, no prices.

use kitchen::event::Dish;
use plan::allergens::State;
use plan::tasks::Kind as TaskKind;

use crate::door_map::state_key;
use crate::model::{Block, Cell, Kind, Sheet, Size};
use crate::writer::{Writer, file, number, strong, text};

/// Empty lines for special plates, below those the event names.
const SPECIAL: usize = 4;
/// The caution the floor has to know of; the others are the kitchen's.
const FOR_THE_FLOOR: &str = "eaten-raw";

/// A brief a dish.
pub(crate) fn sheets(w: &Writer<'_>) -> Vec<Sheet> {
    w.plan
        .scene
        .event
        .dishes
        .iter()
        .filter_map(|d| w.plan.scene.book.dishes.get(d))
        .map(|d| brief(w, d))
        .collect()
}

fn brief(w: &Writer<'_>, dish: &Dish) -> Sheet {
    let mut facts = vec![w.fact("fact-covers", strong(w.covers(w.plan.scene.event.covers)))];
    facts.push(w.fact("fact-plates", number(w.words.short(w.plan.plates, 0))));
    let plating: Vec<_> = w
        .plan
        .timeline
        .tasks
        .iter()
        .filter(|t| t.meaning.kind == TaskKind::Plating)
        .collect();
    if let (Some(_), Some(from), Some(to)) = (
        &dish.plating,
        plating.iter().map(|t| t.start).min(),
        plating.iter().map(|t| t.end).max(),
    ) {
        let (from, to) = (w.hour(from), w.hour(to));
        facts.push(w.fact(
            "fact-plated",
            strong(w.say_with("from-to", &[("from", (&from).into()), ("to", (&to).into())])),
        ));
    }
    if let Some(serve) = w.serve() {
        facts.push(w.fact("fact-served", strong(w.moment(serve))));
        if let (Some(p), Some(first)) = (&dish.plating, plating.iter().map(|t| t.start).min()) {
            // The first plate stands longest: from when it may first be up.
            let most = w.words.span(p.stands_at_most.whole_minutes());
            let by = w.hour(first + p.stands_at_most.whole_minutes());
            facts.push(w.fact(
                "fact-leaves-by",
                strong(w.say_with(
                    "leaves-by",
                    &[("by", (&by).into()), ("most", (&most).into())],
                )),
            ));
        }
    }
    let mut blocks = vec![
        Block::Facts(facts),
        w.heading("heading-on-the-plate"),
        parts(w, dish),
    ];
    blocks.push(w.heading("heading-allergens"));
    blocks.extend(allergens(w, dish));
    blocks.push(w.line("matrix-labels-only"));
    let of_dish =
        |p: &&plan::cautions::Placed| dish.parts.iter().any(|part| part.recipe == p.component);
    if w.plan
        .cautions
        .iter()
        .filter(of_dish)
        .any(|p| p.caution.id == FOR_THE_FLOOR)
    {
        blocks.push(Block::Caution(w.caution(FOR_THE_FLOOR)));
    }
    blocks.push(w.heading("heading-special-plates"));
    let known = w.plan.specials.iter().map(|l| {
        let seat = l.special.seat.as_deref().unwrap_or(l.special.id.as_str());
        let diets = l.special.diets.iter();
        let without = l.special.without.iter();
        let words: Vec<String> = diets
            .map(|d| w.say(&format!("diet-{}", d.word())))
            .chain(without.map(|a| w.say(&format!("label-word-{}", a.word()))))
            .collect();
        vec![
            strong(format!("{seat} × {}", l.special.plates)),
            strong(words.join(", ")),
            Cell::WriteIn,
        ]
    });
    let empty = || vec![Cell::WriteIn, Cell::WriteIn, Cell::WriteIn];
    let rows = known
        .chain(std::iter::repeat_with(empty).take(SPECIAL))
        .collect();
    blocks.push(w.table(
        &[
            ("column-seat", 1.0),
            ("column-without", 2.0),
            ("column-told-by", 1.5),
        ],
        rows,
    ));
    blocks.push(w.line("brief-ask"));
    let codes: Vec<String> = dish.parts.iter().map(|p| w.code(&p.recipe)).collect();
    w.sheet(
        &file(&["service-brief", dish.id.as_str()]),
        (Kind::ServiceBrief, Size::Card),
        (
            w.say("service-brief"),
            vec![dish.name.clone(), w.plan.scene.event.name.clone()],
        ),
        blocks,
        &codes,
    )
}

/// What lies on it, and how to say what was done to it.
fn parts(w: &Writer<'_>, dish: &Dish) -> Block {
    let rows = dish
        .parts
        .iter()
        .map(|part| {
            let state = w
                .plan
                .scene
                .book
                .recipes
                .get(&part.recipe)
                .map_or_else(String::new, |r| w.say(state_key(r, r.last())));
            let without = if part.can_be_left_out {
                w.say("can-be-left-out")
            } else {
                w.say("cannot-be-left-out")
            };
            vec![text(w.name(&part.recipe)), text(state), text(without)]
        })
        .collect();
    w.table(
        &[
            ("column-what", 3.0),
            ("column-state", 2.0),
            ("column-removable", 1.5),
        ],
        rows,
    )
}

/// Contained, removable with which part, or not at all.
fn allergens(w: &Writer<'_>, dish: &Dish) -> Vec<Block> {
    let Some(of_dish) = w.plan.allergens.dishes.iter().find(|d| d.dish == dish.id) else {
        return vec![w.line("allergens-not-looked-up")];
    };
    let mut rows = Vec::new();
    for (i, column) in w.plan.allergens.columns.iter().enumerate() {
        let state = of_dish.states[i];
        if state <= State::Under {
            continue;
        }
        let holders: Vec<&plan::allergens::Row> = of_dish
            .parts
            .iter()
            .filter(|r| r.cells[i].state > State::Under)
            .collect();
        let names: Vec<&str> = holders.iter().map(|r| r.name.as_str()).collect();
        let removable = holders.iter().all(|r| {
            dish.parts
                .iter()
                .any(|p| p.recipe == r.recipe && p.can_be_left_out)
        });
        let in_words = w.say(match state {
            State::Contains => "brief-contains",
            State::May => "brief-may",
            _ => "brief-unknown",
        });
        let names = names.join(", ");
        let removal = if removable {
            w.say_with("brief-removable", &[("parts", (&names).into())])
        } else {
            w.say("brief-not-removable")
        };
        rows.push(vec![
            strong(w.allergen(column)),
            strong(in_words),
            text(names),
            text(removal),
        ]);
    }
    if rows.is_empty() {
        return vec![w.line("allergens-none-on-labels")];
    }
    vec![w.table(
        &[
            ("column-allergen", 1.5),
            ("column-is", 1.2),
            ("column-comes-with", 2.5),
            ("column-removable", 2.5),
        ],
        rows,
    )]
}
