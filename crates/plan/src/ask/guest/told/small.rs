//! Below the answer: base, labels, the place's list, what no label says.

use std::collections::BTreeMap;

use kitchen::label::Allergen;
use kitchen::site::RuleSet;

use super::asks_pregnancy;
use crate::allergens::walk::eaten;
use crate::ask::guest::{DishAnswer, Guest, Matter};
use crate::scene::Scene;

/// The small print.
pub(super) fn small(
    scene: &Scene,
    asked: &Guest,
    dishes: &[DishAnswer],
) -> Vec<(&'static str, String)> {
    let (mut without, mut diets) = (Vec::new(), Vec::new());
    for m in &asked.without {
        match m {
            Matter::Allergen(a) => without.push(a.word()),
            Matter::Diet(d) => diets.push(d.word()),
        }
    }
    let mut words = Vec::new();
    if !without.is_empty() {
        words.push(format!("without {}", without.join(", ")));
    }
    if !diets.is_empty() {
        words.push(diets.join(", "));
    }
    let e = &scene.event;
    let mut all = vec![
        (
            "base",
            format!(
                "{}, {}; {}; {} of {} {}s",
                e.name,
                e.serve.strftime("%a %Y-%m-%d %H:%M"),
                words.join("; "),
                asked.plates,
                e.covers,
                e.cover_word
            ),
        ),
        ("labels", labels(scene, dishes)),
    ];
    let allergens: Vec<Allergen> = asked
        .without
        .iter()
        .filter_map(|m| match m {
            Matter::Allergen(a) => Some(*a),
            Matter::Diet(_) => None,
        })
        .collect();
    if !allergens.is_empty() {
        all.push(("place", place(scene, &allergens)));
    }
    if allergens.len() < asked.without.len() {
        all.push((
            "diet",
            "what each diet leaves out is common practice, no source; the guest knows better"
                .to_owned(),
        ));
    }
    if asks_pregnancy(asked) {
        all.push((
            "advice",
            "looked at here: raw, cured and cold-smoked flesh, milk and egg of which nobody said they are pasteurised, nothing else; this usual caution is remembered, not looked up: verify with your authority; what to eat is for the guest and her doctor or midwife"
                .to_owned(),
        ));
    }
    all.push((
        "unseen",
        "no label speaks of shared boards, bowls, slicer, oil, smoke and hands; check them, and that the jar on the shelf is the one on file; if in doubt the guest gets nothing of it"
            .to_owned(),
    ));
    all
}

/// How many ingredients state theirs, and where that comes from.
fn labels(scene: &Scene, dishes: &[DishAnswer]) -> String {
    let mut sources: BTreeMap<String, std::collections::BTreeSet<String>> = BTreeMap::new();
    let mut silent = Vec::new();
    let mut items = std::collections::BTreeSet::new();
    for p in dishes.iter().flat_map(|d| &d.parts) {
        for e in eaten(&scene.book, &p.recipe) {
            if !items.insert(e.item.clone()) {
                continue;
            }
            match e.ingredient.and_then(|i| i.allergens.as_ref()) {
                Some(a) => {
                    sources
                        .entry(by(&a.source))
                        .or_default()
                        .insert(e.item.to_string());
                }
                None => silent.push(e.item.to_string()),
            }
        }
    }
    let each: Vec<String> = sources
        .iter()
        .map(|(source, of)| format!("{} {source}", of.len()))
        .collect();
    let stated = items.len() - silent.len();
    let mut text = format!(
        "{stated} of {} ingredients state their allergens: {}",
        items.len(),
        each.join("; ")
    );
    if !silent.is_empty() {
        text.push_str(&format!("; not stated: {}", silent.join(", ")));
    }
    text
}

/// Where a statement comes from. A shipped row is what such a food holds by nature: no label of this house was read.
fn by(source: &sources::Citation) -> String {
    if source.source.status == sources::Status::CommonPractice {
        "by common practice, no label of this house read".to_owned()
    } else {
        format!("from {source}")
    }
}

/// Which of them the place asks to be named, and how far its list was read.
fn place(scene: &Scene, asked: &[Allergen]) -> String {
    let columns = safety::allergens::columns(scene.site.rules);
    let place = place_name(scene.site.rules);
    let mut parts = Vec::new();
    for a in asked {
        let named = |w: &Allergen| columns.iter().find(|c| c.words.contains(w));
        // A general word is on the list when all its kinds are.
        let kinds: Vec<Allergen> = match a.kinds() {
            [] => vec![*a],
            kinds => kinds.to_vec(),
        };
        let off: Vec<&str> = kinds
            .iter()
            .filter(|k| named(k).is_none())
            .map(|k| k.word())
            .collect();
        let Some(column) = kinds.iter().find_map(named) else {
            parts.push(format!(
                "{} is not on the list of {place}: a label there need not name it, so ask the supplier too",
                a.word()
            ));
            continue;
        };
        let caution = column
            .caution()
            .map_or_else(String::new, |w| format!(", {w}"));
        let limit = column
            .limit
            .map_or_else(String::new, |l| format!(", {}", l.words()));
        let list = format!("{} ({}{caution})", column.cited(), column.status.words());
        parts.push(if off.is_empty() {
            format!("{} is on the list of {place}{limit}: {list}", a.word())
        } else {
            format!(
                "of {} the list of {place} does not name {}: ask the supplier about those; {list}",
                a.word(),
                off.join(", ")
            )
        });
    }
    parts.join("; ")
}

/// A place in running text.
pub(crate) const fn place_name(place: RuleSet) -> &'static str {
    match place {
        RuleSet::Us => "the United States",
        RuleSet::Canada => "Canada",
        RuleSet::England => "England",
        RuleSet::Eu => "the EU",
    }
}
