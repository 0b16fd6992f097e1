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

/// An ingredient as cooks say it: the first of its other words that is not turned round, "prepared horseradish"; else its name.
pub(super) fn said(scene: &Scene, item: &Id) -> String {
    let ingredient = scene.book.ingredients.get(item);
    let other = ingredient.and_then(|i| i.also.iter().find(|w| !w.contains(',')).cloned());
    other
        .or_else(|| ingredient.map(|i| i.name.clone()))
        .unwrap_or_else(|| item.to_string())
}

/// An ingredient as it stands on the shelf, with the word of its pack: "prepared horseradish jar".
pub(super) fn label_of(scene: &Scene, cause: &Cause) -> String {
    let offer = scene.site.offers.iter().find(|o| o.item == cause.item);
    let word = offer.and_then(|o| match &o.pack {
        Pack::Packs { word, .. } if word != "pack" => Some(word.clone()),
        _ => None,
    });
    let name = said(scene, &cause.item);
    match word {
        Some(word) if name.contains(',') => format!("{name} ({word})"),
        Some(word) if !name.ends_with(&word) => format!("{name} {word}"),
        _ => name,
    }
}

/// The name of an ingredient or recipe in running text.
pub(super) fn plain(scene: &Scene, id: &Id) -> String {
    let recipe = scene.book.recipes.get(id).map(|r| r.name.clone());
    let name = recipe.unwrap_or_else(|| said(scene, id));
    let mut letters = name.chars();
    match letters.next() {
        Some(c) => format!("{}{}", c.to_lowercase(), letters.as_str()),
        None => name,
    }
}
