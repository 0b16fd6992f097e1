//! One dish for one guest: what each part is, and what may stand in its place.

use kitchen::Id;
use kitchen::event::{Dish, Part, Portion};
use kitchen::step::LineItem;
use kitchen::swap::Swap;
use serde_json::{Value as Json, json};

use super::{Guest, Matter};
use crate::allergens::standing::{State, of_swap, swaps};
use crate::allergens::walk::eaten;
use crate::allergens::{Cause, causes_json};
use crate::demand::Component;
use crate::scene::Scene;

/// Float noise in grams that is not a shortage.
const NOISE_G: f64 = 1e-6;

/// What becomes of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// It stays: no label names it.
    Stays,
    /// It stays once a label has been read or the guest asked.
    Read,
    /// It stays off until somebody has looked.
    Unknown,
    /// It goes.
    Goes,
}

impl Stand {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stays => "stays",
            Self::Read => "read",
            Self::Unknown => "unknown",
            Self::Goes => "goes",
        }
    }
}

/// A part of a dish for this guest.
#[derive(Debug, Clone, PartialEq)]
pub struct PartAnswer {
    /// The recipe.
    pub recipe: Id,
    /// Its name.
    pub name: String,
    /// What becomes of it.
    pub stand: Stand,
    /// Whether the dish is still itself without it.
    pub can_be_left_out: bool,
    /// What each matter is, worst first within it.
    pub matters: Vec<(Matter, State, Vec<Cause>)>,
    /// What stands in its place; `None`: the book names nothing that fits.
    pub swap: Option<SwapAnswer>,
}

/// A swap that fits.
#[derive(Debug, Clone, PartialEq)]
pub struct SwapAnswer {
    /// The swap.
    pub swap: Swap,
    /// *Free*, or *may* when a label of the swap has to be read too.
    pub state: State,
    /// Labels of it that have to be read, and for what.
    pub causes: Vec<(Matter, Cause)>,
    /// Grams of each part on one plate.
    pub grams: Vec<f64>,
    /// Grams the plan makes of each beyond what the paid covers take; `None` where that is not planned in grams.
    pub spare_g: Vec<Option<f64>>,
}

/// A dish for this guest.
#[derive(Debug, Clone, PartialEq)]
pub struct DishAnswer {
    /// The dish.
    pub dish: Id,
    /// Its name.
    pub name: String,
    /// Its parts, in the order of the plate.
    pub parts: Vec<PartAnswer>,
}

impl DishAnswer {
    /// Parts that end so.
    pub fn standing(&self, stand: Stand) -> impl Iterator<Item = &PartAnswer> {
        self.parts.iter().filter(move |p| p.stand == stand)
    }

    /// For programs.
    #[must_use]
    pub fn to_json(&self) -> Json {
        json!({
            "dish": self.dish.as_str(),
            "name": self.name,
            "parts": self.parts.iter().map(|p| json!({
                "component": p.recipe.as_str(),
                "name": p.name,
                "stand": p.stand.word(),
                "can_be_left_out": p.can_be_left_out,
                "matters": p.matters.iter().map(|(m, s, c)| json!({
                    "matter": m.word(), "state": s.word(), "causes": causes_json(c),
                })).collect::<Vec<_>>(),
                "swap": p.swap.as_ref().map(|s| json!({
                    "name": s.swap.name,
                    "state": s.state.word(),
                    "causes": s.causes.iter().map(|(m, c)| json!({
                        "matter": m.word(), "item": c.item.as_str(), "state": c.state.word(), "said": c.said,
                    })).collect::<Vec<_>>(),
                    "portion_g": s.swap.portion.g(),
                    "mix": s.swap.mix.iter().zip(s.grams.iter().zip(&s.spare_g)).map(|(m, (g, spare))| json!({
                        "item": m.item.id().as_str(), "form": m.form, "per_plate_g": g, "spare_g": spare,
                    })).collect::<Vec<_>>(),
                })),
            })).collect::<Vec<_>>(),
        })
    }
}

pub(super) fn dish(
    scene: &Scene,
    components: &[Component],
    dish: &Dish,
    asked: &Guest,
) -> DishAnswer {
    DishAnswer {
        dish: dish.id.clone(),
        name: dish.name.clone(),
        parts: dish
            .parts
            .iter()
            .map(|p| part(scene, components, dish, p, asked))
            .collect(),
    }
}

fn part(
    scene: &Scene,
    components: &[Component],
    dish: &Dish,
    part: &Part,
    asked: &Guest,
) -> PartAnswer {
    let all = eaten(&scene.book, &part.recipe);
    let matters: Vec<(Matter, State, Vec<Cause>)> = asked
        .without
        .iter()
        .map(|m| {
            let (state, causes) = m.of(&scene.book, &all);
            (*m, state, causes)
        })
        .collect();
    let worst = matters.iter().map(|(_, s, _)| *s).max();
    let stand = match worst.unwrap_or(State::Unknown) {
        State::Free => Stand::Stays,
        State::Under | State::May => Stand::Read,
        State::Unknown => Stand::Unknown,
        State::Contains => Stand::Goes,
    };
    let swap = (stand != Stand::Stays)
        .then(|| fitting(scene, components, &dish.id, part, stand, asked))
        .flatten();
    let recipe = scene.book.recipes.get(&part.recipe);
    PartAnswer {
        recipe: part.recipe.clone(),
        name: recipe.map_or_else(|| part.recipe.to_string(), |r| r.name.clone()),
        stand,
        can_be_left_out: part.can_be_left_out,
        matters,
        swap,
    }
}

/// The first swap of the book in which no label names what the guest does without. For a part that goes and may be left
/// out, else the first that hangs on a label: without it the plate still goes out.
fn fitting(
    scene: &Scene,
    components: &[Component],
    dish: &Id,
    part: &Part,
    stand: Stand,
    asked: &Guest,
) -> Option<SwapAnswer> {
    let most = if part.can_be_left_out && stand != Stand::Read {
        State::May
    } else {
        State::Free
    };
    let mut fits: Vec<SwapAnswer> = swaps(&scene.book, dish, &part.recipe)
        .into_iter()
        .filter_map(|swap| {
            let all = of_swap(&scene.book, swap);
            let mut causes = Vec::new();
            let mut worst = State::Free;
            for m in &asked.without {
                let (state, why) = m.of(&scene.book, &all);
                worst = worst.max(state);
                causes.extend(why.into_iter().map(|c| (*m, c)));
            }
            (worst <= most).then(|| SwapAnswer {
                swap: swap.clone(),
                state: worst,
                causes,
                grams: swap
                    .mix
                    .iter()
                    .map(|p| p.share * swap.portion.g())
                    .collect(),
                spare_g: swap
                    .mix
                    .iter()
                    .map(|p| match (&p.item, &p.form) {
                        // What is drained off or trimmed away is not weighed by the plan.
                        (LineItem::Recipe(id), None) => spare(scene, components, id),
                        _ => None,
                    })
                    .collect(),
            })
        })
        .collect();
    fits.sort_by_key(|s| s.state);
    fits.into_iter().next()
}

/// Grams made of a recipe beyond what the paid covers take, where every dish serves it in grams.
fn spare(scene: &Scene, components: &[Component], recipe: &Id) -> Option<f64> {
    let Some(component) = components.iter().find(|c| c.recipe == *recipe) else {
        // The event does not make it: nothing of it is over.
        return Some(0.0);
    };
    let mut served = 0.0;
    for part in scene
        .event
        .dishes
        .iter()
        .filter_map(|d| scene.book.dishes.get(d))
        .flat_map(|d| &d.parts)
        .filter(|p| p.recipe == *recipe)
    {
        match (part.portion, part.per) {
            (Portion::Served(g), kitchen::event::Per::Plate | kitchen::event::Per::Cover) => {
                served += g.g() * f64::from(scene.event.covers);
            }
            _ => return None,
        }
    }
    // Less than is served is a shortage of its own; none of it is over.
    Some((component.made_g - served).max(0.0))
}

/// Whether what the plan makes beyond the covers is enough for so many plates.
pub(super) fn enough(swap: &SwapAnswer, plates: u32) -> bool {
    swap.grams
        .iter()
        .zip(&swap.spare_g)
        .all(|(g, spare)| spare.is_none_or(|s| g * f64::from(plates) <= s + NOISE_G))
}
