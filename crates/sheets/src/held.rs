//! Papers of a lot that must not go on as if nothing had been.

use plan::Plan;
use words::{Language, Words};

use crate::model::{Block, Sheet};

/// How a lot stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Until somebody has decided.
    Held,
    /// For good.
    Discarded,
}

/// Puts a caution on top of every paper that names the lots: those of the lot itself, and those of the dishes it lies on.
///
/// `lots` are recipes with how they stand. A paper of another lot stays as it is.
pub fn mark(sheets: &mut [Sheet], plan: &Plan, language: Language, lots: &[(String, Mark)]) {
    if lots.is_empty() {
        return;
    }
    let words = Words::of(language);
    let on_a_plate = |sheet: &Sheet, lot: &str| {
        plan.scene.event.dishes.iter().any(|d| {
            let parts = plan.scene.book.dishes.get(d).map(|d| &d.parts);
            sheet.id.ends_with(d.as_str())
                && parts.is_some_and(|p| p.iter().any(|p| p.recipe == *lot))
        })
    };
    for (lot, stands) in lots {
        let name = plan
            .component(lot)
            .map_or(lot.as_str(), |c| c.name.as_str());
        let key = match stands {
            Mark::Held => "sheet-held",
            Mark::Discarded => "sheet-discarded",
        };
        let text = words.say_with(key, &[("name", name.into())]);
        for sheet in sheets.iter_mut() {
            if sheet.id.contains(lot.as_str()) || on_a_plate(sheet, lot) {
                sheet.blocks.insert(0, Block::Caution(text.clone()));
            }
        }
    }
}
