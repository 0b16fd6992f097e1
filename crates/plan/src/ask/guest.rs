//! Can this guest eat it: what stays on the plate, what goes, what stands in its place, what has to be read.

mod dish;
mod told;

use kitchen::event::Dish;
use kitchen::label::Allergen;
use kitchen::swap::Swap;
use kitchen::{Book, Id};
use serde_json::{Value as Json, json};

use super::{Answer, Refusal};
use crate::allergens::standing::{State, of_all};
use crate::allergens::walk::Eaten;
use crate::allergens::{Cause, Diet, diet};
use crate::demand::Component;
use crate::make::weigh;
use crate::scene::Scene;

pub use dish::{DishAnswer, PartAnswer, Stand};

/// One thing a guest does without.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Matter {
    /// An allergen, with all its kinds.
    Allergen(Allergen),
    /// A diet.
    Diet(Diet),
}

impl Matter {
    /// The word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Allergen(a) => a.word(),
            Self::Diet(d) => d.word(),
        }
    }

    /// What the book says of all that is eaten and this matter.
    #[must_use]
    pub fn of(self, book: &Book, all: &[Eaten<'_>]) -> (State, Vec<Cause>) {
        match self {
            Self::Allergen(a) => of_all(&a.with_kinds(), all),
            Self::Diet(d) => diet::of_all(book, all, d),
        }
    }
}

/// The question.
#[derive(Debug, Clone, PartialEq)]
pub struct Guest {
    /// What the guest does without; at least one.
    pub without: Vec<Matter>,
    /// The seat, for the ticket.
    pub seat: Option<String>,
    /// Plates.
    pub plates: u32,
}

/// The answer with what it was put together from.
#[derive(Debug, Clone, PartialEq)]
pub struct Answered {
    /// As every answer.
    pub answer: Answer,
    /// Each dish.
    pub dishes: Vec<DishAnswer>,
}

impl Answered {
    /// For programs: the answer of contract 1, with `guest` beside it.
    #[must_use]
    pub fn to_json(&self, guest: &Guest) -> Json {
        let mut value = self.answer.to_json();
        value["guest"] = json!({
            "without": guest.without.iter().map(|m| m.word()).collect::<Vec<_>>(),
            "seat": guest.seat,
            "plates": guest.plates,
            "dishes": self.dishes.iter().map(DishAnswer::to_json).collect::<Vec<_>>(),
        });
        value
    }
}

/// Answers the question for every dish of the event.
///
/// # Errors
/// [`Refusal`] when nothing was named, when the plates are none, or when the event cannot be weighed.
pub fn guest(scene: &Scene, asked: &Guest) -> Result<Answered, Refusal> {
    if asked.without.is_empty() {
        return Err(Refusal::new(
            "nothing to do without",
            "--without milk, or --diet vegetarian",
            "name what the guest said",
        ));
    }
    if asked.plates == 0 || asked.plates > scene.event.covers {
        return Err(Refusal::new(
            format!("--plates: found {}", asked.plates),
            format!("1 to {}, the covers of the event", scene.event.covers),
            "write how many guests eat so",
        ));
    }
    let components = weigh(scene, None)
        .map_err(|e| {
            let (found, expected, do_now) = e.parts();
            Refusal::new(found, expected, do_now)
        })?
        .components;
    Ok(guest_of(scene, &components, asked))
}

/// The answer against components that are weighed already; `asked` names something.
pub(crate) fn guest_of(scene: &Scene, components: &[Component], asked: &Guest) -> Answered {
    let dishes: Vec<DishAnswer> = scene
        .event
        .dishes
        .iter()
        .filter_map(|id: &Id| scene.book.dishes.get(id))
        .map(|d| dish::dish(scene, components, d, asked))
        .collect();
    let answer = told::answer(scene, asked, &dishes);
    Answered { answer, dishes }
}

/// What stands in for which part of a dish, by the labels alone: nothing has to be weighed yet. Nothing for a dish that
/// is not for this guest at all.
pub(crate) fn swapped(scene: &Scene, of: &Dish, asked: &Guest) -> Vec<(Id, Swap)> {
    let answer = dish::dish(scene, &[], of, asked);
    if told::refused(&answer) {
        return Vec::new();
    }
    answer
        .parts
        .into_iter()
        .filter_map(|p| Some((p.recipe, p.swap?.swap)))
        .collect()
}
