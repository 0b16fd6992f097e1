//! The special plates of an event: how many, for which seat, without what.

use kitchen::diet::Diet;
use kitchen::event::Special;
use kitchen::label::Allergen;

use crate::diagnostic::Code;
use crate::fields::{Fields, twice};
use crate::label::words;

/// The `special` tables of an event; `covers` are the paid ones, where they could be read.
pub(crate) fn read(fields: &Fields<'_, '_>, covers: Option<u32>) -> Vec<Special> {
    let tables = fields.list("special", "special plate");
    let specials: Vec<Special> = tables.iter().filter_map(special).collect();
    twice(&tables);
    let plates: u64 = specials.iter().map(|s| u64::from(s.plates)).sum();
    if let Some(covers) = covers.filter(|c| plates > u64::from(*c)) {
        fields.page.report(
            Code::Contradiction,
            fields.at("special"),
            format!("{plates} special plates among {covers} covers"),
            "special plates that are among the covers paid for",
            "correct the plates or the covers",
        );
    }
    specials
}

fn special(f: &Fields<'_, '_>) -> Option<Special> {
    let f = &f.called_by("id");
    let id = f.own_id("id");
    let seat = f.text("seat").map(|(t, _)| t);
    let plates = if f.has("plates") {
        f.whole("plates", 1, 100_000, "write how many plates are laid so")
    } else {
        Some(1)
    };
    let without = words(f, "without", Allergen::ALL, "allergens");
    let diets = words(f, "diets", Diet::ALL, "diets");
    let whole = f.all_read("without", without.len()) && f.all_read("diets", diets.len());
    if whole && without.is_empty() && diets.is_empty() {
        f.missing(
            "without",
            "allergens, such as without = [\"milk\"], or diets = [\"vegetarian\"]",
            "write what the guest said",
        );
    }
    f.close();
    if !whole || (without.is_empty() && diets.is_empty()) {
        // A guest read in half would be given what they must not have.
        return None;
    }
    Some(Special {
        id: id?.0,
        seat,
        plates: plates?,
        without,
        diets,
    })
}
