//! Line 1: the answer, to be called across a kitchen.

use super::asks_pregnancy;
use super::names::{and, label_of, short};
use crate::allergens::State;
use crate::ask::guest::dish::{DishAnswer, PartAnswer, Stand};
use crate::ask::guest::{Guest, Matter};
use crate::scene::Scene;

/// Longest first line.
const HEAD: usize = 98;

/// Parts that go, without which the dish is not itself, and for which the book names nothing else.
fn lost(d: &DishAnswer) -> Vec<&PartAnswer> {
    d.standing(Stand::Goes)
        .filter(|p| p.swap.is_none() && !p.can_be_left_out)
        .collect()
}

/// Whether no part stays and nothing stands in for any.
fn nothing_stays(d: &DishAnswer) -> bool {
    d.parts
        .iter()
        .all(|p| matches!(p.stand, Stand::Goes | Stand::Unknown) && p.swap.is_none())
}

/// Whether the dish is not for this guest at all.
pub(in crate::ask::guest) fn refused(d: &DishAnswer) -> bool {
    !lost(d).is_empty() || nothing_stays(d)
}

/// Line 1 for one dish.
pub(super) fn headline(scene: &Scene, asked: &Guest, d: &DishAnswer) -> String {
    let the = |parts: &[&PartAnswer]| -> String {
        let names: Vec<String> = parts
            .iter()
            .map(|p| short(&p.name, &d.parts).to_uppercase())
            .collect();
        let head = format!("THE {}", and(&names, "AND"));
        if head.chars().count() > HEAD / 2 {
            format!("{} PARTS OF {}", names.len(), d.parts.len())
        } else {
            head
        }
    };
    let kept = |p: &&PartAnswer| p.swap.is_some() || p.can_be_left_out;
    let off: Vec<&PartAnswer> = d
        .parts
        .iter()
        .filter(|p| matches!(p.stand, Stand::Goes | Stand::Unknown))
        .collect();
    let read: Vec<&PartAnswer> = d.standing(Stand::Read).collect();
    if asks_pregnancy(asked) {
        let all: Vec<&PartAnswer> = off.iter().chain(&read).copied().collect();
        return if all.is_empty() {
            "NO USUAL CAUTION IN WHAT THE BOOK STATES".to_owned()
        } else {
            format!("USUAL CAUTION, THE GUEST DECIDES: {}", the(&all))
        };
    }
    let lost = lost(d);
    if !lost.is_empty() {
        return format!("NO: {} IN {}", worst_words(&lost), the(&lost));
    }
    if nothing_stays(d) {
        return "NO: NOTHING OF IT STAYS".to_owned();
    }
    let unseen: Vec<&PartAnswer> = off.iter().copied().filter(|p| !kept(p)).collect();
    if !unseen.is_empty() {
        return format!("NOT KNOWN: FIND OUT ABOUT {} FIRST", the(&unseen));
    }
    let first = match read.len() {
        0 => String::new(),
        _ => first_read(scene, asked, &read),
    };
    let head = match (off.is_empty(), read.is_empty()) {
        (true, true) => "YES, AS IT IS PLATED".to_owned(),
        (false, true) => format!("YES WITHOUT {}", the(&off)),
        (true, false) => first.clone(),
        (false, false) => format!("{first}, AND WITHOUT {}", the(&off)),
    };
    if head.chars().count() > HEAD {
        format!("{first}, AND WITHOUT {} PARTS", off.len())
    } else {
        head
    }
}

/// What is in these parts that the guest named: the allergen, or what stands against the diet.
fn worst_words(parts: &[&PartAnswer]) -> String {
    let mut words: Vec<String> = Vec::new();
    for (m, _, causes) in parts.iter().flat_map(|p| &p.matters) {
        let Some(cause) = causes.iter().find(|c| c.state == State::Contains) else {
            continue;
        };
        let word = match m {
            Matter::Allergen(a) => a.word().to_uppercase(),
            Matter::Diet(_) => cause.said.to_uppercase(),
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    and(&words, "AND")
}

/// "READ THE LABEL FIRST: …", or whom to ask.
fn first_read(scene: &Scene, asked: &Guest, read: &[&PartAnswer]) -> String {
    let mut labels: Vec<String> = Vec::new();
    let mut ask = false;
    for (m, _, causes) in read.iter().flat_map(|p| &p.matters) {
        for c in causes {
            ask |= matches!(m, Matter::Diet(_));
            let name = label_of(scene, c).to_uppercase();
            if !labels.contains(&name) {
                labels.push(name);
            }
        }
    }
    let verb = match (
        ask,
        asked
            .without
            .iter()
            .any(|m| matches!(m, Matter::Allergen(_))),
    ) {
        (false, _) => "READ THE LABEL FIRST",
        (true, false) => "ASK THE GUEST FIRST",
        (true, true) => "READ LABELS AND ASK FIRST",
    };
    let named = format!("{verb}: {}", and(&labels, "AND"));
    if labels.len() > 2 || named.chars().count() > HEAD {
        format!("{verb}: {} INGREDIENTS", labels.len())
    } else {
        named
    }
}
