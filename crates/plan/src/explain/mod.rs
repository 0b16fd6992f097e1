//! The figures of a plan: every number printed, with the figures it came from.

pub(crate) mod allergens;
mod clock;
mod lots;
mod masses;
mod money;
mod robust;
mod verdicts;
mod windows;

use sources::Citation;

use crate::figures::Figures;
use crate::whole::Plan;

/// All figures of a plan.
pub(crate) fn figures(plan: &Plan) -> Figures {
    let mut figures = Figures::default();
    crate::specials::figures(&plan.specials, &mut figures);
    masses::put(plan, &mut figures);
    lots::put(plan, &mut figures);
    money::put(plan, &mut figures);
    clock::put(plan, &mut figures);
    robust::put(plan, &mut figures);
    verdicts::put(plan, &mut figures);
    windows::put(plan, &mut figures);
    allergens::put(plan, &mut figures);
    figures
}

/// The book as a source: what it states is a house value of it.
fn book(place: &str) -> Citation {
    Citation {
        source: &sources::list::HOUSE,
        place: place.to_owned(),
    }
}

/// A change as a source.
fn entered(key: &str) -> Citation {
    Citation {
        source: &sources::list::ENTERED,
        place: format!("--set {key}"),
    }
}

/// The book, or the change that replaced what it says.
fn stated(plan: &Plan, key: &str, place: &str) -> Citation {
    if plan.scene.changes.iter().any(|s| s.key == key) {
        entered(key)
    } else {
        book(place)
    }
}
