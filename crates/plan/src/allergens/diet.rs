//! Diets, as far as the trade asks: from what ingredients were made of and what steps do to them.
//!
//! What each diet leaves out is common practice of the trade, no source; the pregnancy caution is remembered. A house of
//! worship, a guest or a doctor may draw the line elsewhere: the answer is for the guest to give.

pub use kitchen::diet::Diet;
use kitchen::label::{Allergen, Origin};
use kitchen::verb::Verb;
use kitchen::{Book, Id};

use super::standing::{Cause, State, judged};
use super::walk::{Eaten, eaten, from_step_on};

/// Whether a diet leaves an origin out.
const fn bars(diet: Diet, origin: Origin) -> bool {
    match diet {
        Diet::Vegetarian => {
            origin.is_flesh() || matches!(origin, Origin::Gelatine | Origin::Rennet)
        }
        Diet::Vegan => {
            bars(Diet::Vegetarian, origin)
                || matches!(origin, Origin::Milk | Origin::Egg | Origin::Honey)
        }
        Diet::NoPork => matches!(origin, Origin::Pork),
        Diet::NoAlcohol => matches!(origin, Origin::Alcohol),
        Diet::Pregnancy => false,
    }
}

/// Whether an origin may be one that is left out, as long as the animal is not named.
const fn leaves_open(diet: Diet, origin: Origin) -> bool {
    matches!(diet, Diet::NoPork)
        && matches!(origin, Origin::Meat | Origin::Gelatine | Origin::Rennet)
}

/// What the facts of the book say of a recipe and a diet.
#[must_use]
pub fn of_recipe(book: &Book, recipe: &Id, diet: Diet) -> (State, Vec<Cause>) {
    of_all(book, &eaten(book, recipe), diet)
}

/// The same of a list of ingredients.
#[must_use]
pub fn of_all(book: &Book, all: &[Eaten<'_>], diet: Diet) -> (State, Vec<Cause>) {
    judged(all, |e| match diet {
        Diet::Pregnancy => caution(book, e),
        _ => made_of(e, diet),
    })
}

/// Origins a label states: those of `origin`, and what its allergens say beside.
fn origins(e: &Eaten<'_>) -> (Vec<Origin>, Vec<Origin>, bool) {
    let stated = e.ingredient.and_then(|i| i.origin.as_ref());
    let label = e.ingredient.and_then(|i| i.allergens.as_ref());
    let of = |words: &[Allergen]| -> Vec<Origin> {
        words
            .iter()
            .filter_map(|w| match w {
                Allergen::Milk => Some(Origin::Milk),
                Allergen::Egg => Some(Origin::Egg),
                Allergen::Fish => Some(Origin::Fish),
                Allergen::Crustacean | Allergen::Mollusc => Some(Origin::Shellfish),
                _ => None,
            })
            .collect()
    };
    let mut from = stated.map_or(Vec::new(), |o| o.from.clone());
    let mut may = stated.map_or(Vec::new(), |o| o.may.clone());
    from.extend(label.map_or(Vec::new(), |a| of(&a.contains)));
    may.extend(label.map_or(Vec::new(), |a| of(&a.may)));
    (from, may, stated.is_some())
}

fn made_of(e: &Eaten<'_>, diet: Diet) -> (State, String) {
    let (from, may, stated) = origins(e);
    let barred = |list: &[Origin]| list.iter().copied().find(|o| bars(diet, *o));
    if let Some(origin) = barred(&from) {
        return (State::Contains, origin.word().to_owned());
    }
    if !stated {
        return (
            State::Unknown,
            "what it is made from is not stated".to_owned(),
        );
    }
    // Meat beside a named animal is that animal's.
    let named = from
        .iter()
        .any(|o| o.is_flesh() && !matches!(o, Origin::Meat));
    if let Some(origin) = from.iter().find(|o| leaves_open(diet, **o) && !named) {
        return (
            State::Unknown,
            format!("{}, of which animal is not stated", origin.word()),
        );
    }
    let open = may.iter().copied().find(|o| leaves_open(diet, *o));
    match barred(&may).or(open) {
        Some(Origin::Alcohol) => (
            State::May,
            "made by way of alcohol, as vinegar is".to_owned(),
        ),
        Some(origin) => (State::May, origin.word().to_owned()),
        None => (State::Free, String::new()),
    }
}

/// The usual caution for a pregnant guest, from the steps an ingredient goes through. From memory; authorities differ.
fn caution(book: &Book, e: &Eaten<'_>) -> (State, String) {
    let (from, may, stated) = origins(e);
    let flesh = from.iter().chain(&may).any(|o| o.is_flesh());
    let soft = from
        .iter()
        .chain(&may)
        .any(|o| matches!(o, Origin::Milk | Origin::Egg));
    let (mut cooked, mut cold_smoked, mut smoked, mut cured) = (false, false, false, false);
    for at in &e.path {
        let Some(recipe) = book.recipes.get(&at.recipe) else {
            continue;
        };
        let Some(from) = recipe.position(&at.step) else {
            continue;
        };
        for step in from_step_on(recipe, from) {
            let step = &recipe.steps[step];
            cooked |= step.until.is_some() && matches!(step.verb, Verb::Cook | Verb::HotSmoke);
            cold_smoked |= step.verb == Verb::ColdSmoke;
            smoked |= matches!(step.verb, Verb::ColdSmoke | Verb::HotSmoke);
            cured |= matches!(step.verb, Verb::DryCure | Verb::Brine | Verb::Pump);
        }
    }
    let how = match (cold_smoked, cured) {
        (true, _) => "cold-smoked, no step cooks it to a core",
        (false, true) => "cured, no step cooks it to a core",
        (false, false) => "no step cooks it to a core",
    };
    if flesh && !cooked {
        return (State::Contains, how.to_owned());
    }
    if flesh {
        let how = if smoked { "smoked" } else { "cooked" };
        return (
            State::May,
            format!(
                "{how} and served cold; the plan cooks it to a core, and some authorities caution all the same"
            ),
        );
    }
    if soft && !cooked {
        return (
            State::May,
            "whether it is pasteurised is not stated".to_owned(),
        );
    }
    if !stated {
        return (
            State::Unknown,
            "what it is made from is not stated".to_owned(),
        );
    }
    (State::Free, String::new())
}
