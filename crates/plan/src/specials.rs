//! Special plates: what each lays otherwise, and what has to be made for it.
//!
//! What stands in the place of a part is chosen by the labels alone, before anything is weighed, and the plan makes it on
//! top of the plates: it does not count on what is over. The part that stays off is made all the same; a guest who
//! changes their mind is common, a batch made too small is dear.

use kitchen::Id;
use kitchen::diet::Diet;
use kitchen::event::Special;
use kitchen::label::Allergen;
use kitchen::step::LineItem;

use crate::ask::guest::{Answered, Guest, Matter, guest_of, swapped};
use crate::demand::Component;
use crate::scene::Scene;

/// A special plate with its answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// As the event has it.
    pub special: Special,
    /// What stays, what goes, what stands in its place, for every dish.
    pub answered: Answered,
    /// What is made or taken for its swaps.
    pub mixes: Vec<Mix>,
}

/// One part of a swap, for all plates of a special.
#[derive(Debug, Clone, PartialEq)]
pub struct Mix {
    /// The dish.
    pub dish: Id,
    /// The part it stands in for.
    pub part: Id,
    /// What the ticket calls the swap.
    pub swap: String,
    /// An ingredient or the product of a recipe.
    pub item: LineItem,
    /// What of it, when not the whole: "liquor".
    pub form: Option<String>,
    /// Its part of the swap, 0–1.
    pub share: f64,
    /// Grams of the swap on a plate.
    pub portion_g: f64,
    /// Grams for all plates.
    pub grams: f64,
    /// Where it comes from.
    pub from: From,
}

/// Where a part of a swap comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum From {
    /// The plan makes so much more of it.
    MadeMore,
    /// Drained or trimmed off what is made anyway.
    OffWhatIsMade,
    /// Not of this plan: somebody makes or buys it.
    NotPlanned,
}

impl From {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::MadeMore => "made on top",
            Self::OffWhatIsMade => "off what is made",
            Self::NotPlanned => "not in this plan: make or buy it",
        }
    }

    /// The word for programs.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::MadeMore => "made more",
            Self::OffWhatIsMade => "off what is made",
            Self::NotPlanned => "not planned",
        }
    }
}

/// The question a special asks.
#[must_use]
pub fn asked(special: &Special) -> Guest {
    Guest {
        without: special
            .without
            .iter()
            .map(|a| Matter::Allergen(*a))
            .chain(special.diets.iter().map(|d| Matter::Diet(*d)))
            .collect(),
        seat: special.seat.clone(),
        plates: special.plates,
    }
}

/// What the swaps of one special take, by label alone.
fn mixes(scene: &Scene, special: &Special) -> Vec<Mix> {
    let asked = asked(special);
    let made = crate::demand::recipes(scene);
    let mut all = Vec::new();
    let dishes = scene.event.dishes.iter();
    for dish in dishes.filter_map(|d| scene.book.dishes.get(d)) {
        for (part, swap) in swapped(scene, dish, &asked) {
            let portion_g = swap.portion.g();
            all.extend(swap.mix.iter().map(|m| Mix {
                dish: dish.id.clone(),
                part: part.clone(),
                swap: swap.name.clone(),
                item: m.item.clone(),
                form: m.form.clone(),
                share: m.share,
                portion_g,
                grams: m.share * portion_g * f64::from(special.plates),
                from: match &m.item {
                    LineItem::Recipe(id) if made.contains(id) && m.form.is_none() => From::MadeMore,
                    LineItem::Recipe(id) if made.contains(id) => From::OffWhatIsMade,
                    _ => From::NotPlanned,
                },
            }));
        }
    }
    all
}

/// Grams made on top for special plates, by recipe.
pub(crate) fn on_top(scene: &Scene) -> Vec<(Id, f64)> {
    let specials = scene.event.specials.iter();
    specials
        .flat_map(|s| mixes(scene, s))
        .filter(|m| m.from == From::MadeMore)
        .map(|m| (m.item.id().clone(), m.grams))
        .collect()
}

/// Every special of the event, against what is made.
pub(crate) fn laid(scene: &Scene, components: &[Component]) -> Vec<Laid> {
    let specials = scene.event.specials.iter();
    specials
        .map(|special| Laid {
            special: special.clone(),
            answered: guest_of(scene, components, &asked(special)),
            mixes: mixes(scene, special),
        })
        .collect()
}

impl Laid {
    /// "seat 14", or its id where no seat is known.
    #[must_use]
    pub fn place(&self) -> String {
        self.special
            .seat
            .as_ref()
            .map_or_else(|| self.special.id.to_string(), |s| format!("seat {s}"))
    }

    /// What the guest said, in words: "vegetarian, without milk and mustard".
    #[must_use]
    pub fn said(&self) -> String {
        let diets: Vec<&str> = self.special.diets.iter().map(|d| d.word()).collect();
        let without: Vec<&str> = self.special.without.iter().map(|a| a.word()).collect();
        let mut said = diets.join(", ");
        if !without.is_empty() {
            if !said.is_empty() {
                said.push_str(", ");
            }
            said.push_str("without ");
            said.push_str(&without.join(" and "));
        }
        said
    }

    /// The answer of one dish, in one line.
    #[must_use]
    pub fn headline(&self) -> &str {
        &self.answered.answer.answer
    }
}

/// What a change of a special looks like.
const SET: &str = "what the guest does without, with the plates before it when there are several: \
                   \"milk, mustard\", \"2 vegetarian\"; or off";

/// Sets one special: `special.seat-14=milk, mustard`. On error: what was expected, what to do now.
pub(crate) fn set(scene: &mut Scene, id: &str, value: &str) -> Result<(), (String, &'static str)> {
    let id = Id::new(id).ok_or_else(|| {
        (
            "an id in small letters, such as special.seat-14".to_owned(),
            "name the seat or the table, never the guest",
        )
    })?;
    let value = value.trim();
    if value == "off" {
        let before = scene.event.specials.len();
        scene.event.specials.retain(|s| s.id != id);
        return if scene.event.specials.len() < before {
            Ok(())
        } else {
            Err((
                "a special plate of the event".to_owned(),
                "there is none of this id to take off",
            ))
        };
    }
    let number = value.split([' ', ',']).next().unwrap_or("");
    let (plates, words) = match number.parse::<u32>() {
        Ok(n) => (n, &value[number.len()..]),
        Err(_) => (1, value),
    };
    let mut special = Special {
        seat: id.as_str().strip_prefix("seat-").map(str::to_owned),
        id,
        plates,
        without: Vec::new(),
        diets: Vec::new(),
    };
    for word in words
        .split([' ', ','])
        .filter(|w| !w.is_empty() && *w != "without")
    {
        let allergen = Allergen::ALL.iter().find(|(w, _)| *w == word);
        match (allergen, Diet::find(word)) {
            (Some((_, a)), _) => special.without.push(*a),
            (_, Some(d)) => special.diets.push(d),
            _ => {
                let known: Vec<&str> = Allergen::ALL
                    .iter()
                    .map(|(w, _)| *w)
                    .chain(Diet::ALL.iter().map(|(w, _)| *w))
                    .collect();
                return Err((
                    format!("words among: {}", known.join(", ")),
                    "use these words; nothing was left out on a guess",
                ));
            }
        }
    }
    if special.without.is_empty() && special.diets.is_empty() {
        return Err((SET.to_owned(), "name what the guest said"));
    }
    let others = scene.event.specials.iter().filter(|s| s.id != special.id);
    let others: u64 = others.map(|s| u64::from(s.plates)).sum();
    let left = u64::from(scene.event.covers).saturating_sub(others);
    if plates == 0 || u64::from(plates) > left {
        return Err((
            format!("1 to {left} plates: special plates are among the covers"),
            "correct the plates or the covers",
        ));
    }
    match scene.event.specials.iter_mut().find(|s| s.id == special.id) {
        Some(there) => *there = special,
        None => scene.event.specials.push(special),
    }
    Ok(())
}

/// The specials of a plan for programs.
#[must_use]
pub fn json(laid: &[Laid]) -> serde_json::Value {
    use serde_json::json;
    laid.iter()
        .map(|l| {
            json!({
                "id": l.special.id.as_str(),
                "seat": l.special.seat,
                "plates": l.special.plates,
                "without": asked(&l.special).without.iter().map(|m| m.word()).collect::<Vec<_>>(),
                "answer": l.headline(),
                "next": l.answered.answer.next,
                "dishes": l.answered.dishes.iter().map(|d| json!({
                    "dish": d.dish.as_str(),
                    "parts": d.parts.iter().map(|p| json!({
                        "component": p.recipe.as_str(),
                        "stand": p.stand.word(),
                        "swap": p.swap.as_ref().map(|s| s.swap.name.clone()),
                    })).collect::<Vec<_>>(),
                })).collect::<Vec<_>>(),
                "mix": l.mixes.iter().map(|m| json!({
                    "dish": m.dish.as_str(), "instead_of": m.part.as_str(), "item": m.item.id().as_str(), "form": m.form,
                    "amount_g": m.grams, "from": m.from.word(),
                })).collect::<Vec<_>>(),
            })
        })
        .collect()
}

/// The figures of special plates.
pub(crate) fn figures(laid: &[Laid], f: &mut crate::figures::Figures) {
    for l in laid {
        let id = |end: &str| format!("special.{}.{end}", l.special.id);
        let book = |place: String| sources::Citation {
            source: &sources::list::HOUSE,
            place,
        };
        f.leaf(
            &id("plates"),
            f64::from(l.special.plates),
            "plates",
            0,
            &book(format!("special {}", l.special.id)),
        );
        for m in &l.mixes {
            let of = |end: &str| id(&format!("{}.{}.{end}", m.part, m.item.id()));
            f.leaf(
                &of("share_pct"),
                m.share * 100.0,
                "%",
                1,
                &book(format!("swap for {}, mix", m.part)),
            );
            f.of(&of("share_pct"), "the swap, by weight");
            f.leaf(
                &of("portion_g"),
                m.portion_g,
                "g",
                1,
                &book(format!("swap for {}, portion", m.part)),
            );
            f.derived(
                &of("g"),
                m.grams,
                "g",
                1,
                "plates × share × portion",
                &[&id("plates"), &of("share_pct"), &of("portion_g")],
            );
        }
    }
}

/// Ids of the figures that say how much of a recipe is made on top.
pub(crate) fn figures_on_top(laid: &[Laid], recipe: &Id) -> Vec<String> {
    laid.iter()
        .flat_map(|l| {
            l.mixes
                .iter()
                .filter(|m| m.from == From::MadeMore && m.item.id() == recipe)
                .map(|m| format!("special.{}.{}.{}.g", l.special.id, m.part, m.item.id()))
        })
        .collect()
}
