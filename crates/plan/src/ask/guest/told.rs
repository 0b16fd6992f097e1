//! The answer in words, for somebody who stands at the pass and has a minute.

mod figures;
mod head;
mod names;
mod next;
mod small;

use super::dish::{DishAnswer, PartAnswer, Stand};
use super::{Guest, Matter};
use crate::allergens::{Diet, State};
use crate::ask::Answer;
use crate::explain::allergens::word;
use crate::figures::Figures;
use crate::scene::Scene;

pub(super) use head::refused;
use names::short;

/// Columns of a detail row after its margin.
const ROW: usize = 96;
/// Columns of the name in it.
const NAME: usize = 37;
/// Columns of the word before it.
const STAND: usize = 8;

/// The whole answer.
pub(super) fn answer(scene: &Scene, asked: &Guest, dishes: &[DishAnswer]) -> Answer {
    let several = dishes.len() > 1;
    let titled = |d: &DishAnswer, text: String| {
        if several {
            format!("{}: {text}", d.name)
        } else {
            text
        }
    };
    let heads: Vec<String> = dishes
        .iter()
        .map(|d| {
            let head = head::headline(scene, asked, d);
            if several {
                format!("{}: {head}", d.dish.as_str().to_uppercase())
            } else {
                head
            }
        })
        .collect();
    let limits: Vec<String> = dishes.iter().map(|d| titled(d, stays(d))).collect();
    let mut behind = Figures::default();
    for d in dishes {
        figures::put(scene, asked, d, &mut behind);
    }
    word(
        &mut behind,
        MAIN,
        &heads.join("; "),
        "every part of every dish by the labels in the book, the worst first",
        dishes
            .iter()
            .flat_map(|d| d.parts.iter().map(|p| part_id(d, p)))
            .collect(),
    );
    Answer {
        question: "guest",
        answer: heads.join("\n"),
        limit: format!(
            "as far as the labels in the book say: {}",
            limits.join("; ")
        ),
        next: next::next(scene, asked, dishes).join("; "),
        details: dishes.iter().flat_map(rows).collect(),
        small: small::small(scene, asked, dishes),
        verdict: None,
        main: MAIN,
        figures: behind,
    }
}

/// The figure line 1 gives.
const MAIN: &str = "guest.answer";

fn part_id(d: &DishAnswer, p: &PartAnswer) -> String {
    format!("guest.{}.{}", d.dish, p.recipe)
}

fn asks_pregnancy(asked: &Guest) -> bool {
    asked.without.contains(&Matter::Diet(Diet::Pregnancy))
}

/// Line 2: what stays, what goes.
fn stays(d: &DishAnswer) -> String {
    let names = |stand: Stand| -> Vec<String> {
        d.standing(stand)
            .map(|p| short(&p.name, &d.parts))
            .collect()
    };
    let stay = names(Stand::Stays);
    let mut text = format!("{} of {} parts stay", stay.len(), d.parts.len());
    if !stay.is_empty() {
        text.push_str(&format!(" ({})", stay.join(", ")));
    }
    for (stand, word) in [
        (Stand::Goes, "goes"),
        (Stand::Unknown, "not known, off until somebody has looked"),
        (Stand::Read, "stays once read or asked"),
    ] {
        let all = names(stand);
        if !all.is_empty() {
            text.push_str(&format!("; {word}: {}", all.join(", ")));
        }
    }
    text
}

/// One row for a part that does not simply stay, what goes first.
fn rows(d: &DishAnswer) -> Vec<String> {
    let mut rows = Vec::new();
    let mut parts: Vec<&PartAnswer> = d.parts.iter().filter(|p| p.stand != Stand::Stays).collect();
    parts.sort_by_key(|p| std::cmp::Reverse(p.stand as u8));
    for p in parts {
        let mut why: Vec<String> = Vec::new();
        for (m, state, causes) in &p.matters {
            if *state == State::Free {
                continue;
            }
            let each: Vec<String> = causes
                .iter()
                .map(|c| {
                    let said = if c.said == m.word() {
                        String::new()
                    } else {
                        format!(" ({})", c.said)
                    };
                    let may = match c.state {
                        State::May => "may: ",
                        State::Unknown => "unknown: ",
                        _ => "",
                    };
                    format!("{may}{}{said}", c.name)
                })
                .collect();
            why.push(format!("{}: {}", m.word(), each.join("; ")));
        }
        let text = why.join(" · ");
        let lines = crate::figures::wrap(&text, ROW - STAND - NAME - 1);
        for (i, line) in lines.iter().enumerate() {
            let (stand, name) = if i == 0 {
                (p.stand.word(), p.name.as_str())
            } else {
                ("", "")
            };
            let name: String = if name.chars().count() > NAME {
                let cut: String = name.chars().take(NAME - 1).collect();
                format!("{cut}…")
            } else {
                name.to_owned()
            };
            rows.push(format!("{stand:<STAND$}{name:<NAME$} {line}"));
        }
    }
    rows
}
