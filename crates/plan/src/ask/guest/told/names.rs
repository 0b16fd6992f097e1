//! Short names for a ticket: "dressing", "prepared horseradish jar".

use kitchen::Id;
use kitchen::site::Pack;

use super::PartAnswer;
use crate::allergens::Cause;
use crate::scene::Scene;

/// Words that a short name must not begin after.
const JOINTS: &[&str] = &["and", "in", "with", "of", "for"];

/// A name short enough to call out, still the only one of its dish: the head noun of a long name, else the whole.
pub(super) fn short(name: &str, parts: &[PartAnswer]) -> String {
    let plain = |name: &str| {
        let (first, rest) = name.split_once(',').unwrap_or((name, ""));
        // "Brined, apple-smoked pork collar": what stands before the comma is no name.
        if first.split(' ').count() < 2 && !rest.is_empty() {
            name.replace(',', "")
        } else {
            first.to_owned()
        }
    };
    let own = plain(name);
    let words: Vec<&str> = own.split(' ').collect();
    // "Buttermilk and horseradish dressing" is the dressing; "Dry-cured duck breast" is the duck breast.
    let kept = match words.len() {
        0..=2 => words.len(),
        _ if words.contains(&"and") => 1,
        _ => 2,
    };
    let called = words[words.len() - kept..].join(" ");
    let alone = parts
        .iter()
        .filter(|p| plain(&p.name).ends_with(&called))
        .count()
        == 1;
    let cut_well = words
        .get((words.len() - kept).wrapping_sub(1))
        .is_none_or(|before| kept == 1 || !JOINTS.contains(before));
    let short = if alone && cut_well { called } else { own };
    let mut letters = short.chars();
    match letters.next() {
        Some(c) => format!("{}{}", c.to_lowercase(), letters.as_str()),
        None => short,
    }
}

/// "a, b and c", three at most.
pub(super) fn and(names: &[String], word: &str) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [all @ .., last] if names.len() <= 3 => format!("{} {word} {last}", all.join(", ")),
        [first, second, rest @ ..] => {
            format!("{first}, {second} {word} {} MORE", rest.len())
        }
    }
}

/// A name as it is said: "horseradish, prepared" is prepared horseradish, "mustard, prepared, dijon style" the one of
/// that style; a strength at the end is left to the label.
pub(super) fn said(name: &str) -> String {
    let mut parts = name.split(", ");
    let (Some(noun), Some(kind)) = (parts.next(), parts.next()) else {
        return name.to_owned();
    };
    let rest: Vec<&str> = parts
        .filter(|p| !p.starts_with(|c: char| c.is_ascii_digit()))
        .collect();
    if rest.is_empty() {
        format!("{kind} {noun}")
    } else {
        format!("{kind} {noun} ({})", rest.join(", "))
    }
}

/// An ingredient as it stands on the shelf, with the word of its pack: "prepared horseradish jar".
pub(super) fn label_of(scene: &Scene, cause: &Cause) -> String {
    let offer = scene.site.offers.iter().find(|o| o.item == cause.item);
    let word = offer.and_then(|o| match &o.pack {
        Pack::Packs { word, .. } if word != "pack" => Some(word.clone()),
        _ => None,
    });
    let name = said(&cause.name);
    word.map_or_else(|| name.clone(), |w| format!("{name} {w}"))
}

/// The name of an ingredient or recipe in running text.
pub(super) fn plain(scene: &Scene, id: &Id) -> String {
    let recipe = scene.book.recipes.get(id).map(|r| r.name.clone());
    let item = || scene.book.ingredients.get(id).map(|i| said(&i.name));
    let name = recipe.or_else(item).unwrap_or_else(|| id.to_string());
    let mut letters = name.chars();
    match letters.next() {
        Some(c) => format!("{}{}", c.to_lowercase(), letters.as_str()),
        None => name,
    }
}
