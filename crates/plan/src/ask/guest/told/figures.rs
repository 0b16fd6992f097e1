//! The figures behind an answer: labels, parts, the grams of a swap.

use sources::Citation;

use super::part_id;
use crate::allergens::standing::of_swap;
use crate::allergens::{Cause, label_id};
use crate::ask::guest::Guest;
use crate::ask::guest::dish::{DishAnswer, PartAnswer, Stand, SwapAnswer};
use crate::explain::allergens::{from, label, labels, told, word};
use crate::figures::Figures;
use crate::scene::Scene;

/// The figures of one dish.
pub(super) fn put(scene: &Scene, asked: &Guest, d: &DishAnswer, f: &mut Figures) {
    for p in &d.parts {
        labels(scene, &p.recipe, f);
        let how: Vec<String> = p
            .matters
            .iter()
            .map(|(m, state, causes)| format!("{}: {}", m.word(), told(*state, causes)))
            .collect();
        word(
            f,
            &part_id(d, p),
            p.stand.word(),
            &how.join(". "),
            from(scene, &p.recipe),
        );
        if let Some(s) = &p.swap {
            put_swap(scene, d, p, s, f);
        }
    }
    let stay: Vec<String> = d.standing(Stand::Stays).map(|p| part_id(d, p)).collect();
    let stay: Vec<&str> = stay.iter().map(String::as_str).collect();
    f.derived(
        &format!("guest.{}.stays", d.dish),
        f64::from(u32::try_from(stay.len()).unwrap_or(u32::MAX)),
        "parts",
        0,
        "parts of which no label names what the guest does without",
        &stay,
    );
    f.leaf(
        "guest.plates",
        f64::from(asked.plates),
        "plates",
        0,
        &Citation::whole(&sources::list::ENTERED),
    );
}

fn put_swap(scene: &Scene, d: &DishAnswer, p: &PartAnswer, s: &SwapAnswer, f: &mut Figures) {
    let id = |end: &str| format!("{}.swap.{end}", part_id(d, p));
    let book = |place: &str| Citation {
        source: &sources::list::HOUSE,
        place: format!("swap for {}, {place}", p.recipe),
    };
    for e in of_swap(&scene.book, &s.swap) {
        label(&e, f);
    }
    f.leaf(
        &id("portion_g"),
        s.swap.portion.g(),
        "g",
        1,
        &book("portion"),
    );
    for (m, g) in s.swap.mix.iter().zip(&s.grams) {
        let item = m.item.id();
        f.leaf(
            &id(&format!("{item}.share_pct")),
            m.share * 100.0,
            "%",
            1,
            &book("mix"),
        );
        f.of(&id(&format!("{item}.share_pct")), "the swap, by weight");
        f.derived(
            &id(&format!("{item}.g")),
            *g,
            "g",
            1,
            "share × portion",
            &[&id(&format!("{item}.share_pct")), &id("portion_g")],
        );
    }
    let of: Vec<String> = of_swap(&scene.book, &s.swap)
        .iter()
        .map(|e| label_id(&e.item))
        .collect();
    let causes: Vec<Cause> = s.causes.iter().map(|(_, c)| c.clone()).collect();
    word(f, &id("state"), s.state.word(), &told(s.state, &causes), of);
}
